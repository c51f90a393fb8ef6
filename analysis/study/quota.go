package study

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"tyro/analysis/practice"
	"tyro/analysis/proficiency"
	"tyro/analysis/stopping"
	"tyro/analysis/survival"
)

// QuotaOptions are the choices of a quota; the zero value of a field means its default.
type QuotaOptions struct {
	Shares   []float64       // of trainees, beside those of [proficiency.QuotaShares]
	Target   float64         // share that the schedule is for; 0 means 0.9
	Attempts int             // scheduled; 0: what the target takes
	Trainees int             // to schedule for; 0: as many as were studied
	Fewer    int             // attempts fewer, to see what they change; 0 means 20
	Costs    *practice.Costs // nil: those of the task, where it states any
}

// The defaults of a schedule, and the statement made about nearly all trainees.
const (
	DefaultTarget = 0.9
	DefaultFewer  = 20
	toleranceFor  = 0.9
	toleranceWith = 0.95
)

// settled fills in the defaults, and refuses what cannot be.
func (o QuotaOptions) settled(studied int, stated *practice.Costs) (QuotaOptions, error) {
	if o.Target == 0 {
		o.Target = DefaultTarget
	}
	if o.Trainees == 0 {
		o.Trainees = studied
	}
	if o.Fewer == 0 {
		o.Fewer = DefaultFewer
	}
	if o.Costs == nil {
		o.Costs = stated
	}
	for _, v := range append([]float64{o.Target}, o.Shares...) {
		if !(v > 0 && v < 1) {
			return o, fmt.Errorf("a share of trainees of %v: expected a number between 0 and 1, such as 0.9", v)
		}
	}
	if o.Attempts < 0 || o.Trainees < 0 || o.Fewer < 0 {
		return o, fmt.Errorf("%d attempts, %d trainees, %d attempts fewer: expected whole numbers above 0", o.Attempts, o.Trainees, o.Fewer)
	}
	return o, nil
}

// A Quota is how many attempts to schedule so that a share of trainees has met the
// rule, and what they bring and cost: of all trainees, and of every arm.
type Quota struct {
	Standard   float64       // NaN for trainees of whom only the attempts until the rule was met are known
	Rule       practice.Rule // nil for these
	Level      float64       // of intervals
	Asked      QuotaOptions  // with the defaults in place
	Groups     []QuotaGroup  // all trainees first, where there are several arms
	Covariates []CovariateUse
	Apart      int // trainees who learn unlike the others, where the cohort's curve is of two groups; 0: it is of one
	Warnings   Warnings
}

// A QuotaGroup is all trainees (Arm blank, where there are several arms) or an arm's.
type QuotaGroup struct {
	Arm      string
	Seen     []survival.Observation // everybody with an attempt that counts
	Met      int                    // of them, those who met the rule
	LastSeen float64                // the last attempt seen of anybody
	Bases    []QuotaBasis           // as observed and, where the cohort could be fitted, by its curve

	// Differs says that the number scheduled rests on what was observed, and that by then the cohort's curve expects a
	// share outside of its interval: CurveShare. Far says that it rests on the curve far beyond what was observed.
	Differs, Far bool
	CurveShare   float64
}

// A QuotaBasis is what one kind of evidence says of a group.
type QuotaBasis struct {
	proficiency.Progress
	Quotas    []ShareQuota // by rising share
	Statement proficiency.Tolerance
	Surest    proficiency.Tolerance // the largest share that can be stated with that confidence, for any attempt
	Schedule  *Schedule             // nil where no number of attempts can be said to be enough
}

// A ShareQuota is the attempts for one share. The log-log limits are those of Brookmeyer
// and Crowley, which medians of survival curves have; NaN by the cohort's curve.
type ShareQuota struct {
	proficiency.Quota
	LogLogLower, LogLogUpper float64
}

// A Schedule is a number of attempts for a number of trainees, with what they bring and
// cost on one basis.
type Schedule struct {
	proficiency.Outlay
	Target float64                // share that the attempts were chosen for; 0 where they were given
	Leads  bool                   // the attempts were chosen on this basis, which the answer in words is about
	Fewer  *proficiency.Reduction // nil where no attempt would be left
	By     SeenBy
}

