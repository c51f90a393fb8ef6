package datasets

import (
	"fmt"

	"tyro/analysis/practice"
	"tyro/analysis/practice/ranges"
	"tyro/datasets/problem"
)

// CheckCosts lists everything wrong with costs, under the names of the study file.
func CheckCosts(c practice.Costs) error { return costProblems(c, "costs").OrNil() }

func costProblems(c practice.Costs, prefix string) Problems {
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
		if ranges.Amount.Check(f.value) != nil {
			bad(f.name, f.value, ranges.Amount.String(), problem.ErrRange)
		}
		stated = stated || f.value != 0
	}
	if c.LabHourPrice > 0 && c.LabMinutes == 0 {
		bad("lab_minutes", 0, "the minutes of lab time an attempt takes, since an hour has a price", problem.ErrMissing)
	}
	if c.ExaminerHourPrice > 0 && c.ExaminerMinutes == 0 {
		bad("examiner_minutes", 0, "the minutes of an examiner's time an attempt takes, since an hour has a price", problem.ErrMissing)
	}
	if !stated {
		ps = append(ps, Problem{File: StudyFile, Column: prefix, Expect: "at least one of lab_minutes, examiner_minutes, consumables, per_trainee above 0", Err: problem.ErrMissing})
	}
	return ps
}
