package reports

import (
	"fmt"
	"slices"
	"strings"

	"tyro/analysis/cohort"
	"tyro/analysis/practice"
	"tyro/datasets"
)

// A CohortCovariate says how an attribute of trainees entered the fit: a number,
// centred, or levels, each against the first.
type CohortCovariate struct {
	Name      string   `json:"name"`
	Kind      string   `json:"kind"` // number or levels
	On        []string `json:"on"`
	Centre    Number   `json:"centre,omitempty"` // mean over trainees, for a number
	Reference string   `json:"reference,omitempty"`
	Levels    []string `json:"levels,omitempty"`
}

// A covariateColumn is one column of the design: a centred number, or whether the
// trainee has a level.
type covariateColumn struct {
	name  string // its own, in the analysis
	of    string // the covariate
	level string
	on    []string
	value map[string]float64 // by trainee
}

// covariates reads the covariates asked for, or else the study's own, and makes
// their columns. Every problem of all of them is reported.
func (in *Input) covariates(choices []datasets.CovariateChoice) ([]covariateColumn, []CohortCovariate, error) {
	if choices == nil {
		choices = in.File.Covariates
	}
	var trainees []string
	for _, t := range in.Trainees {
		if len(t.Series.Attempt) > 0 {
			trainees = append(trainees, t.ID)
		}
	}
	var columns []covariateColumn
	var told []CohortCovariate
	var problems datasets.Problems
	for _, choice := range choices {
		c, err := in.File.Covariate(choice, trainees)
		if err != nil {
			problems = problems.With(err)
			continue
		}
		cols, tell := columnsOf(c, choice.On, trainees)
		columns, told = append(columns, cols...), append(told, tell)
	}
	if len(problems) > 0 {
		return nil, nil, problems
	}
	return columns, told, nil
}

// columnsOf centres a number, and makes a column of every level but the first.
func columnsOf(c practice.Covariate, on, trainees []string) ([]covariateColumn, CohortCovariate) {
	if c.Levels == nil {
		mean := 0.0
		for _, id := range trainees {
			mean += c.Number[id]
		}
		mean /= float64(len(trainees))
		col := covariateColumn{name: c.Name, of: c.Name, on: on, value: map[string]float64{}}
		for _, id := range trainees {
			col.value[id] = c.Number[id] - mean
		}
		return []covariateColumn{col}, CohortCovariate{Name: c.Name, Kind: "number", On: on, Centre: Number(mean)}
	}
	var cols []covariateColumn
	for _, level := range c.Levels[1:] {
		col := covariateColumn{name: c.Name + " " + level, of: c.Name, level: level, on: on, value: map[string]float64{}}
		for _, id := range trainees {
			if c.Level[id] == level {
				col.value[id] = 1
			}
		}
		cols = append(cols, col)
	}
	return cols, CohortCovariate{Name: c.Name, Kind: "levels", On: on, Reference: c.Levels[0], Levels: c.Levels}
}

// withCovariates gives every trainee of the analysis its row.
func withCovariates(ts []cohort.Trainee, columns []covariateColumn) {
	for i := range ts {
		for _, c := range columns {
			ts[i].Covariates = append(ts[i].Covariates, c.value[ts[i].ID])
		}
	}
}

// covariateOf finds the column that an effect belongs to: its covariate and
// level, both blank for none.
func (d *Cohort) covariateOf(effect string) (name, level string) {
	i := slices.IndexFunc(d.columns, func(c covariateColumn) bool { return c.name == effect })
	if i < 0 {
		return "", ""
	}
	return d.columns[i].of, d.columns[i].level
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
