package datasets

import (
	"fmt"
	"slices"
	"strings"

	"tyro/datasets/internal/grid"
	"tyro/datasets/problem"
)

// A Layout says how a table is laid out, where the table itself leaves that open. The
// zero value leaves it to the table.
type Layout struct {
	HeadRows   int                 `yaml:"head_rows"`  // rows that hold column names; several are joined
	SkipRows   int                 `yaml:"skip_rows"`  // lines above the head that are not read
	Sheet      string              `yaml:"sheet"`      // of a workbook, by name or number
	SheetsAre  string              `yaml:"sheets_are"` // what each sheet is: trainee, session, arm or task
	Transposed bool                `yaml:"transposed"` // columns stand in rows
	Encoding   string              `yaml:"encoding"`
	Separator  string              `yaml:"separator"` // comma, semicolon, tab, bar or space
	Decimal    string              `yaml:"decimal"`   // point, comma or either
	Where      map[string]string   `yaml:"where"`     // only rows with this text in this column
	Without    map[string][]string `yaml:"without"`   // no rows with one of these texts in this column
	Ignore     []string            `yaml:"ignore"`    // columns that are not looked at
	FillDown   []string            `yaml:"fill_down"` // columns whose blanks repeat the cell above
	Same       map[string]string   `yaml:"same"`      // spelling → the code that is meant
}

// sheetColumn is the column in which the name of a sheet or file stands when several are
// read as one table.
const sheetColumn = "sheet"

// SheetRoles are what a sheet can be.
func SheetRoles() []string { return []string{"trainee", "session", "arm", "task"} }

// settle lists what is wrong with a layout.
func (l Layout) settle(where string) Problems {
	var ps Problems
	word := func(key, value string, known []string) {
		if value != "" && !slices.Contains(known, value) {
			ps = append(ps, Problem{File: StudyFile, Column: where + ": " + key, Value: value, Err: problem.ErrUnknown, Expect: "one of " + strings.Join(known, ", ")})
		}
	}
	word("sheets_are", l.SheetsAre, SheetRoles())
	word("encoding", l.Encoding, grid.Encodings())
	word("separator", l.Separator, Separators())
	word("decimal", l.Decimal, DecimalMarks())
	if l.SkipRows < 0 || l.SkipRows > 10000 {
		ps = append(ps, Problem{File: StudyFile, Column: where + ": skip_rows", Value: fmt.Sprint(l.SkipRows), Err: problem.ErrRange, Expect: "a whole number from 0 to 10000"})
	}
	return ps
}

// Separators are the words for what stands between cells.
func Separators() []string {
	var out []string
	for _, r := range append(grid.Separators, ' ') {
		out = append(out, grid.SeparatorWord(r))
	}
	return out
}

// headsLooked is how many rows are searched for column names.
const headsLooked = 60

// A head is the place of a table's column names.
type head struct {
	first, rows int
	names       []string
	found       int // wanted columns among them
}

// findHead finds the rows that hold the column names: those with the names wanted, or the
// first row with more than a title in it.
func (l Layout) findHead(g *grid.Grid, wanted []string) head {
	var rows []int
	for i := 0; i < g.Rows() && len(rows) < headsLooked; i++ {
		if int(g.Lines[i]) > l.SkipRows && !g.BlankRow(i) {
			rows = append(rows, i)
		}
	}
	if len(rows) == 0 {
		return head{first: -1}
	}
	depths := []int{1, 2, 3}
	if l.HeadRows > 0 {
		depths = []int{l.HeadRows}
	}
	best := head{first: -1}
	for _, n := range depths {
		for k := 0; k+n <= len(rows) && (l.SkipRows == 0 || k == 0); k++ {
			h := head{first: rows[k], rows: n, names: joinHeads(g, rows[k:k+n])}
			for _, w := range wanted {
				if slices.Contains(h.names, w) {
					h.found++
				}
			}
			if h.found > best.found || best.first < 0 && h.found > 0 {
				best = h
			}
		}
	}
	if best.found == 0 {
		best = head{first: rows[plainHead(g, rows)], rows: max(1, l.HeadRows)}
	}
	k := slices.Index(rows, best.first)
	if l.HeadRows == 0 {
		k, best.rows = moreHeads(g, rows, k, best.rows)
	}
	best.first = rows[k]
	best.names = joinHeads(g, rows[k:min(k+best.rows, len(rows))])
	best.ownNames(g, rows[min(k+best.rows, len(rows))-1], wanted)
	if l.HeadRows == 0 && best.rows == 1 {
		l.indexBelow(g, rows, k, &best)
	}
	return best
}

