package reports

import (
	"fmt"
	"math"
	"slices"

	"tyro/analysis/cohort"
	"tyro/analysis/study"
	"tyro/models"
)

// Cohort is the answer of the command cohort.
type Cohort struct {
	Header
	Task             string              `json:"task"`
	Family           string              `json:"family"`
	Noise            string              `json:"noise"`
	Method           string              `json:"method"`
	Nodes            int                 `json:"nodes,omitempty"`
	NTrainees        int                 `json:"n_trainees"`
	NAttempts        int                 `json:"n_attempts"`
	NCensored        int                 `json:"n_censored"`
	Arms             []string            `json:"arms"`
	Fixed            []CohortEffect      `json:"fixed"`
	Random           []CohortSpread      `json:"random"`
	Correlations     []CohortCorrelation `json:"correlations"`
	Carryover        []CohortEffect      `json:"carryover"`
	REML             bool                `json:"reml"`
	ResidualSD       Number              `json:"residual_sd"`
	ResidualLower    Number              `json:"residual_sd_lower"`
	ResidualUpper    Number              `json:"residual_sd_upper"`
	LogLikelihood    Number              `json:"log_likelihood"`
	LogLikelihoodLn  Number              `json:"log_likelihood_of_logs"`
	NParameters      int                 `json:"n_parameters"`
	AIC              Number              `json:"aic"`
	BIC              Number              `json:"bic"`
	Status           string              `json:"status"`
	Rung             string              `json:"rung"`
	Ladder           []CohortStep        `json:"ladder"`
	Selection        []CohortCandidate   `json:"selection"`
	Models           []CohortModel       `json:"models,omitempty"`
	Trust            *Number             `json:"trust,omitempty"`
	Level            float64             `json:"level"`
	IntervalMethod   string              `json:"interval_method"`
	Replicates       int                 `json:"replicates,omitempty"`
	FailedReplicates int                 `json:"failed_replicates,omitempty"`
	Bootstrap        []CohortBootstrap   `json:"bootstrap,omitempty"`
	Checks           *CohortChecks       `json:"checks,omitempty"`
	Calibration      *CohortCalibration  `json:"calibration"`
	Correction       *CohortCorrection   `json:"correction"`
	Standard         Number              `json:"standard"`
	Rule             string              `json:"rule"`
	Horizon          float64             `json:"horizon"`
	Population       []CohortShares      `json:"population"`
	NewTrainees      []CohortNew         `json:"new_trainees"`
	Covariates       []CohortCovariate   `json:"covariates"`
	Trainees         []CohortTrainee     `json:"trainees"`
	From             *CohortFrom         `json:"from,omitempty"` // nil: fitted here
	Caution          string              `json:"caution"`

	Answer *study.Cohort `json:"-"`
	Study  *study.Study  `json:"-"`
}

// NewCohort is the document of what a study says of its cohort.
func NewCohort(s *study.Study, a *study.Cohort) *Cohort {
	c := a.Fit
	d := &Cohort{
		Header: headerOf("cohort", s), Task: s.Task.Name, Family: c.Family, Noise: c.Noise, Method: string(c.Method), Nodes: c.Nodes,
		NTrainees: c.NTrainees, NAttempts: c.NAttempts, NCensored: c.NCensored, Arms: c.Arms, REML: c.REML,
		LogLikelihood: Number(c.LogLik), LogLikelihoodLn: Number(c.LogLikLog), NParameters: c.NParameters, AIC: Number(c.AIC), BIC: Number(c.BIC),
		Status: c.Status.String(), Rung: c.Rung, Level: c.Level,
		IntervalMethod: a.Interval.Words, Replicates: a.Interval.Replicates, FailedReplicates: a.Interval.Failed,
		Standard: Number(s.Question.Standard.Value), Rule: s.Question.Rule.String(), Horizon: s.Question.Horizon, Caution: Caution,
		Answer: a, Study: s,
	}
	for _, w := range a.Warnings {
		d.Warn(w.Code, w.Text)
	}
	d.From = cohortFrom(c.From(), s.SHA256)
	d.parameters()
	d.spreads()
	d.search()
	d.bootstrapped()
	d.Covariates = covariatesOf(c)
	d.Calibration = calibrationOf(a.Calibration)
	if c := a.Correction; c != nil {
		d.Correction = &CohortCorrection{c.Trainees, c.Attempts, Number(c.Level), Number(c.Inside), Number(c.Lower), Number(c.Upper)}
	}
	d.Checks = d.checksOf(a.Checks)
	d.trainees()
	d.newTrainees()
	return d
}

