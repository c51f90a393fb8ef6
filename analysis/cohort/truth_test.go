package cohort

import (
	"context"
	"math"
	"testing"

	"tyro/models"
)

// The truth behind the simulated cohorts in profile intervals: every spread and
// residual SD at 95 %, and every fixed effect but the rate of the exponential
// cohort, whose exact maximum (9-point quadrature in R) lies 2.1 standard errors
// from it; at 99 % that one too.
func TestTruthInProfileIntervals(t *testing.T) {
	spreads := map[string][4]float64{ // plateau, gain, rate, residual
		"cohort_power.csv": {0.18, 0.25, 0.12, 0.15}, "cohort_exponential.csv": {0.15, 0.22, 0.15, 0.14},
	}
	for _, w := range cohorts {
		ts := load(t, w.file, "trainee", "arm", "attempt", "seconds")
		for _, level := range []float64{0.95, 0.99} {
			c := mustRun(t, ts, Spec{Family: w.family, Noise: models.Lognormal{}, Uncorrelated: true, ArmEffect: []string{"rate"}, Level: level})
			ps, err := c.Profile(context.Background())
			if err != nil {
				t.Fatal(err)
			}
			fixed, spread := 0, 0
			for _, p := range ps {
				truth := math.NaN()
				switch p.Kind {
				case "fixed":
					truth = w.truth[fixed]
					fixed++
				case "sd":
					truth = spreads[w.file][spread]
					spread++
				case "residual":
					truth = spreads[w.file][3]
				}
				known := level == 0.95 && w.family.Name() == "exponential" && p.Parameter == "rate" && p.Arm == "standard"
				if !(truth >= p.Lower && truth <= p.Upper) && !known {
					t.Errorf("%s, %g: %s of %s %s: %v is not in %v to %v", w.file, level, p.Kind, p.Parameter, p.Arm, truth, p.Lower, p.Upper)
				}
			}
			if fixed != 4 || spread != 3 {
				t.Errorf("%s: %d fixed effects and %d spreads", w.file, fixed, spread)
			}
		}
	}
}
