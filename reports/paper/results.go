package paper

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"tyro/analysis/proficiency"
	"tyro/analysis/study"
	"tyro/reports"
)

// results are the paragraphs of results, with the numbers of the documents.
func (p *Paper) results() []section {
	return told(p.seen(), p.foundStandard(), p.foundCurves(), p.foundProficiency(), p.foundQuota(), p.foundCohort(),
		p.foundComparison(), p.foundRetention(), p.foundMonitor(), p.foundAgreement())
}

// seen says how much there was.
func (p *Paper) seen() section {
	s := section{title: "Participants and attempts"}
	if p.Check == nil {
		return s
	}
	for _, a := range p.Check.Arms {
		who := reports.Count(a.Trainees, "trainee")
		if len(p.Check.Arms) > 1 {
			who = "In arm " + reports.ArmName(a.Arm) + ", " + who
		}
		text := fmt.Sprintf("%s made %s", who, reports.Count(a.Attempts, "attempt"))
		switch {
		case !known(a.MinAttempts) || !known(a.MaxAttempts):
		case a.MinAttempts == a.MaxAttempts:
			text += fmt.Sprintf(" (%g each, void ones apart)", float64(a.MinAttempts))
		default:
			text += fmt.Sprintf(" (%g to %g each, void ones apart)", float64(a.MinAttempts), float64(a.MaxAttempts))
		}
		if known(a.Median) {
			text += fmt.Sprintf("; the median measure was %s%s (range %s to %s, of exact ones)", digits(a.Median), unitOf(p.Study.Task), digits(min(a.Best, a.Worst)), digits(max(a.Best, a.Worst)))
		}
		s.say("%s.", text)
	}
	return s
}

func (p *Paper) foundStandard() section {
	s := section{title: "Standard"}
	d := p.Standard
	if d == nil || !known(d.Estimate) {
		return s
	}
	s.say("%s is %s%s%s.", p.whichStandard(), reports.Significant(float64(d.Estimate), 4), unitOf(p.Study.Task), interval(d.Level, d.Lower, d.Upper, digits))
	if t := p.Study.Task; d.InForce != nil && t.Standard != nil {
		s.say("In force is %g%s.", t.Standard.Value, unitOf(t))
	}
	if c := d.StatusChange; c != nil && known(d.Lower) && known(d.Upper) {
		s.say("Of %s, %d pass by it, %d by the lower end of its interval and %d by the upper (here to pass is that %s).", reports.Count(c.N, "trainee"), c.Pass, c.PassLower, c.PassUpper, c.Definition)
	}
	return s
}

// whichStandard is the standard that was looked at.
func (p *Paper) whichStandard() string {
	if a := p.Standard.Answer; a != nil && (a.Origin == study.AsComputed || a.Origin == study.ByDefault) {
		return "As computed from the experts, the standard"
	}
	return "The standard"
}

// foundCurves says which curves described the trainees.
func (p *Paper) foundCurves() section {
	s := section{title: "Learning curves"}
	if p.Curves == nil {
		return s
	}
	families := map[string]int{}
	var names []string
	without := 0
	for _, c := range p.Curves.Curves {
		if c.Family == "" {
			without++
			continue
		}
		if families[c.Family] == 0 {
			names = append(names, c.Family)
		}
		families[c.Family]++
	}
	slices.SortStableFunc(names, func(a, b string) int { return families[b] - families[a] })
	var parts []string
	for _, n := range names {
		parts = append(parts, fmt.Sprintf("%s %d", n, families[n]))
	}
	if len(parts) > 0 {
		s.say("Curves described %s (%s).", reports.Count(len(p.Curves.Curves)-without, "trainee"), strings.Join(parts, ", "))
	}
	if without > 0 {
		s.say("%s had too few attempts for a curve, or none that could be fitted.", reports.Count(without, "trainee"))
	}
	flat, open := 0, 0
	for _, c := range p.Curves.Curves {
		for _, d := range c.Parameters {
			if d.Name == "plateau" {
				if known(d.Estimate) {
					flat++
				} else {
					open++
				}
			}
		}
	}
	if flat+open > 0 {
		s.say("A plateau could be told for %d of the %d trainees whose curve has one.", flat, flat+open)
	}
	return s
}

