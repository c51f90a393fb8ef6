package datasets

import (
	"encoding/xml"
	"fmt"
	"path"
	"slices"
	"strings"
)

// A comment is a note that somebody put on a cell, which is no part of its text.
type comment struct {
	line, col int // line as the spreadsheet counts, column from 0
	text      string
}

const (
	mostComments = 2000 // that are remembered of a sheet
	mostQuoted   = 5
)

// addComment remembers a comment.
func (m *marks) addComment(line, col int, text string) {
	if len(m.comments) < mostComments {
		m.comments = append(m.comments, comment{line, col, commentText(text)})
	}
}

// commentText is a comment without the name of its author, which programs write above it.
func commentText(s string) string {
	s = strings.TrimSpace(s)
	if name, rest, ok := strings.Cut(s, "\n"); ok && strings.HasSuffix(strings.TrimSpace(name), ":") && strings.TrimSpace(rest) != "" {
		s = rest
	}
	return strings.Join(strings.Fields(s), " ")
}

// noteComments notes comments on cells, those on rows of data first, with their first words.
func (t *table) noteComments(all []comment) {
	if len(all) == 0 {
		return
	}
	from, to := t.line(0), t.line(len(t.keep)-1)
	all = slices.Clone(all)
	slices.SortStableFunc(all, func(a, b comment) int { return a.outside(from, to) - b.outside(from, to) })
	var said []string
	for _, c := range all {
		said = append(said, fmt.Sprintf("%s: %q", cellName(c.line, c.col), clip(c.text)))
	}
	t.note("cell-comments", fmt.Sprintf("%s: %d comments on cells are not read (%s); write what they mean into a column, and leave out what does not count", t.file, len(all), clipList(said, mostQuoted)))
}

// outside is 1 for a comment above or below some lines.
func (c comment) outside(from, to int) int {
	if c.line < from || c.line > to {
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

// comments are those of a sheet: notes (ECMA-376 part 1, section 18.7), and the first of each
// conversation, which stands in a part of its own and as a note besides.
func (w *workbook) comments(sheet string) []comment {
	rels := path.Join(path.Dir(sheet), "_rels", path.Base(sheet)+".rels")
	partOf := func(kind string) string {
		return w.related(rels, path.Dir(sheet), func(k, _ string) bool { return strings.HasSuffix(k, kind) })
	}
	talk := w.commentsIn(partOf("/threadedComment"), "threadedComment")
	seen := map[[2]int]bool{}
	talk = slices.DeleteFunc(talk, func(c comment) bool {
		at := [2]int{c.line, c.col}
		again := seen[at]
		seen[at] = true
		return again
	})
	notes := slices.DeleteFunc(w.commentsIn(partOf("/comments"), "comment"), func(c comment) bool { return seen[[2]int{c.line, c.col}] })
	all := append(notes, talk...)
	slices.SortStableFunc(all, func(a, b comment) int {
		if a.line != b.line {
			return a.line - b.line
		}
		return a.col - b.col
	})
	return all
}

// commentsIn are the comments of a part, each an element of this name. A part that is missing
// or damaged has those that could be read.
func (w *workbook) commentsIn(part, element string) []comment {
	var m marks
	var text strings.Builder
	ref, in := "", false
	_ = w.walk(part, true, func(t xml.Token) error {
		switch e := t.(type) {
		case xml.StartElement:
			switch e.Name.Local {
			case element:
				ref = attribute(e, "ref")
				text.Reset()
			case "t", "text":
				in = true
			}
		case xml.CharData:
			if in {
				text.Write(e)
			}
		case xml.EndElement:
			switch e.Name.Local {
			case "t", "text":
				in = false
			case element:
				if col, row, ok := cellAt(ref); ok {
					m.addComment(row+1, col, text.String())
				}
			}
		}
		return nil
	})
	return m.comments
}
