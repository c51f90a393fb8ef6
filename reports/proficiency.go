package reports

import (
	"context"
	"fmt"
	"math"
	"strconv"

	"tyro/analysis/fit"
	"tyro/analysis/proficiency"
	"tyro/analysis/stopping"
	"tyro/analysis/survival"
)

// Proficiency is the answer of the command proficiency.
type Proficiency struct {
	Header
	Rule     string     `json:"rule"`
	Chart    string     `json:"chart"` // blank where no failure rates are stated
	Horizon  float64    `json:"horizon"`
	Averaged bool       `json:"averaged"` // over the candidate curves, by AICc weight
	Chance   float64    `json:"chance"`
	Results  []Result   `json:"results"`
	Observed []Observed `json:"observed"`
	Survival []ArmStep  `json:"survival"`
	LogRank  *LogRank   `json:"log_rank"`
	Band     string     `json:"band"`

	In      *Input    `json:"-"`
	Curves  []fit.Fit `json:"-"` // in the order of trainees
	answers [][]proficiency.Answer
}

// A Result is a number of attempts under one definition: a trainee's; with
// [MedianTrainee] in place of a trainee the one by which half of an arm is
// proficient; with [NewTrainee] that of a trainee of the arm yet to come.
type Result struct {
	Trainee          string    `json:"trainee"`
	Arm              string    `json:"arm"`
	Definition       string    `json:"definition"`
	Standard         Number    `json:"standard"`
	Estimate         Number    `json:"estimate"`
	Lower            Number    `json:"lower"`
	Upper            Number    `json:"upper"`
	Crossing         Number    `json:"crossing"`
	CrossingLower    Number    `json:"crossing_lower"`
	CrossingUpper    Number    `json:"crossing_upper"`
	Level            float64   `json:"level"`
	IntervalMethod   string    `json:"interval_method"`
	Replicates       int       `json:"replicates"`
	FailedReplicates int       `json:"failed_replicates"`
	NotReached       Number    `json:"not_reached"`
	Status           string    `json:"status"`
	Attempts         int       `json:"attempts"`
	Family           string    `json:"family"`
	Warnings         []Warning `json:"warnings"`
}

// An Observed is the attempt at which a trainee's own passes first met the rule, or
// made the chart signal.
type Observed struct {
	Trainee    string `json:"trainee"`
	Arm        string `json:"arm"`
	Definition string `json:"definition"`
	Rule       string `json:"rule"` // or the chart
	Met        bool   `json:"met"`
	Attempt    Number `json:"attempt"` // of meeting the rule; null when it was not met
	LastSeen   Number `json:"last_seen"`
}

// An ArmStep is an arm's observed attempts to the rule, as a survival curve.
type ArmStep struct {
	Arm             string    `json:"arm"`
	N               int       `json:"n"`
	Met             int       `json:"met"`
	Median          Limits    `json:"median"`
	RestrictedMean  Number    `json:"restricted_mean"`
	RestrictedSE    Number    `json:"restricted_mean_se"`
	RestrictedLower Number    `json:"restricted_mean_lower"` // by a bootstrap of trainees
	RestrictedUpper Number    `json:"restricted_mean_upper"`
	Tau             Number    `json:"tau"`
	Steps           []OneStep `json:"steps"`

	curve survival.Curve
}

// Limits is an estimate with an interval; null means not reached.
type Limits struct {
	Estimate Number `json:"estimate"`
	Lower    Number `json:"lower"`
	Upper    Number `json:"upper"`
}

// A OneStep is one step of a survival curve.
type OneStep struct {
	Attempt  Number `json:"attempt"`
	AtRisk   int    `json:"at_risk"`
	Met      int    `json:"met"`
	Survival Number `json:"survival"`
	SE       Number `json:"se"`
	Lower    Number `json:"lower"`
	Upper    Number `json:"upper"`
}

// LogRank is the test between arms.
type LogRank struct {
	ChiSquare Number `json:"chi_square"`
	DF        int    `json:"df"`
	P         Number `json:"p"`
}

