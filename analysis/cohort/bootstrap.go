package cohort

import (
	"context"
	"math"
	"math/rand/v2"
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
	groups := make([][]int, len(c.Arms))
	for i, t := range c.trainees {
		for a, arm := range c.Arms {
			if t.Arm == arm {
				groups[a] = append(groups[a], i)
			}
		}
	}
	return c.refit(ctx, sampling, "whole trainees", func(r *rand.Rand) []Trainee {
		var ts []Trainee
		for _, g := range resample.Within(r, groups) {
			for _, i := range g {
				t := c.trainees[i]
				t.ID = strconv.Itoa(len(ts))
				ts = append(ts, t)
			}
		}
		return ts
	})
}

// ParametricBootstrap refits cohorts drawn by [Cohort.Simulate] and takes
// percentiles, as [Cohort.Bootstrap] does.
func (c *Cohort) ParametricBootstrap(ctx context.Context, sampling resample.Sampling) ([]Bootstrapped, error) {
	return c.refit(ctx, sampling, "simulated cohorts", c.Simulate)
}

func (c *Cohort) refit(ctx context.Context, sampling resample.Sampling, purpose string, draw func(*rand.Rand) []Trainee) ([]Bootstrapped, error) {
	if err := c.withAttempts(); err != nil {
		return nil, err
	}
	spec := c.m.spec
	spec.Workers = 1
	quantities := c.quantities()
	rows, err := resample.Replicate(ctx, sampling, purpose, func() func(*rand.Rand) []float64 {
		return func(r *rand.Rand) []float64 {
			out := make([]float64, len(quantities))
			for j := range out {
				out[j] = math.NaN()
			}
			got, err := Run(ctx, draw(r), spec)
			if err != nil || got.Rung == RungTwoStage {
				return out
			}
			for _, q := range got.quantities() {
				for j, w := range quantities {
					if q.Kind == w.Kind && q.Parameter == w.Parameter && q.Arm == w.Arm && q.Covariate == w.Covariate {
						out[j] = q.raw
					}
				}
			}
			return out
		}
	})
	if err != nil {
		return nil, err
	}
	column := make([]float64, len(rows))
	for j := range quantities {
		for i, r := range rows {
			column[i] = r[j]
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
