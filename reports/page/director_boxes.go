package page

import (
	"fmt"
	"math"
	"strings"

	"tyro/analysis/practice"
	"tyro/analysis/study"
)

// The first four boxes of the director's page.

// scheduleBox answers how many attempts to schedule.
func (r *Report) scheduleBox() box {
	b := box{Number: 1, Question: "How many attempts to schedule?"}
	g, s, ok := r.scheduled()
	switch {
	case r.Quota == nil:
		b.Answer, b.Lines = "Not known", []string{r.noRule()}
		return b
	case !ok:
		b.Answer = "No number is enough yet"
		b.Lines = []string{fmt.Sprintf("By attempt %.0f, where what was seen ends, %s. No number of attempts can be named by which %s of trainees like these are proficient.",
			g.LastSeen, metOf(g.Met, len(g.Seen)), study.PercentText(r.Quota.Answer.Asked.Target))}
		b.Lines = append(b.Lines, r.apartLines()...)
		return b
	}
	b.Answer = attempts(s.Attempts) + " for each trainee"
	n := len(g.Seen)
	b.Lines = append(b.Lines, fmt.Sprintf("Plan for the next group: %s, so that %s of trainees like these are proficient. %s", attempts(s.Attempts), aim(s.Target), seenBy(s, n)))
	if met := s.Met; !math.IsNaN(met.Value) {
		others := "Keep places for the others."
		if met.Value > 1-1e-9 {
			others = "Keep a place or two in case somebody needs more."
		}
		b.Lines = append(b.Lines, fmt.Sprintf("Of a next group of %d, expect about %s proficient by then (%g %% range %s to %s). %s",
			s.Trainees, wholeOf(met.Value, s.Trainees), 100*r.study.Options.Level, floorOf(met.Lower, s.Trainees), ceilOf(met.Upper, s.Trainees), others))
	}
	if line := r.armLine(); line != "" {
		b.Lines = append(b.Lines, line)
	}
	b.Lines = append(b.Lines, careLines(g, s)...)
	b.Lines = append(b.Lines, r.apartLines()...)
	return b
}

// careLines say that the number scheduled is to be doubted, where it is.
func careLines(g study.QuotaGroup, s *study.Schedule) []string {
	switch stopped := len(g.Seen) - g.Met; {
	case g.Far:
		return []string{fmt.Sprintf("Careful: what was seen ends with attempt %.0f. So large a number rests on the shape of a curve alone; do not plan with it before more is seen.", g.LastSeen)}
	case g.Differs && 10*stopped >= len(g.Seen) && g.CurveShare < s.Met.Value:
		return []string{fmt.Sprintf("Careful: the fitted curve expects only %s by then. %d of the %d stopped before they were proficient: if these were the slow ones, %s are too few.",
			study.PercentText(g.CurveShare), stopped, len(g.Seen), attempts(s.Attempts))}
	case g.Differs:
		return []string{fmt.Sprintf("Careful: the fitted curve expects %s by then. Look at both before you plan.", study.PercentText(g.CurveShare))}
	}
	return nil
}

// apartLines say of some that they learn unlike the others, where that shows.
func (r *Report) apartLines() []string {
	n := r.Quota.Answer.Apart
	if n == 0 {
		return nil
	}
	return []string{fmt.Sprintf("%d of the %d learn unlike the others. Find out what sets them apart before you plan with one number for all.", n, len(r.Quota.Answer.Groups[0].Seen))}
}

// scheduled is the schedule of all trainees together, on the basis that leads; false
// without one.
func (r *Report) scheduled() (study.QuotaGroup, *study.Schedule, bool) {
	if r.Quota == nil {
		return study.QuotaGroup{}, nil, false
	}
	g := r.Quota.Answer.Groups[0]
	s := leading(g)
	return g, s, s != nil
}

// leading is a group's schedule on the basis that the answer is about; nil without.
func leading(g study.QuotaGroup) *study.Schedule {
	for _, b := range g.Bases {
		if b.Schedule != nil && b.Schedule.Leads {
			return b.Schedule
		}
	}
	return nil
}

// seenBy counts what was seen by the attempts scheduled.
func seenBy(s *study.Schedule, n int) string {
	if s.By.Met == n {
		return fmt.Sprintf("By attempt %d all %d studied were proficient.", s.Attempts, n)
	}
	parts := []string{fmt.Sprintf("%d of the %d studied %s proficient", s.By.Met, n, were(s.By.Met))}
	if k := s.By.Stopped; k > 0 {
		parts = append(parts, fmt.Sprintf("%d had stopped earlier without", k))
	}
	if k := s.By.Without; k > 0 {
		parts = append(parts, fmt.Sprintf("%d went on without", k))
	}
	return fmt.Sprintf("By attempt %d: %s.", s.Attempts, strings.Join(parts, ", "))
}

