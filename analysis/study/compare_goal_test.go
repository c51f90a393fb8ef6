package study

import (
	"slices"
	"testing"

	"tyro/analysis"
)

// A rule is of no use without a standard, nor a standard without a rule: that is told.
func TestCompareTellsHalfAGoal(t *testing.T) {
	for _, c := range []struct {
		standard, rule bool
		want           string
	}{{true, true, ""}, {false, true, "rule-without-standard"}, {true, false, "standard-without-rule"}, {false, false, ""}} {
		p := threeArms(0.7, nil)
		if !c.standard {
			p.Task.Standard = nil
		}
		if !c.rule {
			p.Task.Rule = nil
		}
		answer := comparison(t, p, CompareOptions{})
		for _, code := range []string{"rule-without-standard", "standard-without-rule"} {
			told := slices.ContainsFunc(answer.Warnings, func(w analysis.Warning) bool { return w.Code == code })
			if told != (code == c.want) {
				t.Errorf("standard %v, rule %v: warning %s is %v", c.standard, c.rule, code, told)
			}
		}
	}
}
