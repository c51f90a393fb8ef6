package datasets

import "fmt"

// marks are what a spreadsheet shows of a cell besides its text, which is no data and
// often meant as such. Lines count as the spreadsheet does.
type marks struct {
	struck   []int32                // lines with a cell that is struck out
	coloured map[int][]int32        // by column: lines with a cell that has a colour of its own
	letters  map[int][]int32        // by column: lines with a cell whose letters are bold, slanted or coloured
	words    map[int]map[string]int // by column: what formats show beside numbers, and how often
	comments int                    // notes on cells, in the whole file
}

// noteMarks notes what a spreadsheet shows that is not read.
func (t *table) noteMarks(g *grid) {
	if len(t.keep) == 0 {
		return
	}
	from, to := int32(t.line(0)), int32(t.line(len(t.keep)-1))
	inside := func(lines []int32) []int {
		var out []int
		for _, n := range lines {
			if n >= from && n <= to && (len(out) == 0 || out[len(out)-1] != int(n)) {
				out = append(out, int(n))
			}
		}
		return out
	}
	if lines := inside(g.marks.struck); len(lines) > 0 {
		t.note("struck-out", fmt.Sprintf("%s: %d rows have cells that are struck out, and are read like the others (row %s); delete them where they do not count", t.file, len(lines), clipLines(lines)))
	}
	some := func(marked map[int][]int32) (columns []string, first []int) {
		for j, name := range t.header {
			lines := inside(marked[j])
			if name != "" && len(lines) > 0 && 3*len(lines) <= len(t.keep)+2 {
				columns = append(columns, name)
				if first == nil {
					first = lines
				}
			}
		}
		return columns, first
	}
	if columns, first := some(g.marks.coloured); len(columns) > 0 {
		t.note("coloured-cells", fmt.Sprintf("%s: some cells in column %s have a colour of their own (row %s); colours are not read: write what they mean into a column", t.file, clipList(columns, 5), clipLines(first)))
	}
	if columns, first := some(g.marks.letters); len(columns) > 0 {
		t.note("lettered-cells", fmt.Sprintf("%s: some cells in column %s are bold, slanted or in a colour of their own (row %s); that is not read: write what it means into a column", t.file, clipList(columns, 5), clipLines(first)))
	}
	for j, name := range t.header {
		if words := sortedKeys(g.marks.words[j]); name != "" && len(words) > 0 {
			t.note("shown-with-words", fmt.Sprintf("%s: the spreadsheet shows %q beside %d numbers of column %s, which is not read; where it is a unit say it with --times, and where it is a mark write what it means into a column", t.file, clipList(words, 3), g.marks.words[j][words[0]], name))
		}
	}
	if g.marks.comments > 0 {
		t.note("cell-comments", fmt.Sprintf("%s: %d comments on cells are not read", t.file, g.marks.comments))
	}
	t.noteMergedAcross(g, from, to)
}

// noteMergedAcross notes cells of data that stand across several columns: only the first
// column has their text.
func (t *table) noteMergedAcross(g *grid, from, to int32) {
	var lines []int
	column := ""
	for _, m := range g.merges {
		if m.left == m.right || m.top >= len(g.lines) || g.lines[m.top] < from || g.lines[m.top] > to || g.at(m.top, m.left) == 0 {
			continue
		}
		named := 0
		for j := m.left; j <= m.right && j < len(t.header); j++ {
			if t.header[j] != "" {
				named++
			}
		}
		if named > 1 {
			lines = append(lines, int(g.lines[m.top]))
			column = first(column, t.header[m.left])
		}
	}
	if len(lines) > 0 {
		t.note("merged-across", fmt.Sprintf("%s: %d cells stand across several columns and are read as those of the first alone, such as %s (row %s)", t.file, len(lines), column, clipLines(lines)))
	}
}
