package reports

import (
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"tyro/datasets"
)

// A Table is a result as rows, the one source of its text, CSV and HTML forms.
// Cells are strings, ints or float64s; people see them through the column's
// Show, programs in full.
type Table struct {
	Name    string // file name without ending
	Title   string
	Columns []Column
	Rows    [][]any
	Notes   []string
}

// A Column is one column of a Table.
type Column struct {
	Key  string               // head in CSV
	Head string               // head for people; blank: not shown to them
	Show func(float64) string // for float cells; nil: four significant digits
}

// shown is a cell as people see it.
func (c Column) shown(cell any) string {
	switch v := cell.(type) {
	case float64:
		if c.Show != nil {
			return c.Show(v)
		}
		return significant(v, 4)
	case string:
		return Printable(v)
	}
	return fmt.Sprint(cell)
}

// only keeps the rows whose cell in the column of that key is one of the words.
func (t Table) only(key string, words ...string) Table {
	j := slices.IndexFunc(t.Columns, func(c Column) bool { return c.Key == key })
	out := t
	out.Rows = nil
	for _, r := range t.Rows {
		if text, ok := r[j].(string); ok && slices.Contains(words, text) {
			out.Rows = append(out.Rows, r)
		}
	}
	return out
}

// numeric reports whether a column holds numbers, which align right.
func (t Table) numeric(j int) bool {
	for _, r := range t.Rows {
		switch r[j].(type) {
		case float64, int:
		default:
			return false
		}
	}
	return true
}

// visible lists the columns people see: those with a head.
func (t Table) visible() []int {
	var out []int
	for j, c := range t.Columns {
		if c.Head != "" {
			out = append(out, j)
		}
	}
	return out
}

// WriteText writes an aligned table with its notes.
func (t Table) WriteText(w io.Writer) error {
	cols := t.visible()
	width, right := make([]int, len(cols)), make([]bool, len(cols))
	for k, j := range cols {
		width[k], right[k] = utf8.RuneCountInString(t.Columns[j].Head), t.numeric(j)
		for _, r := range t.Rows {
			width[k] = max(width[k], utf8.RuneCountInString(t.Columns[j].shown(r[j])))
		}
	}
	var b strings.Builder
	if t.Title != "" {
		fmt.Fprintf(&b, "%s\n", t.Title)
	}
	line := func(cell func(j int) string) {
		var row strings.Builder
		for k, j := range cols {
			s := cell(j)
			pad := strings.Repeat(" ", width[k]-utf8.RuneCountInString(s))
			if right[k] {
				s = pad + s
			} else {
				s += pad
			}
			if k > 0 {
				row.WriteString("  ")
			}
			row.WriteString(s)
		}
		b.WriteString(strings.TrimRight(row.String(), " "))
		b.WriteByte('\n')
	}
	line(func(j int) string { return t.Columns[j].Head })
	for _, r := range t.Rows {
		line(func(j int) string { return t.Columns[j].shown(r[j]) })
	}
	for _, n := range t.Notes {
		b.WriteString(wrap(n, 96))
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// wrap breaks a note into lines of at most n runes, indented after the first.
func wrap(s string, n int) string {
	var b strings.Builder
	at := 0
	for i, word := range strings.Fields(s) {
		l := utf8.RuneCountInString(word)
		switch {
		case i == 0:
		case at+1+l > n:
			b.WriteString("\n  ")
			at = 2
		default:
			b.WriteByte(' ')
			at++
		}
		b.WriteString(word)
		at += l
	}
	b.WriteByte('\n')
	return b.String()
}

// WriteCSV writes every column in full precision, one number a cell; unknown
// numbers are blank, infinite ones inf. A text that a spreadsheet program would run as
// a formula has an apostrophe before it.
func (t Table) WriteCSV(w io.Writer) error {
	out := csv.NewWriter(w)
	head := make([]string, len(t.Columns))
	for j, c := range t.Columns {
		head[j] = datasets.GuardCell(c.Key)
	}
	if err := out.Write(head); err != nil {
		return err
	}
	for _, r := range t.Rows {
		rec := make([]string, len(r))
		for j, cell := range r {
			rec[j] = plain(cell)
		}
		if err := out.Write(rec); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

func plain(cell any) string {
	v, ok := cell.(float64)
	text, isText := cell.(string)
	switch {
	case isText:
		return datasets.GuardCell(text)
	case !ok:
		return fmt.Sprint(cell)
	case math.IsNaN(v):
		return ""
	case math.IsInf(v, 1):
		return "inf"
	case math.IsInf(v, -1):
		return "-inf"
	}
	return strconv.FormatFloat(v, 'g', -1, 64)
}
