package datasets

import (
	"context"
	"fmt"
	"maps"
	"path/filepath"
	"slices"
	"strings"

	"tyro/datasets/internal/grid"
	"tyro/datasets/problem"
)

// sheets are those of a workbook.
type sheets struct {
	file string
	book *grid.Book
}

// table reads the sheet that holds the table: the one named, or the one that has the
// columns wanted. Where several could be meant it asks.
func (s sheets) table(ctx context.Context, l Layout, wanted []string) (*table, error) {
	if len(s.book.Sheets) == 0 {
		return nil, Problem{File: s.file, Err: problem.ErrMissing, Expect: "a header row and at least one row of data, but the file is empty"}
	}
	if l.Sheet != "" {
		i, err := grid.SheetNamed(s.book.Sheets, l.Sheet)
		if err != nil {
			return nil, Problem{File: s.file, Value: l.Sheet, Err: problem.ErrUnknown, Expect: "one of the sheets " + err.Error()}
		}
		return s.open(ctx, []grid.Sheet{s.book.Sheets[i]}, l, wanted, nil)
	}
	var with, across, filled []grid.Sheet
	var lacking Problems
	for _, e := range s.book.Sheets {
		g, err := s.book.Read(ctx, e, headsLooked)
		if err != nil {
			return nil, err
		}
		if g.Rows() == 0 {
			continue
		}
		if !e.Hidden {
			filled = append(filled, e)
		}
		switch h := l.findHead(g, wanted); {
		case len(wanted) == 0 || e.Hidden:
		case h.found == len(wanted):
			with = append(with, e)
		case turned(g, l, wanted):
			across = append(across, e)
		case h.found > 0 || len(wanted) == 1 && slices.ContainsFunc(h.names, func(n string) bool { return strings.EqualFold(n, wanted[0]) }):
			lacking = append(lacking, lacks(s.file, e.Name, g, h, wanted))
		}
	}
	if len(with) == 0 {
		with = across
	}
	chosen := with
	switch {
	case l.SheetsAre != "" && len(with) > 0 && len(lacking) > 0:
		return nil, lacking
	case l.SheetsAre != "" && len(with) > 0:
		return s.open(ctx, with, l, wanted, filled)
	case l.SheetsAre != "" && len(filled) > 0:
		return s.open(ctx, filled, l, wanted, filled)
	case len(with) > 1:
		return nil, Problem{File: s.file, Value: problem.List(grid.SheetNames(with), 6), Err: problem.ErrAmbiguous, Expect: fmt.Sprintf(
			"to be told which of these %d sheets to read: --sheet NAME for one, or --sheets-are %s where each is one (in a study file: sheet, sheets_are)", len(with), strings.Join(SheetRoles(), "|"))}
	case len(with) == 0 && len(filled) > 0:
		chosen = filled[:1]
	case len(with) == 0:
		chosen = s.book.Sheets[:1]
	}
	return s.open(ctx, chosen, l, wanted, filled)
}

// lacks is a sheet that has some of the columns wanted and not the others.
func lacks(file, sheet string, g *grid.Grid, h head, wanted []string) Problem {
	missing := slices.DeleteFunc(slices.Clone(wanted), func(w string) bool { return slices.Contains(h.names, w) })
	return Problem{File: file + " (" + sheet + ")", Line: int(g.Lines[h.first]), Column: strings.Join(missing, ", "), Err: problem.ErrMissing,
		Expect: "the same column names on every sheet that is read; this one has " + problem.List(h.names, 12) + ": write them alike, or take the sheet out where it holds no attempts"}
}

// open reads the sheets chosen as one table, and notes those that are not read.
func (s sheets) open(ctx context.Context, chosen []grid.Sheet, l Layout, wanted []string, filled []grid.Sheet) (*table, error) {
	var all []*table
	for _, e := range chosen {
		g, err := s.book.Read(ctx, e, 0)
		if err != nil {
			return nil, err
		}
		t, err := newTable(g, l, wanted)
		if err != nil {
			return nil, err
		}
		all = append(all, t)
	}
	t, err := stack(s.file, all, grid.SheetNames(chosen), l.SheetsAre != "", false)
	if err != nil {
		return nil, err
	}
	if l.SheetsAre != "" {
		t.notes = append(t.notes, otherSheets(s.file, all, grid.SheetNames(chosen))...)
	}
	var unread []string
	for _, e := range s.book.Sheets {
		if !slices.Contains(chosen, e) && (slices.Contains(filled, e) || e.Hidden || filled == nil) {
			name := e.Name
			if e.Hidden {
				name += " (hidden)"
			}
			unread = append(unread, name)
		}
	}
	if t.read.SheetsUnread = unread; len(unread) > 0 {
		t.note("sheets-unread", fmt.Sprintf("%s: sheet %s is read; not read: %s", s.file, strings.Join(grid.SheetNames(chosen), ", "), problem.List(unread, 10)))
	}
	return t, nil
}