// SeenBy counts the trainees of a group by what was seen of them by an attempt: they met
// the rule, or were last seen before it without, or were seen at it without.
type SeenBy struct{ Met, Stopped, Without int }

// by counts what was seen by attempt n.
func (g QuotaGroup) by(n float64) SeenBy {
	var c SeenBy
	for _, o := range g.Seen {
		switch {
		case o.Event && o.Time <= n:
			c.Met++
		case o.Time < n:
			c.Stopped++
		default:
			c.Without++
		}
	}
	return c
}

// Practising counts the trainees seen at attempt n or beyond who have not met the rule
// before it.
func (g QuotaGroup) Practising(n float64) int {
	k := 0
	for _, o := range g.Seen {
		if o.Time >= n {
			k++
		}
	}
	return k
}

// Observed is what was observed of the group.
func (g QuotaGroup) Observed() QuotaBasis { return g.Bases[0] }

// Curve is what the cohort's curve expects of new trainees of the group, if there is
// one.
func (g QuotaGroup) Curve() (QuotaBasis, bool) {
	if len(g.Bases) < 2 {
		return QuotaBasis{}, false
	}
	return g.Bases[1], true
}

// Quota answers how many attempts to schedule, as observed and by the cohort's curve. A
// cohort that cannot be fitted is said in a warning, and takes nothing from the rest.
func (s *Study) Quota(ctx context.Context, o QuotaOptions) (*Quota, error) {
	groups, out, err := s.quotaGroups()
	if err != nil {
		return nil, err
	}
	if out.Asked, err = o.settled(len(groups[0].Seen), s.Task.Costs); err != nil {
		return nil, err
	}
	out.missingPrices()
	for _, g := range groups {
		p, err := proficiency.FromObservations(ctx, g.Seen, out.Level, s.shown(), "arm "+g.Arm)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", GroupName(g.Arm), err)
		}
		for _, ob := range g.Seen {
			g.LastSeen = math.Max(g.LastSeen, ob.Time)
		}
		g.Met, g.Bases = p.Met, []QuotaBasis{{Progress: p}}
		out.Groups = append(out.Groups, g)
	}
	if s.Until == nil {
		if err := s.quotaByCohort(ctx, out); err != nil {
			return nil, err
		}
	}
	out.answer()
	return out, nil
}

// quotaGroups lists who is asked about: all trainees and every arm.
func (s *Study) quotaGroups() ([]QuotaGroup, *Quota, error) {
	out := &Quota{Standard: math.NaN(), Level: s.Options.Level}
	arms := s.Arms
	obs := map[string][]survival.Observation{}
	var all []survival.Observation
	add := func(arm string, o survival.Observation) {
		all, obs[arm] = append(all, o), append(obs[arm], o)
	}
	switch {
	case s.Until != nil:
		arms = nil
		for _, u := range s.Until {
			if !slices.Contains(arms, u.Arm) {
				arms = append(arms, u.Arm)
			}
			add(u.Arm, survival.Observation{Time: u.Attempt, Event: u.Met})
		}
	case len(s.Trainees) == 0:
		return nil, nil, errors.New("a quota needs trainees: there are none")
	case !s.Question.Standard.Set():
		return nil, nil, s.needStandard("a quota needs")
	case s.Question.Rule == nil:
		return nil, nil, errors.New(`a quota needs a rule that says when a trainee is proficient: give --rule, such as "2 in a row", or set it in the study file`)
	default:
		out.Standard, out.Rule = s.Question.Standard.Value, s.Question.Rule
		for i, o := range s.Observed(stopping.Rule{Rule: s.Question.Rule}) {
			if !math.IsNaN(o.Attempt) {
				add(s.Trainees[i].Arm, survival.Observation{Time: o.Attempt, Event: o.Met})
			}
		}
		if left := len(s.Trainees) - len(all); left > 0 {
			out.Warnings.Add("no-counted-attempts", fmt.Sprintf("%d of %d trainees have no attempt that counts and are left out", left, len(s.Trainees)))
		}
	}
	var groups []QuotaGroup
	for _, arm := range arms {
		if len(obs[arm]) > 0 {
			groups = append(groups, QuotaGroup{Arm: arm, Seen: obs[arm]})
		}
	}
	switch len(groups) {
	case 0:
		return nil, nil, errors.New("a quota needs trainees: none has an attempt that counts")
	case 1:
		return groups, out, nil
	}
	return append([]QuotaGroup{{Seen: all}}, groups...), out, nil
}

