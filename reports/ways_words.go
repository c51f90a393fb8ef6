package reports

import (
	"fmt"
	"math"

	"tyro/analysis/stopping"
	"tyro/analysis/study"
)

// notes says what the figures mean.
func (d *WaysToStop) notes() []string {
	notes := []string{
		fmt.Sprintf("False pass: practice stops while a single attempt still passes with a chance below %s. Held back: still practising after %d attempts made with a chance of %s or more. Attempts: the mean, those who have not stopped counting %d, the horizon. Everything is exact given the pass chances; attempts are taken as independent given these.",
			WholePercent(d.Proficient), d.HeldAfter, WholePercent(d.Proficient), d.Horizon),
	}
	if j := d.Answer.Judge(); j >= 0 {
		if l := d.Learners[j]; l.Kind == study.LearnerTrainees {
			notes = append(notes, fmt.Sprintf("Trainees: the %s, error limits and hard fails included; %d of them reach %s within the horizon, and held back is about these.%s", l.Words, l.Proficient, WholePercent(d.Proficient), d.limitsNote(j)))
		} else {
			notes = append(notes, "Stated learner: "+l.Words+".")
		}
	}
	for k, p := range d.Answer.Ways {
		switch p := p.(type) {
		case *stopping.Chart:
			notes = append(notes, fmt.Sprintf("%s is a learning chart that tells failure rates of %s, acceptable, and %s, not acceptable, apart, with limit %s.", Mark(k), RateText(p.Rates.Acceptable), RateText(p.Rates.Unacceptable), Significant(p.H, 3)))
		case stopping.ShownChance:
			notes = append(notes, Mark(k)+" "+shownNote(p)+".")
		}
	}
	return append(notes, Caution)
}

// limitsNote says where the limits come from; blank where there are none.
func (d *WaysToStop) limitsNote(judge int) string {
	if math.IsNaN(d.Answer.Stops[0][judge].Attempts.Lower) {
		return ""
	}
	return " Limits come from a bootstrap of whole trainees."
}

// shownNote says what a pass chance shown by the trainee's own attempts asks for.
func shownNote(e stopping.ShownChance) string {
	text := fmt.Sprintf("stops once the trainee's own passes show a pass chance above %s with confidence %s", WholePercent(e.Target), WholePercent(e.Confidence))
	if e.Last == 0 {
		return text + ", all attempts counting alike"
	}
	first := 1
	for e.Needed(first) > first {
		first++
	}
	text += fmt.Sprintf(": %d of the first %d", e.Needed(first), first)
	if e.Last > first {
		text += fmt.Sprintf(" at the earliest, %d of the last %d in the end", e.Needed(e.Last), e.Last)
	}
	return text
}

// Sentences say what the way compared first lets through, and what a safer one costs.
func (d *WaysToStop) Sentences() []string {
	j := d.Answer.Judge()
	if j < 0 {
		return d.constantSentences()
	}
	s := d.Answer.Stops[0][j]
	who := "trainees like these"
	if d.Answer.Learners[j].Kind == study.LearnerStated {
		who = "such learners"
	}
	limits := ""
	if !math.IsNaN(s.FalsePass.Lower) {
		limits = fmt.Sprintf(" (%g %% interval %s to %s)", 100*d.Level, WholePercent(s.FalsePass.Lower), WholePercent(s.FalsePass.Upper))
	}
	out := []string{fmt.Sprintf("Stopping at %q lets %s of %s through%s while a single attempt still passes with a chance below %s; practice lasts %s attempts on average.",
		d.Rule, WholePercent(s.FalsePass.Value), who, limits, WholePercent(d.Proficient), tenths(s.Attempts.Value))}
	said := -1
	for _, most := range []float64{0.2, 0.1} {
		best := d.Cheapest(j, most)
		switch {
		case best < 0:
			return append(out, fmt.Sprintf("None of the ways compared keeps false passes at or under %s and lets at least half stop within %d attempts.", WholePercent(most), d.Horizon))
		case best == 0 && len(d.Answer.Ways) > 1:
			out = append(out, fmt.Sprintf("No other way compared keeps false passes at or under %s in fewer attempts.", WholePercent(most)))
		case best != said && best > 0:
			a := d.Answer.Stops[best][j]
			out = append(out, fmt.Sprintf("Of the ways compared, the one that keeps false passes at or under %s in the fewest attempts is %s, %q: %s of them, after %s attempts on average, with %s not stopped by attempt %d.",
				WholePercent(most), Mark(best), d.Answer.Ways[best], WholePercent(a.FalsePass.Value), tenths(a.Attempts.Value), WholePercent(a.Never), d.Horizon))
		}
		said = best
	}
	return out
}

// Cheapest is the way with the fewest mean attempts among those with no more false
// passes that let at least half stop; -1 where there is none.
func (d *WaysToStop) Cheapest(learner int, mostFalse float64) int {
	best, cost := -1, math.Inf(1)
	for k, by := range d.Answer.Stops {
		if s := by[learner]; s.FalsePass.Value <= mostFalse && s.Never <= 0.5 && s.Attempts.Value < cost {
			best, cost = k, s.Attempts.Value
		}
	}
	return best
}

// constantSentences are for learners whose chances do not change.
func (d *WaysToStop) constantSentences() []string {
	by := d.throughBy()
	return []string{fmt.Sprintf("Stopping at %q lets a learner whose every attempt passes with chance %s through by attempt %d with a chance of %s; one who passes with chance %s needs %s attempts on average.",
		d.Rule, WholePercent(d.constant(0)), by, WholePercent(d.Answer.Stops[0][0].MetBy[by-1]), WholePercent(d.constant(1)), tenths(d.Answer.Stops[0][1].Attempts.Value))}
}
