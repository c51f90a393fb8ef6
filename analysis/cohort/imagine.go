package cohort

import (
	"context"

	"gonum.org/v1/gonum/stat/distuv"

	"tyro/analysis/resample"
)

// NewTrainees imagines new trainees of an arm, people of them, equally likely:
// once for the cohort's estimates and once for each of cards draws of its
// parameters about them. visit is called with 0 for the estimates and 1 to cards
// for the draws, from several goroutines, and must not keep the slice. The
// people are the same every time, so that draws differ by the parameters alone;
// they are spread evenly over the population by Halton's sequence (1960,
// Numerische Mathematik 2, 84-90), which leaves less to chance than drawing them.
// Covariates are at 0, and nobody comes from a break.
func (c *Cohort) NewTrainees(ctx context.Context, arm string, cards, people int, sampling resample.Sampling, visit func(card int, people []Draw) error) error {
	rec, err := c.m.record(Trainee{ID: "a new trainee", Arm: arm, Covariates: make([]float64, len(c.m.spec.Covariates))})
	if err != nil {
		return err
	}
	thetas := append(deck{c.theta}, c.deal(sampling.Seed, "cohort parameters", cards)...)
	deviations := evenly(people, len(c.m.random))
	return resample.Each(ctx, len(thetas), sampling, func() func(int) error {
		draws := make([]Draw, people)
		return func(s int) error {
			eta0, l := c.m.eta(&rec, thetas[s]), c.m.factor(thetas[s])
			for i := range draws {
				e := eta0
				c.m.addDeviation(&e, &l, &deviations[i])
				draws[i] = Draw{Weight: 1 / float64(people), Curve: c.m.curve(&e), Spread: c.m.spreadAt(&e), on: c.m.on}
			}
			return visit(s, draws)
		}
	})
}

// primes are the bases of Halton's sequence, one a dimension.
var primes = [...]int{2, 3, 5, 7, 11, 13, 17, 19}

// evenly spreads n standard normal vectors of k dimensions.
func evenly(n, k int) []vector {
	out := make([]vector, n)
	for i := range out {
		for a := range k {
			out[i][a] = distuv.UnitNormal.Quantile(radicalInverse(i+1, primes[a]))
		}
	}
	return out
}

// radicalInverse mirrors the digits of i in the base at the point.
func radicalInverse(i, base int) float64 {
	v, place := 0.0, 1/float64(base)
	for ; i > 0; i /= base {
		v += float64(i%base) * place
		place /= float64(base)
	}
	return v
}
