package cohort

import (
	"math"
	"strings"
	"testing"

	"tyro/models"
)

// Plateau and gain that move together without exception: the maximum lies at a
// correlation of 1, where R's lmer (lme4 1.1-31, testdata/cohort/boundary.R)
// finds it too.
func TestExactCorrelation(t *testing.T) {
	ts := load(t, "boundary.csv", "trainee", "", "attempt", "score")
	c := mustRun(t, ts, Spec{Family: models.Inverse(), Noise: models.Normal{}})
	if c.Rung != RungReduced || c.Status != Boundary || !hasWarning(c, "exact-correlation") {
		t.Errorf("rung %q, status %v, warnings %v", c.Rung, c.Status, c.Warnings)
	}
	for _, w := range c.Warnings {
		if w.Code == "exact-correlation" && !strings.HasPrefix(w.Text, "plateau and gain move together without exception") {
			t.Error(w.Text)
		}
	}
	within(t, "log-likelihood", c.LogLik, -629.99196905299, 1e-4)
	within(t, "correlation", c.Correlations[0].Value, 1, 1e-4)
	if math.IsNaN(c.Fixed[0].SE) || math.IsNaN(c.Random[1].Upper) {
		t.Errorf("no standard errors: %+v %+v", c.Fixed[0], c.Random[1])
	}
}
