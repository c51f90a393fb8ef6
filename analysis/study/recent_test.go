package study_test

import (
	"math"
	"testing"

	"tyro/analysis/practice"
	"tyro/analysis/study"
)

// By hand, of scores: the last five of 9, 1, 2, 3, 4, 5 have the median 3; 5 and 7 have 6;
// the mean of 3 and 6 is 4.5, their standard deviation 2.1213, so the standard error is 1.5,
// and t(1) at .975 is 12.706: 4.5 - 19.059 to 4.5 + 19.059. Of a time that ended three times
// of five at the limit the median is not known; the geometric mean of 2 and 8 is 4.
func TestRecentLevels(t *testing.T) {
	person := func(id string, v ...float64) practice.Trainee {
		var n []float64
		for i := range v {
			n = append(n, float64(i+1))
		}
		return practice.Measured(id, n, v)
	}
	s, err := study.New(practice.Practice{Task: practice.Task{Name: "t", Measure: practice.Score}, Arms: []string{""}, Trainees: []practice.Trainee{person("A", 9, 1, 2, 3, 4, 5), person("B", 5, 7)}}, study.Options{NoCurves: true})
	if err != nil {
		t.Fatal(err)
	}
	got := s.RecentLevels()
	if len(got) != 1 || got[0].N != 2 || math.Abs(got[0].Value-4.5) > 1e-12 || math.Abs(got[0].Lower+14.559307104) > 1e-6 || math.Abs(got[0].Upper-23.559307104) > 1e-6 {
		t.Errorf("%+v", got)
	}
	slow := person("C", 180, 180, 180, 50, 40)
	for i := range 3 {
		slow.Attempts[i].Censored, slow.Attempts[i].Outcome = true, practice.Timeout
	}
	s, err = study.New(practice.Practice{Task: practice.Task{Name: "t", Measure: practice.Time, Lower: true}, Arms: []string{""}, Trainees: []practice.Trainee{person("A", 2), person("B", 8), slow}}, study.Options{NoCurves: true})
	if err != nil {
		t.Fatal(err)
	}
	if got = s.RecentLevels(); got[0].N != 2 || got[0].Unknown != 1 || math.Abs(got[0].Value-4) > 1e-12 {
		t.Errorf("%+v", got)
	}
}
