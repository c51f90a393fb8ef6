package datasets

import (
	"strings"
	"testing"
)

// A row below the table that names nobody is left out where it is the mean of those above (by hand: the
// eight times make 760 together, 95 each), or holds no number; else it is refused with the way out.
func TestRowsThatNameNobody(t *testing.T) {
	log := "id,attempt,sec,who\nT1,1,130,\nT1,2,110,\nT1,3,90,\nT1,4,70,\nT2,1,120,\nT2,2,100,\nT2,3,80,\nT2,4,60,\n"
	for _, c := range []struct{ below, note, problem string }{
		{",,95,\n", "summary-rows", ""},
		{",,760,sum\n", "summary-rows", ""},
		{",,,checked by the office\n", "notes-below", ""},
		{",,,checked\n,,95,\n", "", "take it out of the table"}, // the mean is not the last row alone
		{",,DNF,left\n", "", "a trainee code and an attempt"},   // an attempt of somebody
		{",,97,all together\n", "", `--without "who=all together"`},
	} {
		s, err := timeTable(t, "log.csv", log+c.below, true)
		switch {
		case c.problem != "" && (err == nil || !strings.Contains(err.Error(), c.problem)):
			t.Errorf("below %q: %v, want %s", c.below, err, c.problem)
		case c.problem == "" && err != nil:
			t.Errorf("below %q: %v", c.below, err)
		case c.problem == "" && (!hasNote(s, c.note) || len(s.Attempts.Attempts) != 8):
			t.Errorf("below %q: %d attempts, notes %v", c.below, len(s.Attempts.Attempts), s.Notes)
		}
	}
}

// Two codes share the attempts of one person only where one lacks just what the other has, and nobody else does.
func TestCodesThatMakeUpOnePerson(t *testing.T) {
	head := "id,attempt,sec\nA,1,130\nA,2,110\nA,3,91\nB,1,140\nB,2,99\nB,3,80\nC,1,121\nC,2,101\nC,3,77\n"
	for rows, want := range map[string]bool{
		"Moss,1,150\nMoss,2,119\nReed,3,84\n":                       true,
		"Moss,1,150\nReed,1,119\nReed,2,84\n":                       false, // both left early
		"Moss,1,150\nMoss,2,119\nFir,1,133\nFir,2,103\nReed,3,84\n": false, // of two it is not known which
		"Moss,1,150\nMoss,2,119\nReed,2,104\nReed,3,84\n":           false, // both have attempt 2
	} {
		s, err := timeTable(t, "log.csv", head+rows, true)
		if err != nil {
			t.Fatal(err)
		}
		if hasNote(s, "codes-go-on") != want {
			t.Errorf("%q: %v, want %v", rows, !want, want)
		}
	}
}
