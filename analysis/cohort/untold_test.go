package cohort

import (
	"fmt"
	"math"
	"testing"

	"tyro/analysis/resample"
	"tyro/models"
)

// A new trainee's range by several models holds no draw that the attempts tell nothing of: a power curve whose plateau is
// nothing has a spread in it that could be anything. The truth at attempt 2 is 122 in the middle, and 95 % of new
// trainees lie between 87 and 171 (a million simulated: (40 e^0.15z + 100 e^0.1z e^-0.2) e^0.15z).
func TestWhatAttemptsDoNotTellIsNotDrawn(t *testing.T) {
	if testing.Short() {
		t.Skip("fits many models")
	}
	for _, seed := range []uint64{4, 5, 9} { // in which some model's plateau is nothing
		r := resample.Stream(seed, "untold", 0)
		var ts []Trainee
		for i := range 12 {
			one := Trainee{ID: fmt.Sprintf("A%d", i)}
			plateau, gain := 40*math.Exp(0.15*r.NormFloat64()), 100*math.Exp(0.1*r.NormFloat64())
			for n := 1.0; n <= 15; n++ {
				one.Attempt = append(one.Attempt, n)
				one.Response = append(one.Response, (plateau+gain*math.Exp(-0.2*(n-1)))*math.Exp(0.15*r.NormFloat64()))
			}
			ts = append(ts, one)
		}
		choice := Choice{Families: []models.Family{models.Exponential(1), models.Wright(), models.Power()}, Sampling: resample.Sampling{Seed: 1}}
		choice.Noises, choice.LateNoises = Alike(models.Lognormal{}, false)
		b, err := Choose(t.Context(), ts, Spec{Family: models.Exponential(1), Noise: models.Lognormal{}}, choice)
		if err != nil {
			t.Fatal(err)
		}
		ps, err := b.Posteriors(t.Context(), []Trainee{{ID: "new"}}, resample.Sampling{Seed: 1})
		if err != nil {
			t.Fatal(err)
		}
		beyond := 0.0
		for _, d := range ps[0].Draws {
			if v := d.Curve.At(2); !(v > 40 && v < 400) {
				beyond += d.Weight
			}
		}
		if beyond > 0.01 {
			t.Errorf("seed %d: %.3g %% of a new trainee's curves lie below 40 or above 400 at attempt 2", seed, 100*beyond)
		}
	}
}
