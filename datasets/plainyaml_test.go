package datasets

import (
	"errors"
	"fmt"
	"slices"
	"testing"
)

// What stands for a text is the text, also where it looks like a number: 007 is another trainee
// than 7, 0x1F than 31, and version 1.10 is not 1.1.
func TestTextsAsWritten(t *testing.T) {
	s, err := openStudy(t, map[string]string{
		StudyFile: "title: 1e3\narms: [007, 1_0, TRUE]\nattempts: {file: log.csv, same: {08: 0x1F}}\nprivacy: {withdrawn: [007, 0x1F, 1.50]}\n" +
			"tasks:\n  - {name: 01, measure: score, column: score, counts: [slips], scoring: {version: 1.10, start: 0x64, penalty: {slips: 1e1}}}\n",
		"log.csv": "trainee,arm,attempt,slips\n007,1_0,1,1\n7,007,1,1\n08,TRUE,1,1\n1.5,007,1,2\n1.50,007,1,1\n",
	})
	if err != nil {
		t.Fatal(err)
	}
	task := s.Tasks[0]
	if s.Title != "1e3" || !slices.Equal(s.Arms, []string{"007", "1_0", "TRUE"}) || task.Name != "01" || task.Scoring.Version != "1.10" {
		t.Errorf("title %q, arms %q, task %q, version %q", s.Title, s.Arms, task.Name, task.Scoring.Version)
	}
	if task.Scoring.Start != 100 || task.Scoring.Penalty["slips"] != 10 {
		t.Errorf("start %v, penalty %v", task.Scoring.Start, task.Scoring.Penalty)
	}
	var left []string
	for _, a := range s.Attempts.Attempts {
		left = append(left, a.Trainee)
	}
	if !slices.Equal(left, []string{"7", "1.5"}) {
		t.Errorf("%q are left, want 7 and 1.5: the others withdrew", left)
	}
}

// All names that a study file cannot have where they stand are told at once, in its order.
func TestNamesThatStudyFilesDoNotKnow(t *testing.T) {
	_, err := openStudy(t, map[string]string{
		StudyFile: "titel: x\ntasks:\n  - {name: a, measure: time, column: s, limmit: 3}\n  - {name: b, measure: time, column: s, scoring: {versoin: 2}}\nattempts:\n  file: log.csv\n  trainee: who\n",
		"log.csv": "trainee,attempt,s\nA,1,3\n",
	})
	var ps Problems
	if !errors.As(err, &ps) {
		t.Fatal(err)
	}
	var got []string
	for _, p := range ps {
		got = append(got, fmt.Sprintf("%d %s", p.Line, p.Value))
	}
	if want := []string{"1 titel", "3 limmit", "4 versoin", "7 trainee"}; !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}
