package reports

import (
	"bytes"
	"encoding/csv"
	"strings"
	"testing"
	"unicode/utf8"

	"tyro/analysis"
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

// A sentence may begin with any letter.
func TestWarningsBeginWithAnyLetter(t *testing.T) {
	r := &Report{Check: &Check{}}
	for _, text := range []string{"étoile is late", "日本 is late", "", "ünder is late"} {
		r.Missing = append(r.Missing, analysis.Warning{Code: "late", Text: text})
	}
	got := strings.Join(r.allWarnings(), "\n")
	if want := "Étoile is late.\n日本 is late.\n.\nÜnder is late."; got != want || !utf8.ValidString(got) {
		t.Errorf("%q, want %q", got, want)
	}
}

// Different codes have different file names, also where case does not count, short
// and of letters that every system allows.
func TestFileNames(t *testing.T) {
	codes := []string{"T01", "a/b", "a_b", "a.b", "a b", "A_B", "x", "X", "CON", "nul", "com1", "com10", "series", "", "../../x", "é", "è", "..", strings.Repeat("k", 300), strings.Repeat("k", 301)}
	names := fileNames(codes)
	seen := map[string]string{}
	for i, n := range names {
		small := strings.ToLower(n)
		if other, taken := seen[small]; taken {
			t.Errorf("%q and %q are both called %s", codes[i], other, n)
		}
		seen[small] = codes[i]
		if len(n) == 0 || len(n) > longestName+9 || strings.Trim(n, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789_-") != "" || reserved(n) {
			t.Errorf("%q is called %q", codes[i], n)
		}
	}
	for i, want := range map[int]string{0: "T01", 11: "com10", 13: "series"} {
		if names[i] != want {
			t.Errorf("%q is called %q, want %q", codes[i], names[i], want)
		}
	}
	// The first eight digits of sha256("a/b"), as sha256sum prints them.
	if names[1] != "a_b-c14cddc0" {
		t.Errorf("a/b is called %q", names[1])
	}
}

// Text cells that a spreadsheet would run are guarded; numbers are not touched, the
// first table of several stands alone at the top.
func TestCSVIsSafe(t *testing.T) {
	d := &twoTables{tables: []Table{
		{Name: "one", Columns: []Column{{Key: "=id"}, {Key: "v"}}, Rows: [][]any{{"=1+1", -2.5}, {"+x", 3}, {"-4", -1e-7}, {"'=x", 0}, {"plain", 1}, {"@f", 2}}},
		{Name: "two", Columns: []Column{{Key: "k"}}, Rows: [][]any{{"z"}}},
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
	table := Table{Columns: []Column{{Head: "id"}, {Head: "n"}}, Rows: [][]any{{"\x1b[2J\nA", 1}, {"longer than that", 22}}}
	if err := table.WriteText(&b); err != nil {
		t.Fatal(err)
	}
	want := "id                 n\n" + `\x1b[2J\x0aA       1` + "\nlonger than that  22\n"
	if b.String() != want {
		t.Errorf("the table is\n%s\nwant\n%s", b.String(), want)
	}
}

type twoTables struct {
	Header
	tables []Table
}

func (d *twoTables) Tables() []Table { return d.tables }
