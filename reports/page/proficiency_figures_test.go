package page

import (
	"bytes"
	"context"
	"maps"
	"slices"
	"strings"
	"testing"

	"tyro/analysis/study"
	"tyro/reports"
	"tyro/reports/figure"
)

// The demo leaves one figure a definition and the step curves with the numbers
// still followed: 36 trainees, 18 an arm, all of them at the start.
func TestProficiencyFigures(t *testing.T) {
	s := demoStudy(t, study.Options{Replicates: 20})
	a, err := s.Proficiency(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	d := reports.NewProficiency(s, a)
	files, err := figure.Files(d)
	if err != nil {
		t.Fatal(err)
	}
	if got := slices.Sorted(maps.Keys(files)); !slices.Equal(got, []string{"proficiency-mean-crossing.svg", "proficiency-pass-chance.svg", "proficiency-rule-met-by-arm.svg", "proficiency-rule-met.svg"}) {
		t.Errorf("files %v", got)
	}
	if n := bytes.Count(files["proficiency-rule-met-by-arm.svg"], []byte(">18</text>")); n < len(d.Survival) {
		t.Errorf("the number 18 stands %d times under the curves of %d arms", n, len(d.Survival))
	}
	for name, svg := range files {
		if !strings.HasPrefix(string(svg), "<svg ") || strings.Contains(string(svg), "NaN") {
			t.Errorf("%s is no figure", name)
		}
	}
	if a := a.Survival[0]; a.AtRisk(0) != d.Survival[0].N || a.AtRisk(1e9) != 0 {
		t.Errorf("%d at risk at first, %d at last; want %d and 0", a.AtRisk(0), a.AtRisk(1e9), d.Survival[0].N)
	}
}
