package reports

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"tyro/analysis/cohort"
	"tyro/analysis/practice"
	"tyro/analysis/proficiency"
	"tyro/analysis/study"
)

// ProjectedChances are, for each trainee, the pass chances of the counted attempts
// as the cohort's curve and the trainee's first known attempts project them, the
// parameters' own uncertainty included. The known attempts have no chance (NaN), so
// that a chart against the projection leaves them alone. Hard fails and error limits
// enter by their share at each attempt over all trainees.
func ProjectedChances(ctx context.Context, in *Input, known int) (map[string][]float64, error) {
	standard := in.Question.Standard.Value
	if math.IsNaN(standard) {
		return nil, errors.New("a projection of passes needs a standard")
	}
	c, err := in.Study.FitCohort(ctx, study.CohortSpec{Covariates: []practice.Covariate{}})
	if err != nil {
		return nil, fmt.Errorf("projecting from the cohort: %w", err)
	}
	ts := make([]cohort.Trainee, len(in.Study.Trainees))
	for i, t := range in.Study.Trainees {
		ts[i] = cohort.Of(t, false)
	}
	for i := range ts {
		ts[i] = firstOf(ts[i], known)
	}
	posteriors, err := c.Posteriors(ctx, ts, in.Plan())
	if err != nil {
		return nil, err
	}
	sound := proficiency.SoundChance(in.Study.Trainees)
	out := map[string][]float64{}
	for i, t := range in.Trainees {
		last := math.Inf(-1)
		if len(ts[i].Attempt) > 0 {
			last = slices.Max(ts[i].Attempt)
		}
		chances := make([]float64, len(t.Counted))
		for k, n := range t.Counted {
			chances[k] = math.NaN()
			if n > last {
				p := posteriors[i].CDF(n, 0, standard)
				if !in.Question.Standard.Lower {
					p = 1 - p
				}
				chances[k] = p * sound(n)
			}
		}
		out[t.ID] = chances
	}
	return out, nil
}

// firstOf keeps a trainee's first attempts.
func firstOf(t cohort.Trainee, known int) cohort.Trainee {
	n := min(known, len(t.Attempt))
	t.Attempt, t.Response = t.Attempt[:n], t.Response[:n]
	if t.Censored != nil {
		t.Censored = t.Censored[:n]
	}
	return t
}
