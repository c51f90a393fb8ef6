package compare

import "testing"

// Invented trainees, six an order, against R 4.2.2: lm(y ~ trainee + period + arm) for the
// effect and the period, lm of the sums on the order for the carry-over
// (testdata/compare/crossover.R).
func TestCrossoverAgainstR(t *testing.T) {
	refFirst := [][2]float64{{52, 41}, {60, 50}, {47, 44}, {55, 43}, {62, 49}, {58, 51}}
	armFirst := [][2]float64{{45, 50}, {39, 47}, {51, 52}, {44, 55}, {48, 50}, {40, 46}}
	c := Crossover("difference", "ref", "arm", refFirst, armFirst, 0)
	for _, x := range []struct {
		name                     string
		c                        Contrast
		estimate, se, lower, upp float64
		p                        float64
	}{
		{"effect", c.Effect, -7.41666666667, 1.07561352002, -9.81328294034, -5.020050392994, 4.21853482181e-05},
		{"period", c.Period, -1.91666666667, 1.07561352002, -4.31328294034, 0.479949607006, 1.05097164439e-01},
		{"carry-over", c.Carryover, -7.5, 4.69574275275, -17.9627668663, 2.96276686633, 1.41306930114e-01},
	} {
		near(t, x.name, x.c.Estimate, x.estimate, 1e-10)
		near(t, x.name+" se", x.c.SE, x.se, 1e-10)
		near(t, x.name+" lower", x.c.Lower, x.lower, 1e-10)
		near(t, x.name+" upper", x.c.Upper, x.upp, 1e-10)
		near(t, x.name+" p", x.c.P, x.p, 1e-9)
	}
	if len(c.Warnings) != 1 {
		t.Errorf("carry-over that is not excluded is not said: %v", c.Warnings)
	}
}
