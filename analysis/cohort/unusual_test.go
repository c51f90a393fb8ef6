package cohort

import (
	"context"
	"math"
	"slices"
	"testing"

	"tyro/analysis/resample"
	"tyro/models"
)

// New trainees of the population that a fit was made from seldom look strange: of 600, twenty
// to each of thirty fits, at most 13 lie below 1 in 100 by either share (a binomial count of 600
// with a chance of .01 is above 13 in .2 %).
func TestUnusualIsSeldom(t *testing.T) {
	for _, f := range []struct {
		name   string
		spec   Spec
		people func(seed uint64) []Trainee
	}{
		{"lognormal", exponential(), func(seed uint64) []Trainee { return simulate(40, 10, 1, seed) }},
		{"counts", Spec{Family: models.Logarithmic(), Noise: models.Poisson{}}, errorsFalling},
	} {
		curve, scatter, of := 0, 0, 0
		for seed := range uint64(30) {
			people := f.people(500 + seed)
			c := mustRun(t, people[:20], f.spec)
			us, err := c.Unusual(context.Background(), people[20:], resample.Sampling{Seed: 2})
			if err != nil {
				t.Fatal(err)
			}
			for _, u := range us {
				of++
				if u.Curve <= 0.01 {
					curve++
				}
				if u.Scatter <= 0.01 {
					scatter++
				}
			}
		}
		t.Logf("%s: of %d, curves %d, scatter %d below 1 %%", f.name, of, curve, scatter)
		if curve > 13 || scatter > 13 {
			t.Errorf("%s: of %d, curves of %d and scatter of %d lie below 1 %%", f.name, of, curve, scatter)
		}
	}
}

// errorsFalling are forty trainees whose mean number of errors is exp(a − b·log n) at attempt n.
func errorsFalling(seed uint64) []Trainee {
	ts := simulate(40, 10, 1, seed)
	r := resample.Stream(seed, "errors falling", 0)
	for i := range ts {
		a, b := 2+0.3*r.NormFloat64(), 0.4+0.1*r.NormFloat64()
		for j, n := range ts[i].Attempt {
			ts[i].Response[j] = models.Poisson{}.Quantile(r.Float64(), a-b*math.Log(n), 0)
		}
	}
	return ts
}

// Times in minutes where the fit has seconds, and wild scatter, are far out; a trainee of the
// cohort is not, and without attempts nothing is.
func TestUnusualIsSeen(t *testing.T) {
	c := mustRun(t, simulate(20, 20, 1, 61), exponential())
	plain := simulate(20, 20, 1, 62)[3]
	minutes, wild, one := plain, plain, plain.first(1)
	minutes.Response, wild.Response, one.Response = slices.Clone(plain.Response), slices.Clone(plain.Response), []float64{plain.Response[0] / 60}
	for j := range plain.Response {
		minutes.Response[j] /= 60
		wild.Response[j] *= math.Exp(0.6 * float64(1-2*(j%2)))
	}
	us, err := c.Unusual(context.Background(), []Trainee{plain, minutes, wild, {ID: "none"}, one}, resample.Sampling{Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	if us[0].Far() || us[0].Drawn != fewDrawn || !(us[1].Curve <= FarOut) || !(us[2].Scatter <= FarOut) || us[2].Curve <= FarOut || us[3].Far() || us[3].Drawn != 0 || !us[4].Far() {
		t.Errorf("%+v", us)
	}
}
