package main

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"tyro/datasets"
)

// An unseenFile is a file that was made, with its truth, before anything had read it; see
// testdata/intake/unseen.
type unseenFile struct {
	Folder, File string
	Command      string // that reads it: check, where nothing is said, or agreement
	Flags        []string
	Verdict      string // read or refuse
	Says         string // code of a warning, or words of the refusal
	Way          []string
	Attempts     []unseenAttempt
	Experts      []unseenAttempt
	Arms         map[string]string
	Ratings      [][4]string // subject, rater, item, score
}

// An unseenAttempt is [trainee, number, value, outcome]; a value of nil for none.
type unseenAttempt struct {
	trainee, outcome string
	number, value    float64
}

func (a *unseenAttempt) UnmarshalJSON(data []byte) error {
	a.value = math.NaN()
	var value *float64
	err := json.Unmarshal(data, &[]any{&a.trainee, &a.number, &value, &a.outcome})
	if value != nil {
		a.value = *value
	}
	return err
}

func (a unseenAttempt) key() string { return fmt.Sprintf("%s %g %s", a.trainee, a.number, a.outcome) }

// canonical are the rows of a canonical table by column.
func canonical(t *testing.T, path string) []map[string]string {
	t.Helper()
	rows := rowsOf(t, path)
	var out []map[string]string
	for _, r := range rows[1:] {
		row := map[string]string{}
		for j, name := range rows[0] {
			row[name] = strings.TrimPrefix(r[j], "'")
		}
		row["value"] = r[slices.Index(rows[0], "attempt")+1]
		out = append(out, row)
	}
	return out
}

// sameAttempts holds a canonical log against the truth.
func sameAttempts(t *testing.T, path string, want []unseenAttempt, arms map[string]string) {
	t.Helper()
	values := map[string]float64{}
	for _, a := range want {
		values[a.key()] = a.value
	}
	rows := canonical(t, path)
	if len(rows) != len(want) {
		t.Errorf("%d attempts, meant %d", len(rows), len(want))
	}
	for _, row := range rows {
		key := row["trainee"] + " " + row["attempt"] + " " + row["outcome"]
		meant, ok := values[key]
		v, err := strconv.ParseFloat(row["value"], 64)
		if err != nil {
			v = math.NaN()
		}
		if !ok || math.Abs(v-meant) > 1e-4 || math.IsNaN(v) != math.IsNaN(meant) {
			t.Errorf("read %s: %g, meant %g (meant at all: %v)", key, v, meant, ok)
		}
		if arm, ok := arms[row["trainee"]]; ok && row["arm"] != arm {
			t.Errorf("%s is in arm %q, meant %q", row["trainee"], row["arm"], arm)
		}
	}
}

// Files that nobody had read when their truth was written come out as it says: read as
// meant, with the warning where one is due, or refused with words that lead on, and then
// read as meant with the flags named.
func TestUnseenFiles(t *testing.T) {
	root := filepath.Join("..", "..", "testdata", "intake", "unseen")
	data, err := os.ReadFile(filepath.Join(root, "truth.json"))
	if err != nil {
		t.Fatal(err)
	}
	var all []unseenFile
	if err := json.Unmarshal(data, &all); err != nil {
		t.Fatal(err)
	}
	for _, c := range all {
		t.Run(c.Folder, func(t *testing.T) {
			if c.Command == "agreement" {
				unseenRatings(t, filepath.Join(root, "files", c.Folder, c.File), c)
				return
			}
			args := func(out string) []string {
				return append([]string{"check", filepath.Join(root, "files", c.Folder, c.File), "--out", out}, c.Flags...)
			}
			out := filepath.Join(t.TempDir(), "out")
			if c.Verdict == "refuse" {
				_, talk := tyro(t, 1, args(out)...)
				if !strings.Contains(talk, c.Says) {
					t.Errorf("refused with\n%swant %q", talk, c.Says)
				}
				if _, err := os.Stat(out); err == nil {
					t.Error("something was written")
				}
				if len(c.Way) == 0 {
					return
				}
				tyro(t, 0, append(args(out), c.Way...)...)
				if c.Attempts == nil {
					return // the way out is all that the truth says
				}
				sameAttempts(t, filepath.Join(out, "attempts.csv"), c.Attempts, nil)
				return
			}
			tyro(t, 0, args(out)...)
			if c.Attempts != nil || c.Says == "" { // of some files the truth says only what must be doubted
				sameAttempts(t, filepath.Join(out, "attempts.csv"), c.Attempts, c.Arms)
			}
			if c.Experts != nil {
				sameAttempts(t, filepath.Join(out, "experts.csv"), c.Experts, nil)
			}
			if c.Ratings != nil {
				sameRatings(t, filepath.Join(out, "ratings.csv"), c.Ratings)
			}
			if c.Says != "" {
				text, err := os.ReadFile(filepath.Join(out, "check.json"))
				if err != nil || !strings.Contains(string(text), `"code": "`+c.Says+`"`) {
					t.Errorf("no warning %s: %v", c.Says, err)
				}
			}
		})
	}
	if len(all) < 3483 {
		t.Errorf("only %d files", len(all))
	}
}

// unseenRatings reads a table of ratings with the flags of tyro agreement, and holds it against its truth.
func unseenRatings(t *testing.T, path string, c unseenFile) {
	var rf datasets.RatingsFile
	rf.File = path
	for k := 0; k < len(c.Flags); k++ {
		value := func() string { k++; return c.Flags[k] }
		switch c.Flags[k] {
		case "--wide":
			rf.Wide = true
		case "--transposed":
			rf.Transposed = true
		case "--fill-down":
			rf.FillDown = append(rf.FillDown, value())
		case "--subject":
			rf.Subject = value()
		case "--rater":
			rf.Rater = value()
		case "--item":
			rf.Item = value()
		case "--score":
			rf.Score = value()
		case "--scale":
			rf.Scale = value()
		default:
			t.Fatalf("a flag that is not known here: %s", c.Flags[k])
		}
	}
	s, err := datasets.OpenRatings(t.Context(), path, rf)
	if c.Verdict == "refuse" {
		if err == nil || !strings.Contains(err.Error(), c.Says) {
			t.Errorf("refused with %v, want %q", err, c.Says)
		}
		return
	}
	if err != nil {
		t.Fatal(err)
	}
	if c.Says != "" && !slices.ContainsFunc(s.Ratings.Notes, func(n datasets.Note) bool { return n.Code == c.Says }) {
		t.Errorf("no warning %s: %v", c.Says, s.Ratings.Notes)
	}
	if c.Ratings == nil {
		return
	}
	out := filepath.Join(t.TempDir(), "ratings.csv")
	f, err := os.Create(out)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := datasets.WriteRatings(f, *s.Ratings); err != nil {
		t.Fatal(err)
	}
	for k := range c.Ratings { // a truth names the one item of a table as nothing
		if c.Ratings[k][2] == "" {
			c.Ratings[k][2] = s.Ratings.Items[0].Name
		}
	}
	sameRatings(t, out, c.Ratings)
}

func sameRatings(t *testing.T, path string, want [][4]string) {
	t.Helper()
	rows := rowsOf(t, path)
	n := 0
	for _, r := range rows[1:] {
		if r[3] == "" {
			continue
		}
		n++
		if !slices.Contains(want, [4]string(r[:4])) {
			t.Errorf("read rating %v, not meant", r)
		}
	}
	if n != len(want) {
		t.Errorf("%d ratings, meant %d", n, len(want))
	}
}
