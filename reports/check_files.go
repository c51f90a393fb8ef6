package reports

import (
	"fmt"
	"strings"

	"tyro/analysis/practice"
	"tyro/analysis/study"
)

// A FileRead is how one sheet of a file was read: what was taken of it, and what was not.
type FileRead struct {
	File          string       `json:"file"`
	Sheet         string       `json:"sheet"`
	Format        string       `json:"format"`
	Encoding      string       `json:"encoding"`
	Separator     string       `json:"separator"`
	Decimal       string       `json:"decimal"`
	Shape         string       `json:"shape"`
	ColumnsUsed   []string     `json:"columns_used"`
	ColumnsUnused []string     `json:"columns_unused"`
	SheetsUnread  []string     `json:"sheets_unread"`
	Rows          int          `json:"rows"`
	RowsUsed      int          `json:"rows_used"`
	Dropped       []DroppedRow `json:"dropped"`
	Attempts      int          `json:"attempts"`
	TimeoutsSet   int          `json:"timeouts_set"`
	Trainees      int          `json:"trainees"`
	Fewest        int          `json:"fewest_attempts"`
	Most          int          `json:"most_attempts"`
	WithGaps      int          `json:"trainees_with_gaps"`
	Tasks         []string     `json:"tasks"`
	FirstDate     string       `json:"first_date"`
	LastDate      string       `json:"last_date"`
	Columns       []ColumnRead `json:"columns"`
}

// A DroppedRow is a row that was not used, and why.
type DroppedRow struct {
	Row    int    `json:"row"`
	Reason string `json:"reason"`
}

// A ColumnRead is how a column was understood, with cells before and after.
type ColumnRead struct {
	Name    string       `json:"name"`
	As      string       `json:"as"`
	How     string       `json:"how"`
	Samples []SampleRead `json:"samples"`
}

// A SampleRead is a cell as it stands in the file, and what was made of it.
type SampleRead struct {
	Cell  string `json:"cell"`
	Value string `json:"value"`
}

// filesRead words what was read of the study's files.
func filesRead(s *study.Study) []FileRead {
	out := []FileRead{}
	for _, f := range s.Files {
		r := FileRead{
			File: f.File, Sheet: f.Sheet, Format: f.Format, Encoding: f.Encoding, Separator: f.Separator, Decimal: f.Decimal, Shape: f.Shape,
			ColumnsUsed: []string{}, ColumnsUnused: listOr(f.ColumnsUnused), SheetsUnread: listOr(f.SheetsUnread), Rows: f.Rows, RowsUsed: f.RowsUsed,
			Dropped: []DroppedRow{}, Attempts: f.Attempts, TimeoutsSet: f.TimeoutsSet, Trainees: f.Trainees, Fewest: f.Fewest, Most: f.Most,
			WithGaps: f.TraineesWithGaps, Tasks: listOr(f.Tasks), FirstDate: f.First, LastDate: f.Last, Columns: []ColumnRead{},
		}
		for _, d := range f.Dropped {
			r.Dropped = append(r.Dropped, DroppedRow(d))
		}
		for _, c := range f.Columns {
			r.ColumnsUsed = append(r.ColumnsUsed, c.Name)
			r.Columns = append(r.Columns, columnRead(c))
		}
		out = append(out, r)
	}
	return out
}

func columnRead(c practice.ColumnRead) ColumnRead {
	out := ColumnRead{Name: c.Name, As: c.As, How: c.How, Samples: []SampleRead{}}
	for _, s := range c.Samples {
		out.Samples = append(out.Samples, SampleRead(s))
	}
	return out
}

// listOr is a list that is never nil, so that it is written as an empty one.
func listOr(list []string) []string {
	if list == nil {
		return []string{}
	}
	return list
}

// samples shows cells before and after.
func (c ColumnRead) samples() string {
	var out []string
	for _, s := range c.Samples {
		if s.Cell == s.Value {
			out = append(out, clipText(s.Cell))
		} else {
			out = append(out, clipText(s.Cell)+" → "+clipText(first(s.Value, "nothing")))
		}
	}
	return strings.Join(out, "; ")
}

// clipText shortens a cell for a table.
func clipText(s string) string {
	const most = 30
	if r := []rune(s); len(r) > most {
		return string(r[:most]) + "…"
	}
	return s
}

