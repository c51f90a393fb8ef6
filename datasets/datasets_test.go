package datasets

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"tyro/analysis/practice"
	"tyro/datasets/internal/grid"
	"tyro/datasets/problem"
)

// timeTable reads text as a table of timed attempts with a limit of 300 s.
func timeTable(t *testing.T, name, text string, trainee bool) (*Study, error) {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	spec := Single{Columns: Columns{Attempt: "attempt", Outcome: headed(text, "outcome"), Date: headed(text, "date")}, Response: "sec", Measure: Time, Limit: 300}
	if trainee {
		spec.Columns.Trainee = "id"
	}
	return OpenTable(t.Context(), path, spec)
}

// headed is the column's name where the table has it.
func headed(text, column string) string {
	if head, _, _ := strings.Cut(text, "\n"); strings.Contains(head, column) {
		return column
	}
	return ""
}

// Every kind of bad input gives an error with its place, and no data.
func TestBadInput(t *testing.T) {
	for _, c := range []struct {
		name, text string
		kind       error
		want       []string // parts of the message
	}{
		{"missing column", "id,attempt,seconds\nA,1,30\n", problem.ErrMissing, []string{`"sec"`, "seconds"}},
		{"text in a number cell", "id,attempt,sec\nA,1,30\nA,2,fast\n", problem.ErrNotNumber, []string{":3:", `"sec"`, `"fast"`}},
		{"number with a unit in a score of letters", "id,attempt,sec\nA,1,0x1p4\n", problem.ErrNotNumber, []string{":2:"}},
		{"infinite", "id,attempt,sec\nA,1,inf\n", problem.ErrNotNumber, []string{":2:"}},
		{"negative time", "id,attempt,sec\nA,1,-30\n", problem.ErrRange, []string{":2:", `"-30"`, "above 0"}},
		{"zero time", "id,attempt,sec\nA,1,0\n", problem.ErrRange, []string{":2:"}},
		{"duplicate attempt", "id,attempt,sec\nA,1,30\nA,2,25\nA,1,31\n", problem.ErrDuplicate, []string{":4:", "line 2"}},
		{"fractional attempt", "id,attempt,sec\nA,1.5,30\n", problem.ErrRange, []string{":2:", `"attempt"`}},
		{"attempt 0", "id,attempt,sec\nA,0,30\n", problem.ErrRange, []string{":2:"}},
		{"no attempt number", "id,attempt,sec\nA,,30\n", problem.ErrMissing, []string{":2:"}},
		{"no trainee", "id,attempt,sec\n,1,30\n", problem.ErrMissing, []string{":2:", `"id"`}},
		{"unknown outcome", "id,attempt,sec,outcome\nA,1,30,DQ\n", problem.ErrUnknown, []string{":2:", `"DQ"`}},
		{"done without a time", "id,attempt,sec,outcome\nA,1,,done\n", problem.ErrMissing, []string{":2:", `"sec"`}},
		{"empty file", "", problem.ErrMissing, []string{"empty"}},
		{"blank lines only", "\n\n\n", problem.ErrMissing, []string{"empty"}},
		{"header only", "id,attempt,sec\n", problem.ErrMissing, []string{"rows of data"}},
		{"short row", "id,attempt,sec\nA,1\n", problem.ErrFormat, []string{":2:", "3 cells, found 2"}},
		{"long row", "id,attempt,sec\nA,1,2,3\n", problem.ErrFormat, []string{":2:"}},
		{"repeated column", "id,attempt,sec,sec\nA,1,2,3\n", problem.ErrDuplicate, []string{`"sec"`}},
		{"open quote", "id,attempt,sec\nA,1,\"30\nA,2,20\n", problem.ErrFormat, []string{":"}},
		{"no text in any encoding", "id,attempt,sec\nA,1,30\nB\x81,1,20\n", problem.ErrFormat, []string{":3:", "0x81", "UTF-8"}},
		{"null byte", "id,attempt,sec\nA,1,3\x000\n", problem.ErrFormat, []string{":2:"}},
		{"minutes read as hours", "id,attempt,sec\nA,1,5400\nA,2,90\n", problem.ErrRange, []string{":2:", `"5400"`, "90", "60"}},
		{"sixtyfold", "id,attempt,sec\nA,1,9000\n", problem.ErrRange, []string{":2:", "150", "60"}},
		{"date in another order", "id,attempt,date,sec\nA,1,02.03.2026,30\n", problem.ErrFormat, []string{":2:", `"date"`, `"02.03.2026"`, "year-month-day"}},
		{"day that never was", "id,attempt,date,sec\nA,1,2026-02-02,30\nA,2,2026-02-30,30\n", problem.ErrFormat, []string{":3:", `"2026-02-30"`}},
		{"short month", "id,attempt,date,sec\nA,1,2026-2-02,30\n", problem.ErrFormat, []string{":2:", `"2026-2-02"`}},
		{"hour 24", "id,attempt,date,sec\nA,1,2026-02-02 24:00,30\n", problem.ErrFormat, []string{":2:"}},
		{"day number outside a spreadsheet", "id,attempt,date,sec\nA,1,46055,30\n", problem.ErrFormat, []string{":2:", `"46055"`}},
		{"comma that may set thousands apart", "id,attempt,sec\nA,1,\"9,990\"\n", problem.ErrAmbiguous, []string{`"9,990"`, "--decimal comma makes it 9.99"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, err := timeTable(t, "log.csv", c.text, true)
			if err == nil {
				t.Fatalf("no error; read %+v", s.Attempts.Attempts)
			}
			if !errors.Is(err, c.kind) {
				t.Errorf("error %v, want kind %v", err, c.kind)
			}
			for _, part := range append(c.want, "log.csv") {
				if !strings.Contains(err.Error(), part) {
					t.Errorf("message %q does not say %q", err, part)
				}
			}
		})
	}
}

