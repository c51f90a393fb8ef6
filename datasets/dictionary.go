package datasets

import (
	"cmp"
	"encoding/csv"
	"fmt"
	"io"
	"strings"

	"tyro/datasets/internal/grid"
)

// WriteDictionary writes what the columns of the canonical log hold: one row a column, with
// its meaning, unit and the values it may have.
func (s *Study) WriteDictionary(w io.Writer) error {
	out := csv.NewWriter(w)
	row := func(cells ...string) { _ = out.Write(grid.GuardAll(cells)) } // the error stays in the writer
	row("column", "meaning", "unit", "values")
	row("trainee", "code of the trainee", "", "text")
	row("arm", "curriculum as assigned", "", cmp.Or(strings.Join(s.Arms, " | "), "text"))
	var tasks []string
	for _, t := range s.Tasks {
		tasks = append(tasks, t.Name)
	}
	row("task", "task practised", "", strings.Join(tasks, " | "))
	row("session", "session of practice", "", "text, blank where not given")
	if s.Attempts.Dated() {
		row("date", "day of the attempt, with the time of day where known", "", "2026-02-28 or 2026-02-28 14:30, blank where not given")
	}
	row("attempt", "number of the attempt at the task", "attempts", "whole numbers from 1")
	r := logReader{study: s}
	for _, m := range s.Attempts.Measures {
		kind, limit, _ := r.kindOf(m)
		values, unit := "numbers", ""
		for _, t := range s.Tasks {
			if t.Column == m {
				unit = t.Unit
			}
		}
		meaning := map[Measure]string{Time: "how long the attempt took", Count: "errors or events counted", PassFail: "whether the attempt passed", Score: "what was observed"}[kind]
		switch kind {
		case Time:
			values, unit = "numbers above 0", cmp.Or(unit, "s")
			if limit > 0 {
				values += fmt.Sprintf(", at most the limit of %g", limit)
			}
		case Count:
			values = "whole numbers from 0"
		case PassFail:
			values = "1 for a pass | 0"
		}
		row(m, meaning, unit, values+", blank where not known")
	}
	row("outcome", "how the attempt ended", "", "done: the measure is exact | timeout: the time is known only to be above the one given | failed: a hard fail, never a pass | void: an outside reason, which counts for nothing")
	out.Flush()
	return out.Error()
}