// otherSheets notes sheets that say above their columns the name of another sheet, and not their own: a
// sheet may have been copied without a change of the name.
func otherSheets(file string, all []*table, names []string) []Note {
	at := map[string]string{}
	for _, name := range names {
		at[plainCode(name)] = name
	}
	var out []Note
	for k, t := range all {
		other, own := "", false
		for _, cell := range t.above {
			_, after, _ := strings.Cut(cell, ":")
			for _, said := range []string{cell, after} {
				if name, is := at[plainCode(said)]; is && name == names[k] {
					own = true
				} else if is {
					other = name
				}
			}
		}
		if other != "" && !own {
			out = append(out, Note{Code: "sheet-says-other", Text: fmt.Sprintf("%s: sheet %s says %s above its columns, and is read as %s; where its name, or what it says, was left over from another sheet, put that right", file, names[k], other, names[k])})
		}
	}
	return out
}

// stack puts tables one below the other, by the names of their columns; the name of each
// goes into the column called sheet where that is asked for. Cells of files stay apart, since
// the same text may mean something else in another file.
func stack(file string, all []*table, names []string, tell, files bool) (*table, error) {
	if len(all) == 1 && !tell {
		return all[0], nil
	}
	out := &table{file: file, pool: grid.NewPool(), spreadsheet: all[0].spreadsheet, calendar: all[0].calendar, read: all[0].read}
	out.read.Dropped, out.read.Rows = nil, 0
	out.read.Sheet = strings.Join(names, ", ")
	told := names
	if files {
		told = nil
		for _, name := range names {
			told = append(told, strings.TrimSuffix(name, filepath.Ext(name)))
		}
	}
	if tell {
		out.header, out.cols, out.heads = []string{sheetColumn}, [][]grid.Cell{nil}, []int{0}
	}
	for k, t := range all {
		if files {
			out.sources = append(out.sources, source{file: names[k], row: len(out.lines), first: out.pool.Apart(), calendar: t.calendar, spreadsheet: t.spreadsheet, read: t.read, header: t.header})
		}
		moved := make(map[grid.Cell]grid.Cell)
		put := func(id grid.Cell) grid.Cell {
			if id == 0 {
				return 0
			}
			to, ok := moved[id]
			if !ok {
				to = out.pool.Put(t.textOf(id), t.kind(id))
				if t.pool.TwoWays(id) {
					out.pool.SetTwoWays(to)
				}
				moved[id] = to
			}
			return to
		}
		var at []int
		for _, h := range t.header {
			j := out.column(h)
			if tell && h == sheetColumn {
				return nil, Problem{File: file, Column: h, Err: problem.ErrDuplicate, Expect: "another name for this column, since the names of the sheets go into a column called " + sheetColumn}
			}
			if j < 0 && h != "" {
				j = len(out.header)
				out.header, out.cols = append(out.header, h), append(out.cols, make([]grid.Cell, len(out.lines)))
				out.heads = append(out.heads, k)
			}
			at = append(at, j)
		}
		out.addParts(t, names[k], files)
		for i := range t.rows() {
			row := len(out.lines)
			out.lines, out.keep = append(out.lines, int32(t.line(i))), append(out.keep, int32(row))
			for j := range out.cols {
				out.cols[j] = append(out.cols[j], 0)
			}
			if tell {
				out.cols[0][row] = out.pool.Put(grid.Clean(told[k]), grid.Written)
			}
			for j, to := range at {
				if to >= 0 && t.header[j] != "" {
					out.cols[to][row] = put(t.cell(i, j))
				}
			}
		}
		out.twice = append(out.twice, t.twice...)
		out.notes = append(out.notes, t.notes...)
		out.hiddenCols = append(out.hiddenCols, t.hiddenCols...)
		out.read.Dropped = append(out.read.Dropped, t.read.Dropped...)
		out.read.Rows += t.read.Rows
	}
	return out, nil
}

// addParts names where the rows of a table that is put below others stand.
func (t *table) addParts(below *table, name string, file bool) {
	if !file {
		name = fmt.Sprintf("%s (%s)", t.file, name)
	}
	if below.parts == nil {
		t.parts = append(t.parts, part{len(t.lines), name})
		return
	}
	for k, p := range below.parts { // sheets of one of several files
		row := slices.IndexFunc(below.keep, func(r int32) bool { return int(r) >= p.from })
		if next := k + 1; row >= 0 && (next == len(below.parts) || int(below.keep[row]) < below.parts[next].from) {
			t.parts = append(t.parts, part{len(t.lines) + row, p.name})
		}
	}
}

func sortedKeys[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }
