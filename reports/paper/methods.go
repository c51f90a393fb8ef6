package paper

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"tyro/analysis/fit"
	"tyro/analysis/practice"
	"tyro/analysis/resample"
	"tyro/analysis/study"
	"tyro/models"
	"tyro/reports"
)

// Methods are the paragraphs of methods, from what was really run.
func (p *Paper) methods() []section {
	return told(p.participants(), p.measures(), p.howStandard(), p.howCurves(), p.howProficiency(), p.howQuota(), p.howWays(),
		p.howCohort(), p.howComparison(), p.howRetention(), p.howMonitor(), p.howAgreement(), p.howComputed(), p.limits())
}

// participants says whose attempts were analysed, and what was left out.
func (p *Paper) participants() section {
	s := section{title: "Participants and data"}
	st := p.Study
	if n := len(st.Trainees); n > 0 {
		all := st.Attempts(func(practice.Attempt) bool { return true })
		of := ""
		if st.Task.Name != "" && st.Task.Name != "task" { // which a single table's is called
			of = fmt.Sprintf(" at the task %q", st.Task.Name)
		}
		s.say("%s of %s%s were read%s.", reports.Count(all, "attempt"), reports.Count(n, "trainee"), of, p.byArm())
		if day := st.Options.Request.UpTo; day != "" {
			s.say("The study was looked at as of %s: attempts made later were left out.", day)
		}
		s.outcomes(st)
	}
	if len(st.Experts) > 0 {
		s.say("Beside them the attempts of %s were read.", reports.Count(len(st.Experts), "expert"))
	}
	if len(st.Items) > 0 {
		s.say("Ratings of %s were read.", reports.Count(len(st.Items), "item"))
	}
	p.dropped(&s)
	return s
}

// byArm counts trainees by arm; blank with one.
func (p *Paper) byArm() string {
	st := p.Study
	if len(st.Arms) < 2 {
		return ""
	}
	var parts []string
	for _, arm := range st.Arms {
		parts = append(parts, fmt.Sprintf("%s %d", reports.ArmName(arm), len(st.Members(arm))))
	}
	return " (trainees by arm: " + strings.Join(parts, ", ") + ")"
}

// outcomes counts the attempts that were not simply done.
func (s *section) outcomes(st *study.Study) {
	var parts []string
	for _, o := range []struct {
		outcome practice.Outcome
		words   string
	}{
		{practice.Timeout, "ended at the time limit"}, {practice.Failed, "were hard fails"}, {practice.Void, "were void for an outside reason and counted for nothing"},
	} {
		if n := st.Attempts(func(a practice.Attempt) bool { return a.Outcome == o.outcome }); n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n, o.words))
		}
	}
	if len(parts) > 0 {
		s.say("Of these attempts, %s.", list(parts))
	}
	if n := st.Attempts(func(a practice.Attempt) bool { return a.Outcome == practice.Done && !a.Measured() }); n > 0 {
		s.say("%s had no measure.", reports.Count(n, "attempt"))
	}
}

// dropped counts rows of files that were not used, by reason.
func (p *Paper) dropped(s *section) {
	if p.Check == nil {
		return
	}
	for _, f := range p.Check.Files {
		reasons := map[string]int{}
		for _, d := range f.Dropped {
			reasons[d.Reason]++
		}
		var parts []string
		for _, r := range slices.Sorted(maps.Keys(reasons)) {
			parts = append(parts, fmt.Sprintf("%d (%s)", reasons[r], r))
		}
		if len(parts) > 0 {
			s.say("Of the %d rows of %s, these were not used: %s.", f.Rows, f.File, list(parts))
		}
		if f.TimeoutsSet > 0 {
			s.say("In %s, %s counted as ended at the limit, since the time reached it.", f.File, reports.Count(f.TimeoutsSet, "attempt"))
		}
	}
}

