package study

import (
	"context"
	"fmt"
	"math"
	"slices"

	"tyro/analysis/cohort"
)

// A CohortInterval is a way to make intervals of a cohort's parameters.
type CohortInterval string

// The ways.
const (
	ByWald       CohortInterval = "wald"       // estimate ± a multiple of the standard error
	ByProfile    CohortInterval = "profile"    // what a likelihood ratio test does not reject
	ByTrainees   CohortInterval = "trainees"   // percentiles of refits to whole trainees drawn with replacement
	ByParametric CohortInterval = "parametric" // percentiles of refits to cohorts simulated from the fit
)

// CohortIntervals lists the ways.
func CohortIntervals() []CohortInterval {
	return []CohortInterval{ByWald, ByProfile, ByTrainees, ByParametric}
}

// CohortIntervalMade says how intervals were made.
type CohortIntervalMade struct {
	Words              string
	Replicates, Failed int // 0 where there were no refits
}

// A place names a quantity of a cohort's fit.
type place struct{ kind, parameter, arm, covariate string }

// widen puts intervals of the way asked for in the place of Wald's.
func (w *cohortWork) widen(ctx context.Context) error {
	w.c.Interval.Words = w.c.Fit.Interval
	ends := map[place][2]float64{}
	switch w.o.Interval {
	case "", ByWald:
		return nil
	case ByProfile:
		ps, err := w.c.Fit.Profile(ctx)
		if err != nil {
			return err
		}
		for _, p := range ps {
			if math.IsNaN(p.Lower) || math.IsNaN(p.Upper) {
				w.c.Warnings.Add("profile-incomplete", fmt.Sprintf("the profile of %s (%s) did not settle on both sides", p.Parameter, p.Kind))
			}
			ends[place{p.Kind, p.Parameter, p.Arm, p.Covariate}] = [2]float64{p.Lower, p.Upper}
		}
		w.c.Interval.Words = "profile likelihood: what a likelihood ratio test with all else free does not exclude"
	case ByTrainees, ByParametric:
		rows, made, err := w.refitted(ctx, w.o.Interval)
		if err != nil {
			return err
		}
		for _, b := range rows {
			ends[place{b.Kind, b.Parameter, b.Arm, b.Covariate}] = [2]float64{b.Interval.Lower, b.Interval.Upper}
		}
		if slices.ContainsFunc(rows, func(b cohort.Bootstrapped) bool { return b.Interval.Refused() }) {
			w.c.Warnings.Add("bootstrap-refused", fmt.Sprintf("%d of %d refits failed or lost a parameter, too many for some bootstrap intervals", made.Failed, made.Replicates))
		}
		w.c.Interval = made
	default:
		return fmt.Errorf("interval %q: known are wald, profile, trainees and parametric", w.o.Interval)
	}
	w.c.put(ends)
	return nil
}

// put writes intervals over Wald's. An effect that is not identified keeps what the
// fit leaves of its interval: there is no estimate that another way could be about.
func (c *Cohort) put(ends map[place][2]float64) {
	c.Fixed, c.Random = slices.Clone(c.Fixed), slices.Clone(c.Random)
	for i := range c.Fixed {
		e := &c.Fixed[i]
		if v, ok := ends[place{"fixed", e.Parameter, e.Arm, e.Covariate}]; ok && !math.IsNaN(e.Estimate) {
			e.Lower, e.Upper = v[0], v[1]
		}
	}
	for i := range c.Random {
		d := &c.Random[i]
		if v, ok := ends[place{"sd", d.Parameter, "", ""}]; ok {
			d.Lower, d.Upper = v[0], v[1]
		}
	}
	if v, ok := ends[place{"residual", cohort.Spread, "", ""}]; ok {
		c.Residual.Lower, c.Residual.Upper = v[0], v[1]
	}
}

// refitted are the bootstrap intervals of a way, made once a fit, with NaN ends where
// too many refits failed or there is no estimate to be about.
func (w *cohortWork) refitted(ctx context.Context, way CohortInterval) ([]cohort.Bootstrapped, CohortIntervalMade, error) {
	draw, from := w.c.Fit.Cohort.Bootstrap, "whole trainees drawn with replacement within arms, a trainee drawn twice being two people"
	if way == ByParametric {
		draw, from = w.c.Fit.ParametricBootstrap, "cohorts simulated from the fit"
	}
	rows, err := w.c.Fit.refits[way].get(ctx, func() ([]cohort.Bootstrapped, error) { return draw(ctx, w.cut()) })
	if err != nil {
		return nil, CohortIntervalMade{}, err
	}
	rows = slices.Clone(rows)
	var made CohortIntervalMade
	for i := range rows {
		iv := &rows[i].Interval
		made.Replicates, made.Failed = iv.Replicates+iv.Failed, max(made.Failed, iv.Failed)
		if iv.Refused() || math.IsNaN(rows[i].Estimate) {
			iv.Lower, iv.Upper = math.NaN(), math.NaN()
		}
	}
	made.Words = fmt.Sprintf("percentiles of refits to %s; %d refits, of which %d failed", from, made.Replicates, made.Failed)
	return rows, made, nil
}

// redraw adds bootstrap intervals beside the others.
func (w *cohortWork) redraw(ctx context.Context) error {
	if !w.o.Bootstrap {
		return nil
	}
	rows, _, err := w.refitted(ctx, ByTrainees)
	if err != nil {
		return err
	}
	for _, b := range rows {
		if iv := b.Interval; iv.Refused() {
			w.c.Warnings.Add("bootstrap-refused", fmt.Sprintf("%d of %d refits failed or lost a parameter, too many for bootstrap intervals", iv.Failed, iv.Replicates+iv.Failed))
		}
	}
	w.c.Bootstrap = rows
	return nil
}
