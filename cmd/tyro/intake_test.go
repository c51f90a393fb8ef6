package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// A sampleFile is a file of the corpus with its truth; see testdata/intake.
type sampleFile struct{ name, flags, verdict, says, truth string }

func intakeCorpus(t *testing.T) []sampleFile {
	t.Helper()
	data, err := os.ReadFile("../../testdata/intake/truth.tsv")
	if err != nil {
		t.Fatal(err)
	}
	var out []sampleFile
	for line := range strings.Lines(string(data)) {
		if strings.HasPrefix(line, "#") {
			continue
		}
		f := strings.Split(strings.TrimSuffix(line, "\n"), "\t")
		if len(f) != 5 {
			t.Fatalf("truth.tsv: %q", line)
		}
		out = append(out, sampleFile{f[0], f[1], f[2], f[3], f[4]})
	}
	return out
}

// asAttempts are the rows of a canonical log as the corpus writes them, in order of text.
func asAttempts(t *testing.T, path string) []string {
	t.Helper()
	rows := rowsOf(t, path)
	at := map[string]int{}
	for j, name := range rows[0] {
		at[name] = j
	}
	var out []string
	for _, r := range rows[1:] {
		value := r[at["attempt"]+1]
		if value == "" {
			value = "-"
		}
		out = append(out, strings.TrimPrefix(r[at["trainee"]], "'")+" "+r[at["attempt"]]+" "+value+" "+r[at["outcome"]])
	}
	slices.Sort(out)
	return out
}

// Every file of the corpus comes out as its truth says: read as meant, read with a named
// warning, or refused with the way out; nothing is written where it is refused.
func TestIntakeCorpus(t *testing.T) {
	meant, refused := 0, 0
	corpus := intakeCorpus(t)
	for _, c := range corpus {
		flags := strings.Fields(c.flags)
		if flags[0] == "agreement" {
			continue // TestRatingsCorpus in datasets
		}
		t.Run(c.name, func(t *testing.T) {
			out := filepath.Join(t.TempDir(), "out")
			if flags[0] == "study" { // a folder, whose study file says the rest
				flags = nil
			}
			args := append([]string{"check", filepath.Join("..", "..", "testdata", "intake", "files", c.name), "--out", out}, flags...)
			if c.verdict == "refuse" {
				_, talk := tyro(t, 1, args...)
				if !strings.Contains(talk, c.says) {
					t.Errorf("refused with\n%swant %q", talk, c.says)
				}
				if _, err := os.Stat(out); err == nil {
					t.Error("something was written")
				}
				refused++
				return
			}
			tyro(t, 0, args...)
			var doc struct {
				Warnings []struct{ Code, Text string } `json:"warnings"`
			}
			data, err := os.ReadFile(filepath.Join(out, "check.json"))
			if err == nil {
				err = json.Unmarshal(data, &doc)
			}
			if err != nil {
				t.Fatal(err)
			}
			var codes []string
			for _, w := range doc.Warnings {
				codes = append(codes, w.Code)
			}
			if c.verdict == "warn" && c.says != "" && !slices.Contains(codes, c.says) {
				t.Errorf("warnings %v, want %s among them", codes, c.says)
			}
			if code, not := strings.CutPrefix(c.says, "!"); not && slices.Contains(codes, code) {
				t.Errorf("warnings %v, and %s is not due", codes, code)
			}
			want := strings.Split(c.truth, "; ")
			slices.Sort(want)
			if got := asAttempts(t, filepath.Join(out, "attempts.csv")); !slices.Equal(got, want) {
				t.Errorf("read as\n%s\nmeant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
			} else {
				meant++
			}
		})
	}
	t.Logf("%d files: %d read as meant, %d refused as they must be", len(corpus), meant, refused)
	if len(corpus) < 150 {
		t.Errorf("only %d files", len(corpus))
	}
}
