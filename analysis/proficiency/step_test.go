package proficiency

import (
	"math"
	"testing"

	"tyro/analysis/fit"
	"tyro/analysis/practice"
	"tyro/analysis/resample"
	"tyro/models"
)

// passer is a trainee with these passes and fails, and the curves that are tried for them.
func passer(t *testing.T, passes ...float64) Learner {
	t.Helper()
	var at []float64
	for i := range passes {
		at = append(at, float64(i+1))
	}
	var families []models.Family
	for _, name := range models.Candidates(models.Bernoulli{}) {
		f, err := models.ByName(name, 1)
		if err != nil {
			t.Fatal(err)
		}
		families = append(families, f)
	}
	l, err := Learn(practice.Measured("P", at, passes), fit.Candidates(fit.Spec{Noise: models.Bernoulli{}}, families))
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// Passes and fails that do not mix are a step. Failed 1 to 4 and passed 5 to 10: the standard is met
// from attempt 5 on, and three in a row at attempt 7, as seen; one order of 210 has all passes last.
// Failed 1 to 4 and passed 5 and 6 (1 of 15) is no rare order, so the flat curve stays, whose chance of one
// third never meets 0.8. Passed 1 to 4 and failed 5 to 8 moves away from attempt 5 on.
func TestStepFromFailToPass(t *testing.T) {
	q := Question{Standard: practice.Standard{Value: 0.8, PassFail: true}, Rule: mustParse(t, "3 in a row"), Horizon: 40}
	ask := func(passes ...float64) []Answer {
		as, err := passer(t, passes...).Attempts(t.Context(), q, resample.Sampling{Seed: 1, Replicates: 40}, "step")
		if err != nil {
			t.Fatal(err)
		}
		return as
	}
	learnt := ask(0, 0, 0, 0, 1, 1, 1, 1, 1, 1)
	for k, want := range []float64{5, 5, 7} {
		if a := learnt[k]; a.Estimate != want || a.Status != Reached || !math.IsNaN(a.Lower) || !math.IsNaN(a.Upper) || !math.IsNaN(a.NotReached) {
			t.Errorf("%s: %v (%v to %v), %s, want %v without a range", a.Definition, a.Estimate, a.Lower, a.Upper, a.Status, want)
		}
	}
	forgotten := ask(1, 1, 1, 1, 0, 0, 0, 0)
	for _, a := range forgotten {
		if a.Status != MovingAway || a.Leaves != 5 || !math.IsNaN(a.Estimate) {
			t.Errorf("forgotten, %s: %v, %s from attempt %v", a.Definition, a.Estimate, a.Status, a.Leaves)
		}
	}
	for _, a := range ask(0, 0, 0, 0, 1, 1)[:2] {
		if a.Status != BeyondHorizon || math.IsNaN(a.Lower) {
			t.Errorf("an order that chance makes, %s: %v (%v to %v), %s", a.Definition, a.Estimate, a.Lower, a.Upper, a.Status)
		}
	}
}

// The chances of a step: next to none before it, next to one after it.
func TestChancesOfAStep(t *testing.T) {
	l := passer(t, 0, 0, 0, 0, 1, 1, 1, 1, 1, 1)
	for i, v := range l.Chances(Question{Standard: practice.Standard{Value: 0.8, PassFail: true}, Horizon: 12}) {
		if want := map[bool]float64{true: 1}[i >= 4]; math.Abs(v-want) > 1e-9 {
			t.Errorf("attempt %d passes with chance %v, want %v", i+1, v, want)
		}
	}
}
