package datasets

import (
	"fmt"
	"slices"

	"tyro/analysis/practice"
	"tyro/datasets/internal/grid"
	"tyro/datasets/problem"
)

// describe says in one line how a file was read.
func (r *logReader) describe(f practice.FileRead) Note {
	how := map[string]string{"none": "a spreadsheet", "comma": "cells separated by commas", "semicolon": "cells separated by semicolons", "tab": "cells separated by tabs", "bar": "cells separated by bars", "space": "cells separated by spaces"}[f.Separator]
	if f.Format == "Parquet" {
		how = "Parquet"
	}
	if f.Sheet != "" {
		how += ", sheet " + f.Sheet
	}
	if f.Decimal == "comma" {
		how += ", decimal commas"
	}
	return Note{Code: "read", Text: fmt.Sprintf("%s: %d rows, %d attempts, %s", f.File, f.RowsUsed+blankRows(f.Dropped), f.Attempts, how)}
}

// decimal is the decimal mark of the measures in a file: point, comma, both in different
// columns, or none.
func (r *logReader) decimal(f int) string {
	out := ""
	for _, m := range r.readers {
		switch d := m.ways[f].decimal; {
		case d == eitherMark:
			return "point and comma"
		case d == "" || d == out:
		case out == "":
			out = d
		default:
			return "point and comma"
		}
	}
	if out == "" {
		return "point"
	}
	return out
}

// pictures are what was read of each file, and what was not.
func (r *logReader) pictures(log Log) []practice.FileRead {
	var out []practice.FileRead
	for f := range r.files {
		out = append(out, r.picture(f, log))
	}
	return out
}

func (r *logReader) picture(f int, log Log) practice.FileRead {
	out := r.table.files()[f].read
	if len(r.files) > 1 {
		out.File = r.files[f].file // with its folder, where two have the same name
	}
	from, to := r.table.span(f)
	out.Decimal, out.TimeoutsSet = r.decimal(f), r.timeouts[f]
	out.RowsUsed = to - from - blankRows(out.Dropped)
	out.Shape = "one row an attempt"
	switch {
	case r.log.ColumnsAre != "":
		out.Shape = "one column a trainee"
	case r.isWide:
		out.Shape = "one row a trainee, one column an attempt"
	}
	out.ColumnsUnused = r.unused()
	r.roles(f, &out)
	for j, m := range r.readers {
		name := m.name
		if r.isWide {
			name = r.slotNames(j)
		}
		if name == "" {
			continue
		}
		c := practice.ColumnRead{Name: name, As: m.name, How: m.understood(f)}
		for _, cell := range samplesOf(r.inFile(f, m.cells)) {
			c.Samples = append(c.Samples, practice.SampleRead{Cell: cell.text, Value: r.sample(m, cell)})
		}
		out.Columns = append(out.Columns, c)
	}
	r.counts(f, &out, log)
	return out
}

// inFile are the cells that stand in a file.
func (r *logReader) inFile(f int, cells []writtenCell) []writtenCell {
	if len(r.files) == 1 {
		return cells
	}
	return slices.DeleteFunc(slices.Clone(cells), func(c writtenCell) bool { return c.source != f })
}

// blankRows counts the rows dropped for having no measure, which the table still holds.
func blankRows(dropped []practice.DroppedRow) int {
	n := 0
	for _, d := range dropped {
		if d.Reason == "no measure" {
			n++
		}
	}
	return n
}

// slotNames are the columns of a measure in a wide table.
func (r *logReader) slotNames(j int) string {
	var names []string
	for _, s := range r.slotted {
		if s.columns[j] >= 0 {
			names = append(names, r.table.header[s.columns[j]])
		}
	}
	if len(names) > 2 {
		return fmt.Sprintf("%s to %s (%d columns)", names[0], names[len(names)-1], len(names))
	}
	return problem.List(names, 2)
}

