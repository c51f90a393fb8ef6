// Command quota measures how often the 95 % intervals for attempts by which a share
// of trainees has met a rule cover the truth, as observed and by the cohort's curve,
// and how often the statement "with 95 % confidence at least 90 % by attempt n" is
// right. It writes quota.csv beside itself.
//
// A cohort has 30 trainees, each with a curve of their own (exponential or power)
// and multiplicative noise; the rule is 2 passes in a row, looked at for 60 attempts.
// Nobody, or a fifth of the population, never meets it: as the tail of one population
// of plateaus, or as a class apart whose plateau is 2.2 times as high, which the
// one population of the cohort's curve does not know of; a third answer is by two classes where they are
// evident, as tyro does it. Trainees make all 60 attempts, or stop anywhere
// from the 25th on (answered as observed only). The truth is that of 100,000 trainees by the exact recursion.
//
// In quota.csv covered is the share of simulations whose interval holds the truth,
// low those whose interval lies below it and high above; without counts simulations
// with no estimate. Where the truth is beyond the attempts, +Inf, only an upper limit
// can be wrong. For the statement covered counts those that are right or, in
// "without", not made. Cost per proficient trainee is that of 30 attempts.
//
//	go run ./testdata/coverage/quota
package main

import (
	"context"
	"encoding/csv"
	"flag"
	"fmt"
	"log"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"tyro/analysis/cohort"
	"tyro/analysis/practice"
	"tyro/analysis/proficiency"
	"tyro/analysis/resample"
	"tyro/analysis/stopping"
	"tyro/models"
)

const (
	trainees   = 30
	horizon    = 60
	replicates = 399
	people     = 100_000
	scheduled  = 30
	seed       = 20260407
)

var (
	standard = practice.Standard{Value: 57, Lower: true}
	costs    = practice.Costs{LabMinutes: 12, ExaminerMinutes: 5, Consumables: 4, LabHourPrice: 30, ExaminerHourPrice: 60, PerTrainee: 25}
)

// A setting is a population and how long its trainees are followed.
type setting struct {
	curve             string
	never             string // who never meets the rule
	stops             bool   // trainees stop anywhere from the 25th attempt on
	plateau, sd       float64
	rate, noise, away float64 // away: chance to belong to the class apart
}

func settings() []setting {
	out := []setting{
		{"exponential", "nobody", false, 44, 0.12, 0.165, 0.2, 0},
		{"exponential", "a fifth, the tail", false, 48, 0.43, 0.165, 0.15, 0},
		{"exponential", "a fifth, a class apart", false, 44, 0.12, 0.165, 0.2, 0.2},
		{"power", "nobody", false, 36, 0.12, 0.8, 0.2, 0},
		{"power", "a fifth, the tail", false, 44, 0.43, 0.8, 0.15, 0},
		{"power", "a fifth, a class apart", false, 36, 0.12, 0.8, 0.2, 0.2},
	}
	for _, s := range out[:2] {
		s.stops = true
		out = append(out, s)
	}
	return out
}

func (s setting) family() models.Family {
	if s.curve == "power" {
		return models.Power()
	}
	return models.Exponential(1)
}

// person draws a trainee's curve.
func (s setting) person(r *rand.Rand) func(n float64) float64 {
	plateau := s.plateau * math.Exp(s.sd*r.NormFloat64())
	gain := 128 * math.Exp(0.2*r.NormFloat64())
	rate := s.rate * math.Exp(0.25*r.NormFloat64())
	if r.Float64() < s.away {
		plateau *= 2.2
	}
	if s.curve == "power" {
		return func(n float64) float64 { return plateau + gain*math.Pow(n, -rate) }
	}
	return func(n float64) float64 { return plateau + gain*math.Exp(-rate*(n-1)) }
}

// truth is the share of the population that has met the rule by each attempt.
func (s setting) truth(rec *stopping.Recursion) []float64 {
	out := make([]float64, horizon)
	r := resample.Stream(seed, fmt.Sprint("truth/", s), 0)
	for range people {
		curve := s.person(r)
		chances := make([]float64, horizon)
		for i := range chances {
			chances[i] = models.Lognormal{}.CDF(standard.Value, curve(float64(i+1)), s.noise)
		}
		by, err := rec.MetBy(chances)
		if err != nil {
			log.Fatal(err)
		}
		for i, p := range by {
			out[i] += p / people
		}
	}
	return out
}

// cohort simulates the attempts of 30 trainees and when each met the rule.
func (s setting) cohort(rule practice.Rule, k int) ([]cohort.Trainee, []proficiency.Observed) {
	r := resample.Stream(seed, fmt.Sprint("cohort/", s), k)
	var ts []cohort.Trainee
	var obs []proficiency.Observed
	for i := range trainees {
		curve, last := s.person(r), horizon
		if s.stops {
			last = 25 + r.IntN(horizon-25+1)
		}
		var at, response []float64
		for n := 1.0; n <= float64(last); n++ {
			at, response = append(at, n), append(response, curve(n)*math.Exp(s.noise*r.NormFloat64()))
		}
		t := practice.Measured(strconv.Itoa(i), at, response)
		ts, obs = append(ts, cohort.Of(t, false)), append(obs, proficiency.Observe(stopping.Rule{Rule: rule}, t, standard))
	}
	return ts, obs
}

// A tally counts how a quantity's intervals fell.
type tally struct {
	truth                             float64
	n, covered, low, high, unanswered int
}

func (t *tally) add(estimate, lower, upper float64) {
	t.n++
	if math.IsInf(estimate, 1) || math.IsNaN(estimate) {
		t.unanswered++
	}
	switch {
	case upper < t.truth:
		t.low++
	case lower > t.truth:
		t.high++
	default:
		t.covered++
	}
}

