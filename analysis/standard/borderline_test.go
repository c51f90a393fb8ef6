package standard

import (
	"math"
	"testing"

	"tyro/analysis/resample"
)

func TestBorderlineAgainstR(t *testing.T) {
	e := loadExpected(t)
	values, ratings := column(t, "borderline_regression.csv", "checklist"), column(t, "borderline_regression.csv", "global_rating")
	l, err := BorderlineRegression(ctx, values, ratings, 2, 0.95, resample.Sampling{Seed: 1, Replicates: 20000})
	if err != nil {
		t.Fatal(err)
	}
	e.near(t, "borderline/line", 1e-11, l.Intercept, l.Slope, l.RSquared, l.ResidualSD, l.Value, l.SE, float64(l.DF), l.Lower, l.Upper)
	se := e["borderline/bootstrap.1"]
	closeTo(t, "bootstrap SE", l.BootstrapSE, se, 0.03*se)
	closeTo(t, "bootstrap lower", l.BootstrapLower, e["borderline/bootstrap.2"], 0.1*se)
	closeTo(t, "bootstrap upper", l.BootstrapUpper, e["borderline/bootstrap.3"], 0.1*se)
	g, err := BorderlineGroup(values, ratings, 2, 0.95, false)
	if err != nil {
		t.Fatal(err)
	}
	e.near(t, "borderline/group", 1e-12, float64(g.N), g.Mean, g.MeanSE, g.Median)
	if g.Value != g.Mean || !has(g.Warnings, "few-borderline", "7 trainees") {
		t.Errorf("%+v", g)
	}
	if m, _ := BorderlineGroup(values, ratings, 2, 0.95, true); m.Value != g.Median {
		t.Errorf("median: %v, want %v", m.Value, g.Median)
	}
}

// TestBorderlineByHand: the line through (1, 10), (2, 20), (3, 36) has slope 13
// and mean 22 at 2; the residuals are 1, −2 and 1, so s² = 6.
func TestBorderlineByHand(t *testing.T) {
	l, err := BorderlineRegression(ctx, []float64{10, 20, 36}, []float64{1, 2, 3}, 2, 0.95, sampling)
	if err != nil {
		t.Fatal(err)
	}
	closeTo(t, "cut", l.Value, 22, 1e-12)
	closeTo(t, "SE", l.SE, math.Sqrt(6.0/3), 1e-12)
}

func TestBorderlineEdges(t *testing.T) {
	if _, err := BorderlineRegression(ctx, []float64{1, 2, 3}, []float64{2, 2, 2}, 2, 0.95, sampling); err == nil {
		t.Error("equal ratings: no error")
	}
	l, err := BorderlineRegression(ctx, []float64{1, 2, 4}, []float64{3, 4, 5}, 2, 0.95, sampling)
	if err != nil || !has(l.Warnings, "borderline-outside", "3 to 5") {
		t.Errorf("outside the ratings: %v (%v)", l.Warnings, err)
	}
	if _, err := BorderlineGroup([]float64{1}, []float64{3}, 2, 0.95, false); err == nil {
		t.Error("nobody borderline: no error")
	}
}
