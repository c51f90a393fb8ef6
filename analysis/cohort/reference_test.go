package cohort

import (
	"context"
	"math"
	"testing"

	"tyro/models"
)

func mustRun(t testing.TB, ts []Trainee, s Spec) *Cohort {
	t.Helper()
	c, err := Run(context.Background(), ts, s)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func TestPrint(t *testing.T) {
	show := func(c *Cohort) {
		t.Logf("%s %s %v ll %.8f lnll %.8f evals %d", c.Family, c.Rung, c.Status, c.LogLik, c.LogLikLog, c.Evaluations)
		for _, e := range c.Fixed {
			t.Logf("  %-9s %-8s %.8f (%.6f)", e.Parameter, e.Arm, e.Estimate, e.SE)
		}
		for _, d := range c.Random {
			t.Logf("  sd %-9s %.8f [%.5f %.5f]", d.Parameter, d.SD, d.Lower, d.Upper)
		}
		for _, d := range c.Correlations {
			t.Logf("  cor %v", d)
		}
		t.Logf("  resid %.8f (%.6f)", c.Residual.Estimate, c.Residual.SE/c.Residual.Estimate)
		for _, s := range c.Ladder {
			t.Logf("  %+v", s)
		}
		t.Logf("  %v", c.Warnings)
	}
	ts := load(t, "loblolly.csv", "seed", "", "age_years", "height_feet")
	show(mustRun(t, ts, Spec{Family: models.Exponential(0), Noise: models.Normal{}, UseStart: true, Random: []string{"plateau"}}))
	show(mustRun(t, ts, Spec{Family: models.Exponential(0), Noise: models.Normal{}, Random: []string{"plateau"}}))
	for _, meth := range []Method{Laplace, Quadrature} {
		for k, f := range []models.Family{models.Power(), models.Exponential(1)} {
			ts := load(t, []string{"cohort_power.csv", "cohort_exponential.csv"}[k], "trainee", "arm", "attempt", "seconds")
			show(mustRun(t, ts, Spec{Family: f, Noise: models.Lognormal{}, Uncorrelated: true, ArmEffect: []string{"rate"}, Method: meth}))
			if meth == Laplace {
				show(mustRun(t, ts, Spec{Family: f, Noise: models.Lognormal{}, ArmEffect: []string{"rate"}, Method: meth}))
				show(mustRun(t, ts, Spec{Family: models.Wright(), Noise: models.Lognormal{}, ArmEffect: []string{"gain", "rate"}, Method: meth}))
				show(mustRun(t, ts, Spec{Family: f, Noise: models.Lognormal{}, ArmEffect: []string{"rate"}, Random: []string{"plateau", "gain", "rate", Spread}}))
			}
		}
	}
	_ = math.Pi
}
