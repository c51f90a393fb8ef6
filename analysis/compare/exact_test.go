package compare

import (
	"errors"
	"math"
	"testing"
)

// Arms with the very same numbers: F of their slopes is 0 by hand, and what rounding leaves
// below it must not reach the F distribution.
func TestSameArmsAdjusted(t *testing.T) {
	for shift := range 200 {
		var before, after []float64
		for i := range 6 {
			x := math.Sin(float64(7*shift + i))
			before, after = append(before, x), append(after, 0.3*x+math.Cos(float64(11*shift+3*i)))
		}
		a, err := Adjust("m", []Arm{{Name: "a", Values: after}, {Name: "b", Values: after}}, []Baseline{{"x", [][]float64{before, before}}}, 0)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range []FTest{a.Parallel, a.Group} {
			if !(f.F >= 0 && f.F < 1e-6 && f.P > 0.999) {
				t.Fatalf("%d: F %v, p %v", shift, f.F, f.P)
			}
		}
		near(t, "difference", a.Pairs[0].Estimate, 0, 1e-12)
	}
}

// Numbers that arm and covariate give exactly leave no spread; rounding is none.
func TestNothingLeftToJudgeBy(t *testing.T) {
	ref, arm := []float64{61.3, 55.7, 70.1}, []float64{49.2, 52.8, 66.6}
	flat := []float64{50.1, 50.1, 50.1}
	for name, values := range map[string][2][]float64{"the baseline itself": {ref, arm}, "a constant": {flat, flat}} {
		_, err := Adjust("m", []Arm{{Name: "a", Values: values[0]}, {Name: "b", Values: values[1]}}, []Baseline{{"x", [][]float64{ref, arm}}}, 0)
		if !errors.Is(err, ErrAncova) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// Six of each arm that do not overlap: a delta of 1 to the last digit, and a warning that says so.
func TestDeltaOfArmsApart(t *testing.T) {
	c := CliffDelta(Arm{Name: "a", Values: []float64{1, 2, 3, 4, 5, 6}}, Arm{Name: "b", Values: []float64{7, 8, 9, 10, 11, 12}}, 0)
	if c.Estimate != 1 || len(c.Warnings) != 1 || c.Warnings[0].Code != "no-overlap" {
		t.Errorf("%v, %v", c.Estimate, c.Warnings)
	}
}

// One trainee is worth what was observed.
func TestPseudoOfOne(t *testing.T) {
	if got := RestrictedMeans(spent(4), 6); len(got) != 1 || got[0] != 4 {
		t.Errorf("attempts %v, want 4", got)
	}
	if got := Shares(spent(4), 6); len(got) != 1 || got[0] != 1 {
		t.Errorf("share %v, want 1", got)
	}
}