func TestEveryProblemIsListed(t *testing.T) {
	var b strings.Builder
	b.WriteString("id,attempt,sec\n")
	for i := range 30 {
		word := string(rune('a'+i%26)) + string(rune('a'+i/26))
		fmt.Fprintf(&b, "A,x%s,y%s\n", word, word)
	}
	_, err := timeTable(t, "log.csv", b.String(), true)
	var ps Problems
	if !errors.As(err, &ps) || len(ps) < 60 {
		t.Fatalf("%d problems, want 60 and more", len(ps))
	}
	if lines := strings.Count(err.Error(), "\n"); lines != problem.MaxShown {
		t.Errorf("%d lines of problems, want %d and a count", lines, problem.MaxShown)
	}
	if !strings.Contains(err.Error(), "and 40 more problems") {
		t.Errorf("the rest is not counted: %v", err)
	}
}

// What people write and what it means.
func TestTimes(t *testing.T) {
	for _, c := range []struct {
		text  string
		comma bool
		want  float64
	}{
		{"90", false, 90}, {"90.0", false, 90}, {"90,0", true, 90}, {"1:30", false, 90}, {"1:30.5", false, 90.5}, {"01:30,5", true, 90.5},
		{"0:01:30", false, 90}, {"1m30s", false, 90}, {"1'30\"", false, 90}, {"45 s", false, 45}, {"2 min", false, 120}, {"9,99", true, 9.99},
	} {
		if got, ok := parseSeconds(c.text, c.comma); !ok || got != c.want {
			t.Errorf("%q is %v (%v), want %v", c.text, got, ok, c.want)
		}
	}
	for _, text := range []string{"", "1:75", "fast", "9,99", "1.2.3", "--", "1e999x", "inf", "NaN", "0x10", "1_000", ">300"} {
		if got, ok := parseSeconds(text, false); ok && text != "9,99" {
			t.Errorf("%q was read as %v", text, got)
		}
	}
	if _, ok := grid.ParseNumber("9,99", false); ok {
		t.Error("a comma was read as a decimal mark in a file that uses points")
	}
}

const longForm = "trainee,arm,attempt,seconds,outcome\n007,x,1,90,done\n007,x,2,75.5,done\n007,x,3,300,timeout\nB,y,1,120,done\nB,y,2,,void\nB,y,3,99.9,failed\n"

