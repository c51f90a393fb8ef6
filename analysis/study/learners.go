package study

import (
	"cmp"
	"context"
	"errors"
	"fmt"

	"tyro/analysis"
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
		err := s.eachTrainee(ctx, func(i int, _ practice.Trainee) error {
			out.Each[i] = s.learner(i)
			return ctx.Err()
		})
		if err != nil {
			return nil, err
		}
		return out, s.remarkUnsuited(&out.Warnings, func(i int) (fit.Status, []analysis.Warning) {
			f := out.Each[i].Choice.Fit
			return f.Status, f.Warnings
		})
	})
}

// learner fits every candidate curve to one trainee's attempts.
func (s *Study) learner(i int) proficiency.Learner {
	l, refused := proficiency.Learn(s.Trainees[i], s.Specs)
	if refused != nil {
		l.Choice = fit.Choice{Fit: fit.Refused(l.Series, s.Specs[0], refused)}
	}
	return l
}

// remarkUnsuited names those to whose attempts no curve is fitted; where that is everybody,
// it is an error.
func (s *Study) remarkUnsuited(ws *Warnings, of func(i int) (fit.Status, []analysis.Warning)) error {
	var first error
	n := 0
	for i := range s.Trainees {
		status, why := of(i)
		if status != fit.Unsuited {
			continue
		}
		err := s.named(i, errors.New(why[0].Text))
		ws.Add("trainee-not-fitted", fmt.Sprintf("%v; no curve is fitted to these attempts, the others are not affected", err))
		first = cmp.Or(first, err)
		n++
	}
	if n == len(s.Trainees) {
		return first
	}
	return nil
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
