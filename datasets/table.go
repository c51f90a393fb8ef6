package datasets

import (
	"context"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"unicode/utf8"

	"tyro/analysis/practice"
	"tyro/datasets/internal/grid"
	"tyro/datasets/problem"
)

// A table is a sheet, or several with the same columns, as named columns of cells: what
// was written, not yet what it means.
type table struct {
	file     string
	calendar grid.Calendar
	pool     *grid.Pool
	header   []string
	cols     [][]grid.Cell  // as long as the longest; blank beyond
	packed   []packedColumn // in place of cols, where they have few different cells; nil for none
	lines    []int32        // of each row of cols
	keep     []int32        // the rows that are data, in order
	parts    []part         // sheets or files put one below the other; nil for one
	sources  []source       // files put one below the other; nil for one
	heads    []int          // of each column, the table of several in which it stood first
	twice    []string       // names that several columns have
	above    []string       // cells above the names

	spreadsheet bool
	nested      []string // columns whose cells hold lists, which are not read
	hiddenCols  []string
	read        practice.FileRead
	notes       []Note
}

// A part is a sheet or file whose rows begin at a row of the table.
type part struct {
	from int
	name string // as problems name it
}

func (t *table) rows() int                   { return len(t.keep) }
func (t *table) kind(id grid.Cell) grid.Kind { return t.pool.Kind(id) }
func (t *table) line(i int) int              { return int(t.lines[t.keep[i]]) }
func (t *table) textOf(id grid.Cell) string  { return t.pool.Text(id) }
func (t *table) column(name string) int      { return slices.Index(t.header, name) }
func (t *table) text(i, j int) string        { return t.pool.Text(t.cell(i, j)) }
func (t *table) note(code, text string)      { t.notes = append(t.notes, Note{Code: code, Text: text}) }
func (t *table) drop(i int, why string) {
	read := &t.read
	if t.sources != nil {
		read = &t.sources[t.sourceAt(i)].read
	}
	read.Dropped = append(read.Dropped, practice.DroppedRow{Row: t.line(i), Reason: why})
}
func (t *table) isNested(name string) bool { return slices.Contains(t.nested, name) }
func (t *table) named(name string) string  { return fmt.Sprintf("%s: %s", t.file, name) }

// cell is a cell of a row that is data; blank for no column.
func (t *table) cell(i, j int) grid.Cell {
	if j < 0 {
		return 0
	}
	r := int(t.keep[i])
	if t.packed != nil && t.packed[j].at != nil {
		if p := &t.packed[j]; r < len(p.at) {
			return p.cells[p.at[r]]
		}
		return 0
	}
	if r < len(t.cols[j]) {
		return t.cols[j][r]
	}
	return 0
}

// place is the file, or the sheet of it, in which a row stands.
func (t *table) place(i int) string {
	if t.parts == nil {
		return t.file
	}
	return t.parts[t.partAt(i)].name
}

// partNames are the names of the parts; nil for one.
func (t *table) partNames() []string {
	var out []string
	for _, p := range t.parts {
		out = append(out, p.name)
	}
	return out
}

// partAt is the part in which a row stands.
func (t *table) partAt(i int) int {
	for k := len(t.parts) - 1; k > 0; k-- {
		if t.parts[k].from <= int(t.keep[i]) {
			return k
		}
	}
	return 0
}

// dropRows leaves out rows of which a reason is given.
func (t *table) dropRows(reason func(i int) string) int {
	n := 0
	var kept []int32
	for i, r := range t.keep {
		switch why := reason(i); {
		case why != "":
			if n == 0 {
				kept = append(make([]int32, 0, len(t.keep)), t.keep[:i]...)
			}
			t.drop(i, why)
			n++
		case n > 0:
			kept = append(kept, r)
		}
	}
	if n > 0 {
		t.keep = kept
	}
	return n
}

