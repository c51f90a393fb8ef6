package cohort

import (
	"context"
	"slices"
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
