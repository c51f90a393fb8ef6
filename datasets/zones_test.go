package datasets

import "testing"

// By hand: 23:30 five hours behind UTC is 04:30 of the next day there, after 01:00. Attempts without
// numbers are put in that order where every moment says its clock, and several clocks are noted.
func TestDatesOfSeveralClocks(t *testing.T) {
	for _, c := range []struct {
		rows    string
		seconds []float64 // in the order of the attempts' numbers
		noted   bool
	}{
		{"B,2026-01-01T23:30:00-05:00,50\nB,2026-01-02T01:00:00Z,80\n", []float64{80, 50}, true},
		{"B,2026-01-01 23:30-0500,50\nB,2026-01-02 01:00,80\n", []float64{50, 80}, true},
		{"B,2026-01-02T01:00:00+00:00,80\nB,2026-01-01T23:30:00Z,50\n", []float64{50, 80}, false},
		{"B,2026-01-02 01:00,80\nB,2026-01-01,50\n", []float64{50, 80}, false},
	} {
		s, err := openStudy(t, map[string]string{
			StudyFile: "attempts: {file: log.csv}\n" + timed,
			"log.csv": "trainee,date,seconds\n" + c.rows,
		})
		if err != nil {
			t.Errorf("%q: %v", c.rows, err)
			continue
		}
		for _, a := range s.Attempts.Attempts {
			if got := s.Attempts.Values(a)[0]; got != c.seconds[int(a.Number)-1] {
				t.Errorf("%q: attempt %v took %v, want %v", c.rows, a.Number, got, c.seconds)
			}
		}
		if got := noted(s, "several-clocks"); got != c.noted {
			t.Errorf("%q: noted %v, want %v", c.rows, got, c.noted)
		}
	}
}
