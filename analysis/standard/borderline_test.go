package standard

import (
	"math"
	"testing"

	"tyro/analysis/resample"
)

func TestBorderlineAgainstR(t *testing.T) {
	e := loadExpected(t)
	values, ratings := column(t, "borderline_regression.csv", "checklist"), column(t, "borderline_regression.csv", "global_rating")
	l, err := BorderlineRegression(ctx, values, ratings, BorderlineRule{At: 2}, resample.Sampling{Seed: 1, Replicates: 20000})
	if err != nil {
		t.Fatal(err)
	}
	e.near(t, "borderline/line", 1e-11, l.Intercept, l.Slope, l.RSquared, l.ResidualSD, l.Value, l.SE, float64(l.DF), l.Lower, l.Upper)
	se := e["borderline/bootstrap.1"]
	closeTo(t, "bootstrap SE", l.BootstrapSE, se, 0.03*se)
	closeTo(t, "bootstrap lower", l.BootstrapLower, e["borderline/bootstrap.2"], 0.1*se)
	closeTo(t, "bootstrap upper", l.BootstrapUpper, e["borderline/bootstrap.3"], 0.1*se)
	g, err := BorderlineGroup(values, ratings, BorderlineRule{At: 2})
	if err != nil {
		t.Fatal(err)
	}
	e.near(t, "borderline/group", 1e-12, float64(g.N), g.Mean, g.MeanSE, g.Median)
	if g.Value != g.Mean || !has(g.Warnings, "few-borderline", "7 trainees") {
		t.Errorf("%+v", g)
	}
	if m, _ := BorderlineGroup(values, ratings, BorderlineRule{At: 2, UseMedian: true}); m.Value != g.Median {
		t.Errorf("median: %v, want %v", m.Value, g.Median)
	}
}

// TestBorderlineByHand: the line through (1, 10), (2, 20), (3, 36) has slope 13
// and mean 22 at 2; the residuals are 1, −2 and 1, so s² = 6.
func TestBorderlineByHand(t *testing.T) {
	l, err := BorderlineRegression(ctx, []float64{10, 20, 36}, []float64{1, 2, 3}, BorderlineRule{At: 2}, sampling)
	if err != nil {
		t.Fatal(err)
	}
	closeTo(t, "cut", l.Value, 22, 1e-12)
	closeTo(t, "SE", l.SE, math.Sqrt(6.0/3), 1e-12)
}

func TestBorderlineEdges(t *testing.T) {
	if _, err := BorderlineRegression(ctx, []float64{1, 2, 3}, []float64{2, 2, 2}, BorderlineRule{At: 2}, sampling); err == nil {
		t.Error("equal ratings: no error")
	}
	l, err := BorderlineRegression(ctx, []float64{1, 2, 4}, []float64{3, 4, 5}, BorderlineRule{At: 2}, sampling)
	if err != nil || !has(l.Warnings, "borderline-outside", "3 to 5") {
		t.Errorf("outside the ratings: %v (%v)", l.Warnings, err)
	}
	if _, err := BorderlineGroup([]float64{1}, []float64{3}, BorderlineRule{At: 2}); err == nil {
		t.Error("nobody borderline: no error")
	}
}

// By hand: the line through (1, 30), (2, 24), (3, 12) falls by 9 a rating point, against scores of
// which larger ones are better and not against times; turned over it rises by 9.
func TestBorderlineAgainstTheDirection(t *testing.T) {
	ratings := []float64{1, 2, 3}
	for _, c := range []struct {
		values []float64
		lower  bool
		runs   string // blank: no warning
	}{
		{[]float64{30, 24, 12}, false, "falls by 9 "},
		{[]float64{30, 24, 12}, true, ""},
		{[]float64{12, 24, 30}, false, ""},
		{[]float64{12, 24, 30}, true, "rises by 9 "},
	} {
		r := BorderlineRule{At: 2, Lower: c.lower}
		l, err1 := BorderlineRegression(ctx, c.values, ratings, r, sampling)
		g, err2 := BorderlineGroup(c.values, ratings, r)
		if err1 != nil || err2 != nil {
			t.Fatal(err1, err2)
		}
		for name, warned := range map[string]bool{"line": has(l.Warnings, "ratings-reversed", c.runs), "group": has(g.Warnings, "ratings-reversed", c.runs)} {
			if warned != (c.runs != "") {
				t.Errorf("%v, smaller better %v, %s: %v, %v", c.values, c.lower, name, l.Warnings, g.Warnings)
			}
		}
	}
	if g, err := BorderlineGroup([]float64{12, 24}, []float64{2, 2}, BorderlineRule{At: 2}); err != nil || has(g.Warnings, "ratings-reversed", "") {
		t.Errorf("equal ratings run nowhere: %v (%v)", g.Warnings, err)
	}
}