// measures says what was measured, and what a pass is.
func (p *Paper) measures() section {
	s := section{title: "Measure, standard and rule"}
	t := p.Study.Task
	if len(p.Study.Trainees) == 0 {
		return s
	}
	unit := ""
	if t.Unit != "" {
		unit = " in " + t.Unit
	}
	kind := map[practice.Measure]string{practice.Time: "a time", practice.Score: "a score", practice.Count: "a count", practice.PassFail: "pass or fail"}[t.Measure]
	s.say("The measure was %s (%s%s; %s is better).", t.Response, kind, unit, t.Better())
	if t.Limit > 0 {
		s.say("Attempts were stopped at the limit of %g%s.", t.Limit, unitOf(t))
	}
	if t.Scoring != "" {
		s.say("Scores follow version %s of the study's scoring rule.", t.Scoring)
	}
	if d := t.Standard; d != nil && t.Measure == practice.PassFail {
		s.say("The standard was a chance to pass of %g.", d.Value)
	} else if d != nil {
		s.say("The standard for one attempt was %g%s.", d.Value, unitOf(t))
	} else {
		s.say("No standard was set.")
	}
	if d := t.Standard; d != nil && d.Given {
		s.say("It was given for this analysis alone and is no decision of the study's.")
	} else if d != nil {
		s.decision(*d)
	}
	if names := slices.Sorted(maps.Keys(t.AtMost)); len(names) > 0 {
		var parts []string
		for _, name := range names {
			parts = append(parts, fmt.Sprintf("%s at most %g", strings.ReplaceAll(name, "_", " "), t.AtMost[name]))
		}
		s.say("An attempt passed when it met the standard, was no hard fail, and kept within the limits of errors (%s).", strings.Join(parts, "; "))
	} else if t.Standard != nil {
		s.say("An attempt passed when it met the standard and was no hard fail.")
	}
	if t.Rule != nil {
		origin := "by the study's rule"
		if t.RuleGiven {
			origin = "by a rule given for this analysis alone"
		}
		s.say("A trainee counted as proficient, %s, once these passes had been seen: %s.", origin, t.Rule)
	}
	return s
}

// unitOf is the unit after a number.
func unitOf(t practice.Task) string {
	if t.Unit == "" {
		return ""
	}
	return " " + t.Unit
}

// decision says how the standard came about, as far as the study file says.
func (s *section) decision(d practice.Decision) {
	var parts, missing []string
	for _, x := range []struct{ what, text string }{
		{"method", d.Method}, {"decided by", d.DecidedBy}, {"decided on", d.DecidedOn}, {"from", d.Data},
	} {
		if x.text == "" {
			missing = append(missing, map[string]string{"method": "how it was found", "decided by": "who decided", "decided on": "when", "from": "on which data"}[x.what])
			continue
		}
		parts = append(parts, x.what+": "+x.text)
	}
	if len(parts) > 0 {
		s.say("On the standard the study file says: %s.", strings.Join(parts, "; "))
	}
	if len(missing) > 0 {
		s.say("The study file does not say of the standard: %s.", list(missing))
	}
}

// howStandard says how the standard was looked at.
func (p *Paper) howStandard() section {
	s := section{title: "Standard"}
	d := p.Standard
	if d == nil || d.Definition == "" || d.Answer == nil {
		return s
	}
	switch d.Answer.Origin {
	case study.AsComputed:
		s.say("As the study file says, the standard was computed again: %s.", d.Definition)
	case study.ByDefault:
		s.say("A standard was computed from the experts, since the study file does not say how its own was found: %s.", d.Definition)
	default: // it was stated, and nothing was computed
		return s
	}
	if e := d.Experts; e != nil {
		s.say("It rests on %s, each taken as %s; %s left out.", reports.Count(e.N, "expert"), e.Runs, wereOf(e.Dropped))
	}
	if d.IntervalMethod != "" {
		s.say("Its %g %% interval is by the method %s.", 100*d.Level, d.IntervalMethod)
	}
	return s
}

// wereOf is a number with its verb: none was, 1 was, 2 were.
func wereOf(n int) string {
	switch n {
	case 0:
		return "none was"
	case 1:
		return "1 was"
	}
	return fmt.Sprintf("%d were", n)
}

