package reports

import (
	"fmt"
	"math"
	"strings"

	"tyro/analysis/proficiency"
	"tyro/analysis/study"
)

// QuotaWords say of one group what to schedule, what that brings and costs, what fewer
// attempts would change, and what becomes of those who are not there. Fewer is blank
// where none would be left.
type QuotaWords struct{ Lead, Brings, Fewer, Rest string }

// Answers are those of the groups with a schedule.
func (d *Quota) Answers() []QuotaWords {
	var out []QuotaWords
	for _, s := range d.Schedules {
		if s.leads {
			out = append(out, QuotaWords{s.lead(), s.seenLine() + s.metLine() + d.costLine(s), d.fewerLine(s), s.restLine()})
		}
	}
	return out
}

// lead is the answer in a few words.
func (s schedule) lead() string {
	who := Capital(study.GroupName(s.Arm))
	if s.Target == 0 {
		return fmt.Sprintf("%s, %s scheduled.", who, attemptCount(s.Attempts))
	}
	return fmt.Sprintf("%s: schedule %s for %s.", who, attemptCount(s.Attempts), study.PercentText(s.Target))
}

// seenLine counts what was seen by then; blank by the cohort's curve.
func (s schedule) seenLine() string {
	if s.Seen == nil {
		return ""
	}
	text := fmt.Sprintf("Of the %d studied, %d had met the rule by attempt %d", s.Seen.Of, s.Seen.Met, s.Attempts)
	var others []string
	if n := s.Seen.Stopped; n > 0 {
		others = append(others, fmt.Sprintf("%d %s last seen before it without having met it", n, were(n)))
	}
	if n := s.Seen.Without; n > 0 {
		others = append(others, fmt.Sprintf("%d %s seen at it without having met it", n, were(n)))
	}
	if len(others) > 0 {
		others[len(others)-1] = "and " + others[len(others)-1]
	}
	return strings.Join(append([]string{text}, others...), ", ") + ". "
}

// attemptCount is a whole number of attempts in words.
func attemptCount(n int) string {
	if n == 1 {
		return "1 attempt"
	}
	return fmt.Sprintf("%d attempts", n)
}

func were(n int) string {
	if n == 1 {
		return "was"
	}
	return "were"
}

// metLine estimates the share proficient by then.
func (s schedule) metLine() string {
	switch {
	case math.IsNaN(float64(s.Met.Estimate)):
		return "What share is proficient by then is not known."
	case s.Seen == nil:
		return fmt.Sprintf("By then %s of new trainees are expected to be proficient, by the cohort's curve.", shareWithLimits(s.Met))
	}
	return fmt.Sprintf("By then an estimated %s of such trainees are proficient, as observed.", shareWithLimits(s.Met))
}

func shareWithLimits(l Limits) string {
	return fmt.Sprintf("%s (%s to %s)", study.PercentText(float64(l.Estimate)), study.PercentText(float64(l.Lower)), study.PercentText(float64(l.Upper)))
}

// amountWithLimits shows an amount whose upper limit may not exist.
func amountWithLimits(l Limits, unit string) string {
	upper := "no limit"
	if v := float64(l.Upper); !math.IsInf(v, 1) {
		upper = Amount(v)
	}
	return fmt.Sprintf("%s%s (%s to %s)", Amount(float64(l.Estimate)), unit, Amount(float64(l.Lower)), upper)
}

// costLine says what a schedule costs; blank where no costs are stated.
func (d *Quota) costLine(s schedule) string {
	if d.Costs == nil {
		return ""
	}
	stopping, all := s.Stopping, Amount(float64(s.Everybody.Cost.Estimate))
	if math.IsNaN(float64(s.Everybody.Cost.Estimate)) {
		hours := "."
		if d.Costs.LabMinutes > 0 {
			hours = fmt.Sprintf("; when everybody makes all attempts it takes %s lab hours.", Amount(float64(s.Everybody.LabHours.Estimate)))
		}
		return fmt.Sprintf(" What that costs for %d trainees is not known, since nothing has a price%s", s.Trainees, hours)
	}
	if math.IsNaN(float64(stopping.Cost.Estimate)) {
		return fmt.Sprintf(" For %d trainees that costs %s %s when everybody makes all attempts; what it costs when practice stops at the rule is not known.", s.Trainees, all, d.Costs.Unit)
	}
	hours := ""
	if d.Costs.LabMinutes > 0 {
		hours = fmt.Sprintf("takes %s lab hours and ", Amount(float64(stopping.LabHours.Estimate)))
	}
	each := fmt.Sprintf(": %s for each proficient trainee.", amountWithLimits(stopping.PerMet, ""))
	switch per := float64(stopping.PerMet.Estimate); {
	case math.IsInf(per, 1):
		each = "; nobody is proficient by then, so there is no cost for each."
	case math.IsNaN(per):
		each = "; the cost for each proficient trainee is not known."
	}
	return fmt.Sprintf(" For %d trainees that %scosts %s %s when practice stops at the rule (%s when everybody makes all attempts)%s",
		s.Trainees, hours, Amount(float64(stopping.Cost.Estimate)), d.Costs.Unit, all, each)
}

