package reports

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"tyro/analysis/cohort"
	"tyro/analysis/practice"
	"tyro/analysis/proficiency"
	"tyro/analysis/stopping"
	"tyro/analysis/survival"
	"tyro/datasets"
)

// ScheduleOptions are the choices of the command quota for a study; the zero value
// of a field means its default.
type ScheduleOptions struct {
	Shares   []float64       // of trainees, beside 50, 80 and 90 %
	Target   float64         // share that the schedule is for; 0 means 0.9
	Attempts int             // scheduled; 0: what the target takes
	Trainees int             // to schedule for; 0: as many as were studied
	Fewer    int             // attempts fewer, to see what they change; 0 means 20
	Costs    *practice.Costs // nil: nothing is said about money
}

// The defaults of a schedule, and the confidence of the statement about nearly all
// trainees.
const (
	DefaultTarget = 0.9
	DefaultFewer  = 20
	toleranceFor  = 0.9
	toleranceWith = 0.95
)

func (o ScheduleOptions) orDefaults(studied int) ScheduleOptions {
	if o.Target == 0 {
		o.Target = DefaultTarget
	}
	if o.Trainees == 0 {
		o.Trainees = studied
	}
	if o.Fewer == 0 {
		o.Fewer = DefaultFewer
	}
	return o
}

// Schedule is the answer of the command quota for a study, or for a table of
// observed attempts: how many attempts to schedule, and what they bring and cost.
type Schedule struct {
	Header
	Standard   Number          `json:"standard"` // null for a table of observed attempts
	Rule       string          `json:"rule"`     // blank for a table of observed attempts
	Definition string          `json:"definition"`
	Level      float64         `json:"level"`
	Groups     []ScheduleGroup `json:"groups"`
	Rows       []ShareRow      `json:"rows"`
	Statements []Statement     `json:"statements"`
	Plans      []Plan          `json:"plans"`
	Costs      *CostsStated    `json:"costs"` // null where none are stated
	Progress   []ProgressPoint `json:"progress"`
	Caution    string          `json:"caution"`

	options ScheduleOptions
	Parts   []scheduled `json:"-"`
}

// A ScheduleGroup is all trainees (arm blank), or an arm's.
type ScheduleGroup struct {
	Arm      string `json:"arm"`
	N        int    `json:"n"`
	Met      int    `json:"met"`
	LastSeen Number `json:"last_seen"`
}

// A ShareRow is the attempts by which a share has met the rule, on one basis.
// Largest is the largest share for which that can be estimated. The log-log limits
// are those of Brookmeyer and Crowley, as in the command proficiency.
type ShareRow struct {
	Arm   string `json:"arm"`
	Basis string `json:"basis"`
	QuotaRow
	Largest     Number `json:"largest_share"`
	LogLogLower Number `json:"log_log_lower"`
	LogLogUpper Number `json:"log_log_upper"`
}

// A Statement is that, with the confidence given, at least the share of such
// trainees have met the rule by the attempts; where no number of attempts supports
// it, claimed is the largest share that can be stated.
type Statement struct {
	Arm            string  `json:"arm"`
	Basis          string  `json:"basis"`
	Share          float64 `json:"share"`
	Confidence     float64 `json:"confidence"`
	Attempts       Number  `json:"attempts"`
	Status         string  `json:"status"`
	Claimed        Number  `json:"claimed_share"`
	TraineesNeeded int     `json:"trainees_needed"` // 0 by the cohort's curve
}

// A CostsStated repeats the costs as they were given.
type CostsStated struct {
	Unit              string `json:"unit"`
	LabMinutes        Number `json:"lab_minutes"`
	ExaminerMinutes   Number `json:"examiner_minutes"`
	Consumables       Number `json:"consumables"`
	LabHourPrice      Number `json:"lab_hour_price"`
	ExaminerHourPrice Number `json:"examiner_hour_price"`
	PerTrainee        Number `json:"per_trainee"`
	PerAttempt        Number `json:"per_attempt"`
}

