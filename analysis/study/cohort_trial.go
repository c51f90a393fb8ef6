package study

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"tyro/analysis/cohort"
	"tyro/analysis/resample"
)

const (
	// manyTrainees is the number from which families are tried on some of the trainees first.
	manyTrainees = 500
	// tried is about how many these are.
	tried = 250
	// farBehind is the difference in AIC on these by which a family has lost: with all
	// trainees it would be larger still.
	farBehind = 30
)

// leftByTrial lists the candidates that may win. With very many trainees a family that cannot
// is found out by some of them, drawn at random, and need not be fitted to all.
func (c *CohortFit) leftByTrial(ctx context.Context, series []cohort.Trainee, specs []cohort.Spec) ([]cohort.Spec, error) {
	some, ok := forTrial(series)
	if !ok || len(specs) < 2 {
		return specs, nil
	}
	aic := make([]float64, len(specs))
	for i, spec := range specs {
		aic[i] = math.NaN()
		switch one, err := cohort.Run(ctx, some, spec); {
		case ctx.Err() != nil:
			return nil, ctx.Err()
		case err == nil && one.Rung != cohort.RungTwoStage:
			aic[i] = one.AIC
		}
	}
	lowest := math.Inf(1)
	for _, v := range aic {
		lowest = math.Min(lowest, v) // NaN where one has no likelihood
	}
	if math.IsNaN(lowest) || math.IsInf(lowest, 1) {
		return specs, nil
	}
	var left []cohort.Spec
	var lost []string
	for i, spec := range specs {
		if behind := aic[i] - lowest; behind > farBehind {
			lost = append(lost, fmt.Sprintf("%s by %.0f", spec.Family.Name(), behind))
		} else {
			left = append(left, spec)
		}
	}
	if len(lost) > 0 {
		c.Warnings.Add("families-by-trial", fmt.Sprintf("curve families were tried on %d trainees, drawn at random from all %d; there the AIC of these was higher than the lowest, and they were not fitted to all: %s", len(some), len(series), strings.Join(lost, ", ")))
	}
	return left, nil
}

// forTrial is some of many trainees, drawn at random; false where there are few, or an arm would
// be missing.
func forTrial(series []cohort.Trainee) ([]cohort.Trainee, bool) {
	if len(series) < manyTrainees {
		return nil, false
	}
	arms := func(ts []cohort.Trainee) (out []string) {
		for _, t := range ts {
			if !slices.Contains(out, t.Arm) {
				out = append(out, t.Arm)
			}
		}
		return out
	}
	some := drawn(series, tried, 0, "study/families tried")
	return some, len(arms(some)) == len(arms(series))
}

// drawn is n of a list, drawn at random and kept in its order: lists come sorted, or in turns, so
// that every tenth of them may be of one kind.
func drawn[T any](list []T, n int, seed uint64, purpose string) []T {
	r := resample.Stream(seed, purpose, 0)
	var out []T
	for i, v := range list {
		if r.IntN(len(list)-i) < n-len(out) {
			out = append(out, v)
		}
	}
	return out
}
