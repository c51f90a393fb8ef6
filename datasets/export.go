package datasets

import (
	"encoding/csv"
	"io"
	"math"
	"strconv"
)

// WriteLog writes a log in the canonical form: CSV with commas and decimal
// points, one row an attempt, columns trainee, arm, task, session, date (where
// any attempt has one), attempt, each measure, outcome. Text cells are guarded against
// being run as formulas (GuardCell). Reading it back gives the same attempts.
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
	for _, a := range l.Attempts {
		rec := guardCells([]string{a.Trainee, a.Arm, a.Task, a.Session})
		if dated {
			rec = append(rec, a.Date)
		}
		rec = append(rec, formatNumber(a.Number))
		for _, v := range a.Values {
			rec = append(rec, formatNumber(v))
		}
		if err := out.Write(append(rec, a.Outcome.String())); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
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

// formatNumber writes the shortest text that reads back as the same number;
// blank for an unknown one.
func formatNumber(v float64) string {
	if math.IsNaN(v) {
		return ""
	}
	return strconv.FormatFloat(v, 'g', -1, 64)
}
