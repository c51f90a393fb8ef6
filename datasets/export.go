package datasets

import (
	"cmp"
	"encoding/csv"
	"io"
	"math"
	"slices"

	"tyro/datasets/internal/grid"
)

// WriteLog writes a log in the canonical form: CSV with commas and decimal
// points, one row an attempt, columns trainee, arm, task, session, date (where
// any attempt has one), attempt, each measure, outcome. Rows come by trainee and task, as
// first seen, and attempt. Text cells are guarded against being run as formulas
// (GuardCell). Reading it back gives the same attempts.
func WriteLog(w io.Writer, l Log) error {
	out := csv.NewWriter(w)
	dated := l.Dated()
	head := []string{"trainee", "arm", "task", "session"}
	if dated {
		head = append(head, "date")
	}
	head = append(append(head, "attempt"), l.Measures...)
	if err := out.Write(grid.GuardAll(append(head, "outcome"))); err != nil {
		return err
	}
	for _, a := range l.canonical() {
		rec := grid.GuardAll([]string{a.Trainee, a.Arm, a.Task, a.Session})
		if dated {
			rec = append(rec, l.Date(a))
		}
		rec = append(rec, grid.FormatNumber(a.Number))
		for _, v := range l.Values(a) {
			rec = append(rec, grid.FormatNumber(v))
		}
		if err := out.Write(append(rec, a.Outcome.String())); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

// canonical lists the attempts in the order of the canonical form: trainees and tasks as
// first seen, attempts by number.
func (l Log) canonical() []Attempt {
	people, tasks := map[string]int{}, map[string]int{}
	for _, a := range l.Attempts {
		if _, seen := people[a.Trainee]; !seen {
			people[a.Trainee] = len(people)
		}
		if _, seen := tasks[a.Task]; !seen {
			tasks[a.Task] = len(tasks)
		}
	}
	out := slices.Clone(l.Attempts)
	slices.SortStableFunc(out, func(a, b Attempt) int {
		if a.Trainee != b.Trainee {
			return cmp.Compare(people[a.Trainee], people[b.Trainee])
		}
		return cmp.Or(cmp.Compare(tasks[a.Task], tasks[b.Task]), cmp.Compare(a.Number, b.Number))
	})
	return out
}

// WriteRatings writes ratings in the canonical long form: subject, rater,
// item, score, with no row for a missing rating.
func WriteRatings(w io.Writer, r Ratings) error {
	out := csv.NewWriter(w)
	if err := out.Write([]string{"subject", "rater", "item", "score"}); err != nil {
		return err
	}
	for _, it := range r.Items {
		for i, s := range it.Subjects {
			for j, k := range it.Raters {
				v := it.Scores[i][j]
				if math.IsNaN(v) {
					continue
				}
				cell := grid.FormatNumber(v)
				if it.Categories != nil {
					cell = grid.Guard(it.Categories[int(v)])
				}
				if err := out.Write(append(grid.GuardAll([]string{s, k, it.Name}), cell)); err != nil {
					return err
				}
			}
		}
	}
	out.Flush()
	return out.Error()
}

// GuardCell makes a text cell of a CSV file safe to open in a spreadsheet program: one
// that would be run as a formula gets an apostrophe before it, which reading the file takes
// away again. Plain numbers stay as they are.
func GuardCell(s string) string { return grid.Guard(s) }