// foundProficiency says who met the rule, and when.
func (p *Paper) foundProficiency() section {
	s := section{title: "Attempts to proficiency"}
	d := p.Proficiency
	if d == nil {
		return s
	}
	if len(d.Survival) > 0 {
		met, of := 0, 0
		for _, a := range d.Survival {
			met, of = met+a.Met, of+a.N
		}
		s.say("As observed, %d of %s met the rule %q.", met, reports.Count(of, "trainee"), d.Rule)
	}
	for _, a := range d.Survival {
		who := "The median"
		if len(d.Survival) > 1 {
			who = fmt.Sprintf("In arm %s %d of %d did; the median", reports.ArmName(a.Arm), a.Met, a.N)
		}
		switch {
		case math.IsInf(float64(a.Median.Estimate), 1) || !known(a.Median.Estimate):
			s.say("%s was not reached.", who)
		default:
			s.say("%s was %s attempts%s.", who, attempts(a.Median.Estimate), interval(p.Study.Question.Level, a.Median.Lower, a.Median.Upper, attempts))
		}
	}
	if l := d.LogRank; l != nil && known(l.P) {
		s.say("Between arms: log-rank test, χ²(%d) = %s, %s.", l.DF, digits(l.ChiSquare), pValue(l.P))
	}
	s.crossings(d)
	return s
}

// crossings counts what the trainees' curves lead to.
func (s *section) crossings(d *reports.Proficiency) {
	for _, definition := range []string{proficiency.MeanCrossing, proficiency.PassChance} {
		status, n := map[string]int{}, 0
		for _, r := range d.OfTrainees() {
			if r.Definition == definition {
				status[r.Status]++
				n++
			}
		}
		var parts []string
		for _, k := range []struct{ status, words string }{
			{"reached", "reached by"}, {"projected", "projected within the horizon for"}, {"beyond-horizon", "beyond the horizon for"},
			{"moving-away", "moved away from by"}, {"too-early", "not to be said yet for"},
		} {
			if c := status[k.status]; c > 0 {
				parts = append(parts, fmt.Sprintf("%s %d", k.words, c))
				delete(status, k.status)
			}
		}
		for _, c := range status { // a status that has no words here
			parts = append(parts, fmt.Sprintf("of another kind for %d", c))
		}
		if n > 0 {
			s.say("By the definition “%s”, of %s, the standard was %s.", reports.Spoken(definition), reports.Count(n, "trainee"), list(parts))
		}
	}
}

// foundQuota gives the attempts for shares of trainees.
func (p *Paper) foundQuota() section {
	s := section{title: "Attempts to schedule"}
	q := p.Quota
	if q == nil {
		return s
	}
	for _, r := range q.Rows {
		if r.Arm != "" {
			continue
		}
		basis := "As observed"
		if r.Basis == proficiency.ByCohort {
			basis = "By the cohort's curve"
		}
		share := reports.Percent(r.Share)
		switch {
		case r.Status != reports.Estimated:
			s.say("%s, the attempts by which %s are proficient cannot be estimated.", basis, share)
		case math.IsInf(float64(r.Attempts), 1) || !known(r.Attempts):
			s.say("%s, %s were not reached.", basis, share)
		default:
			s.say("%s, %s were proficient by %s attempts%s.", basis, share, attempts(r.Attempts), interval(q.Level, r.Lower, r.Upper, attempts))
		}
	}
	return s
}

func (p *Paper) foundCohort() section {
	s := section{title: "All trainees together"}
	c := p.Cohort
	if c == nil {
		return s
	}
	var levels, differences []string
	for _, e := range c.Fixed {
		if !known(e.Estimate) {
			continue
		}
		value := digits(e.Estimate) + interval(c.Level, e.Lower, e.Upper, digits)
		switch who := effectOf(c, e); {
		case e.Held:
			levels = append(levels, fmt.Sprintf("%s %s, held there", e.Name, digits(e.Estimate)))
		case who == "":
			levels = append(levels, fmt.Sprintf("%s%s %s", onScale(e.Scale), e.Name, value))
		default:
			differences = append(differences, fmt.Sprintf("%s%s, %s, %s", onScale(e.Scale), e.Name, who, value))
		}
	}
	if len(levels) > 0 {
		of := "all trainees"
		if len(c.Arms) > 1 && len(differences) > 0 {
			of = "arm " + reports.ArmName(c.Arms[0])
		}
		s.say("The parameters of the %s curve of %s were: %s.", c.Family, of, strings.Join(levels, "; "))
	}
	if len(differences) > 0 {
		s.say("Differences from it were: %s.", strings.Join(differences, "; "))
	}
	if known(c.ResidualSD) {
		s.say("The residual standard deviation was %s.", digits(c.ResidualSD))
	}
	return s
}

// effectOf says what a fixed effect is the difference between; blank for a level.
func effectOf(c *reports.Cohort, e reports.CohortEffect) string {
	switch {
	case e.Covariate != "" && e.Level != "":
		return fmt.Sprintf("%s %s against its first level", e.Covariate, e.Level)
	case e.Covariate != "":
		return fmt.Sprintf("for each unit of %s", e.Covariate)
	case e.Arm != "" && len(c.Arms) > 1 && e.Arm != c.Arms[0]:
		return fmt.Sprintf("%s less %s", reports.ArmName(e.Arm), reports.ArmName(c.Arms[0]))
	}
	return ""
}

