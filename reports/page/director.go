package page

import (
	"fmt"
	"html/template"
	"math"
	"strings"

	"tyro/analysis/practice"
	"tyro/analysis/stopping"
	"tyro/analysis/study"
	"tyro/reports"
	"tyro/reports/figure"
)

// A director is the program director's page: five questions, each in a box, then the
// standard, one curve and the caution. The page and its print are made of the same words.
type director struct {
	Title    string
	Basis    string // who was studied, when
	Meaning  string // what proficient means on this page
	Boxes    []box  // the first four
	Who      who
	Standard []string
	Curve    *figure.SharesByAttempt // nil where there is nothing to draw
	Caution  string
	Decides  string
	Made     string
}

// A box answers one question: in a few words, then in sentences.
type box struct {
	Number   int
	Question string
	Answer   string
	Lines    []string
}

// who is the fifth box: what each trainee needs.
type who struct {
	Question string
	Counts   []placeCount
	Rows     []whoRow // those who need something, the most urgent first
	Met      string   // those who met the rule, in one sentence
	Note     string
	Nothing  string // why nothing can be said; blank where it can
}

type placeCount struct {
	Place string
	Words string
	N     int
}

// A whoRow is what one trainee needs.
type whoRow struct {
	Place                                    string // of the mark's colour
	Needs, Trainee, Last, More, Why, Suggest string
}

func (r *Report) director() *director {
	st := r.study
	d := &director{Title: r.title(), Basis: basisLine(st), Meaning: meaning(st), Caution: reports.Caution, Decides: st.Decides, Made: madeLine(st)}
	d.Boxes = []box{r.scheduleBox(), r.costBox(), r.sureBox(), r.ruleBox()}
	d.Who = r.whoBox()
	d.Standard = r.standardLines()
	for i := range d.Boxes {
		b := &d.Boxes[i]
		b.Answer = kept(b.Answer)
		for k := range b.Lines {
			b.Lines[k] = kept(b.Lines[k])
		}
	}
	for k := range d.Standard {
		d.Standard[k] = kept(d.Standard[k])
	}
	if r.Quota != nil {
		d.Curve = figure.NewSharesByAttempt(r.Quota)
	}
	return d
}

func taskName(st *study.Study) string {
	if st.Task.Name != "" {
		return st.Task.Name
	}
	return "the task"
}

// madeLine says what made the page.
func madeLine(st *study.Study) string {
	return fmt.Sprintf("tyro %s, seed %d, data %.12s", reports.Version, st.Options.Seed, st.SHA256)
}

// basisLine says who was studied and when.
func basisLine(st *study.Study) string {
	if len(st.Trainees) == 0 {
		return "There are no attempts in this study."
	}
	attempts, first, last := 0, "", ""
	for _, t := range st.Trainees {
		attempts += len(t.Counted())
		for _, a := range t.Counted() {
			if a.Date == "" {
				continue
			}
			if first == "" || a.Date < first {
				first = a.Date
			}
			last = max(last, a.Date)
		}
	}
	text := fmt.Sprintf("%s, %s", reports.Count(len(st.Trainees), "trainee"), reports.Count(attempts, "attempt"))
	if first != "" {
		text += fmt.Sprintf(", from %.10s to %.10s", first, last)
	}
	return text + "."
}

// meaning says what proficient means, with everything a pass asks for.
func meaning(st *study.Study) string {
	if st.Question.Rule == nil || !st.Question.Standard.Set() && st.Task.Measure != practice.PassFail {
		return "The study states no rule with a standard, so nobody is called proficient on this page."
	}
	return fmt.Sprintf("On this page, proficient means one thing: met the rule “%s”. A pass is an attempt %s.", ruleWords(st.Question.Rule), passWords(st))
}

