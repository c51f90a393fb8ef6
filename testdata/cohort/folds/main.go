// Command folds tries projections on real practice data: the people are cut
// into folds, the cohort is fitted to the full series of all but one fold, and
// every person left out is predicted from their first attempts.
//
// It prints, for each question, the root mean squared error of log responses
// and the share of later attempts inside the 90 % predictive interval, with the
// 5-95 % range of that share over series.
//
//	go run ./testdata/cohort/folds -file FILE -person COL -arm COL -attempt COL -response COL -session COL
package main

import (
	"context"
	"encoding/csv"
	"flag"
	"fmt"
	"log"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"

	"tyro/analysis/cohort"
	"tyro/analysis/resample"
	"tyro/models"
)

var (
	file     = flag.String("file", "", "table, one row an attempt")
	person   = flag.String("person", "person", "column of the person")
	arm      = flag.String("arm", "condition", "column of the condition; a series is a person in a condition")
	attempt  = flag.String("attempt", "attempt", "column of the attempt number")
	response = flag.String("response", "time_s", "column of the response, above 0")
	session  = flag.String("session", "session", "column of the session; blank for none")
	family   = flag.String("family", "power", "curve family")
	random   = flag.String("random", "plateau,start,rate,spread", "what differs between series")
	effects  = flag.String("effects", "plateau,start,rate,spread,session", "what differs between conditions")
	folds    = flag.Int("folds", 10, "folds of people")
	full     = flag.Bool("correlated", true, "estimate correlations")
	noise    = flag.String("noise", "lognormal", "noise")
	others   = flag.String("others", "plateau,start,spread", "parameters moved by the person's level in their other conditions, seen up to the same attempt; blank for none")
	carry    = flag.String("carry", "", "what residuals carry over: whole, part, or nothing")
	across   = flag.Bool("across", false, "carry over across breaks")
	chance   = flag.Int("chance", 0, "instead of folds: cohorts simulated from the fit to everybody and predicted with it, for what chance alone gives")
	few      = flag.Int("few", 0, "only so many of the folds; 0: all")
	from     = flag.Int("from", 0, "folds to leave out before that, done already")
	auto     = flag.Bool("auto", false, "models chosen and weighted by what they foresee, in every fold anew")
	start    = flag.Bool("start", true, "the starting level in place of the gain")
)

type series struct {
	person string
	cohort.Trainee
}

func main() {
	flag.Parse()
	all := read()
	var people []string
	for _, s := range all {
		if !slices.Contains(people, s.person) {
			people = append(people, s.person)
		}
	}
	fam, err := models.ByName(*family, 1)
	check(err)
	nz, err := models.NoiseByName(*noise)
	check(err)
	spec := cohort.Spec{
		Family: fam, Noise: nz, Random: names(*random),
		ArmEffect: names(*effects), Sessions: *session != "", Uncorrelated: !*full, UseStart: *start,
		Carry: cohort.Carry(*carry), CarryAcross: *across,
	}
	results := map[string]*tally{}
	if *others != "" {
		spec.Covariates = []cohort.Covariate{{Name: "level in the other conditions", On: strings.Split(*others, ",")}}
	}
	if *chance > 0 {
		alone(all, spec)
		return
	}
	for f := range *folds {
		if f < *from {
			continue
		}
		if *few > 0 && f >= *from+*few {
			break
		}
		if *others == "" {
			fold(f, []bool{false, true}, all, people, spec, results)
		} else { // what is known of the other conditions hangs on where the series is cut
			fold(f, []bool{false}, all, people, spec, results)
			fold(f, []bool{true}, all, people, spec, results)
		}
	}
	show("", results)
}

// show prints the tallies after a prefix.
func show(prefix string, results map[string]*tally) {
	fmt.Println("seen,predicted,n,rmse_last_five,rmse_all_seen,rmse_cohort,coverage_90,series_p5,series_p95")
	for _, k := range []string{"first 10,all later", "first 10,next 10", "first half,all later", "first half,next 10"} {
		t := results[k]
		if t == nil {
			continue
		}
		slices.Sort(t.shares)
		fmt.Printf(prefix+"%s,%d,%.5f,%.5f,%.5f,%.4f,%.4f,%.4f\n", k, t.n, root(t.five, t.n), root(t.seen, t.n), root(t.own, t.n),
			float64(t.inside)/float64(t.n), resample.Quantile(t.shares, 0.05), resample.Quantile(t.shares, 0.95))
	}
}

// alone predicts cohorts simulated from the fit to everybody, where the
// intervals are as good as they can be: how wide coverage of single series runs
// then. The parameters of the cohort are taken as drawn about the truth.
func alone(all []series, spec cohort.Spec) {
	for _, half := range []bool{false, true} {
		if *others != "" {
			relate(all, half, func(series) bool { return false })
		}
		var ts []cohort.Trainee
		for _, s := range all {
			ts = append(ts, s.Trainee)
		}
		c, err := cohort.Run(context.Background(), ts, spec)
		check(err)
		fmt.Fprintf(os.Stderr, "%s, AIC %.2f, %d parameters\n", c.Rung, c.AIC, c.NParameters)
		for i := range *chance {
			results := map[string]*tally{}
			drawn := slices.Clone(all)
			for j, t := range c.Simulate(resample.Stream(1, "chance", i)) {
				drawn[j].Trainee = t
			}
			predict(c, drawn, half, results)
			show(fmt.Sprintf("chance %d,", i), results)
		}
	}
}

// fold fits to all but one fold and scores the rest, cut after ten attempts or by half.
func fold(f int, halves []bool, all []series, people []string, spec cohort.Spec, results map[string]*tally) {
	out := func(s series) bool { return slices.Index(people, s.person)%*folds == f }
	if *others != "" {
		relate(all, halves[0], out)
	}
	var train []cohort.Trainee
	var test []series
	for _, s := range all {
		if out(s) {
			test = append(test, s)
		} else {
			train = append(train, s.Trainee)
		}
	}
	if *auto {
		var families []models.Family
		for _, name := range models.Candidates(spec.Noise) {
			one, err := models.ByName(name, 1)
			check(err)
			families = append(families, one)
		}
		noises, tails := cohort.Alike(models.Lognormal{}, false)
		b, err := cohort.Choose(context.Background(), train, spec, cohort.Choice{Families: families, Noises: noises, LateNoises: tails, Late: []models.Family{models.Logistic()}})
		check(err)
		fmt.Fprintf(os.Stderr, "fold %d: trust %g, score %.4f\n", f, b.Trust, b.Score)
		for _, t := range b.Tried {
			fmt.Fprintf(os.Stderr, "  %.3f  %s  score %.4f, AIC %.1f, behind %.4f (SE %.4f)\n", t.Weight, t.Model, t.Score, t.AIC, t.Behind, t.SE)
		}
		for _, half := range halves {
			predict(b, test, half, results)
		}
		return
	}
	c, err := cohort.Run(context.Background(), train, spec)
	check(err)
	fmt.Fprintf(os.Stderr, "fold %d: %s, AIC %.2f, residual SD %.4f", f, c.Rung, c.AIC, c.Residual.Estimate)
	for _, e := range c.Carryover {
		fmt.Fprintf(os.Stderr, ", %s %.4f", e.Parameter, e.Estimate)
	}
	fmt.Fprintln(os.Stderr)
	for _, half := range halves {
		predict(c, test, half, results)
	}
}

// cut is how many attempts of a series are seen.
func cut(s series, half bool) int {
	if half {
		return len(s.Attempt) / 2
	}
	return 10
}

// relate gives every series its covariate: how far the person's seen attempts
// in other conditions lie, in logs, from the mean of the people fitted to.
func relate(all []series, half bool, out func(series) bool) {
	level := make([]float64, len(all))
	sum, n := map[string]float64{}, map[string]float64{}
	for i, s := range all {
		k := cut(s, half)
		for _, y := range s.Response[:k] {
			level[i] += math.Log(y) / float64(k)
		}
		if !out(s) {
			sum[s.Arm] += level[i]
			n[s.Arm]++
		}
	}
	for i := range all {
		total, count := 0.0, 0.0
		for j, o := range all {
			if j != i && o.person == all[i].person {
				total += level[j] - sum[o.Arm]/n[o.Arm]
				count++
			}
		}
		all[i].Covariates = []float64{total / math.Max(count, 1)}
	}
}

// A predictor is a cohort's curve, or several together.
type predictor interface {
	Posteriors(ctx context.Context, ts []cohort.Trainee, sampling resample.Sampling) ([]cohort.Posterior, error)
}

type tally struct {
	n, inside       int
	five, seen, own float64
	shares          []float64
}

func root(ss float64, n int) float64 { return math.Sqrt(ss / float64(n)) }

// predict scores every series left out from its first 10 attempts or its first
// half.
func predict(c predictor, test []series, half bool, results map[string]*tally) {
	var seen []cohort.Trainee
	for _, s := range test {
		k := cut(s, half)
		t := s.Trainee
		t.Attempt, t.Response = t.Attempt[:k], t.Response[:k]
		if t.Restart != nil {
			t.Restart = t.Restart[:k]
		}
		seen = append(seen, t)
	}
	corrected := func(p float64) float64 { return p }
	if b, ok := c.(*cohort.Chosen); ok {
		corrected = b.Fell.Corrected
	}
	posts, err := c.Posteriors(context.Background(), seen, resample.Sampling{Seed: 1})
	check(err)
	for i, s := range test {
		k := len(seen[i].Attempt)
		var five, mean float64
		for j, y := range seen[i].Response {
			mean += math.Log(y) / float64(k)
			if j >= k-5 {
				five += math.Log(y) / 5
			}
		}
		name := "first 10"
		if half {
			name = "first half"
		}
		for _, next := range []bool{false, true} {
			to, what := len(s.Attempt), "all later"
			if next {
				to, what = min(to, k+10), "next 10"
			}
			t := results[name+","+what]
			if t == nil {
				t = &tally{}
				results[name+","+what] = t
			}
			in := 0
			for j := k; j < to; j++ {
				restart := 0.0
				if s.Restart != nil {
					restart = s.Restart[j]
				}
				q := posts[i].Quantiles(s.Attempt[j], restart, corrected(0.05), corrected(0.95))
				y := s.Response[j]
				if y >= q[0] && y <= q[1] {
					in++
				}
				e := math.Log(y)
				t.five += (e - five) * (e - five)
				t.seen += (e - mean) * (e - mean)
				own := e - math.Log(posts[i].Expected(s.Attempt[j], restart))
				t.own += own * own
				t.n++
			}
			t.inside += in
			t.shares = append(t.shares, float64(in)/float64(to-k))
		}
	}
}

func read() []series {
	f, err := os.Open(*file)
	check(err)
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	check(err)
	col := func(name string) int { return slices.Index(rows[0], name) }
	var out []series
	at := map[string]int{}
	last, since, sessions := map[string]string{}, map[string]float64{}, map[string]int{}
	for _, r := range rows[1:] {
		id := r[col(*person)]
		a := ""
		if *arm != "" {
			a = r[col(*arm)]
		}
		key := id + "/" + a
		i, ok := at[key]
		if !ok {
			i = len(out)
			at[key] = i
			out = append(out, series{person: id, Trainee: cohort.Trainee{ID: key, Arm: a}})
		}
		s := &out[i]
		s.Attempt = append(s.Attempt, number(r[col(*attempt)]))
		s.Response = append(s.Response, number(r[col(*response)]))
		if *session != "" {
			if v := r[col(*session)]; v != last[key] {
				last[key], since[key] = v, 0
				sessions[key]++
			}
			since[key]++
			restart := since[key]
			if sessions[key] == 1 {
				restart = 0
			}
			s.Restart = append(s.Restart, restart)
		}
	}
	return out
}

// names are those between commas.
func names(s string) []string { return strings.FieldsFunc(s, func(r rune) bool { return r == ',' }) }

func number(s string) float64 {
	v, err := strconv.ParseFloat(s, 64)
	check(err)
	return v
}

func check(err error) {
	if err != nil {
		log.Fatal(err)
	}
}
