// Command checks simulates cohorts that a fit describes, and cohorts that it does
// not, and counts how often the checks of fit say so at p ≤ 0.05: of residuals, of
// trainees' deviations in the rate, and of predictions of later attempts.
//
// A cohort has 30 trainees. as-fitted: everything as the model says. two-groups: a
// third of the trainees learn three times as fast as the others. tailed-noise: one
// attempt in twenty takes twice as long. wrong-curve: the power curve is fitted to
// attempts that follow the exponential one. Each check draws 39 cohorts.
//
//	go run ./testdata/cohort/checks > testdata/cohort/checks/checks.csv
package main

import (
	"context"
	"flag"
	"fmt"
	"log"
	"math"

	"tyro/analysis/cohort"
	"tyro/analysis/resample"
	"tyro/models"
)

var (
	cohorts = flag.Int("cohorts", 60, "cohorts to simulate")
	seed    = flag.Uint64("seed", 1, "seed")
	workers = flag.Int("workers", 0, "cohorts at a time")
)

const draws = 39

// A tally counts findings.
type tally struct{ fitted, failed, residuals, rates, evenness int }

func main() {
	flag.Parse()
	fmt.Println("truth,attempts,cohorts,refits_failed,residuals,deviations_in_rate,predictions")
	for _, truth := range []string{"as-fitted", "two-groups", "tailed-noise", "wrong-curve"} {
		for _, attempts := range []int{24} {
			out := make([]tally, *cohorts)
			check(resample.Each(context.Background(), *cohorts, resample.Sampling{Workers: *workers}, func() func(int) error {
				return func(i int) (err error) { out[i], err = one(truth, attempts, i); return err }
			}))
			var t tally
			for _, o := range out {
				t = tally{t.fitted + o.fitted, t.failed + o.failed, t.residuals + o.residuals, t.rates + o.rates, t.evenness + o.evenness}
			}
			n := float64(t.fitted)
			fmt.Printf("%s,%d,%d,%d,%.3f,%.3f,%.3f\n", truth, attempts, t.fitted, t.failed, float64(t.residuals)/n, float64(t.rates)/n, float64(t.evenness)/n)
		}
	}
}

func one(truth string, attempts, i int) (t tally, err error) {
	r := resample.Stream(*seed, fmt.Sprint(truth, attempts), i)
	f := models.Exponential(1)
	var ts []cohort.Trainee
	for k := range 30 {
		rate := 0.2 * math.Exp(0.2*r.NormFloat64())
		if truth == "two-groups" && k%3 == 0 {
			rate *= 3
		}
		c := f.Curve([]float64{45 * math.Exp(0.2*r.NormFloat64()), 130 * math.Exp(0.25*r.NormFloat64()), rate})
		p := cohort.Trainee{ID: fmt.Sprint(k)}
		for n := 1.0; n <= float64(attempts); n++ {
			y := c.At(n) * math.Exp(0.15*r.NormFloat64())
			if truth == "tailed-noise" && r.Float64() < 0.05 {
				y *= 2
			}
			p.Attempt, p.Response = append(p.Attempt, n), append(p.Response, y)
		}
		ts = append(ts, p)
	}
	if truth == "wrong-curve" {
		f = models.Power()
	}
	ctx, sampling := context.Background(), resample.Sampling{Seed: *seed + uint64(i), Replicates: draws, Workers: 1}
	c, err := cohort.Run(ctx, ts, cohort.Spec{Family: f, Noise: models.Lognormal{}, Uncorrelated: true, Workers: 1})
	if err != nil || c.Rung == cohort.RungTwoStage {
		return t, err
	}
	k, err := c.Checks(ctx, sampling)
	if err != nil {
		return t, err
	}
	halves, err := c.Halves(ctx, sampling)
	if err != nil {
		return t, err
	}
	u, err := halves.Uniformity(ctx, sampling)
	if err != nil {
		return t, err
	}
	t.fitted, t.failed = 1, k.Failed
	found := func(p float64) int {
		if p <= 0.05 {
			return 1
		}
		return 0
	}
	t.residuals, t.evenness = found(k.Residuals.P), found(u.P)
	for _, d := range k.Deviations {
		if d.Parameter == "rate" {
			t.rates = found(d.P)
		}
	}
	return t, nil
}

func check(err error) {
	if err != nil {
		log.Fatal(err)
	}
}
