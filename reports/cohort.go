package reports

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"tyro/analysis/cohort"
	"tyro/analysis/fit"
	"tyro/analysis/resample"
	"tyro/datasets"
)

// CohortOptions are the choices of the command cohort; the zero value of a
// field means its default.
type CohortOptions struct {
	Random       []string // what differs between trainees; nil: every parameter of the curve
	Uncorrelated bool
	Scale        map[string]string
	Covariates   []datasets.CovariateChoice // nil: the study's own
	ArmEffect    []string                   // nil: what differs between trainees, where there are arms
	Method       string
	Sessions     bool   // a slowdown after a break between sessions
	Ahead        int    // attempts projected for each trainee; 0 means 10
	Checks       int    // cohorts drawn to check the fit; 0: it is not checked
	Early        bool   // project trainees below the least number of attempts too
	Bootstrap    bool   // intervals from whole trainees drawn with replacement, too
	Interval     string // one of the Interval constants; "" means wald
	REML         bool
	Carry        string // what residuals carry over: none, whole or part; "" means none

	columns []covariateColumn // of the covariates
}

// DefaultAhead is how many attempts are projected unless asked otherwise.
const DefaultAhead = 10

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
	Level            float64             `json:"level"`
	IntervalMethod   string              `json:"interval_method"`
	Replicates       int                 `json:"replicates,omitempty"`
	FailedReplicates int                 `json:"failed_replicates,omitempty"`
	Bootstrap        []CohortBootstrap   `json:"bootstrap,omitempty"`
	Checks           *CohortChecks       `json:"checks,omitempty"`
	Calibration      *CohortCalibration  `json:"calibration"`
	Standard         Number              `json:"standard"`
	Rule             string              `json:"rule"`
	Horizon          float64             `json:"horizon"`
	Population       []CohortShares      `json:"population"`
	NewTrainees      []CohortNew         `json:"new_trainees"`
	Covariates       []CohortCovariate   `json:"covariates"`
	Trainees         []CohortTrainee     `json:"trainees"`
	Caution          string              `json:"caution"`

	In      *Input         `json:"-"`
	Fit     *cohort.Cohort `json:"-"`
	columns []covariateColumn
}

// A CohortEffect is a fixed effect on its parameter's scale.
type CohortEffect struct {
	Name      string `json:"name"`
	Arm       string `json:"arm"`
	Covariate string `json:"covariate"` // blank for a common value or an arm's
	Level     string `json:"level"`     // of a covariate with levels
	Scale     string `json:"scale"`
	Estimate  Number `json:"estimate"`
	SE        Number `json:"se"`
	Lower     Number `json:"lower"`
	Upper     Number `json:"upper"`
	Held      bool   `json:"held,omitempty"`
}

// A CohortSpread is how much trainees differ in a parameter, on its scale.
type CohortSpread struct {
	Name  string `json:"name"`
	Scale string `json:"scale"`
	SD    Number `json:"sd"`
	Lower Number `json:"lower"`
	Upper Number `json:"upper"`
	Words string `json:"words"`
}

// A CohortCorrelation is one between trainees' deviations.
type CohortCorrelation struct {
	A     string `json:"a"`
	B     string `json:"b"`
	Value Number `json:"value"`
}

// A CohortStep is a rung of the ladder that was tried.
type CohortStep struct {
	Rung          string   `json:"rung"`
	Random        []string `json:"random"`
	Status        string   `json:"status"`
	LogLikelihood Number   `json:"log_likelihood"`
	Why           string   `json:"why"`
}

// A CohortCandidate is a family's standing in the choice.
type CohortCandidate struct {
	Family string `json:"family"`
	AIC    Number `json:"aic"`
	Rung   string `json:"rung"`
}

// CohortShares is the share of new trainees of an arm proficient by attempt,
// under one definition.
type CohortShares struct {
	Arm        string        `json:"arm"`
	Definition string        `json:"definition"`
	Rows       []CohortShare `json:"rows"`
}

// A CohortCalibration says how later halves of attempts fell in what the earlier
// halves predicted; tenths counts them by tenth of the predictive distribution,
// and the 5-95 % range is of the share inside over trainees.
type CohortCalibration struct {
	N        int     `json:"n"`
	Inside50 Number  `json:"inside_50"`
	Inside90 Number  `json:"inside_90"`
	Lower    Number  `json:"inside_90_trainees_p5"`
	Upper    Number  `json:"inside_90_trainees_p95"`
	Tenths   [10]int `json:"tenths"`
}

