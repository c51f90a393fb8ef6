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

// A Table is a result as columns, the one source of its text, CSV and HTML forms.
// Make its columns with [Words], [Counts], [Numbers] and [Flags], each from the same
// rows: people see numbers through the column's Show, programs in full.
type Table struct {
	Name    string // file name without ending
	Title   string
	Columns []Column
	Notes   []string
}

// A Column is one column of a Table, with its cells.
type Column struct {
	Key  string               // head in CSV
	Head string               // head for people; blank: not shown to them
	Show func(float64) string // for numbers; nil: four significant digits

	cells []any // strings, ints, float64s or bools, one a row
}

// Words is a column of text, read off every row.
func Words[R any](key, head string, rows []R, of func(R) string) Column {
	return column(key, head, rows, of)
}

// Counts is a column of whole numbers.
func Counts[R any](key, head string, rows []R, of func(R) int) Column {
	return column(key, head, rows, of)
}

// Flags is a column of true and false.
func Flags[R any](key, head string, rows []R, of func(R) bool) Column {
	return column(key, head, rows, of)
}

// Numbers is a column of numbers, shown to people by show; nil: four significant
// digits.
func Numbers[R any, N ~float64](key, head string, rows []R, of func(R) N, show func(float64) string) Column {
	c := column(key, head, rows, func(r R) float64 { return float64(of(r)) })
	c.Show = show
	return c
}

func column[R, C any](key, head string, rows []R, of func(R) C) Column {
	c := Column{Key: key, Head: head, cells: make([]any, len(rows))}
	for i, r := range rows {
		c.cells[i] = of(r)
	}
	return c
}

// shown is a cell as people see it.
func (c Column) shown(i int) string {
	switch v := c.cells[i].(type) {
	case float64:
		if c.Show != nil {
			return c.Show(v)
		}
		return Significant(v, 4)
	case string:
		return Printable(v)
	default:
		return fmt.Sprint(v)
	}
}

// numeric reports whether a column holds numbers, which align right.
func (c Column) numeric() bool {
	return !slices.ContainsFunc(c.cells, func(cell any) bool {
		switch cell.(type) {
		case float64, int:
			return false
		}
		return true
	})
}

// Len is the number of rows.
func (t Table) Len() int {
	if len(t.Columns) == 0 {
		return 0
	}
	return len(t.Columns[0].cells)
}

// Only keeps the rows whose text in the column of that key is one of the words.
func (t Table) Only(key string, words ...string) Table {
	by := t.Columns[slices.IndexFunc(t.Columns, func(c Column) bool { return c.Key == key })]
	out := t
	out.Columns = slices.Clone(t.Columns)
	for j := range out.Columns {
		out.Columns[j].cells = nil
		for i, cell := range by.cells {
			if text, ok := cell.(string); ok && slices.Contains(words, text) {
				out.Columns[j].cells = append(out.Columns[j].cells, t.Columns[j].cells[i])
			}
		}
	}
	return out
}

// Hide keeps columns from people; programs still get them.
func (t *Table) Hide(keys ...string) {
	for j := range t.Columns {
		if slices.Contains(keys, t.Columns[j].Key) {
			t.Columns[j].Head = ""
		}
	}
}

// HideBlank hides text columns that are blank in every row.
func (t *Table) HideBlank(keys ...string) {
	for _, c := range t.Columns {
		if slices.Contains(keys, c.Key) && !slices.ContainsFunc(c.cells, func(cell any) bool { return cell != "" }) {
			t.Hide(c.Key)
		}
	}
}

// Shown is the table as people see it: heads, which columns hold numbers, and cells by
// row.
func (t Table) Shown() (heads []string, numeric []bool, rows [][]string) {
	rows = make([][]string, t.Len())
	for _, c := range t.Columns {
		if c.Head == "" {
			continue
		}
		heads, numeric = append(heads, c.Head), append(numeric, c.numeric())
		for i := range rows {
			rows[i] = append(rows[i], c.shown(i))
		}
	}
	return heads, numeric, rows
}

// WriteText writes an aligned table with its notes.
func (t Table) WriteText(w io.Writer) error {
	heads, right, rows := t.Shown()
	width := make([]int, len(heads))
	for k, h := range heads {
		width[k] = utf8.RuneCountInString(h)
		for _, r := range rows {
			width[k] = max(width[k], utf8.RuneCountInString(r[k]))
		}
	}
	var b strings.Builder
	if t.Title != "" {
		fmt.Fprintf(&b, "%s\n", t.Title)
	}
	for _, cells := range slices.Concat([][]string{heads}, rows) {
		var line strings.Builder
		for k, s := range cells {
			if k > 0 {
				line.WriteString("  ")
			}
			pad := strings.Repeat(" ", width[k]-utf8.RuneCountInString(s))
			if right[k] {
				s = pad + s
			} else {
				s += pad
			}
			line.WriteString(s)
		}
		b.WriteString(strings.TrimRight(line.String(), " ") + "\n")
	}
	for _, n := range t.Notes {
		b.WriteString(Wrap(n, 96))
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// Wrap breaks a note into lines of at most n runes, indented after the first.
func Wrap(s string, n int) string {
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

// WriteCSV writes every column in full precision, one number a cell; unknown numbers are
// blank, infinite ones inf. A text that a spreadsheet program would run as a formula has
// an apostrophe before it.
func (t Table) WriteCSV(w io.Writer) error {
	out := csv.NewWriter(w)
	record := make([]string, len(t.Columns))
	for j, c := range t.Columns {
		record[j] = datasets.GuardCell(c.Key)
	}
	if err := out.Write(record); err != nil {
		return err
	}
	for i := range t.Len() {
		for j, c := range t.Columns {
			record[j] = plain(c.cells[i])
		}
		if err := out.Write(record); err != nil {
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