func were(n int) string {
	if n == 1 {
		return "was"
	}
	return "were"
}

// aim is a target share in words.
func aim(share float64) string {
	if share == 0 {
		return "as many as possible"
	}
	return study.PercentText(share)
}

// metOf says how many of a group are proficient.
func metOf(met, n int) string {
	switch {
	case met == 0:
		return fmt.Sprintf("none of the %d studied was proficient", n)
	case met == n:
		return fmt.Sprintf("all %d studied were proficient", n)
	}
	return fmt.Sprintf("%d of the %d studied %s proficient", met, n, were(met))
}

// armLine is every arm's own number; blank with one arm.
func (r *Report) armLine() string {
	groups := r.Quota.Answer.Groups
	if len(groups) < 2 {
		return ""
	}
	var parts []string
	for _, g := range groups[1:] {
		s := leading(g)
		if s == nil {
			parts = append(parts, fmt.Sprintf("%s: no number is enough (%d of %d proficient by attempt %.0f)", g.Arm, g.Met, len(g.Seen), g.LastSeen))
			continue
		}
		parts = append(parts, fmt.Sprintf("%s: %d (%d of %d proficient by then)", g.Arm, s.Attempts, s.By.Met, len(g.Seen)))
	}
	return "By arm, for the same aim: " + strings.Join(parts, "; ") + "."
}

// costBox answers what the schedule costs, and what fewer attempts change.
func (r *Report) costBox() box {
	b := box{Number: 2, Question: "What does it cost, and what would fewer change?"}
	g, s, ok := r.scheduled()
	if !ok {
		b.Answer = "Not known"
		b.Lines = []string{"Without a number of attempts there is no cost of a plan."}
		if c := r.study.Task.Costs; c != nil {
			b.Lines = append(b.Lines, fmt.Sprintf("One attempt costs %s %s, and each trainee %s besides.", grouped(c.PerAttempt()), unitOf(c), grouped(c.PerTrainee)))
		}
		return b
	}
	each := "an unknown number of attempts a trainee"
	if !math.IsNaN(s.Used.Value) {
		each = fmt.Sprintf("%.1f attempts a trainee", s.Used.Value)
	}
	costs := r.Quota.Answer.Asked.Costs
	switch {
	case costs == nil || !costs.Priced():
		none := "costs"
		if costs != nil {
			none = "prices"
		}
		b.Answer = fmt.Sprintf("%d attempts each at most", s.Attempts)
		b.Lines = []string{fmt.Sprintf("When practice stops as soon as a trainee is proficient: %s on average. At most: %d, when everybody makes all of them. The study states no %s, so nothing is said about money.", each, s.Attempts, none)}
	case math.IsNaN(s.Stopping.Cost.Value):
		b.Answer = fmt.Sprintf("%s %s at most", grouped(s.Everybody.Cost.Value), unitOf(costs))
		b.Lines = []string{fmt.Sprintf("For %d trainees, when everybody makes all %d attempts. What it costs when practice stops at the rule is not known.", s.Trainees, s.Attempts)}
	default:
		b.Answer = fmt.Sprintf("%s %s expected, %s at most", grouped(s.Stopping.Cost.Value), unitOf(costs), grouped(s.Everybody.Cost.Value))
		text := fmt.Sprintf("For %d trainees. Expected: practice stops as soon as a trainee is proficient, %s", s.Trainees, each)
		if costs.LabMinutes > 0 {
			text += fmt.Sprintf(", %s lab hours in all", grouped(s.Stopping.LabHours.Value))
		}
		text += fmt.Sprintf(". At most: everybody makes all %d.", s.Attempts)
		if per := s.Stopping.PerMet; !math.IsNaN(per.Value) && !math.IsInf(per.Value, 0) {
			text += fmt.Sprintf(" Each proficient trainee costs %s %s%s, the cost of those who do not get there included.", grouped(per.Value), unitOf(costs), between(per.Lower, per.Upper, grouped))
		}
		b.Lines = []string{text}
	}
	b.Lines = append(b.Lines, r.fewerLine(g, s, costs))
	return b
}

