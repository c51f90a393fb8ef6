package standard

import (
	"math"
	"strconv"
	"testing"
)

func angoffData(t testing.TB) [][]float64 {
	_, rows := columns(t, "angoff.csv")
	var out [][]float64
	for _, r := range rows {
		var row []float64
		for _, cell := range r[1:] {
			v, err := strconv.ParseFloat(cell, 64)
			if err != nil {
				t.Fatal(err)
			}
			row = append(row, v)
		}
		out = append(out, row)
	}
	return out
}

func TestAngoffAgainstR(t *testing.T) {
	e := loadExpected(t)
	a, err := ModifiedAngoff(angoffData(t), 0.95)
	if err != nil {
		t.Fatal(err)
	}
	e.near(t, "angoff/cut", 1e-12, a.Value, a.SE, a.Lower, a.Upper)
	e.near(t, "angoff/percent", 1e-12, a.Percent)
	e.near(t, "angoff/total-sd", 1e-12, a.TotalSD)
	e.near(t, "angoff/total-median", 1e-12, a.TotalMedian)
	e.near(t, "angoff/components", 1e-12, a.Components.Judge, a.Components.Item, a.Components.Residual)
	e.near(t, "angoff/se-items-random", 1e-12, a.SEItemsRandom)
	e.near(t, "angoff/item-means", 1e-12, a.ItemMeans...)
	e.near(t, "angoff/item-sds", 1e-12, a.ItemSDs...)
	e.near(t, "angoff/generalizability", 1e-12, a.Generalizability)
	closeTo(t, "SE of a panel of 8", a.PanelSE(8), a.SE, 1e-12)
}

