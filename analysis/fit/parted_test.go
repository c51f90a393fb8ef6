package fit

import (
	"slices"
	"strings"
	"testing"

	"tyro/analysis"
	"tyro/models"
)

// Passes and fails that do not mix give a flat curve, and are told; where they mix, or only a
// flat curve was asked for, nothing is said.
func TestPartedPassesAreTold(t *testing.T) {
	common := Spec{Noise: models.Bernoulli{}}
	all := Candidates(common, models.Families(1))
	flat := Candidates(common, []models.Family{models.Constant()})
	for name, c := range map[string]struct {
		passes []float64
		specs  []Spec
		want   string
	}{
		"learned":   {[]float64{0, 0, 0, 0, 1, 1, 1, 1, 1, 1}, all, "every fail came before every pass, which began with attempt 5"},
		"forgotten": {[]float64{1, 1, 1, 0, 0, 0, 0, 0, 0, 0}, all, "every pass came before every fail, which began with attempt 4"},
		"mixed":     {[]float64{0, 0, 1, 0, 1, 0, 1, 1, 1, 1}, all, ""},
		"flat":      {[]float64{0, 0, 0, 0, 1, 1, 1, 1, 1, 1}, flat, ""},
	} {
		s := Series{Response: c.passes}
		for i := range c.passes {
			s.Attempt = append(s.Attempt, float64(i+1))
		}
		choice, err := Choose(s, c.specs)
		if err != nil {
			t.Fatal(name, err)
		}
		at := slices.IndexFunc(choice.Fit.Warnings, func(w analysis.Warning) bool { return w.Code == CodeParted })
		if (at >= 0) != (c.want != "") || at >= 0 && !strings.Contains(choice.Fit.Warnings[at].Text, c.want) {
			t.Errorf("%s: %s curve, warnings %v", name, choice.Fit.Curve.Family.Name(), choice.Fit.Warnings)
		}
	}
}
