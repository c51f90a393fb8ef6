package datasets

import (
	"cmp"
	"encoding/csv"
	"io"
	"math"
	"slices"
	"strconv"
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
	if err := out.Write(guardCells(append(head, "outcome"))); err != nil {
		return err
	}
	for _, a := range l.canonical() {
		rec := guardCells([]string{a.Trainee, a.Arm, a.Task, a.Session})
		if dated {
			rec = append(rec, l.Date(a))
		}
		rec = append(rec, formatNumber(a.Number))
		for _, v := range l.Values(a) {
			rec = append(rec, formatNumber(v))
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
				cell := formatNumber(v)
				if it.Categories != nil {
					cell = GuardCell(it.Categories[int(v)])
				}
				if err := out.Write(append(guardCells([]string{s, k, it.Name}), cell)); err != nil {
					return err
				}
			}
		}
	}
	out.Flush()
	return out.Error()
}

// noiseFrom is how long a number's text is where its last digits may be noise.
const noiseFrom = 12

// withoutNoise is a number without what sums leave in its last digits: 1.36 for
// 1.35999999999999, as a spreadsheet shows it.
func withoutNoise(v float64) float64 {
	if short, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', noiseFrom, 64), 64); err == nil && math.Abs(short-v) <= 1e-13*math.Abs(v) {
		return short
	}
	return v
}

// formatNumber writes the shortest text that reads back as the same number;
// blank for an unknown one.
func formatNumber(v float64) string {
	if math.IsNaN(v) {
		return ""
	}
	return strconv.FormatFloat(v, 'g', -1, 64)
}
