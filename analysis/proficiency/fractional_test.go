package proficiency

import (
	"math"
	"testing"

	"tyro/analysis/cohort"
	"tyro/analysis/practice"
	"tyro/models"
)

// Counts where higher is better, against a standard between two counts: an attempt
// meets 2.5 with 3 or more. By hand, with a mean of n at attempt n the chance is
// 1 − exp(−n)(1 + n + n²/2): .762 at 4 and .875 at 5. Read
// off the trainee's own curve and off the cohort's draws it is the same attempt.
func TestFractionalStandardOfCounts(t *testing.T) {
	noise := models.Poisson{}
	curve := models.Logarithmic().Curve([]float64{0, 1}) // the log of the mean is the log of the attempt
	standard := practice.Standard{Value: 2.5}
	byHand := func(n float64) float64 { return 1 - math.Exp(-n)*(1+n+n*n/2) }
	for _, n := range []float64{1, 3, 4, 5, 12} {
		if got, mean := standard.PassChance(noise, curve.At(n), math.NaN()), noise.Mean(curve.At(n)); math.Abs(got-byHand(n)) > 1e-12 || math.Abs(mean-n) > 1e-12 {
			t.Errorf("attempt %g: mean %v, chance %v, want %v", n, mean, got, byHand(n))
		}
	}
	for _, c := range []struct{ chance, want float64 }{{0.5, 3}, {0.8, 5}, {0.876, 6}} {
		if below, at := byHand(c.want-1), byHand(c.want); !(below < c.chance && c.chance <= at) {
			t.Fatalf("chance %v: %v, then %v", c.chance, below, at)
		}
		q := Question{Standard: standard, Chance: c.chance, Horizon: 50}.orDefaults()
		own := q.newCounter().crossings(passing{curve: curve, noise: noise, scale: math.NaN()})[1]
		pooled, err := q.ofWays([]way{{measure: passing{curve: curve, noise: noise, scale: math.NaN()}, share: 1}})
		if err != nil {
			t.Fatal(err)
		}
		drawn := cohort.Question{Standard: standard, Horizon: 50, Chance: c.chance}.PassChance(noise, &cohort.Draw{Curve: curve, Spread: math.NaN()})
		if wholeAttempts(own) != c.want || pooled[1].Estimate != c.want || drawn != c.want {
			t.Errorf("chance %v: %v by the own curve, %v pooled, %v by a draw of the cohort; want %v", c.chance, own, pooled[1].Estimate, drawn, c.want)
		}
	}
}
