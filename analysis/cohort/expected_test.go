package cohort

import (
	"math"
	"testing"

	"tyro/models"
)

// flat is one draw of a level that stays, with its noise.
func flat(noise models.Noise, level, spread, weight float64) Draw {
	return Draw{Weight: weight, Curve: models.Curve{Family: models.Constant(), Plateau: level}, Spread: spread, on: newFooting(noise)}
}

// Of times it is the geometric mean: of 20 and 80, alike in weight, 40. Scores have their mean. By
// speed, 1/50 with a standard deviation of a tenth of that, the mean logarithm of the time is log 50 plus half
// the squared share and three quarters of its fourth power, 0.005 + 0.000075 (moments of log(1 + e), e normal).
func TestExpectedIsTheMeanOfThePrediction(t *testing.T) {
	for _, c := range []struct {
		what      string
		draws     []Draw
		want, tol float64
	}{
		{"times", []Draw{flat(models.Lognormal{}, 20, 0.3, 0.5), flat(models.Lognormal{}, 80, 0.1, 0.5)}, 40, 1e-9},
		{"scores", []Draw{flat(models.Normal{}, 20, 3, 0.25), flat(models.Normal{}, 80, 5, 0.75)}, 65, 1e-9},
		{"speeds", []Draw{flat(models.Reciprocal{}, 50, 0.1/50, 1)}, 50 * math.Exp(0.005+0.000075), 50 * 3e-6},
		{"times with heavy tails", []Draw{flat(models.LogStudent{}, 20, 0.3, 0.5), flat(models.LogStudent{}, 80, 0.1, 0.5)}, 40, 1e-9},
		{"nobody", []Draw{flat(models.LogStudent{}, 0, 0.3, 1)}, 0, 0},
		{"nobody", []Draw{flat(models.Lognormal{}, 0, 0.3, 1)}, 0, 0},
	} {
		p := Posterior{Draws: c.draws}
		if got := p.Expected(3, 0); !(math.Abs(got-c.want) <= c.tol) {
			t.Errorf("%s: %v expected, want %v", c.what, got, c.want)
		}
	}
}
