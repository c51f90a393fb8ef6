package page

import (
	"fmt"
	"math"
	"strings"

	"tyro/analysis/fit"
	"tyro/analysis/practice"
	"tyro/analysis/proficiency"
	"tyro/analysis/study"
	"tyro/reports"
)

// fillTrainees makes a card a trainee.
func (r *Report) fillTrainees(p *page) error {
	if r.Proficiency == nil {
		p.NoCards = "No standard is set, so nothing is projected."
		if len(r.study.Trainees) == 0 {
			p.NoCards = "There are no attempts, so nothing is projected."
		}
		return nil
	}
	a := r.Proficiency.Answer
	for _, t := range a.Trainees {
		card := traineeCard{ID: t.ID, Now: cardNow(r.study, t), Ahead: cardAhead(a.Question, t), Basis: cardBasis(r.study, t)}
		if t.Rule != nil {
			card.Rule = cardRule(r.Proficiency.Rule, *t.Rule)
			if r.Cohort != nil {
				card.Rule = strings.TrimSpace(card.Rule + " " + cardAheadOfCohort(r.Cohort, t.ID))
			}
		}
		p.Trainees = append(p.Trainees, card)
	}
	return nil
}

// cardNow says how much was practised, and where the fitted level stands.
func cardNow(s *study.Study, t study.TraineeProficiency) string {
	made := fmt.Sprintf("%d attempts so far.", len(t.Counted()))
	if !t.Fit.Status.Usable() {
		return made
	}
	unit := func(v string) string { return strings.TrimSpace(v + " " + s.Task.Unit) }
	return fmt.Sprintf("%s The fitted level at the last one is about %s; the standard is %s.",
		made, unit(reports.Significant(t.Fit.Noise.Mean(t.Fit.Curve.At(t.Fit.Last)), 2)), unit(fmt.Sprintf("%g", s.Question.Standard.Value)))
}

// cardAhead says how many attempts lie ahead as a range, or why that cannot be said. A
// trainee who has met the rule is not told that it is too early to tell.
func cardAhead(q proficiency.Question, t study.TraineeProficiency) string {
	a := t.Answer(proficiency.MeanCrossing)
	met := t.Rule != nil && t.Rule.Met
	switch a.Status {
	case proficiency.TooEarly:
		return cardEarly(t, a, met)
	case proficiency.MovingAway:
		if math.IsNaN(a.Estimate) {
			return "These attempts get worse: the fitted level does not meet the standard and moves away from it."
		}
		return fmt.Sprintf("The fitted level meets the standard but moves away from it: from attempt %g on it would not meet it, if practice continues as so far.", a.Leaves)
	}
	switch {
	case math.IsNaN(a.Lower) || math.IsNaN(a.Upper):
		return "No range can be given for the attempt at which the fitted level meets the standard."
	case math.IsInf(a.Lower, 1):
		return fmt.Sprintf("If practice continues as so far, the fitted level does not meet the standard within %g attempts.", q.Horizon)
	case math.IsInf(a.Upper, 1) && a.Status == proficiency.Reached:
		return fmt.Sprintf("The fitted level first met the standard at attempt %g. The range begins at attempt %g and has no end within %g attempts.", a.Estimate, a.Lower, q.Horizon)
	case math.IsInf(a.Upper, 1):
		text := fmt.Sprintf("the attempts so far leave it open whether the fitted level meets the standard within %g attempts.", q.Horizon)
		if met {
			return reports.Capital(text)
		}
		return "Too early to tell: " + text
	case a.Status == proficiency.Reached:
		return fmt.Sprintf("The fitted level first met the standard somewhere between attempts %g and %g.", a.Lower, a.Upper)
	}
	return fmt.Sprintf("If practice continues as so far, the fitted level meets the standard somewhere between attempts %g and %g.", a.Lower, a.Upper)
}

// cardEarly says why nothing is projected.
func cardEarly(t study.TraineeProficiency, a proficiency.Answer, met bool) string {
	usable := t.Number(practice.Attempt.Measured)
	switch {
	case t.Fit.Status == fit.Unsuited:
		return "No curve can be fitted to these attempts, so nothing is said of the fitted level."
	case usable < proficiency.MinAttempts && met:
		return fmt.Sprintf("There is no fitted level: it needs at least %d usable attempts, and there are %d.", proficiency.MinAttempts, usable)
	case usable < proficiency.MinAttempts:
		return fmt.Sprintf("Too early to tell when the standard will be met: a projection needs at least %d usable attempts, and there are %d.", proficiency.MinAttempts, usable)
	case len(a.Warnings) == 0:
		return "There is no fitted level."
	}
	why := a.Warnings[0].Text + "."
	if met {
		why = strings.TrimPrefix(why, "too early to tell: ")
	}
	return reports.Capital(why)
}

// cardBasis says what the range rests on.
func cardBasis(s *study.Study, t study.TraineeProficiency) string {
	text := "no curve"
	if a := t.Answer(proficiency.MeanCrossing); t.Fit.Status.Usable() {
		text = fmt.Sprintf("%s curve, %g %% range", t.Fit.Curve.Family.Name(), 100*a.Level)
	}
	if d := s.Task.Standard; d != nil && d.DecidedOn != "" {
		text += ", standard decided on " + d.DecidedOn
	}
	return reports.Capital(text) + "."
}

func cardRule(rule string, o proficiency.Observed) string {
	if o.Met {
		return fmt.Sprintf("The rule %q was met at attempt %g.", rule, o.Attempt)
	}
	return fmt.Sprintf("The rule %q has not been met yet.", rule)
}
