package page

import (
	"strings"
	"testing"
	"unicode/utf8"

	"tyro/analysis"
	"tyro/analysis/study"
	"tyro/models"
	"tyro/reports"
)

// The methods tell of a choice between curves only where there was one.
func TestMethodsOfTheCurve(t *testing.T) {
	for _, c := range []struct {
		families []models.Family
		chosen   bool
	}{{nil, true}, {family(t, "exponential"), false}} {
		s := demoStudy(t, study.Options{Families: c.families})
		r := &Report{study: s, Cohort: &reports.Cohort{Family: "exponential"}, Proficiency: &reports.Proficiency{}}
		text := strings.Join(r.methods(), " ")
		for _, words := range []string{"lowest AICc", "lowest AIC among", "chosen anew"} {
			if strings.Contains(text, words) != c.chosen {
				t.Errorf("families left to the data %v, and the methods say %q: %v\n%s", c.chosen, words, !c.chosen, text)
			}
		}
		if !c.chosen && !strings.Contains(text, "The exponential curve was fitted") {
			t.Errorf("the curve given is not named:\n%s", text)
		}
	}
}

// A sentence may begin with any letter.
func TestWarningsBeginWithAnyLetter(t *testing.T) {
	r := &Report{Check: &reports.Check{}}
	for _, text := range []string{"étoile is late", "日本 is late", "", "ünder is late"} {
		r.Missing = append(r.Missing, analysis.Warning{Code: "late", Text: text})
	}
	got := strings.Join(r.allWarnings(), "\n")
	if want := "Étoile is late.\n日本 is late.\n.\nÜnder is late."; got != want || !utf8.ValidString(got) {
		t.Errorf("%q, want %q", got, want)
	}
}
