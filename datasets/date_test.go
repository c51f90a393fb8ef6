package datasets

import (
	"bytes"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"

	"tyro/datasets/internal/grid"
)

// study reads a log as a study with one timed task called tie.
func study(t *testing.T, file string, write func(path string)) (*Study, error) {
	t.Helper()
	dir := t.TempDir()
	text := "title: t\nattempts: {file: " + file + "}\ntasks:\n  - {name: tie, measure: time, column: seconds}\n"
	if err := os.WriteFile(filepath.Join(dir, StudyFile), []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	write(filepath.Join(dir, file))
	return Open(t.Context(), dir)
}

func studyOf(t *testing.T, text string) (*Study, error) {
	t.Helper()
	return study(t, "log.csv", func(path string) {
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	})
}

// canonical is the log's canonical form.
func canonical(t *testing.T, s *Study) string {
	t.Helper()
	var b bytes.Buffer
	if err := WriteLog(&b, s.Attempts); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// An hour of one digit is read, and written with two, so that dates sort as text.
func TestHourOfOneDigit(t *testing.T) {
	s, err := studyOf(t, "trainee,arm,task,date,attempt,seconds,outcome\nA,x,tie,2026-01-01 9:00,1,90,done\nA,x,tie,2026-01-01T9:05:30,2,80,done\nA,x,tie,2026-01-01 10:00,3,70,done\nA,x,tie,2026-01-02 0:00,4,70,done\n")
	if err != nil {
		t.Fatal(err)
	}
	for k, want := range []string{"2026-01-01 09:00", "2026-01-01 09:05", "2026-01-01 10:00", "2026-01-02"} {
		if got := s.Attempts.Date(s.Attempts.Attempts[k]); got != want {
			t.Errorf("attempt %d: %q, want %q", k+1, got, want)
		}
	}
	if hasNote(s, "dates-out-of-order") {
		t.Errorf("notes %v", s.Notes)
	}
	for _, wrong := range []string{"2026-01-01 25:00", "2026-01-01 9:60", "2026-01-01 9:0", "2026-02-30 9:00"} {
		if _, err := studyOf(t, "trainee,arm,task,date,attempt,seconds,outcome\nA,x,tie,"+wrong+",1,90,done\n"); err == nil {
			t.Errorf("%s is read", wrong)
		}
	}
}

// Trainees who lack attempts are told in one note, with what each lacks.
func TestGapsAreToldOnce(t *testing.T) {
	s, err := studyOf(t, "trainee,arm,task,attempt,seconds,outcome\nA,x,tie,1,90,done\nA,x,tie,4,80,done\nB,x,tie,2,70,done\nC,x,tie,1,70,done\n")
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, n := range s.Notes {
		if n.Code == "attempt-gaps" {
			got = append(got, n.Text)
		}
	}
	if want := "2 trainees lack some attempts, and numbers are kept as given: \"A\" (2 of those up to 4), \"B\" (1 of those up to 2)"; len(got) != 1 || got[0] != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

// A log with dates, one of them blank, keeps them after the session and reads
// back identically.
func TestDatesRoundTrip(t *testing.T) {
	const want = "trainee,arm,task,session,date,attempt,seconds,outcome\nA,x,tie,1,2026-02-02,1,90,done\nA,x,tie,1,2026-02-02 09:30,2,80,done\nA,x,tie,2,,3,70,done\n"
	s, err := studyOf(t, want)
	if err != nil {
		t.Fatal(err)
	}
	if got := canonical(t, s); got != want {
		t.Errorf("got\n%swant\n%s", got, want)
	}
	if hasNote(s, "dates-out-of-order") {
		t.Errorf("notes %v", s.Notes)
	}
}

// Without a date in any row the canonical form is what it is without the column.
func TestNoDates(t *testing.T) {
	const want = "trainee,arm,task,session,attempt,seconds,outcome\nA,,tie,,1,90,done\n"
	for _, text := range []string{"trainee,attempt,seconds\nA,1,90\n", "trainee,date,attempt,seconds\nA,,1,90\n"} {
		s, err := studyOf(t, text)
		if err != nil || canonical(t, s) != want {
			t.Errorf("%q gives %q (%v)", text, canonical(t, s), err)
		}
	}
}

func TestDatesInAWideTable(t *testing.T) {
	s, err := studyOf(t, "trainee,date,A1,A2\nA,2026-02-02,90,80\n")
	want := "trainee,arm,task,session,date,attempt,seconds,outcome\nA,,tie,,2026-02-02,1,90,done\nA,,tie,,2026-02-02,2,80,done\n"
	if err != nil || canonical(t, s) != want {
		t.Errorf("got\n%s(%v)", canonical(t, s), err)
	}
	_, err = studyOf(t, "trainee,date,A1,A2,A3\nA,yesterday,90,80,70\nB,2026-02-02,90,80,70\nC,?,90,80,70\n")
	var ps Problems
	if !errors.As(err, &ps) || len(ps) != 2 || ps[0].Line != 2 || ps[0].Column != "date" || ps[1].Line != 4 {
		t.Errorf("problems %v; want each bad date once, at lines 2 and 4", err)
	}
}

// Attempts keep the order of their numbers when dates say otherwise, with a
// note for each trainee concerned.
func TestDatesOutOfOrder(t *testing.T) {
	s, err := studyOf(t, "trainee,date,attempt,seconds\nB,2026-02-02 10:00,2,80\nB,2026-02-02,1,90\nA,2026-02-09,1,90\nA,,2,80\nA,2026-02-02,3,80\n")
	if err != nil {
		t.Fatal(err)
	}
	var found []string
	for _, n := range s.Notes {
		if n.Code == "dates-out-of-order" {
			found = append(found, n.Text)
		}
	}
	if len(found) != 1 || !strings.Contains(found[0], "trainee A: attempt 3 is dated 2026-02-02, before attempt 1 on 2026-02-09") {
		t.Errorf("notes %q", found)
	}
}

// Date cells of a workbook, in either calendar, and dates typed as text.
func TestDatesInASpreadsheet(t *testing.T) {
	read := func(from1904 bool, cells ...any) (*Study, error) {
		return study(t, "log.xlsx", func(path string) {
			book := excelize.NewFile()
			if err := book.SetWorkbookProps(&excelize.WorkbookPropsOptions{Date1904: &from1904}); err != nil {
				t.Fatal(err)
			}
			rows := [][]any{{"trainee", "date", "attempt", "seconds"}}
			for i, c := range cells {
				rows = append(rows, []any{"A", c, i + 1, 90})
			}
			for i, row := range rows {
				cell, _ := excelize.CoordinatesToCellName(1, i+1)
				if err := book.SetSheetRow("Sheet1", cell, &row); err != nil {
					t.Fatal(err)
				}
			}
			if err := book.SaveAs(path); err != nil {
				t.Fatal(err)
			}
		})
	}
	want := []string{"2026-02-02", "2026-02-02", "2026-02-02 09:30", ""}
	for from1904, shift := range map[bool]int{false: 0, true: 1462} {
		s, err := read(from1904, 46055-shift, "2026-02-02", 46055-float64(shift)+9.5/24, nil)
		if err != nil {
			t.Fatal(err)
		}
		for i, a := range s.Attempts.Attempts {
			if got := s.Attempts.Date(a); got != want[i] {
				t.Errorf("1904 %v: attempt %d on %q, want %q", from1904, i+1, got, want[i])
			}
		}
	}
	_, err := read(false, 60, "2.3.2026", 46055)
	var ps Problems
	if !errors.As(err, &ps) || len(ps) != 2 || ps[0].Line != 2 || ps[0].Value != "60" || ps[1].Line != 3 || !strings.Contains(ps[0].Expect, "date cell") {
		t.Errorf("problems %v; want the leap day that never was, and a text in another order", err)
	}
}

// A text is a date where the standard library reads it as one and writes it the same.
func TestDatesOfTheCalendar(t *testing.T) {
	library := func(s string) bool {
		for _, form := range []string{grid.DateForm, grid.DateTimeForm} {
			if at, err := time.Parse(form, s); err == nil && at.Format(form) == s {
				return true
			}
		}
		return false
	}
	r := rand.New(rand.NewPCG(7, 8))
	dates := 0
	for range 200_000 {
		s := fmt.Sprintf("%04d-%02d-%02d", r.IntN(10000), r.IntN(14), r.IntN(33))
		if r.IntN(2) == 0 {
			s += fmt.Sprintf(" %02d:%02d", r.IntN(26), r.IntN(62))
		}
		if r.IntN(4) == 0 {
			i := r.IntN(len(s))
			s = s[:i] + string("0123456789 -T:/"[r.IntN(15)]) + s[i+1:]
		}
		want := library(s)
		if got := isDate(s); got != want {
			t.Fatalf("%q is a date: %v, want %v", s, got, want)
		}
		if want {
			dates++
			at, err := time.Parse(grid.DateTimeForm, s)
			if err != nil {
				at, _ = time.Parse(grid.DateForm, s)
			}
			if minuteOf(s) != at.Unix()/60 {
				t.Fatalf("%q is minute %d, want %d", s, minuteOf(s), at.Unix()/60)
			}
		}
	}
	if dates < 50_000 {
		t.Errorf("only %d of the texts are dates", dates)
	}
}
