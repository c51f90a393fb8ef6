// Command compare measures how often tests between arms reject without a difference, at
// 5 %, and how often 95 % intervals hold the truth, with and without a difference. It
// simulates whole studies of two or three arms, fits the cohort's curve to each, and
// compares them as tyro compare does:
//
//	go run ./testdata/coverage/compare > testdata/coverage/compare/compare.csv
//
// It takes some hours. With -kept DIR the studies of every row are kept there, a file a row, and a
// run that was cut off goes on; runs of different rows (-designs, -sizes, -effects) may share the
// folder, and -table writes the table of all that lies there, simulating nothing.
//
// Designs: full (everybody makes 20 attempts), rule (practice stops when the rule is
// met), seen (in one arm those stop after 6 attempts whose sixth was slow), unseen (in one
// arm those stop after 6 attempts whose rate and plateau, which nobody sees, are slow),
// clusters (groups of 6
// trainees that share a level; whole groups are assigned), sites (groups of 6 with
// trainees of both arms), three (as full, with three arms), strict (as full, with a standard that half of
// trainees meet by the end), and, only when named, unequal (one arm makes 8 attempts, for -at 8).
package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"log"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"tyro/analysis/compare"
	"tyro/analysis/practice"
	"tyro/analysis/resample"
	"tyro/analysis/study"
	"tyro/analysis/survival"
	"tyro/models"
)

var (
	studies    = flag.Int("studies", 2000, "studies a row")
	replicates = flag.Int("replicates", 499, "permutations and bootstrap samples a study")
	refits     = flag.Int("refits", 0, "cohorts of drawn trainees to fit a study, for the intervals beside; 0: none")
	seed       = flag.Uint64("seed", 1, "seed")
	designs    = flag.String("designs", "full,rule,seen,unseen,clusters,sites,three,strict", "designs to simulate")
	sizes      = flag.String("sizes", "12,30", "trainees an arm")
	effects    = flag.String("effects", "0,1", "0: no difference, 1: a faster and better arm")
	kept       = flag.String("kept", "", "folder of the studies done so far: a run that was cut off goes on there")
	table      = flag.Bool("table", false, "only write the table of the studies kept")
	at         = flag.Int("at", 15, "attempt at which levels are compared")
	hazards    = flag.Bool("hazards", false, "only the ratio of hazards, which needs no curve")
	ratios     = flag.Bool("ratios", false, "also the likelihood ratios beside the main table")
)

// The truth on the log scale: plateau, gain and rate, their spreads between trainees, and
// the spread of attempts.
var (
	middle   = [3]float64{math.Log(45), math.Log(130), math.Log(0.2)}
	spread   = [3]float64{0.15, 0.25, 0.25}
	moved    = [3]float64{-0.1, -0.15, 0.35} // of the second arm, with an effect
	residual = 0.15
	shared   = 0.10 // spread of plateaus between groups
)

const (
	attempts = 20
	standard = 60
	strict   = 47 // of the design of this name
)

func standardOf(design string) float64 {
	if design == "strict" {
		return strict
	}
	return standard
}

func main() {
	flag.Parse()
	all := &results{by: map[cell][]map[string][3]float64{}, files: map[cell]*os.File{}, truth: map[cell]map[string]float64{}}
	cells := cells()
	if *kept != "" {
		for _, c := range cells {
			if err := all.open(c, filepath.Join(*kept, c.name()+".jsonl")); err != nil {
				log.Fatal(err)
			}
		}
	}
	for to := 0; to < *studies && !*table; { // a few studies of every row at a time
		to = min(to+block, *studies)
		for _, c := range cells {
			if err := all.upTo(c, to); err != nil {
				log.Fatal(err)
			}
		}
	}
	if err := all.write(cells); err != nil {
		log.Fatal(err)
	}
}

// block is how many studies of a row are simulated before the next row has its turn.
const block = 20

// A cell is one design with its size.
type cell struct {
	design string
	effect bool
	n      int
}

