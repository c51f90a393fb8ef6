package datasets

import (
	"fmt"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// A grid is one sheet of a file as it stands there: cells, not yet what they mean.
type grid struct {
	file, sheet string
	format      string // "CSV", "XLSX", …
	encoding    string // of a text file
	separator   rune   // 0 where cells are not cut from text
	calendar    calendar
	notes       []Note // what was done to the cells while reading

	pool   *pool
	cols   [][]cellID // cols[j][i] is row i's cell; a column may end early, blank below
	lines  []int32    // of each row, as a text editor or a spreadsheet counts
	widths []uint16   // cells of each row as written, trailing blanks too

	hiddenRows []int // rows that the spreadsheet does not show, from 0
	hiddenCols []int
	merges     []area
	marks      marks

	held     int // cells held in cols
	expected int // rows to come
}

// An area is a rectangle of merged cells, by row and column from 0, ends included.
type area struct{ top, left, bottom, right int }

// The most that is read of one file, whatever its size when packed. They are far above
// what studies have, and keep a broken or hostile file from taking the machine down.
const (
	mostBytes   = 512 << 20 // of a text file, or of all parts of a workbook
	mostColumns = 20000
	mostCells   = 400 << 20 / 4
	mostText    = 4 << 20 // of one cell
	mostHidden  = 1000    // columns of which it is known whether they are shown
)

func newGrid(file, format string) *grid {
	return &grid{file: file, format: format, pool: newPool()}
}

// expect makes room for so many rows.
func (g *grid) expect(rows int) {
	g.expected = min(rows, mostCells/8)
	g.lines, g.widths = make([]int32, 0, g.expected), make([]uint16, 0, g.expected)
}

// rows is how many rows the grid has.
func (g *grid) rows() int { return len(g.lines) }

// at is the cell in a row and column; blank beyond the grid.
func (g *grid) at(row, col int) cellID {
	if col < 0 || col >= len(g.cols) || row < 0 || row >= len(g.cols[col]) {
		return 0
	}
	return g.cols[col][row]
}

func (g *grid) text(row, col int) string { return g.pool.text(g.at(row, col)) }

// set puts a cell into the last row.
func (g *grid) set(row, col int, id cellID) error {
	if col >= mostColumns {
		return Problem{File: g.file, Line: int(g.lines[row]), Err: ErrFormat, Expect: fmt.Sprintf("at most %d columns", mostColumns)}
	}
	for len(g.cols) <= col {
		g.cols = append(g.cols, nil)
	}
	c := g.cols[col]
	if more := row + 1 - len(c); more > 0 {
		if g.held += more; g.held > mostCells {
			return Problem{File: g.file, Line: int(g.lines[row]), Err: ErrFormat, Expect: fmt.Sprintf("at most %d million cells; split the file by trainees and name the parts under files in a study file, or keep the columns needed", mostCells>>20)}
		}
		if c == nil && g.expected > 0 && row < 8 { // a column that begins at the top goes on to the end
			c = make([]cellID, 0, g.expected)
		}
		for len(c) < row {
			c = append(c, 0)
		}
		g.cols[col] = append(c, id)
		return nil
	}
	c[row] = id
	return nil
}

// cleanCell takes away what nobody sees in a cell: spaces around it, spaces that do not
// break, characters of no width, and letters composed of two where there is one.
func cleanCell(s string) string {
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

// blankRow reports whether a row has no cell.
func (g *grid) blankRow(i int) bool {
	for j := range g.cols {
		if g.at(i, j) != 0 {
			return false
		}
	}
	return true
}

// filled lists the columns with a cell in a row.
func (g *grid) filled(i int) []int {
	var out []int
	for j := range g.cols {
		if g.at(i, j) != 0 {
			out = append(out, j)
		}
	}
	return out
}

// transpose turns rows into columns.
func (g *grid) transpose() (*grid, error) {
	t := *g
	t.cols, t.lines, t.widths, t.merges, t.held = nil, nil, nil, nil, 0
	t.hiddenRows, t.hiddenCols = g.hiddenCols, g.hiddenRows
	t.marks = g.marks.transposed()
	for i := range g.cols {
		t.lines, t.widths = append(t.lines, int32(i+1)), append(t.widths, uint16(min(g.rows(), 1<<16-1)))
	}
	for i := range g.rows() {
		for j := range g.cols {
			if id := g.at(i, j); id != 0 {
				if err := t.set(j, i, id); err != nil {
					return nil, err
				}
			}
		}
	}
	return &t, nil
}

// fillMerged gives every cell of an area merged over several rows of one column the text
// that the area shows, and counts them.
func (g *grid) fillMerged() int {
	n := 0
	for _, m := range g.merges {
		id := g.at(m.top, m.left)
		if m.left != m.right || id == 0 {
			continue
		}
		for i := m.top + 1; i <= m.bottom && i < g.rows(); i++ {
			if g.at(i, m.left) == 0 && g.set(i, m.left, id) == nil {
				n++
			}
		}
	}
	return n
}
