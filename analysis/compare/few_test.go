package compare

import (
	"context"
	"math"
	"slices"
	"testing"

	"tyro/analysis"
	"tyro/analysis/resample"
)

// By hand: of 24 trainees, 12 an arm, the chance that all 3 who differ are dealt to one arm is
// C(12,3)/C(24,3) = 220/2024, of 4 it is 495/10626; half of it counts on either side. All
// three in one arm of 4 and 4 with two that differ: 6/28.
func TestLowestDealt(t *testing.T) {
	for _, x := range []struct {
		ones, n, m int
		want       float64
	}{{3, 12, 12, 220. / 2024}, {21, 12, 12, 220. / 2024}, {4, 12, 12, 495. / 10626}, {2, 4, 4, 6. / 28}, {0, 5, 7, 1}, {2, 3, 7, 3. / 45}} {
		if got := lowestDealt(x.ones, x.n, x.m); math.Abs(got-x.want) > 1e-12 {
			t.Errorf("%d ones of %d and %d: %v, want %v", x.ones, x.n, x.m, got, x.want)
		}
	}
}

// The lowest p is the one that the test itself gives where all who differ are in one arm, and
// the contrast says so.
func TestFewApart(t *testing.T) {
	arm := func(ones, n int) Arm {
		a := Arm{Share: true}
		for i := range n {
			v := 0.0
			if i < ones {
				v = 1
			}
			a.Values = append(a.Values, v)
		}
		return a
	}
	c, err := Shift(context.Background(), "share", arm(4, 4), arm(2, 4), 0, resample.Sampling{})
	if err != nil || math.Abs(c.P-6./28) > 1e-12 || !warned(c) {
		t.Errorf("2 of 8: p %v (%v), %v", c.P, err, c.Warnings)
	}
	if c, _ = Shift(context.Background(), "share", arm(12, 12), arm(8, 12), 0, resample.Sampling{}); warned(c) {
		t.Errorf("4 of 24 could be told apart: %v", c.Warnings)
	}
	// Shares partly expected, by hand: 0.9 of 24, so a variance of 2·0.09/12 at least; 2.4 in
	// one arm are 0.2 apart, t = 0.2/√0.015 = 1.63299 on 22 degrees of freedom, p = 0.1167 (R:
	// 2*pt(-1.632993, 22)).
	if got := lowestLeaning(21.6, 12, 12, 12, 12); math.Abs(got-0.1167021) > 1e-7 {
		t.Errorf("lowest p of expected shares %v", got)
	}
	some := arm(12, 12)
	some.Values[0], some.Values[1], some.Values[2] = 0.2, 0.2, 0.2
	if c := Leaning("share", arm(12, 12), some, 12, 12, 0); !warned(c) || c.P < 0.1167 {
		t.Errorf("expected shares: p %v, %v", c.P, c.Warnings)
	}
}

func warned(c Contrast) bool {
	return slices.ContainsFunc(c.Warnings, func(w analysis.Warning) bool { return w.Code == "few-apart" })
}