// AttemptsToProficiency answers for every trainee, and for every arm where the
// study states a rule.
func AttemptsToProficiency(ctx context.Context, in *Input) (*Proficiency, error) {
	if math.IsNaN(in.Question.Standard.Value) {
		return nil, fmt.Errorf("attempts to proficiency need a standard: give --standard, or set it in the study file")
	}
	d := &Proficiency{
		Header: newHeader("proficiency", in), Rule: in.Rule.String(), Horizon: in.Question.Horizon,
		Chance: in.Question.Chance, Averaged: in.Question.Average, Band: string(survival.LogLog), In: in, Curves: make([]fit.Fit, len(in.Trainees)),
		Results: []Result{}, Observed: []Observed{}, Survival: []ArmStep{},
	}
	if in.Question.Chart != nil {
		d.Chart = in.Question.Chart.String()
	}
	d.answers = make([][]proficiency.Answer, len(in.Trainees))
	plan := in.Plan()
	plan.Workers = 1
	learners, err := in.Learners(ctx)
	if err != nil {
		return nil, err
	}
	err = in.eachTrainee(ctx, func(i int, t Trainee) (err error) {
		d.Curves[i] = learners.Each[i].Choice.Fit
		d.answers[i], err = learners.Each[i].Attempts(ctx, in.Question, plan, "trainee "+strconv.Itoa(i))
		return err
	})
	if err != nil {
		return nil, err
	}
	for i, t := range in.Trainees {
		for _, a := range d.answers[i] {
			d.Results = append(d.Results, d.result(t, d.Curves[i], a))
		}
	}
	if in.Rule != nil {
		observed := in.Observe(stopping.Rule{Rule: in.Rule})
		d.observed(proficiency.RuleMet, stopping.Rule{Rule: in.Rule}, observed)
		if err := d.survive(ctx, observed); err != nil {
			return nil, err
		}
	}
	if in.Question.Chart != nil {
		d.observed(proficiency.ChartSignal, in.Question.Chart, in.Observe(in.Question.Chart))
	}
	return d, d.ofArms(ctx)
}

// observe runs every trainee's passes through a rule or a chart.
func (in *Input) Observe(p stopping.Policy) []proficiency.Observed {
	return in.Observed(p)
}

func (d *Proficiency) observed(definition string, p stopping.Policy, seen []proficiency.Observed) {
	for i, t := range d.In.Trainees {
		d.Observed = append(d.Observed, observedOf(t, definition, p.String(), seen[i]))
	}
}

func (d *Proficiency) result(t Trainee, f fit.Fit, a proficiency.Answer) Result {
	return Result{
		Trainee: t.ID, Arm: t.Arm, Definition: a.Definition, Standard: Number(d.In.Question.Standard.Value),
		Estimate: Number(a.Estimate), Lower: Number(a.Lower), Upper: Number(a.Upper),
		Crossing: Number(a.At), CrossingLower: Number(a.Crossing.Lower), CrossingUpper: Number(a.Crossing.Upper),
		Level: a.Level, IntervalMethod: a.Method, Replicates: a.Replicates, FailedReplicates: a.Failed,
		NotReached: Number(a.NotReached), Status: string(a.Status), Attempts: len(t.Counted),
		Family: f.Curve.Family.Name(), Warnings: warnings(a.Warnings),
	}
}

// observedOf is the observed counterpart of rule-met or chart-signal: met at an
// attempt, or not within those seen.
func observedOf(t Trainee, definition, rule string, o proficiency.Observed) Observed {
	out := Observed{Trainee: t.ID, Arm: t.Arm, Definition: definition, Rule: rule, Met: o.Met, Attempt: Number(math.NaN()), LastSeen: Number(math.NaN())}
	if len(t.Counted) > 0 {
		out.LastSeen = Number(t.Counted[len(t.Counted)-1])
	}
	if o.Met {
		out.Attempt = Number(o.Attempt)
	}
	return out
}

// observations lists an arm's observed attempts as right-censored data.
func (in *Input) observations(arm string, observed []proficiency.Observed) []survival.Observation {
	var obs []proficiency.Observed
	for _, i := range in.Members(arm) {
		obs = append(obs, observed[i])
	}
	return proficiency.Survival(obs)
}

