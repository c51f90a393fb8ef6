package study_test

import (
	"context"
	"math"
	"slices"
	"strings"
	"testing"

	"tyro/analysis"
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

// On a scale from 1 to 4 of which nobody gave 3, half of the pairs agree: Brennan and Prediger's coefficient
// is (0.5 - 1/3)/(2/3) = 0.25 with the three categories that were given, and would be (0.5 - 1/4)/(3/4) = 1/3
// with four, so the number is spoken of.
func TestCategoryThatNobodyGave(t *testing.T) {
	for _, c := range []struct {
		scale string
		four  float64
		said  bool
	}{{"ordinal", 4, true}, {"ordinal", 3, false}, {"nominal", 4, false}} {
		p := practice.Practice{Task: seconds(), Items: []practice.RatedItem{{
			Name: "item", Scale: c.scale, Raters: []string{"R1", "R2"}, Subjects: []string{"a", "b", "c", "d", "e", "f"},
			Scores: [][]float64{{1, 1}, {1, 2}, {2, c.four}, {c.four, c.four}, {2, 2}, {c.four, 2}},
		}}}
		a, err := newStudy(t, p).Agreement(context.Background(), study.AgreementQuestion{})
		if err != nil {
			t.Fatal(err)
		}
		said := slices.ContainsFunc(a.Warnings, func(w analysis.Warning) bool {
			return w.Code == "category-unused" && strings.Contains(w.Text, "no score is 3")
		})
		if said != c.said {
			t.Errorf("%s with %g: said %v, want %v: %v", c.scale, c.four, said, c.said, a.Warnings)
		}
		for _, x := range a.Items[0].Coefficients {
			if x.Name == "brennan-prediger" && math.Abs(x.Estimate-0.25) > 1e-12 {
				t.Errorf("%s with %g: %v", c.scale, c.four, x.Estimate)
			}
		}
	}
}