func (c cell) name() string {
	effect := "alike"
	if c.effect {
		effect = "different"
	}
	return fmt.Sprintf("%s-%s-%d", c.design, effect, c.n)
}

func cells() []cell {
	var out []cell
	for _, design := range strings.Split(*designs, ",") {
		for _, effect := range strings.Split(*effects, ",") {
			for _, size := range strings.Split(*sizes, ",") {
				n, err := strconv.Atoi(size)
				if err != nil {
					log.Fatal(err)
				}
				out = append(out, cell{design, effect == "1", n})
			}
		}
	}
	return out
}

// results are what every study of a cell gave, in order: by basis and measure, whether an
// interval was known, whether the test rejected, whether the interval covered.
type results struct {
	by    map[cell][]map[string][3]float64
	files map[cell]*os.File // empty: not kept
	truth map[cell]map[string]float64
}

// A line is a study in the file of a row.
type line struct {
	Study int
	Given map[string][3]*float64
}

// open reads the studies of a row done so far and goes on writing behind them.
func (x *results) open(c cell, path string) error {
	data, err := os.ReadFile(path)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	whole := bytes.LastIndexByte(data, '\n') + 1 // a line that was cut off is done again
	for one := range bytes.Lines(data[:whole]) {
		var l line
		if err := json.Unmarshal(one, &l); err != nil {
			return err
		}
		if l.Study != len(x.by[c]) {
			return fmt.Errorf("%s: study %d of %v comes after %d studies", path, l.Study, c, len(x.by[c]))
		}
		given := map[string][3]float64{}
		for name, v := range l.Given {
			row := [3]float64{math.NaN(), math.NaN(), math.NaN()}
			for j, p := range v {
				if p != nil {
					row[j] = *p
				}
			}
			given[name] = row
		}
		x.by[c] = append(x.by[c], given)
	}
	if *table {
		return nil
	}
	file, err := os.OpenFile(path, os.O_CREATE|os.O_WRONLY, 0o644)
	if err != nil {
		return err
	}
	if err := file.Truncate(int64(whole)); err != nil {
		return err
	}
	x.files[c] = file
	_, err = file.Seek(int64(whole), io.SeekStart)
	return err
}

// upTo simulates the studies of a cell that are missing.
func (x *results) upTo(c cell, to int) error {
	from := len(x.by[c])
	if from >= to {
		return nil
	}
	out := make([]map[string][3]float64, to-from)
	if x.truth[c] == nil {
		x.truth[c] = truths(c.design, c.effect)
	}
	truth := x.truth[c]
	err := resample.Each(context.Background(), to-from, resample.Sampling{}, func() func(int) error {
		return func(k int) error {
			var err error
			out[k], err = one(c, from+k, truth)
			return err
		}
	})
	if err != nil {
		return err
	}
	x.by[c] = append(x.by[c], out...)
	file := x.files[c]
	if file == nil {
		return nil
	}
	for k, given := range out {
		l := line{from + k, map[string][3]*float64{}}
		for name, row := range given {
			var v [3]*float64
			for j := range row {
				if !math.IsNaN(row[j]) {
					v[j] = &row[j]
				}
			}
			l.Given[name] = v
		}
		data, err := json.Marshal(l)
		if err != nil {
			return err
		}
		if _, err := file.Write(append(data, '\n')); err != nil {
			return err
		}
	}
	return nil
}