// fewerLine answers what fewer attempts would change.
func (d *Quota) fewerLine(s schedule) string {
	f := s.Fewer
	if f == nil {
		return ""
	}
	text := fmt.Sprintf("With %d fewer, that is %s, ", f.Fewer, attemptCount(f.Attempts))
	if math.IsNaN(float64(f.FewerMet.Estimate)) {
		return text + "how many fewer are proficient is not known."
	}
	text += fmt.Sprintf("%s (%s to %s) fewer of %d trainees are proficient and %s are not",
		tenths(float64(f.FewerMet.Estimate)), tenths(float64(f.FewerMet.Lower)), tenths(float64(f.FewerMet.Upper)), s.Trainees, shareWithLimits(f.NotMet))
	if d.Costs != nil && !math.IsNaN(float64(f.SavedByEverybody)) {
		text += fmt.Sprintf("; that saves %s when practice stops at the rule, %s when everybody makes all attempts", amountWithLimits(f.Saved, " "+d.Costs.Unit), Amount(float64(f.SavedByEverybody)))
	}
	return text + "."
}

// restLine says what becomes of those who are not there by then.
func (s schedule) restLine() string {
	met, lower := float64(s.Met.Estimate), float64(s.Met.Lower)
	switch {
	case math.IsNaN(met) && s.Basis == proficiency.ByObservation:
		return fmt.Sprintf("Nobody was followed to attempt %d, so how many are there by then is not known%s.", s.Attempts, s.neverMet("; "))
	case math.IsNaN(met):
		return "How many are there by then is not known."
	case met > 1-1e-9 && s.Seen != nil && s.Seen.Never > 0:
		return fmt.Sprintf("Everybody followed to attempt %d had met the rule by then%s; up to %s of such trainees may need more: keep places for further attempts.", s.End, s.neverMet(", but "), study.PercentText(1-lower))
	case met > 1-1e-9 && s.Seen != nil:
		return fmt.Sprintf("All %d studied met the rule by then, but up to %s of such trainees may need more: keep a place for further attempts.", s.Seen.Of, study.PercentText(1-lower))
	}
	return fmt.Sprintf("Keep places for those not there by then, about %s of %d: %s%s.", tenths(s.notThere()), s.Trainees, s.moreLine(), s.neverMet("; "))
}

// moreLine says how many attempts more those not there need.
func (s schedule) moreLine() string {
	end := fmt.Sprintf("attempt %d, the last one looked ahead to", s.End)
	if s.Basis == proficiency.ByObservation {
		end = fmt.Sprintf("attempt %d, the last one seen", s.End)
	}
	switch more := float64(s.MoreForHalf); {
	case math.IsNaN(more):
		return "how many attempts more they need is not known"
	case math.IsInf(more, 1):
		return "fewer than half of them get there by " + end
	case s.Basis == proficiency.ByObservation:
		return fmt.Sprintf("half of them need up to %s attempts more", moreCell(more))
	default:
		return fmt.Sprintf("half of them need up to %s attempts more, and %s of all trainees are not there by %s", moreCell(more), study.PercentText(float64(s.NeverMet)), end)
	}
}

// neverMet counts those who were last seen without having met the rule; blank where
// nobody was, and by the cohort's curve.
func (s schedule) neverMet(before string) string {
	if s.Seen == nil || s.Seen.Never == 0 {
		return ""
	}
	return before + study.NotMetText(s.Seen.Never, s.Seen.Of)
}
