package datasets

import (
	"fmt"

	"tyro/analysis/practice"
	"tyro/datasets/problem"
)

// checkMargin reports what is wrong with a margin, and fills its kind.
func checkMargin(m *practice.Margin, bad func(column, value, expect string, kind error)) {
	if m.Kind == "" {
		m.Kind = practice.Equivalence
	}
	if m.Kind != practice.Equivalence && m.Kind != practice.NonInferiority {
		bad("margin: kind", m.Kind, "equivalence or non-inferiority", problem.ErrUnknown)
	}
	if m.Measure == "" {
		bad("margin: measure", "", "the measure it is about, such as plateau or level", problem.ErrMissing)
	}
	if !(m.Value > 0) {
		bad("margin: value", fmt.Sprint(m.Value), "a difference above 0, or a ratio above 1", problem.ErrRange)
	}
	if m.SetOn == "" || !isDate(m.SetOn) {
		bad("margin: set_on", m.SetOn, "the day it was set, as 2026-01-12", problem.ErrMissing)
	}
}