// one simulates and compares one study.
func one(c cell, k int, truth map[string]float64) (map[string][3]float64, error) {
	p, clusters := simulate(resample.Stream(*seed, fmt.Sprint(c.design, c.effect, c.n), k), c.design, c.effect, c.n)
	if *hazards {
		return hazardsOf(c, p, truth), nil
	}
	s, err := study.New(p, study.Options{
		Families: []models.Family{models.Exponential(1)}, Seed: *seed + uint64(k), Replicates: *replicates, Workers: 1,
	})
	if err != nil {
		return nil, err
	}
	a, err := s.Compare(context.Background(), study.CompareOptions{At: float64(*at), Cluster: clusters, Refits: *refits, LikelihoodRatio: *ratios})
	if err != nil {
		return nil, err
	}
	out := map[string][3]float64{}
	note := func(basis string, x compare.Contrast) {
		name := strings.SplitN(x.Measure, "-within-", 2)[0]
		name = strings.SplitN(name, "-by-", 2)[0]
		name = strings.SplitN(name, "-to-attempt-", 2)[0]
		t, ok := truth[name]
		if whole, there := truth[x.Measure]; there { // depends on the attempt up to which arms are compared
			t, ok = whole, true
		}
		row := [3]float64{0, math.NaN(), math.NaN()}
		if x.Known() {
			row[0] = 1
			row[1] = indicator(x.P <= 0.05)
			switch {
			case x.Caution != "" && math.IsNaN(x.P) && x.Measure != "rule-met-median": // its p is withheld: what its interval would say
				row[1] = indicator(!x.Open())
			case math.IsNaN(x.P):
				row[1] = math.NaN()
			}
			if ok {
				row[2] = indicator(x.Lower <= t && t <= x.Upper)
			}
		}
		if len(p.Arms) > 2 {
			name += fmt.Sprintf(" (%s against %s)", x.Arm, x.Reference)
		}
		out[basis+"/"+name] = row
	}
	test := func(name string, p float64) {
		if !math.IsNaN(p) {
			out[name] = [3]float64{1, indicator(p <= 0.05), math.NaN()}
		}
	}
	for _, x := range a.Contrasts {
		note(x.Basis, x)
	}
	for _, x := range a.Sensitivity {
		note("beside: "+x.Basis, x)
	}
	if a.Overall != nil {
		test("cohort's curve/any difference", a.Overall.P)
	}
	if len(p.Arms) == 2 {
		for _, t := range a.Slopes {
			test("beside: "+t.Basis+"/slopes of "+t.Measure, t.P)
		}
		for _, h := range a.Hazards {
			test("beside: observed/whether hazards are proportional", h.P)
		}
	}
	for _, r := range a.Ratios {
		test("beside: likelihood ratio/"+strings.Join(r.Parameters, " "), r.F.P)
	}
	if !a.Cohort {
		out["cohort's curve/not fitted"] = [3]float64{1, math.NaN(), math.NaN()}
	}
	return out, nil
}

// hazardsOf is the contrast of hazards of two arms, as compare has it.
func hazardsOf(c cell, p practice.Practice, truth map[string]float64) map[string][3]float64 {
	obs := untilMet(p, c.design)
	h := compare.HazardRatio(study.HazardMeasure, p.Arms[0], p.Arms[1], obs[0], obs[1], 0)
	row := [3]float64{0, math.NaN(), math.NaN()}
	if h.Known() {
		row = [3]float64{1, indicator(h.P <= 0.05), math.NaN()}
		if t, ok := truth[study.HazardMeasure]; ok {
			row[2] = indicator(h.Lower <= t && t <= h.Upper)
		}
	}
	basis := study.BasisObserved
	if c.design == "seen" { // those who stopped make it stand beside
		basis = "beside: " + basis
	}
	return map[string][3]float64{basis + "/" + study.HazardMeasure: row}
}

// untilMet are the arms' attempts until the rule is met, as far as each trainee was seen.
func untilMet(p practice.Practice, design string) [][]survival.Observation {
	std := practice.Standard{Value: standardOf(design), Lower: true}
	obs := make([][]survival.Observation, len(p.Arms))
	for _, t := range p.Trainees {
		o := survival.Observation{Time: t.Last()}
		if k := p.Task.Rule.FirstMet(t.Passes(std)); k > 0 {
			o = survival.Observation{Time: float64(k), Event: true}
		}
		a := slices.Index(p.Arms, t.Arm)
		obs[a] = append(obs[a], o)
	}
	return obs
}