// The same data in five shapes give one canonical file.
func TestShapes(t *testing.T) {
	study := func(columns, data string) string {
		dir := t.TempDir()
		text := "title: t\ncodes: {DNF: timeout, F: failed, V: void}\nattempts:\n" + columns +
			"tasks:\n  - {name: tie, measure: time, column: seconds, limit: 300}\n"
		for name, content := range map[string]string{StudyFile: text, "log.csv": data} {
			if err := os.WriteFile(filepath.Join(dir, name), []byte(content), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		s, err := Open(t.Context(), dir)
		if err != nil {
			t.Fatal(err)
		}
		// Order by trainee and attempt, as the shapes list rows differently.
		var b bytes.Buffer
		if err := WriteLog(&b, sorted(s.Attempts)); err != nil {
			t.Fatal(err)
		}
		return b.String()
	}
	want := study("  file: log.csv\n", longForm)
	if !strings.Contains(want, "007,x,tie,,2,75.5,done") || !strings.Contains(want, "B,y,tie,,2,,void") {
		t.Fatalf("canonical form:\n%s", want)
	}
	for _, c := range []struct{ name, columns, data string }{
		{"long, semicolons, decimal commas, byte-order mark", "  file: log.csv\n", "\ufeff" + strings.NewReplacer(",", ";", "75.5", "75,5", "99.9", "99,9").Replace(longForm)},
		{"long, tabs, old line ends, a blank line", "  file: log.csv\n", strings.NewReplacer(",", "\t", "\n", "\r\n").Replace(longForm) + "\r\n"},
		{"wide", "  file: log.csv\n", "trainee,arm,A1,A2,A3\n007,x,90,1:15.5,DNF\nB,y,120,V,F\n"},
		{"two header rows", "  file: log.csv\n  head_rows: 2\n  wide: {Attempt: seconds}\n  columns: {trainee: id, arm: arm}\n", "id,arm,Attempt,,\n,,1,2,3\n007,x,90,75.5,DNF\nB,y,120,V,F\n"},
	} {
		got := study(c.columns, c.data)
		w := want
		if strings.Contains(c.data, "DNF") { // a code says failed but gives no time
			w = strings.Replace(w, "99.9,failed", ",failed", 1)
		}
		if got != w {
			t.Errorf("%s gives\n%swant\n%s", c.name, got, w)
		}
	}
}

func sorted(l Log) Log {
	out := l
	out.Attempts = nil
	for _, id := range []string{"007", "B"} {
		for n := 1.0; n <= 3; n++ {
			for _, a := range l.Attempts {
				if a.Trainee == id && a.Number == n {
					out.Attempts = append(out.Attempts, a)
				}
			}
		}
	}
	return out
}

func TestInterleavedAndSpreadsheet(t *testing.T) {
	dir := t.TempDir()
	book := excelize.NewFile()
	for i, row := range [][]any{{"trainee", "T1", "E1", "T2", "E2"}, {"A", 90, 2, 80.25, 0}, {"B", 70, 1, nil, nil}} {
		cell, _ := excelize.CoordinatesToCellName(1, i+1)
		if err := book.SetSheetRow("Sheet1", cell, &row); err != nil {
			t.Fatal(err)
		}
	}
	if err := book.SaveAs(filepath.Join(dir, "log.xlsx")); err != nil {
		t.Fatal(err)
	}
	text := "title: t\nattempts: {file: log.xlsx, wide: {T: seconds, E: slips}}\ntasks:\n  - {name: tie, measure: time, column: seconds, counts: [slips]}\n"
	if err := os.WriteFile(filepath.Join(dir, StudyFile), []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	s, err := Open(t.Context(), dir)
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := WriteLog(&b, s.Attempts); err != nil {
		t.Fatal(err)
	}
	want := "trainee,arm,task,session,attempt,seconds,slips,outcome\nA,,tie,,1,90,2,done\nA,,tie,,2,80.25,0,done\nB,,tie,,1,70,1,done\n"
	if b.String() != want {
		t.Errorf("got\n%swant\n%s", b.String(), want)
	}
}

// The canonical file read back is the same log.
func TestRoundTrip(t *testing.T) {
	s, err := timeTable(t, "log.csv", "id,attempt,sec,outcome\nA,1,33.333333333333336,done\nA,2,1e-05,done\nA,4,300,timeout\nB,1,,void\n", true)
	if err != nil {
		t.Fatal(err)
	}
	var first, second bytes.Buffer
	if err := WriteLog(&first, s.Attempts); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "again.csv")
	os.WriteFile(path, first.Bytes(), 0o644)
	again, err := OpenTable(t.Context(), path, Single{Columns: Columns{Trainee: "trainee", Attempt: "attempt", Outcome: "outcome", Arm: "arm", Task: "task"}, Response: "sec", Measure: Time, Limit: 300})
	if err != nil {
		t.Fatal(err)
	}
	WriteLog(&second, again.Attempts)
	if first.String() != second.String() {
		t.Errorf("read back as\n%swas\n%s", second.String(), first.String())
	}
	if !hasNote(s, "attempt-gaps") {
		t.Error("the gap at attempt 3 is not noted")
	}
}

func hasNote(s *Study, code string) bool {
	for _, n := range s.Notes {
		if n.Code == code {
			return true
		}
	}
	return false
}

func TestOneMegabyteLine(t *testing.T) {
	long := strings.Repeat("x", 1<<20)
	_, err := timeTable(t, "log.csv", "id,attempt,sec\nA,1,"+long+"\n", true)
	if err == nil || len(err.Error()) > 300 {
		t.Errorf("a cell of 1 MB: message of %d bytes", len(err.Error()))
	}
	s, err := timeTable(t, "log.csv", "id,attempt,sec\n"+long+",1,20\n", true)
	if err != nil || len(s.Attempts.Attempts) != 1 {
		t.Errorf("a code of 1 MB: %v", err)
	}
}

func TestSingleSeriesTakesRealNumbers(t *testing.T) {
	s, err := timeTable(t, "log.csv", "attempt,sec\n-1.5,20\n0,30\n2.25,40\n2.25,41\n", false)
	if err != nil || len(s.Attempts.Attempts) != 4 || s.Attempts.Attempts[0].Number != -1.5 {
		t.Errorf("read %+v, %v", s, err)
	}
}

// start 300, one point a second, 20 a puncture, floor 0, cap 250.
func TestScoring(t *testing.T) {
	rule := Scoring{Version: "1", Start: 300, Time: "seconds", PerSecond: 1, Penalty: map[string]float64{"punctures": 20}, Floor: 0, Cap: 250}
	for _, c := range []struct {
		seconds, punctures float64
		outcome            Outcome
		want               float64
	}{
		{90, 2, Done, 170}, {40, 0, Done, 250}, {280, 3, Done, 0}, {180, 0, Timeout, 0}, {90, 2, Failed, math.NaN()}, {90, 2, Void, math.NaN()},
	} {
		got := rule.Score(c.seconds, map[string]float64{"punctures": c.punctures}, c.outcome)
		if got != c.want && !(math.IsNaN(got) && math.IsNaN(c.want)) {
			t.Errorf("%v s, %v punctures, %v: %v, want %v", c.seconds, c.punctures, c.outcome, got, c.want)
		}
	}
}

func TestPasses(t *testing.T) {
	l := Log{Measures: []string{"seconds", "punctures"}}
	task := Task{Measure: Time, Column: "seconds", Better: "lower", Counts: []string{"punctures"}, AtMost: map[string]float64{"punctures": 1}}
	for _, c := range []struct {
		values  []float64
		outcome Outcome
		want    bool
	}{
		{[]float64{57, 1}, Done, true}, {[]float64{57.1, 1}, Done, false}, {[]float64{50, 2}, Done, false},
		{[]float64{50, 0}, Failed, false}, {[]float64{50, 0}, Timeout, false}, {[]float64{50, math.NaN()}, Done, false},
	} {
		l.Attempts, l.values = nil, nil
		l.Add(Attempt{Place: &Place{}, Number: 1, Outcome: c.outcome}, c.values...)
		a := l.trainees(task)[0].Attempts[0]
		if got := a.Passes(practice.Standard{Value: 57, Lower: true}); got != c.want {
			t.Errorf("%v, %v: passes %v, want %v", c.values, c.outcome, got, c.want)
		}
	}
}

func TestStudyFile(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"unknown key", "title: t\nattemps: {file: log.csv}\n", "attemps"},
		{"no tasks", "title: t\nattempts: {file: log.csv}\n", "at least one task"},
		{"unknown measure", "attempts: {file: log.csv}\ntasks: [{name: a, measure: speed, column: x}]\n", "pass-fail"},
		{"summative without a person", "purpose: summative\nattempts: {file: log.csv}\ntasks: [{name: a, column: x}]\n", "decides"},
		{"standard above the limit", "attempts: {file: log.csv}\ntasks: [{name: a, measure: time, column: x, limit: 60, standard: {value: 90}}]\n", "below the time limit"},
		{"scoring without version", "attempts: {file: log.csv}\ntasks: [{name: a, column: score, scoring: {start: 10}}]\n", "version"},
		{"not YAML", "title: [", "study file"},
		{"bad code", "attempts: {file: log.csv}\ncodes: {DNF: late}\ntasks: [{name: a, column: x}]\n", "DNF"},
		{"failure rates the wrong way round", "attempts: {file: log.csv}\ntasks: [{name: a, column: x, monitor: {acceptable: 0.4, unacceptable: 0.2}}]\n", "0 < acceptable < unacceptable < 1"},
		{"one failure rate", "attempts: {file: log.csv}\ntasks: [{name: a, column: x, monitor: {unacceptable: 0.2}}]\n", "task a: monitor"},
		{"missing log", "attempts: {file: nowhere.csv}\ntasks: [{name: a, column: x}]\n", "nowhere.csv"},
	} {
		dir := t.TempDir()
		os.WriteFile(filepath.Join(dir, StudyFile), []byte(c.text), 0o644)
		if _, err := Open(t.Context(), dir); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: error %v, want it to say %q", c.name, err, c.want)
		}
	}
}

