package study

import (
	"context"
	"fmt"

	"tyro/analysis/cohort"
	"tyro/models"
)

// weigh leaves the model to how well models foresee later attempts: the fit is that of the one
// that does best, and projections are by those near it together.
func (s *Study) weigh(ctx context.Context, c *CohortFit, series []cohort.Trainee, specs []cohort.Spec) error {
	choice := cohort.Choice{Sampling: s.shown()}
	if !c.Spec.KeepNoise {
		choice.Noises = alike(s.Noise())
	}
	for _, spec := range specs {
		choice.Families = append(choice.Families, spec.Family)
	}
	var err error
	if c.Chosen, err = cohort.Choose(ctx, series, specs[0], choice); err != nil {
		if ctx.Err() != nil {
			return err
		}
		return fmt.Errorf("%w; to name the model yourself, leave out --weigh", err)
	}
	c.Cohort = c.Chosen.Of[0]
	c.known = c.Chosen.Keep()
	c.Warnings.Add("models-weighed", fmt.Sprintf("%d models were tried and %s; projections of trainees are by these together; parameters, and the shares of new trainees who are proficient, are those of the one that foresees best",
		len(c.Chosen.Tried), counted(len(c.Chosen.Of), "is near the best", "are near the best")))
	s.fitted(c)
	return nil
}

// alike are the noises that know the same responses as one that is normal on some scale: a time
// may be even in its logarithm or in its speed. Others are left as they are.
func alike(own models.Noise) []models.Noise {
	if _, normal := models.NormalOn(own); !normal {
		return nil
	}
	out := []models.Noise{own}
	for _, n := range models.Noises() {
		if _, normal := models.NormalOn(n); normal && n != own && models.NeedsPositive(n) == models.NeedsPositive(own) {
			out = append(out, n)
		}
	}
	return out
}
