package reports

import (
	"bytes"
	"encoding/csv"
	"strings"
	"testing"
)

func TestPrintable(t *testing.T) {
	for in, want := range map[string]string{
		"plain Äé 日本 – ≤": "plain Äé 日本 – ≤", "\x1b[31mred": `\x1b[31mred`, "a\nb\tc\x00": `a\x0ab\x09c\x00`, "\u0085": `\x85`,
		"\u202eexe.jpg\u200f": `\u202eexe.jpg\u200f`, "a\xffb": `a\xffb`, "\ufffd": "\ufffd", "\ufffe": `\ufffe`,
	} {
		if got := Printable(in); got != want {
			t.Errorf("Printable(%q) = %q, want %q", in, got, want)
		}
	}
}

// Text cells that a spreadsheet would run are guarded; numbers are not touched, the
// first table of several stands alone at the top.
func TestCSVIsSafe(t *testing.T) {
	type row struct {
		id string
		v  float64
	}
	rows := []row{{"=1+1", -2.5}, {"+x", 3}, {"-4", -1e-7}, {"'=x", 0}, {"plain", 1}, {"@f", 2}}
	d := &twoTables{tables: []Table{
		{Name: "one", Columns: []Column{Words("=id", "", rows, func(r row) string { return r.id }), Numbers("v", "", rows, func(r row) float64 { return r.v }, nil)}},
		{Name: "two", Columns: []Column{Words("k", "", []string{"z"}, func(s string) string { return s })}},
	}}
	var b bytes.Buffer
	if err := WriteCSV(&b, d); err != nil {
		t.Fatal(err)
	}
	want := "'=id,v\n'=1+1,-2.5\n'+x,3\n-4,-1e-07\n''=x,0\nplain,1\n'@f,2\n\n# two\nk\nz\n"
	if b.String() != want {
		t.Errorf("CSV is\n%s\nwant\n%s", b.String(), want)
	}
	first, _, _ := strings.Cut(b.String(), "\n\n")
	if rows, err := csv.NewReader(strings.NewReader(first)).ReadAll(); err != nil || len(rows) != 7 {
		t.Errorf("the first table reads as %v (%v)", rows, err)
	}
}

// A cell that acts on a terminal takes one line, and the columns after it stay aligned.
func TestHostileCellsAreAligned(t *testing.T) {
	var b strings.Builder
	rows := []string{"\x1b[2J\nA", "longer than that"}
	table := Table{Columns: []Column{Words("", "id", rows, func(s string) string { return s }), Counts("", "n", rows, func(s string) int { return len(s) })}}
	if err := table.WriteText(&b); err != nil {
		t.Fatal(err)
	}
	want := "id                 n\n" + `\x1b[2J\x0aA       6` + "\nlonger than that  16\n"
	if b.String() != want {
		t.Errorf("the table is\n%s\nwant\n%s", b.String(), want)
	}
}

type twoTables struct {
	Header
	tables []Table
}

func (d *twoTables) Tables() []Table { return d.tables }
