package cohort

import (
	"context"
	"math/rand/v2"
	"slices"
	"strconv"

	"tyro/analysis/resample"
)

// Without fits the same attempts again with arms alike in the named parameters. Its
// likelihood can be set against that of c only on the same rung and method.
func (c *Cohort) Without(ctx context.Context, effects []string) (*Cohort, error) {
	if err := c.withAttempts(); err != nil {
		return nil, err
	}
	spec := c.m.spec
	spec.ArmEffect = slices.DeleteFunc(slices.Clone(spec.ArmEffect), func(n string) bool { return slices.Contains(effects, n) })
	return Run(ctx, c.trainees, spec)
}

// ArmEffects are the parameters that differ between arms in the fit.
func (c *Cohort) ArmEffects() []string { return slices.Clone(c.m.spec.ArmEffect) }

// Redrawn draws whole trainees with replacement within arms, as [Cohort.Bootstrap] does,
// refits each draw and reads numbers off it: a row a replicate, nil where the refit ended
// without a joint likelihood.
func (c *Cohort) Redrawn(ctx context.Context, sampling resample.Sampling, read func(*Cohort) ([]float64, error)) ([][]float64, error) {
	if err := c.withAttempts(); err != nil {
		return nil, err
	}
	groups := make([][]int, len(c.Arms))
	for i, t := range c.trainees {
		a := slices.Index(c.Arms, t.Arm)
		groups[a] = append(groups[a], i)
	}
	spec := c.m.spec
	spec.Workers = 1
	return resample.Replicate(ctx, sampling, "whole trainees, read", func() func(*rand.Rand) []float64 {
		return func(r *rand.Rand) []float64 {
			var ts []Trainee
			for _, g := range resample.Within(r, groups) {
				for _, i := range g {
					t := c.trainees[i]
					t.ID = strconv.Itoa(len(ts))
					ts = append(ts, t)
				}
			}
			again, err := Run(ctx, ts, spec)
			if err != nil || again.Rung == RungTwoStage {
				return nil
			}
			row, err := read(again)
			if err != nil {
				return nil
			}
			return row
		}
	})
}