// write summarises the cells.
func (x *results) write(cells []cell) error {
	w := csv.NewWriter(os.Stdout)
	w.Write([]string{"design", "effect", "trainees_an_arm", "basis", "measure", "studies", "rejected_at_5_percent", "covered_95_percent", "monte_carlo_se"})
	for _, c := range cells {
		done := x.by[c][:min(*studies, len(x.by[c]))]
		var names []string
		for _, o := range done {
			for name := range o {
				if !slices.Contains(names, name) {
					names = append(names, name)
				}
			}
		}
		slices.Sort(names)
		for _, name := range names {
			known, rejected, tests, covered, intervals := 0.0, 0.0, 0.0, 0.0, 0.0
			for _, o := range done {
				row, there := o[name]
				if !there || row[0] != 1 {
					continue
				}
				known++
				if !math.IsNaN(row[1]) {
					tests++
					rejected += row[1]
				}
				if !math.IsNaN(row[2]) {
					intervals++
					covered += row[2]
				}
			}
			basis, measure, _ := strings.Cut(name, "/")
			w.Write([]string{c.design, fmt.Sprint(c.effect), fmt.Sprint(c.n), basis, measure, fmt.Sprint(known), shareOf(rejected, tests), shareOf(covered, intervals), fmt.Sprintf("%.4f", math.Sqrt(0.05*0.95/math.Max(1, known)))})
		}
	}
	w.Flush()
	return w.Error()
}

