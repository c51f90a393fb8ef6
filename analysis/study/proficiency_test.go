package study

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"tyro/analysis"
	"tyro/analysis/practice"
	"tyro/analysis/proficiency"
	"tyro/analysis/resample"
	"tyro/analysis/survival"
	"tyro/models"
)

// scores are trainees of two arms whose positive scores rise from 20 towards 80.
func scores(n, attempts int) practice.Practice {
	p := practice.Practice{Arms: []string{"a", "b"}}
	p.Task = practice.Task{Name: "t", Measure: practice.Score, Standard: &practice.Decision{Value: 60}, Rule: practice.Rule{{Need: 2}}, Horizon: 60}
	for i := range n {
		r := resample.Stream(11, "scores", i)
		top, rate := 80*math.Exp(0.1*r.NormFloat64()), 0.2*math.Exp(0.2*r.NormFloat64())
		var x, y []float64
		for k := range attempts {
			x = append(x, float64(k+1))
			y = append(y, (top-60*math.Exp(-rate*float64(k)))*math.Exp(0.1*r.NormFloat64()))
		}
		t := practice.Measured(fmt.Sprintf("T%d", i), x, y)
		t.Arm = p.Arms[i%2]
		p.Trainees = append(p.Trainees, t)
	}
	return p
}

func codes(ws Warnings) []string {
	var out []string
	for _, w := range ws {
		out = append(out, w.Code)
	}
	return out
}

// A score of 0 is impossible with lognormal noise. The trainee who has one is named and
// has no answer; what is said of the others, of the arms and of a trainee yet to come is
// what is said without that trainee.
func TestOneImpossibleTrainee(t *testing.T) {
	ctx := context.Background()
	ask := func(p practice.Practice) *Proficiency {
		s, err := New(p, Options{Noise: models.Lognormal{}, Replicates: 40})
		if err != nil {
			t.Fatal(err)
		}
		a, err := s.Proficiency(ctx)
		if err != nil {
			t.Fatal(err)
		}
		return a
	}
	p := scores(12, 12)
	want := ask(p)
	odd := scores(1, 12).Trainees[0]
	odd.ID, odd.Arm, odd.Attempts[4].Response = "ODD", "b", 0
	p.Trainees = append(p.Trainees, odd)
	got := ask(p)
	if len(got.Trainees) != 13 || len(got.Trainees[12].Answers) != 3 {
		t.Fatalf("%d trainees, the odd one with %d answers", len(got.Trainees), len(got.Trainees[12].Answers))
	}
	for i, w := range want.Trainees {
		for k, a := range w.Answers {
			g := got.Trainees[i].Answers[k]
			if g.Estimate != a.Estimate && !(math.IsNaN(a.Estimate) && math.IsNaN(g.Estimate)) || g.Status != a.Status || g.Upper != a.Upper && !math.IsNaN(a.Upper) {
				t.Errorf("%s, %s: %v (%s), %v (%s) without the odd one", w.ID, a.Definition, g.Estimate, g.Status, a.Estimate, a.Status)
			}
		}
	}
	for _, a := range got.Trainees[12].Answers {
		if a.Status != proficiency.TooEarly || !math.IsNaN(a.Estimate) || a.Warnings[0].Code != "not-fitted" || !strings.Contains(a.Warnings[0].Text, "response 0 at attempt 5") {
			t.Errorf("the odd one, %s: %s, %v", a.Definition, a.Status, a.Warnings)
		}
	}
	if !slices.ContainsFunc(got.Warnings, func(w analysis.Warning) bool {
		return w.Code == "trainee-not-fitted" && strings.Contains(w.Text, "ODD")
	}) {
		t.Errorf("the odd one is not named: %v", got.Warnings)
	}
	if len(want.Newcomers) != 2 {
		t.Fatalf("nothing is said of newcomers: %v", want.Warnings)
	}
	for k, g := range got.Newcomers {
		for j, a := range g.Answers {
			if w := want.Newcomers[k].Answers[j]; a.Estimate != w.Estimate || a.Upper != w.Upper {
				t.Errorf("newcomer of %s, %s: %v to %v, %v to %v without the odd one", g.Arm, a.Definition, a.Estimate, a.Upper, w.Estimate, w.Upper)
			}
		}
	}
	left := 0
	for _, g := range got.Arms {
		for k, a := range g.Answers {
			if g.Arm == "a" && fmt.Sprint(a) != fmt.Sprint(want.Arms[0].Answers[k]) {
				t.Errorf("arm a, %s: %+v, %+v without the odd one", a.Definition, a, want.Arms[0].Answers[k])
			}
			if slices.Contains(codes(a.Warnings), "left-out") {
				left++
			}
		}
	}
	if left != 3 { // arm b, three definitions
		t.Errorf("%d answers say that somebody is left out, want 3", left)
	}
	if n := got.Survival[1].Curve.N; n != 7 {
		t.Errorf("%d of 7 trainees of arm b as observed: the odd one's passes count", n)
	}
}

