package cohort

import (
	"context"
	"math"
	"testing"

	"tyro/analysis/fit"
	"tyro/analysis/practice"
	"tyro/analysis/resample"
	"tyro/models"
)

// Everybody has one curve, 40 + 80·exp(−0.2(n − 1)), so that all get there at one attempt: the first
// whose chance to meet the standard of 60, times the chance to be sound, is 0.8. The loop says it
// anew from the normal distribution, for chances to be sound that stay, rise and fall.
func TestSharesCountWhatIsSoundAlone(t *testing.T) {
	ts := simulate(12, 20, 1, 5)
	spec := Spec{Family: models.Exponential(1), Noise: models.Lognormal{}, Random: []string{}, Hold: []fit.Hold{{Name: "plateau", Value: 40}, {Name: "gain", Value: 80}, {Name: "rate", Value: 0.2}}}
	c := mustRun(t, ts, spec)
	for what, sound := range map[string]func(n float64) float64{
		"stays": func(float64) float64 { return 0.9 },
		"rises": func(n float64) float64 { return 1 - 0.5/n },
		"falls": func(n float64) float64 { return 1 - 0.004*n },
		"never": func(float64) float64 { return 0.79 },
	} {
		q := Question{Standard: practice.Standard{Value: 60, Lower: true}, Chance: 0.8, Horizon: 60, Sound: func(int) func(float64) float64 { return sound }}
		rows, err := Shares(context.Background(), c, "", q, true, resample.Sampling{Seed: 1})
		if err != nil {
			t.Fatal(err)
		}
		want := math.Inf(1)
		for n := 60.0; n >= 1; n-- {
			m := 40 + 80*math.Exp(-0.2*(n-1))
			meets := 0.5 * math.Erfc(-math.Log(60/m)/c.Residual.Estimate/math.Sqrt2)
			if sound(n)*meets >= 0.8 {
				want = n
			}
		}
		first := math.Inf(1)
		for i := len(rows) - 1; i >= 0; i-- {
			if rows[i].Share > 1-1e-9 {
				first = rows[i].Attempt
			} else if rows[i].Share > 1e-9 {
				t.Fatalf("%s: a share of %v at attempt %v", what, rows[i].Share, rows[i].Attempt)
			}
		}
		if first != want {
			t.Errorf("%s: everybody passes from attempt %v on, want %v", what, first, want)
		}
	}
}