// A Plan is a schedule of some attempts for some trainees, on one basis.
type Plan struct {
	Arm         string  `json:"arm"`
	Basis       string  `json:"basis"`
	Attempts    int     `json:"attempts"`
	Trainees    int     `json:"trainees"`
	Met         Limits  `json:"met"`           // share who have met the rule by then
	Used        Limits  `json:"attempts_used"` // mean, a trainee, when practice stops at the rule
	Stopping    Spent   `json:"stopping_at_the_rule"`
	Everybody   Spent   `json:"everybody_makes_all"`
	MoreForHalf Number  `json:"more_for_half"` // attempts more until half of those not there are
	NeverMet    Number  `json:"not_met_at_the_end"`
	End         int     `json:"end"` // last attempt known on this basis
	Fewer       *Fewer  `json:"fewer"`
	Target      float64 `json:"target"` // share that the attempts were chosen for; 0 where they were given

	main bool // the basis that the attempts were chosen by
}

// Spent is what all trainees use together; cost_per_proficient has the cost of all
// of them in the numerator.
type Spent struct {
	LabHours      Limits `json:"lab_hours"`
	ExaminerHours Limits `json:"examiner_hours"`
	Consumables   Limits `json:"consumables"`
	Cost          Limits `json:"cost"`
	PerMet        Limits `json:"cost_per_proficient"`
}

// Fewer is what fewer attempts change.
type Fewer struct {
	Fewer             int    `json:"fewer"`
	Attempts          int    `json:"attempts"`
	FewerMet          Limits `json:"fewer_proficient"` // trainees
	NotMet            Limits `json:"not_proficient"`   // share
	Saved             Limits `json:"saved_stopping_at_the_rule"`
	SavedByEverybody  Number `json:"saved_everybody_makes_all"`
	HoursSaved        Limits `json:"lab_hours_saved_stopping_at_the_rule"`
	HoursSavedByDoing Number `json:"lab_hours_saved_everybody_makes_all"`
}

// A ProgressPoint is the share that has met the rule by an attempt. Practising
// counts the trainees seen beyond it who are not there.
type ProgressPoint struct {
	Arm        string `json:"arm"`
	Basis      string `json:"basis"`
	Attempt    int    `json:"attempt"`
	Share      Number `json:"share"`
	Lower      Number `json:"lower"`
	Upper      Number `json:"upper"`
	Practising Number `json:"practising"` // null by the cohort's curve
}

// A scheduled group with its progress as seen and, where the cohort could be
// fitted, as its curve expects it.
type scheduled struct {
	Arm  string
	obs  []survival.Observation
	Seen proficiency.Progress
	Next *proficiency.Progress
}

// bases lists what is known of the group.
func (g scheduled) bases() []proficiency.Progress {
	if g.Next == nil {
		return []proficiency.Progress{g.Seen}
	}
	return []proficiency.Progress{g.Seen, *g.Next}
}

// StudySchedule answers for a study; the cohort's curve is done without where there
// are few trainees.
func StudySchedule(ctx context.Context, in *Input, o ScheduleOptions, _ *Cohort) (*Schedule, error) {
	switch {
	case math.IsNaN(in.Question.Standard.Value):
		return nil, errors.New("a quota needs a standard: give --standard, or set it in the study file")
	case in.Rule == nil:
		return nil, errors.New(`a quota needs a rule that says when a trainee is proficient: give --rule, such as "2 in a row", or set it in the study file`)
	}
	observed := in.Observe(stopping.Rule{Rule: in.Rule})
	var groups []scheduled
	arms := in.Arms
	if len(arms) > 1 {
		groups = append(groups, scheduled{obs: proficiency.Survival(observed)})
	}
	for _, arm := range arms {
		groups = append(groups, scheduled{Arm: arm, obs: in.observations(arm, observed)})
	}
	d, err := newSchedule(ctx, in, o, groups)
	if err != nil {
		return nil, err
	}
	d.Standard, d.Rule = Number(in.Question.Standard.Value), in.Rule.String()
	if err := d.byCohort(ctx, in); err != nil {
		return nil, err
	}
	d.answer()
	return d, nil
}

