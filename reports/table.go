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
	Rows    [][]any
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
	c := Column{Key: key, Head: head}
	for _, r := range rows {
		c.cells = append(c.cells, of(r))
	}
	return c
}

// Counts is a column of whole numbers.
func Counts[R any](key, head string, rows []R, of func(R) int) Column {
	c := Column{Key: key, Head: head}
	for _, r := range rows {
		c.cells = append(c.cells, of(r))
	}
	return c
}

// Numbers is a column of numbers, shown to people by show; nil: four significant
// digits.
func Numbers[R any, N ~float64](key, head string, rows []R, of func(R) N, show func(float64) string) Column {
	c := Column{Key: key, Head: head, Show: show}
	for _, r := range rows {
		c.cells = append(c.cells, float64(of(r)))
	}
	return c
}

// Flags is a column of true and false.
func Flags[R any](key, head string, rows []R, of func(R) bool) Column {
	c := Column{Key: key, Head: head}
	for _, r := range rows {
		c.cells = append(c.cells, of(r))
	}
	return c
}

// Len is the number of rows.
func (t Table) Len() int { return len(t.filled().Rows) }

// Shown is the table as people see it: heads, which columns hold numbers, and cells.
func (t Table) Shown() (heads []string, numeric []bool, rows [][]string) {
	t = t.filled()
	cols := t.Visible()
	for _, j := range cols {
		heads, numeric = append(heads, t.Columns[j].Head), append(numeric, t.Numeric(j))
	}
	for _, r := range t.Rows {
		var row []string
		for _, j := range cols {
			row = append(row, t.Columns[j].Shown(r[j]))
		}
		rows = append(rows, row)
	}
	return heads, numeric, rows
}

// filled puts the cells of typed columns into rows.
func (t Table) filled() Table {
	if t.Rows != nil || len(t.Columns) == 0 {
		return t
	}
	t.Rows = make([][]any, len(t.Columns[0].cells))
	for i := range t.Rows {
		for _, c := range t.Columns {
			t.Rows[i] = append(t.Rows[i], c.cells[i])
		}
	}
	return t
}

// shown is a cell as people see it.
func (c Column) Shown(cell any) string {
	switch v := cell.(type) {
	case float64:
		if c.Show != nil {
			return c.Show(v)
		}
		return Significant(v, 4)
	case string:
		return Printable(v)
	}
	return fmt.Sprint(cell)
}

// only keeps the rows whose cell in the column of that key is one of the words.
func (t Table) Only(key string, words ...string) Table {
	t = t.filled()
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
func (t Table) Numeric(j int) bool {
	t = t.filled()
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
func (t Table) Visible() []int {
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
	t = t.filled()
	cols := t.Visible()
	width := make([]int, len(cols))
	for k, j := range cols {
		width[k] = utf8.RuneCountInString(t.Columns[j].Head)
		for _, r := range t.Rows {
			width[k] = max(width[k], utf8.RuneCountInString(t.Columns[j].Shown(r[j])))
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
			if t.Numeric(j) {
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
		line(func(j int) string { return t.Columns[j].Shown(r[j]) })
	}
	for _, n := range t.Notes {
		b.WriteString(Wrap(n, 96))
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// wrap breaks a note into lines of at most n runes, indented after the first.
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

// WriteCSV writes every column in full precision, one number a cell; unknown
// numbers are blank, infinite ones inf. A text that a spreadsheet program would run as
// a formula has an apostrophe before it.
func (t Table) WriteCSV(w io.Writer) error {
	t = t.filled()
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