// commonTau is the last attempt up to which every arm has been followed.
func (in *Input) commonTau(observed []proficiency.Observed) float64 {
	tau := math.Inf(1)
	for _, arm := range in.Arms {
		last := 0.0
		for _, o := range in.observations(arm, observed) {
			last = math.Max(last, o.Time)
		}
		tau = math.Min(tau, last)
	}
	return tau
}

// survive summarises the observed attempts by arm.
func (d *Proficiency) survive(ctx context.Context, observed []proficiency.Observed) error {
	tau := d.In.commonTau(observed)
	var groups [][]survival.Observation
	for _, arm := range d.In.Arms {
		groups = append(groups, d.In.observations(arm, observed))
	}
	for k, arm := range d.In.Arms {
		a, err := newArmStep(ctx, d.In, arm, groups[k], survival.LogLog, tau)
		if err != nil {
			return err
		}
		a.warnMean(&d.Header)
		if math.IsInf(float64(a.Median.Estimate), 1) {
			d.Warn("median-not-reached", fmt.Sprintf("arm %s: fewer than half met the rule within the attempts seen, so its median is not reached", ArmName(arm)))
		}
		d.Survival = append(d.Survival, a)
	}
	if len(groups) > 1 {
		t := survival.LogRank(groups)
		d.LogRank = &LogRank{Number(t.ChiSquare), t.DF, Number(t.P)}
	}
	return nil
}

// newArmStep describes an arm's observations by its survival curve, with limits
// at the input's level, and its mean up to tau.
func newArmStep(ctx context.Context, in *Input, arm string, obs []survival.Observation, band survival.Band, tau float64) (ArmStep, error) {
	c := survival.KaplanMeier(obs, band, in.Options.Level)
	q := c.Quantile(0.5)
	mean, se := c.RestrictedMean(tau)
	iv, err := survival.RestrictedMeanInterval(ctx, obs, tau, c.Level, in.Plan())
	a := ArmStep{
		Arm: arm, N: c.N, Met: c.Events, Median: Limits{Number(q.Estimate), Number(q.Lower), Number(q.Upper)},
		RestrictedMean: Number(mean), RestrictedSE: Number(se), RestrictedLower: Number(iv.Lower), RestrictedUpper: Number(iv.Upper), Tau: Number(tau), Steps: []OneStep{}, curve: c,
	}
	for _, s := range c.Steps {
		a.Steps = append(a.Steps, OneStep{Number(s.Time), s.AtRisk, s.Events, Number(s.Survival), Number(s.SE), Number(s.Lower), Number(s.Upper)})
	}
	return a, err
}

// warnMean says why an arm's mean has no interval.
func (a ArmStep) warnMean(h *Header) {
	if math.IsNaN(float64(a.RestrictedLower)) {
		h.Warn("no-mean-interval", fmt.Sprintf("arm %s: the attempts up to tau do not vary between trainees, so their mean has no interval", ArmName(a.Arm)))
	}
}

func ArmName(arm string) string {
	if arm == "" {
		return "(all)"
	}
	return arm
}