// A CohortBootstrap is a quantity with its interval from whole trainees drawn
// with replacement; kind is fixed, sd or residual.
type CohortBootstrap struct {
	Kind             string `json:"kind"`
	Name             string `json:"name"`
	Arm              string `json:"arm"`
	Covariate        string `json:"covariate"`
	Level            string `json:"level"`
	Estimate         Number `json:"estimate"`
	Lower            Number `json:"lower"`
	Upper            Number `json:"upper"`
	Replicates       int    `json:"replicates"`
	FailedReplicates int    `json:"failed_replicates"`
}

// A CohortShare is the share proficient by an attempt.
type CohortShare struct {
	Attempt Number `json:"attempt"`
	Share   Number `json:"share"`
	Lower   Number `json:"lower"`
	Upper   Number `json:"upper"`
}

// CohortNew is what is expected of a new trainee of an arm, before any attempt.
type CohortNew struct {
	Arm         string              `json:"arm"`
	Projection  []CohortForecast    `json:"projection"`
	Proficiency []CohortProficiency `json:"proficiency"`
}

// A CohortTrainee is one trainee's place in the cohort. The parameters are on
// their natural scale.
type CohortTrainee struct {
	Trainee     string              `json:"trainee"`
	Arm         string              `json:"arm"`
	N           int                 `json:"n"`
	NCensored   int                 `json:"n_censored"`
	Parameters  []CohortParameter   `json:"parameters"`
	ResidualSD  Number              `json:"residual_sd"`
	Projection  []CohortForecast    `json:"projection"`
	Proficiency []CohortProficiency `json:"proficiency"`
	Moves       []CohortMove        `json:"rule_met_as_attempts_arrived"` // the last is after all attempts, or where the rule was met
}

// A CohortParameter is a trainee's value; own_share is how much of it rests on
// the trainee's own attempts, 1 for all and 0 for none.
type CohortParameter struct {
	Name     string `json:"name"`
	Estimate Number `json:"estimate"`
	OwnShare Number `json:"own_share"`
}

// A CohortForecast is the predictive distribution of one attempt.
type CohortForecast struct {
	Attempt Number `json:"attempt"`
	Median  Number `json:"median"`
	Lower   Number `json:"lower"`
	Upper   Number `json:"upper"`
}

// CohortProficiency is a trainee's attempts to proficiency under a definition.
type CohortProficiency struct {
	Definition string `json:"definition"`
	Estimate   Number `json:"estimate"`
	Lower      Number `json:"lower"`
	Upper      Number `json:"upper"`
	NotReached Number `json:"not_reached"`
	Status     string `json:"status"`
}

// minProjected is the fewest attempts from which attempts to proficiency are
// said of a trainee.
const minProjected = 5

// FitCohort fits the cohort and projects every trainee.
func FitCohort(ctx context.Context, in *Input, o CohortOptions) (*Cohort, error) {
	ts := in.cohortTrainees(o.Sessions)
	if o.Sessions && !slices.ContainsFunc(ts, func(t cohort.Trainee) bool {
		return slices.ContainsFunc(t.Restart, func(v float64) bool { return v > 0 })
	}) {
		return nil, errors.New("no trainee has a second session, so a slowdown after a break cannot be estimated")
	}
	columns, told, err := in.covariates(o.Covariates)
	if err != nil {
		return nil, err
	}
	withCovariates(ts, columns)
	o.columns = columns
	specs, err := in.cohortSpecs(o)
	if err != nil {
		return nil, err
	}
	if o.REML && len(specs) > 1 {
		return nil, errors.New("REML likelihoods of different families do not compare: name a --family")
	}
	d := &Cohort{
		Header: newHeader("cohort", in), Task: in.Task.Name, Correlations: []CohortCorrelation{}, Carryover: []CohortEffect{}, Selection: []CohortCandidate{},
		Population: []CohortShares{}, NewTrainees: []CohortNew{}, Trainees: []CohortTrainee{}, Standard: Number(in.Question.Standard.Value), Rule: in.Rule.String(), Horizon: in.Question.Horizon, Caution: Caution, In: in, columns: columns, Covariates: told,
	}
	if o.Method == string(cohort.Quadrature) && len(o.Random) > 3 {
		return nil, fmt.Errorf("quadrature is offered for up to three random parameters, %d are named; use --method laplace", len(o.Random))
	}
	if d.Fit, err = d.choose(ctx, ts, specs); err != nil {
		return nil, err
	}
	d.fill()
	if err := d.widen(ctx, o.Interval); err != nil {
		return nil, err
	}
	if err := d.calibrate(ctx); err != nil {
		return nil, err
	}
	if o.Ahead == 0 {
		o.Ahead = DefaultAhead
	}
	if err := d.project(ctx, ts, o); err != nil {
		return nil, err
	}
	if !math.IsNaN(in.Question.Standard.Value) {
		if err := d.populate(ctx); err != nil {
			return nil, err
		}
	}
	if o.Checks > 0 {
		if err := d.check(ctx, o.Checks); err != nil {
			return nil, err
		}
	}
	if o.Bootstrap {
		if err := d.redraw(ctx); err != nil {
			return nil, err
		}
	}
	if len(d.Carryover) > 0 && !math.IsNaN(in.Question.Standard.Value) {
		d.Warn("carryover-left-out", "attempts to proficiency take residuals of different attempts as independent; what carries over enters the projected attempts only")
	}
	d.leftOut()
	return d, nil
}

