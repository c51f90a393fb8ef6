package cohort

import (
	"context"
	"math"

	"tyro/analysis/resample"
)

// A Blend predicts by several cohorts' curves at once, each fitted to the same trainees, in
// proportion to how well it foresees.
type Blend struct {
	Of []*Cohort
	Stacking
}

// leastWeight is the weight of a model below which it is not asked.
const leastWeight = 0.02

// fewestCards is the least number of draws of each cohort's parameters: a model with a small
// weight needs few.
const fewestCards = 8

// Posteriors are as those of [Cohort.Posteriors], the draws of all models together. A trainee's
// own attempts move the weights of the models.
func (b *Blend) Posteriors(ctx context.Context, ts []Trainee, sampling resample.Sampling) ([]Posterior, error) {
	return b.posteriors(ctx, ts, memberCards, sampling)
}

// posteriors does so with a number of draws of each cohort's parameters for trainees with
// attempts.
func (b *Blend) posteriors(ctx context.Context, ts []Trainee, few int, sampling resample.Sampling) ([]Posterior, error) {
	out := make([]Posterior, len(ts))
	lead := make([][]float64, len(ts))
	logs := make([]float64, len(b.Of))
	parts := make([][]Posterior, len(b.Of))
	for m, c := range b.Of {
		logs[m] = math.Log(b.Weights[m])
		if b.Weights[m] < leastWeight {
			logs[m] = math.Inf(-1)
			continue
		}
		var err error
		share := min(few, max(fewestCards, int(math.Ceil(2*b.Weights[m]*float64(few)))))
		if parts[m], err = c.posteriors(ctx, ts, share, sampling); err != nil {
			return nil, err
		}
	}
	for i, t := range ts {
		lead[i] = make([]float64, len(b.Of))
		for m, c := range b.Of {
			if parts[m] == nil || len(t.Attempt) == 0 || b.Trust == 0 {
				continue
			}
			evidence, err := c.evidence(t)
			if err != nil {
				return nil, err
			}
			lead[i][m] = b.Trust * evidence
		}
		share := shares(logs, lead[i])
		card, squares := 0, 0.0
		for m := range b.Of {
			if parts[m] == nil {
				continue
			}
			last := card
			for _, d := range parts[m][i].Draws {
				d.Weight *= share[m]
				last = card + d.Card
				out[i].Draws = append(out[i].Draws, d)
				out[i].Draws[len(out[i].Draws)-1].Card = last
				squares += d.Weight * d.Weight
			}
			card = last + 1
		}
		out[i].Effective = 1 / squares
	}
	return out, nil
}

// evidence is the log density of a trainee's attempts under the cohort.
func (c *Cohort) evidence(t Trainee) (float64, error) {
	rec, err := c.m.record(t)
	if err != nil {
		return 0, err
	}
	l := c.m.factor(c.theta)
	var mo mode
	return rec.jac - c.m.laplace(&rec, c.theta, &l, &mo, nil), nil
}
