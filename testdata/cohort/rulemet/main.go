// Command rulemet simulates cohorts, fits them, and projects from their first k
// attempts when new trainees meet a rule: how often the 90 % range holds the
// attempt at which they do. Attempts are counts, so a range that holds at least
// 90 % holds more on average; the randomised coverage takes the end points in
// part, at random, such that a right distribution gives exactly 90 %. Those who
// have met the rule by then are not projected and not counted. The error of the
// median is taken where both it and the truth lie within the horizon.
//
// A cohort has 30 trainees with 25 attempts; 10 more trainees are projected, up
// to 100 attempts. With errors, an attempt must also keep within a limit, which
// comes with practice and differs between trainees, and one in about 16 is a
// hard fail.
//
//	go run ./testdata/cohort/rulemet > testdata/cohort/rulemet/rulemet.csv
package main

import (
	"context"
	"flag"
	"fmt"
	"log"
	"math"
	"math/rand/v2"

	"tyro/analysis/cohort"
	"tyro/analysis/practice"
	"tyro/analysis/proficiency"
	"tyro/analysis/resample"
	"tyro/models"
)

var (
	cohorts = flag.Int("cohorts", 60, "cohorts to simulate")
	seed    = flag.Uint64("seed", 1, "seed")
	workers = flag.Int("workers", 0, "cohorts at a time")
)

const (
	horizon = 100
	made    = 25
)

var ks = []float64{0, 5, 10, 15}

// A world is a way to make trainees.
type world struct {
	family   models.Family
	rate     float64
	standard float64
	errors   bool
	rules    []string
}

// A tally adds up one rule and one k.
type tally struct {
	n, inside, random, beyond int
	score                     float64 // squared error of the median on the log scale
}

func main() {
	flag.Parse()
	fmt.Println("family,errors,rule,attempts_seen,projected,coverage,coverage_randomised,standard_error,beyond,rms_log_error_of_median")
	for _, w := range []world{
		{models.Exponential(1), 0.2, 55, false, []string{"2 in a row", "4 of last 5"}},
		{models.Power(), 0.7, 66, false, []string{"2 in a row"}},
		{models.Exponential(1), 0.2, 60, true, []string{"2 in a row"}},
	} {
		out := make([][]tally, *cohorts)
		check(resample.Each(context.Background(), *cohorts, resample.Sampling{Workers: *workers}, func() func(int) error {
			return func(i int) (err error) { out[i], err = w.one(i); return err }
		}))
		for r, rule := range w.rules {
			for j, k := range ks {
				var t tally
				for _, o := range out {
					t.add(o[r*len(ks)+j])
				}
				n := float64(t.n)
				c := float64(t.random) / n
				fmt.Printf("%s,%v,%s,%g,%d,%.4f,%.4f,%.4f,%d,%.4f\n", w.family.Name(), w.errors, rule, k, t.n, float64(t.inside)/n, c, math.Sqrt(c*(1-c)/n), t.beyond, math.Sqrt(t.score/float64(t.n-t.beyond)))
			}
		}
	}
}

func (t *tally) add(o tally) {
	t.n += o.n
	t.inside += o.inside
	t.random += o.random
	t.beyond += o.beyond
	t.score += o.score
}

// draw makes a trainee's attempts.
func (w world) draw(r *rand.Rand, id string, attempts int) practice.Trainee {
	c := w.family.Curve([]float64{45 * math.Exp(0.2*r.NormFloat64()), 130 * math.Exp(0.25*r.NormFloat64()), w.rate * math.Exp(0.2*r.NormFloat64())})
	s := 0.15 * math.Exp(0.25*r.NormFloat64())
	care, hard := 0.5*r.NormFloat64(), 0.3*r.NormFloat64()-2.75
	t := practice.Trainee{ID: id, ErrorLimits: w.errors}
	for n := 1.0; n <= float64(attempts); n++ {
		a := practice.Attempt{Number: n, Response: c.At(n) * math.Exp(s*r.NormFloat64()), Clean: true}
		if w.errors {
			a.Clean = r.Float64() < logistic(care+0.8*math.Log(n))
			if r.Float64() < logistic(hard) {
				a.Outcome, a.Response = practice.Failed, math.NaN()
			}
		}
		t.Attempts = append(t.Attempts, a)
	}
	return t
}

func logistic(x float64) float64 { return 1 / (1 + math.Exp(-x)) }

func (w world) one(i int) ([]tally, error) {
	ctx := context.Background()
	r := resample.Stream(*seed, fmt.Sprint("rule of ", w.family.Name(), w.errors), i)
	var ts []cohort.Trainee
	var members []practice.Trainee
	for k := range 30 {
		t := w.draw(r, fmt.Sprint(k), made)
		ts, members = append(ts, cohort.Of(t, false)), append(members, t)
	}
	c, err := cohort.Run(ctx, ts, cohort.Spec{Family: w.family, Noise: models.Lognormal{}, Random: []string{"plateau", "gain", "rate", cohort.Spread}, Uncorrelated: true, Workers: 1})
	if err != nil {
		return nil, err
	}
	var full, cut []practice.Trainee
	for p := range 10 {
		t := w.draw(r, fmt.Sprint("new ", p), horizon)
		full = append(full, t)
		for _, k := range ks {
			cut = append(cut, t.Until(k))
		}
	}
	var out []tally
	for _, text := range w.rules {
		rule, err := practice.ParseRule(text)
		if err != nil {
			return nil, err
		}
		q := proficiency.Question{Standard: practice.Standard{Value: w.standard, Lower: true}, Horizon: horizon, Rule: rule, Level: 0.9}
		pooled, err := proficiency.Pool(ctx, c, false, members, q)
		if err != nil {
			return nil, err
		}
		got, err := pooled.Project(ctx, cut, resample.Sampling{Seed: *seed, Workers: 1})
		if err != nil {
			return nil, err
		}
		for j := range ks {
			var t tally
			for p, whole := range full {
				if g := got[p*len(ks)+j]; !g.Met {
					t.look(g, rule.FirstMet(whole.Passes(q.Standard)), r)
				}
			}
			out = append(out, t)
		}
	}
	return out, nil
}

// look compares a projection with the attempt at which the rule was met, 0 for
// not within the horizon.
func (t *tally) look(g proficiency.Projection, at int, r *rand.Rand) {
	t.n++
	truth := math.Inf(1)
	from, to := 1-g.NotReached, 1.0 // the distribution before and at the truth
	if at > 0 {
		truth = float64(at)
		i := at - int(g.Last) - 1
		from, to = 0, g.MetBy[i]
		if i > 0 {
			from = g.MetBy[i-1]
		}
	}
	if truth >= g.Lower && truth <= g.Upper {
		t.inside++
	}
	u := from + r.Float64()*(to-from)
	if u > 0.05 && u < 0.95 {
		t.random++
	}
	if math.IsInf(g.Estimate, 1) || at == 0 {
		t.beyond++
		return
	}
	t.score += math.Pow(math.Log(g.Estimate/truth), 2)
}

func check(err error) {
	if err != nil {
		log.Fatal(err)
	}
}
