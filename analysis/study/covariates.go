package study

import "tyro/analysis/practice"

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
	Name   string
	On     []string
	Levels []string // nil for a number; the first is the reference
	Centre float64  // mean over trainees, for a number
}

// columnsOf centres a number, and makes a column of every level but the first.
func columnsOf(c practice.Covariate, trainees []string) ([]Column, CovariateUse) {
	if c.Levels == nil {
		mean := 0.0
		for _, id := range trainees {
			mean += c.Number[id]
		}
		mean /= float64(len(trainees))
		col := Column{Name: c.Name, Covariate: c.Name, On: c.On, Value: map[string]float64{}}
		for _, id := range trainees {
			col.Value[id] = c.Number[id] - mean
		}
		return []Column{col}, CovariateUse{Name: c.Name, On: c.On, Centre: mean}
	}
	var cols []Column
	for _, level := range c.Levels[1:] {
		col := Column{Name: c.Name + " " + level, Covariate: c.Name, Level: level, On: c.On, Value: map[string]float64{}}
		for _, id := range trainees {
			if c.Level[id] == level {
				col.Value[id] = 1
			}
		}
		cols = append(cols, col)
	}
	return cols, CovariateUse{Name: c.Name, On: c.On, Levels: c.Levels}
}
