package main

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"
)

var rewrite = flag.Bool("rewrite", false, "write the help pages in testdata/help anew, to be read before they are kept")

// The help of every command is the page in testdata/help, which people have read. A page
// is no wider than a terminal, and every flag on it says what it takes in a word that is
// not a type of the language.
func TestHelpPages(t *testing.T) {
	var names []string
	for _, c := range newRoot(app{}, &profiling{}).Commands() {
		names = append(names, c.Name())
	}
	if len(names) < 11 {
		t.Fatalf("commands %v", names)
	}
	for _, name := range append(names, "") {
		args, page := []string{"--help"}, "tyro"
		if name != "" && name != "help" {
			args, page = []string{name, "--help"}, name
		}
		got, _ := tyro(t, 0, args...)
		path := filepath.Join("testdata", "help", page+".txt")
		if *rewrite {
			if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if got != string(want) {
			t.Errorf("the help of %q is not that of %s; read it, then go test ./cmd/tyro -run TestHelpPages -rewrite", name, path)
		}
		for line := range strings.Lines(got) {
			words := strings.Fields(line)
			for _, w := range []string{"float", "string", "int", "uint", "strings", "stringArray", "float64Slice"} {
				if len(words) > 1 && strings.HasPrefix(words[0], "-") && words[1] == w {
					t.Errorf("%s: the flag %s takes %q", page, words[0], w)
				}
			}
			if n := utf8.RuneCountInString(strings.TrimRight(line, "\n")); n > 120 && !strings.Contains(line, "tyro quota") {
				t.Errorf("%s: %d characters: %s", page, n, line)
			}
		}
	}
}
