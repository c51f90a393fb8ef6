package datasets

import (
	"cmp"
	"encoding/csv"
	"io"
	"math"
	"slices"
	"time"

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

// WriteTrainees writes the covariates of the trainees who have them in the canonical form: one row
// a trainee, in the order of the log, and one column a covariate.
func (s *Study) WriteTrainees(w io.Writer) error {
	value := map[[2]string]string{} // of a trainee and a covariate
	known := map[string]bool{}
	for _, t := range s.Tasks {
		of, err := s.covariatesOf(s.Attempts.trainees(t))
		if err != nil {
			return err
		}
		for _, c := range of {
			for id, level := range c.Level {
				value[[2]string{id, c.Name}], known[id] = grid.Guard(level), true
			}
			for id, number := range c.Number {
				value[[2]string{id, c.Name}], known[id] = grid.FormatNumber(number), true
			}
		}
	}
	out := csv.NewWriter(w)
	head := []string{"trainee"}
	for _, c := range s.Covariates {
		head = append(head, c.Name)
	}
	if err := out.Write(grid.GuardAll(head)); err != nil {
		return err
	}
	for _, a := range s.Attempts.canonical() {
		if !known[a.Trainee] {
			continue
		}
		known[a.Trainee] = false
		row := []string{grid.Guard(a.Trainee)}
		for _, c := range s.Covariates {
			row = append(row, value[[2]string{a.Trainee, c.Name}])
		}
		if err := out.Write(row); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

// WriteRatings writes ratings in the canonical long form: subject, trainee (where known), rater,
// item, occasion and when (where ratings have them), score, with no row for a missing rating.
func WriteRatings(w io.Writer, r Ratings) error {
	has := func(what func(it RatedItem) bool) bool { return slices.ContainsFunc(r.Items, what) }
	trainees := has(func(it RatedItem) bool { return it.Trainees != nil })
	occasions := has(func(it RatedItem) bool { return it.Occasions != nil })
	when := has(func(it RatedItem) bool { return it.When != nil })
	row := func(subject, trainee, rater, item, occasion, at, score string) []string {
		rec := []string{subject}
		if trainees {
			rec = append(rec, trainee)
		}
		rec = append(rec, rater, item)
		if occasions {
			rec = append(rec, occasion)
		}
		if when {
			rec = append(rec, at)
		}
		return append(rec, score)
	}
	out := csv.NewWriter(w)
	if err := out.Write(row("subject", "trainee", "rater", "item", "occasion", "when", "score")); err != nil {
		return err
	}
	for _, it := range r.Items {
		for i, s := range it.Subjects {
			trainee := ""
			if it.Trainees != nil {
				trainee = it.Trainees[i]
			}
			for j, k := range it.Raters {
				for n, x := range ratingsBy(it, i, j) {
					cell := grid.FormatNumber(x.score)
					if it.Categories != nil {
						cell = grid.Guard(it.Categories[int(x.score)])
					}
					at := ""
					if n == 0 && it.When != nil {
						at = whenOf(it, i, j)
					}
					if err := out.Write(row(grid.Guard(s), grid.Guard(trainee), grid.Guard(k), grid.Guard(it.Name), grid.Guard(x.occasion), at, cell)); err != nil {
						return err
					}
				}
			}
		}
	}
	out.Flush()
	return out.Error()
}

// An occasionScore is a score of one round.
type occasionScore struct {
	occasion string
	score    float64
}

// ratingsBy are a rater's ratings of a subject, the one that counts as the first before others.
func ratingsBy(it RatedItem, subject, rater int) []occasionScore {
	first := it.Scores[subject][rater]
	if it.Occasions == nil {
		if math.IsNaN(first) {
			return nil
		}
		return []occasionScore{{"", first}}
	}
	var out []occasionScore
	for o, name := range it.Occasions {
		if v := it.Rounds[o][subject][rater]; !math.IsNaN(v) {
			out = append(out, occasionScore{name, v})
		}
	}
	if k := slices.IndexFunc(out, func(x occasionScore) bool { return x.score == first }); k > 0 {
		out[0], out[k] = out[k], out[0]
	}
	return out
}

// whenOf is when a rater's first rating of a subject was given: a date, or a running number.
func whenOf(it RatedItem, subject, rater int) string {
	v := it.When[subject][rater]
	if it.Dated && !math.IsNaN(v) {
		return time.Unix(int64(v)*86400, 0).UTC().Format(time.DateOnly)
	}
	return grid.FormatNumber(v)
}

// GuardCell makes a text cell of a CSV file safe to open in a spreadsheet program: one
// that would be run as a formula gets an apostrophe before it, which reading the file takes
// away again. Plain numbers stay as they are.
func GuardCell(s string) string { return grid.Guard(s) }
