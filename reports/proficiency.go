package reports

import (
	"math"

	"tyro/analysis/proficiency"
	"tyro/analysis/study"
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

	Answer *study.Proficiency `json:"-"`
	Arms   []string           `json:"-"`
	given  bool               // the rule was given on the command line
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
	Leaves           Number    `json:"leaves"` // attempt from which the level is not met, where the status is moving-away
	Attempts         int       `json:"attempts"`
	Family           string    `json:"family"`
	Warnings         []Warning `json:"warnings"`
}

// What stands in place of a trainee's code where a result is not one trainee's.
const (
	MedianTrainee = "(median)"
	NewTrainee    = "(new)"
)

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
	Tau             Number    `json:"tau"` // the attempt up to which the mean is taken
	Steps           []OneStep `json:"steps"`
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

// NewProficiency is the document of a study's attempts to proficiency.
func NewProficiency(s *study.Study, a *study.Proficiency) *Proficiency {
	q := a.Question
	d := &Proficiency{
		Header: headerOf("proficiency", s), Rule: q.Rule.String(), Horizon: q.Horizon, Averaged: q.Average, Chance: q.Chance,
		Results: []Result{}, Observed: []Observed{}, Survival: armSteps(a.Survival), LogRank: logRank(a.LogRank), Band: string(survival.LogLog),
		Answer: a, Arms: s.Arms, given: s.Task.RuleGiven,
	}
	for _, w := range a.Warnings {
		d.Warn(w.Code, w.Text)
	}
	for _, t := range a.Trainees {
		for _, one := range t.Answers {
			r := d.result(t.ID, t.Arm, t.Own.Family, one)
			r.Attempts = len(t.Counted())
			d.Results = append(d.Results, r)
		}
	}
	d.groups(MedianTrainee, "", a.Arms)
	d.groups(NewTrainee, a.Family, a.Newcomers)
	d.seen(proficiency.RuleMet, d.Rule, func(t study.TraineeProficiency) *proficiency.Observed { return t.Rule })
	if q.Chart != nil {
		d.Chart = q.Chart.String()
		d.seen(proficiency.ChartSignal, d.Chart, func(t study.TraineeProficiency) *proficiency.Observed { return t.Chart })
	}
	return d
}

func (d *Proficiency) result(who, arm, family string, a proficiency.Answer) Result {
	return Result{
		Trainee: who, Arm: arm, Definition: a.Definition, Standard: Number(d.Answer.Question.Standard.Value),
		Estimate: Number(a.Estimate), Lower: Number(a.Lower), Upper: Number(a.Upper),
		Crossing: Number(a.At), CrossingLower: Number(a.Crossing.Lower), CrossingUpper: Number(a.Crossing.Upper),
		Level: a.Level, IntervalMethod: a.Method, Replicates: a.Replicates, FailedReplicates: a.Failed,
		NotReached: Number(a.NotReached), Status: string(a.Status), Leaves: Number(a.Leaves), Family: family, Warnings: warnings(a.Warnings),
	}
}

func (d *Proficiency) groups(who, family string, gs []study.GroupProficiency) {
	for _, g := range gs {
		for _, a := range g.Answers {
			d.Results = append(d.Results, d.result(who, g.Arm, family, a))
		}
	}
}

// seen lists what was observed of every trainee under a rule or a chart.
func (d *Proficiency) seen(definition, rule string, of func(study.TraineeProficiency) *proficiency.Observed) {
	for _, t := range d.Answer.Trainees {
		o := of(t)
		if o == nil {
			continue
		}
		one := Observed{Trainee: t.ID, Arm: t.Arm, Definition: definition, Rule: rule, Met: o.Met, Attempt: Number(math.NaN()), LastSeen: Number(math.NaN())}
		if len(t.Counted()) > 0 {
			one.LastSeen = Number(t.Last())
		}
		if o.Met {
			one.Attempt = Number(o.Attempt)
		}
		d.Observed = append(d.Observed, one)
	}
}

func armSteps(arms []study.ArmSurvival) []ArmStep {
	out := []ArmStep{}
	for _, a := range arms {
		out = append(out, armStep(a))
	}
	return out
}

func armStep(a study.ArmSurvival) ArmStep {
	out := ArmStep{
		Arm: a.Arm, N: a.Curve.N, Met: a.Curve.Events, Median: limitsAt(a.Median),
		RestrictedMean: Number(a.Mean), RestrictedSE: Number(a.MeanSE), RestrictedLower: Number(a.MeanLower), RestrictedUpper: Number(a.MeanUpper),
		Tau: Number(a.UpTo), Steps: []OneStep{},
	}
	for _, s := range a.Curve.Steps {
		out.Steps = append(out.Steps, OneStep{
			Attempt: Number(s.Time), AtRisk: s.AtRisk, Met: s.Events, Survival: Number(s.Survival), SE: Number(s.SE), Lower: Number(s.Lower), Upper: Number(s.Upper),
		})
	}
	return out
}

func limitsAt(q survival.Quantile) Limits {
	return Limits{Estimate: Number(q.Estimate), Lower: Number(q.Lower), Upper: Number(q.Upper)}
}

func logRank(t *survival.Test) *LogRank {
	if t == nil {
		return nil
	}
	return &LogRank{ChiSquare: Number(t.ChiSquare), DF: t.DF, P: Number(t.P)}
}
