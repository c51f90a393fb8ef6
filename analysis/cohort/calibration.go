package cohort

import (
	"context"
	"slices"

	"tyro/analysis/resample"
)

// A Transform is where an attempt fell in its predictive distribution: the
// chance of a response at most as large. Over many attempts these are uniform
// on 0 to 1 where the model holds (Dawid, 1984, Journal of the Royal Statistical
// Society A 147, 278-292).
type Transform struct {
	Trainee int // position in Fit.Members
	Attempt float64
	Value   float64
}

// minHalf is the fewest attempts in the half that a calibration predicts from.
const minHalf = 3

// Halves are what the earlier half of each trainee's attempts says of the trainee, to
// predict the later half from. Where the cohort's parameters were fitted to the later attempts
// too, what comes of it checks the trainees' part of the model; of trainees given to a fit that
// was read from a file ([Cohort.With]) it checks whether the fit is theirs.
type Halves struct {
	of     *Cohort
	posts  []Posterior // of the trainees whose earlier half is long enough
	member []int       // their positions in Fit.Members
}

// Calibration says where each exact later response fell in its prediction. Only noise
// with a continuous response is calibrated.
func (h *Halves) Calibration(ctx context.Context) ([]Transform, error) {
	each := make([][]Transform, len(h.member))
	err := resample.Each(ctx, len(each), resample.Sampling{Workers: h.of.m.spec.Workers}, func() func(int) error {
		return func(k int) error { each[k] = h.transforms(k); return nil }
	})
	return slices.Concat(each...), err
}

// transforms are those of the k-th trainee's later attempts.
func (h *Halves) transforms(k int) []Transform {
	var out []Transform
	h.of.trainees[h.member[k]].eachLater(func(n, restart, y float64) {
		out = append(out, Transform{h.member[k], n, h.posts[k].CDF(n, restart, y)})
	})
	return out
}

// eachLater visits the exact attempts of a trainee's later half: number, attempts since a
// break, response.
func (t Trainee) eachLater(visit func(n, restart, y float64)) {
	cut := middleAttempt(t)
	for j, n := range t.Attempt {
		if n <= cut || t.Censored != nil && t.Censored[j] {
			continue
		}
		restart := 0.0
		if t.Restart != nil {
			restart = t.Restart[j]
		}
		visit(n, restart, t.Response[j])
	}
}

// Halves works out what earlier halves say; nobody is in it where the noise is of a kind
// that is not calibrated.
func (c *Cohort) Halves(ctx context.Context, sampling resample.Sampling) (*Halves, error) {
	return c.halves(ctx, func(seen []Trainee) ([]Posterior, error) { return c.posteriors(ctx, seen, halfCards, sampling) })
}

// Halves does so by all models together.
func (b *Blend) Halves(ctx context.Context, sampling resample.Sampling) (*Halves, error) {
	return b.Of[0].halves(ctx, func(seen []Trainee) ([]Posterior, error) { return b.posteriors(ctx, seen, halfCards, sampling) })
}

func (c *Cohort) halves(ctx context.Context, posteriors func(seen []Trainee) ([]Posterior, error)) (*Halves, error) {
	if len(c.trainees) == 0 {
		return nil, c.withAttempts()
	}
	h := &Halves{of: c}
	if !c.Model.Noise.Additive() {
		return h, nil
	}
	var seen []Trainee
	for i, t := range c.trainees {
		early := t.Until(middleAttempt(t))
		if len(early.Attempt) >= minHalf && len(early.Attempt) < len(t.Attempt) {
			seen, h.member = append(seen, early), append(h.member, i)
		}
	}
	var err error
	if h.posts, err = posteriors(seen); err != nil {
		return nil, err
	}
	return h, nil
}

// middleAttempt is the lower median of the attempt numbers.
func middleAttempt(t Trainee) float64 {
	sorted := slices.Sorted(slices.Values(t.Attempt))
	return sorted[(len(sorted)-1)/2]
}

// Until keeps the attempts up to a number.
func (t Trainee) Until(last float64) Trainee {
	out := Trainee{ID: t.ID, Arm: t.Arm, Covariates: t.Covariates}
	for j, n := range t.Attempt {
		if n > last {
			continue
		}
		out.Attempt, out.Response = append(out.Attempt, n), append(out.Response, t.Response[j])
		if t.Censored != nil {
			out.Censored = append(out.Censored, t.Censored[j])
		}
		if t.Restart != nil {
			out.Restart = append(out.Restart, t.Restart[j])
		}
	}
	return out
}