// missingPrices says of whose time no price is stated.
func (q *Quota) missingPrices() {
	c := q.Asked.Costs
	if c == nil {
		return
	}
	for _, h := range []struct {
		what           string
		minutes, price float64
	}{{"lab time", c.LabMinutes, c.LabHourPrice}, {"an examiner's time", c.ExaminerMinutes, c.ExaminerHourPrice}} {
		if h.minutes > 0 && h.price == 0 {
			q.Warnings.Add("no-price", fmt.Sprintf("an hour of %s has no price, so costs leave it out", h.what))
		}
	}
}

// quotaByCohort adds what the cohort's curve expects of new trainees.
func (s *Study) quotaByCohort(ctx context.Context, out *Quota) error {
	parts, c, err := s.cohortProgress(ctx)
	if ctx.Err() != nil {
		return ctx.Err()
	}
	if err != nil {
		out.Warnings.Add("no-cohort-curve", "there are no numbers by the cohort's curve: "+err.Error())
		return nil
	}
	out.Covariates, out.Apart = c.Covariates, c.Apart()
	out.Warnings.With(c.Warnings)
	var mixed []proficiency.Progress
	var weights []float64
	for k := range out.Groups {
		g := &out.Groups[k]
		p, known := parts[g.Arm]
		switch {
		case known:
			g.Bases = append(g.Bases, QuotaBasis{Progress: p})
			mixed, weights = append(mixed, p), append(weights, float64(len(g.Seen)))
		case k > 0 || len(out.Groups) == 1:
			out.Warnings.Add("arm-without-curve", fmt.Sprintf("%s has no attempt that a curve can use, so there are no numbers for it by the cohort's curve, and those of all trainees leave it out", GroupName(g.Arm)))
		}
	}
	if all := &out.Groups[0]; len(all.Bases) == 1 && len(mixed) > 0 {
		all.Bases = append(all.Bases, QuotaBasis{Progress: proficiency.Together(mixed, weights)})
	}
	return nil
}

// cohortProgress is the share of new trainees of every arm who have met the rule by each
// attempt, as the cohort's curve expects it.
func (s *Study) cohortProgress(ctx context.Context) (map[string]proficiency.Progress, *CohortFit, error) {
	if len(s.Specs) == 0 {
		return nil, nil, errors.New("no curves are fitted")
	}
	c, err := s.Cohort(ctx)
	if err != nil {
		return nil, nil, err
	}
	parts := map[string]proficiency.Progress{}
	for _, arm := range c.Arms {
		if parts[arm], err = s.expectedProgress(ctx, c, arm); err != nil {
			return nil, nil, err
		}
	}
	return parts, c, nil
}

func (s *Study) expectedProgress(ctx context.Context, c *CohortFit, arm string) (proficiency.Progress, error) {
	return proficiency.FromCohort(ctx, c.coming, c.NTrainees, arm, s.Question, s.Trainees, s.Sampling())
}

// answer fills in the quotas, statements and schedules.
func (q *Quota) answer() {
	shares := slices.Concat(proficiency.QuotaShares(), q.Asked.Shares)
	slices.Sort(shares)
	shares = slices.Compact(shares)
	for k := range q.Groups {
		g := &q.Groups[k]
		for j := range g.Bases {
			b := &g.Bases[j]
			for _, s := range shares {
				b.Quotas = append(b.Quotas, g.shareQuota(b.Progress, s))
			}
			b.Statement = b.Tolerance(toleranceFor, toleranceWith)
			b.Surest = b.surest(toleranceWith)
		}
		q.remark(*g)
		q.schedule(g)
	}
}

