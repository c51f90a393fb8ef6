package datasets

import (
	"context"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// scoredStudy is a study of one task, tie, with a scoring rule and a limit of 60 seconds.
func scoredStudy(t *testing.T, rule, log string) (*Study, error) {
	t.Helper()
	return openStudy(t, map[string]string{
		StudyFile: "title: t\nattempts: {file: log.csv}\ntasks:\n  - {name: tie, measure: score, column: score, counts: [slips, breaks], limit: 60, scoring: " + rule + "}\n",
		"log.csv": log,
	})
}

// openStudy opens a study of these files.
func openStudy(t *testing.T, files map[string]string) (*Study, error) {
	t.Helper()
	dir := t.TempDir()
	for name, text := range files {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return Open(context.Background(), dir)
}

func noted(s *Study, code string) bool {
	return slices.ContainsFunc(s.Notes, func(n Note) bool { return n.Code == code })
}

// By hand: a second costs a point, and more than 35 of them cost 9 besides. Both are of the
// seconds, which are one component: 100-40-9 = 51 and 100-30 = 70, and without them 100.
func TestWeightAndBandsOfOneColumn(t *testing.T) {
	s, err := scoredStudy(t, `{version: "1", start: 100, time: seconds, per_second: 1, bands: {seconds: [{up_to: 35, points: 0}, {points: 9}]}}`,
		"trainee,attempt,seconds,slips,breaks\nT1,1,40,0,0\nT1,2,30,0,0\n")
	if err != nil {
		t.Fatal(err)
	}
	sheet, err := s.Scored("", 0.1)
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []struct{ score, adds float64 }{{51, -49}, {70, -30}} {
		a := sheet.Attempts[i]
		if a.Score != want.score || len(a.Parts) != 1 || a.Parts[0].Adds != want.adds {
			t.Errorf("attempt %d: %+v, want %v by one part of %v", i+1, a, want.score, want.adds)
		}
	}
	if got := sheet.Without["seconds"]; !slices.Equal(got, []float64{100, 100}) {
		t.Errorf("without seconds %v, want 100 and 100", got)
	}
}

// By hand, with 5 seconds a slip and a limit of 60: a timeout counts as 60 seconds at least,
// also where it was stopped at 20 or its time was not written down, and so does an attempt
// called done that took longer: 60+5 = 65.
func TestTimeoutsInSeconds(t *testing.T) {
	s, err := scoredStudy(t, `{version: "1", form: seconds, time: seconds, penalty: {slips: 5}}`,
		"trainee,attempt,seconds,slips,breaks,outcome\nT1,1,55,1,0,done\nT1,2,20,1,0,timeout\nT1,3,,1,0,timeout\nT1,4,60.5,1,0,done\n")
	if err != nil {
		t.Fatal(err)
	}
	sheet, err := s.Scored("", 0.1)
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []float64{60, 65, 65, 65} {
		if got := sheet.Attempts[i].Score; got != want {
			t.Errorf("attempt %d: score %v, want %v", i+1, got, want)
		}
	}
	if k := slices.IndexFunc(s.Notes, func(n Note) bool { return n.Code == "timeouts-scored" }); k < 0 || !strings.Contains(s.Notes[k].Text, "3 of 4 attempts at tie are timeouts and have the score of the limit") {
		t.Errorf("notes %v, want one of 3 timeouts of 4", s.Notes)
	}
	if o := sheet.Attempts[3].Outcome; o != Timeout {
		t.Errorf("60.5 s with a limit of 60 is %v, want a timeout", o)
	}
}

// A blank count of what fails an attempt is not 0.
func TestHardFailNotCounted(t *testing.T) {
	const rule = `{version: "1", start: 100, penalty: {slips: 10}, hard_fail: [breaks]}`
	if _, err := scoredStudy(t, rule, "trainee,attempt,slips,breaks\nT1,1,0,0\nT1,2,0,\n"); err == nil || !strings.Contains(err.Error(), `log.csv:3: column "breaks": missing`) {
		t.Errorf("a blank count: %v, want it missing on line 3", err)
	}
}

// Numbers of a rule that mean nothing are refused, and odd ones noted.
func TestStrangeRules(t *testing.T) {
	for _, c := range []struct{ rule, want string }{
		{`{version: "1", start: 100, bands: {depth: []}}`, "at least one band"},
		{`{version: "1", start: 100, bands: {depth: [{up_to: -2, points: 0}, {points: 5}]}}`, "a size from 0"},
		{`{version: "1", start: 100, bands: {depth: [{up_to: .nan, points: 0}, {points: 5}]}}`, "depth: up_to"},
		{`{version: "1", start: 100, bands: {depth: [{points: .inf}]}}`, "depth: points"},
		{`{version: "1", start: 100, experts: .nan}`, "scoring: experts"},
	} {
		if _, err := scoredStudy(t, c.rule, "trainee,attempt,slips,breaks,depth\nT1,1,0,0,1\n"); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", c.rule, err, c.want)
		}
	}
	const log = "trainee,date,attempt,slips,breaks\nT1,2026-01-14,1,0,0\nT1,2026-01-15,2,1,0\n"
	s, err := scoredStudy(t, `{version: "1", date: 2026-01-15, start: 100, penalty: {slips: -10}}`, log)
	if err != nil || !noted(s, "weight-below-0") || !noted(s, "before-the-rule") {
		t.Errorf("notes %v, %v", s.Notes, err)
	}
	if s, err = scoredStudy(t, `{version: "1", date: 2026-01-14, start: 100, penalty: {slips: 10}}`, log); err != nil || noted(s, "weight-below-0") || noted(s, "before-the-rule") {
		t.Errorf("notes %v, %v", s.Notes, err)
	}
}

// Two tasks have a rule each, and scores of both may stand in one log; a version of the other's
// rule is refused.
func TestVersionsOfTwoTasks(t *testing.T) {
	read := func(cut string) error {
		_, err := openStudy(t, map[string]string{
			StudyFile: "attempts: {file: log.csv}\ntasks:\n" +
				`  - {name: tie, column: score, counts: [slips], scoring: {version: "A", start: 100, penalty: {slips: 10}}}` + "\n" +
				`  - {name: cut, column: score, counts: [slips], scoring: {version: "B", start: 50, penalty: {slips: 5}}}` + "\n",
			"log.csv": "trainee,task,attempt,slips,scoring_version\nT1,tie,1,2,A\nT1,cut,1,3," + cut + "\n",
		})
		return err
	}
	if err := read("B"); err != nil {
		t.Error(err)
	}
	if err := read("A"); err == nil || !strings.Contains(err.Error(), "version B") {
		t.Errorf("version A at the second task: %v, want it refused", err)
	}
}

// Depths of 0.2 and 0.7 cm are 2 and 7 mm: read as millimetres all would lie within the band of 2.
func TestBandsInAnotherUnit(t *testing.T) {
	read := func(column, suffix string) error {
		_, err := openStudy(t, map[string]string{
			StudyFile: "attempts: {file: log.csv, unit_suffix: " + suffix + "}\ntasks:\n" +
				"  - {name: tie, column: score, scoring: {version: A, start: 100, bands: {" + column + ": [{up_to: 2, points: 0}, {points: 30}]}}}\n",
			"log.csv": "trainee,attempt," + column + "\nT1,1,0.2 " + suffix + "\nT1,2,0.7 " + suffix + "\n",
		})
		return err
	}
	if err := read("depth_mm", "cm"); err == nil || !strings.Contains(err.Error(), "numbers in mm, as the name") {
		t.Errorf("cm in a column of mm: %v, want it refused", err)
	}
	for column, suffix := range map[string]string{"depth_mm": "mm", "depth_cm": "cm", "depth": "cm", "errors_in": "cm"} {
		if err := read(column, suffix); err != nil {
			t.Errorf("%s in %s: %v", suffix, column, err)
		}
	}
}

// What is not known stays so: without a limit a timeout without a time has no score in seconds.
func TestTimeoutWithoutLimit(t *testing.T) {
	rule := Scoring{Version: "1", Form: "seconds", Time: "seconds"}
	if v := rule.Score(math.NaN(), nil, Timeout); !math.IsNaN(v) {
		t.Errorf("score %v, want none", v)
	}
}