// fewerLine says what fewer attempts would change.
func (r *Report) fewerLine(g study.QuotaGroup, s *study.Schedule, costs *practice.Costs) string {
	f := s.Fewer
	if f == nil {
		return fmt.Sprintf("%d fewer would leave none.", r.Quota.Answer.Asked.Fewer)
	}
	text := fmt.Sprintf("With %d fewer, that is %d each: %s by attempt %d", f.Fewer, f.Attempts, metOf(metBy(g, f.Attempts), len(g.Seen)), f.Attempts)
	if !math.IsNaN(f.FewerMet.Value) {
		people := func(v float64) string { return fmt.Sprintf("%.0f", v) }
		text += fmt.Sprintf("; of the next %d, about %.0f fewer would be%s", s.Trainees, f.FewerMet.Value, between(math.Floor(f.FewerMet.Lower+1e-9), math.Ceil(f.FewerMet.Upper-1e-9), people))
	}
	if costs != nil && !math.IsNaN(f.Saved.Value) {
		text += fmt.Sprintf(". That saves %s %s expected, %s at most", grouped(f.Saved.Value), unitOf(costs), grouped(f.SavedByEverybody))
	}
	return text + "."
}

// metBy counts those seen to meet the rule by an attempt.
func metBy(g study.QuotaGroup, attempt int) int {
	n := 0
	for _, o := range g.Seen {
		if o.Event && o.Time <= float64(attempt) {
			n++
		}
	}
	return n
}

// sureBox says the largest share that can be stated with confidence.
func (r *Report) sureBox() box {
	b := box{Number: 3, Question: "How sure is this?"}
	if r.Quota == nil {
		b.Answer, b.Lines = "Not known", []string{r.noRule()}
		return b
	}
	g := r.Quota.Answer.Groups[0]
	seen := g.Observed()
	t := seen.Surest
	n := len(g.Seen)
	confidence := fmt.Sprintf("%g %%", 100*t.Confidence)
	if t.Claimed > 0 && !math.IsInf(t.Attempts, 0) {
		b.Answer = fmt.Sprintf("At least %s, with %s confidence", floorPercent(t.Claimed), confidence)
		b.Lines = []string{fmt.Sprintf("This is the largest share that the attempts seen can support: with %s confidence, at least %s of trainees like these are proficient by attempt %.0f; %s by then.",
			confidence, floorPercent(t.Claimed), t.Attempts, metOf(metBy(g, int(t.Attempts)), n))}
	} else {
		b.Answer = fmt.Sprintf("0 %%, with %s confidence", confidence)
		b.Lines = []string{fmt.Sprintf("No share above 0 %% can be stated: %s by attempt %.0f, where what was seen ends.", metOf(g.Met, n), g.LastSeen)}
		for k := len(seen.Upper) - 1; k >= 0; k-- { // nothing is known from where nobody is followed any more
			if seen.Upper[k] < 1 {
				b.Lines[0] += fmt.Sprintf(" By attempt %d the true share may be anything up to %s.", k+1, study.PercentText(seen.Upper[k]))
				break
			}
		}
	}
	if s := leading(g); s != nil && s.Target > 0 {
		for _, q := range seen.Quotas {
			if q.Share == s.Target && !math.IsInf(q.Attempts, 1) {
				rangeOf := fmt.Sprintf("anything from %.0f to %.0f", q.Lower, q.Upper)
				if math.IsInf(q.Upper, 1) {
					rangeOf = fmt.Sprintf("%.0f or more, and what was seen names no upper end", q.Lower)
				}
				b.Lines = append(b.Lines, fmt.Sprintf("The attempts that %s need may be %s (%g %% range).", study.PercentText(q.Share), rangeOf, 100*r.Quota.Answer.Level))
			}
		}
	}
	if st := seen.Statement; math.IsInf(st.Attempts, 1) {
		b.Lines = append(b.Lines, fmt.Sprintf("To state %s as surely takes at least %d trainees, all of whom become proficient; %d were studied and %d did.", study.PercentText(st.Share), st.Needed, n, g.Met))
	}
	return b
}

// ruleBox says what the present rule lets through, and the best of the others within a
// budget of attempts.
func (r *Report) ruleBox() box {
	b := box{Number: 4, Question: "Which rule?"}
	if r.Ways == nil {
		b.Answer, b.Lines = "Not known", []string{r.noRule()}
		return b
	}
	a := r.Ways.Answer
	bar := study.PercentText(a.Bar.Level)
	if line := r.keptLine(); line != "" {
		b.Lines = append(b.Lines, line)
	}
	j := a.Judge()
	if j < 0 {
		b.Answer = "Not known for these trainees"
		b.Lines = append(b.Lines, "There are too few attempts of any trainee to say what the rule lets through.")
		return b
	}
	n := a.Learners[j].Trainees
	now := a.Stops[0][j]
	b.Answer = fmt.Sprintf("The present one lets %s through too soon", sharePercent(now.FalsePass.Value))
	limits := ""
	if now.FalsePass.Upper-now.FalsePass.Lower > 0.005 {
		limits = fmt.Sprintf("; %s to %s", sharePercent(now.FalsePass.Lower), sharePercent(now.FalsePass.Upper))
	}
	b.Lines = append([]string{fmt.Sprintf("Of trainees like the %d studied, about %s (%s%s) meet “%s” while a single attempt still passes less than %s of the time. By the fitted curves, practice then takes %.1f attempts on average.",
		n, wholeOf(now.FalsePass.Value, n), sharePercent(now.FalsePass.Value), limits, ruleWords(r.study.Question.Rule), bar, now.Attempts.Value)}, b.Lines...)
	return r.alternative(b, j)
}

