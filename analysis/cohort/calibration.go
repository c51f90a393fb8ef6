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

// Calibration predicts every trainee's later half of attempts from the earlier
// half, and says where each exact later response fell. Only noise with a
// continuous response is calibrated. The cohort's parameters were fitted to the
// later attempts too, so that the check is of the trainees' part of the model.
func (c *Cohort) Calibration(ctx context.Context, plan resample.Plan) ([]Transform, error) {
	if err := c.withAttempts(); err != nil {
		return nil, err
	}
	posts, member, err := c.halves(ctx, plan)
	if err != nil {
		return nil, err
	}
	var out []Transform
	for k, i := range member {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		t := c.trainees[i]
		cut := middleAttempt(t)
		for j, n := range t.Attempt {
			if n <= cut || t.Censored != nil && t.Censored[j] {
				continue
			}
			restart := 0.0
			if t.Restart != nil {
				restart = t.Restart[j]
			}
			out = append(out, Transform{i, n, posts[k].CDF(n, restart, t.Response[j])})
		}
	}
	return out, nil
}

// halves are the posteriors of the trainees whose earlier half is long enough,
// from that half, and their positions.
func (c *Cohort) halves(ctx context.Context, plan resample.Plan) ([]Posterior, []int, error) {
	if !c.Model.Noise.Additive() {
		return nil, nil, nil
	}
	var seen []Trainee
	var member []int
	for i, t := range c.trainees {
		early := t.Until(middleAttempt(t))
		if len(early.Attempt) >= minHalf && len(early.Attempt) < len(t.Attempt) {
			seen, member = append(seen, early), append(member, i)
		}
	}
	posts, err := c.Posteriors(ctx, seen, plan)
	return posts, member, err
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
