package cohort

import (
	"context"
	"math"

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
	one, err := c.imagine(arm, cards, people, 1, sampling.Seed)
	if err != nil {
		return err
	}
	return imagineAll(ctx, []*imagined{one}, sampling, visit)
}

// NewTrainees does so by all models together: each stands for as many people as its weight says.
// Where there are two classes of trainees, new ones come from these alone, in the proportion seen
// in the arm; draws allow for how few trainees show it.
func (b *Blend) NewTrainees(ctx context.Context, arm string, cards, people int, sampling resample.Sampling, visit func(card int, people []Draw) error) error {
	weights, trainees := b.comeFrom(arm)
	var all []*imagined
	for m, c := range b.Of {
		many := weights[m]
		switch {
		case b.Class != nil && b.Class[m] != nil:
			many = math.Max(many, leastOfClass) // nobody of the arm was of it, but somebody may be
		case many == 0:
			continue
		}
		one, err := c.imagine(arm, cards, int(math.Ceil(many*float64(people))), weights[m], sampling.Seed)
		if err != nil {
			return err
		}
		all = append(all, one)
	}
	if b.Class != nil {
		dealClasses(all, trainees, cards, sampling.Seed)
	}
	return imagineAll(ctx, all, sampling, visit)
}

// leastOfClass is the least share of the people imagined that stands for a class.
const leastOfClass = 1.0 / 16

// comeFrom says from which models new trainees of an arm come, with weights that sum to 1. total is
// what they were in sum: where there are classes the trainees of the arm.
func (b *Blend) comeFrom(arm string) (out []float64, total float64) {
	out = make([]float64, len(b.Of))
	for m := range out {
		switch {
		case b.Class != nil:
			out[m] = float64(b.Class[m][arm])
		case b.Weights[m] >= leastWeight:
			out[m] = b.Weights[m]
		}
		total += out[m]
	}
	for m := range out {
		out[m] /= total
	}
	return out, total
}

// dealClasses draws the shares of two classes for every card, from the beta distribution that
// their numbers leave (Jeffreys' prior).
func dealClasses(pair []*imagined, trainees float64, cards int, seed uint64) {
	for _, g := range pair {
		g.shares = make([]float64, cards+1)
		g.shares[0] = g.share
	}
	for card := 1; card <= cards; card++ {
		r := resample.Stream(seed, "cohort/classes", card)
		first := distuv.Beta{Alpha: pair[0].share*trainees + 0.5, Beta: pair[1].share*trainees + 0.5, Src: r}.Rand()
		pair[0].shares[card], pair[1].shares[card] = first, 1-first
	}
}

// Newcomers are the new trainees that one cohort's curve expects, or several together.
type Newcomers interface {
	NewTrainees(ctx context.Context, arm string, cards, people int, sampling resample.Sampling, visit func(card int, people []Draw) error) error
}

// imagined are the new trainees of one model, who have a share of the weight together.
type imagined struct {
	m          *model
	rec        record
	thetas     deck // the estimates first
	deviations []vector
	share      float64
	shares     []float64 // by card; nil: the same
}

func (c *Cohort) imagine(arm string, cards, people int, share float64, seed uint64) (*imagined, error) {
	rec, err := c.m.record(Trainee{ID: "a new trainee", Arm: arm, Covariates: make([]float64, len(c.m.spec.Covariates))})
	if err != nil {
		return nil, err
	}
	thetas := append(deck{c.told()}, c.deal(seed, "cohort parameters", cards)...)
	return &imagined{m: c.m, rec: rec, thetas: thetas, deviations: evenly(people, len(c.m.random)), share: share}, nil
}

// people adds those under a draw of the parameters.
func (g *imagined) people(card int, to []Draw) []Draw {
	share := g.share
	if g.shares != nil {
		share = g.shares[card]
	}
	eta0, l := g.m.eta(&g.rec, g.thetas[card]), g.m.factor(g.thetas[card])
	for i := range g.deviations {
		e := eta0
		g.m.addDeviation(&e, &l, &g.deviations[i])
		d := Draw{Weight: share / float64(len(g.deviations)), Curve: g.m.curve(&e), Spread: g.m.spreadAt(&e), on: g.m.on}
		if g.m.spec.Carry != CarryNone {
			d.wander = g.m.unseen(&e)
		}
		to = append(to, d)
	}
	return to
}

func imagineAll(ctx context.Context, all []*imagined, sampling resample.Sampling, visit func(card int, people []Draw) error) error {
	return resample.Each(ctx, len(all[0].thetas), sampling, func() func(int) error {
		var draws []Draw
		return func(card int) error {
			draws = draws[:0]
			for _, g := range all {
				draws = g.people(card, draws)
			}
			return visit(card, draws)
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
