package cohort

import (
	"context"
	"math"
	"slices"

	"tyro/analysis/resample"
)

// An Influence is how far the estimates move when one trainee is left out.
type Influence struct {
	Trainee int // position in Fit.Members
	// Change is the new estimate minus the old, in standard errors of the old,
	// in the order of Influences.Effects; NaN where nothing is left to estimate
	// an effect from.
	Change []float64
	// OneStep is what a single Newton step from the fit says instead.
	OneStep []float64
	Largest float64 // of the absolute changes
	Which   int     // position in Effects of the largest; -1 for none
	Settled bool    // whether the search without the trainee did; where not, Change is OneStep
}

// Influences are those of every trainee on every fixed effect that is estimated.
type Influences struct {
	Effects []Effect
	Rows    []Influence
	Refits  bool // false where Change is the single step, in large cohorts
}

// MostRefits is the number of trainees up to which each is left out in a refit.
const MostRefits = 200

// LeaveOneOut leaves out every trainee in turn. In cohorts of more than
// [MostRefits] a single Newton step takes the place of a refit: with the
// trainee's own score g and the information H it is H⁻¹g (Cook, 1986, Journal of
// the Royal Statistical Society B 48, 133-169).
func (c *Cohort) LeaveOneOut(ctx context.Context, sampling resample.Sampling) (Influences, error) {
	if err := c.withAttempts(); err != nil {
		return Influences{}, err
	}
	if c.Rung == RungTwoStage {
		return Influences{}, nil
	}
	var out Influences
	var places []int
	out.Effects, places = c.estimated()
	here := c.here(ctx)
	grad := make([]float64, len(c.theta))
	here.o.at(c.theta, grad)
	out.Refits = len(c.trainees) <= MostRefits
	base := c.theta
	if out.Refits && c.Method == Quadrature { // the refits are by Laplace, and so is their base
		if k, ok := c.nearby(ctx, c.trainees); ok {
			base = k.theta
		}
	}
	out.Rows = make([]Influence, len(c.trainees))
	p := len(c.theta)
	sampling.Progress = nil
	err := resample.Each(ctx, len(c.trainees), sampling, func() func(int) error {
		return func(i int) error {
			row := Influence{Trainee: i}
			g := here.o.grads[i*p : (i+1)*p]
			for _, j := range places {
				step := 0.0
				for b := range p {
					step += c.cov.At(j, b) * g[b]
				}
				row.OneStep = append(row.OneStep, step/c.se(j))
			}
			row.Change = slices.Clone(row.OneStep)
			if out.Refits {
				others := slices.Delete(slices.Clone(c.trainees), i, i+1)
				var k look
				if k, row.Settled = c.nearby(ctx, others); row.Settled {
					for a, j := range places {
						row.Change[a] = (k.theta[j] - base[j]) / c.se(j)
					}
				}
			}
			c.blank(&row, places)
			out.Rows[i] = row.largest()
			return nil
		}
	})
	if err != nil {
		return Influences{}, err
	}
	return out, nil
}

// blank withholds effects whose column of the design is this trainee's alone.
func (c *Cohort) blank(row *Influence, places []int) {
	for a, j := range places {
		col := c.column(j)
		alone := c.m.records[row.Trainee].design[col] != 0
		for i := range c.m.records {
			alone = alone && (i == row.Trainee || c.m.records[i].design[col] == 0)
		}
		if alone {
			row.Change[a], row.OneStep[a] = math.NaN(), math.NaN()
		}
	}
}

// column is the column of the design that a coefficient belongs to.
func (c *Cohort) column(place int) int {
	for _, p := range c.m.parts {
		if !p.held && place >= p.at && place < p.at+len(p.cols) {
			return p.cols[place-p.at]
		}
	}
	return 0
}

func (r Influence) largest() Influence {
	r.Which = -1
	for a, v := range r.Change {
		if math.Abs(v) > r.Largest {
			r.Largest, r.Which = math.Abs(v), a
		}
	}
	return r
}

// estimated lists the fixed effects that are estimated, with their places in
// theta; the common residual spread is left out.
func (c *Cohort) estimated() ([]Effect, []int) {
	var effects []Effect
	var places []int
	free := slices.DeleteFunc(slices.Clone(c.Fixed), func(e Effect) bool { return e.Held })
	for _, p := range c.m.parts {
		for k := range p.cols {
			if p.held || len(free) == 0 || free[0].Parameter != p.name {
				continue
			}
			effects, places = append(effects, free[0]), append(places, p.at+k)
			free = free[1:]
		}
	}
	return effects, places
}