// calibrate counts where later attempts fell in their predictions.
func (d *Cohort) calibrate(ctx context.Context) error {
	ts, err := d.Fit.Calibration(ctx, d.In.Plan())
	if err != nil || len(ts) == 0 {
		return err
	}
	c := &CohortCalibration{N: len(ts)}
	inside, all := map[int]float64{}, map[int]float64{}
	for _, t := range ts {
		c.Tenths[min(int(10*t.Value), 9)]++
		all[t.Trainee]++
		if t.Value > 0.25 && t.Value < 0.75 {
			c.Inside50 += 1 / Number(len(ts))
		}
		if t.Value > 0.05 && t.Value < 0.95 {
			c.Inside90 += 1 / Number(len(ts))
			inside[t.Trainee]++
		}
	}
	var shares []float64
	for i, n := range all {
		shares = append(shares, inside[i]/n)
	}
	slices.Sort(shares)
	c.Lower, c.Upper = Number(resample.Quantile(shares, 0.05)), Number(resample.Quantile(shares, 0.95))
	d.Calibration = c
	return nil
}

// redraw adds bootstrap intervals.
func (d *Cohort) redraw(ctx context.Context) error {
	plan := d.In.Plan()
	plan.Progress = d.In.Options.Progress
	qs, err := d.Fit.Bootstrap(ctx, plan)
	if err != nil {
		return err
	}
	for _, q := range qs {
		iv := q.Interval
		covariate, level := d.covariateOf(q.Covariate)
		b := CohortBootstrap{q.Kind, q.Parameter, q.Arm, covariate, level, Number(q.Estimate), Number(iv.Lower), Number(iv.Upper), iv.Replicates + iv.Failed, iv.Failed}
		if iv.Refused() {
			b.Lower, b.Upper = Number(math.NaN()), Number(math.NaN())
			d.Warn("bootstrap-refused", fmt.Sprintf("%d of %d refits failed or lost a parameter, too many for bootstrap intervals", iv.Failed, b.Replicates))
		}
		d.Bootstrap = append(d.Bootstrap, b)
	}
	return nil
}

// choose fits every candidate and takes the one with the lowest AIC among those
// on a joint likelihood.
func (d *Cohort) choose(ctx context.Context, ts []cohort.Trainee, specs []cohort.Spec) (*cohort.Cohort, error) {
	var best *cohort.Cohort
	var failed error
	for _, s := range specs {
		c, err := cohort.Run(ctx, ts, s)
		if err != nil {
			if len(specs) == 1 || ctx.Err() != nil {
				return nil, err
			}
			failed = err
			d.Warn("family-left-out", fmt.Sprintf("the %s curve is not among the candidates: %v", s.Family.Name(), err))
			continue
		}
		if len(specs) > 1 {
			d.Selection = append(d.Selection, CohortCandidate{c.Family, Number(c.AIC), c.Rung})
		}
		joint := func(c *cohort.Cohort) bool { return c.Rung != cohort.RungTwoStage }
		if best == nil || joint(c) && (!joint(best) || c.AIC < best.AIC) {
			best = c
		}
	}
	if best == nil {
		return nil, failed
	}
	return best, nil
}

