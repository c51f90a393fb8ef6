package datasets

import (
	"bytes"
	"fmt"
	"slices"
)

// marks are what a spreadsheet shows of cells besides their text, which is no data and often
// meant as such.
type marks struct {
	struck   []mark // cells that are struck out
	partly   []mark // cells of which some letters are struck out, and others are not
	coloured []mark // cells with a colour of their own
	letters  []mark // cells with letters that are bold, slanted, underlined or coloured
	lined    []mark // cells with a line at their left or right
	thick    []mark // of these, those with a thick one
	words    map[string][]mark
	comments []comment
}

// A mark is a cell, by row and column of its grid.
type mark struct{ row, col int32 }

// mostMarks bounds the cells of one kind that are remembered; of more than these none stands
// apart from the others.
const mostMarks = 4 << 20

// A look is what a spreadsheet shows of one cell besides its text.
type look struct {
	struck, partly, filled, letters bool
	lines                           lineKind
	words                           string // what the format shows beside a number
}

// A lineKind is how thick the lines at the left and the right of a cell are.
type lineKind uint8

const (
	noLine lineKind = iota
	thinLine
	thickLine
)

// with is a look to which that of a cell's letters is added.
func (l look) with(letters look) look {
	l.struck = l.struck || letters.struck
	l.partly = !l.struck && (l.partly || letters.partly)
	l.filled, l.letters = l.filled || letters.filled, l.letters || letters.letters
	return l
}

// add remembers how a cell looks.
func (m *marks) add(row, col int, l look) {
	if l == (look{}) {
		return
	}
	at := mark{int32(row), int32(col)}
	put := func(list *[]mark, has bool) {
		if has && len(*list) < mostMarks {
			*list = append(*list, at)
		}
	}
	put(&m.struck, l.struck)
	put(&m.partly, l.partly)
	put(&m.coloured, l.filled)
	put(&m.letters, l.letters)
	put(&m.lined, l.lines >= thinLine)
	put(&m.thick, l.lines == thickLine)
	if l.words != "" {
		if m.words == nil {
			m.words = map[string][]mark{}
		}
		list := m.words[l.words]
		put(&list, true)
		m.words[l.words] = list
	}
}

// transposed are the marks of a grid whose rows become columns.
func (m marks) transposed() marks {
	turn := func(list []mark) []mark {
		out := make([]mark, len(list))
		for k, at := range list {
			out[k] = mark{at.col, at.row}
		}
		return out
	}
	out := marks{struck: turn(m.struck), partly: turn(m.partly), coloured: turn(m.coloured), letters: turn(m.letters), lined: turn(m.lined), thick: turn(m.thick), comments: m.comments}
	for word, list := range m.words {
		if out.words == nil {
			out.words = map[string][]mark{}
		}
		out.words[word] = turn(list)
	}
	return out
}

// A lettering follows a text whose parts may look unlike each other.
type lettering struct {
	now           look // of the part being read
	all           look
	struck, plain bool
}

// take adds some letters of the part being read.
func (l *lettering) take(text []byte) {
	if len(bytes.TrimSpace(text)) == 0 {
		return
	}
	l.struck, l.plain = l.struck || l.now.struck, l.plain || !l.now.struck
	l.all.letters = l.all.letters || l.now.letters
	l.all.filled = l.all.filled || l.now.filled
}

// look is how the text as a whole looks.
func (l *lettering) look() look {
	out := l.all
	out.struck, out.partly = l.struck && !l.plain, l.struck && l.plain
	return out
}

// noteMarks notes what a spreadsheet shows that is not read.
func (t *table) noteMarks(g *grid) {
	if len(t.keep) == 0 {
		return
	}
	m := &g.marks
	if lines := t.linesOf(m.struck); len(lines) > 0 {
		t.note("struck-out", fmt.Sprintf("%s: %d rows have cells that are struck out, and are read like the others (row %s); delete them where they do not count", t.file, len(lines), clipLines(lines)))
	}
	if lines := t.linesOf(m.partly); len(lines) > 0 {
		t.note("struck-out", fmt.Sprintf("%s: in %d rows a part of a cell is struck out, and is read with the rest of it (row %s, %q); leave in the cell what counts alone", t.file, len(lines), clipLines(lines), clip(t.firstOf(m.partly, g))))
	}
	if columns, lines := t.standApart(m.coloured); len(columns) > 0 {
		t.note("coloured-cells", fmt.Sprintf("%s: some cells in column %s have a colour of their own (row %s); colours are not read: write what they mean into a column", t.file, clipList(columns, 5), clipLines(lines)))
	}
	if columns, lines := t.standApart(m.letters); len(columns) > 0 {
		t.note("lettered-cells", fmt.Sprintf("%s: some cells in column %s are bold, slanted or in a colour of their own (row %s); that is not read: write what it means into a column", t.file, clipList(columns, 5), clipLines(lines)))
	}
	columns, lines := t.standApart(m.lined)
	if len(columns) == 0 { // every cell has lines, and those of some are thick
		columns, lines = t.standApart(m.thick)
	}
	if len(columns) > 0 {
		t.note("boxed-cells", fmt.Sprintf("%s: some cells in column %s have a box drawn around them (row %s); boxes are not read: write what they mean into a column", t.file, clipList(columns, 5), clipLines(lines)))
	}
	t.noteWords(m.words)
	t.noteComments(m.comments)
	t.noteMergedAcross(g)
}

// holds reports whether a row of the grid is one of those from the first row of data to the last.
func (t *table) holds(row int32) bool {
	return row >= t.keep[0] && row <= t.keep[len(t.keep)-1]
}

// linesOf are the lines of some cells that are data.
func (t *table) linesOf(cells []mark) []int {
	var out []int
	for _, c := range cells {
		if t.holds(c.row) {
			out = append(out, int(t.lines[c.row]))
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// firstOf is the text of the first of some cells that are data.
func (t *table) firstOf(cells []mark, g *grid) string {
	for _, c := range cells {
		if t.holds(c.row) {
			return g.text(int(c.row), int(c.col))
		}
	}
	return ""
}

// standApart are the columns of which up to a third of the cells are among some, with the lines of
// these in the first such column.
func (t *table) standApart(cells []mark) (columns []string, first []int) {
	if len(cells) == 0 {
		return nil, nil
	}
	of := make([][]mark, len(t.header))
	for _, c := range cells {
		if int(c.col) < len(of) {
			of[c.col] = append(of[c.col], c)
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
func (t *table) noteWords(words map[string][]mark) {
	counts := make([]map[string]int, len(t.header))
	for word, cells := range words {
		for _, c := range cells {
			if int(c.col) >= len(counts) {
				continue
			}
			if counts[c.col] == nil {
				counts[c.col] = map[string]int{}
			}
			counts[c.col][word]++
		}
	}
	for j, name := range t.header {
		if shown := sortedKeys(counts[j]); name != "" && len(shown) > 0 {
			t.note("shown-with-words", fmt.Sprintf("%s: the spreadsheet shows %q beside %d numbers of column %s, which is not read; where it is a unit say it with --times, and where it is a mark write what it means into a column", t.file, clipList(shown, 3), counts[j][shown[0]], name))
		}
	}
}

// noteMergedAcross notes cells of data that stand across several columns: only the first
// column has their text.
func (t *table) noteMergedAcross(g *grid) {
	var lines []int
	column := ""
	for _, m := range g.merges {
		if m.left == m.right || !t.holds(int32(m.top)) || g.at(m.top, m.left) == 0 {
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