// howCurves says which curves were fitted, how, and to what.
func (p *Paper) howCurves() section {
	s := section{title: "Learning curves"}
	st := p.Study
	if p.Curves == nil || len(st.Specs) == 0 {
		return s
	}
	noise := reports.NoiseWords(st.Noise().Name())
	if st.FamilyChosen() {
		var names []string
		for _, spec := range st.Specs {
			names = append(names, spec.Family.Name())
		}
		s.say("Learning curves of %s (%s) were fitted to each trainee's attempts by maximum likelihood with %s; for each trainee the family with the lowest AICc was taken (Hurvich and Tsai, 1989).", reports.Count(len(names), "family"), list(names), noise)
	} else {
		s.say("The %s curve was fitted to each trainee's attempts by maximum likelihood with %s.", st.Specs[0].Family.Name(), noise)
	}
	if low, high := st.Noise().Mean(math.Inf(-1)), st.Noise().Mean(math.Inf(1)); models.IsPassFail(st.Noise()) && (low > 0 || high < 1) {
		s.say("The chance to pass was held between %g (without any skill) and %g (with all skill).", low, high)
	}
	if h := st.Options.Hold; len(h) > 0 {
		s.say("Held at a value: %s.", list(holds(h)))
	}
	if o := st.Options.Origin; o != nil {
		s.say("The starting level was read at attempt %g.", *o)
	}
	if st.Attempts(func(a practice.Attempt) bool { return a.Censored }) > 0 {
		s.say("Attempts that ended at the limit were right-censored there.")
	}
	if left := reports.OutOfCurves(st); len(left) > 0 {
		s.say("%s were left out of the curves.", reports.Capital(list(left)))
	}
	s.say("Parameters have %g %% intervals by %s.", 100*st.Options.Level, p.curveIntervals())
	return s
}

func holds(hs []fit.Hold) []string {
	var out []string
	for _, h := range hs {
		out = append(out, fmt.Sprintf("%s at %g", h.Name, h.Value))
	}
	return out
}

// curveIntervals is the method of the curves' intervals.
func (p *Paper) curveIntervals() string {
	for _, c := range p.Curves.Curves {
		if c.IntervalMethod == string(fit.ByProfile) {
			return "profile likelihood"
		}
		if c.IntervalMethod != "" {
			return "the method " + c.IntervalMethod
		}
	}
	return "profile likelihood"
}

// howProficiency says what the definitions mean, and how their intervals were made.
func (p *Paper) howProficiency() section {
	s := section{title: "Attempts to proficiency"}
	if p.Proficiency == nil {
		return s
	}
	st, q := p.Study, p.Study.Question
	s.say("Attempts to proficiency have separate names by definition. Mean-crossing is the first attempt at which the fitted curve meets the standard; pass-chance is the first at which one attempt passes with chance %g, error limits and hard fails included.", q.Chance)
	if q.Rule != nil {
		s.say("Rule-met is the attempt by which the rule %q is met with chance one half, exactly, given those chances.", q.Rule.String())
	}
	if c := q.Chart; c != nil {
		s.say("Chart-signal is the attempt by which a learning chart that tells failure rates of %g (acceptable) and %g (unacceptable) apart, with the limit %.3g, has signalled with chance one half.", c.Rates.Acceptable, c.Rates.Unacceptable, c.H)
	}
	kind := "percentiles, made somewhat wider for short series,"
	if q.Interval == resample.BCa {
		kind = "bias-corrected and accelerated limits (Efron, 1987)"
	}
	family := ""
	if st.FamilyChosen() {
		family = ", with the family chosen anew in each"
	}
	s.say("Their %g %% intervals are %s of %s a trainee%s.", 100*q.Level, kind, reports.Count(st.Sampling().Count(), "bootstrap series"), family)
	if q.Average {
		s.say("Estimates were averaged over the families, by AICc weight.")
	}
	failed, total := 0, 0
	for _, r := range p.Proficiency.OfTrainees() {
		failed, total = failed+r.FailedReplicates, total+r.Replicates
	}
	if total > 0 {
		s.say("Of %d fits to bootstrap series, %d failed.", total, failed)
	}
	s.say("A series that does not reach the standard within %g attempts counts as beyond the horizon.", q.Horizon)
	if len(p.Proficiency.Survival) > 0 {
		text := fmt.Sprintf("The rule as observed was summarised by the product-limit estimate (Kaplan and Meier, 1958) with %s limits; trainees who had not met it counted up to their last attempt", p.Proficiency.Band)
		if p.Proficiency.LogRank != nil {
			text += ", and arms were set against each other by the log-rank test"
		}
		s.say("%s.", text)
	}
	return s
}

// howQuota says how the attempts to schedule were found.
func (p *Paper) howQuota() section {
	s := section{title: "Attempts to schedule"}
	q := p.Quota
	if q == nil {
		return s
	}
	s.say("The attempts by which a share of trainees has met the rule are given as observed, all trainees counted, with %g %% limits from %s of whole trainees.", 100*q.Level, reports.Count(q.Replicates, "bootstrap sample"))
	if q.Draws > 0 {
		s.say("By the cohort's curve they are given for new trainees, with limits from %s of the cohort's parameters; failed, in the group with most: %d.", reports.Count(q.Draws, "draw"), q.Failed)
	}
	if c := q.Costs; c != nil {
		s.say("Costs are in %s.", c.Unit)
	}
	return s
}

