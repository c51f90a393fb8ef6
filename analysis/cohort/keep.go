package cohort

import (
	"context"
	"slices"
	"sync"

	"tyro/analysis/resample"
)

// A Keeper gives the posteriors of a cohort, and keeps those asked for last of two
// kinds: of members with all their attempts, and of trainees without any. Several
// questions about the same people then share one posterior each. It is safe for
// concurrent use.
type Keeper struct {
	of       predictor
	trainees []Trainee
	member   map[string]int // position in trainees by code

	mu    sync.Mutex
	kept  map[keptKey]Posterior
	order []keptKey // as they came in
}

// A predictor is a cohort's curve, or several together.
type predictor interface {
	Posteriors(ctx context.Context, ts []Trainee, sampling resample.Sampling) ([]Posterior, error)
}

// A keptKey is all that the posterior of a member's whole series, or of none, depends
// on beside the fit.
type keptKey struct {
	seed    uint64
	id, arm string
	n       int
}

// mostKept bounds the posteriors kept: each takes about 0.2 MB.
const mostKept = 256

// Keep makes a keeper of the cohort's posteriors.
func (c *Cohort) Keep() *Keeper { return newKeeper(c, c.trainees) }

// Keep makes a keeper of the blend's posteriors.
func (b *Blend) Keep() *Keeper { return newKeeper(b, b.Of[0].trainees) }

func newKeeper(of predictor, trainees []Trainee) *Keeper {
	k := &Keeper{of: of, trainees: trainees, member: map[string]int{}, kept: map[keptKey]Posterior{}}
	for i, t := range trainees {
		k.member[t.ID] = i
	}
	return k
}

// Posteriors is [Cohort.Posteriors]: the same numbers, computed only where they are
// not kept. They are shared, and must not be changed.
func (k *Keeper) Posteriors(ctx context.Context, ts []Trainee, sampling resample.Sampling) ([]Posterior, error) {
	out := make([]Posterior, len(ts))
	var missing []Trainee
	var at []int
	for i, t := range ts {
		if p, ok := k.look(t, sampling.Seed); ok {
			out[i] = p
		} else {
			missing, at = append(missing, t), append(at, i)
		}
	}
	if len(missing) == 0 {
		return out, ctx.Err()
	}
	found, err := k.of.Posteriors(ctx, missing, sampling)
	if err != nil {
		return nil, err
	}
	for j, i := range at {
		out[i] = found[j]
		k.put(ts[i], sampling.Seed, found[j])
	}
	return out, nil
}

// keeps reports whether the posterior of a series is of a kind that is kept.
func (k *Keeper) keeps(t Trainee) bool {
	if len(t.Attempt) == 0 {
		return len(t.Covariates) == 0
	}
	i, ok := k.member[t.ID]
	return ok && same(t, k.trainees[i])
}

// same reports whether two trainees have the same attempts and attributes.
func same(a, b Trainee) bool {
	return a.Arm == b.Arm && slices.Equal(a.Attempt, b.Attempt) && slices.Equal(a.Response, b.Response) &&
		slices.Equal(a.Censored, b.Censored) && slices.Equal(a.Restart, b.Restart) && slices.Equal(a.Covariates, b.Covariates)
}

func (k *Keeper) look(t Trainee, seed uint64) (Posterior, bool) {
	if !k.keeps(t) {
		return Posterior{}, false
	}
	k.mu.Lock()
	defer k.mu.Unlock()
	p, ok := k.kept[keptKey{seed, t.ID, t.Arm, len(t.Attempt)}]
	return p, ok
}

func (k *Keeper) put(t Trainee, seed uint64, p Posterior) {
	if !k.keeps(t) {
		return
	}
	k.mu.Lock()
	defer k.mu.Unlock()
	key := keptKey{seed, t.ID, t.Arm, len(t.Attempt)}
	if _, there := k.kept[key]; there {
		return
	}
	if len(k.order) == mostKept {
		delete(k.kept, k.order[0])
		k.order = slices.Delete(k.order, 0, 1)
	}
	k.kept[key] = p
	k.order = append(k.order, key)
}