// UntilSchedule answers for a table with one row a trainee.
func UntilSchedule(ctx context.Context, in *Input, rows []Until, o ScheduleOptions) (*Schedule, error) {
	if len(rows) == 0 {
		return nil, errors.New("the table has no trainees")
	}
	all := scheduled{}
	var arms []scheduled
	for _, r := range rows {
		k := slices.IndexFunc(arms, func(g scheduled) bool { return g.Arm == r.Arm })
		if k < 0 {
			k = len(arms)
			arms = append(arms, scheduled{Arm: r.Arm})
		}
		seen := survival.Observation{Time: r.Attempt, Event: r.Met}
		arms[k].obs, all.obs = append(arms[k].obs, seen), append(all.obs, seen)
	}
	groups := arms
	if len(arms) > 1 {
		groups = append([]scheduled{all}, arms...)
	}
	d, err := newSchedule(ctx, in, o, groups)
	if err != nil {
		return nil, err
	}
	d.Standard = Number(math.NaN())
	d.answer()
	return d, nil
}

// newSchedule works out what was seen in each group.
func newSchedule(ctx context.Context, in *Input, o ScheduleOptions, groups []scheduled) (*Schedule, error) {
	d := &Schedule{
		Header: newHeader("quota", in), Definition: proficiency.RuleMet, Level: in.Options.Level, Groups: []ScheduleGroup{}, Rows: []ShareRow{},
		Statements: []Statement{}, Plans: []Plan{}, Progress: []ProgressPoint{}, Caution: Caution, Parts: groups,
	}
	d.options = o.orDefaults(len(groups[0].obs))
	if c := o.Costs; c != nil {
		if err := datasets.CheckCosts(*c); err != nil {
			return nil, err
		}
		d.state(*c)
	}
	plan := in.Plan()
	plan.Progress = in.Options.Progress
	for k := range d.Parts {
		g := &d.Parts[k]
		var err error
		if g.Seen, err = proficiency.FromObservations(ctx, g.obs, d.Level, plan, "arm "+g.Arm); err != nil {
			return nil, fmt.Errorf("%s: %w", GroupName(g.Arm), err)
		}
		s := ScheduleGroup{Arm: g.Arm, N: len(g.obs)}
		for _, ob := range g.obs {
			if s.LastSeen = max(s.LastSeen, Number(ob.Time)); ob.Event {
				s.Met++
			}
		}
		d.Groups = append(d.Groups, s)
	}
	return d, nil
}

// state repeats the costs, and says what has no price.
func (d *Schedule) state(c practice.Costs) {
	if c.Unit == "" {
		c.Unit = "units"
	}
	d.Costs = &CostsStated{
		c.Unit, Number(c.LabMinutes), Number(c.ExaminerMinutes), Number(c.Consumables), Number(c.LabHourPrice),
		Number(c.ExaminerHourPrice), Number(c.PerTrainee), Number(costsOf(&c).PerAttempt()),
	}
	for _, h := range []struct {
		what           string
		minutes, price float64
	}{{"lab time", c.LabMinutes, c.LabHourPrice}, {"an examiner's time", c.ExaminerMinutes, c.ExaminerHourPrice}} {
		if h.minutes > 0 && h.price == 0 {
			d.Warn("no-price", fmt.Sprintf("an hour of %s has no price, so costs leave it out", h.what))
		}
	}
}

// costsOf are the costs as the analysis takes them; none where none are stated.
func costsOf(c *practice.Costs) practice.Costs {
	if c == nil {
		return practice.Costs{}
	}
	return *c
}

