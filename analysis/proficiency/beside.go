package proficiency

import (
	"fmt"
	"math"

	"tyro/analysis"
	"tyro/analysis/practice"
	"tyro/analysis/stopping"
)

const (
	// muchPassing is how many attempts after the standard was met may all miss before it
	// is said: at chances of one half that happens to one trainee in 32.
	muchPassing = 5
	// unlikely is the chance below which the fit is said not to describe the passes.
	unlikely = 0.05
)

// beside says where an answer from the curve and the trainee's own passes do not agree,
// and what the fit makes of that.
func (l Learner) beside(q Question, a Answer) []analysis.Warning {
	if a.Status == TooEarly {
		return nil
	}
	if a.Definition == MeanCrossing || a.Definition == PassChance {
		return l.noPass(q, a)
	}
	var policy stopping.Policy = q.Chart
	what := "the chart signals"
	if a.Definition == RuleMet {
		policy, what = stopping.Rule{Rule: q.Rule}, "the rule is met"
	}
	seen := Observe(policy, l.Trainee, q.Standard)
	last := l.Trainee.Last()
	switch {
	case math.IsNaN(seen.Attempt):
	case !seen.Met && a.Estimate <= last:
		passes := 0
		for _, passed := range l.Trainee.Passes(q.Standard) {
			if passed {
				passes++
			}
		}
		return []analysis.Warning{{Code: "observed-not-met", Text: fmt.Sprintf("by the fitted chances to pass %s by attempt %g with chance one half, but not by the %d attempts seen (passes: %d); the fit gives that a chance %s",
			what, a.Estimate, len(l.Trainee.Counted()), passes, howOften(1-l.stoppedBy(q, a.Definition, last)))}}
	case seen.Met && a.Status == MovingAway && math.IsNaN(a.Estimate):
		text := fmt.Sprintf("in the trainee's own passes %s at attempt %g", what, seen.Attempt)
		if p := l.passing(); q.chance(p, last) < q.chance(p, seen.Attempt) {
			text += "; by the fitted curve the chance to pass has fallen since"
		}
		return []analysis.Warning{{Code: "observed-met", Text: text}}
	case seen.Met && !(a.Estimate <= last):
		return []analysis.Warning{{Code: "observed-met", Text: fmt.Sprintf("in the trainee's own passes %s at attempt %g; the fit gives so few attempts a chance %s",
			what, seen.Attempt, howOften(l.stoppedBy(q, a.Definition, seen.Attempt)))}}
	}
	return nil
}

// howOften is a chance in words, with what follows from a small one.
func howOften(chance float64) string {
	text := fmt.Sprintf("of %.2g", chance)
	if chance < 0.001 {
		text = "below 0.001"
	}
	if chance < unlikely {
		text += ", so the fit does not describe these passes well"
	}
	return text
}

// stoppedBy is the fitted chance that the rule has been met, or the chart has signalled,
// by an attempt.
func (l Learner) stoppedBy(q Question, definition string, attempt float64) float64 {
	p := l.passing()
	for _, s := range q.stops {
		if s.definition == definition {
			w, by := s.chain.Begin(), 0.0
			for n := 1.0; n <= attempt; n++ {
				by = w.Step(q.chance(p, n))
			}
			return by
		}
	}
	return math.NaN()
}

// noPass warns where the level is said to be met and no attempt from then on passed.
func (l Learner) noPass(q Question, a Answer) []analysis.Warning {
	attempts, fails, errors := 0, 0, 0
	for _, t := range l.Trainee.Counted() {
		switch {
		case !(t.Number >= a.Estimate):
			continue
		case t.Passes(q.Standard):
			return nil
		case t.Outcome == practice.Failed:
			fails++
		case t.Outcome == practice.Done && q.Standard.Meets(t.Response):
			errors++
		}
		attempts++
	}
	if attempts < muchPassing || a.Estimate > l.Trainee.Last() {
		return nil
	}
	return []analysis.Warning{{Code: "observed-no-pass", Text: fmt.Sprintf("none of the %d attempts from attempt %g on passed (hard fails: %d, standard met but too many errors: %d, standard not met: %d)",
		attempts, a.Estimate, fails, errors, attempts-fails-errors)}}
}
