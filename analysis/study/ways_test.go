package study

import (
	"math"
	"strings"
	"testing"

	"tyro/analysis/practice"
	"tyro/analysis/stopping"
	"tyro/models"
)

func policies(t *testing.T, texts ...string) []stopping.Policy {
	t.Helper()
	var out []stopping.Policy
	for _, text := range texts {
		p, err := stopping.ParsePolicy(text)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, p)
	}
	return out
}

func withoutStudy(t *testing.T, o WaysOptions) *WaysToStop {
	t.Helper()
	s, err := New(practice.Practice{}, Options{})
	if err != nil {
		t.Fatal(err)
	}
	d, err := s.WaysToStop(t.Context(), o)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// By hand: two in a row at 1/2 lets 1 − 144/1024 through by attempt 10, half by 4 and
// 80 % by 9 (see the tests of the recursion); a fixed number of 6 attempts lets nobody
// through before and everybody after. At 9/10 the chances of going on with no pass and
// with one behind are 1 and 0, then .1 and .9, .1 and .09, .019 and .09, .0109 and
// .0171, .0028 and .00981 after five attempts: 0.01261 are held back.
func TestWaysToStopConstant(t *testing.T) {
	ps := policies(t, "2 in a row", "6 attempts")
	d := withoutStudy(t, WaysOptions{First: ps[0], Against: ps[1:], Horizon: 10, Bar: stopping.Bar{Held: 5}})
	notYet, able := d.Stops[0][0], d.Stops[0][1]
	if notYet.FalsePass.Value != 0.859375 || notYet.MetBy[9] != 0.859375 || !math.IsNaN(notYet.HeldBack.Value) {
		t.Errorf("two in a row at 1/2: %+v", notYet)
	}
	if math.Abs(able.HeldBack.Value-0.01261) > 1e-12 || able.FalsePass.Value != 0 {
		t.Errorf("two in a row at 9/10: %+v, want 0.01261 held back", able)
	}
	fixed := d.Stops[1][0]
	if fixed.Attempts.Value != 6 || fixed.FalsePass.Value != 1 || fixed.MetBy[4] != 0 || fixed.MetBy[5] != 1 {
		t.Errorf("six attempts: %+v", fixed)
	}
	for k, want := range []float64{4, 9, math.Inf(1)} {
		if q := d.Quotas[k]; q.Attempts != want {
			t.Errorf("%v of learners have stopped by %v, want %v", q.Share, q.Attempts, want)
		}
	}
	if d.Judge() != -1 || d.OwnRule || !math.IsNaN(d.Standard) {
		t.Errorf("without a study: judge %d, the study's own rule %v, standard %v", d.Judge(), d.OwnRule, d.Standard)
	}
}

// A stated learner who passes with 1/2 and then 9/10, by hand as in the tests of the
// policies.
func TestWaysToStopStated(t *testing.T) {
	d := withoutStudy(t, WaysOptions{First: policies(t, "1 in a row")[0], Horizon: 2, Stated: []float64{0.5, 0.9}, Bar: stopping.Bar{Held: 1}})
	c := d.Stops[0][d.Judge()]
	if d.Learners[d.Judge()].Kind != LearnerStated || c.Attempts.Value != 1.5 || c.FalsePass.Value != 0.5 || math.Abs(c.HeldBack.Value-0.05) > 1e-12 || !math.IsNaN(c.FalsePass.Lower) {
		t.Errorf("%+v", c)
	}
}

// A bar of many attempts holds back exactly those who have not stopped by the horizon.
func TestHeldBackBeyondTheHorizon(t *testing.T) {
	d := withoutStudy(t, WaysOptions{First: policies(t, "2 in a row")[0], Horizon: 10, Bar: stopping.Bar{Held: math.MaxInt}})
	if able := d.Stops[0][1]; able.HeldBack.Value != able.Never {
		t.Errorf("held back %v, not stopped %v", able.HeldBack.Value, able.Never)
	}
}

func TestWaysToStopRefuses(t *testing.T) {
	s, err := New(practice.Practice{}, Options{})
	if err != nil {
		t.Fatal(err)
	}
	one := policies(t, "2 in a row")[0]
	for _, o := range []WaysOptions{
		{Horizon: 10},
		{Horizon: 10, Against: policies(t, "1 attempts", "2 attempts", "3 attempts", "4 attempts", "5 attempts", "6 attempts", "7 attempts", "8 attempts", "9 attempts", "10 attempts", "11 attempts")},
		{First: one, Horizon: MaxAhead + 1},
		{First: one, Horizon: -1},
		{First: one, Horizon: 10, Bar: stopping.Bar{Held: -3}},
		{First: one, Horizon: 10, Bar: stopping.Bar{Level: 1.5}},
		{First: one, Horizon: 10, Stated: []float64{0.5}},
	} {
		if d, err := s.WaysToStop(t.Context(), o); err == nil {
			t.Errorf("%+v: %d ways were compared", o, len(d.Ways))
		}
	}
}

// A rule of the study file is the study's own; one from the command line is not. Those
// whose curve cannot be fitted are counted.
func TestOwnRule(t *testing.T) {
	for _, given := range []bool{false, true} {
		s, err := fast(4, Options{Replicates: 20, Families: []models.Family{models.Exponential(1)}}, func(i int, tr *practice.Trainee) {
			if i == 3 {
				tr.Attempts = tr.Attempts[:2]
			}
		})
		if err != nil {
			t.Fatal(err)
		}
		s.Task.RuleGiven = given
		d, err := s.WaysToStop(t.Context(), WaysOptions{})
		if err != nil {
			t.Fatal(err)
		}
		if d.OwnRule == given {
			t.Errorf("rule given on the command line: %v, and taken for the study's own: %v", given, d.OwnRule)
		}
		if text := coded(d.Warnings, "left-out"); !strings.HasPrefix(text, "1 of 4 trainees") || d.Learners[d.Judge()].Trainees != 3 {
			t.Errorf("%q, %d trainees judge", text, d.Learners[d.Judge()].Trainees)
		}
	}
}
