package reports

import (
	"fmt"
	"slices"
	"strings"

	"tyro/analysis/study"
)

// covariatesOf says how attributes of trainees entered a fit.
func covariatesOf(c *study.CohortFit) []CohortCovariate {
	out := []CohortCovariate{}
	for _, v := range c.Covariates {
		one := CohortCovariate{Name: v.Name, Kind: "number", On: v.On, Centre: Number(v.Centre)}
		if v.Levels != nil {
			one = CohortCovariate{Name: v.Name, Kind: "levels", On: v.On, Reference: v.Levels[0], Levels: v.Levels}
		}
		out = append(out, one)
	}
	return out
}

// covariateOf finds the column that an effect belongs to: its covariate and
// level, both blank for none.
func (d *Cohort) covariateOf(effect string) (name, level string) {
	columns := d.Answer.Fit.Columns
	i := slices.IndexFunc(columns, func(c study.Column) bool { return c.Name == effect })
	if i < 0 {
		return "", ""
	}
	return columns[i].Covariate, columns[i].Level
}

// covariateNotes say how covariates were read.
func (d *Cohort) covariateNotes() []string {
	var out []string
	for _, c := range d.Covariates {
		if c.Kind == "number" {
			out = append(out, fmt.Sprintf("%s is a number, centred at its mean over trainees, %s: its rows are per unit.", c.Name, Significant(float64(c.Centre), 4)))
		} else {
			out = append(out, fmt.Sprintf("%s has the levels %s: its rows are differences from %s.", c.Name, strings.Join(c.Levels, ", "), c.Reference))
		}
	}
	if len(out) > 0 {
		out = append(out, "All other rows, curves of middle and new trainees and shares are for a trainee at these means and first levels.")
	}
	return out
}

// heading is a column's head where there is something in it, and hides it
// otherwise.
func heading(head string, shown bool) string {
	if shown {
		return head
	}
	return ""
}
