package grid

import (
	"bytes"
)

// marks are what a spreadsheet shows of cells besides their text, which is no data and often
// meant as such.
type marks struct {
	Struck   []Mark // cells that are struck out
	Partly   []Mark // cells of which some letters are struck out, and others are not
	Coloured []Mark // cells with a colour of their own
	Letters  []Mark // cells with letters that are bold, slanted, underlined or coloured
	Lined    []Mark // cells with a line at their left or right
	Thick    []Mark // of these, those with a thick one
	Words    map[string][]Mark
	Comments []Comment
}

// A Mark is a cell, by row and column of its grid.
type Mark struct{ Row, Col int32 }

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
	at := Mark{int32(row), int32(col)}
	put := func(list *[]Mark, has bool) {
		if has && len(*list) < mostMarks {
			*list = append(*list, at)
		}
	}
	put(&m.Struck, l.struck)
	put(&m.Partly, l.partly)
	put(&m.Coloured, l.filled)
	put(&m.Letters, l.letters)
	put(&m.Lined, l.lines >= thinLine)
	put(&m.Thick, l.lines == thickLine)
	if l.words != "" {
		if m.Words == nil {
			m.Words = map[string][]Mark{}
		}
		list := m.Words[l.words]
		put(&list, true)
		m.Words[l.words] = list
	}
}

// transposed are the marks of a grid whose rows become columns.
func (m marks) transposed() marks {
	turn := func(list []Mark) []Mark {
		out := make([]Mark, len(list))
		for k, at := range list {
			out[k] = Mark{at.Col, at.Row}
		}
		return out
	}
	out := marks{Struck: turn(m.Struck), Partly: turn(m.Partly), Coloured: turn(m.Coloured), Letters: turn(m.Letters), Lined: turn(m.Lined), Thick: turn(m.Thick), Comments: m.Comments}
	for word, list := range m.Words {
		if out.Words == nil {
			out.Words = map[string][]Mark{}
		}
		out.Words[word] = turn(list)
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
