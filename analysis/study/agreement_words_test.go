package study_test

import (
	"context"
	"math"
	"testing"

	"tyro/analysis/practice"
	"tyro/analysis/study"
)

// Of two words that say nothing of good and bad, which one passes is said to be a guess; a word that means
// fail, or pass, tells. Scores of 0 and 1 alone are spoken of where they are read as measurements.
func TestWhichOfTwoWordsPasses(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct {
		scale      string
		words      []string
		pass, code string
	}{
		{"nominal", []string{"ok", "bad"}, "bad", "pass-word-unknown"},
		{"nominal", []string{"ok", "fail"}, "ok", ""},
		{"nominal", []string{"fail", "ok"}, "ok", ""},
		{"nominal", []string{"pass", "bad"}, "pass", ""},
		{"nominal", []string{"no", "yes"}, "yes", ""},
		{"nominal", nil, "1", ""},
		{"interval", nil, "", "pass-fail-as-numbers"},
	} {
		p := practice.Practice{Task: seconds(), Items: []practice.RatedItem{{
			Name: "item", Scale: c.scale, Categories: c.words, Raters: []string{"R1", "R2"}, Subjects: []string{"a", "b", "c", "d", "e"},
			Scores: [][]float64{{0, 0}, {0, 1}, {1, 1}, {0, 0}, {1, nan}},
		}}}
		a, err := newStudy(t, p).Agreement(context.Background(), study.AgreementQuestion{})
		if err != nil {
			t.Fatal(err)
		}
		pass, code := "", ""
		if d := a.Items[0].Decisions; d != nil {
			pass = d.Pass
		}
		for _, w := range a.Warnings {
			if w.Code == "pass-word-unknown" || w.Code == "pass-fail-as-numbers" {
				code = w.Code
			}
		}
		if pass != c.pass || code != c.code {
			t.Errorf("%s %v: %q passes, want %q; %q is said, want %q", c.scale, c.words, pass, c.pass, code, c.code)
		}
	}
}
