package datasets

import (
	"strings"

	"tyro/datasets/problem"
)

// settle lists what is wrong with how a log is said to be written.
func (lf LogFile) settle(where string) Problems {
	ps := lf.Layout.settle(where)
	word := func(key, value string, known ...string) {
		for _, k := range known {
			if value == k {
				return
			}
		}
		if value != "" {
			ps = append(ps, Problem{File: StudyFile, Column: where + ": " + key, Value: value, Err: problem.ErrUnknown, Expect: "one of " + strings.Join(known, ", ")})
		}
	}
	word("files_are", lf.FilesAre, SheetRoles()...)
	word("columns_are", lf.ColumnsAre, "trainee")
	word("times", lf.Times, TimeForms()...)
	word("dates", lf.Dates, DateOrders()...)
	word("over_limit", lf.OverLimit, Timeout.String())
	ps = append(ps, lf.settlePerFile(where)...)
	if lf.File == "" && len(lf.Files) == 0 {
		ps = append(ps, Problem{File: StudyFile, Column: where + ": file", Err: problem.ErrMissing, Expect: "the name of a file"})
	}
	return ps
}

// joinFiles puts the tables of several files one below the other, named as the study file
// names them.
func joinFiles(all []*table, names []string, tell bool) (*table, error) {
	if len(all) == 1 && !tell {
		return all[0], nil
	}
	return stack(strings.Join(names, " and "), all, names, tell, true)
}

// CheckCode reports whether a code may mean what is said.
func CheckCode(word, means string) error {
	if _, ok := outcomeByName(means); ok || means == asValue || means == asBlank {
		return nil
	}
	return Problem{File: StudyFile, Column: "codes: " + word, Value: means, Err: problem.ErrUnknown, Expect: "done, timeout, failed or void, or value for a number like others, or blank"}
}