// ownNames gives a column that is wanted, and named so in the last row of names alone, that name without what stands
// above it, such as the word Attempt in the corner of a table.
func (h *head) ownNames(g *grid.Grid, last int, wanted []string) {
	for _, w := range wanted {
		at, n := 0, 0
		for j := range h.names {
			if oneLine(g.Text(last, j)) == w {
				at, n = j, n+1
			}
		}
		if n == 1 && !slices.Contains(h.names, w) {
			h.names[at] = w
		}
	}
}

// indexBelow takes the names of all columns but the first from the rows above a row that names the first alone,
// as data programs write a pivot table.
func (l Layout) indexBelow(g *grid.Grid, rows []int, k int, h *head) {
	if k == 0 || k+1 >= len(rows) || len(g.Filled(rows[k])) != 1 || g.At(rows[k], 0) == 0 || len(g.Filled(rows[k+1])) < 3 {
		return
	}
	from := k
	for from > 0 && k-from < 2 && rows[from-1] == rows[from]-1 && len(g.Filled(rows[from-1])) > 1 {
		from--
	}
	if from == k {
		return
	}
	h.names = joinHeads(g, rows[from:k])
	h.names[0] = g.Text(rows[k], 0)
	h.first, h.rows = rows[from], k-from+1
}

// plainHead is the first row with more than one cell, or the first one.
func plainHead(g *grid.Grid, rows []int) int {
	for k, i := range rows {
		if len(g.Filled(i)) > 1 {
			return k
		}
	}
	return 0
}

// moreHeads adds rows above that group names which repeat, and rows below that name what
// the head leaves open.
func moreHeads(g *grid.Grid, rows []int, k, n int) (int, int) {
	before := k
	for n < 3 && k > 0 && repeats(joinHeads(g, rows[k:k+n])) && len(g.Filled(rows[k-1])) > 1 && rows[k-1] == rows[k]-1 {
		k, n = k-1, n+1
	}
	if k < before {
		return k, n
	}
	for n < 3 && k+n < len(rows)-1 {
		below := rows[k+n]
		filled := g.Filled(below)
		named, open := 0, 0
		for _, j := range filled {
			if g.At(below, j) == g.At(rows[k+n-1], j) {
				continue // merged with the name above
			}
			if ownName(g, rows[k:k+n], j) && !groupHead(g, rows[k:k+n], j) {
				named++
			} else {
				open++
			}
		}
		if named > 0 || open < 2 || g.At(below, 0) != 0 && g.At(below, 0) != g.At(rows[k+n-1], 0) {
			break
		}
		n++
	}
	return k, n
}

// groupHead reports whether a head's cell stands above several columns: blank cells follow
// it in its row.
func groupHead(g *grid.Grid, heads []int, j int) bool {
	last := heads[len(heads)-1]
	return g.At(last, j) != 0 && g.At(last, j+1) == 0 && j+1 < len(g.Cols)
}

// ownName reports whether a column has a cell of its own in the rows of names, rather than
// standing under one that spans several.
func ownName(g *grid.Grid, heads []int, j int) bool {
	return slices.ContainsFunc(heads, func(i int) bool { return g.At(i, j) != 0 })
}

func repeats(names []string) bool {
	seen := map[string]bool{}
	for _, n := range names {
		if n != "" && seen[n] {
			return true
		}
		seen[n] = true
	}
	return false
}

// oneLine is a name whose line breaks are spaces.
func oneLine(name string) string {
	if !strings.Contains(name, "\n") {
		return name
	}
	return strings.Join(strings.Fields(name), " ")
}

// joinHeads fills each row of names to the right (merged cells leave only their first
// cell filled), except the last, and joins the rows with a space. A name with nothing
// below it is not filled to the right, and parts that repeat are said once.
func joinHeads(g *grid.Grid, heads []int) []string {
	out := make([]string, len(g.Cols))
	for k, i := range heads {
		last := ""
		for j := range out {
			cell := oneLine(g.Text(i, j))
			if cell == "" && k < len(heads)-1 {
				cell = last
			}
			last = cell
			if k < len(heads)-1 && g.At(heads[k+1], j) == 0 && g.At(i, j) != 0 {
				last = ""
			}
			if cell != "" && !slices.Contains(strings.Fields(out[j]), cell) && out[j] != cell {
				out[j] = strings.TrimSpace(out[j] + " " + cell)
			}
		}
	}
	for len(out) > 0 && out[len(out)-1] == "" {
		out = out[:len(out)-1]
	}
	return out
}

// Encodings are the names of encodings that a Layout may have.
func Encodings() []string { return grid.Encodings() }
