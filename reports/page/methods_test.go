package page

import "testing"

import (
	"strings"
	"unicode/utf8"

	"tyro/analysis"
	"tyro/reports"
)

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
