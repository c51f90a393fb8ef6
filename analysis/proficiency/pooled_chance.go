package proficiency

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"tyro/analysis"
	"tyro/analysis/cohort"
	"tyro/analysis/resample"
	"tyro/models"
)

// A pooledChance is the chance of a yes that each attempt may give, with
// trainees partially pooled on the logit scale, or one share for everybody
// where yes and no do not mix enough to tell trainees apart. The zero value means
// probability 1.
type pooledChance struct {
	cohort *cohort.Keeper // nil: the share serves all
	yes, n float64        // counts behind the share; n is 0 where yes is certain

	fit      *cohort.Cohort     // of the keeper
	warnings []analysis.Warning // of the fit
}

// enoughMixed is how many of each answer a fit needs: common practice, no source.
const enoughMixed = 3

// learnChance fits the chance to series of 0 and 1. The family says how it moves
// with practice; where it cannot be fitted a constant is tried.
func learnChance(ctx context.Context, ts []cohort.Trainee, family models.Family, watch func(cohort.Work, cohort.Spec, []cohort.Trainee)) (pooledChance, error) {
	var c pooledChance
	arms := map[string][2]int{}
	for _, t := range ts {
		count := arms[t.Arm]
		for _, y := range t.Response {
			c.n++
			c.yes += y
			count[int(y)]++
		}
		arms[t.Arm] = count
	}
	if c.yes == c.n {
		return pooledChance{}, nil
	}
	if math.Min(c.yes, c.n-c.yes) < enoughMixed {
		return c, nil
	}
	byArm := len(arms) > 1
	for _, count := range arms {
		byArm = byArm && min(count[0], count[1]) >= enoughMixed
	}
	for _, f := range []models.Family{family, models.Constant()} {
		spec := cohort.Spec{Family: f, Noise: models.Bernoulli{}, Watch: watch}
		if byArm {
			for _, p := range f.Params() {
				spec.ArmEffect = append(spec.ArmEffect, p.Name)
			}
		}
		fitted, err := cohort.Run(ctx, ts, spec)
		if ctx.Err() != nil {
			return c, ctx.Err()
		}
		if err == nil && fitted.Rung != cohort.RungTwoStage && known(fitted.Fixed) {
			c.fit, c.cohort, c.warnings = fitted, fitted.Keep(), fitted.Warnings
			return c, nil
		}
	}
	return c, nil
}

// known reports whether every fixed effect has a standard error that leaves it
// some meaning on the logit scale.
func known(effects []cohort.Effect) bool {
	return !slices.ContainsFunc(effects, func(e cohort.Effect) bool { return !(e.SE < 3) })
}

// posteriors are what the chance is for each of the series; nil without a
// cohort.
func (c *pooledChance) posteriors(ctx context.Context, ts []cohort.Trainee, sampling resample.Sampling) ([]cohort.Posterior, error) {
	if c.cohort == nil {
		return nil, nil
	}
	return c.cohort.Posteriors(ctx, ts, sampling)
}

// attach makes every way of passing ask for the yes as well.
func (c *pooledChance) attach(ways []way, posts []cohort.Posterior, i int, r *rand.Rand) {
	if c.n == 0 {
		return
	}
	var curves []cohort.Draw
	if c.cohort != nil {
		curves = deal(posts[i].Draws, len(ways), r)
	}
	for j := range ways {
		switch {
		case c.cohort == nil:
			ways[j].share *= c.share(r)
		case curves[j].Curve.Gain == 0:
			ways[j].share *= models.Bernoulli{}.Mean(curves[j].Curve.Plateau)
		default:
			ways[j].also = append(ways[j].also, curves[j].Curve)
		}
	}
}

// share draws the share of yes from its posterior under Jeffreys' prior, beta
// with yes + ½ and no + ½.
func (c *pooledChance) share(r *rand.Rand) float64 {
	return distuv.Beta{Alpha: c.yes + 0.5, Beta: c.n - c.yes + 0.5, Src: r}.Rand()
}

// quartet is the median and the ends of an interval of equally likely attempts,
// and the share that never get there.
func quartet(values []float64, level float64) (at [3]float64, never float64) {
	slices.Sort(values)
	for _, v := range values {
		if math.IsInf(v, 1) {
			never += 1 / float64(len(values))
		}
	}
	for k, p := range []float64{0.5, (1 - level) / 2, (1 + level) / 2} {
		at[k] = values[max(0, int(math.Ceil(p*float64(len(values))-1e-9))-1)]
	}
	return at, never
}
