package practice

import (
	"math"
	"testing"

	"tyro/models"
)

// Counts are whole: with more being better, 2.5 is met by 3 and more, and with fewer
// being better by 2 and less. Poisson chances of mean 3: P(X ≤ 2) = e^−3·(1 + 3 + 4.5).
func TestStandardOfCounts(t *testing.T) {
	atMost2 := math.Exp(-3) * 8.5
	more, fewer := Standard{Value: 2.5}, Standard{Value: 2.5, Lower: true}
	m := math.Log(3)
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"3 and more", more.PassChance(models.Poisson{}, m, 0), 1 - atMost2},
		{"2 and less", fewer.PassChance(models.Poisson{}, m, 0), atMost2},
		{"a standard of 3 asks the same as 2.5", more.At(3).PassChance(models.Poisson{}, m, 0), 1 - atMost2},
		{"a standard of 2 asks for more than 1", more.At(2).PassChance(models.Poisson{}, m, 0), 1 - math.Exp(-3)*4},
		{"where the chance is that again", more.CurveFor(models.Poisson{}, 1-atMost2, 0), m},
		{"and with fewer being better", fewer.CurveFor(models.Poisson{}, atMost2, 0), m},
	} {
		if !(math.Abs(c.got-c.want) < 1e-12) {
			t.Errorf("%s: %v, want %v", c.what, c.got, c.want)
		}
	}
	for _, v := range []float64{0, 1, 2, 3, 4} {
		if more.Meets(v) != (v >= 3) || fewer.Meets(v) != (v <= 2) {
			t.Errorf("%v: meets %v and %v", v, more.Meets(v), fewer.Meets(v))
		}
	}
}

// Passes and fails: a pass meets any standard; where 1 marks a failure, 0 does. Chances
// beyond what guessing and lapsing leave are met always or never.
func TestStandardOfPasses(t *testing.T) {
	s := Standard{Value: 0.8, PassFail: true}
	b := models.Bernoulli{Guess: 0.25, Lapse: 0.1}
	if !s.Meets(1) || s.Meets(0) || math.Abs(s.PassChance(b, 0, 0)-(0.25+0.65/2)) > 1e-12 {
		t.Errorf("a pass: %v, %v, chance %v", s.Meets(1), s.Meets(0), s.PassChance(b, 0, 0))
	}
	failures := Standard{Value: 0.2, PassFail: true, Lower: true}
	if !failures.Meets(0) || failures.Meets(1) || math.Abs(failures.PassChance(models.Bernoulli{}, math.Log(0.25), 0)-0.8) > 1e-12 {
		t.Error("1 is read as a pass where it marks a failure")
	}
	if at := failures.CurveFor(models.Bernoulli{}, 0.8, 0); math.Abs(at-math.Log(0.25)) > 1e-12 {
		t.Errorf("a chance to pass of 0.8 at %v, want a failure rate of 0.2", at)
	}
	if !math.IsInf(s.CurveFor(b, 0.2, 0), -1) || !math.IsInf(s.CurveFor(b, 0.95, 0), 1) {
		t.Errorf("beyond guessing and lapsing: %v, %v", s.CurveFor(b, 0.2, 0), s.CurveFor(b, 0.95, 0))
	}
}

// Times and scores: the median meets the standard where the curve stands at it, and one
// attempt with a chance of one half.
func TestStandardOfTimes(t *testing.T) {
	s := Standard{Value: 60, Lower: true}
	if at := s.CurveFor(models.Lognormal{}, 0.5, 0.3); math.Abs(at-60) > 1e-9 {
		t.Errorf("an even chance at %v", at)
	}
	at := s.CurveFor(models.Lognormal{}, 0.8, 0.3)
	if p := s.PassChance(models.Lognormal{}, at, 0.3); math.Abs(p-0.8) > 1e-9 || at >= 60 {
		t.Errorf("a chance of %v at %v", p, at)
	}
	if !s.Meets(60) || s.Meets(60.1) || s.Meets(math.NaN()) || s.At(50).Meets(60) {
		t.Error("meeting 60")
	}
	if (Standard{Value: math.NaN()}).Set() {
		t.Error("no standard is set")
	}
}