// cohortFrom says which saved fit it is; nil for none.
func cohortFrom(f *study.SavedFit, data string) *CohortFrom {
	if f == nil {
		return nil
	}
	return &CohortFrom{
		File: f.Name, SHA256: f.SHA256, Study: f.Of.Title, Task: f.Of.Task, NTrainees: f.Cohort.NTrainees, NAttempts: f.Cohort.NAttempts, Arms: f.Cohort.Arms,
		Seed: f.Source.Seed, DataSHA256: f.Source.DataSHA256, SameData: f.SameData(data),
	}
}

// parameters copies the fixed effects, and what residuals carry over.
func (d *Cohort) parameters() {
	a := d.Answer
	d.Fixed, d.Carryover = []CohortEffect{}, []CohortEffect{}
	for _, e := range a.Fixed {
		d.Fixed = append(d.Fixed, d.effectOf(e))
	}
	for _, e := range a.Carryover {
		d.Carryover = append(d.Carryover, d.effectOf(e))
	}
	r := a.Residual
	if r.Parameter == "" {
		nan := math.NaN()
		r.Estimate, r.Lower, r.Upper = nan, nan, nan
	}
	d.ResidualSD, d.ResidualLower, d.ResidualUpper = Number(r.Estimate), Number(r.Lower), Number(r.Upper)
}

func (d *Cohort) effectOf(e cohort.Effect) CohortEffect {
	out := CohortEffect{
		Name: e.Parameter, Arm: e.Arm, Scale: string(e.Scale), Estimate: Number(e.Estimate), SE: Number(e.SE),
		Lower: Number(e.Lower), Upper: Number(e.Upper), Held: e.Held,
	}
	out.Covariate, out.Level = d.covariateOf(e.Covariate)
	return out
}

// spreads copies how trainees differ.
func (d *Cohort) spreads() {
	d.Random, d.Correlations = []CohortSpread{}, []CohortCorrelation{}
	for _, r := range d.Answer.Random {
		d.Random = append(d.Random, CohortSpread{
			Name: r.Parameter, Scale: string(r.Scale), SD: Number(r.SD), Lower: Number(r.Lower), Upper: Number(r.Upper), Words: spreadWords(r),
		})
	}
	for _, r := range d.Answer.Fit.Correlations {
		d.Correlations = append(d.Correlations, CohortCorrelation{A: r.A, B: r.B, Value: Number(r.Value)})
	}
}

// spreadWords says what a standard deviation between trainees means.
func spreadWords(r cohort.Deviation) string {
	switch {
	case r.None:
		return "how much trainees differ in it cannot be told from noise"
	case r.Scale == cohort.Log:
		return fmt.Sprintf("two thirds of trainees lie within a factor of %s of the middle", Significant(math.Exp(r.SD), 3))
	}
	return fmt.Sprintf("two thirds of trainees lie within %s of the middle", Significant(r.SD, 3))
}

// search copies how the fit was found: the ladder of covariances, and the families
// tried.
func (d *Cohort) search() {
	d.Ladder, d.Selection = []CohortStep{}, []CohortCandidate{}
	for _, s := range d.Answer.Fit.Ladder {
		d.Ladder = append(d.Ladder, CohortStep{Rung: s.Rung, Random: append([]string{}, s.Random...), Status: s.Status.String(), LogLikelihood: Number(s.LogLik), Why: s.Why})
	}
	for _, c := range d.Answer.Fit.Selection {
		d.Selection = append(d.Selection, CohortCandidate{Family: c.Family, AIC: Number(c.AIC), Rung: c.Rung})
	}
	if c := d.Answer.Fit.Chosen; c != nil {
		trust := Number(c.Trust)
		d.Trust = &trust
		for _, m := range c.Tried {
			d.Models = append(d.Models, CohortModel{m.Model, Number(m.Score), Number(m.Behind), Number(m.SE), Number(m.AIC), Number(m.Weight)})
		}
	}
}

