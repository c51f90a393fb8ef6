package grid

import (
	"bytes"
	"slices"
	"strconv"
)

// spaced reports whether spaces alone part the cells of a table, as in a printed listing: no other separator
// stands in it, and all rows have as many cells, three or more. Lines of a title may stand above, and the names may
// lack one for the first column where that holds names in quotes or counts the rows.
func spaced(text []byte) bool {
	var rows [][]string
	for rest := text; len(rest) > 0 && len(rows) < sniffed; {
		var line []byte
		line, rest, _ = bytes.Cut(rest, []byte("\n"))
		if len(line) > mostText || bytes.ContainsAny(line, ",;\t|") {
			return false
		}
		if cells := spacedCells(line); len(cells) > 0 {
			rows = append(rows, cells)
		}
	}
	if len(rows) < 3 {
		return false
	}
	width, head := len(rows[len(rows)-1]), 0
	for head < len(rows) && len(rows[head]) != width {
		head++
	}
	if width < 3 || head > 3 || head+2 > len(rows) {
		return false
	}
	for _, cells := range rows[head:] {
		if len(cells) != width {
			return false
		}
	}
	if head == 0 {
		return !numbersAlone(rows[0])
	}
	if names := !slices.ContainsFunc(rows[head], isNumber); names || len(rows[head-1]) != width-1 {
		return names // below a title
	}
	for i, cells := range rows[head:] { // a name less than cells
		if first := cells[0]; first != strconv.Itoa(i+1) && first != strconv.Itoa(i) && first[0] != '"' {
			return false
		}
	}
	return true
}

// numbersAlone reports whether every cell is a number.
func numbersAlone(cells []string) bool {
	for _, c := range cells {
		if !isNumber(c) {
			return false
		}
	}
	return true
}

func isNumber(cell string) bool {
	_, ok := ParseNumber(cell, false)
	return ok
}

// spacedCells cuts a line at spaces that do not stand within quotes.
func spacedCells(line []byte) []string {
	quoted := false
	cells := bytes.FieldsFunc(line, func(r rune) bool {
		if r == '"' {
			quoted = !quoted
		}
		return !quoted && (r == ' ' || r == '\r')
	})
	out := make([]string, len(cells))
	for i, c := range cells {
		out[i] = string(c)
	}
	return out
}
