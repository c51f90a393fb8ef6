package plan

import (
	"context"
	"math"
	"math/rand/v2"

	"tyro/analysis/agreement"
)

// Ratings are a study of raters, in which every subject is rated by all of them: how
// narrow is the interval of the coefficient. The trainees of the design are its subjects.
type Ratings struct {
	Expect     float64   `json:"expect"` // the coefficient assumed
	Raters     int       `json:"raters"`
	RaterShare float64   `json:"rater_share"`      // part of the variance within subjects that lies between raters; of an icc
	Shares     []float64 `json:"shares,omitempty"` // of the categories, of a kappa; nil for an icc
}

type ratings struct {
	agreement.PlannedStudy
	d Design
}

func (k *Ratings) ready(d Design) (question, error) {
	s := agreement.PlannedStudy{ICC: k.Expect, Kappa: k.Expect, Shares: k.Shares, Raters: k.Raters, RaterShare: k.RaterShare}
	if err := s.Check(); err != nil {
		return nil, refuse("%v", err)
	}
	if d.Trainees < 3 || k.Raters < 2 {
		return nil, refuse("%d subjects and %d raters: expected at least 3 and 2", d.Trainees, k.Raters)
	}
	return ratings{s, d}, nil
}

func (k ratings) study(_ context.Context, r *rand.Rand) (Outcome, error) {
	c := k.Study(r, k.d.Trainees, k.d.Level)
	return numbers(c.Estimate, c.Lower, c.Upper, math.NaN(), false, k.d.Trainees*k.Raters), nil
}

func (k ratings) truth() float64 { return k.Truth() }

func (k ratings) formula() *Formula {
	f := &Formula{Power: math.NaN(), Width: k.FormulaWidth(k.d.Trainees, k.d.Level), Source: "Bonett, 2002"}
	if k.Shares != nil {
		f.Source = "variance of Fleiss, Cohen and Everitt, 1969"
	}
	if math.IsNaN(f.Width) {
		return nil
	}
	return f
}