// bootstrapped copies the bootstrap's intervals.
func (d *Cohort) bootstrapped() {
	for _, q := range d.Answer.Bootstrap {
		iv := q.Interval
		b := CohortBootstrap{
			Kind: q.Kind, Name: q.Parameter, Arm: q.Arm, Estimate: Number(q.Estimate), Lower: Number(iv.Lower), Upper: Number(iv.Upper),
			Replicates: iv.Replicates + iv.Failed, FailedReplicates: iv.Failed,
		}
		b.Covariate, b.Level = d.covariateOf(q.Covariate)
		d.Bootstrap = append(d.Bootstrap, b)
	}
}

func calibrationOf(c *study.CohortCalibration) *CohortCalibration {
	if c == nil {
		return nil
	}
	return &CohortCalibration{N: c.N, Inside50: Number(c.Inside50), Inside90: Number(c.Inside90), Lower: Number(c.Lower), Upper: Number(c.Upper), Tenths: c.Tenths}
}

// trainees copies each trainee's place, and what is expected of them.
func (d *Cohort) trainees() {
	d.Trainees = []CohortTrainee{}
	for _, m := range d.Answer.Members {
		t := CohortTrainee{
			Trainee: m.ID, Arm: m.Arm, N: m.N, NCensored: m.NCensored, ResidualSD: Number(m.Spread), Parameters: []CohortParameter{},
			Projection: forecastsOf(m.Next), Proficiency: []CohortProficiency{}, Moves: []CohortMove{},
		}
		for j, name := range d.Answer.Fit.Parameters {
			t.Parameters = append(t.Parameters, CohortParameter{Name: name, Estimate: Number(m.Parameters[j]), OwnShare: Number(m.OwnShare[j])})
		}
		for _, p := range m.Proficiency {
			t.Proficiency = append(t.Proficiency, crossingOf(p))
		}
		for _, v := range m.Moves {
			t.Moves = append(t.Moves, CohortMove{
				AttemptsMade: v.Made, Estimate: Number(v.Estimate), Lower: Number(v.Lower), Upper: Number(v.Upper), NotReached: Number(v.NotReached), Status: string(v.Status),
			})
		}
		d.Trainees = append(d.Trainees, t)
	}
}

// newTrainees copies what is expected of trainees yet to come.
func (d *Cohort) newTrainees() {
	d.NewTrainees, d.Population = []CohortNew{}, []CohortShares{}
	for _, arm := range d.Answer.Arms {
		n := CohortNew{Arm: arm.Name, Projection: forecastsOf(arm.Next), Proficiency: []CohortProficiency{}}
		if arm.RuleMet != nil {
			n.Proficiency = append(n.Proficiency, crossingOf(*arm.RuleMet))
		}
		d.NewTrainees = append(d.NewTrainees, n)
		for _, s := range arm.Shares {
			shares := CohortShares{Arm: arm.Name, Definition: s.Definition}
			for _, r := range s.Rows {
				shares.Rows = append(shares.Rows, CohortShare{Attempt: Number(r.Attempt), Share: Number(r.Share), Lower: Number(r.Lower), Upper: Number(r.Upper)})
			}
			d.Population = append(d.Population, shares)
		}
	}
}

func forecastsOf(fs []study.CohortForecast) []CohortForecast {
	out := []CohortForecast{}
	for _, f := range fs {
		out = append(out, CohortForecast{
			Attempt: Number(f.Attempt), Expected: Number(f.Expected), Median: Number(f.Median), Lower: Number(f.Lower), Upper: Number(f.Upper),
			ModelLower: Number(f.ModelLower), ModelUpper: Number(f.ModelUpper),
		})
	}
	return out
}

func crossingOf(c study.CohortCrossing) CohortProficiency {
	return CohortProficiency{
		Definition: c.Definition, Estimate: Number(c.Estimate), Lower: Number(c.Lower), Upper: Number(c.Upper), NotReached: Number(c.NotReached), Status: string(c.Status),
	}
}

// passFail reports whether attempts show passes and fails only.
func (d *Cohort) passFail() bool {
	n, err := models.NoiseByName(d.Noise)
	return err == nil && models.IsPassFail(n)
}

// unknown reports whether a value of the curve is not identified.
func (d *Cohort) unknown() bool {
	return slices.ContainsFunc(d.Fixed, func(e CohortEffect) bool { return math.IsNaN(float64(e.Estimate)) })
}
