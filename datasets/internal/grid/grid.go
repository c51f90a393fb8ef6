// Package grid reads a file as cells, whatever its format: what stands where, how a spreadsheet
// shows it, and nothing of what it means. Text is decoded and cut, workbooks (XLSX, ODS) are read
// sheet by sheet, Parquet column by column, all within bounds that keep a broken or hostile file
// from taking the machine down.
package grid

import (
	"fmt"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"

	"tyro/analysis"
	"tyro/datasets/problem"
)

// A Grid is one sheet of a file as it stands there: cells, not yet what they mean.
type Grid struct {
	File, Sheet string
	Format      string // "CSV", "XLSX", …
	Encoding    string // of a text file
	Separator   rune   // 0 where cells are not cut from text
	Calendar    Calendar
	Nested      []string           // columns of a Parquet file that hold lists or columns of their own, and are not read
	Notes       []analysis.Warning // what was done to the cells while reading

	Pool   *Pool
	Cols   [][]Cell // cols[j][i] is row i's cell; a column may end early, blank below
	Lines  []int32  // of each row, as a text editor or a spreadsheet counts
	Widths []uint16 // cells of each row as written, trailing blanks too

	HiddenRows []int // rows that the spreadsheet does not show, from 0
	HiddenCols []int
	Merges     []area
	Marks      marks

	held     int // cells held in cols
	expected int // rows to come
}

// An area is a rectangle of merged cells, by row and column from 0, ends included.
type area struct{ Top, Left, bottom, Right int }

// The most that is read of one file, whatever its size when packed. They are far above
// what studies have, and keep a broken or hostile file from taking the machine down.
const (
	MostBytes   = 512 << 20 // of a text file, or of all parts of a workbook
	mostColumns = 20000
	mostCells   = 400 << 20 / 4
	mostText    = 4 << 20 // of one cell
	mostHidden  = 1000    // columns of which it is known whether they are shown
)

func newGrid(file, format string) *Grid {
	return &Grid{File: file, Format: format, Pool: NewPool()}
}

// expect makes room for so many rows.
func (g *Grid) expect(rows int) {
	g.expected = min(rows, mostCells/8)
	g.Lines, g.Widths = make([]int32, 0, g.expected), make([]uint16, 0, g.expected)
}

// Rows is how many rows the grid has.
func (g *Grid) Rows() int { return len(g.Lines) }

// At is the cell in a row and column; blank beyond the grid.
func (g *Grid) At(row, col int) Cell {
	if col < 0 || col >= len(g.Cols) || row < 0 || row >= len(g.Cols[col]) {
		return 0
	}
	return g.Cols[col][row]
}

// Text is the text of the cell in a row and column.
func (g *Grid) Text(row, col int) string { return g.Pool.Text(g.At(row, col)) }

// set puts a cell into the last row.
func (g *Grid) set(row, col int, id Cell) error {
	if col >= mostColumns {
		return problem.Problem{File: g.File, Line: int(g.Lines[row]), Err: problem.ErrFormat, Expect: fmt.Sprintf("at most %d columns", mostColumns)}
	}
	for len(g.Cols) <= col {
		g.Cols = append(g.Cols, nil)
	}
	c := g.Cols[col]
	if more := row + 1 - len(c); more > 0 {
		if g.held += more; g.held > mostCells {
			return problem.Problem{File: g.File, Line: int(g.Lines[row]), Err: problem.ErrFormat, Expect: fmt.Sprintf("at most %d million cells; split the file by trainees and name the parts under files in a study file, or keep the columns needed", mostCells>>20)}
		}
		if c == nil && g.expected > 0 && row < 8 { // a column that begins at the top goes on to the end
			c = make([]Cell, 0, g.expected)
		}
		for len(c) < row {
			c = append(c, 0)
		}
		g.Cols[col] = append(c, id)
		return nil
	}
	c[row] = id
	return nil
}

// Clean takes away what nobody sees in a cell: spaces around it, spaces that do not
// break, characters of no width, and letters composed of two where there is one.
func Clean(s string) string {
	plain := true
	for i := 0; i < len(s); i++ {
		if s[i] >= 0x80 || s[i] < 0x20 {
			plain = false
			break
		}
	}
	if plain {
		return strings.TrimSpace(s)
	}
	s = strings.Map(func(r rune) rune {
		switch {
		case r == '\u00ad' || r == '\u2060' || r == '\ufeff' || r >= '\u200b' && r <= '\u200f' || r >= '\u2066' && r <= '\u2069':
			return -1
		case r == '\u00a0' || r == '\u202f' || r == '\u2007' || r == '\u2009':
			return ' '
		}
		return r
	}, s)
	return strings.TrimFunc(norm.NFC.String(s), unicode.IsSpace)
}

// BlankRow reports whether a row has no cell.
func (g *Grid) BlankRow(i int) bool {
	for j := range g.Cols {
		if g.At(i, j) != 0 {
			return false
		}
	}
	return true
}

// Filled lists the columns with a cell in a row.
func (g *Grid) Filled(i int) []int {
	var out []int
	for j := range g.Cols {
		if g.At(i, j) != 0 {
			out = append(out, j)
		}
	}
	return out
}

// Transpose turns rows into columns.
func (g *Grid) Transpose() (*Grid, error) {
	t := *g
	t.Cols, t.Lines, t.Widths, t.Merges, t.held = nil, nil, nil, nil, 0
	t.HiddenRows, t.HiddenCols = g.HiddenCols, g.HiddenRows
	t.Marks = g.Marks.transposed()
	for i := range g.Cols {
		t.Lines, t.Widths = append(t.Lines, int32(i+1)), append(t.Widths, uint16(min(g.Rows(), 1<<16-1)))
	}
	for i := range g.Rows() {
		for j := range g.Cols {
			if id := g.At(i, j); id != 0 {
				if err := t.set(j, i, id); err != nil {
					return nil, err
				}
			}
		}
	}
	return &t, nil
}

// FillMerged gives every cell of an area merged over several rows of one column the text
// that the area shows, and counts them.
func (g *Grid) FillMerged() int {
	n := 0
	for _, m := range g.Merges {
		id := g.At(m.Top, m.Left)
		if m.Left != m.Right || id == 0 {
			continue
		}
		for i := m.Top + 1; i <= m.bottom && i < g.Rows(); i++ {
			if g.At(i, m.Left) == 0 && g.set(i, m.Left, id) == nil {
				n++
			}
		}
	}
	return n
}