// surest is the largest share that can be stated for any attempt, with the first attempt
// for which it can; a claimed share of 0 and no attempt where nothing can be.
func (b QuotaBasis) surest(confidence float64) proficiency.Tolerance {
	const nearlyAll = 1 - 1e-9
	t := b.Tolerance(nearlyAll, confidence)
	if math.IsInf(t.Attempts, 1) && t.Claimed > 0 {
		t = b.Tolerance(t.Claimed, confidence)
	}
	return t
}

func (g QuotaGroup) shareQuota(p proficiency.Progress, share float64) ShareQuota {
	out := ShareQuota{p.Quota(share), math.NaN(), math.NaN()}
	if p.Basis == proficiency.ByObservation {
		at := survival.KaplanMeier(g.Seen, survival.LogLog, p.Level).Quantile(share)
		out.LogLogLower, out.LogLogUpper = at.Lower, at.Upper
	}
	return out
}

// remark warns where a share cannot be estimated, where some never met the rule although
// the estimate reaches everybody, and where the two bases do not agree.
func (q *Quota) remark(g QuotaGroup) {
	for _, b := range g.Bases {
		if b.Quotas[0].Largest < b.Quotas[len(b.Quotas)-1].Share {
			q.Warnings.Add("share-cannot-be-estimated", fmt.Sprintf("%s, %s: the largest share that can be estimated is %s, by attempt %d, the last one %s; there is no number of attempts for a larger share",
				GroupName(g.Arm), BasisName(b.Basis), PercentText(b.Quotas[0].Largest), len(b.Share), map[bool]string{true: "seen", false: "looked ahead to"}[b.Basis == proficiency.ByObservation]))
		}
		if b.AllButSome() {
			q.Warnings.Add("not-all-met", fmt.Sprintf("%s: %s; everybody who was still followed at attempt %d had met it by then, so the estimate reaches 100 %% there, and what share never meets the rule is not known",
				GroupName(g.Arm), NotMetText(b.N-b.Met, b.N), len(b.Share)))
		}
	}
	next, ok := g.Curve()
	if !ok {
		return
	}
	for k, seen := range g.Observed().Quotas {
		if at := next.Quotas[k].Attempts; !math.IsInf(seen.Attempts, 1) && (at < seen.Lower || at > seen.Upper) {
			text := fmt.Sprintf("%.0f attempts", at)
			if math.IsInf(at, 1) {
				text = fmt.Sprintf("more than %d attempts", len(next.Share))
			}
			q.Warnings.Add("bases-differ", fmt.Sprintf("%s: for a share of %s the cohort's curve says %s, outside the interval of what was observed; %s", GroupName(g.Arm), PercentText(seen.Share), text, whichToTrust(g.Observed().Met, g.Observed().N)))
		}
	}
}

// whichToTrust says what to make of two numbers that differ, where of n trainees so many met the rule: what was observed
// counts those who stopped early as if they were like the others, which is wrong where the slow ones stop.
func whichToTrust(met, n int) string {
	if stopped := n - met; 10*stopped >= n {
		return fmt.Sprintf("%d of %d stopped without having met the rule: where these were slower than others, what was observed is too good; look at who stopped, and at the curves", stopped, n)
	}
	return "trust the observed number and look at the curves"
}

// hold warns where the number scheduled rests on what was observed and the cohort's curve expects another share by
// then, and where it rests on the curve far beyond what was observed.
func (q *Quota) hold(g *QuotaGroup, n, leads int) {
	o := g.Observed()
	next, ok := g.Curve()
	if leads == 0 && ok && n >= 1 && n <= len(o.Lower) {
		if share := next.At(n); share < o.Lower[n-1] || share > o.Upper[n-1] {
			g.Differs, g.CurveShare = true, share
			q.Warnings.Add("shares-differ", fmt.Sprintf("%s: by attempt %d, the number scheduled, %s had met the rule as observed (%s to %s), and by the cohort's curve it is %s of new trainees; %s",
				GroupName(g.Arm), n, PercentText(o.At(n)), PercentText(o.Lower[n-1]), PercentText(o.Upper[n-1]), PercentText(share), whichToTrust(o.Met, o.N)))
		}
	}
	if most := len(o.Share); leads == 1 && most > 0 && n > 2*most {
		g.Far = true
		q.Warnings.Add("far-beyond-seen", fmt.Sprintf("%s: %d attempts are scheduled, and what was observed ends with attempt %d: beyond it the number rests on the shape of the curve alone, and its interval takes that shape for known", GroupName(g.Arm), n, most))
	}
}

