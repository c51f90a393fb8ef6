package study

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"tyro/analysis/cohort"
	"tyro/analysis/fit"
	"tyro/analysis/practice"
	"tyro/analysis/proficiency"
)

// MinCohort is the fewest trainees from whom a cohort's curve is drawn unasked.
const MinCohort = 6

// CohortSpec is what can be chosen of a cohort's curve; the zero value of a field
// means its default.
type CohortSpec struct {
	Random       []string // what differs between trainees; nil: every parameter of the curve
	Uncorrelated bool
	Scale        map[string]cohort.Scale
	Covariates   []practice.Covariate // nil: the study's own
	ArmEffect    []string             // nil: what differs between trainees, where there are arms
	Method       cohort.Method
	Sessions     bool // the curve has a restart: a shift after a break between sessions
	REML         bool
	Carry        cohort.Carry // what residuals carry over
	// Weigh leaves what is not settled of the curve, the noise, and what differs between trainees,
	// to how well models foresee later attempts; projections are then by those near the best,
	// weighted. A noise that the study's options name is settled too.
	Weigh    bool
	OneModel bool // all trainees are one group, without a look for classes
	Settled  cohort.Settled
}

// A CohortFit is all trainees fitted together.
type CohortFit struct {
	*cohort.Cohort
	Spec       CohortSpec
	People     []practice.Trainee // those with attempts, in the order of the fit's members, with their columns
	Columns    []Column           // of the covariates
	Covariates []CovariateUse
	Selection  []CohortCandidate // where the family was left to the data
	Chosen     *cohort.Chosen    // where models were weighed; the fit is the one that foresees best
	Warnings   Warnings

	known  *cohort.Keeper // what is known of its trainees
	coming cohort.Newcomers
	from   *SavedFit // that it was read from; nil where it was made here
	pooled answer[*proficiency.Pooled]
	refits map[CohortInterval]*answer[[]cohort.Bootstrapped]
}

// A CohortCandidate is a family's standing in the choice.
type CohortCandidate struct {
	Family string
	AIC    float64
	Rung   string
}

// Cohort is the curve of all trainees together with the study's own choices, fitted
// once, with two classes of trainees where these are evident. Few trainees, or such as cannot be fitted
// together, are an error.
func (s *Study) Cohort(ctx context.Context) (*CohortFit, error) {
	return s.cohort.get(ctx, func() (*CohortFit, error) {
		if s.Options.Weigh {
			return s.fitEnough(ctx, CohortSpec{Weigh: true})
		}
		one, err := s.oneModel(ctx)
		if err != nil {
			return nil, err
		}
		return s.withClasses(ctx, one)
	})
}

// oneModel is the cohort's curve by one model with the usual settings: what arms are compared by,
// so that what is compared does not hang on what foretells best.
func (s *Study) oneModel(ctx context.Context) (*CohortFit, error) {
	return s.one.get(ctx, func() (*CohortFit, error) { return s.fitEnough(ctx, CohortSpec{}) })
}

// fitEnough fits a cohort where there are trainees enough to do so unasked.
func (s *Study) fitEnough(ctx context.Context, o CohortSpec) (*CohortFit, error) {
	if n := len(s.Trainees); n < MinCohort {
		return nil, fmt.Errorf("%d trainees are fewer than the %d needed to fit them together", n, MinCohort)
	}
	return s.FitCohort(ctx, o)
}

// withClasses is a fit with two classes of trainees behind its projections; the fit itself where none are evident.
func (s *Study) withClasses(ctx context.Context, c *CohortFit) (*CohortFit, error) {
	chosen, err := c.Cohort.Classes(ctx, s.shown())
	if err != nil || chosen == nil {
		return c, err
	}
	out := &CohortFit{
		Cohort: c.Cohort, Spec: c.Spec, People: c.People, Columns: c.Columns, Covariates: c.Covariates, Selection: c.Selection,
		Chosen: chosen, known: chosen.Keep(), coming: chosen, refits: c.refits,
	}
	out.Warnings.With(c.Warnings)
	out.sayClasses()
	return out, nil
}