// readTable reads a table of any format. The columns wanted help to find the sheet and the
// rows with the names.
func readTable(ctx context.Context, path string, data []byte, l Layout, wanted []string) (*table, error) {
	file := filepath.Base(path)
	switch format := grid.FormatOf(data); {
	case format == "a ZIP archive":
		b, err := grid.OpenBook(file, data)
		if err != nil {
			return nil, err
		}
		return sheets{file, b}.table(ctx, l, wanted)
	case format == "Parquet":
		g, err := grid.ReadParquet(ctx, file, data)
		if err != nil {
			return nil, err
		}
		return newTable(g, l, wanted)
	case format != "":
		return nil, Problem{File: file, Err: problem.ErrFormat, Expect: "a table as CSV, TSV, XLSX, ODS or Parquet; this is " + format}
	}
	switch ext := strings.ToLower(filepath.Ext(path)); {
	case strings.HasPrefix(file, "~$") || strings.HasPrefix(file, ".~lock."):
		return nil, Problem{File: file, Err: problem.ErrFormat, Expect: "a table; this is the mark that a spreadsheet program leaves beside a file that is open: name the file itself"}
	case ext == ".xls" && utf8.Valid(data): // as many devices call their tables of text
	case slices.Contains([]string{".xlsx", ".ods", ".parquet", ".xls"}, ext):
		return nil, Problem{File: file, Err: problem.ErrFormat, Expect: fmt.Sprintf("a file of the kind %s; this is none, or a damaged one (text? then rename it to .csv)", strings.TrimPrefix(ext, "."))}
	}
	encoding := l.Encoding
	if encoding == "" {
		encoding = grid.EncodingOfNames(data, wanted)
	}
	g, err := grid.ReadText(ctx, file, data, encoding, l.Separator)
	if err != nil {
		return nil, err
	}
	if encoding != l.Encoding {
		g.Notes = append(g.Notes, Note{Code: "encoding-taken", Text: fmt.Sprintf("%s is not UTF-8 and is read as %s, in which it has the columns that are named; if letters look wrong say --encoding (in a study file: encoding)", file, g.Encoding)})
	}
	return newTable(g, l, wanted)
}

// newTable finds the names of a grid's columns, and the rows that are data.
func newTable(g *grid.Grid, l Layout, wanted []string) (*table, error) {
	if g.Separator == 0 && g.Format != "Parquet" {
		if n := g.FillMerged(); n > 0 {
			g.Notes = append(g.Notes, Note{Code: "merged-cells", Text: fmt.Sprintf("%s: %d blank cells below merged ones take the text that the merged cell shows", g.File, n)})
		}
	}
	if l.Transposed || turned(g, l, wanted) {
		t, err := g.Transpose()
		if err != nil {
			return nil, err
		}
		t.Notes = append(t.Notes, Note{Code: "transposed", Text: fmt.Sprintf("%s has its column names in the first column and is read across", g.File)})
		g = t
	}
	h := l.findHead(g, wanted)
	if h.first < 0 {
		return nil, Problem{File: g.File, Err: problem.ErrMissing, Expect: "a header row and at least one row of data, but the file is empty"}
	}
	t := &table{file: g.File, calendar: g.Calendar, pool: g.Pool, header: h.names, cols: g.Cols, lines: g.Lines, spreadsheet: g.Separator == 0, nested: g.Nested, notes: g.Notes}
	t.read = practice.FileRead{File: g.File, Sheet: g.Sheet, Format: g.Format, Encoding: g.Encoding, Separator: grid.SeparatorWord(g.Separator)}
	if t.spreadsheet {
		t.read.Separator = "none"
	}
	t.nameColumns(g, h)
	if err := t.takeRows(g, h); err != nil {
		return nil, err
	}
	t.hidden(g)
	t.noteMarks(g)
	t.fillDown(l)
	t.only(l)
	t.without(l)
	return t, nil
}

// turned reports whether the names wanted stand below each other in the first column.
func turned(g *grid.Grid, l Layout, wanted []string) bool {
	if len(wanted) < 2 || l.HeadRows > 0 || l.findHead(g, wanted).found > 0 && l.findHead(g, wanted).found > 1 {
		return false
	}
	found := 0
	for i := range min(g.Rows(), headsLooked) {
		if slices.Contains(wanted, g.Text(i, 0)) {
			found++
		}
	}
	return found == len(wanted)
}

// nameColumns settles the names: none twice, and a name for a running number that data
// programs put first without one.
func (t *table) nameColumns(g *grid.Grid, h head) {
	for len(t.header) < len(t.cols) {
		t.header = append(t.header, "")
	}
	t.header = unplace(t.header)
	seen := map[string]int{}
	for j, name := range t.header {
		if name == "" {
			continue
		}
		if seen[name]++; seen[name] > 1 {
			if !slices.Contains(t.twice, name) {
				t.twice = append(t.twice, name)
			}
			t.header[j] = repeatedName(name, j)
		}
	}
	if above := h.first; above > 0 && !slices.ContainsFunc(t.notes, func(n Note) bool { return n.Code == "title-lines" }) {
		n := 0
		var said []string
		for i := range above {
			if !g.BlankRow(i) {
				n++
			}
			for _, j := range g.Filled(i) {
				said = append(said, g.Text(i, j))
			}
		}
		t.above = said
		if n > 0 {
			t.note("title-lines", fmt.Sprintf("%s: %d lines above the column names (line %d) are not read: %q; where they say a unit, a task or what does not count, say so by flags", g.File, n, g.Lines[h.first], problem.Clip(problem.List(said, 6))))
		}
	}
}

