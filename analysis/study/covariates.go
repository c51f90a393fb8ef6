package study

import (
	"fmt"
	"slices"
	"strings"

	"tyro/analysis/practice"
)

// A Column is one column of a cohort's design: a centred number, or whether the
// trainee has a level.
type Column struct {
	Name      string // its own, in the analysis
	Covariate string
	Level     string // blank for a number
	On        []string
	Value     map[string]float64 // by trainee
}

// A CovariateUse says how an attribute of trainees entered the fit.
type CovariateUse struct {
	Name   string   `json:"name"`
	On     []string `json:"on"`
	Levels []string `json:"levels,omitempty"` // nil for a number; the first is the reference
	Centre float64  `json:"centre"`           // mean over trainees, for a number
}

// useOf centres a number at its mean over the trainees.
func useOf(c practice.Covariate, trainees []string) CovariateUse {
	if c.Levels != nil {
		return CovariateUse{Name: c.Name, On: c.On, Levels: c.Levels}
	}
	mean := 0.0
	for _, id := range trainees {
		mean += c.Number[id]
	}
	return CovariateUse{Name: c.Name, On: c.On, Centre: mean / float64(len(trainees))}
}

// columns are those of a covariate that is used so: a number about its centre, or one for
// every level but the first. A trainee of another level is an error.
func (u CovariateUse) columns(c practice.Covariate, trainees []string) ([]Column, error) {
	if u.Levels == nil {
		if c.Levels != nil {
			return nil, fmt.Errorf("the covariate %s is a number in the fit, and words here", u.Name)
		}
		col := Column{Name: u.Name, Covariate: u.Name, On: u.On, Value: map[string]float64{}}
		for _, id := range trainees {
			col.Value[id] = c.Number[id] - u.Centre
		}
		return []Column{col}, nil
	}
	for _, id := range trainees {
		if !slices.Contains(u.Levels, c.Level[id]) {
			return nil, fmt.Errorf("trainee %s has %s %q, and the fit knows %s", id, u.Name, c.Level[id], strings.Join(u.Levels, ", "))
		}
	}
	var cols []Column
	for _, level := range u.Levels[1:] {
		col := Column{Name: u.Name + " " + level, Covariate: u.Name, Level: level, On: u.On, Value: map[string]float64{}}
		for _, id := range trainees {
			if c.Level[id] == level {
				col.Value[id] = 1
			}
		}
		cols = append(cols, col)
	}
	return cols, nil
}