// cohortSpecs turns the options into the candidates to fit.
func (in *Input) cohortSpecs(o CohortOptions) ([]cohort.Spec, error) {
	named := func(n string) bool {
		_, scaled := o.Scale[n]
		held := slices.ContainsFunc(in.Options.Hold, func(h fit.Hold) bool { return h.Name == n })
		acts := slices.ContainsFunc(o.columns, func(c covariateColumn) bool { return slices.Contains(c.on, n) })
		return acts || scaled || held || slices.Contains(o.Random, n) || slices.Contains(o.ArmEffect, n)
	}
	if named("start") && named("gain") {
		return nil, fmt.Errorf("start takes the place of gain: name one of them")
	}
	carry, err := carried(o.Carry)
	if err != nil {
		return nil, err
	}
	scale := map[string]cohort.Scale{}
	for k, v := range o.Scale {
		scale[k] = cohort.Scale(v)
	}
	var out []cohort.Spec
	for _, s := range in.Specs {
		if len(in.Specs) > 1 && s.Family.Name() == "constant" {
			continue // nobody asks a cohort whether anything is learnt at all
		}
		spec := cohort.Spec{
			Family: s.Family, Noise: s.Noise, UseStart: named("start"), Scale: scale, Random: o.Random, Uncorrelated: o.Uncorrelated,
			ArmEffect: o.ArmEffect, Hold: in.Options.Hold, Sessions: o.Sessions, Method: cohort.Method(o.Method), REML: o.REML, Carry: carry,
			Level: in.Options.Level, Workers: in.Options.Workers,
		}
		for _, c := range o.columns {
			spec.Covariates = append(spec.Covariates, cohort.Covariate{Name: c.name, On: c.on})
		}
		if len(in.Specs) > 1 {
			spec = forFamily(spec)
		}
		if o.ArmEffect == nil && len(in.Arms) > 1 {
			spec.ArmEffect = defaultEffects(spec)
		}
		out = append(out, spec)
	}
	return out, nil
}

// forFamily drops names that a candidate of an automatic choice lacks.
func forFamily(s cohort.Spec) cohort.Spec {
	lacks := func(n string) bool {
		return n == "plateau" && !s.Family.HasPlateau() || (n == "gain" || n == "start") && !s.Family.HasGain()
	}
	if s.Random != nil {
		s.Random = slices.DeleteFunc(slices.Clone(s.Random), lacks)
	}
	s.ArmEffect = slices.DeleteFunc(slices.Clone(s.ArmEffect), lacks)
	for i, c := range s.Covariates {
		s.Covariates[i].On = slices.DeleteFunc(slices.Clone(c.On), lacks)
	}
	scale := map[string]cohort.Scale{}
	for k, v := range s.Scale {
		if !lacks(k) {
			scale[k] = v
		}
	}
	s.Scale = scale
	return s
}

// defaultEffects lets arms differ in whatever trainees differ in.
func defaultEffects(s cohort.Spec) []string {
	if s.Random != nil {
		return s.Random
	}
	var out []string
	for _, p := range s.Family.Params() {
		n := p.Name
		if n == "gain" && s.UseStart {
			n = "start"
		}
		if !slices.ContainsFunc(s.Hold, func(h fit.Hold) bool { return h.Name == n }) {
			out = append(out, n)
		}
	}
	return out
}

// cohortTrainees makes the trainees of the analysis, arms in the order of the
// study. With sessions every attempt knows how many were made since the break
// before it.
func (in *Input) cohortTrainees(sessions bool) []cohort.Trainee {
	restarts := map[string]map[float64]float64{}
	if sessions {
		restarts = in.restarts()
	}
	var out []cohort.Trainee
	for _, t := range in.Trainees {
		c := cohort.Trainee{ID: t.ID, Arm: t.Arm, Attempt: t.Series.Attempt, Response: t.Series.Response, Censored: t.Series.Censored}
		if sessions {
			for _, n := range c.Attempt {
				c.Restart = append(c.Restart, restarts[t.ID][n])
			}
		}
		out = append(out, c)
	}
	return out
}

