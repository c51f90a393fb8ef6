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

// leastWeight is the weight of a model below which it is not asked, leastShare that in one trainee's posterior
// below which its draws are left out.
const (
	leastWeight = 0.02
	leastShare  = 1e-12
)

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
	fresh := b.freshFrom(ts)
	for m, c := range b.Of {
		weight := b.Weights[m]
		if logs[m] = math.Log(weight); weight < leastWeight {
			logs[m] = math.Inf(-1)
		}
		for _, of := range fresh {
			weight = math.Max(weight, of[m])
		}
		if weight < leastWeight {
			continue
		}
		var err error
		share := min(few, max(fewestCards, int(math.Ceil(2*weight*float64(few)))))
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
		if of, known := fresh[t.Arm]; known && len(t.Attempt) == 0 {
			share = of
		}
		card, squares := 0, 0.0
		for m := range b.Of {
			if parts[m] == nil || share[m] < leastShare {
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

// freshFrom says, by arm, from which models the trainees without attempts among some come where there are two classes:
// from these alone, as [Blend.NewTrainees] has it.
func (b *Blend) freshFrom(ts []Trainee) map[string][]float64 {
	if b.Class == nil {
		return nil
	}
	out := map[string][]float64{}
	for _, t := range ts {
		if len(t.Attempt) == 0 {
			out[t.Arm], _ = b.comeFrom(t.Arm)
		}
	}
	return out
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
