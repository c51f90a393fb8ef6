package study

import (
	"math"

	"tyro/analysis/practice"
	"tyro/analysis/standard"
)

// A StatusChange counts trainees whose status depends on where the standard lies
// inside its interval.
type StatusChange struct {
	ByValue bool          // a trainee passes with the one value that a table gives
	Rule    practice.Rule // else by this rule; nil: with the last attempt

	N, Pass, PassLower, PassUpper int // with the standard at its estimate, and at the limits of its interval
	Differ                        int // pass at one limit and not at the other
}

// statusChange is nil without trainees or an interval.
func (s *Study) statusChange(e standard.Estimate) *StatusChange {
	if math.IsNaN(e.Lower) || math.IsNaN(e.Upper) {
		return nil
	}
	at, lower, upper := s.passing(e.Value), s.passing(e.Lower), s.passing(e.Upper)
	if len(at) == 0 {
		return nil
	}
	c := &StatusChange{ByValue: s.Evidence != nil, Rule: s.Task.Rule, N: len(at)}
	count := func(n *int, holds bool) {
		if holds {
			*n++
		}
	}
	for i := range at {
		count(&c.Pass, at[i])
		count(&c.PassLower, lower[i])
		count(&c.PassUpper, upper[i])
		count(&c.Differ, lower[i] != upper[i])
	}
	return c
}

// passing says of every trainee whether they pass, were the standard at this value:
// with a table's one value, where it is known; else whether they have met the rule, or
// without one passed their last attempt.
func (s *Study) passing(value float64) []bool {
	var out []bool
	if s.Evidence != nil {
		level := practice.Standard{Value: value, Lower: s.Task.Lower}
		for _, v := range s.Evidence.Values {
			if !math.IsNaN(v) {
				out = append(out, level.Meets(v))
			}
		}
		return out
	}
	for _, t := range s.Trainees {
		passes := t.Passes(s.Task.Level().At(value))
		passed := len(passes) > 0 && passes[len(passes)-1]
		if s.Task.Rule != nil {
			passed = s.Task.Rule.FirstMet(passes) > 0
		}
		out = append(out, passed)
	}
	return out
}

// ExpectedErrors is what single attempts do at a standard, by those who should
// pass and by those who cannot have learnt yet. The standard is the study's own, else
// the estimate. Error limits and hard fails count.
type ExpectedErrors struct {
	Standard      float64
	Experts       int // with a value of their own
	ExpertsFail   int // by that value
	Runs          int // of experts, void ones and familiarisation left out
	RunsFail      int
	FirstAttempts int // of trainees: the attempts numbered 1, void ones left out
	FirstPass     int
}

// expectedErrors counts them where the study has trainees' attempts.
func (s *Study) expectedErrors(a *Standard) *ExpectedErrors {
	if len(s.Trainees) == 0 {
		return nil
	}
	x := &ExpectedErrors{Standard: a.Estimate.Value}
	if d := s.Task.Standard; d != nil {
		x.Standard = d.Value
	}
	if math.IsNaN(x.Standard) {
		return nil
	}
	if a.Experts != nil {
		// An expert's own value is on the scale of the standard also with passes and fails.
		level := practice.Standard{Value: x.Standard, Lower: s.Task.Lower}
		for _, v := range a.Experts.Values {
			if !math.IsNaN(v) {
				x.Experts++
				if !level.Meets(v) {
					x.ExpertsFail++
				}
			}
		}
	}
	level := s.Task.Level().At(x.Standard)
	for _, e := range s.Experts {
		for k, passed := range e.Passes(level) {
			if k < a.Rule.SkipRuns {
				continue
			}
			x.Runs++
			if !passed {
				x.RunsFail++
			}
		}
	}
	for _, t := range s.Trainees {
		for _, attempt := range t.Counted() {
			if attempt.Number != 1 {
				continue
			}
			x.FirstAttempts++
			if attempt.Passes(level) {
				x.FirstPass++
			}
		}
	}
	return x
}
