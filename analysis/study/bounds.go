package study

import (
	"context"
	"errors"

	"tyro/analysis/monitor"
)

// Bounds are what the passes so far say about every trainee's chance to pass, however
// often one looks.
type Bounds struct {
	Level float64
	Each  []TraineeBound
	// With failure rates stated: the attempts it takes a trainee at the acceptable rate to
	// show a chance to pass above that of the unacceptable one, with one look and however
	// often one looks; 0 where not within 5,000.
	Chance, Show              float64
	OneLook, HoweverOftenLook int
	Stated                    bool
}

// A TraineeBound is one trainee's.
type TraineeBound struct {
	Trainee, Arm     string
	Attempts, Passes int
	Anytime, OneLook monitor.Bound
}

// PassBounds bounds every trainee's chance to pass over the attempts so far.
func (s *Study) PassBounds(context.Context) (*Bounds, error) {
	if !s.Question.Standard.Set() && !s.Question.Standard.PassFail {
		return nil, errors.New("a bound of the chance to pass needs to know which attempts pass: give --standard, set it in the study file, or say --measure pass-fail")
	}
	out := &Bounds{Level: s.Options.Level}
	for _, t := range s.Trainees {
		b := TraineeBound{Trainee: t.ID, Arm: t.Arm}
		for _, p := range t.Passes(s.Question.Standard) {
			b.Attempts++
			if p {
				b.Passes++
			}
		}
		b.Anytime, b.OneLook = monitor.Anytime(b.Passes, b.Attempts, out.Level), monitor.FixedTime(b.Passes, b.Attempts, out.Level)
		out.Each = append(out.Each, b)
	}
	if len(out.Each) == 0 {
		return nil, errors.New("there are no attempts to bound a chance from")
	}
	if r := s.Task.Rates; r != nil {
		out.Stated, out.Chance, out.Show = true, 1-r.Acceptable, 1-r.Unacceptable
		out.OneLook, out.HoweverOftenLook = monitor.Price(out.Chance, out.Show, out.Level)
	}
	return out, nil
}
