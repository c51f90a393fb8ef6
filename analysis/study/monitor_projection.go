package study

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"tyro/analysis/cohort"
	"tyro/analysis/proficiency"
)

// settleChances projects pass chances for the chart that needs them, unless they were
// given.
func (w *watching) settleChances(ctx context.Context) error {
	o := &w.Options
	if o.Chart != ChartProjected {
		return nil
	}
	if o.Chances == nil {
		var err error
		if o.Chances, err = w.chances(ctx); err != nil {
			return fmt.Errorf("projecting from the cohort: %w", err)
		}
		w.Warnings.Add("projected-from-cohort", fmt.Sprintf("the projection knows each trainee's first %d attempts with a measure and the cohort's curve, which was fitted to everybody's attempts, these included", o.Known))
	}
	for _, t := range w.Watched {
		if n := len(o.Chances[t.ID]); n < len(t.Attempts) {
			return fmt.Errorf("the projected chart needs a pass chance for every attempt: trainee %s has %d for %d", t.ID, n, len(t.Attempts))
		}
	}
	return nil
}

// chances are, for each trainee, the pass chances of the attempts that count as the
// cohort's curve and the trainee's first known attempts project them, the parameters'
// own uncertainty included. The known attempts have no chance (NaN), so that a chart
// against the projection leaves them alone. Hard fails and error limits enter by their
// share at each attempt over all trainees.
func (w *watching) chances(ctx context.Context) (map[string][]float64, error) {
	s := w.study
	if len(s.Specs) == 0 {
		return nil, errors.New("the study was opened without curves")
	}
	c, err := s.Cohort(ctx)
	if err != nil {
		return nil, err
	}
	w.Warnings.With(c.Warnings)
	series := c.firstAttempts(w.Watched, w.Options.Known)
	posteriors, err := c.Posteriors(ctx, series, s.Sampling())
	if err != nil {
		return nil, err
	}
	sound := proficiency.SoundChance(s.Trainees)
	out := map[string][]float64{}
	for i, t := range w.Watched {
		last := math.Inf(-1)
		if len(series[i].Attempt) > 0 {
			last = slices.Max(series[i].Attempt)
		}
		chances := make([]float64, len(t.Attempts))
		for k, a := range t.Attempts {
			chances[k] = math.NaN()
			if n := a.Number; n > last {
				one := w.standard.ChanceOf(s.Noise(), func(y float64) float64 { return posteriors[i].CDF(n, 0, y) })
				chances[k] = one * sound(n)
			}
		}
		out[t.ID] = chances
	}
	return out, nil
}

// firstAttempts are the first of everybody's attempts as the cohort's curve sees them.
// Somebody may have none that it can use.
func (c *CohortFit) firstAttempts(people []Watched, known int) []cohort.Trainee {
	fitted := map[string]cohort.Trainee{}
	for _, p := range c.People {
		fitted[p.ID] = cohort.Of(p, false)
	}
	var out []cohort.Trainee
	for _, t := range people {
		one, ok := fitted[t.ID]
		if !ok {
			one = cohort.Trainee{ID: t.ID, Arm: t.Arm}
			for _, col := range c.Columns {
				one.Covariates = append(one.Covariates, col.Value[t.ID])
			}
		}
		n := min(known, len(one.Attempt))
		one.Attempt, one.Response, one.Censored = one.Attempt[:n], one.Response[:n], one.Censored[:n]
		out = append(out, one)
	}
	return out
}
