package cohort

import (
	"context"
	"slices"

	"tyro/analysis/resample"
)

// An Attempt is one attempt as it arrives.
type Attempt struct {
	Number   float64 // from 1
	Response float64
	Censored bool    // the response is only known to be above Response
	Restart  float64 // attempts since a break, from 1; 0 for none
}

// A Follower keeps what a fit and one trainee's attempts say of the trainee, as the
// attempts arrive. Nothing is fitted: the fit stays as it is, and so do the draws of its
// parameters, which are made once. What it says hangs on the fit, the seed and the attempts
// made, not on how they arrived: it is [Cohort.Posteriors] of the same series, to the last
// digit. One goroutine at a time may use it.
type Follower struct {
	of    *Cohort
	seed  uint64
	cards deck
	t     Trainee
}

// Follow begins with the attempts made so far, which may be none. The trainee needs an arm
// of the cohort, and need not be a member.
func (c *Cohort) Follow(t Trainee, seed uint64) (*Follower, error) {
	if _, err := c.m.record(t); err != nil {
		return nil, err
	}
	f := &Follower{of: c, seed: seed, cards: c.deal(seed, "cohort parameters", newcomerCards)}
	f.t = Trainee{ID: t.ID, Arm: t.Arm, Attempt: slices.Clone(t.Attempt), Response: slices.Clone(t.Response), Censored: slices.Clone(t.Censored), Restart: slices.Clone(t.Restart), Covariates: slices.Clone(t.Covariates)}
	if f.t.Covariates == nil {
		f.t.Covariates = make([]float64, len(c.m.spec.Covariates))
	}
	return f, nil
}

// Trainee is the series so far. It must not be changed.
func (f *Follower) Trainee() Trainee { return f.t }

// Add takes in one more attempt, and gives what is then known. An attempt that the fit cannot
// use is an error, and is not taken in.
func (f *Follower) Add(ctx context.Context, a Attempt) (Posterior, error) {
	t := f.t
	t.Attempt, t.Response = append(t.Attempt, a.Number), append(t.Response, a.Response)
	if t.Censored != nil || a.Censored {
		t.Censored = append(filled(t.Censored, len(f.t.Attempt)), a.Censored)
	}
	if t.Restart != nil || a.Restart > 0 {
		t.Restart = append(filled(t.Restart, len(f.t.Attempt)), a.Restart)
	}
	p, err := f.posterior(ctx, t)
	if err == nil {
		f.t = t
	}
	return p, err
}

// filled is a list, or one of so many zero values where there is none yet.
func filled[T any](list []T, n int) []T {
	if list == nil {
		return make([]T, n)
	}
	return list
}

// Posterior is what is known now.
func (f *Follower) Posterior(ctx context.Context) (Posterior, error) { return f.posterior(ctx, f.t) }

func (f *Follower) posterior(ctx context.Context, t Trainee) (Posterior, error) {
	return f.of.posterior(ctx, t, share(f.cards, t, memberCards), resample.Stream(f.seed, "posterior "+t.ID, len(t.Attempt)), 0)
}

// share are the draws of the cohort's parameters that a trainee is judged by: fewer where
// there are attempts.
func share(cards deck, t Trainee, few int) deck {
	if len(t.Attempt) > 0 {
		return cards[:few]
	}
	return cards
}
