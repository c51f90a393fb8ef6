package study

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"tyro/analysis/cohort"
	"tyro/models"
)

// weigh leaves what is open of the model to how well models foresee later attempts: the fit is
// that of the one that does best, and projections are by those near it together. It is false,
// with a warning, where the attempts are too few for that.
func (s *Study) weigh(ctx context.Context, c *CohortFit, series []cohort.Trainee, specs []cohort.Spec) (bool, error) {
	choice := cohort.Choice{Sampling: s.shown(), Settled: c.Spec.Settled}
	if s.Options.Noise == nil {
		choice.Noises, choice.LateNoises = cohort.Alike(s.Noise(), s.magnitude(series))
	}
	for _, spec := range specs {
		choice.Families = append(choice.Families, spec.Family)
	}
	if len(specs) > 1 && s.Noise().Additive() {
		choice.Late = []models.Family{models.Logistic()} // some are slow until they have got the knack
	}
	var err error
	if c.Chosen, err = cohort.Choose(ctx, series, specs[0], choice); err != nil {
		c.Chosen = nil
		if ctx.Err() != nil || !errors.Is(err, cohort.ErrCohort) {
			return false, err
		}
		why := strings.ReplaceAll(err.Error(), cohort.ErrCohort.Error()+": ", "")
		c.Warnings.Add("models-not-weighed", fmt.Sprintf("models were not weighed by how well they foretell later attempts (%s): one model is fitted, with the settings that are usual", why))
		return false, nil
	}
	c.Cohort = c.Chosen.Of[0]
	c.known, c.coming = c.Chosen.Keep(), c.Chosen
	by := "by the one chosen"
	if n := len(c.Chosen.Of); n > 1 {
		by = fmt.Sprintf("by the %d near the best together; parameters are those of the one chosen", n)
	}
	c.Warnings.Add("models-weighed", fmt.Sprintf("%d models were tried; projections of trainees, and shares of new ones who are proficient, are %s", len(c.Chosen.Tried), by))
	c.sayClasses()
	s.fitted(c)
	return true, nil
}

// magnitude reports whether all responses are above 0 and fewer is better.
func (s *Study) magnitude(series []cohort.Trainee) bool {
	return s.Task.Lower && !slices.ContainsFunc(series, func(t cohort.Trainee) bool {
		return slices.ContainsFunc(t.Response, func(y float64) bool { return !(y > 0) })
	})
}
