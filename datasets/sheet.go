package datasets

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"math"
	"slices"
	"strings"

	"tyro/analysis/practice/ranges"
	"tyro/datasets/internal/grid"
	"tyro/datasets/problem"
)

// A Sheet is a table that is not an attempt log, such as judges' bounds or a
// group of trainees with a score each, read column by column.
type Sheet struct {
	File   string
	SHA256 string

	table  *table
	commas []bool // of each file of the table: its decimal mark is a comma
}

// OpenSheet reads a table with one header row.
func OpenSheet(ctx context.Context, path string) (*Sheet, error) {
	data, err := readFile(ctx, path)
	if err != nil {
		return nil, err
	}
	t, err := readTable(ctx, path, data, Layout{}, nil)
	if err != nil {
		return nil, err
	}
	s, err := sheetOf(t)
	if err != nil {
		return nil, err
	}
	sum := sha256.Sum256(data)
	s.SHA256 = hex.EncodeToString(sum[:])
	return s, nil
}

// sheetOf is a table read column by column; no column may stand in it twice, nor hold what
// a spreadsheet does not know the value of.
func sheetOf(t *table) (*Sheet, error) {
	var ps Problems
	for _, name := range t.twice {
		ps = append(ps, Problem{File: t.file, Line: t.headLine(), Column: name, Err: problem.ErrDuplicate, Expect: "every column to have its own name"})
	}
	ps = append(ps, t.unknownCells()...)
	for j, name := range t.header {
		if name == "" && len(t.distinct([]int{j})) > 0 && (j > 0 || !t.counted()) {
			ps = append(ps, Problem{File: t.file, Line: t.headLine(), Err: problem.ErrMissing, Expect: fmt.Sprintf("a name for column %d", j+1)})
		}
	}
	if err := ps.OrNil(); err != nil {
		return nil, err
	}
	v := t.votesOf()
	return &Sheet{File: t.file, table: t, commas: []bool{v.comma != "" && v.point == ""}}, nil
}

// comma reports whether the decimal mark of a row is a comma.
func (s *Sheet) comma(row int) bool { return s.commas[s.table.sourceAt(row)] }

// asSheet is the log's table column by column.
func (r *logReader) asSheet() *Sheet {
	s := &Sheet{File: r.table.file, table: r.table}
	for _, f := range r.files {
		s.commas = append(s.commas, f.votes.comma != "")
	}
	return s
}

// Columns lists the column names in file order.
func (s *Sheet) Columns() []string { return s.table.names() }

// Has reports whether there is a column of this name.
func (s *Sheet) Has(column string) bool {
	return column != "" && slices.Contains(s.table.header, column)
}

// Text is a column's cells, row by row.
func (s *Sheet) Text(column string) ([]string, error) {
	j := slices.Index(s.table.header, column)
	if column == "" || j < 0 {
		return nil, Problem{File: s.File, Line: 1, Column: column, Err: problem.ErrMissing, Expect: "a column of this name; the file has " + strings.Join(s.Columns(), ", ")}
	}
	out := make([]string, s.table.rows())
	for i := range out {
		out[i] = s.table.text(i, j)
	}
	return out, nil
}

// Numbers is a column of numbers, NaN where a cell is blank; every cell that is
// not a number is reported.
func (s *Sheet) Numbers(column string) ([]float64, error) {
	return s.parsed(column, "a number", grid.ParseNumber)
}

// Seconds is a column of times, NaN where a cell is blank; they may be written
// in any of the ways of a log.
func (s *Sheet) Seconds(column string) ([]float64, error) {
	return s.parsed(column, "a time, as 90, 1:30 or 1m30s", parseSeconds)
}

func (s *Sheet) parsed(column, expect string, parse func(string, bool) (float64, bool)) ([]float64, error) {
	cells, err := s.Text(column)
	if err != nil {
		return nil, err
	}
	var ps Problems
	out := make([]float64, len(cells))
	for i, c := range cells {
		v, ok := parse(c, s.comma(i))
		switch {
		case c == "":
			v = math.NaN()
		case !ok:
			ps = append(ps, Problem{File: s.table.place(i), Line: s.Line(i), Column: column, Value: c, Err: problem.ErrNotNumber, Expect: expect})
		case ranges.Response.Check(v) != nil:
			ps = append(ps, Problem{File: s.table.place(i), Line: s.Line(i), Column: column, Value: c, Err: problem.ErrRange, Expect: ranges.Response.String()})
		}
		out[i] = v
	}
	return out, ps.OrNil()
}

// Line is the line of a row in the file, as a text editor counts.
func (s *Sheet) Line(row int) int { return s.table.line(row) }

// spot is where a row stands in its file.
func (s *Sheet) spot(row int) spot {
	return spot{uint16(s.table.partAt(row)), int32(s.table.line(row))}
}

// Bad is a problem with one cell, for callers that ask more of it.
func (s *Sheet) Bad(row int, column, value, expect string, kind error) Problem {
	return Problem{File: s.table.place(row), Line: s.Line(row), Column: column, Value: value, Err: kind, Expect: expect}
}