// names are the quantities, in the order of tallies.
var names = []string{"median", "quota 70 %", "quota 80 %", "statement 90 %", "cost per proficient trainee"}

// tallies prepares one for each quantity.
func tallies(truth []float64) []tally {
	quota := func(share float64) float64 {
		for i, v := range truth {
			if v >= share {
				return float64(i + 1)
			}
		}
		return math.Inf(1)
	}
	made := 0.0
	for n := range scheduled {
		if n > 0 {
			made -= truth[n-1]
		}
		made++
	}
	perMet := (costs.PerTrainee + made*costs.PerAttempt()) / truth[scheduled-1]
	return []tally{{truth: quota(0.5)}, {truth: quota(0.7)}, {truth: quota(0.8)}, {truth: quota(0.9)}, {truth: perMet}}
}

// count adds one simulated cohort.
func count(p proficiency.Progress, into []tally) {
	for k, share := range []float64{0.5, 0.7, 0.8} {
		q := p.Quota(share)
		into[k].add(q.Attempts, q.Lower, q.Upper)
	}
	st := p.Tolerance(0.9, 0.95)
	into[3].add(st.Attempts, 0, st.Attempts) // right unless it lies below the truth
	per := p.Outlay(costs, scheduled, 1).Stopping.PerMet
	into[4].add(per.Value, per.Lower, per.Upper)
}

func main() {
	observed := flag.Int("observed", 2000, "simulated cohorts answered as observed")
	curves := flag.Int("cohort", 300, "of these, answered by the cohort's curve, where everybody makes all attempts")
	only := flag.String("only", "", "only settings whose words have this in them, such as \"class apart\"; their rows alone are then written")
	flag.Parse()
	out, err := os.Create(filepath.Join("testdata", "coverage", "quota", "quota.csv"))
	if err != nil {
		log.Fatal(err)
	}
	defer out.Close()
	w := csv.NewWriter(out)
	w.Write([]string{"curve", "never_meet_it", "followed", "met_by_60", "basis", "quantity", "truth", "cohorts", "failed", "covered", "low", "high", "without"})
	for _, s := range settings() {
		if !strings.Contains(s.curve+" "+s.never, *only) {
			continue
		}
		fitted := *curves
		if s.stops {
			fitted = 0
		}
		for _, row := range s.run(*observed, fitted) {
			w.Write(row)
			fmt.Println(row)
		}
		w.Flush()
	}
}

// run simulates a setting.
func (s setting) run(observed, curves int) [][]string {
	rule, err := practice.ParseRule("2 in a row")
	if err != nil {
		log.Fatal(err)
	}
	rec, err := stopping.NewRecursion(rule)
	if err != nil {
		log.Fatal(err)
	}
	truth := s.truth(rec)
	seen, fitted, classes := make([]proficiency.Progress, observed), make([]proficiency.Progress, curves), make([]proficiency.Progress, curves)
	failed := make([]bool, curves)
	question := proficiency.Question{Standard: standard, Horizon: horizon, Rule: rule}
	ctx := context.Background()
	byObs, byCurve, byClasses := tallies(truth), tallies(truth), tallies(truth)
	err = resample.Each(ctx, observed, resample.Sampling{}, func() func(int) error {
		return func(k int) error {
			ts, obs := s.cohort(rule, k)
			sampling := resample.Sampling{Seed: seed + uint64(k), Replicates: replicates, Workers: 1}
			p, err := proficiency.FromObservations(ctx, proficiency.Survival(obs), 0.95, sampling, "all")
			if err != nil {
				return err
			}
			seen[k] = p
			if k >= curves {
				return nil
			}
			c, err := cohort.Run(ctx, ts, cohort.Spec{Family: s.family(), Noise: models.Lognormal{}, Workers: 1})
			if err != nil {
				failed[k] = true
				return nil
			}
			if fitted[k], err = proficiency.FromCohort(ctx, c, c.NTrainees, "", question, nil, sampling); err != nil {
				return err
			}
			b, err := c.Classes(ctx, resample.Sampling{Seed: sampling.Seed, Workers: 1})
			if err != nil {
				return err
			}
			if classes[k] = fitted[k]; b == nil {
				return nil
			}
			classes[k], err = proficiency.FromCohort(ctx, b, c.NTrainees, "", question, nil, sampling)
			return err
		}
	})
	if err != nil {
		log.Fatal(err)
	}
	lost := 0
	for _, p := range seen {
		count(p, byObs)
	}
	for k, p := range fitted {
		if failed[k] {
			lost++
		} else {
			count(p, byCurve)
			count(classes[k], byClasses)
		}
	}
	return slices.Concat(s.rows(proficiency.ByObservation, truth, byObs, 0), s.rows("cohort-curve, one group", truth, byCurve, lost), s.rows(proficiency.ByCohort, truth, byClasses, lost))
}

func (s setting) rows(basis string, truth []float64, ts []tally, lost int) [][]string {
	followed := "60 attempts"
	if s.stops {
		followed = "25 to 60 attempts"
	}
	var out [][]string
	for k, t := range ts {
		if t.n == 0 {
			continue
		}
		share := func(c int) string { return strconv.FormatFloat(float64(c)/float64(t.n), 'f', 3, 64) }
		out = append(out, []string{
			s.curve, s.never, followed, strconv.FormatFloat(truth[horizon-1], 'f', 3, 64), basis, names[k],
			strconv.FormatFloat(t.truth, 'f', -1, 64), strconv.Itoa(t.n), strconv.Itoa(lost), share(t.covered), share(t.low), share(t.high), share(t.unanswered),
		})
	}
	return out
}