// takeRows lists the rows that are data: those below the names that are not blank, not
// the names again and no note below the table.
func (t *table) takeRows(g *grid.Grid, h head) error {
	lastHead := h.first
	for n := 1; n < h.rows; {
		if lastHead++; lastHead >= g.Rows() || !g.BlankRow(lastHead) {
			n++
		}
	}
	t.keep = make([]int32, 0, max(0, g.Rows()-lastHead-1))
	for i := lastHead + 1; i < g.Rows(); i++ {
		if !g.BlankRow(i) {
			t.keep = append(t.keep, int32(i))
		}
	}
	if len(t.keep) == 0 {
		return Problem{File: t.file, Line: int(g.Lines[h.first]), Err: problem.ErrMissing, Expect: "rows of data below the header"}
	}
	if err := t.checkWidths(g, h); err != nil {
		return err
	}
	t.read.Rows = len(t.keep)
	t.indexColumn()
	if err := t.otherNames(g, h); err != nil {
		return err
	}
	again := t.dropRows(func(i int) string {
		same := 0
		for j := range t.cols {
			id := g.At(h.first, j)
			if h.rows > 1 || t.cell(i, j) != id {
				return ""
			}
			if id != 0 {
				same++
			}
		}
		if same < 2 {
			return ""
		}
		return "the column names again"
	})
	if again > 0 {
		t.note("repeated-head", fmt.Sprintf("%s: %d rows repeat the column names and are not read", t.file, again))
	}
	t.dropNotesBelow()
	return nil
}

// otherNames reports a row that holds the names of the columns again, in another order.
func (t *table) otherNames(g *grid.Grid, h head) error {
	if h.rows > 1 {
		return nil
	}
	names := map[grid.Cell]bool{}
	for j := range t.cols {
		names[g.At(h.first, j)] = true
	}
	delete(names, 0)
	if len(names) < 3 {
		return nil
	}
	for i := range t.keep {
		if !names[t.cell(i, 0)] {
			continue
		}
		seen, moved := map[grid.Cell]bool{}, false
		for j := range t.cols {
			if id := t.cell(i, j); names[id] {
				seen[id], moved = true, moved || id != g.At(h.first, j)
			}
		}
		if moved && len(seen) == len(names) {
			return Problem{File: t.file, Line: t.line(i), Err: problem.ErrFormat, Expect: "the columns in one order; this row holds their names again in another, and what stands below it belongs under those: put the columns into one order, or the rows into a file of their own"}
		}
	}
	return nil
}

// apart reports whether a row that is narrower than the table stands below a blank line,
// and has no number: a note, cut at its commas.
func (t *table) apart(i int) bool {
	if i == 0 || t.line(i)-t.line(i-1) < 2 {
		return false
	}
	for j := range t.cols {
		if _, isNumber := grid.ParseNumber(t.text(i, j), false); isNumber {
			return false
		}
	}
	return true
}

// dropNotesBelow leaves out rows at the end with a single cell where the table has three
// columns or more, and notes set apart.
func (t *table) dropNotesBelow() {
	named := 0
	for _, h := range t.header {
		if h != "" {
			named++
		}
	}
	from := len(t.keep)
	for from > 1 && named > 2 && (t.onlyText(from-1) || !t.spreadsheet && t.cellsIn(from-1) < named && t.apart(from-1)) {
		from--
	}
	if from == len(t.keep) {
		return
	}
	var said []string
	for i := from; i < len(t.keep); i++ {
		for j := range t.cols {
			if s := t.text(i, j); s != "" {
				said = append(said, s)
			}
		}
	}
	n := t.dropRows(func(i int) string {
		if i < from {
			return ""
		}
		return "a note below the table"
	})
	t.note("notes-below", fmt.Sprintf("%s: %d rows at the end are notes below the table, and are not read: %q; where they say a unit or what does not count, say so by flags", t.file, n, problem.Clip(problem.List(said, 6))))
}