// byCohort adds what the cohort's curve expects of new trainees; a cohort that
// cannot be fitted is said, and takes nothing from the rest.
func (d *Schedule) byCohort(ctx context.Context, in *Input) error {
	c, err := in.cohortFor(ctx)
	parts := map[string]proficiency.Progress{}
	for k := 0; err == nil && k < len(c.Arms); k++ {
		parts[c.Arms[k]], err = proficiency.FromCohort(ctx, c, in.Noise(), c.Arms[k], in.Question, in.Study.Trainees, in.Plan())
	}
	if ctx.Err() != nil {
		return ctx.Err()
	}
	if err != nil {
		d.Warn("no-cohort-curve", "there are no numbers by the cohort's curve: "+err.Error())
		return nil
	}
	for k := range d.Parts {
		g := &d.Parts[k]
		if p, ok := parts[g.Arm]; ok {
			g.Next = &p
		}
	}
	if len(d.Parts) > 1 {
		var mixed []proficiency.Progress
		var weights []float64
		for _, g := range d.Parts[1:] {
			if g.Next != nil {
				mixed, weights = append(mixed, *g.Next), append(weights, float64(len(g.obs)))
			}
		}
		all := proficiency.Together(mixed, weights)
		d.Parts[0].Next = &all
	}
	return nil
}

// cohortFor is the curve of all trainees together.
func (in *Input) cohortFor(ctx context.Context) (*cohort.Cohort, error) {
	c, err := in.Study.Cohort(ctx)
	if err != nil {
		return nil, err
	}
	return c.Cohort, nil
}

// answer fills the rows, statements and plans.
func (d *Schedule) answer() {
	shares := slices.Concat(QuotaShares(), d.options.Shares)
	slices.Sort(shares)
	shares = slices.Compact(shares)
	for _, g := range d.Parts {
		for _, p := range g.bases() {
			for _, s := range shares {
				d.Rows = append(d.Rows, g.shareRow(p, p.Quota(s)))
			}
			d.Statements = append(d.Statements, g.statement(p))
			d.Progress = append(d.Progress, g.points(p)...)
		}
		d.Remark(g, shares)
		d.plan(g)
	}
}

func (g scheduled) shareRow(p proficiency.Progress, q proficiency.Quota) ShareRow {
	r := ShareRow{Arm: g.Arm, Basis: p.Basis, QuotaRow: QuotaRow{q.Share, Number(q.Attempts), Number(q.Lower), Number(q.Upper), Estimated}, Largest: Number(q.Largest)}
	if math.IsInf(q.Attempts, 1) {
		r.Status = CannotBeEstimated
	}
	r.LogLogLower, r.LogLogUpper = Number(math.NaN()), Number(math.NaN())
	if p.Basis == proficiency.ByObservation {
		at := survival.KaplanMeier(g.obs, survival.LogLog, p.Level).Quantile(q.Share)
		r.LogLogLower, r.LogLogUpper = Number(at.Lower), Number(at.Upper)
	}
	return r
}

func (g scheduled) statement(p proficiency.Progress) Statement {
	t := p.Tolerance(toleranceFor, toleranceWith)
	s := Statement{g.Arm, p.Basis, t.Share, t.Confidence, Number(t.Attempts), Estimated, Number(t.Claimed), t.Needed}
	if math.IsInf(t.Attempts, 1) {
		s.Status = CannotBeEstimated
	}
	return s
}

func (g scheduled) points(p proficiency.Progress) []ProgressPoint {
	var out []ProgressPoint
	for k, share := range p.Share {
		pt := ProgressPoint{g.Arm, p.Basis, k + 1, Number(share), Number(p.Lower[k]), Number(p.Upper[k]), Number(math.NaN())}
		if p.Basis == proficiency.ByObservation {
			pt.Practising = Number(g.Practising(float64(k + 1)))
		}
		out = append(out, pt)
	}
	return out
}

// practising counts the trainees seen beyond attempt n, or up to it at the end,
// who have not met the rule before it.
func (g scheduled) Practising(n float64) int {
	k := 0
	for _, o := range g.obs {
		if o.Time >= n {
			k++
		}
	}
	return k
}