// restarts counts, for every attempt of a trainee's second and later sessions,
// the attempts since the session began, from 1.
func (in *Input) restarts() map[string]map[float64]float64 {
	type place struct {
		n       float64
		session string
	}
	seen := map[string][]place{}
	for _, t := range in.Study.Trainees {
		for _, a := range t.Attempts {
			seen[t.ID] = append(seen[t.ID], place{a.Number, a.Session})
		}
	}
	out := map[string]map[float64]float64{}
	for id, ps := range seen {
		slices.SortStableFunc(ps, func(a, b place) int {
			switch {
			case a.n < b.n:
				return -1
			case a.n > b.n:
				return 1
			}
			return 0
		})
		out[id] = map[float64]float64{}
		since, first := 0.0, true
		for i, p := range ps {
			if i > 0 && p.session != ps[i-1].session {
				since, first = 0, false
			}
			if since++; !first {
				out[id][p.n] = since
			}
		}
	}
	return out
}

// fill copies the fit into machine output.
func (d *Cohort) fill() {
	c := d.Fit
	d.Family, d.Noise, d.Method, d.Nodes = c.Family, c.Noise, string(c.Method), c.Nodes
	d.NTrainees, d.NAttempts, d.NCensored, d.Arms = c.NTrainees, c.NAttempts, c.NCensored, c.Arms
	for _, e := range c.Fixed {
		covariate, level := d.covariateOf(e.Covariate)
		d.Fixed = append(d.Fixed, CohortEffect{e.Parameter, e.Arm, covariate, level, string(e.Scale), Number(e.Estimate), Number(e.SE), Number(e.Lower), Number(e.Upper), e.Held})
	}
	for _, r := range c.Random {
		s := CohortSpread{Name: r.Parameter, Scale: string(r.Scale), SD: Number(r.SD), Lower: Number(r.Lower), Upper: Number(r.Upper)}
		s.Words = spreadWords(r)
		d.Random = append(d.Random, s)
	}
	for _, r := range c.Correlations {
		d.Correlations = append(d.Correlations, CohortCorrelation{r.A, r.B, Number(r.Value)})
	}
	for _, e := range c.Carryover {
		d.Carryover = append(d.Carryover, CohortEffect{Name: e.Parameter, Scale: string(e.Scale), Estimate: Number(e.Estimate), SE: Number(e.SE), Lower: Number(e.Lower), Upper: Number(e.Upper), Held: e.Held})
	}
	d.REML = c.REML
	nan := math.NaN()
	d.ResidualSD, d.ResidualLower, d.ResidualUpper = Number(nan), Number(nan), Number(nan)
	if c.Residual.Parameter != "" {
		d.ResidualSD, d.ResidualLower, d.ResidualUpper = Number(c.Residual.Estimate), Number(c.Residual.Lower), Number(c.Residual.Upper)
	}
	d.LogLikelihood, d.LogLikelihoodLn, d.NParameters = Number(c.LogLik), Number(c.LogLikLog), c.NParameters
	d.AIC, d.BIC, d.Status, d.Rung, d.Level, d.IntervalMethod = Number(c.AIC), Number(c.BIC), c.Status.String(), c.Rung, c.Level, c.Interval
	for _, s := range c.Ladder {
		d.Ladder = append(d.Ladder, CohortStep{s.Rung, append([]string{}, s.Random...), s.Status.String(), Number(s.LogLik), s.Why})
	}
	for _, w := range c.Warnings {
		d.Warn(w.Code, w.Text)
	}
}

// spreadWords says what a standard deviation between trainees means.
func spreadWords(r cohort.Deviation) string {
	switch {
	case r.None:
		return "trainees do not differ in it beyond noise"
	case r.Scale == cohort.Log:
		return fmt.Sprintf("two thirds of trainees lie within a factor of %s of the middle", Significant(math.Exp(r.SD), 3))
	}
	return fmt.Sprintf("two thirds of trainees lie within %s of the middle", Significant(r.SD, 3))
}

