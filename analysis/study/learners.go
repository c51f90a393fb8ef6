package study

import (
	"context"
	"fmt"

	"tyro/analysis/fit"
	"tyro/analysis/practice"
	"tyro/analysis/proficiency"
	"tyro/analysis/stopping"
)

// Learners are all trainees with the curves fitted to each of them alone.
type Learners struct {
	Each     []proficiency.Learner // in the order of trainees
	Warnings Warnings              // who could not be fitted, and why
}

// Learners fits every candidate curve to every trainee, once. Somebody whose attempts
// do not suit the curve's noise has a fit with the status unsuited, and is named.
func (s *Study) Learners(ctx context.Context) (*Learners, error) {
	return s.learners.get(ctx, func() (*Learners, error) {
		out := &Learners{Each: make([]proficiency.Learner, len(s.Trainees))}
		refused := make([]error, len(s.Trainees))
		err := s.eachTrainee(ctx, func(i int, t practice.Trainee) error {
			out.Each[i], refused[i] = proficiency.Learn(t, s.Specs)
			if refused[i] != nil {
				out.Each[i].Choice = fit.Choice{Fit: fit.Refused(out.Each[i].Series, s.Specs[0], refused[i])}
			}
			return ctx.Err()
		})
		if err != nil {
			return nil, err
		}
		failed := 0
		for i, why := range refused {
			if why != nil {
				failed++
				out.Warnings.Add("trainee-not-fitted", fmt.Sprintf("%v; no curve is fitted to these attempts, the others are not affected", s.named(i, why)))
			}
		}
		if failed > 0 && failed == len(s.Trainees) {
			return nil, s.named(0, refused[0])
		}
		return out, nil
	})
}

// Observed are the attempts at which every trainee's own passes met the rule or made
// the chart signal.
func (s *Study) Observed(p stopping.Policy) []proficiency.Observed {
	out := make([]proficiency.Observed, len(s.Trainees))
	for i, t := range s.Trainees {
		out[i] = proficiency.Observe(p, t, s.Question.Standard)
	}
	return out
}