// Warnings of the cohort and of the fits behind it reach the newcomers' answers, and
// those of a trainee's curve the trainee's answers.
func TestWarningsReachTheAnswer(t *testing.T) {
	ctx := context.Background()
	p := scores(8, 14)
	for i := range p.Trainees {
		p.Trainees[i].ErrorLimits = true
		for k := range p.Trainees[i].Attempts {
			p.Trainees[i].Attempts[k].Clean = (i+k)%3 > 0
		}
	}
	s, err := New(p, Options{Noise: models.Lognormal{}, Replicates: 40})
	if err != nil {
		t.Fatal(err)
	}
	a, err := s.Proficiency(ctx)
	if err != nil {
		t.Fatal(err)
	}
	c, err := s.Cohort(ctx)
	if err != nil {
		t.Fatal(err)
	}
	pooled, err := s.Pooled(ctx)
	if err != nil {
		t.Fatal(err)
	}
	rests := append(slices.Clone(c.Warnings), pooled.Warnings()...)
	if len(rests) == 0 || len(pooled.Warnings()) == 0 {
		t.Fatal("nothing to pass on: choose other data")
	}
	for _, w := range rests {
		if !slices.Contains(a.Warnings, w) || !slices.Contains(a.Newcomers[0].Answers[0].Warnings, w) {
			t.Errorf("%q does not reach the answer", w.Code)
		}
	}
	with := 0
	for _, one := range a.Trainees {
		if len(one.Own.Warnings) > 0 {
			with++
		}
		for _, w := range one.Own.Warnings {
			if !slices.Contains(one.Answers[1].Warnings, w) {
				t.Errorf("%s: %q does not reach the answer", one.ID, w.Code)
			}
		}
	}
	text := fmt.Sprintf("the curves of %d of 8 trainees", with)
	if said := slices.ContainsFunc(a.Warnings, func(w analysis.Warning) bool { return strings.HasPrefix(w.Text, text) }); said != (with > 0) {
		t.Errorf("%d curves have warnings: %v", with, a.Warnings)
	}
	again, err := s.Proficiency(ctx)
	if err != nil || again != a {
		t.Error("the same question is answered twice")
	}
}

// A replicates' number of 0 is the default.
func TestReplicatesNotGiven(t *testing.T) {
	s, err := New(scores(1, 8), Options{})
	if err != nil {
		t.Fatal(err)
	}
	if n := s.Sampling().Count(); n != resample.DefaultReplicates {
		t.Errorf("%d replicates, want %d", n, resample.DefaultReplicates)
	}
}

// What has no answer is an error that says what is missing.
func TestProficiencyNeeds(t *testing.T) {
	ctx := context.Background()
	without := scores(2, 8)
	without.Task.Standard = nil
	for _, c := range []struct {
		p    practice.Practice
		o    Options
		want string
	}{{without, Options{}, "need a standard"}, {practice.Practice{}, Options{}, "need trainees"}, {scores(2, 8), Options{NoCurves: true}, "need curves"}} {
		s, err := New(c.p, c.o)
		if err != nil {
			t.Fatal(err)
		}
		if _, err = s.Proficiency(ctx); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%v, want %q", err, c.want)
		}
	}
	s, err := New(scores(2, 8), Options{})
	if err != nil {
		t.Fatal(err)
	}
	cut, cancel := context.WithCancel(ctx)
	cancel()
	if _, err := s.Proficiency(cut); !errors.Is(err, context.Canceled) {
		t.Errorf("cut short: %v", err)
	}
	if _, err := s.UntilProficient(ctx, UntilOptions{}); err == nil {
		t.Error("a table without trainees has an answer")
	}
}

// Of ten trainees five met the rule at attempts 2, 3, 3, 4 and 5. Where the others met it at 6
// to 10, a share of 0.2 had not met it after attempt 8, the first whose upper limit
// (0.2^exp(−1.96·√0.4/|ln 0.2|) = 0.475) is below one half: half had met it by attempt 5, limits
// 2 and 8. Where the others stopped there, no attempt seen has such a limit.
func TestNewTraineesBesideWhatWasObserved(t *testing.T) {
	seen := func(stopped int) ArmSurvival {
		obs := []survival.Observation{{Time: 2, Event: true}, {Time: 3, Event: true}, {Time: 3, Event: true}, {Time: 4, Event: true}, {Time: 5, Event: true}}
		for k := range 5 {
			obs = append(obs, survival.Observation{Time: float64(6 + k), Event: k >= stopped})
		}
		a := ArmSurvival{Arm: "spaced", Curve: survival.KaplanMeier(obs, survival.LogLog, 0.95)}
		a.Median = a.Curve.Quantile(0.5)
		return a
	}
	for _, c := range []struct {
		at      float64
		stopped int
		want    []string
	}{
		{2, 0, nil},
		{8, 0, nil},
		{20, 0, []string{"by attempt 20", "(from attempt 2 to 8)", "trust the observed number"}},
		{1, 0, []string{"by attempt 1,", "(from attempt 2 to 8)"}},
		{math.Inf(1), 0, []string{"fewer than half of new trainees"}},
		{math.Inf(1), 5, nil}, // what was observed has no upper limit either
		{1, 5, []string{"or later)", "5 of 10 stopped"}},
	} {
		p := Proficiency{Survival: []ArmSurvival{{Arm: "massed"}, seen(c.stopped)}}
		p.remarkBases(GroupProficiency{Arm: "spaced", Answers: []proficiency.Answer{{Definition: proficiency.MeanCrossing}, {Definition: proficiency.RuleMet, Estimate: c.at}}})
		if c.want == nil && len(p.Warnings) > 0 || c.want != nil && len(p.Warnings) != 1 {
			t.Errorf("at %v, %d stopped: %v", c.at, c.stopped, p.Warnings)
			continue
		}
		for _, words := range c.want {
			if !strings.Contains(p.Warnings[0].Text, words) {
				t.Errorf("at %v, %d stopped: %q lacks %q", c.at, c.stopped, p.Warnings[0].Text, words)
			}
		}
	}
}
