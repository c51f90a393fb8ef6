package datasets

import (
	"cmp"
	"fmt"
	"slices"

	"tyro/datasets/internal/grid"
	"tyro/datasets/problem"
)

// noteMarks notes what a spreadsheet shows that is not read.
func (t *table) noteMarks(g *grid.Grid) {
	if len(t.keep) == 0 {
		return
	}
	m := &g.Marks
	if lines := t.linesOf(m.Struck); len(lines) > 0 {
		t.note("struck-out", fmt.Sprintf("%s: %d rows have cells that are struck out, and are read like the others (row %s); delete them where they do not count", t.file, len(lines), problem.Lines(lines)))
	}
	if lines := t.linesOf(m.Partly); len(lines) > 0 {
		t.note("struck-out", fmt.Sprintf("%s: in %d rows a part of a cell is struck out, and is read with the rest of it (row %s, %q); leave in the cell what counts alone", t.file, len(lines), problem.Lines(lines), problem.Clip(t.firstOf(m.Partly, g))))
	}
	if columns, lines := t.standApart(m.Coloured); len(columns) > 0 {
		t.note("coloured-cells", fmt.Sprintf("%s: some cells in column %s have a colour of their own (row %s); colours are not read: write what they mean into a column", t.file, problem.List(columns, 5), problem.Lines(lines)))
	}
	if columns, lines := t.standApart(m.Letters); len(columns) > 0 {
		t.note("lettered-cells", fmt.Sprintf("%s: some cells in column %s are bold, slanted or in a colour of their own (row %s); that is not read: write what it means into a column", t.file, problem.List(columns, 5), problem.Lines(lines)))
	}
	columns, lines := t.standApart(m.Lined)
	if len(columns) == 0 { // every cell has lines, and those of some are thick
		columns, lines = t.standApart(m.Thick)
	}
	if len(columns) > 0 {
		t.note("boxed-cells", fmt.Sprintf("%s: some cells in column %s have a box drawn around them (row %s); boxes are not read: write what they mean into a column", t.file, problem.List(columns, 5), problem.Lines(lines)))
	}
	t.noteWords(m.Words)
	t.noteComments(m.Comments)
	t.noteMergedAcross(g)
}

// holds reports whether a row of the grid is one of those from the first row of data to the last.
func (t *table) holds(row int32) bool {
	return row >= t.keep[0] && row <= t.keep[len(t.keep)-1]
}

// linesOf are the lines of some cells that are data.
func (t *table) linesOf(cells []grid.Mark) []int {
	var out []int
	for _, c := range cells {
		if t.holds(c.Row) {
			out = append(out, int(t.lines[c.Row]))
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// firstOf is the text of the first of some cells that are data.
func (t *table) firstOf(cells []grid.Mark, g *grid.Grid) string {
	for _, c := range cells {
		if t.holds(c.Row) {
			return g.Text(int(c.Row), int(c.Col))
		}
	}
	return ""
}

// standApart are the columns of which up to a third of the cells are among some, with the lines of
// these in the first such column.
func (t *table) standApart(cells []grid.Mark) (columns []string, first []int) {
	if len(cells) == 0 {
		return nil, nil
	}
	of := make([][]grid.Mark, len(t.header))
	for _, c := range cells {
		if int(c.Col) < len(of) {
			of[c.Col] = append(of[c.Col], c)
		}
	}
	for j, name := range t.header {
		lines := t.linesOf(of[j])
		if name != "" && len(lines) > 0 && 3*len(lines) <= len(t.keep)+2 {
			columns = append(columns, name)
			if first == nil {
				first = lines
			}
		}
	}
	return columns, first
}

// noteWords notes what formats show beside the numbers of a column.
func (t *table) noteWords(words map[string][]grid.Mark) {
	counts := make([]map[string]int, len(t.header))
	for word, cells := range words {
		for _, c := range cells {
			if int(c.Col) >= len(counts) {
				continue
			}
			if counts[c.Col] == nil {
				counts[c.Col] = map[string]int{}
			}
			counts[c.Col][word]++
		}
	}
	for j, name := range t.header {
		if shown := sortedKeys(counts[j]); name != "" && len(shown) > 0 {
			t.note("shown-with-words", fmt.Sprintf("%s: the spreadsheet shows %q beside %d numbers of column %s, which is not read; where it is a unit say it with --times, and where it is a mark write what it means into a column", t.file, problem.List(shown, 3), counts[j][shown[0]], name))
		}
	}
}

// noteMergedAcross notes cells of data that stand across several columns: only the first
// column has their text.
func (t *table) noteMergedAcross(g *grid.Grid) {
	var lines []int
	column := ""
	for _, m := range g.Merges {
		if m.Left == m.Right || !t.holds(int32(m.Top)) || g.At(m.Top, m.Left) == 0 {
			continue
		}
		named := 0
		for j := m.Left; j <= m.Right && j < len(t.header); j++ {
			if t.header[j] != "" {
				named++
			}
		}
		if named > 1 {
			lines = append(lines, int(g.Lines[m.Top]))
			column = cmp.Or(column, t.header[m.Left])
		}
	}
	if len(lines) > 0 {
		t.note("merged-across", fmt.Sprintf("%s: %d cells stand across several columns and are read as those of the first alone, such as %s (row %s)", t.file, len(lines), column, problem.Lines(lines)))
	}
}

// mostQuoted is how many comments a note quotes.
const mostQuoted = 5

// noteComments notes comments on cells, those on rows of data first, with their first words.
func (t *table) noteComments(all []grid.Comment) {
	if len(all) == 0 {
		return
	}
	from, to := t.line(0), t.line(len(t.keep)-1)
	all = slices.Clone(all)
	slices.SortStableFunc(all, func(a, b grid.Comment) int { return beyond(a, from, to) - beyond(b, from, to) })
	var said []string
	for _, c := range all {
		said = append(said, fmt.Sprintf("%s: %q", cellName(c.Line, c.Col), problem.Clip(c.Text)))
	}
	t.note("cell-comments", fmt.Sprintf("%s: %d comments on cells are not read (%s); write what they mean into a column, and leave out what does not count", t.file, len(all), problem.List(said, mostQuoted)))
}

// beyond is 1 for a comment above or below some lines.
func beyond(c grid.Comment, from, to int) int {
	if c.Line < from || c.Line > to {
		return 1
	}
	return 0
}

// cellName is the place of a cell as spreadsheets write it, such as B7.
func cellName(line, col int) string {
	name := ""
	for n := col + 1; n > 0; n = (n - 1) / 26 {
		name = string(rune('A'+(n-1)%26)) + name
	}
	return fmt.Sprint(name, line)
}
