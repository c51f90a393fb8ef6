package practice

import (
	"math"
	"testing"

	"tyro/models"
)

// By hand, for counts with mean 2: P(0) = e⁻², P(1) = 2e⁻², P(2) = 2e⁻²; for a chance to
// pass of 0.7, P(0) = 0.3. A standard between whole numbers asks for the next one.
func TestChanceOf(t *testing.T) {
	e, logit := math.Exp(-2), math.Log(0.7/0.3)
	for _, c := range []struct {
		name  string
		s     Standard
		noise models.Noise
		m     float64
		want  float64
	}{
		{"at least 3", Standard{Value: 3}, models.Poisson{}, math.Ln2, 1 - 5*e},
		{"at least 2.5", Standard{Value: 2.5}, models.Poisson{}, math.Ln2, 1 - 5*e},
		{"at least 2", Standard{Value: 2}, models.Poisson{}, math.Ln2, 1 - 3*e},
		{"at most 2", Standard{Value: 2, Lower: true}, models.Poisson{}, math.Ln2, 5 * e},
		{"at most 2.5", Standard{Value: 2.5, Lower: true}, models.Poisson{}, math.Ln2, 5 * e},
		{"a pass, standard 0.8", Standard{Value: 0.8, PassFail: true}, models.Bernoulli{}, logit, 0.7},
		{"a pass, standard 1", Standard{Value: 1, PassFail: true}, models.Bernoulli{}, logit, 0.7},
		{"a pass, no standard", Standard{Value: math.NaN(), PassFail: true}, models.Bernoulli{}, logit, 0.7},
		{"no failure", Standard{Value: 0.2, PassFail: true, Lower: true}, models.Bernoulli{}, logit, 0.3},
		{"a time of its median", Standard{Value: 60, Lower: true}, models.Lognormal{}, 60, 0.5},
		{"a score of its mean", Standard{Value: 60}, models.Normal{}, 60, 0.5},
	} {
		if got := c.s.ChanceOf(c.noise, func(y float64) float64 { return c.noise.CDF(y, c.m, 0.2) }); !(math.Abs(got-c.want) < 1e-12) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
		if got := c.s.PassChance(c.noise, c.m, 0.2); !(math.Abs(got-c.want) < 1e-12) {
			t.Errorf("%s: pass chance %v, want %v", c.name, got, c.want)
		}
	}
}
