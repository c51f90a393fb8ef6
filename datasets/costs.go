package datasets

import (
	"fmt"

	"tyro/analysis/practice"
)

// Costs is what practice of a task costs, in any unit: an attempt's minutes of lab
// time and of an examiner's time, its consumables, the price of an hour of either,
// and what a trainee costs whatever the attempts. A price of 0 is not stated.
type Costs struct {
	Unit              string  `yaml:"unit"` // a currency, or another word
	LabMinutes        float64 `yaml:"lab_minutes"`
	ExaminerMinutes   float64 `yaml:"examiner_minutes"`
	Consumables       float64 `yaml:"consumables"`
	LabHourPrice      float64 `yaml:"lab_hour_price"`
	ExaminerHourPrice float64 `yaml:"examiner_hour_price"`
	PerTrainee        float64 `yaml:"per_trainee"`
}

// Check lists everything wrong with the costs, under the names of the study file.
func (c Costs) Check() error { return c.problems("costs").orNil() }

func (c Costs) problems(prefix string) Problems {
	var ps Problems
	bad := func(name string, value float64, expect string, kind error) {
		ps = append(ps, Problem{File: StudyFile, Column: prefix + ": " + name, Value: fmt.Sprint(value), Expect: expect, Err: kind})
	}
	stated := false
	for _, f := range []struct {
		name  string
		value float64
	}{
		{"lab_minutes", c.LabMinutes}, {"examiner_minutes", c.ExaminerMinutes}, {"consumables", c.Consumables},
		{"lab_hour_price", c.LabHourPrice}, {"examiner_hour_price", c.ExaminerHourPrice}, {"per_trainee", c.PerTrainee},
	} {
		if practice.Amount.Check(f.value) != nil {
			bad(f.name, f.value, practice.Amount.String(), ErrRange)
		}
		stated = stated || f.value != 0
	}
	if c.LabHourPrice > 0 && c.LabMinutes == 0 {
		bad("lab_minutes", 0, "the minutes of lab time an attempt takes, since an hour has a price", ErrMissing)
	}
	if c.ExaminerHourPrice > 0 && c.ExaminerMinutes == 0 {
		bad("examiner_minutes", 0, "the minutes of an examiner's time an attempt takes, since an hour has a price", ErrMissing)
	}
	if !stated {
		ps = append(ps, Problem{File: StudyFile, Column: prefix, Expect: "at least one of lab_minutes, examiner_minutes, consumables, per_trainee above 0", Err: ErrMissing})
	}
	return ps
}