// Apart is how many trainees are of the smaller of two classes; 0 where they learn as one group.
func (c *CohortFit) Apart() int {
	least := 0
	if c.Chosen == nil {
		return 0
	}
	for _, of := range c.Chosen.Class {
		n := 0
		for _, v := range of {
			n += v
		}
		if n > 0 && (least == 0 || n < least) {
			least = n
		}
	}
	return least
}

// sayClasses says that there are two classes, where there are.
func (c *CohortFit) sayClasses() {
	if n := c.Apart(); n > 0 {
		c.Warnings.Add("two-classes", fmt.Sprintf("trainees do not learn as one group: %d of %d learn unlike the others. Projections and quotas count with both groups; a new trainee may be of either. Find out what sets them apart before you plan with one number", n, len(c.People)))
	}
}

// Pooled answers for single trainees, with the cohort behind them.
func (s *Study) Pooled(ctx context.Context) (*proficiency.Pooled, error) {
	c, err := s.Cohort(ctx)
	if err != nil {
		return nil, err
	}
	return s.Pool(ctx, c)
}

// Pool makes a fitted cohort ready to answer for single trainees, once.
func (s *Study) Pool(ctx context.Context, c *CohortFit) (*proficiency.Pooled, error) {
	return c.pooled.get(ctx, func() (*proficiency.Pooled, error) {
		if c.from != nil {
			return s.keptPool(c)
		}
		return proficiency.Pool(ctx, c.known, c.Spec.Sessions, c.People, s.Question)
	})
}

// asked is the fit of a choice: the study's own, fitted once, where nothing is chosen.
func (s *Study) asked(ctx context.Context, o CohortSpec) (*CohortFit, error) {
	o.Weigh = o.Weigh || s.Options.Weigh
	switch {
	case !o.usual() || len(s.Trainees) < MinCohort:
		return s.FitCohort(ctx, o)
	case o.OneModel:
		return s.oneModel(ctx)
	case o.Weigh == s.Options.Weigh:
		return s.Cohort(ctx)
	}
	return s.FitCohort(ctx, o)
}

// usual reports whether every choice, beside weighing, is the default.
func (o CohortSpec) usual() bool {
	return o.Random == nil && !o.Uncorrelated && len(o.Scale) == 0 && o.Covariates == nil && o.ArmEffect == nil &&
		(o.Method == "" || o.Method == cohort.Laplace) && !o.Sessions && !o.REML && o.Carry == cohort.CarryNone && o.Settled == (cohort.Settled{})
}

// FitCohort fits all trainees together: every candidate curve, of which the one with
// the lowest AIC is taken among those on a joint likelihood.
func (s *Study) FitCohort(ctx context.Context, o CohortSpec) (*CohortFit, error) {
	if o.Covariates == nil {
		o.Covariates = s.Covariates
	}
	out := &CohortFit{Spec: o}
	out.enter(s.Trainees)
	breaks := slices.ContainsFunc(out.People, func(t practice.Trainee) bool {
		return t.Number(func(a practice.Attempt) bool { return a.Since > 0 }) > 0
	})
	asked := o
	if o.Weigh {
		o.Sessions = o.Sessions || breaks && !o.Settled.Random
		out.Spec = o
	}
	if o.Sessions && !breaks {
		return nil, errors.New("no trainee has a second session, so the restart after a break cannot be estimated")
	}
	if len(s.Specs) == 0 {
		return nil, errors.New("no curve is to be fitted, so there is no cohort's curve either")
	}
	specs, err := s.cohortSpecs(o, out.Columns)
	if err != nil {
		return nil, err
	}
	if o.REML && len(specs) > 1 {
		return nil, errors.New("REML likelihoods of different families do not compare: name a --family")
	}
	series := out.series()
	if o.Weigh {
		if done, err := s.weigh(ctx, out, series, specs); done || err != nil {
			return out, err
		}
		asked.Weigh = false
		plain, err := s.FitCohort(ctx, asked)
		if err == nil {
			plain.Warnings.With(out.Warnings)
		}
		return plain, err
	}
	if specs, err = out.leftByTrial(ctx, series, specs); err != nil {
		return nil, err
	}
	if err := out.choose(ctx, series, specs); err != nil {
		return nil, err
	}
	out.known, out.coming = out.Cohort.Keep(), out.Cohort
	s.fitted(out)
	return out, nil
}