// howWays says how ways to stop practice were judged.
func (p *Paper) howWays() section {
	s := section{title: "Ways to stop practice"}
	w := p.Ways
	if w == nil {
		return s
	}
	s.say("Ways to stop practice were set side by side as exact chains over passes and misses, up to attempt %d; a learner counts as proficient from a pass chance of %g.", w.Horizon, w.Proficient)
	return s
}

// howCohort says how all trainees were fitted together.
func (p *Paper) howCohort() section {
	s := section{title: "All trainees together"}
	c := p.Cohort
	if c == nil {
		return s
	}
	method := map[string]string{"laplace": "Laplace's approximation (Tierney and Kadane, 1986)", "quadrature": "adaptive quadrature"}[c.Method]
	if method == "" {
		method = "the method " + c.Method
	}
	s.say("%s of %s were described together by one hierarchical %s curve with %s, fitted by %s.", reports.Count(c.NAttempts, "attempt"), reports.Count(c.NTrainees, "trainee"), c.Family, reports.NoiseWords(c.Noise), method)
	if p.Study.FamilyChosen() {
		s.say("Its family is the one with the lowest AIC among those tried.")
	}
	if n := len(c.Models); n > 0 {
		weighed := 0
		for _, m := range c.Models {
			if m.Weight > 0 {
				weighed++
			}
		}
		s.say("%d models were tried; each trainee's later attempts were foretold from the first ones by the cohort without that trainee, and %s with the best log predictive densities foretell together here, with stacking weights (Yao, Vehtari, Simpson and Gelman, 2018). The curve described is that of the best of them.", n, reports.Count(weighed, "model"))
	}
	if k := c.Correction; k != nil {
		s.say("Ranges of later attempts are corrected by where those of the cohort's %d trainees fell, each foretold so from about as many attempts (conformal prediction; Lei and others, 2018): of the models' %g %% ranges %s had held them.", k.Trainees, 100*float64(k.Level), reports.Percent(float64(k.Inside)))
	}
	if c.Rung != "" {
		s.say("Of the models tried, from the richest down, this one was kept: %s.", c.Rung)
	}
	if c.REML {
		s.say("Restricted maximum likelihood was used.")
	}
	if c.IntervalMethod != "" {
		s.say("Its parameters have %g %% intervals by the method %s.", 100*c.Level, c.IntervalMethod)
	}
	if c.Replicates > 0 {
		s.say("For these %s were asked for, of which %d failed.", reports.Count(c.Replicates, "refit"), c.FailedReplicates)
	}
	return s
}

// howComparison says how arms were compared.
func (p *Paper) howComparison() section {
	s := section{title: "Comparison of arms"}
	c := p.Comparison
	if c == nil {
		return s
	}
	s.say("Every pair of arms was compared by the %s of the %s family, with the trainee as the unit.", c.Basis, c.Family)
	if c.Basis == study.BasisCohort {
		s.say("Numbers read off each arm's middle curve were compared through what every trainee contributes to them.")
	}
	var methods []string
	replicates := 0
	for _, x := range c.Contrasts {
		if x.Method != "" && !slices.Contains(methods, x.Method) {
			methods = append(methods, x.Method)
		}
		replicates = max(replicates, x.Replicates)
	}
	if len(methods) > 0 {
		s.say("Intervals (%g %%) and p values are by %s.", 100*p.Study.Options.Level, list(methods))
	}
	if replicates > 0 {
		s.say("Permutations and bootstrap samples numbered %d.", replicates)
	}
	if n := c.Tests(); n > 1 {
		s.say("The p values were adjusted by Holm's method (Holm, 1979) over the %d contrasts with a test.", n)
	}
	if m := p.Study.Task.Margin; m != nil && len(c.Margin) > 0 {
		s.say("A margin of %g for %s (%s) was set beforehand%s.", m.Value, m.Measure, m.Kind, onBy(m.SetOn, m.DecidedBy))
	}
	return s
}

// onBy is a date and a name, where they are known.
func onBy(on, by string) string {
	text := ""
	if on != "" {
		text += " on " + on
	}
	if by != "" {
		text += " by " + by
	}
	return text
}

