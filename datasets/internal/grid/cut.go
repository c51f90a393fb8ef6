package grid

import (
	"bytes"
	"context"
	"fmt"

	"tyro/analysis"
	"tyro/datasets/problem"
)

// A cutter cuts a text into rows of cells (RFC 4180): a cell in quotes may hold separators,
// line ends and doubled quotes. Rows without a letter are passed over.
type cutter struct {
	text   []byte
	at     int // where the next row begins
	sep    []byte
	quotes bool // cells may stand in quotes; else a quote is a letter like others

	cells [][]byte // of the row last cut
	line  int      // on which it begins, from 1
	ends  int      // lines that ended before at
	wrong int      // the line with a quote out of place, at which cutting stopped; 0 for none
	open  bool     // that quote is in a cell that opened with one
}

// next cuts the next row; false at the end of the text, or at a quote out of place.
func (c *cutter) next() bool {
	for c.at < len(c.text) && c.text[c.at] == '\n' {
		c.at++
		c.ends++
	}
	c.cells, c.line = c.cells[:0], c.ends+1
	for more := c.at < len(c.text); more; {
		if c.quotes && c.at < len(c.text) && c.text[c.at] == '"' {
			more = c.quoted()
		} else {
			more = c.plain()
		}
	}
	return c.wrong == 0 && len(c.cells) > 0
}

// plain cuts a cell that does not stand in quotes, with the sign after it, and reports whether
// its row goes on.
func (c *cutter) plain() bool {
	text, from, first := c.text, c.at, c.sep[0]
	for i := from; i < len(text); i++ {
		switch text[i] {
		case first:
			if len(c.sep) == 1 || bytes.HasPrefix(text[i:], c.sep) {
				c.cells, c.at = append(c.cells, text[from:i]), i+len(c.sep)
				return true
			}
		case '\n':
			c.cells, c.at = append(c.cells, text[from:i]), i+1
			c.ends++
			return false
		case '"':
			if c.quotes {
				c.wrong = c.ends + 1
				return false
			}
		}
	}
	c.cells, c.at = append(c.cells, text[from:]), len(text)
	return false
}

// quoted cuts a cell in quotes, like plain.
func (c *cutter) quoted() bool {
	from, doubled := c.at+1, false
	for i := from; ; i++ {
		n := bytes.IndexByte(c.text[i:], '"')
		if n < 0 {
			c.wrong = c.ends + bytes.Count(c.text[c.at:], []byte("\n"))
			if !bytes.HasSuffix(c.text, []byte("\n")) {
				c.wrong++
			}
			c.open = true
			return false
		}
		i += n
		rest := c.text[i+1:]
		if len(rest) > 0 && rest[0] == '"' {
			doubled = true
			i++
			continue
		}
		cell := c.text[from:i]
		c.ends += bytes.Count(cell, []byte("\n"))
		if doubled {
			cell = bytes.ReplaceAll(cell, []byte(`""`), []byte(`"`))
		}
		switch {
		case len(rest) == 0:
			c.at = i + 1
		case rest[0] == '\n':
			c.at = i + 2
			c.ends++
		case bytes.HasPrefix(rest, c.sep):
			c.cells, c.at = append(c.cells, cell), i+1+len(c.sep)
			return true
		default:
			c.wrong, c.open = c.ends+1, true
			return false
		}
		c.cells = append(c.cells, cell)
		return false
	}
}

// cut reads the cells of a text whose first line has the number before+1. Where no cell stands
// in quotes, they are signs of seconds or inches.
func (g *Grid) cut(ctx context.Context, text []byte, before int) error {
	c := cutter{text: text, sep: []byte(string(g.Separator)), quotes: g.quotes(text)}
	g.expect(bytes.Count(text, []byte("\n")) + 1)
	rules := 0
	var above [][]byte // the cells of the row before, which often repeat
	var ids []Cell
	for c.next() {
		if err := Stopped(ctx, len(g.Lines)); err != nil {
			return err
		}
		if len(c.cells) > mostColumns {
			return problem.Problem{File: g.File, Line: before + 1, Err: problem.ErrFormat, Expect: fmt.Sprintf("at most %d columns", mostColumns)}
		}
		if isRule(c.cells) {
			rules++
			continue
		}
		row := len(g.Lines)
		g.Lines, g.Widths = append(g.Lines, int32(c.line+before)), append(g.Widths, uint16(len(c.cells)))
		for j, cell := range c.cells {
			if j >= len(above) || !bytes.Equal(cell, above[j]) {
				if len(cell) > mostText {
					return problem.Problem{File: g.File, Line: c.line + before, Value: string(cell), Err: problem.ErrFormat, Expect: fmt.Sprintf("cells of at most %d million characters", mostText>>20)}
				}
				if j == len(ids) {
					ids = append(ids, 0)
				}
				if c.quotes && bytes.IndexByte(cell, '\n') >= 0 {
					if err := g.swallowed(string(cell), c.line+before); err != nil {
						return err
					}
				}
				ids[j] = g.Pool.putWritten(cell)
			}
			if ids[j] == 0 {
				continue
			}
			if j < len(g.Cols) && len(g.Cols[j]) == row && g.held < mostCells {
				g.Cols[j] = append(g.Cols[j], ids[j])
				g.held++
			} else if err := g.set(row, j, ids[j]); err != nil {
				return err
			}
		}
		above, c.cells = c.cells, above
	}
	if c.wrong > 0 && bytes.Contains(text, []byte(`\"`)) {
		// Quotes within a cell are marked as programmers do, not doubled.
		*g = Grid{File: g.File, Format: g.Format, Encoding: g.Encoding, Separator: g.Separator, Notes: g.Notes, Pool: NewPool()}
		return g.cut(ctx, bytes.ReplaceAll(text, []byte(`\"`), []byte(`""`)), before)
	}
	if c.open && c.line < c.wrong {
		return problem.Problem{File: g.File, Line: c.line + before, Err: problem.ErrFormat, Expect: fmt.Sprintf("quotes around whole cells only; one that opens in this line does not close as a cell does until line %d: take it away, or write two quotes for one within a cell", c.wrong+before)}
	}
	if c.wrong > 0 {
		return problem.Problem{File: g.File, Line: c.wrong + before, Err: problem.ErrFormat, Expect: "quotes around whole cells only" + g.spacedWay(text)}
	}
	if rules > 0 {
		g.Notes = append(g.Notes, analysis.Warning{Code: "rule-lines", Text: fmt.Sprintf("%s: %d lines only draw a rule and are not read", g.File, rules)})
	}
	return nil
}

// spacedWay is the way out where cells in quotes stand behind each other with a space between.
func (g *Grid) spacedWay(text []byte) string {
	if g.Separator == ' ' || !bytes.Contains(firstLine(text), []byte(`" "`)) {
		return ""
	}
	return "; where a space parts the cells say --separator space (in a study file: separator)"
}

// quotes reports whether some cell begins with a quote.
func (g *Grid) quotes(text []byte) bool {
	if bytes.IndexByte(text, '"') < 0 {
		return false
	}
	return bytes.HasPrefix(text, []byte(`"`)) || bytes.Contains(text, []byte("\n\"")) || bytes.Contains(text, []byte(string(g.Separator)+`"`))
}
