package reports

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"

	"tyro/analysis/practice"
	"tyro/analysis/stopping"
	"tyro/analysis/study"
)

// The study's trainees: means over them, inside their limits; the fixed number of
// attempts costs what the study's rule does.
func TestWaysToStopOfStudy(t *testing.T) {
	s, _ := quotaDemo(t, study.Options{Replicates: 100})
	a, err := s.WaysToStop(t.Context(), study.WaysOptions{Usual: true})
	if err != nil {
		t.Fatal(err)
	}
	chances, err := s.PassChances(t.Context(), a.Horizon)
	if err != nil {
		t.Fatal(err)
	}
	sum := 0.0
	for _, c := range chances {
		by, err := stopping.Rule{Rule: s.Question.Rule}.MetBy(c)
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
	first := a.Stops[0][a.Judge()]
	if f := first.FalsePass; math.Abs(f.Value-sum/36) > 1e-12 || !(f.Lower < f.Value && f.Value < f.Upper) {
		t.Errorf("false pass %+v, want %v", f, sum/36)
	}
	if text := a.Ways[1].String(); text != fmt.Sprintf("%.0f attempts", first.Attempts.Value) {
		t.Errorf("%q beside a mean of %v attempts", text, first.Attempts.Value)
	}
	var b bytes.Buffer
	d := NewWaysToStop(s, a, "")
	if err := WriteJSON(&b, d); err != nil {
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
	if doc["rule"] != "2 in a row" || len(doc["operating_curves"].([]any)) != 3*len(a.Ways) {
		t.Errorf("rule %v, %d curves", doc["rule"], len(doc["operating_curves"].([]any)))
	}
	wantSentences(t, d, s.Question.Rule, chances)
}

// wantSentences works out again, from the trainees' chances, the shares and counts that
// are put into words.
func wantSentences(t *testing.T, d *WaysToStop, rule practice.Rule, chances [][]float64) {
	t.Helper()
	text := strings.Join(append(d.Sentences(), d.notes()...), " ")
	reach, let, used := 0, 0.0, 0.0
	for _, c := range chances {
		able := false
		for _, p := range c {
			able = able || p >= 0.8
		}
		if able {
			reach++
		}
		s, err := stopping.Stop(stopping.Rule{Rule: rule}, c, stopping.Bar{})
		if err != nil {
			t.Fatal(err)
		}
		let, used = let+s.FalsePass/float64(len(chances)), used+s.Mean/float64(len(chances))
	}
	for _, want := range []string{
		fmt.Sprintf("lets %.0f %% of trainees like these through", 100*let),
		fmt.Sprintf("practice lasts %.1f attempts on average", used),
		fmt.Sprintf("mean over %d trainees", len(chances)),
		fmt.Sprintf("%d of them reach 80 %% within the horizon", reach),
	} {
		if !strings.Contains(text, want) {
			t.Errorf("the sentences lack %q: %s", want, text)
		}
	}
}

// Two in a row at 1/2 by attempt 10: 1 − 144/1024, see the tests of the recursion. A rule
// that is not the study's own is not called so.
func TestWaysToStopWords(t *testing.T) {
	s, err := study.New(practice.Practice{}, study.Options{})
	if err != nil {
		t.Fatal(err)
	}
	rule, err := practice.ParseRule("2 in a row")
	if err != nil {
		t.Fatal(err)
	}
	a, err := s.WaysToStop(t.Context(), study.WaysOptions{First: stopping.Rule{Rule: rule}, Against: []stopping.Policy{stopping.FixedQuota(6)}, Horizon: 10})
	if err != nil {
		t.Fatal(err)
	}
	d := NewWaysToStop(s, a, "")
	if text := strings.Join(d.Sentences(), " "); !strings.Contains(text, "by attempt 10 with a chance of 86 %") {
		t.Errorf("sentences: %s", text)
	}
	want := []quotaRow{{Share: 0.5, Attempts: 4, Status: Estimated}, {Share: 0.8, Attempts: 9, Status: Estimated}, {Share: 0.9, Status: CannotBeEstimated}}
	for i, r := range d.Rows {
		if r.Share != want[i].Share || r.Status != want[i].Status || r.Status == Estimated && r.Attempts != want[i].Attempts {
			t.Errorf("row %+v, want %+v", r, want[i])
		}
	}
	for own, want := range map[bool]string{false: "2 in a row", true: "2 in a row (the study's)"} {
		a.OwnRule = own
		if got := d.WayText(0); got != want {
			t.Errorf("the study's own rule: %v, and it is called %q", own, got)
		}
	}
}