// Any bytes are read or refused with a place; never a panic, never data with
// an error.
func FuzzTable(f *testing.F) {
	f.Add([]byte(longForm))
	f.Add([]byte("\xff\xfei\x00d\x00"))
	f.Add([]byte("id;attempt;sec\nA;1;9,99\n"))
	f.Add([]byte("trainee,A1,A2\nx,1,\n"))
	f.Add([]byte("trainee,date,attempt,seconds\nx,2026-02-02 09:30,1,20\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		s := &Study{Tasks: []Task{{Name: "t", Measure: Time, Column: "seconds", Better: "lower", Limit: 300}}}
		log, err := s.readLog(t.Context(), "log.csv", data, LogFile{File: "log.csv"}, true)
		if err != nil {
			var p Problem
			if !errors.As(err, &p) || p.File == "" {
				t.Errorf("an error without a place: %v", err)
			}
			return
		}
		for _, a := range log.Attempts {
			if a.Trainee != "" && !(a.Number >= 1) || a.Outcome == Done && !(log.Values(a)[0] > 0) {
				t.Errorf("accepted %+v", a)
			}
			if d := log.Date(a); d != "" && !isDate(d) {
				t.Errorf("accepted the date %q", d)
			}
		}
	})
}

// A mistake that many cells share is said once, with how many and where; other mistakes
// keep their own lines.
func TestManyCellsShareAMessage(t *testing.T) {
	var b strings.Builder
	b.WriteString("id,attempt,sec\n")
	for i := range 214 {
		fmt.Fprintf(&b, "A,%d,%d segs\n", i+1, 90+i)
	}
	b.WriteString("A,215,fast\n")
	_, err := timeTable(t, "log.csv", b.String(), true)
	if err == nil {
		t.Fatal("read")
	}
	lines := strings.Split(err.Error(), "\n")
	if len(lines) != 2 || !strings.Contains(lines[0], `214 cells such as "90 segs" (line 2, 3, 4, 5, 6, 7, 8, 9 and 206 more)`) || !strings.Contains(lines[0], "--unit-suffix segs") || !strings.Contains(lines[1], `log.csv:216: column "sec": "fast"`) {
		t.Errorf("the message is\n%v", err)
	}
}