// keptLine counts passes after the rule was met; blank where there were none.
func (r *Report) keptLine() string {
	if r.Standings == nil {
		return ""
	}
	since, kept := 0, 0
	for _, t := range r.Standings.Answer {
		since, kept = since+t.Since, kept+t.Kept
	}
	if since == 0 {
		return ""
	}
	return fmt.Sprintf("Seen in the log: after meeting it, trainees passed %d of %d attempts (%s).", kept, since, study.PercentText(float64(kept)/float64(since)))
}

// alternative adds the way with the fewest false passes within the budget.
func (r *Report) alternative(b box, j int) box {
	a := r.Ways.Answer
	budget, whose := r.budget()
	best := -1
	for k := range a.Ways {
		if s := a.Stops[k][j]; s.Attempts.Value <= budget && s.Never <= 0.5 && (best < 0 || s.FalsePass.Value < a.Stops[best][j].FalsePass.Value) {
			best = k
		}
	}
	if now := a.Stops[0][j]; best > 0 && now.Attempts.Value <= budget && a.Stops[best][j].FalsePass.Value > now.FalsePass.Value-noticeable {
		best = 0
	}
	within := fmt.Sprintf("Within %g attempts on average (%s)", budget, whose)
	switch {
	case best < 0:
		b.Lines = append(b.Lines, fmt.Sprintf("%s, none of the %d rules compared can be kept.", within, len(a.Ways)))
	case best == 0:
		b.Lines = append(b.Lines, fmt.Sprintf("%s, no other of the %d rules compared lets fewer through too soon, unless more than half of trainees never meet it.", within, len(a.Ways)))
	default:
		s := a.Stops[best][j]
		b.Lines = append(b.Lines, fmt.Sprintf("%s, the best of the %d rules compared is “%s”: about %s of %d (%s) too soon, after %.1f attempts.",
			within, len(a.Ways), wayWords(a.Ways[best]), wholeOf(s.FalsePass.Value, a.Learners[j].Trainees), a.Learners[j].Trainees, sharePercent(s.FalsePass.Value), s.Attempts.Value))
	}
	if a.Stops[0][j].FalsePass.Value > fewThrough {
		b.Lines = append(b.Lines, r.strictLine(j))
	}
	return b
}

// fewThrough is the share let through too soon that counts as few (common practice, no
// source).
const fewThrough = 0.2

// noticeable is the difference in that share from which on another rule is better
// (common practice, no source).
const noticeable = 0.01

// strictLine says what it takes to let few through too soon.
func (r *Report) strictLine(j int) string {
	a := r.Ways.Answer
	best := r.Ways.Cheapest(j, fewThrough)
	if best < 0 {
		return fmt.Sprintf("None of them lets through %s or fewer too soon and at least half of trainees stop within %d attempts.", study.PercentText(fewThrough), a.Horizon)
	}
	s := a.Stops[best][j]
	return fmt.Sprintf("To let through %s or fewer takes %.1f attempts on average: “%s” (%s too soon; %s not there by attempt %d).",
		study.PercentText(fewThrough), s.Attempts.Value, wayWords(a.Ways[best]), sharePercent(s.FalsePass.Value), sharePercent(s.Never), a.Horizon)
}

// budget is the mean number of attempts that another rule may take, and whose number that
// is.
func (r *Report) budget() (float64, string) {
	if r.Budget > 0 {
		return r.Budget, "the budget given"
	}
	now := r.Ways.Answer.Stops[0][max(0, r.Ways.Answer.Judge())].Attempts.Value
	if _, s, ok := r.scheduled(); ok {
		if planned := float64(s.Attempts); planned >= now {
			return planned, "the number planned above"
		}
		return math.Ceil(now), "what the present one takes"
	}
	return float64(r.Ways.Horizon), "as far as was looked ahead"
}
