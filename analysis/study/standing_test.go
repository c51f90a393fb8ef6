package study

import (
	"math"
	"testing"

	"tyro/analysis/practice"
	"tyro/analysis/proficiency"
)

// Somebody who met the rule and then lost it is to be looked at, not listed as met: after
// five attempts without a pass, or once the curve leads away from the standard.
func TestFallingAwayAfterTheRule(t *testing.T) {
	pass, miss := 50.0, 70.0
	for _, c := range []struct {
		name     string
		times    []float64
		status   proficiency.Status
		place    Place
		because  Reason
		metAt    float64
		of, kept int
	}{
		{"kept", []float64{miss, pass, pass, pass, miss, pass, miss, miss}, proficiency.Reached, HasMet, BecauseMet, 3, 5, 2},
		{"four misses", []float64{pass, pass, miss, miss, miss, miss}, proficiency.Reached, HasMet, BecauseMet, 2, 4, 0},
		{"five misses", []float64{pass, pass, miss, miss, miss, miss, miss}, proficiency.Reached, LookNow, BecauseLapsed, 2, 5, 0},
		{"worse by the curve", []float64{pass, pass, miss}, proficiency.MovingAway, LookNow, BecauseLapsed, 2, 1, 0},
	} {
		s := &Study{}
		s.Question = proficiency.Question{Standard: practice.Standard{Value: 60, Lower: true}, Rule: practice.Rule{{Need: 2}}}
		var at []float64
		for i := range c.times {
			at = append(at, float64(i+1))
		}
		who := TraineeProficiency{Trainee: practice.Measured("T1", at, c.times)}
		who.Answers = []proficiency.Answer{{Definition: proficiency.MeanCrossing, Status: c.status, Estimate: math.NaN(), Lower: math.NaN(), Upper: math.NaN()}}
		s.Trainees = []practice.Trainee{who.Trainee}
		got := s.Standings(Known{Proficiency: &Proficiency{Trainees: []TraineeProficiency{who}}})
		if len(got) != 1 {
			t.Fatalf("%s: %d standings", c.name, len(got))
		}
		g := got[0]
		if g.Place != c.place || g.Reason != c.because || g.MetAt != c.metAt || g.Since != c.of || g.Kept != c.kept {
			t.Errorf("%s: %s because %s, met at %g, since then %d of %d", c.name, g.Place, g.Reason, g.MetAt, g.Kept, g.Since)
		}
	}
}