// onlyText reports whether a row holds a single cell, and no number.
func (t *table) onlyText(i int) bool {
	for j := range t.cols {
		if s := t.text(i, j); s != "" {
			_, isNumber := grid.ParseNumber(s, strings.Contains(s, ","))
			return !isNumber && t.cellsIn(i) == 1
		}
	}
	return false
}

func (t *table) cellsIn(i int) int {
	n := 0
	for j := range t.cols {
		if t.cell(i, j) != 0 {
			n++
		}
	}
	return n
}

// indexColumn gives a name to a first column without one that counts the rows.
func (t *table) indexColumn() {
	if len(t.header) == 0 || t.header[0] != "" {
		return
	}
	for i := range t.keep {
		v, ok := grid.ParseNumber(t.text(i, 0), false)
		if first, _ := grid.ParseNumber(t.text(0, 0), false); !ok || v != first+float64(i) || first > 1 || first < 0 {
			return
		}
	}
	t.note("index-column", t.named("the first column has no name and counts the rows; it is not read"))
}

// checkWidths reports rows of another width than the head; rows of a spreadsheet have none.
func (t *table) checkWidths(g *grid.Grid, h head) error {
	if t.spreadsheet || h.rows > 1 {
		return nil
	}
	width := int(g.Widths[h.first])
	for width > 0 && g.At(h.first, width-1) == 0 && t.narrower(g, width) {
		width--
	}
	last := len(t.keep) - 1
	for last > 0 && int(g.Widths[t.keep[last]]) < width && (t.cellsIn(last) <= 1 || t.apart(last)) {
		last--
	}
	if more := t.oneMore(g, width, last); more {
		return t.shifted(g, width)
	}
	var ps Problems
	for i, r := range t.keep[:last+1] {
		n := int(g.Widths[r])
		if n == width || n > width && t.trailingBlank(g, int(r), width) {
			continue
		}
		p := Problem{File: t.file, Line: t.line(i), Err: problem.ErrFormat, Expect: fmt.Sprintf("%d cells, found %d", width, n)}
		if n > 1 && n < width {
			p.Expect += "; write every cell, blank where nothing is known, or take the row out"
			if i == len(t.keep)-1 && i > 0 {
				p.Expect += "; this is the last row, so that the file may have been cut off: get it again"
			}
		}
		if n == 1 && width > 1 {
			p.Expect += "; where this is a title within the table, put its text into a column of its own"
		}
		if n > width && g.Separator == ',' {
			p.Expect += "; where a comma is also the decimal mark, save the table with semicolons or tabs between the cells, and where a text has a comma in it, put that text into quotes"
		}
		ps = append(ps, p)
	}
	return ps.OrNil()
}

// narrower reports whether some row of data is narrower than a width.
func (t *table) narrower(g *grid.Grid, width int) bool {
	for _, r := range t.keep {
		if int(g.Widths[r]) < width {
			return true
		}
	}
	return false
}

// trailingBlank reports whether all that a row has beyond a width is blank, and a comma
// cannot have cut a decimal number in two.
func (t *table) trailingBlank(g *grid.Grid, r, width int) bool {
	for j := width; j < int(g.Widths[r]); j++ {
		if g.At(r, j) != 0 {
			return false
		}
	}
	if g.Separator != ',' {
		return true
	}
	points := false
	for j := range width - 1 {
		if digits(g.Text(r, j)) && digits(g.Text(r, j+1)) {
			for _, k := range t.keep { // a point anywhere shows that points mark decimals
				points = points || strings.Contains(g.Text(int(k), j), ".") || strings.Contains(g.Text(int(k), j+1), ".")
			}
			if !points {
				return false
			}
		}
	}
	return true
}

func digits(s string) bool {
	return s != "" && strings.Trim(s, "0123456789") == ""
}

// oneMore reports whether every row has one cell more than the head, and the first counts
// the rows: row names that data programs write without a name for their column.
func (t *table) oneMore(g *grid.Grid, width, last int) bool {
	for i, r := range t.keep[:last+1] {
		first, _ := grid.ParseNumber(g.Text(int(t.keep[0]), 0), false)
		v, ok := grid.ParseNumber(g.Text(int(r), 0), false)
		if int(g.Widths[r]) != width+1 || !ok || v != first+float64(i) || first > 1 {
			return false
		}
	}
	return last > 0
}

