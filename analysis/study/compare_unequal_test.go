package study

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"tyro/analysis"
	"tyro/analysis/practice"
	"tyro/analysis/resample"
)

// stoppingAt is threeArms of which the second stopped at an attempt.
func stoppingAt(last float64) practice.Practice {
	return threeArms(1, func(arm, _ int) float64 {
		if arm == 1 {
			return last
		}
		return 16
	})
}

// Arms of 16, 12 and 16 attempts differ by a quarter of 16, those of 16, 13 and 16 by less.
func TestUnequalAttemptsHaveNoOneTest(t *testing.T) {
	c := comparison(t, stoppingAt(12), CompareOptions{})
	k := slices.IndexFunc(c.Warnings, func(w analysis.Warning) bool { return w.Code == "overall-unequal-attempts" })
	if c.Overall != nil || k < 0 {
		t.Fatalf("test %+v, warnings %v", c.Overall, c.Warnings)
	}
	for _, words := range []string{"arm usual made 16 attempts and that of arm quick 12", "compare the level at attempt 12"} {
		if !strings.Contains(c.Warnings[k].Text, words) {
			t.Errorf("%q does not say %q", c.Warnings[k].Text, words)
		}
	}
	c = comparison(t, stoppingAt(13), CompareOptions{})
	if c.Overall == nil || math.IsNaN(c.Overall.P) {
		t.Errorf("16 and 13 attempts: %+v", c.Overall)
	}
}

// straightArm has a second arm whose attempts fall by a tenth each time, towards nothing.
func straightArm() practice.Practice {
	p := threeArms(1, nil)
	p.Arms = p.Arms[:2]
	p.Trainees = p.Trainees[:20]
	r := resample.Stream(31, "straight arm", 0)
	for i := range p.Trainees {
		t := &p.Trainees[i]
		if t.Arm != "quick" {
			continue
		}
		start := 130 * math.Exp(0.1*r.NormFloat64())
		for k := range t.Attempts {
			t.Attempts[k].Response = start * math.Exp(-0.1*float64(k)+0.05*r.NormFloat64())
		}
	}
	return p
}

// A plateau that the fit cannot tell from nothing is named beside plateau and rate, and no
// other row; one that is seen is not.
func TestPlateauAtItsBound(t *testing.T) {
	doubted := func(c *Comparison) (measures []string) {
		for _, x := range c.Contrasts {
			if slices.ContainsFunc(x.Warnings, func(w analysis.Warning) bool { return w.Code == "plateau-at-bound" }) {
				if measures = append(measures, x.Measure); !strings.Contains(x.Caution, "the plateau of arm quick") || strings.Contains(x.Caution, "usual") {
					t.Errorf("%s: %s", x.Measure, x.Caution)
				}
			}
		}
		return measures
	}
	c := comparison(t, straightArm(), CompareOptions{})
	if got := doubted(c); fmt.Sprint(got) != "[plateau rate]" {
		for _, x := range c.Contrasts {
			t.Logf("%s %v %v se %v", x.Measure, x.ArmValue, x.RefValue, x.SE)
		}
		t.Errorf("rows with a caution: %v, warnings %v", got, c.Warnings)
	}
	if !slices.ContainsFunc(c.Warnings, func(w analysis.Warning) bool {
		return w.Code == "plateau-at-bound" && strings.Contains(w.Text, "plateau, rate")
	}) {
		t.Errorf("warnings %v", c.Warnings)
	}
	if got := doubted(comparison(t, threeArms(0.8, nil), CompareOptions{})); got != nil {
		t.Errorf("plateaus that are seen: %v", got)
	}
}

// Of arms of 16 and 12 attempts the own curves' plateau, rate and crossing keep their estimate
// alone and the cohort's are cautioned; their other rows, and arms of 16 and 13, keep all.
func TestUnequalAttemptsLeaveEstimates(t *testing.T) {
	uncertain := []string{"plateau", "rate", "mean-crossing"}
	for _, last := range []float64{12, 13} {
		c := comparison(t, stoppingAt(last), CompareOptions{})
		seen := 0
		for _, x := range append(slices.Clone(c.Contrasts), c.Sensitivity...) {
			if x.Basis != BasisOwn && x.Basis != BasisCohort {
				continue
			}
			unequal := last == 12 && (x.Arm == "quick" || x.Reference == "quick") && slices.Contains(uncertain, x.Measure)
			if told := strings.Contains(x.Caution, "curves of few attempts bend otherwise"); told != unequal {
				t.Errorf("%g attempts, %s, %s, %s against %s: caution %q", last, x.Basis, x.Measure, x.Arm, x.Reference, x.Caution)
			}
			if unequal {
				seen++
			}
			if x.Basis == BasisOwn && x.Withheld != unequal {
				t.Errorf("%g attempts, own %s, %s against %s: withheld %v", last, x.Measure, x.Arm, x.Reference, x.Withheld)
			}
		}
		if (seen >= 10) != (last == 12) {
			t.Errorf("%g attempts: %d rows are cautioned", last, seen)
		}
	}
}