// TestAngoffByHand: judges who differ by a constant: components of judges and
// items alone. Totals 1.0 and 1.4; judge means 0.5 and 0.7 differ with variance
// 0.02, item means 0.4 and 0.8 with 0.08.
func TestAngoffByHand(t *testing.T) {
	a, err := ModifiedAngoff([][]float64{{0.3, 0.7}, {0.5, 0.9}}, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	closeTo(t, "cut", a.Value, 1.2, 1e-12)
	closeTo(t, "SE", a.SE, 0.2, 1e-12)
	closeTo(t, "judge", a.Components.Judge, 0.02, 1e-12)
	closeTo(t, "item", a.Components.Item, 0.08, 1e-12)
	closeTo(t, "residual", a.Components.Residual, 0, 1e-12)
	closeTo(t, "generalizability", a.Generalizability, 1, 1e-12)
	if _, err := ModifiedAngoff([][]float64{{0.3, 1.7}}, 0.95); err == nil {
		t.Error("a chance above 1: no error")
	}
	if _, err := ModifiedAngoff([][]float64{{0.3, 0.7}, {0.3}}, 0.95); err == nil {
		t.Error("a missing item: no error")
	}
}

// TestAngoffPanels: totals 1.80, 1.80 and 1.85 are 1/60, 1/60 and 1/30 from their mean, so their variance
// is (1/3600 + 1/3600 + 4/3600)/2 = 1/1200, and the standard error √(1/3600) = 1/60 with three judges, half
// of that with twelve. The judges' component is below 0 here, and must not make a panel of three look worse.
func TestAngoffPanels(t *testing.T) {
	a, err := ModifiedAngoff([][]float64{{0.5, 0.6, 0.7}, {0.4, 0.6, 0.8}, {0.55, 0.6, 0.7}}, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	closeTo(t, "SE", a.SE, 1./60, 1e-9)
	closeTo(t, "SE of 3", a.PanelSE(3), 1./60, 1e-9)
	closeTo(t, "SE of 12", a.PanelSE(12), 1./120, 1e-9)
}

// TestAngoffAlikeAndApart: judges of one mind have no standard error, whatever rounding makes of 0.5 + 0.6
// + 0.7, and it is said that this is no certainty; two of opposite minds have an interval beyond 0 to 3 items.
func TestAngoffAlikeAndApart(t *testing.T) {
	a, err := ModifiedAngoff([][]float64{{0.5, 0.6, 0.7}, {0.5, 0.6, 0.7}, {0.5, 0.6, 0.7}}, 0.95)
	if err != nil || a.SE != 0 || a.PanelSE(10) != 0 || !has(a.Warnings, "judges-equal", "") {
		t.Errorf("judges alike: SE %v, %v, %v", a.SE, a.Warnings, err)
	}
	a, err = ModifiedAngoff([][]float64{{0, 0, 0}, {1, 1, 1}}, 0.95)
	if err != nil || a.Value != 1.5 || !has(a.Warnings, "interval-beyond", "0 to 3 items") {
		t.Errorf("judges apart: %v, %v, %v", a.Value, a.Warnings, err)
	}
}

// TestEbelByHand: 4 essential items at 0.9 and 6 others at 0.5 make 6.6; the
// second judge, with 5 and 5 at 0.8 and 0.4, makes 6.0.
func TestEbelByHand(t *testing.T) {
	e, err := Ebel([][]int{{4, 6}, {5, 5}}, [][]float64{{0.9, 0.5}, {0.8, 0.4}}, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	closeTo(t, "cut", e.Value, 6.3, 1e-12)
	closeTo(t, "SE", e.SE, 0.3, 1e-12)
	if _, err := Ebel([][]int{{4, 6}, {5, 4}}, [][]float64{{0.9, 0.5}, {0.8, 0.4}}, 0.95); err == nil {
		t.Error("judges who sorted different numbers of items: no error")
	}
}

func hofsteeData(t testing.TB) ([]float64, []Bound) {
	c := func(name string) []float64 { return column(t, "hofstee_judges.csv", name) }
	lowest, highest, few, many := c("min_cut"), c("max_cut"), c("min_fail"), c("max_fail")
	var judges []Bound
	for j := range lowest {
		judges = append(judges, Bound{lowest[j], highest[j], few[j], many[j]})
	}
	return column(t, "hofstee_scores.csv", "score"), judges
}

func TestHofsteeAgainstR(t *testing.T) {
	e := loadExpected(t)
	scores, judges := hofsteeData(t)
	h, err := Hofstee(ctx, scores, judges, HofsteeRule{}, sampling)
	if err != nil {
		t.Fatal(err)
	}
	e.near(t, "hofstee/cut", 1e-12, h.Value)
	e.near(t, "hofstee/fail", 1e-12, h.FailOnLine, h.FailObserved)
	e.near(t, "hofstee/first-whole", 0, h.FirstWhole)
	turned := make([]float64, len(scores))
	for i, s := range scores {
		turned[i] = -s
	}
	mirror := make([]Bound, len(judges))
	for i, b := range judges {
		mirror[i] = Bound{-b.HighestCut, -b.LowestCut, b.LowestFail, b.HighestFail}
	}
	m, err := Hofstee(ctx, turned, mirror, HofsteeRule{Lower: true}, sampling)
	if err != nil {
		t.Fatal(err)
	}
	closeTo(t, "turned", m.Value, -h.Value, 1e-9)
	closeTo(t, "turned failing", m.FailObserved, h.FailObserved, 1e-9)
}

// TestHofsteeByHand: scores 1 to 10, so failing is 0 at 1, 10 at 2 and so on:
// 10(c − 1). The diagonal from (2, 50) to (7, 0) is 50 − 10(c − 2). They meet at
// c = 4, where 30 % fail.
func TestHofsteeByHand(t *testing.T) {
	scores := []float64{1, 2, 3, 4, 5, 6, 7, 8, 9, 10}
	h, err := Hofstee(ctx, scores, []Bound{{1, 6, 0, 40}, {3, 8, 0, 60}}, HofsteeRule{}, sampling)
	if err != nil {
		t.Fatal(err)
	}
	closeTo(t, "cut", h.Value, 4, 1e-12)
	closeTo(t, "failing", h.FailOnLine, 30, 1e-12)
	above, err := Hofstee(ctx, scores, []Bound{{8, 9, 0, 10}}, HofsteeRule{}, sampling)
	if err != nil || !math.IsNaN(above.Value) || !has(above.Warnings, "outside-box", "above") {
		t.Errorf("70 %% fail at the easiest: %v, %v (%v)", above.Value, above.Warnings, err)
	}
	below, err := Hofstee(ctx, scores, []Bound{{1, 2, 50, 60}}, HofsteeRule{}, sampling)
	if err != nil || !math.IsNaN(below.Value) || !has(below.Warnings, "outside-box", "below") {
		t.Errorf("10 %% fail at the hardest: %v, %v (%v)", below.Value, below.Warnings, err)
	}
	if _, err := Hofstee(ctx, scores, []Bound{{5, 4, 0, 10}}, HofsteeRule{}, sampling); err == nil {
		t.Error("bounds the wrong way about: no error")
	}
	if has(h.Warnings, "failing-outside-bounds", "") || has(h.Warnings, "standard-outside-bounds", "") {
		t.Errorf("30 %% failing at 4, which both judges accept: %v", h.Warnings)
	}
}

// TestHofsteeOutsideWhatJudgesAccept: where half have 1 and half 10, half fail at any standard
// from above 1 to 10, and the joined curve meets the line between 1 and 2. Judges who accept
// cuts to 1 and from 7 on have a box from 7/3 to 6, which none of them accepts.
func TestHofsteeOutsideWhatJudgesAccept(t *testing.T) {
	halves, err := Hofstee(ctx, []float64{1, 1, 1, 1, 1, 10, 10, 10, 10, 10}, []Bound{{1, 6, 10, 30}}, HofsteeRule{}, sampling)
	if err != nil || !has(halves.Warnings, "failing-outside-bounds", "50 %") || has(halves.Warnings, "standard-outside-bounds", "") {
		t.Errorf("half fail where 10 to 30 %% are accepted: %v (%v)", halves.Warnings, err)
	}
	apart, err := Hofstee(ctx, []float64{1, 2, 3, 4, 5, 6, 7, 8, 9, 10}, []Bound{{0, 1, 0, 40}, {0, 1, 0, 40}, {7, 16, 0, 40}}, HofsteeRule{}, sampling)
	if err != nil || !has(apart.Warnings, "standard-outside-bounds", "3 of 3 judges") {
		t.Errorf("a standard of %v: %v (%v)", apart.Value, apart.Warnings, err)
	}
}

// TestHofsteeInSmallUnits: the scores of TestHofsteeByHand moved up by 54 and written as shares of 100.
// Failing is 10(c − 55) % at c hundredths, the diagonal from (56, 50) to (61, 0) is 50 − 10(c − 56), and they
// meet at 58 hundredths, where 30 % fail; 58 steps of 0.01 are 0.58 whatever rounding says. With a step of 1
// the curve has nothing between 0 and 1, and judges who write 0.4 for 40 % cannot mean 0.4 %.
func TestHofsteeInSmallUnits(t *testing.T) {
	var scores []float64
	for k := range 10 {
		scores = append(scores, float64(55+k)/100)
	}
	judges := []Bound{{0.55, 0.60, 0, 40}, {0.57, 0.62, 0, 60}}
	h, err := Hofstee(ctx, scores, judges, HofsteeRule{Step: 0.01}, sampling)
	if err != nil {
		t.Fatal(err)
	}
	closeTo(t, "cut", h.Value, 0.58, 1e-12)
	closeTo(t, "failing", h.FailOnLine, 30, 1e-9)
	closeTo(t, "first whole", h.FirstWhole, 0.58, 1e-12)
	for _, f := range h.Curve {
		if want := math.Max(0, math.Min(100, 10*(math.Round(100*f.Standard)-55))); f.Percent != want {
			t.Errorf("%v %% fail at %v, want %v", f.Percent, f.Standard, want)
		}
	}
	if has(h.Warnings, "wide-step", "") {
		t.Errorf("%v", h.Warnings)
	}
	wide, err := Hofstee(ctx, scores, judges, HofsteeRule{}, sampling)
	if err != nil || !has(wide.Warnings, "wide-step", "--step 0.01") {
		t.Errorf("a step of 1: %v (%v)", wide.Warnings, err)
	}
	shares, err := Hofstee(ctx, []float64{1, 2, 3, 4, 5, 6, 7, 8, 9, 10}, []Bound{{1, 6, 0, 0.4}, {3, 8, 0, 0.6}}, HofsteeRule{}, sampling)
	if err != nil || !has(shares.Warnings, "failing-as-shares", "") {
		t.Errorf("bounds as shares: %v (%v)", shares.Warnings, err)
	}
}