// project works out every trainee's next attempts and, with a standard, their
// attempts to proficiency.
func (d *Cohort) project(ctx context.Context, ts []cohort.Trainee, o CohortOptions) error {
	c, in, ahead := d.Fit, d.In, o.Ahead
	plan := in.Plan()
	plan.Progress = in.Options.Progress
	ts = slices.DeleteFunc(slices.Clone(ts), func(t cohort.Trainee) bool { return len(t.Attempt) == 0 })
	posts, err := c.Posteriors(ctx, ts, plan)
	if err != nil {
		return err
	}
	for i, m := range c.Members {
		t := CohortTrainee{Trainee: m.ID, Arm: m.Arm, N: m.N, NCensored: m.NCensored, ResidualSD: Number(m.Spread), Projection: []CohortForecast{}, Proficiency: []CohortProficiency{}, Moves: []CohortMove{}}
		for j, name := range c.Parameters {
			p := CohortParameter{name, Number(m.Parameters[j]), 0}
			for a, r := range c.Random {
				if r.Parameter == name && a < len(m.Shrinkage) {
					p.OwnShare = Number(1 - m.Shrinkage[a])
				}
			}
			t.Parameters = append(t.Parameters, p)
		}
		last := slices.Max(ts[i].Attempt)
		t.Projection = forecasts(&posts[i], last+1, ahead, c.Level, d.passFail())
		if !math.IsNaN(in.Question.Standard.Value) {
			t.Proficiency = d.proficiency(&posts[i], m.N, last)
		}
		d.Trainees = append(d.Trainees, t)
	}
	for _, arm := range c.Arms {
		p, err := c.Posteriors(ctx, []cohort.Trainee{d.newcomer(arm)}, plan)
		if err != nil {
			return err
		}
		d.NewTrainees = append(d.NewTrainees, CohortNew{arm, forecasts(&p[0], 1, ahead, c.Level, d.passFail()), []CohortProficiency{}})
	}
	if math.IsNaN(in.Question.Standard.Value) {
		return nil
	}
	return d.projectRule(ctx, ts, o.Early, o.Sessions)
}

// forecasts are of single attempts; of the chance to pass where that is all an
// attempt shows.
func forecasts(p *cohort.Posterior, from float64, ahead int, level float64, passFail bool) []CohortForecast {
	out := []CohortForecast{}
	for k := range ahead {
		n := from + float64(k)
		shares := []float64{(1 - level) / 2, 0.5, (1 + level) / 2}
		var q []float64
		if passFail {
			q = p.MeanQuantiles(n, 0, shares...)
		} else {
			q = p.Quantiles(n, 0, shares...)
		}
		out = append(out, CohortForecast{Number(n), Number(q[1]), Number(q[0]), Number(q[2])})
	}
	return out
}

// question is the study's question as the cohort's.
func (d *Cohort) question() cohort.Question {
	q := d.In.Question
	return cohort.Question{Standard: q.Standard, Horizon: q.Horizon, Chance: q.Chance, Level: d.Level}
}

// definitions are those a cohort can answer.
func Definitions() []string { return []string{"mean-crossing", "pass-chance"} }

func (d *Cohort) proficiency(p *cohort.Posterior, n int, last float64) []CohortProficiency {
	q := d.question()
	noise := d.In.Noise()
	var out []CohortProficiency
	for _, name := range Definitions() {
		at := func(dr *cohort.Draw) float64 {
			if name == "pass-chance" {
				return q.PassChance(noise, dr)
			}
			return q.MeanCrossing(noise, dr)
		}
		v, never := p.Attempts(at, 0.5, (1-q.Level)/2, (1+q.Level)/2)
		out = append(out, CohortProficiency{name, Number(v[0]), Number(v[1]), Number(v[2]), Number(never), crossingStatus([3]float64(v), n, last)})
	}
	return out
}

func (d *Cohort) passFail() bool { return d.Noise == "bernoulli" }

// populate says which share of new trainees is proficient by attempt.
func (d *Cohort) populate(ctx context.Context) error {
	for _, arm := range d.Fit.Arms {
		for _, name := range Definitions() {
			rows, err := d.Fit.Population(ctx, arm, d.question(), name == "pass-chance", d.In.Plan())
			if err != nil {
				return err
			}
			s := CohortShares{Arm: arm, Definition: name}
			for _, r := range rows {
				s.Rows = append(s.Rows, CohortShare{Number(r.Attempt), Number(r.Share), Number(r.Lower), Number(r.Upper)})
			}
			d.Population = append(d.Population, s)
		}
	}
	return nil
}

// leftOut says which attempts are not in the cohort.
func (d *Cohort) leftOut() {
	var fails, blank int
	for _, t := range d.In.Trainees {
		fails += t.Fails
		blank += t.Blank
	}
	if d.NCensored > 0 {
		d.Warn("timeouts-censored", fmt.Sprintf("%d timeouts enter as right-censored at the limit", d.NCensored))
	}
	if fails > 0 {
		d.Warn("fails-apart", fmt.Sprintf("%d hard fails are left out of the curves: their measure is not comparable; what a trainee may yet pass allows for them, the shares of new trainees do not", fails))
	}
	if blank > 0 {
		d.Warn("no-measure", fmt.Sprintf("%d attempts without a measure are left out", blank))
	}
}
