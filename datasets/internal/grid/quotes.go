package grid

import (
	"bytes"
	"fmt"
	"regexp"
	"slices"
	"strings"

	"tyro/analysis"
	"tyro/datasets/problem"
)

var formulaQuote = regexp.MustCompile(`^="([^"]*)"$`)

// formulaText is the text that ="07" shows, as programs write it to keep a spreadsheet from
// changing 07.
func formulaText(s string) string {
	if len(s) > 2 && s[0] == '=' && s[1] == '"' {
		return formulaQuote.ReplaceAllString(s, "$1")
	}
	return s
}

// swallowed reports a cell that holds as many line ends and separators as whole rows have, and
// numbers among them: a quote that opens in one row and closes in another takes in the rows
// between.
func (g *Grid) swallowed(cell string, line int) error {
	ends := strings.Count(cell, "\n")
	if ends == 0 || len(g.Widths) == 0 || len(cell) > 1<<16 {
		return nil
	}
	width, marks := int(g.Widths[0]), strings.Count(cell, string(g.Separator))
	if width < 3 || marks != ends*(width-1) {
		return nil
	}
	numbers := 0
	for _, part := range strings.FieldsFunc(cell, func(c rune) bool { return c == g.Separator || c == '\n' }) {
		if _, ok := ParseNumber(strings.TrimSpace(part), g.Separator == ';'); ok {
			numbers++
		}
	}
	if numbers < ends {
		return nil
	}
	return problem.Problem{File: g.File, Line: line, Err: problem.ErrFormat, Expect: fmt.Sprintf("quotes around single cells; one that opens here takes in what looks like %d whole rows: take the quote away, or write two quotes for one within a cell", ends)}
}

// apostrophes takes away the apostrophe before every cell of a column below its name, which a
// spreadsheet needs to keep a text and does not show.
func (g *Grid) apostrophes() {
	if !slices.ContainsFunc(g.Pool.Texts, func(s string) bool { return strings.HasPrefix(s, "'") }) {
		return
	}
	var columns []string
	for j, col := range g.Cols {
		n := 0
		for i, id := range col {
			s := g.Pool.Text(id)
			if i == 0 || id == 0 {
				continue
			}
			if !ownApostrophe(s) || g.Pool.guarded[id] {
				n = 0
				break
			}
			n++
		}
		if n < 2 {
			continue
		}
		for i, id := range col {
			if i > 0 && id != 0 {
				col[i] = g.Pool.Put(g.Pool.Text(id)[1:], g.Pool.Kind(id))
			}
		}
		columns = append(columns, fmt.Sprint(j+1))
	}
	if len(columns) > 0 {
		g.Notes = append(g.Notes, analysis.Warning{Code: "apostrophes", Text: fmt.Sprintf("%s: every cell of column %s begins with an apostrophe, which is taken away", g.File, problem.List(columns, 5))})
	}
}

var (
	singleHead  = regexp.MustCompile(`^'[^'\n]*'(?:[,;\t|]'[^'\n]*')+\n`)
	singleOpen  = regexp.MustCompile(`(?m)(^|[,;\t|])'`)
	singleClose = regexp.MustCompile(`(?m)'([,;\t|]|$)`)
)

// singleQuotes gives cells that stand in single quotes, as some databases write them, double
// ones. The names of the columns show it, and no double quote may stand in the file.
func (g *Grid) singleQuotes(text []byte) []byte {
	if !singleHead.Match(text) || bytes.IndexByte(text, '"') >= 0 {
		return text
	}
	g.Notes = append(g.Notes, analysis.Warning{Code: "single-quotes", Text: fmt.Sprintf("%s: cells stand in single quotes, which are taken away", g.File)})
	return singleClose.ReplaceAll(singleOpen.ReplaceAll(text, []byte(`$1"`)), []byte(`"$1`))
}
