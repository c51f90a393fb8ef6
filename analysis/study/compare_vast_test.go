package study

import (
	"math"
	"testing"

	"tyro/analysis/compare"
)

// Ratios whose interval ends are a thousandfold apart or more are cautioned; differences, narrower
// ones, unknown ones and those cautioned before stand as they are.
func TestVastRatiosAreCautioned(t *testing.T) {
	of := func(lower, upper float64) compare.Contrast {
		return compare.Contrast{Ratio: true, Estimate: 1, Lower: lower, Upper: upper}
	}
	difference, before := of(0.001, 100), of(0.001, 100)
	difference.Ratio, before.Caution = false, "another"
	cs := []compare.Contrast{of(0.5, 499), of(0.5, 501), of(0, 2), of(1, math.Inf(1)), of(math.NaN(), math.NaN()), difference, before}
	w := &comparing{c: &Comparison{Contrasts: cs, Sensitivity: []compare.Contrast{of(1e-25, 1e16)}}}
	w.cautionVast()
	for k, want := range []bool{false, true, true, true, false, false, true} {
		if got := w.c.Contrasts[k].Caution; (got != "") != want {
			t.Errorf("%v to %v: %q", cs[k].Lower, cs[k].Upper, got)
		}
	}
	if w.c.Contrasts[6].Caution != "another" || w.c.Sensitivity[0].Caution == "" {
		t.Errorf("%+v, %+v", w.c.Contrasts[6], w.c.Sensitivity[0])
	}
}
