package agreement

import (
	"math"
	"testing"

	"tyro/analysis/resample"
)

func TestICCSubjects(t *testing.T) {
	// Bonett (2002), Statistics in Medicine 21, 1331-1335, his formula by hand
	// with z = 1.959964: 8z²(1−ρ)²(1+(k−1)ρ)²/(k(k−1)w²) + 1, and 5ρ more for two
	// raters and ρ of 0.7 or more.
	for _, c := range []struct {
		icc   float64
		k     int
		width float64
		want  int
	}{
		{0.8, 3, 0.2, 36},  // 30.7317·0.04·6.76/(6·0.04) + 1 = 35.63
		{0.7, 2, 0.2, 105}, // 30.7317·0.09·2.89/(2·0.04) + 1 + 3.5 = 104.42
		{0.6, 2, 0.3, 71},  // 30.7317·0.16·2.56/(2·0.09) + 1 = 70.93
	} {
		if n, err := ICCSubjects(c.icc, c.k, c.width, 0.95); err != nil || n != c.want {
			t.Errorf("icc %g, %d raters, width %g: %d subjects, want %d (%v)", c.icc, c.k, c.width, n, c.want, err)
		}
	}
	if w := ICCWidth(0.8, 3, 36, 0.95); !(w < 0.2 && w > 0.195) {
		t.Errorf("width with 36 subjects %v", w)
	}
	if _, err := ICCSubjects(1.2, 3, 0.2, 0.95); err == nil {
		t.Error("an icc above 1 is accepted")
	}
}

func TestKappaSubjects(t *testing.T) {
	// Two categories with share ½: kappa = 2po − 1, so that the variance of one
	// subject is 4·po·(1−po) = 1 − κ² (Byrt, Bishop and Carlin, 1993, for equal
	// margins). κ 0.6, width 0.2: 4·3.841459·0.64/0.04 = 245.85.
	if n, err := KappaSubjects(0.6, []float64{0.5, 0.5}, 0.2, 0.95); err != nil || n != 246 {
		t.Errorf("%d subjects, want 246 (%v)", n, err)
	}
	// Test of 0.4 against 0.7 at ½, power 0.8: (1.959964·√0.84 +
	// 0.841621·√0.51)²/0.09 = (1.796334 + 0.601037)²/0.09 = 63.86.
	if n, err := KappaTestSubjects(0.4, 0.7, []float64{0.5, 0.5}, 0.05, 0.8); err != nil || n != 64 {
		t.Errorf("%d subjects, want 64 (%v)", n, err)
	}
}

func TestSimulatedWidthMatchesTheFormula(t *testing.T) {
	sampling := resample.Sampling{Seed: 2, Replicates: 400}
	for _, s := range []PlannedStudy{{ICC: 0.8, Raters: 3}, {Kappa: 0.6, Shares: []float64{0.5, 0.5}, Raters: 2}} {
		w, err := SimulateWidth(ctx, s, 120, 0.95, sampling)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(w.Width/w.Formula-1) > 0.1 || math.Abs(w.Coverage-0.95) > 0.04 {
			t.Errorf("%+v: simulated %v, formula %v, coverage %v", s, w.Width, w.Formula, w.Coverage)
		}
	}
}
