package datasets

import (
	"bytes"
	"context"
	"errors"
	"path/filepath"
	"strings"
	"testing"

	"tyro/datasets/internal/grid"
)

// A guarded cell begins with no formula, and reads back as it was.
func TestGuardCell(t *testing.T) {
	for in, want := range map[string]string{
		"=1+1": "'=1+1", "+A1": "'+A1", "-A1": "'-A1", "@x": "'@x", "\tx": "'\tx", "＝1": "'＝1", "'=1": "''=1", "''=1": "'''=1",
		"-5": "-5", "+1.5e3": "+1.5e3", "T01": "T01", "'quoted'": "'quoted'", "'07": "''07", "''07": "'''07", "'": "'", "": "", "a=b": "a=b",
	} {
		if got := grid.Guard(in); got != want || grid.Unguard(got) != in {
			t.Errorf("GuardCell(%q) = %q, want %q; it reads back as %q", in, got, want, grid.Unguard(got))
		}
	}
}

// A log with codes that spreadsheets would run is written guarded and reads back.
func TestGuardedLogReadsBack(t *testing.T) {
	path := write(t, t.TempDir(), "log.csv", "trainee,attempt,=s\n=a,1,3\n'=b,1,4\n-7,1,5\n")
	spec := Single{Columns: Columns{Trainee: "trainee", Attempt: "attempt"}, Response: "=s"}
	first, err := OpenTable(t.Context(), path, spec)
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := WriteLog(&b, first.Attempts); err != nil {
		t.Fatal(err)
	}
	if text := b.String(); strings.Contains(text, "\n=") || strings.Contains(text, ",=") || !strings.Contains(text, "\n'=a,") || !strings.Contains(text, "\n-7,") {
		t.Errorf("the log is written as\n%s", text)
	}
	second, err := OpenTable(t.Context(), write(t, t.TempDir(), "again.csv", b.String()), spec)
	if err != nil {
		t.Fatal(err)
	}
	for i, a := range first.Attempts.Attempts {
		if got := second.Attempts.Attempts[i].Trainee; got != a.Trainee {
			t.Errorf("%q reads back as %q", a.Trainee, got)
		}
	}
}

// Reading stops with its context, and is recorded where that is asked for.
func TestReadingIsStoppedAndRecorded(t *testing.T) {
	dir := t.TempDir()
	log := write(t, dir, "log.csv", "trainee,attempt,s\na,1,3\n")
	people := write(t, dir, "people.csv", "trainee,site\na,x\n")
	spec := Single{Columns: Columns{Trainee: "trainee", Attempt: "attempt"}, Response: "s"}
	ctx, reads := Recording(t.Context())
	s, err := OpenTable(ctx, log, spec)
	if err != nil {
		t.Fatal(err)
	}
	if err := s.AddTrainees(ctx, people, ""); err != nil {
		t.Fatal(err)
	}
	if got := reads.Paths(); len(got) != 2 || filepath.Base(got[0]) != "log.csv" || filepath.Base(got[1]) != "people.csv" {
		t.Errorf("the files read are %v", got)
	}
	stopped, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := OpenTable(stopped, log, spec); !errors.Is(err, context.Canceled) {
		t.Errorf("a stopped reading gives %v", err)
	}
	if _, err := readTable(stopped, "log.csv", []byte("a,b\n1,2\n"), Layout{}, nil); !errors.Is(err, context.Canceled) {
		t.Errorf("a stopped table gives %v", err)
	}
}

// What the library says of a study file it cannot read reaches nobody.
func TestUnreadableStudyFile(t *testing.T) {
	for text, want := range map[string]string{
		"tasks:\n  - name: a\n    limit: high\n": `study.yaml:3: "high": not a number, expected a number`,
		"title: x\nhorizont: 3\n":                `study.yaml:2: "horizont": unknown word`,
		"title: x\ntitle: y\n":                   `study.yaml:2: "title": duplicate`,
		"title: [\n":                             "study.yaml:1",
		"seed: -1\n":                             `study.yaml:1: "-1"`,
		"arms: {a: 1}\n":                         "study.yaml:1",
		"tasks: 3\n":                             "study.yaml:1",
	} {
		dir := t.TempDir()
		write(t, dir, StudyFile, text)
		_, err := Open(t.Context(), dir)
		if err == nil || !strings.HasPrefix(err.Error(), want) {
			t.Errorf("%q: %v, want %s", text, err, want)
			continue
		}
		for _, word := range []string{"unmarshal", "Go ", "struct", "token", "node", "sequence", "mapping", "[1:"} {
			if strings.Contains(err.Error(), word) {
				t.Errorf("%q: %v holds the library's word %q", text, err, word)
			}
		}
	}
}