// schedule takes the attempts that the target takes as observed, or by the cohort's
// curve where that cannot be estimated, or those given.
func (q *Quota) schedule(g *QuotaGroup) {
	o, leads := q.Asked, 0
	attempts := float64(o.Attempts)
	if o.Attempts == 0 {
		attempts = g.Bases[0].Quota(o.Target).Attempts
		if math.IsInf(attempts, 1) && len(g.Bases) > 1 {
			attempts, leads = g.Bases[1].Quota(o.Target).Attempts, 1
		}
		if math.IsInf(attempts, 1) || math.IsNaN(attempts) {
			q.Warnings.Add("no-schedule", fmt.Sprintf("%s: no number of attempts can be said to be enough for %s, so nothing is scheduled; give --attempts to see what a number brings", GroupName(g.Arm), PercentText(o.Target)))
			return
		}
	} else if len(g.Bases) > 1 && math.IsNaN(g.Bases[0].At(o.Attempts)) {
		leads = 1
	}
	var costs practice.Costs
	if o.Costs != nil {
		costs = *o.Costs
	}
	n := int(attempts)
	for j := range g.Bases {
		b := &g.Bases[j]
		b.Schedule = &Schedule{Outlay: b.Outlay(costs, n, o.Trainees), Leads: j == leads, By: g.by(attempts)}
		if o.Attempts == 0 {
			b.Schedule.Target = o.Target
		}
		if o.Fewer < n {
			r := b.Reduce(costs, n, o.Fewer, o.Trainees)
			b.Schedule.Fewer = &r
		}
	}
	q.hold(g, n, leads)
	if o.Fewer >= n {
		q.Warnings.Add("none-left", fmt.Sprintf("%s: %d attempts are scheduled, so %d fewer leave none, and nothing is said of fewer", GroupName(g.Arm), n, o.Fewer))
	}
}

// ObservedQuota is the attempts by which a share of an arm's trainees have met the rule, as
// observed: the number of [Study.Quota], without the rest of its answer.
func (s *Study) ObservedQuota(ctx context.Context, arm string, share float64) (proficiency.Quota, error) {
	groups, out, err := s.quotaGroups()
	if err != nil {
		return proficiency.Quota{}, err
	}
	for k, g := range groups {
		if g.Arm != arm || k == 0 && len(groups) > 1 {
			continue
		}
		one := s.Sampling()
		one.Replicates = 1 // a quota as observed rests on no replicate
		p, err := proficiency.FromObservations(ctx, g.Seen, out.Level, one, "arm "+arm)
		if err != nil {
			return proficiency.Quota{}, err
		}
		return p.Quota(share), nil
	}
	return proficiency.Quota{}, fmt.Errorf("%s has no trainee with an attempt that counts", GroupName(arm))
}

// CurveQuota is the attempts by which a share of new trainees of an arm have met the rule, by
// the cohort's curve: the number of [Study.Quota], without the rest of its answer. Trainees
// that cannot be fitted together are an error that wraps [ErrNoCohort].
func (s *Study) CurveQuota(ctx context.Context, arm string, share float64) (proficiency.Quota, error) {
	if _, _, err := s.quotaGroups(); err != nil { // without a standard, a rule or attempts
		return proficiency.Quota{}, err
	}
	c, err := s.Cohort(ctx)
	if err != nil {
		return proficiency.Quota{}, fmt.Errorf("%w: %w", ErrNoCohort, err)
	}
	if !slices.Contains(c.Arms, arm) {
		return proficiency.Quota{}, fmt.Errorf("%s has no attempt that a curve can use", GroupName(arm))
	}
	p, err := s.expectedProgress(ctx, c, arm)
	if err != nil {
		return proficiency.Quota{}, err
	}
	return p.Quota(share), nil
}
