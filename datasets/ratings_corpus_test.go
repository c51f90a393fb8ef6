package datasets

import (
	"bytes"
	"encoding/csv"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// Tables of ratings of the corpus come out as their truth says.
func TestRatingsCorpus(t *testing.T) {
	folder := filepath.Join("..", "testdata", "intake")
	table, err := os.ReadFile(filepath.Join(folder, "truth.tsv"))
	if err != nil {
		t.Fatal(err)
	}
	seen := 0
	for line := range strings.Lines(string(table)) {
		f := strings.Split(strings.TrimSuffix(line, "\n"), "\t")
		if len(f) != 5 || !strings.HasPrefix(f[1], "agreement") {
			continue
		}
		seen++
		name, flags, verdict, says, truth := f[0], strings.Fields(f[1]), f[2], f[3], f[4]
		rf := RatingsFile{}
		for i, flag := range flags {
			switch flag {
			case "--wide":
				rf.Wide = true
			case "--ignore":
				rf.Ignore = append(rf.Ignore, flags[i+1])
			case "--same":
				from, to, _ := strings.Cut(flags[i+1], "=")
				rf.Same = map[string]string{from: to}
			}
		}
		data, err := os.ReadFile(filepath.Join(folder, "files", name))
		if err != nil {
			t.Fatal(err)
		}
		r, err := ReadRatings(name, data, rf)
		if verdict == "refuse" {
			if err == nil || !strings.Contains(err.Error(), says) {
				t.Errorf("%s: error %v, want %q", name, err, says)
			}
			continue
		}
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if verdict == "warn" && !slices.ContainsFunc(r.Notes, func(n Note) bool { return n.Code == says }) {
			t.Errorf("%s: notes %v, want %s", name, r.Notes, says)
		}
		var b bytes.Buffer
		if err := WriteRatings(&b, r); err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(&b).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, row := range rows[1:] {
			got = append(got, strings.Join(row, " "))
		}
		want := strings.Split(truth, "; ")
		slices.Sort(got)
		slices.Sort(want)
		if !slices.Equal(got, want) {
			t.Errorf("%s: read as %v, meant %v", name, got, want)
		}
	}
	if seen < 10 {
		t.Errorf("only %d files", seen)
	}
}
