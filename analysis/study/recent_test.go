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

// Of passes and fails, by hand: 1, 0, 1, 0, 1 are 3 of 5, and 0, 0, 0, 0, 1 are 1 of 5, on average 0.4. The
// standard error is 0.2 and t(1) at .975 is 12.706, so the interval ends where shares end. Medians, 1 and 0,
// would say 0.5.
func TestRecentLevelsOfPasses(t *testing.T) {
	n := []float64{1, 2, 3, 4, 5}
	p := practice.Practice{Task: practice.Task{Name: "t", Measure: practice.PassFail}, Arms: []string{""}, Trainees: []practice.Trainee{practice.Measured("A", n, []float64{1, 0, 1, 0, 1}), practice.Measured("B", n, []float64{0, 0, 0, 0, 1})}}
	s, err := study.New(p, study.Options{NoCurves: true})
	if err != nil {
		t.Fatal(err)
	}
	if got := s.RecentLevels()[0]; math.Abs(got.Value-0.4) > 1e-12 || got.Lower != 0 || got.Upper != 1 {
		t.Errorf("%+v", got)
	}
}

// Two trainees who pass at the end before a break of 30 days and fail at first after it, with no standard
// given: a pass is a pass. One of the two passes at first; Student's t would have that share from -5.9 to 6.9.
func TestStillPassingWithoutStandard(t *testing.T) {
	var trainees []practice.Trainee
	for _, id := range []string{"A", "B"} {
		first := 1.0 // of A alone, so that a mean of 0.5 has an interval
		if id == "B" {
			first = 0
		}
		x := practice.Measured(id, []float64{1, 2, 3, 4}, []float64{first, 1, 0, 1})
		for k, session := range []string{"1", "1", "2", "2"} {
			x.Attempts[k].Session = session
		}
		trainees = append(trainees, x)
	}
	s, err := study.New(practice.Practice{Task: practice.Task{Name: "t", Measure: practice.PassFail}, Arms: []string{""}, Trainees: trainees}, study.Options{NoCurves: true})
	if err != nil {
		t.Fatal(err)
	}
	r, err := s.Retention(t.Context(), study.RetentionOptions{Gaps: map[string]float64{"2": 30}})
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range r.Calendar {
		if x.Value.Lower < 0 || x.Value.Upper > 1 {
			t.Errorf("a share from %v to %v", x.Value.Lower, x.Value.Upper)
		}
	}
	if g := r.Groups[0].Gaps[0]; g.StillOf != 2 || g.Still.Estimate != 0 {
		t.Errorf("%v of %d still pass", g.Still, g.StillOf)
	}
}