// roles lists the columns that are no measures.
func (r *logReader) roles(f int, out *practice.FileRead) {
	for _, role := range []struct{ name, as string }{
		{r.cols.Trainee, "trainee"}, {r.cols.Arm, "arm"}, {r.cols.Task, "task"}, {r.cols.Session, "session"}, {r.cols.Date, "date"}, {r.cols.Attempt, "attempt"}, {r.cols.Outcome, "outcome"},
	} {
		j := r.table.column(role.name)
		if role.name == "" || j < 0 {
			continue
		}
		c := practice.ColumnRead{Name: role.name, As: role.as, How: "text"}
		for _, cell := range samplesOf(r.inFile(f, r.distinctInFiles(j))) {
			c.Samples = append(c.Samples, practice.SampleRead{Cell: cell.text, Value: r.roleSample(role.as, cell)})
		}
		switch role.as {
		case "date":
			c.How = "dates"
			if r.dateOrders[f] != "" {
				c.How += ", " + r.dateOrders[f]
			}
		case "attempt":
			c.How = "numbers"
		}
		out.Columns = append(out.Columns, c)
	}
}

// roleSample is what was made of a cell of a role's column.
func (r *logReader) roleSample(as string, c writtenCell) string {
	switch as {
	case "date":
		d, _ := r.dateOf(c.source, c.text)
		return d
	case "outcome":
		if o, ok := outcomeByName(c.text); ok {
			return o.String()
		}
		o, _ := r.code(c.text)
		return o.String()
	}
	if same, ok := r.layout.Same[c.text]; ok {
		return same
	}
	return c.text
}

// samplesOf are three cells: the first, and those that look least like it.
func samplesOf(cells []writtenCell) []writtenCell {
	if len(cells) <= 3 {
		return cells
	}
	out := []writtenCell{cells[0]}
	long, short := cells[1], cells[1]
	for _, c := range cells[1:] {
		if len(c.text) > len(long.text) {
			long = c
		}
		if len(c.text) < len(short.text) {
			short = c
		}
	}
	if long.id == short.id {
		return append(out, cells[1], cells[len(cells)-1])
	}
	return append(out, long, short)
}

// sample is what was made of a cell.
func (r *logReader) sample(m *measureReader, c writtenCell) string {
	switch got := m.readings[c.id]; got.state {
	case isNumber:
		return grid.FormatNumber(got.value)
	case isCode:
		return got.outcome.String()
	case isOver:
		return "above " + grid.FormatNumber(got.value)
	}
	return ""
}

// counts are the trainees of a file, their attempts, the tasks and the dates.
func (r *logReader) counts(f int, out *practice.FileRead, log Log) {
	seen := make([]bool, len(r.placed.tasks))
	inFile := func(i int32) bool { return len(r.files) == 1 || r.sourceOf(log.Attempts[i]) == f }
	for i, a := range log.Attempts {
		if !inFile(int32(i)) {
			continue
		}
		out.Attempts++
		if task := r.placed.task[r.placed.of[i]]; !seen[task] {
			seen[task] = true
			out.Tasks = append(out.Tasks, a.Task)
		}
		if d := log.Date(a); d != "" && (out.First == "" || d < out.First) {
			out.First = d
		}
		out.Last = max(out.Last, log.Date(a))
	}
	people := make([]bool, len(r.placed.trainees))
	for g := range r.series.groups() {
		n := 0
		for _, i := range r.series.of(g) {
			if inFile(i) {
				n++
			}
		}
		if n == 0 {
			continue
		}
		if out.Fewest == 0 || n < out.Fewest {
			out.Fewest = n
		}
		out.Most = max(out.Most, n)
		who := r.series.trainee[g]
		if people[who] {
			continue
		}
		people[who] = true
		out.Trainees++
		if r.gaps != nil && r.gaps[who] {
			out.TraineesWithGaps++
		}
	}
	if r.cols.Trainee == "" {
		out.Trainees = 0
	}
}

// sourceOf is the file of an attempt.
func (r *logReader) sourceOf(a Attempt) int {
	t := r.table
	if t.sources == nil {
		return 0
	}
	for s := len(t.sources) - 1; s > 0; s-- {
		if t.parts[a.part].from >= t.sources[s].row {
			return s
		}
	}
	return 0
}