func indicator(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

func shareOf(hits, n float64) string {
	if n == 0 {
		return ""
	}
	return fmt.Sprintf("%.3f", hits/n)
}

// simulate draws a study; clusters is nil without groups.
func simulate(r *rand.Rand, design string, effect bool, n int) (practice.Practice, map[string]string) {
	p := practice.Practice{Task: practice.Task{
		Name: "cannulation", Measure: practice.Time, Lower: true, Counts: []string{"punctures"},
		Standard: &practice.Decision{Value: standardOf(design)}, Rule: practice.Rule{{Need: 2}},
	}, Arms: []string{"usual", "spaced"}}
	if design == "three" {
		p.Arms = append(p.Arms, "daily")
	}
	var clusters map[string]string
	if design == "clusters" || design == "sites" {
		clusters = map[string]string{}
	}
	level := map[string]float64{}
	for a, arm := range p.Arms {
		for i := range n {
			t := practice.Trainee{ID: fmt.Sprintf("%s%d", arm[:1], i), Arm: arm}
			theta, z := middle, [3]float64{}
			for j := range theta {
				z[j] = r.NormFloat64()
				theta[j] += spread[j] * z[j]
				if effect && a == 1 {
					theta[j] += moved[j]
				}
			}
			if clusters != nil {
				g := fmt.Sprintf("%d", i/6)
				if design == "clusters" {
					g = arm + g
				}
				if design == "sites" {
					g = fmt.Sprintf("%d", i/3)
				}
				if _, ok := level[g]; !ok {
					level[g] = shared * r.NormFloat64()
				}
				clusters[t.ID] = g
				theta[0] += level[g]
			}
			last := attempts
			if design == "unseen" && a == 1 && z[2]-z[0] < 0 {
				last = 6
			}
			if design == "unequal" && a == 1 {
				last = 8
			}
			error := math.Exp(0.3 * r.NormFloat64())
			passed := 0
			for k := 1; k <= last; k++ {
				mean := math.Exp(theta[0]) + math.Exp(theta[1])*math.Exp(-math.Exp(theta[2])*float64(k-1))
				y := mean * math.Exp(residual*r.NormFloat64())
				wrong := poisson(r, error*(0.4+2*math.Exp(-0.2*float64(k))))
				t.Attempts = append(t.Attempts, practice.Attempt{Number: float64(k), Response: y, Clean: true, Errors: []float64{wrong}})
				if passed++; y > standardOf(design) {
					passed = 0
				}
				if design == "rule" && passed == 2 || design == "seen" && a == 1 && k == 6 && y > 95 {
					break
				}
			}
			p.Trainees = append(p.Trainees, t)
		}
	}
	return p, clusters
}

func poisson(r *rand.Rand, mean float64) float64 {
	limit, product, k := math.Exp(-mean), r.Float64(), 0.0
	for product > limit {
		product *= r.Float64()
		k++
	}
	return k
}

// truths are the contrasts of the arms' middle curves, and of what is observed by
// simulation of many trainees.
func truths(design string, effect bool) map[string]float64 {
	curve := func(arm int) (start, then, area, plateau, rate, cross float64) {
		theta := middle
		if effect && arm == 1 {
			for j := range theta {
				theta[j] += moved[j]
			}
		}
		level := func(k float64) float64 {
			return math.Exp(theta[0]) + math.Exp(theta[1])*math.Exp(-math.Exp(theta[2])*(k-1))
		}
		for k := 1; k <= *at; k++ {
			area += level(float64(k)) / float64(*at)
		}
		cross = 1 - math.Log((standardOf(design)-math.Exp(theta[0]))/math.Exp(theta[1]))/math.Exp(theta[2])
		return level(1), level(float64(*at)), area, math.Exp(theta[0]), math.Exp(theta[2]), cross
	}
	s0, l0, a0, p0, r0, c0 := curve(0)
	s1, l1, a1, p1, r1, c1 := curve(1)
	out := map[string]float64{
		"starting-level": s1 / s0, fmt.Sprintf("level-at-attempt-%d", *at): l1 / l0, "mean-level": a1 / a0, "plateau": p1 / p0, "rate": r1 / r0, "mean-crossing": c1 / c0,
	}
	for _, name := range []string{"punctures", "rule-met-median", "rule-met-hazard", "ratio", "hodges-lehmann", "adjusted-for-first-attempt", "level-adjusted-for-first-attempt"} {
		out[name] = 1
	}
	out["hedges-g"], out["cliff-delta"], out["rule-met-mean"], out["rule-met-share"] = 0, 0, 0, 0
	if effect { // known only for curves, for the rule, and for the errors, which do not differ
		for _, name := range []string{"rule-met-median", "rule-met-hazard", "ratio", "hodges-lehmann", "adjusted-for-first-attempt", "level-adjusted-for-first-attempt", "hedges-g", "cliff-delta", "rule-met-mean", "rule-met-share"} {
			delete(out, name)
		}
		if design == "full" || design == "rule" || design == "strict" {
			ruleTruths(design, out)
		}
	}
	return out
}

// ruleTruths are the contrasts of attempts to the rule between arms that differ, by
// simulation of many trainees: of means and shares up to every attempt, of medians, and of
// hazards what the partial likelihood comes to with so many, followed as far (Struthers and
// Kalbfleisch, 1986, Biometrika 73, 363-369).
func ruleTruths(design string, out map[string]float64) {
	const many = 40_000
	p, _ := simulate(resample.Stream(98, "rule", 0), design, true, many)
	std := practice.Standard{Value: standardOf(design), Lower: true}
	var mean, share [2][attempts + 1]float64
	for i, t := range p.Trainees {
		a := i / many
		at := attempts + 1
		if k := p.Task.Rule.FirstMet(t.Passes(std)); k > 0 {
			at = k
		}
		for tau := 1; tau <= attempts; tau++ {
			mean[a][tau] += float64(min(at, tau)) / many
			if at <= tau {
				share[a][tau] += 1. / many
			}
		}
	}
	for tau := 1; tau <= attempts; tau++ {
		out[fmt.Sprintf("rule-met-mean-within-%d", tau)] = mean[1][tau] - mean[0][tau]
		out[fmt.Sprintf("rule-met-share-by-%d", tau)] = share[1][tau] - share[0][tau]
	}
	median := func(a int) float64 {
		for tau := 1; tau <= attempts; tau++ {
			if share[a][tau] >= 0.5 {
				return float64(tau)
			}
		}
		return math.Inf(1)
	}
	out["rule-met-median"] = median(1) / median(0)
	obs := untilMet(p, design)
	h := compare.HazardRatio("", "", "", obs[0], obs[1], 0.95)
	out["rule-met-hazard"] = h.Estimate
}
