package proficiency

import (
	"context"
	"errors"
	"math"
	"testing"

	"tyro/analysis"
	"tyro/analysis/fit"
	"tyro/analysis/practice"
	"tyro/analysis/resample"
	"tyro/analysis/survival"
	"tyro/models"
)

// A level that is none is an error; a confidence that is none leaves nothing known.
func TestLevels(t *testing.T) {
	ctx, few := context.Background(), resample.Sampling{Replicates: 20}
	tr := practice.Measured("t", []float64{1, 2, 3, 4, 5, 6}, []float64{90, 70, 61, 55, 52, 50})
	bad := Question{Standard: under(55), Level: 95}
	l, err := Learn(tr, []fit.Spec{{Family: models.Power(), Noise: models.Lognormal{}}})
	if err != nil {
		t.Fatal(err)
	}
	if _, err = l.Attempts(ctx, bad, few, "test"); !errors.Is(err, analysis.ErrLevel) {
		t.Errorf("from a curve: %v", err)
	}
	if _, err := OfGroup(ctx, nil, bad, few, "test"); !errors.Is(err, analysis.ErrLevel) {
		t.Errorf("of a group: %v", err)
	}
	obs := []survival.Observation{{Time: 4, Event: true}, {Time: 6, Event: true}, {Time: 9, Event: true}}
	if _, err := FromObservations(ctx, obs, 1, few, "test"); !errors.Is(err, analysis.ErrLevel) {
		t.Errorf("as observed: %v", err)
	}
	p, err := FromObservations(ctx, obs, 0, few, "test")
	if err != nil || p.Level != 0.95 {
		t.Errorf("level %v (%v), want 0.95", p.Level, err)
	}
	if at := p.Tolerance(0.5, 1).Attempts; !math.IsNaN(at) {
		t.Errorf("with confidence 1 by attempt %v", at)
	}
}