// ruleWords is a rule in words.
func ruleWords(r practice.Rule) string {
	var parts []string
	for _, c := range r {
		n := "1 pass"
		if c.Need > 1 {
			n = fmt.Sprintf("%d passes", c.Need)
		}
		switch {
		case c.InAll:
			parts = append(parts, n+" in all")
		case c.Of > 0:
			parts = append(parts, fmt.Sprintf("%s among the last %d attempts", n, c.Of))
		case c.Need == 1:
			parts = append(parts, n)
		default:
			parts = append(parts, n+" in a row")
		}
	}
	return strings.Join(parts, ", and ")
}

// passWords says what an attempt needs to pass.
func passWords(st *study.Study) string {
	task := st.Task
	value := withUnit(task, st.Question.Standard.Value)
	direction := "at least"
	if task.Lower {
		direction = "at most"
	}
	var text string
	switch task.Measure {
	case practice.PassFail:
		text = "marked as a pass"
		if task.Lower {
			text = "marked as a success, 0"
		}
	case practice.Time:
		text = fmt.Sprintf("done in %s %s", direction, value)
	default:
		text = fmt.Sprintf("with %s %s %s", figure.Spoken(task.Response), direction, value)
	}
	var limits []string
	for _, name := range task.Counts {
		if most, ok := task.AtMost[name]; ok {
			limits = append(limits, fmt.Sprintf("%s: at most %g", figure.Spoken(name), most))
		}
	}
	if len(limits) > 0 {
		text += " (" + strings.Join(limits, "; ") + ")"
	}
	return text + ", and no hard fail"
}

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
	return b
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
	case costs == nil:
		b.Answer = fmt.Sprintf("%d attempts each at most", s.Attempts)
		b.Lines = []string{fmt.Sprintf("When practice stops as soon as a trainee is proficient: %s on average. At most: %d, when everybody makes all of them. The study states no costs, so nothing is said about money.", each, s.Attempts)}
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
				upper := fmt.Sprintf("%.0f", q.Upper)
				if math.IsInf(q.Upper, 1) {
					upper = fmt.Sprintf("more than %.0f, where what was seen ends", g.LastSeen)
				}
				b.Lines = append(b.Lines, fmt.Sprintf("The attempts that %s need may be anything from %.0f to %s (%g %% range).", study.PercentText(q.Share), q.Lower, upper, 100*r.Quota.Answer.Level))
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
	b.Lines = append([]string{fmt.Sprintf("Of trainees like the %d studied, about %s (%s%s) meet “%s” while a single attempt still passes less than %s of the time. Practice takes %.1f attempts on average.",
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
		b.Lines = append(b.Lines, fmt.Sprintf("%s, no other of the %d rules compared lets fewer through too soon.", within, len(a.Ways)))
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

// noRule says why there is no answer.
func (r *Report) noRule() string {
	switch {
	case len(r.study.Trainees) == 0:
		return "There are no attempts in this study."
	case r.Proficiency == nil:
		return "No standard is set, so no attempt passes or fails. Set one in the study file, or with --standard."
	}
	return "No rule says when a trainee is proficient. Set one in the study file, or with --rule."
}

// whoBox says what each trainee needs.
func (r *Report) whoBox() who {
	w := who{Question: "Who needs what?"}
	if r.Standings == nil {
		w.Nothing = r.noRule()
		return w
	}
	d := r.Standings
	var met []string
	count := map[study.Place]int{}
	for _, p := range study.Places() {
		for _, t := range d.Answer {
			if t.Place != p {
				continue
			}
			count[p]++
			if p == study.HasMet {
				met = append(met, fmt.Sprintf("%s (%g)", reports.SeriesName(t.ID), t.MetAt))
				continue
			}
			w.Rows = append(w.Rows, whoRow{
				Place: string(p), Needs: reports.PlaceWords(p), Trainee: reports.SeriesName(t.ID), Last: dayText(t.LastDate),
				More: orDash(d.MoreWords(t)), Why: d.ReasonWords(t), Suggest: d.ActionWords(t),
			})
		}
		w.Counts = append(w.Counts, placeCount{string(p), reports.PlaceWords(p), count[p]})
	}
	if len(met) > 0 {
		w.Met = "Met the rule, at the attempt in brackets: " + strings.Join(met, ", ") + "."
	}
	w.Note = reports.StandingNote()
	return w
}

func dayText(date string) string { return orDash(date[:min(len(date), 10)]) }

func orDash(s string) string {
	if s == "" {
		return "–"
	}
	return s
}

// standardLines say what the standard is, who set it, and how many trainees hang on it.
func (r *Report) standardLines() []string {
	s := r.study.Task.Standard
	if s == nil {
		if r.Standard != nil {
			return story(r.Standard)
		}
		return []string{"No standard is set."}
	}
	out := []string{fmt.Sprintf("%s. Set by: %s. On: %s. How: %s.", reports.Capital(passWords(r.study)), orBlank(s.DecidedBy), orBlank(s.DecidedOn), orBlank(s.Method))}
	if s.Given {
		out[0] = fmt.Sprintf("%s. Given for this run; it is no decision of the study's.", reports.Capital(passWords(r.study)))
	}
	if d := r.Standard; d != nil && d.StatusChange != nil {
		c := d.StatusChange
		out = append(out, fmt.Sprintf("How sure it is: from %s to %s (%g %% range). Inside this range %d of %d trainees would change between passing and not.",
			amount(d, d.Lower), amount(d, d.Upper), 100*d.Level, c.Differ, c.N))
	}
	return out
}

func attempts(n int) string { return reports.Count(n, "attempt") }

// wholeOf is an expected number of people out of n.
func wholeOf(share float64, n int) string { return fmt.Sprintf("%.0f", share*float64(n)) }

func floorOf(share float64, n int) string {
	return fmt.Sprintf("%.0f", math.Floor(share*float64(n)+1e-9))
}

func ceilOf(share float64, n int) string {
	return fmt.Sprintf("%.0f", math.Ceil(share*float64(n)-1e-9))
}

// floorPercent never claims more than is known.
func floorPercent(v float64) string { return fmt.Sprintf("%g %%", math.Floor(1000*v+1e-9)/10) }

// sharePercent is a share in whole percent; none and all are said only where exact.
func sharePercent(v float64) string { return reports.WholePercent(v) }

// grouped is an amount, its digits in threes from 10 000 on.
func grouped(v float64) string {
	text := reports.Amount(v)
	if math.Abs(v) < 10000 || math.IsInf(v, 0) {
		return text
	}
	for at := len(text) - 3; at > 0; at -= 3 {
		text = text[:at] + narrow + text[at:]
	}
	return text
}

// Spaces at which no line breaks.
const (
	narrow   = "\u202f"
	unbroken = "\u00a0"
)

// kept keeps a percent sign with its number.
func kept(text string) string { return strings.ReplaceAll(text, " %", unbroken+"%") }

func unitOf(c *practice.Costs) string {
	if c.Unit == "" {
		return "units"
	}
	return c.Unit
}

// between is a range in brackets; blank where its ends are alike.
func between(lower, upper float64, show func(float64) string) string {
	switch {
	case math.IsInf(upper, 1):
		return fmt.Sprintf(" (%s to no limit)", show(lower))
	case show(lower) == show(upper):
		return ""
	}
	return fmt.Sprintf(" (%s to %s)", show(lower), show(upper))
}

// wayWords is a way to stop in words.
func wayWords(p fmt.Stringer) string {
	switch p := p.(type) {
	case stopping.Rule:
		return ruleWords(p.Rule)
	case stopping.FixedQuota:
		return fmt.Sprintf("stop after %s, passed or not", attempts(int(p)))
	case *stopping.Chart:
		return fmt.Sprintf("a learning chart that tells %s failures from %s", reports.RateText(p.Rates.Acceptable), reports.RateText(p.Rates.Unacceptable))
	case stopping.ShownChance:
		return fmt.Sprintf("passes that show a chance above %s, with %s confidence", study.PercentText(p.Target), study.PercentText(p.Confidence))
	}
	return p.String()
}

// html lets a template show the curve.
func (d *director) SVG() (template.HTML, error) {
	if d.Curve == nil {
		return "", nil
	}
	return inline(d.Curve.SVG())
}
