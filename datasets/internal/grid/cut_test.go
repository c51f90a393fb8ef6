package grid

import (
	"bytes"
	"encoding/csv"
	"errors"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"
)

// cutAlike holds what is cut of a text against what the standard library's reader cuts.
func cutAlike(t *testing.T, text []byte, sep rune) {
	t.Helper()
	g := &Grid{Separator: sep}
	c := cutter{text: text, sep: []byte(string(sep)), quotes: g.quotes(text)}
	r := csv.NewReader(bytes.NewReader(text))
	r.Comma, r.FieldsPerRecord, r.LazyQuotes = sep, -1, !c.quotes
	for {
		want, err := r.Read()
		more := c.next()
		var bad *csv.ParseError
		switch {
		case errors.As(err, &bad):
			if more || c.wrong != bad.Line {
				t.Fatalf("%q: cut on to line %d, but line %d has a quote out of place: %v", text, c.line, bad.Line, err)
			}
			return
		case errors.Is(err, io.EOF):
			if more || c.wrong != 0 {
				t.Fatalf("%q: a row %q (line %d, %d wrong) after the last", text, c.cells, c.line, c.wrong)
			}
			return
		case err != nil:
			t.Fatal(err)
		}
		line, _ := r.FieldPos(0)
		if !more || c.line != line || len(c.cells) != len(want) {
			t.Fatalf("%q: cells %q of line %d, want %q of line %d", text, c.cells, c.line, want, line)
		}
		for j := range want {
			if string(c.cells[j]) != want[j] {
				t.Fatalf("%q: cell %q in line %d, want %q", text, c.cells[j], line, want[j])
			}
		}
	}
}

func TestTextsAreCutAsTheStandardLibraryDoes(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	signs := []string{`"`, `"`, ",", ",", "\n", "\n", "a", "b", `""`, "\",\"", "\"\n\"", ";", "ä", " "}
	for range 200_000 {
		var text []byte
		for range r.IntN(14) {
			text = append(text, signs[r.IntN(len(signs))]...)
		}
		cutAlike(t, text, ',')
		cutAlike(t, text, 'ä')
	}
}

func FuzzCut(f *testing.F) {
	paths, err := filepath.Glob(filepath.Join("..", "..", "..", "testdata", "intake", "files", "*.csv"))
	if err != nil || len(paths) == 0 {
		f.Fatalf("no files: %v", err)
	}
	for i, path := range paths {
		if data, err := os.ReadFile(path); err == nil && i%8 == 0 && len(data) < 20000 {
			f.Add(data)
		}
	}
	f.Add([]byte("a,\"b\n\"\"c\"\n\n1,2"))
	f.Fuzz(func(t *testing.T, text []byte) {
		if bytes.IndexByte(text, '\r') < 0 { // line ends are made alike before
			cutAlike(t, text, ',')
			cutAlike(t, text, ';')
		}
	})
}

// A text is asked for its longest cell before anything is cut.
func TestEndlessCells(t *testing.T) {
	long := bytes.Repeat([]byte("a"), 2*mostText)
	for _, c := range []struct {
		text []byte
		line int
	}{
		{append([]byte("a,b\n1,"), long...), 0},
		{append(append([]byte("a,b\n1,"), long...), 'a'), 2},
		{append(append([]byte("a,b\n1,"), long...), "a\n"...), 2},
		{append(append([]byte("a;b\n"), long[1:]...), ";2\n"...), 0},
		{nil, 0},
	} {
		if got := endlessCell(c.text); got != c.line {
			t.Errorf("a text of %d bytes: line %d, want %d", len(c.text), got, c.line)
		}
	}
}

// Line ends of every program are made alike.
func TestPlainLines(t *testing.T) {
	for text, want := range map[string]string{"": "", "a\r\nb\rc\nd": "a\nb\nc\nd", "\r\r\n\n\r": "\n\n\n\n", "a\r": "a\n"} {
		if got := string(plainLines([]byte(text))); got != want {
			t.Errorf("%q becomes %q, want %q", text, got, want)
		}
	}
}

// A cell without end is refused before anything of it is copied.
func TestEndlessCell(t *testing.T) {
	text := []byte("id,attempt,sec\nA,1,")
	if n := endlessCell(append(text, bytes.Repeat([]byte("1"), 3*mostText)...)); n != 2 {
		t.Errorf("an endless cell is found in line %d, want 2", n)
	}
	if n := endlessCell(append(text, bytes.Repeat([]byte("1,"), 3*mostText)...)); n != 0 {
		t.Errorf("short cells are found endless in line %d", n)
	}
}
