package resample

import (
	"errors"
	"math"
	"testing"

	"tyro/analysis"
)

// Level 0 is 0.95; a level that is none gives no interval and says so; an expanded
// level never reaches 1, where a bias-corrected end has no place.
func TestLevels(t *testing.T) {
	var reps []float64
	for i := range 199 {
		reps = append(reps, float64(i))
	}
	for name, of := range map[Method]func(level float64) Interval{
		Percentile: func(l float64) Interval { return PercentileInterval(reps, l) },
		Basic:      func(l float64) Interval { return BasicInterval(99, reps, l) },
		BCa:        func(l float64) Interval { return BCaInterval(99, 0.01, reps, l) },
	} {
		if a, b := of(0), of(0.95); a != b || a.Level != 0.95 {
			t.Errorf("%s: %+v at level 0, %+v at 0.95", name, a, b)
		}
		for _, wrong := range []float64{-1, 1, math.NaN()} {
			if iv := of(wrong); !errors.Is(iv.Err, analysis.ErrLevel) || !math.IsNaN(iv.Lower) || !math.IsNaN(iv.Upper) || !iv.Refused() {
				t.Errorf("%s: %+v at level %v", name, iv, wrong)
			}
		}
		if iv := of(ExpandedLevel(0.999, 1, 1.4)); iv.Err != nil || math.IsNaN(iv.Lower) || math.IsNaN(iv.Upper) {
			t.Errorf("%s: %+v at the widest level", name, iv)
		}
	}
	if !math.IsNaN(ExpandedLevel(1, 5, 1)) {
		t.Error("a level of 1 can be expanded")
	}
}