// onScale says that a parameter was fitted as its logarithm.
func onScale(scale string) string {
	if scale == "log" {
		return "logarithm of the "
	}
	return ""
}

func (p *Paper) foundComparison() section {
	s := section{title: "Comparison of arms"}
	c := p.Comparison
	if c == nil {
		return s
	}
	if o := c.Overall; o != nil && known(o.P) && len(o.Measures) > 0 {
		s.say("A test of any difference between the %d arms (%s) gave %s.", o.Arms, list(o.Measures), pValue(o.P))
	}
	for _, x := range c.Contrasts {
		if !known(x.Estimate) {
			continue
		}
		text := fmt.Sprintf("%s of %s, %s against %s: %s%s", reports.Capital(x.Kind), reports.SpokenCell("measure", x.Measure), reports.ArmName(x.Arm), reports.ArmName(x.Reference), digits(x.Estimate), interval(x.Level, x.Lower, x.Upper, digits))
		if known(x.P) {
			text += ", " + pValue(x.P)
		}
		if known(x.PAdjusted) {
			text += fmt.Sprintf(" (adjusted %s)", pValue(x.PAdjusted))
		}
		switch {
		case x.Caution == "":
		case !known(x.Lower) && !known(x.Upper):
			text += "; without an interval, since " + x.Caution
		default:
			text += "; not to be relied on as it stands: " + x.Caution
		}
		s.say("%s.", text)
	}
	return s
}

func (p *Paper) foundRetention() section {
	s := section{title: "Retention"}
	r := p.Retention
	if r == nil {
		return s
	}
	for _, g := range r.Gaps {
		if g.Arm != "" || !known(g.Loss) {
			continue
		}
		text := fmt.Sprintf("After breaks of %s (%s), the first attempt lost %s%s", reports.DaysText(g.GapDays), reports.Count(g.N, "trainee"), reports.LossText(r.Scale, g.Loss), interval(p.Study.Options.Level, g.Lower, g.Upper, func(v reports.Number) string { return reports.LossText(r.Scale, v) }))
		if known(g.Kept) {
			text += fmt.Sprintf(" and still showed %s of the gain", reports.Percent(float64(g.Kept)))
		}
		s.say("%s.", text)
	}
	if c := r.Nearest(); c != nil {
		share := func(v reports.Number) string { return reports.Percent(float64(v)) }
		text := fmt.Sprintf("Along one curve over the calendar, with %s forgetting, each attempt learnt %s of what was left%s", c.Shape, share(c.Learnt), interval(p.Study.Options.Level, c.LearntLower, c.LearntUpper, share))
		for _, k := range c.Kept {
			text += fmt.Sprintf("; after %s %s of what was mastered was kept%s", reports.DaysText(k.Days), share(k.Kept), interval(p.Study.Options.Level, k.Lower, k.Upper, share))
		}
		s.say("%s.", text)
	}
	return s
}

func (p *Paper) foundMonitor() section {
	s := section{title: "Monitoring"}
	m := p.Monitor
	if m == nil || len(m.Cohort) == 0 {
		return s
	}
	shown, flagged := 0, 0
	for _, c := range m.Cohort {
		if known(c.ShownAttempt) {
			shown++
		}
		if known(c.RelapseAttempt) {
			flagged++
		}
	}
	s.say("The learning chart showed adequate performance of %d of %s; after their pass, the relapse chart flagged %d.", shown, reports.Count(len(m.Cohort), "trainee"), flagged)
	return s
}

// foundAgreement gives the coefficients that most papers print.
func (p *Paper) foundAgreement() section {
	s := section{title: "Agreement of the raters"}
	if p.Agreement == nil {
		return s
	}
	for _, it := range p.Agreement.Items {
		var parts []string
		for _, c := range it.Coefficients {
			if slices.Contains([]string{"percent-agreement", "cohen-kappa", "fleiss-kappa", "gwet-ac1", "icc(a,1)", "icc(c,1)", "krippendorff-alpha"}, c.Name) && known(c.Estimate) {
				parts = append(parts, fmt.Sprintf("%s %s%s", reports.SpokenCell("coefficient", c.Name), digits(c.Estimate), interval(c.Level, c.Lower, c.Upper, digits)))
			}
		}
		if len(parts) > 0 {
			s.say("%s: %s.", reports.Capital(it.Item), strings.Join(parts, "; "))
		} else {
			s.say("For the item %s no coefficient could be computed.", it.Item)
		}
	}
	return s
}
