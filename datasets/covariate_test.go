package datasets

import (
	"errors"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"tyro/datasets/problem"
)

func write(t *testing.T, dir, name, text string) string {
	t.Helper()
	path := filepath.Join(dir, name)
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

const covariateLog = `who,n,seconds,site,hours,mixed,same,gap,moves,code
A,1,90,north,1.5,2,x,1,p,1
A,2,80,,1.5,2,x,1,q,1
B,1,95,south,3,two,x,,p,2
B,2,85,south,3,two,x,,p,2
`

// A value given once a trainee is enough; anything else has a place and a name.
func TestCovariates(t *testing.T) {
	dir := t.TempDir()
	s, err := OpenTable(t.Context(), write(t, dir, "log.csv", covariateLog), Single{Columns: Columns{Trainee: "who", Attempt: "n"}, Response: "seconds", Measure: Time})
	if err != nil {
		t.Fatal(err)
	}
	hash := s.SHA256
	both := []string{"A", "B"}
	site, err := s.Covariate(CovariateChoice{Name: "site"}, both)
	if err != nil || !slices.Equal(site.Levels, []string{"north", "south"}) || site.Level["A"] != "north" || site.Number != nil {
		t.Errorf("site: %+v, %v", site, err)
	}
	hours, err := s.Covariate(CovariateChoice{Name: "hours"}, both)
	if err != nil || hours.Levels != nil || !maps.Equal(hours.Number, map[string]float64{"A": 1.5, "B": 3}) {
		t.Errorf("hours: %+v, %v", hours, err)
	}
	code, err := s.Covariate(CovariateChoice{Name: "code", Levels: true}, both)
	if err != nil || !slices.Equal(code.Levels, []string{"1", "2"}) {
		t.Errorf("codes taken for names: %+v, %v", code, err)
	}
	for _, c := range []struct {
		name string
		kind error
		says string
	}{
		{"mixed", problem.ErrNotNumber, `log.csv:4: column "mixed": "two"`},
		{"same", problem.ErrRange, "at least two different values"},
		{"gap", problem.ErrMissing, "a value for trainee B"},
		{"moves", problem.ErrDuplicate, `log.csv:3: column "moves": "q": duplicate, expected one value for trainee A; line 2 says "p"`},
		{"height", problem.ErrMissing, "a column of this name"},
	} {
		_, err := s.Covariate(CovariateChoice{Name: c.name}, both)
		if !errors.Is(err, c.kind) || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v", c.name, err)
		}
	}
	if _, err := s.Covariate(CovariateChoice{Name: "hours"}, []string{"A"}); !errors.Is(err, problem.ErrRange) {
		t.Errorf("hours of one trainee: %v", err)
	}

	// A table with one row a trainee comes first, and into the hash.
	people := write(t, dir, "people.csv", "who;hours;age\nB;7,5;30\nA;2;31\n")
	if err := s.AddTrainees(t.Context(), people, ""); err != nil {
		t.Fatal(err)
	}
	if s.SHA256 == hash {
		t.Error("the trainees' table is not in the hash")
	}
	if hours, err = s.Covariate(CovariateChoice{Name: "hours"}, both); err != nil || hours.Number["B"] != 7.5 {
		t.Errorf("hours of the table: %+v, %v", hours, err)
	}
	if _, err := s.Covariate(CovariateChoice{Name: "age"}, []string{"A", "B", "C"}); !errors.Is(err, problem.ErrMissing) || !strings.Contains(err.Error(), "a row for trainee C") {
		t.Errorf("a trainee without a row: %v", err)
	}
	if err := s.AddTrainees(t.Context(), write(t, dir, "other.csv", "name,age\nA,3\n"), ""); !errors.Is(err, problem.ErrMissing) {
		t.Errorf("a table without codes: %v", err)
	}
}

// The study file names the trainees' table and the covariates.
func TestStudyCovariates(t *testing.T) {
	dir := t.TempDir()
	write(t, dir, "log.csv", "trainee,attempt,seconds\nA,1,90\nA,2,80\nB,1,95\nB,2,85\n")
	write(t, dir, "people.csv", "code,experience\nA,0\nB,12\n")
	write(t, dir, StudyFile, `attempts: {file: log.csv}
trainees: {file: people.csv, trainee: code}
covariates:
  - {name: experience, on: [rate, gain]}
tasks:
  - {name: task, measure: time, column: seconds}
`)
	s, err := Open(t.Context(), dir)
	if err != nil {
		t.Fatal(err)
	}
	if len(s.Covariates) != 1 || !slices.Equal(s.Covariates[0].On, []string{"rate", "gain"}) {
		t.Fatalf("covariates %+v", s.Covariates)
	}
	c, err := s.Covariate(s.Covariates[0], []string{"A", "B"})
	if err != nil || c.Number["B"] != 12 {
		t.Errorf("%+v, %v", c, err)
	}
}
