package page

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"

	"tyro/analysis/stopping"
	"tyro/datasets"
	"tyro/reports"
	"tyro/reports/figure"
)

func policies(t *testing.T, texts ...string) []stopping.Policy {
	t.Helper()
	var out []stopping.Policy
	for _, text := range texts {
		p, err := stopping.ParsePolicy(text)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, p)
	}
	return out
}

func comparedWithoutStudy(t *testing.T, o reports.RulesOptions) *reports.Rules {
	t.Helper()
	in, err := reports.Prepare(&datasets.Study{}, reports.Options{})
	if err != nil {
		t.Fatal(err)
	}
	d, err := reports.CompareRules(context.Background(), in, o)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// By hand: two in a row at 1/2 lets 1 − 144/1024 through by attempt 10, half by 4 and
// 80 % by 9 (see the tests of the recursion); a fixed number of 6 attempts lets nobody
// through before and everybody after. At 9/10 the chances of going on with no pass and
// with one behind are 1 and 0, then .1 and .9, .1 and .09, .019 and .09, .0109 and
// .0171, .0028 and .00981 after five attempts: 0.01261 are held back.
func TestCompareRulesConstant(t *testing.T) {
	ps := policies(t, "2 in a row", "6 attempts")
	d := comparedWithoutStudy(t, reports.RulesOptions{First: ps[0], Against: ps[1:], Horizon: 10, Bar: stopping.Bar{Held: 5}})
	notYet, _ := d.Of(0, reports.LearnerNotYet)
	if notYet.FalsePass != 0.859375 || notYet.MetBy[9] != 0.859375 || !math.IsNaN(float64(notYet.HeldBack)) {
		t.Errorf("two in a row at 1/2: %+v", notYet)
	}
	able, _ := d.Of(0, reports.LearnerProficient)
	if math.Abs(float64(able.HeldBack)-0.01261) > 1e-12 || able.FalsePass != 0 {
		t.Errorf("two in a row at 9/10: %+v, want 0.01261 held back", able)
	}
	fixed, _ := d.Of(1, reports.LearnerNotYet)
	if fixed.MeanAttempts != 6 || fixed.FalsePass != 1 || fixed.MetBy[4] != 0 || fixed.MetBy[5] != 1 {
		t.Errorf("six attempts: %+v", fixed)
	}
	want := []reports.QuotaRow{{Share: 0.5, Attempts: 4, Status: reports.Estimated}, {Share: 0.8, Attempts: 9, Status: reports.Estimated}, {Share: 0.9, Status: reports.CannotBeEstimated}}
	for i, r := range d.Rows {
		if r.Share != want[i].Share || r.Status != want[i].Status || r.Status == reports.Estimated && r.Attempts != want[i].Attempts {
			t.Errorf("row %+v, want %+v", r, want[i])
		}
	}
	if s := strings.Join(d.Sentences(), " "); !strings.Contains(s, "by attempt 10 with a chance of 86 %") {
		t.Errorf("sentences: %s", s)
	}
}

// A stated learner who passes with 1/2 and then 9/10, by hand as in the tests of the
// policies.
func TestCompareRulesStated(t *testing.T) {
	d := comparedWithoutStudy(t, reports.RulesOptions{First: policies(t, "1 in a row")[0], Horizon: 2, Stated: []float64{0.5, 0.9}, StatedAs: "two attempts", Bar: stopping.Bar{Held: 1}})
	c, ok := d.Of(0, reports.LearnerStated)
	if !ok || c.MeanAttempts != 1.5 || c.FalsePass != 0.5 || math.Abs(float64(c.HeldBack)-0.05) > 1e-12 || !math.IsNaN(float64(c.FalsePassLower)) {
		t.Errorf("%+v", c)
	}
}

// The study's trainees: means over them, inside their limits; the fixed number of
// attempts costs what the study's rule does; the picture has every letter.
func TestCompareRulesOfStudy(t *testing.T) {
	in := demoInput(t, reports.Options{Replicates: 100})
	d, err := reports.CompareRules(context.Background(), in, reports.RulesOptions{Usual: true})
	if err != nil {
		t.Fatal(err)
	}
	chances, err := in.FittedChances(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	sum := 0.0
	for _, c := range chances {
		by, err := stopping.Rule{Rule: in.Rule}.MetBy(c)
		if err != nil {
			t.Fatal(err)
		}
		for n := range by { // stopped at n+1 while below the level
			before := 0.0
			if n > 0 {
				before = by[n-1]
			}
			if c[n] < 0.8 {
				sum += by[n] - before
			}
		}
	}
	first, _ := d.Of(0, reports.LearnerTrainees)
	if math.Abs(float64(first.FalsePass)-sum/36) > 1e-12 || !(first.FalsePassLower < first.FalsePass && first.FalsePass < first.FalsePassUpper) {
		t.Errorf("false pass %v (%v to %v), want %v", first.FalsePass, first.FalsePassLower, first.FalsePassUpper, sum/36)
	}
	fixed, _ := d.Of(1, reports.LearnerTrainees)
	if fixed.Policy != fmt.Sprintf("%.0f attempts", float64(first.MeanAttempts)) {
		t.Errorf("%q beside a mean of %v attempts", fixed.Policy, first.MeanAttempts)
	}
	svg, err := figure.FigureOfRules(d)
	if err != nil {
		t.Fatal(err)
	}
	for k := range d.Policies {
		if strings.Count(svg, ">"+reports.Mark(k)+"<") < 4 { // three panels and the key
			t.Errorf("letter %s is drawn %d times", reports.Mark(k), strings.Count(svg, ">"+reports.Mark(k)+"<"))
		}
	}
	var b bytes.Buffer
	if err := reports.WriteJSON(&b, d); err != nil {
		t.Fatal(err)
	}
	var doc map[string]any
	if err := json.Unmarshal(b.Bytes(), &doc); err != nil {
		t.Fatal(err)
	}
	for _, key := range []string{"standard", "rule", "definition", "rows", "operating_curves", "learners", "proficient_chance", "held_after"} {
		if _, ok := doc[key]; !ok {
			t.Errorf("no key %q", key)
		}
	}
	if doc["rule"] != "2 in a row" || len(doc["operating_curves"].([]any)) != 3*len(d.Policies) {
		t.Errorf("rule %v, %d curves", doc["rule"], len(doc["operating_curves"].([]any)))
	}
}

func TestCompareRulesRefuses(t *testing.T) {
	in, err := reports.Prepare(&datasets.Study{}, reports.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, o := range []reports.RulesOptions{
		{Horizon: 10},
		{Horizon: 10, Against: policies(t, "1 attempts", "2 attempts", "3 attempts", "4 attempts", "5 attempts", "6 attempts", "7 attempts", "8 attempts", "9 attempts", "10 attempts", "11 attempts")},
	} {
		if d, err := reports.CompareRules(context.Background(), in, o); err == nil {
			t.Errorf("%d ways were compared", len(d.Policies))
		}
	}
}
