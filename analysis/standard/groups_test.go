package standard

import (
	"math"
	"testing"
)

func contrastData(t testing.TB) (scores []float64, competent []bool) {
	for _, c := range column(t, "contrasting_groups.csv", "competent") {
		competent = append(competent, c == 1)
	}
	return column(t, "contrasting_groups.csv", "score"), competent
}

func TestContrastingGroupsAgainstR(t *testing.T) {
	e := loadExpected(t)
	scores, competent := contrastData(t)
	c, err := ContrastingGroups(ctx, scores, competent, GroupRule{}, sampling)
	if err != nil {
		t.Fatal(err)
	}
	e.near(t, "contrast/normal", 1e-12, c.Value)
	e.near(t, "contrast/other", 1e-12, c.Crossings[1])
	e.near(t, "contrast/weighted", 1e-12, c.ByMethod[Weighted])
	e.near(t, "contrast/normal-se", 1e-8, c.SE)
	e.near(t, "contrast/theoretical", 1e-12, c.Theoretical.FalsePass, c.Theoretical.FalseFail)
	e.near(t, "contrast/observed", 1e-12, c.Observed.FalsePass, c.Observed.FalseFail)
	l := c.Logistic
	e.near(t, "contrast/logistic", 1e-11, l.Intercept, l.Slope, l.InterceptSE, l.SlopeSE, l.Covariance, l.LogLikelihood, l.Cut, l.CutSE, l.At(0.8))
	e.near(t, "contrast/youden", 1e-12, c.YoudenJ, c.ByMethod[Youden])
	if !has(c.Warnings, "two-crossings", "105.7") {
		t.Errorf("the second crossing is not named: %v", c.Warnings)
	}
	if !(c.Lower < c.Value && c.Value < c.Upper) {
		t.Errorf("interval %v to %v", c.Lower, c.Upper)
	}
}

// TestContrastTurned: turning the sign of the measure turns the standard.
func TestContrastTurned(t *testing.T) {
	scores, competent := contrastData(t)
	turned := make([]float64, len(scores))
	for i, s := range scores {
		turned[i] = -s
	}
	for _, crossing := range []Crossing{Normal, Weighted, Logistic, Youden} {
		a, err := ContrastingGroups(ctx, scores, competent, GroupRule{Crossing: crossing}, sampling)
		if err != nil {
			t.Fatal(err)
		}
		b, err := ContrastingGroups(ctx, turned, competent, GroupRule{Crossing: crossing, Lower: true}, sampling)
		if err != nil {
			t.Fatal(err)
		}
		closeTo(t, string(crossing), b.Value, -a.Value, 1e-9)
		closeTo(t, string(crossing)+" lower", b.Lower, -a.Upper, 1e-9)
		closeTo(t, string(crossing)+" false pass", b.Observed.FalsePass, a.Observed.FalsePass, 1e-12)
		closeTo(t, string(crossing)+" false fail", b.Theoretical.FalseFail, a.Theoretical.FalseFail, 1e-9)
	}
}

// TestCrossingsByHand: equal spreads cross once, half-way. With means 0 and 3
// and standard deviations 1 and 2 the curves meet where
// 3x² + 6x − 9 − 8·ln 2 = 0.
func TestCrossingsByHand(t *testing.T) {
	if got := crossings(Normalised{10, 2, 1.5}, Normalised{10, 6, 1.5}, 1, 1); len(got) != 1 || math.Abs(got[0]-4) > 1e-12 {
		t.Errorf("equal spreads: %v, want 4", got)
	}
	got := crossings(Normalised{10, 0, 1}, Normalised{10, 3, 2}, 1, 1)
	root := math.Sqrt(36 + 12*(9+8*math.Ln2))
	if len(got) != 2 || math.Abs(got[0]-(-6-root)/6) > 1e-12 || math.Abs(got[1]-(-6+root)/6) > 1e-12 {
		t.Errorf("unequal spreads: %v, want %v and %v", got, (-6-root)/6, (-6+root)/6)
	}
	if got := crossings(Normalised{10, 2, 1}, Normalised{10, 2, 1}, 1, 1); got != nil {
		t.Errorf("equal curves: %v, want none", got)
	}
}

func TestContrastEdges(t *testing.T) {
	apart, err := ContrastingGroups(ctx, []float64{1, 2, 3, 7, 8, 9}, []bool{false, false, false, true, true, true}, GroupRule{Crossing: Logistic}, sampling)
	if err != nil || !math.IsNaN(apart.Value) || !has(apart.Warnings, "groups-apart", "") || !has(apart.Warnings, "no-crossing", "") {
		t.Errorf("groups without overlap: %+v (%v)", apart.Estimate, err)
	}
	turned, err := ContrastingGroups(ctx, []float64{1, 2, 3, 2, 8, 9}, []bool{true, true, true, false, false, false}, GroupRule{}, sampling)
	if err != nil || !has(turned.Warnings, "groups-reversed", "") {
		t.Errorf("reversed groups: %v (%v)", turned.Warnings, err)
	}
	if _, err := ContrastingGroups(ctx, []float64{1, 2, 3}, []bool{true, true, false}, GroupRule{}, sampling); err == nil {
		t.Error("one trainee in a group: no error")
	}
}

// TestYoudenPartsNothing: two groups with the same values have at every value the same share passing in
// both, and groups the wrong way round fewer of the competent, so that no value parts them.
func TestYoudenPartsNothing(t *testing.T) {
	for _, values := range [][]float64{{20, 25, 28, 20, 25, 28}, {20, 25, 28, 60, 65, 70}} {
		c, err := ContrastingGroups(ctx, values, []bool{false, false, false, true, true, true}, GroupRule{Lower: true, Crossing: Youden}, sampling)
		if err != nil || !math.IsNaN(c.Value) || !has(c.Warnings, "no-crossing", "") {
			t.Errorf("%v: a standard of %v, %v (%v)", values, c.Value, c.Warnings, err)
		}
	}
}
