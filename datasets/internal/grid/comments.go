package grid

import (
	"encoding/xml"
	"path"
	"slices"
	"strings"
)

// A Comment is a note that somebody put on a cell, which is no part of its text.
type Comment struct {
	Line, Col int // line as the spreadsheet counts, column from 0
	Text      string
}

const (
	mostComments = 2000 // that are remembered of a sheet
)

// addComment remembers a comment.
func (m *marks) addComment(line, col int, text string) {
	if len(m.Comments) < mostComments {
		m.Comments = append(m.Comments, Comment{line, col, commentText(text)})
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

// comments are those of a sheet: notes (ECMA-376 part 1, section 18.7), and the first of each
// conversation, which stands in a part of its own and as a note besides.
func (w *workbook) comments(sheet string) []Comment {
	rels := path.Join(path.Dir(sheet), "_rels", path.Base(sheet)+".rels")
	partOf := func(kind string) string {
		return w.related(rels, path.Dir(sheet), func(k, _ string) bool { return strings.HasSuffix(k, kind) })
	}
	talk := w.commentsIn(partOf("/threadedComment"), "threadedComment")
	seen := map[[2]int]bool{}
	talk = slices.DeleteFunc(talk, func(c Comment) bool {
		at := [2]int{c.Line, c.Col}
		again := seen[at]
		seen[at] = true
		return again
	})
	notes := slices.DeleteFunc(w.commentsIn(partOf("/comments"), "comment"), func(c Comment) bool { return seen[[2]int{c.Line, c.Col}] })
	all := append(notes, talk...)
	slices.SortStableFunc(all, func(a, b Comment) int {
		if a.Line != b.Line {
			return a.Line - b.Line
		}
		return a.Col - b.Col
	})
	return all
}

// commentsIn are the comments of a part, each an element of this name. A part that is missing
// or damaged has those that could be read.
func (w *workbook) commentsIn(part, element string) []Comment {
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
	return m.Comments
}
