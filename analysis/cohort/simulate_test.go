package cohort

import (
	"math"
	"testing"

	"tyro/analysis/resample"
	"tyro/models"
)

// Simulated cohorts have the moments of the model they come from. With the
// inverse curve and normal noise, by hand: the mean at attempt n is plateau +
// gain/n, and responses at n and m covary by sd₁² + sd₂²/(n·m) + σ²ρ^|n−m|.
func TestSimulate(t *testing.T) {
	c := mustRun(t, load(t, "carry.csv", "trainee", "", "attempt", "score"), Spec{Family: models.Inverse(), Noise: models.Normal{}, Uncorrelated: true, Carry: CarryWhole})
	var n, sum, at2, cov float64
	for i := range 400 {
		for _, tr := range c.Simulate(resample.Stream(1, "test", i)) {
			var y [2]float64
			found := 0
			for j, x := range tr.Attempt {
				if x == 2 || x == 5 {
					y[found] = tr.Response[j]
					found++
				}
			}
			if found < 2 {
				continue
			}
			m2, m5 := c.Fixed[0].Estimate+c.Fixed[1].Estimate/2, c.Fixed[0].Estimate+c.Fixed[1].Estimate/5
			n++
			sum += y[0] - m2
			at2 += (y[0] - m2) * (y[0] - m2)
			cov += (y[0] - m2) * (y[1] - m5)
		}
	}
	a, b, s, rho := c.Random[0].SD, c.Random[1].SD, c.Residual.Estimate, c.Carryover[0].Estimate
	v2, v5 := a*a+b*b/4+s*s, a*a+b*b/25+s*s
	want := a*a + b*b/10 + s*s*rho*rho*rho
	// Four standard errors of each.
	within(t, "mean", sum/n, 0, 4*math.Sqrt(v2/n))
	within(t, "variance", at2/n, v2, 4*v2*math.Sqrt(2/n))
	within(t, "covariance", cov/n, want, 4*math.Sqrt((v2*v5+want*want)/n))
}

// A shared limit holds for every simulated attempt.
func TestSimulateCensored(t *testing.T) {
	ts := simulate(20, 10, 1, 3)
	for i := range ts {
		ts[i].Censored = make([]bool, 10)
		for j, y := range ts[i].Response {
			if y > 120 {
				ts[i].Response[j], ts[i].Censored[j] = 120, true
			}
		}
	}
	c := mustRun(t, ts, Spec{Family: models.Exponential(1), Noise: models.Lognormal{}, Uncorrelated: true})
	censored := 0
	for _, tr := range c.Simulate(resample.Stream(1, "test", 0)) {
		for j, y := range tr.Response {
			if y > 120 || tr.Censored != nil && tr.Censored[j] != (y == 120) {
				t.Fatalf("response %v, censored %v", y, tr.Censored[j])
			}
			if y == 120 {
				censored++
			}
		}
	}
	if censored == 0 {
		t.Error("nothing is censored")
	}
}

// Refits to simulated cohorts.
func TestParametricBootstrap(t *testing.T) {
	s := exponential()
	s.Uncorrelated = true
	checkBootstrap(t, mustRun(t, simulate(20, 12, 1, 10), s).ParametricBootstrap)
}