// fitted completes a fit.
func (s *Study) fitted(c *CohortFit) {
	if left := len(s.Trainees) - len(c.People); left > 0 {
		c.Warnings.Add("no-attempts", counted(left, "trainee without usable attempts is", "trainees without usable attempts are")+" left out")
	}
	c.Warnings.With(c.Cohort.Warnings)
	c.refits = map[CohortInterval]*answer[[]cohort.Bootstrapped]{ByTrainees: {}, ByParametric: {}}
}

// enter takes the trainees with attempts, and gives each the columns of the
// covariates.
func (c *CohortFit) enter(all []practice.Trainee) {
	var ids []string
	for _, t := range all {
		if t.Number(practice.Attempt.Measured) > 0 {
			c.People, ids = append(c.People, t), append(ids, t.ID)
		}
	}
	for _, v := range c.Spec.Covariates {
		use := useOf(v, ids)
		columns, _ := use.columns(v, ids) // its own levels: none is unknown
		c.Columns, c.Covariates = append(c.Columns, columns...), append(c.Covariates, use)
	}
	c.giveColumns()
}

// giveColumns gives each of the people the columns of the covariates.
func (c *CohortFit) giveColumns() {
	for i := range c.People {
		c.People[i].Columns = nil
		for _, col := range c.Columns {
			c.People[i].Columns = append(c.People[i].Columns, col.Value[c.People[i].ID])
		}
	}
}

// choose fits every candidate.
func (c *CohortFit) choose(ctx context.Context, series []cohort.Trainee, specs []cohort.Spec) error {
	var failed error
	for _, spec := range specs {
		one, err := cohort.Run(ctx, series, spec)
		if err != nil {
			if len(specs) == 1 || ctx.Err() != nil {
				return err
			}
			failed = err
			c.Warnings.Add("family-left-out", fmt.Sprintf("the %s curve is not among the candidates: %v", spec.Family.Name(), err))
			continue
		}
		if len(specs) > 1 {
			c.Selection = append(c.Selection, CohortCandidate{one.Family, one.AIC, one.Rung})
		}
		joint := func(f *cohort.Cohort) bool { return f.Rung != cohort.RungTwoStage }
		if best := c.Cohort; best == nil || joint(one) && (!joint(best) || one.AIC < best.AIC) {
			c.Cohort = one
		}
	}
	if c.Cohort == nil {
		return failed
	}
	return nil
}

// cohortSpecs turns the choices into the candidates to fit.
func (s *Study) cohortSpecs(o CohortSpec, columns []Column) ([]cohort.Spec, error) {
	named := func(n string) bool {
		_, scaled := o.Scale[n]
		held := slices.ContainsFunc(s.Options.Hold, func(h fit.Hold) bool { return h.Name == n })
		acts := slices.ContainsFunc(columns, func(c Column) bool { return slices.Contains(c.On, n) })
		return acts || scaled || held || slices.Contains(o.Random, n) || slices.Contains(o.ArmEffect, n)
	}
	if named("start") && named("gain") {
		return nil, errors.New("start takes the place of gain: name one of them")
	}
	if o.Method == cohort.Quadrature && len(o.Random) > 3 {
		return nil, fmt.Errorf("quadrature is offered for up to three random parameters, %d are named; use --method laplace", len(o.Random))
	}
	var out []cohort.Spec
	for _, f := range s.Specs {
		if s.FamilyChosen() && !f.Family.HasGain() && !o.Weigh {
			continue // nobody asks a cohort whether anything is learnt at all
		}
		spec := cohort.Spec{
			Family: f.Family, Noise: f.Noise, UseStart: named("start"), Scale: o.Scale, Random: o.Random, Uncorrelated: o.Uncorrelated,
			ArmEffect: o.ArmEffect, Hold: s.Options.Hold, Sessions: o.Sessions, Method: o.Method, REML: o.REML, Carry: o.Carry,
			Level: s.Options.Level, Workers: s.Options.Workers, Watch: s.Options.Watch.Cohort,
		}
		for _, c := range columns {
			spec.Covariates = append(spec.Covariates, cohort.Covariate{Name: c.Name, On: c.On})
		}
		if s.FamilyChosen() {
			spec = forFamily(spec)
		}
		if o.ArmEffect == nil && len(s.Arms) > 1 {
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