// remark warns where a share cannot be estimated, and where the two bases do not
// agree.
func (d *Schedule) Remark(g scheduled, shares []float64) {
	for _, p := range g.bases() {
		if largest := p.Quota(0.5).Largest; largest < shares[len(shares)-1] {
			d.Warn("share-cannot-be-estimated", fmt.Sprintf("%s, %s: the largest share with a quota is %s, for that many have met the rule by attempt %d, the last one %s; for a larger share it cannot be estimated",
				GroupName(g.Arm), basisName(p.Basis), percentTenths(largest), len(p.Share), map[bool]string{true: "seen", false: "looked ahead to"}[p.Basis == proficiency.ByObservation]))
		}
	}
	if g.Next == nil {
		return
	}
	for _, s := range shares {
		seen, next := g.Seen.Quota(s), g.Next.Quota(s)
		if !math.IsInf(seen.Attempts, 1) && (next.Attempts < seen.Lower || next.Attempts > seen.Upper) {
			d.Warn("bases-differ", fmt.Sprintf("%s: for a share of %s the cohort's curve says %s attempts, outside the interval of what was observed; trust the observed number and look at the curves", GroupName(g.Arm), percentTenths(s), attemptsText(next.Attempts, float64(len(g.Next.Share)))))
		}
	}
}

// plan schedules what the target takes as observed, or by the cohort's curve where
// that cannot be estimated, or the attempts given.
func (d *Schedule) plan(g scheduled) {
	o, chosen := d.options, g.Seen.Basis
	attempts := float64(o.Attempts)
	if o.Attempts == 0 {
		attempts = g.Seen.Quota(o.Target).Attempts
		if math.IsInf(attempts, 1) && g.Next != nil {
			attempts, chosen = g.Next.Quota(o.Target).Attempts, g.Next.Basis
		}
		if math.IsInf(attempts, 1) {
			d.Warn("no-plan", fmt.Sprintf("%s: no number of attempts can be said to be enough for %s, so nothing is scheduled; give --attempts to see what a number brings", GroupName(g.Arm), percentTenths(o.Target)))
			return
		}
	} else if g.Next != nil && math.IsNaN(g.Seen.At(o.Attempts)) {
		chosen = g.Next.Basis
	}
	for _, p := range g.bases() {
		plan := d.planOn(g, p, int(attempts))
		plan.main = p.Basis == chosen
		d.Plans = append(d.Plans, plan)
	}
	if o.Fewer >= int(attempts) {
		d.Warn("none-left", fmt.Sprintf("%s: %d attempts are scheduled, so %d fewer leave none, and nothing is said of fewer", GroupName(g.Arm), int(attempts), o.Fewer))
	}
}

func (d *Schedule) planOn(g scheduled, p proficiency.Progress, attempts int) Plan {
	o, costs := d.options, costsOf(d.options.Costs)
	out := p.Outlay(costs, attempts, o.Trainees)
	plan := Plan{
		Arm: g.Arm, Basis: p.Basis, Attempts: attempts, Trainees: o.Trainees, Met: limitsOf(out.Met), Used: limitsOf(out.Used),
		Stopping: d.spentOf(out.Stopping), Everybody: d.spentOf(out.Everybody), MoreForHalf: Number(out.MoreForHalf), NeverMet: Number(out.NeverMet), End: len(p.Share),
	}
	if o.Attempts == 0 {
		plan.Target = o.Target
	}
	if o.Fewer < attempts {
		r := p.Reduce(costs, attempts, o.Fewer, o.Trainees)
		plan.Fewer = &Fewer{
			r.Fewer, r.Attempts, limitsOf(r.FewerMet), limitsOf(r.NotMet), d.ifStated(r.Saved), d.ifStated(proficiency.Estimate{Value: r.SavedByEverybody}).Estimate,
			d.ifStated(r.HoursSaved), d.ifStated(proficiency.Estimate{Value: r.HoursSavedByMaking}).Estimate,
		}
	}
	return plan
}

func limitsOf(e proficiency.Estimate) Limits {
	return Limits{Number(e.Value), Number(e.Lower), Number(e.Upper)}
}

// ifStated leaves out what costs would say where none are stated.
func (d *Schedule) ifStated(e proficiency.Estimate) Limits {
	if d.Costs == nil {
		nan := Number(math.NaN())
		return Limits{nan, nan, nan}
	}
	return limitsOf(e)
}

func (d *Schedule) spentOf(s proficiency.Spent) Spent {
	return Spent{d.ifStated(s.LabHours), d.ifStated(s.ExaminerHours), d.ifStated(s.Consumables), d.ifStated(s.Cost), d.ifStated(s.PerMet)}
}
