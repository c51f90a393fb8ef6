package cohort

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"strconv"

	"tyro/analysis/resample"
)

// A Bootstrapped is a quantity of a fit with its interval from refits to drawn
// cohorts.
type Bootstrapped struct {
	Kind      string // "fixed", "sd" or "residual"
	Parameter string
	Arm       string
	Covariate string
	Estimate  float64 // NaN where it is not identified
	Interval  resample.Interval

	raw float64
}

// Bootstrap draws whole trainees with replacement within arms, every drawn one
// a new person, refits from the start, and takes percentiles. A refit that ends
// without a joint likelihood counts as failed; above the share that
// [resample.Interval.Refused] names the interval is refused.
func (c *Cohort) Bootstrap(ctx context.Context, sampling resample.Sampling) ([]Bootstrapped, error) {
	return c.refit(ctx, sampling, "whole trainees", c.drawPeople)
}

// drawPeople draws whole trainees with replacement within arms, every drawn one a new person.
func (c *Cohort) drawPeople(r *rand.Rand) []Trainee {
	groups := make([][]int, len(c.Arms))
	for i, t := range c.trainees {
		if a := slices.Index(c.Arms, t.Arm); a >= 0 {
			groups[a] = append(groups[a], i)
		}
	}
	var ts []Trainee
	for _, g := range resample.Within(r, groups) {
		for _, i := range g {
			t := c.trainees[i]
			t.ID = strconv.Itoa(len(ts))
			ts = append(ts, t)
		}
	}
	return ts
}

// ParametricBootstrap refits cohorts drawn by [Cohort.Simulate] and takes
// percentiles, as [Cohort.Bootstrap] does.
func (c *Cohort) ParametricBootstrap(ctx context.Context, sampling resample.Sampling) ([]Bootstrapped, error) {
	return c.refit(ctx, sampling, "simulated cohorts", c.Simulate)
}

// Redrawn refits cohorts of whole trainees drawn as [Cohort.Bootstrap] draws them and reads
// numbers off each fit: a row a replicate, nil where the refit ended without a joint
// likelihood or read fails.
func (c *Cohort) Redrawn(ctx context.Context, sampling resample.Sampling, read func(*Cohort) ([]float64, error)) ([][]float64, error) {
	return c.refitted(ctx, sampling, "whole trainees, read", c.drawPeople, read)
}

func (c *Cohort) refitted(ctx context.Context, sampling resample.Sampling, purpose string, draw func(*rand.Rand) []Trainee, read func(*Cohort) ([]float64, error)) ([][]float64, error) {
	if err := c.withAttempts(); err != nil {
		return nil, err
	}
	spec := c.m.spec
	spec.Workers = 1
	return resample.Replicate(ctx, sampling, purpose, func() func(*rand.Rand) []float64 {
		return func(r *rand.Rand) []float64 {
			got, err := Run(ctx, draw(r), spec)
			if err != nil || got.Rung == RungTwoStage {
				return nil
			}
			row, err := read(got)
			if err != nil {
				return nil
			}
			return row
		}
	})
}

func (c *Cohort) refit(ctx context.Context, sampling resample.Sampling, purpose string, draw func(*rand.Rand) []Trainee) ([]Bootstrapped, error) {
	quantities := c.quantities()
	rows, err := c.refitted(ctx, sampling, purpose, draw, func(got *Cohort) ([]float64, error) {
		out := make([]float64, len(quantities))
		for j := range out {
			out[j] = math.NaN()
		}
		for _, q := range got.quantities() {
			for j, w := range quantities {
				if q.Kind == w.Kind && q.Parameter == w.Parameter && q.Arm == w.Arm && q.Covariate == w.Covariate {
					out[j] = q.raw
				}
			}
		}
		return out, nil
	})
	if err != nil {
		return nil, err
	}
	column := make([]float64, len(rows))
	for j := range quantities {
		for i, r := range rows {
			if column[i] = math.NaN(); r != nil {
				column[i] = r[j]
			}
		}
		quantities[j].Interval = resample.PercentileInterval(column, c.Level)
	}
	return quantities, nil
}

// quantities lists what a bootstrap follows.
func (f *Fit) quantities() []Bootstrapped {
	var out []Bootstrapped
	for _, e := range f.Fixed {
		if !e.Held {
			out = append(out, Bootstrapped{Kind: "fixed", Parameter: e.Parameter, Arm: e.Arm, Covariate: e.Covariate, Estimate: e.Estimate, raw: e.raw})
		}
	}
	for _, d := range f.Random {
		out = append(out, Bootstrapped{Kind: "sd", Parameter: d.Parameter, Estimate: d.SD, raw: d.SD})
	}
	if f.Residual.Parameter != "" {
		out = append(out, Bootstrapped{Kind: "residual", Parameter: Spread, Estimate: f.Residual.Estimate, raw: f.Residual.Estimate})
	}
	return out
}