// Tables lists the answers, then the arms.
func (d *Proficiency) Tables() []Table {
	attempts := func(v float64) string { return attemptsText(v, d.Horizon) }
	observedHead := ""
	if len(d.Observed) > 0 {
		observedHead = "observed"
	}
	t := Table{Name: "proficiency", Title: fmt.Sprintf("Attempts to proficiency, standard %g", d.In.Question.Standard.Value), Columns: []Column{
		{Key: "trainee", Head: "trainee"}, {Key: "arm", Head: "arm"}, {Key: "definition", Head: "definition"}, {Key: "standard"},
		{Key: "attempts", Head: "made"}, {Key: "estimate", Head: "attempts", Show: attempts},
		{Key: "lower", Head: fmt.Sprintf("%g %% from", 100*d.In.Question.Level), Show: attempts}, {Key: "upper", Head: "to", Show: attempts},
		{Key: "crossing"}, {Key: "crossing_lower"}, {Key: "crossing_upper"},
		{Key: "not_reached", Head: "not reached", Show: Percent}, {Key: "replicates"}, {Key: "failed_replicates"},
		{Key: "family", Head: "curve"}, {Key: "status", Head: "status"}, {Key: "observed", Head: observedHead, Show: attempts},
	}}
	observed := map[string]float64{}
	for _, o := range d.Observed {
		observed[o.Trainee+"\x00"+o.Definition] = float64(o.Attempt)
	}
	for _, r := range d.OfTrainees() {
		seen := math.NaN()
		if v, ok := observed[r.Trainee+"\x00"+r.Definition]; ok {
			seen = v
		}
		t.Rows = append(t.Rows, []any{
			r.Trainee, r.Arm, r.Definition, float64(r.Standard), r.Attempts, float64(r.Estimate), float64(r.Lower), float64(r.Upper),
			float64(r.Crossing), float64(r.CrossingLower), float64(r.CrossingUpper), float64(r.NotReached), r.Replicates, r.FailedReplicates, r.Family, r.Status, seen,
		})
	}
	t.Notes = append(t.Notes,
		"mean-crossing: the fitted curve meets the standard. pass-chance: one attempt meets it with chance "+fmt.Sprint(d.Chance)+", noise, error limits and hard fails included. They answer different questions.",
		fmt.Sprintf("not reached: share of bootstrap replicates that do not reach the standard within %g attempts.", d.Horizon))
	if d.Rule != "" {
		t.Notes = append(t.Notes, fmt.Sprintf("rule-met: the attempt by which the rule %q is met with chance one half, from the fitted pass chances by exact recursion. Observed: the trainee's own passes first met it.", d.Rule))
	}
	if d.Chart != "" {
		t.Notes = append(t.Notes, d.chartNote())
	}
	t.Notes = append(t.Notes, Caution)
	out := []Table{t}
	if g := d.GroupTable(); g.Len() > 0 {
		out = append(out, g)
	}
	if len(d.Survival) > 0 {
		out = append(out, d.ArmTable())
	}
	return out
}

func (d *Proficiency) ArmTable() Table {
	attempts := func(v float64) string {
		if math.IsInf(v, 1) {
			return "not reached"
		}
		return attemptsText(v, d.Horizon)
	}
	t := Table{Name: "rule-met-by-arm", Title: fmt.Sprintf("Rule %q as observed, by arm (nobody is dropped)", d.Rule), Columns: []Column{
		{Key: "arm", Head: "arm"}, {Key: "n", Head: "trainees"}, {Key: "met", Head: "met"},
		{Key: "median", Head: "median attempts", Show: attempts}, {Key: "median_lower", Head: fmt.Sprintf("%g %% from", 100*d.In.Question.Level), Show: attempts}, {Key: "median_upper", Head: "to", Show: attempts},
		{Key: "restricted_mean", Head: "mean up to tau"}, {Key: "restricted_mean_se"}, {Key: "restricted_mean_lower", Head: "from"}, {Key: "restricted_mean_upper", Head: "to"}, {Key: "tau", Head: "tau", Show: Whole},
	}}
	for _, a := range d.Survival {
		t.Rows = append(t.Rows, []any{ArmName(a.Arm), a.N, a.Met, float64(a.Median.Estimate), float64(a.Median.Lower), float64(a.Median.Upper), float64(a.RestrictedMean), float64(a.RestrictedSE), float64(a.RestrictedLower), float64(a.RestrictedUpper), float64(a.Tau)})
	}
	t.Notes = append(t.Notes, "Product-limit estimate; those who have not met the rule count up to their last attempt. Limits of the median by the log-log band, of the mean by a bootstrap of trainees.")
	if d.LogRank != nil {
		t.Notes = append(t.Notes, fmt.Sprintf("Log-rank test between arms: chi-square %s on %d df, p %s.", Significant(float64(d.LogRank.ChiSquare), 3), d.LogRank.DF, pText(float64(d.LogRank.P))))
	}
	return t
}

func Percent(v float64) string {
	if math.IsNaN(v) {
		return "–"
	}
	return strconv.FormatFloat(100*v, 'f', 0, 64) + " %"
}

// Caution stands wherever a trainee's readiness is shown.
const Caution = "Performance on this lab task is not a licence, a certification or clinical competence. A named person decides about a trainee, under the local programme's rules and licensed supervision; this program does not."