func first(a, b string) string {
	if a != "" {
		return a
	}
	return b
}

// fileTable lists the files with what was taken of each.
func (d *Check) fileTable() Table {
	rows := d.Files
	t := Table{Name: "files", Title: "The files", Columns: []Column{
		Words("file", "file", rows, func(f FileRead) string { return f.File }),
		Words("sheet", "sheet", rows, func(f FileRead) string { return f.Sheet }),
		Words("written", "written as", rows, func(f FileRead) string { return f.written() }),
		Words("shape", "shape", rows, func(f FileRead) string { return f.Shape }),
		Counts("rows", "rows", rows, func(f FileRead) int { return f.Rows }),
		Counts("rows_used", "used", rows, func(f FileRead) int { return f.RowsUsed }),
		Counts("attempts", "attempts", rows, func(f FileRead) int { return f.Attempts }),
		Counts("timeouts_set", "made timeouts", rows, func(f FileRead) int { return f.TimeoutsSet }),
		Counts("trainees", "people", rows, func(f FileRead) int { return f.Trainees }),
		Counts("fewest_attempts", "fewest", rows, func(f FileRead) int { return f.Fewest }),
		Counts("most_attempts", "most", rows, func(f FileRead) int { return f.Most }),
		Counts("trainees_with_gaps", "with gaps", rows, func(f FileRead) int { return f.WithGaps }),
		Words("dates", "dates", rows, func(f FileRead) string { return f.dates() }),
	}}
	for _, f := range rows {
		if len(f.ColumnsUnused) > 0 {
			t.Notes = append(t.Notes, fmt.Sprintf("%s: columns not used: %s.", f.File, strings.Join(f.ColumnsUnused, ", ")))
		}
		if len(f.SheetsUnread) > 0 {
			t.Notes = append(t.Notes, fmt.Sprintf("%s: sheets not read: %s.", f.File, strings.Join(f.SheetsUnread, ", ")))
		}
	}
	t.Notes = append(t.Notes, "made timeouts: attempts called done whose time reached the limit; fewest, most: attempts of one person at a task; with gaps: people whose attempt numbers leave some out.")
	return t
}

// written says how a file holds its cells.
func (f FileRead) written() string {
	out := f.Format
	if f.Encoding != "" {
		out += ", " + f.Encoding
	}
	if f.Separator != "none" && f.Separator != "" {
		out += ", " + f.Separator
	}
	return out + ", decimal " + f.Decimal
}

func (f FileRead) dates() string {
	if f.FirstDate == "" {
		return "none"
	}
	return f.FirstDate + " to " + f.LastDate
}

// A columnOf is a column with its file.
type columnOf struct {
	file string
	ColumnRead
}

// columnTable lists how every column was understood.
func (d *Check) columnTable() Table {
	var rows []columnOf
	for _, f := range d.Files {
		for _, c := range f.Columns {
			rows = append(rows, columnOf{f.File, c})
		}
	}
	return Table{Name: "columns", Title: "How the columns were understood", Columns: []Column{
		Words("file", "file", rows, func(c columnOf) string { return c.file }),
		Words("column", "column", rows, func(c columnOf) string { return c.Name }),
		Words("as", "taken as", rows, func(c columnOf) string { return c.As }),
		Words("how", "read as", rows, func(c columnOf) string { return c.How }),
		Words("samples", "cells, and what was made of them", rows, func(c columnOf) string { return c.samples() }),
	}}
}

// A droppedOf is a dropped row with its file.
type droppedOf struct {
	file string
	DroppedRow
}

// droppedTable lists the rows that were not used.
func (d *Check) droppedTable() Table {
	var rows []droppedOf
	for _, f := range d.Files {
		for _, r := range f.Dropped {
			rows = append(rows, droppedOf{f.File, r})
		}
	}
	return Table{Name: "dropped", Title: "Rows that are not used", Columns: []Column{
		Words("file", "file", rows, func(r droppedOf) string { return r.file }),
		Counts("row", "row", rows, func(r droppedOf) int { return r.Row }),
		Words("reason", "why", rows, func(r droppedOf) string { return r.Reason }),
	}}
}