// howRetention says how breaks were looked at.
func (p *Paper) howRetention() section {
	s := section{title: "Retention"}
	r := p.Retention
	if r == nil {
		return s
	}
	scale := "in the unit of the measure"
	if r.Scale == "log" {
		scale = "in per cent of that level, compared on the scale of logarithms"
	}
	s.say("What is lost in a break is the first attempt after it against the level of the %d attempts before it, %s.", r.Before, scale)
	if len(r.Course) > 0 {
		s.say("One curve over the calendar was fitted by least squares: every trainee has a plateau and a gain of their own; the share of what is left that an attempt learns, the share of what is mastered that a break takes, and the share of what is lost that an attempt brings back are common to all. Its intervals are by a bootstrap of whole trainees; they leave it out that breaks take nothing only where a test over the possible rates of relearning (Hansen, 1996, Econometrica 64, 413-430) does.")
	}
	return s
}

// howMonitor says how trainees were watched.
func (p *Paper) howMonitor() section {
	s := section{title: "Monitoring"}
	m := p.Monitor
	if m == nil {
		return s
	}
	s.say("Passes and failures were followed by %s chart with an acceptable failure rate of %s and an unacceptable one of %s, stated beforehand; its limit is %s.", article(m.Chart), digits(m.Design.Acceptable), digits(m.Design.Unacceptable), digits(m.Design.H))
	if w := m.Within; w.Attempts > 0 && known(w.Acceptable) && known(w.Unacceptable) {
		s.say("Within %d attempts it signals with chance %s at the acceptable rate and %s at the unacceptable one.", w.Attempts, digits(w.Acceptable), digits(w.Unacceptable))
	}
	return s
}

// article puts a or an before a word.
func article(word string) string {
	if strings.ContainsAny(word[:1], "aeio") {
		return "an " + word
	}
	return "a " + word
}

// howAgreement says how raters were compared.
func (p *Paper) howAgreement() section {
	s := section{title: "Agreement of the raters"}
	a := p.Agreement
	if a == nil {
		return s
	}
	var items, methods []string
	for _, it := range a.Items {
		items = append(items, fmt.Sprintf("%s (%s, %d subjects, %d raters, %d ratings missing)", it.Item, it.Scale, it.NSubjects, it.NRaters, it.Missing))
		for _, c := range it.Coefficients {
			if c.IntervalMethod != "" && !slices.Contains(methods, c.IntervalMethod) {
				methods = append(methods, c.IntervalMethod)
			}
		}
	}
	if len(items) > 0 {
		s.say("Agreement was summarised for %s: %s.", reports.Count(len(items), "item"), strings.Join(items, "; "))
	}
	if len(methods) > 0 {
		s.say("The coefficients have %g %% intervals by these methods: %s.", 100*p.Study.Options.Level, strings.Join(methods, "; "))
	}
	return s
}

// howComputed says with what, and from which numbers random draws started.
func (p *Paper) howComputed() section {
	s := section{title: "Software"}
	st := p.Study
	commit := ""
	if p.Build.Commit != "" {
		commit = fmt.Sprintf(", commit %.12s", p.Build.Commit)
	}
	s.say("The analysis was made with tyro %s%s (%s).", p.Build.Version, commit, p.Build.Go)
	s.say("Random draws came from the generator %s with seed %d; %s were asked for where nothing else is said, and intervals are of %g %% where nothing else is said.", resample.Generator, st.Options.Seed, reports.Count(st.Sampling().Count(), "replicate"), 100*st.Options.Level)
	if st.SHA256 != "" {
		s.say("The data had the SHA-256 %s.", st.SHA256)
	}
	return s
}

// limits says what the design cannot show.
func (p *Paper) limits() section {
	s := section{title: "What this cannot show"}
	st := p.Study
	if len(st.Trainees) > 0 {
		s.say("Performance on the lab task is not a licence, a certification or clinical competence, and nothing here shows what it means for the care of patients.")
	}
	if p.Comparison != nil {
		s.say("Whether arms differ because of their curricula depends on how trainees came to them, which the data do not say [for the authors: how, and who knew the arm].")
	}
	if p.Proficiency != nil {
		s.say("Attempts ahead of those made are what the fitted curves lead to if practice goes on alike.")
	}
	if len(st.Trainees) > 0 && p.Cohort == nil {
		s.say("The trainees were not described together, so that nothing is said about trainees yet to come beyond what was observed.")
	}
	return s
}