// shifted moves the names one column to the right, where row names stand first.
func (t *table) shifted(g *grid.Grid, width int) error {
	t.header = append([]string{""}, t.header[:width]...)
	for len(t.header) < len(t.cols) {
		t.header = append(t.header, "")
	}
	for len(t.cols) < len(t.header) { // the last name stands above blanks only
		t.cols = append(t.cols, nil)
	}
	return nil
}

// hidden notes rows and columns that the spreadsheet does not show.
func (t *table) hidden(g *grid.Grid) {
	for _, j := range g.HiddenCols {
		if j < len(t.header) && t.header[j] != "" {
			t.hiddenCols = append(t.hiddenCols, t.header[j])
		}
	}
	var lines []int
	for _, row := range g.HiddenRows {
		if _, kept := slices.BinarySearch(t.keep, int32(row)); kept {
			lines = append(lines, int(t.lines[row]))
		}
	}
	if len(lines) > 0 {
		t.note("hidden-rows", fmt.Sprintf("%s: %d rows that the spreadsheet hides are read like the others (row %s); delete them there if they do not count", t.file, len(lines), problem.Lines(lines)))
	}
}

// fillDown repeats the cell above in the columns named, where they are blank or hold a ditto mark.
func (t *table) fillDown(l Layout) {
	for _, name := range l.FillDown {
		j := t.column(name)
		if j < 0 {
			continue
		}
		col, last := make([]grid.Cell, len(t.lines)), grid.Cell(0)
		for i, r := range t.keep {
			if id := t.cell(i, j); id != 0 && !isDitto(t.textOf(id)) {
				last = id
			}
			col[r] = last
		}
		t.cols[j] = col
	}
}

// only keeps the rows that the layout asks for.
func (t *table) only(l Layout) {
	for _, name := range sortedKeys(l.Where) {
		j := t.column(name)
		if j < 0 {
			continue
		}
		n := t.dropRows(func(i int) string {
			if t.text(i, j) == l.Where[name] {
				return ""
			}
			return fmt.Sprintf("%s is not %s", name, l.Where[name])
		})
		t.note("rows-chosen", fmt.Sprintf("%s: %d rows are left out, because %s is not %s", t.file, n, name, l.Where[name]))
	}
}

// without leaves out the rows that the layout does not want.
func (t *table) without(l Layout) {
	for _, name := range sortedKeys(l.Without) {
		j := t.column(name)
		if j < 0 {
			continue
		}
		n := t.dropRows(func(i int) string {
			if !slices.Contains(l.Without[name], t.text(i, j)) {
				return ""
			}
			return fmt.Sprintf("%s is %s", name, t.text(i, j))
		})
		t.note("rows-left-out", fmt.Sprintf("%s: %d rows are left out, because %s is %s", t.file, n, name, strings.Join(l.Without[name], " or ")))
	}
}

// missing lists the columns that a layout names and the table lacks.
func (t *table) missing(l Layout) Problems {
	var ps Problems
	for _, name := range slices.Concat(sortedKeys(l.Where), sortedKeys(l.Without), l.FillDown, l.Ignore) {
		if t.column(name) < 0 {
			ps = append(ps, Problem{File: t.file, Line: 1, Column: name, Err: problem.ErrMissing, Expect: "a column of this name; the file has " + strings.Join(t.names(), ", ")})
		}
	}
	if len(t.keep) == 0 && len(ps) == 0 {
		ps = append(ps, Problem{File: t.file, Err: problem.ErrMissing, Expect: "rows of those who are asked for (where, without) and who consented (privacy); all were left out"})
	}
	return ps
}

// names lists the columns that have a name.
func (t *table) names() []string {
	return slices.DeleteFunc(slices.Clone(t.header), func(h string) bool { return h == "" })
}

// counted reports whether the first column has no name and counts the rows.
func (t *table) counted() bool {
	return slices.ContainsFunc(t.notes, func(n Note) bool { return n.Code == "index-column" })
}

// unknownCells lists formulas without a value in columns that have a name.
func (t *table) unknownCells() Problems {
	var ps Problems
	for j, name := range t.header {
		for i := range t.keep {
			if k := t.kind(t.cell(i, j)); name != "" && (k == grid.Uncalculated || k == grid.Broken) {
				ps = append(ps, Problem{File: t.place(i), Line: t.line(i), Column: name, Err: problem.ErrMissing, Expect: "a value; the formula in this cell was never calculated, or gives an error: open the file in a spreadsheet program and save it"})
			}
		}
	}
	return ps
}
