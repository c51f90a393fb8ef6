package survival

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"tyro/analysis"
	"tyro/analysis/resample"
)

// A Window is a person whose event is known only to lie after Left and at or
// before Right, as when assessments come every few attempts. Left = Right is an
// exact time, Right = +Inf someone last assessed at Left without the event, and
// Left = 0 with a finite Right someone who had it by the first assessment.
type Window struct{ Left, Right float64 }

// A Mass is a chance that the data place after Left and at or before Right (at
// Right when they are equal), without saying where between.
type Mass struct{ Left, Right, Chance float64 }

// A Coarse is an estimate from interval-censored data: the chances, in order.
// Between its ends a Mass may lie anywhere, so the curve is known only outside
// of them. Chance at Right = +Inf belongs to those never seen to have the
// event.
type Coarse struct {
	N          int
	Masses     []Mass
	LogLik     float64
	Iterations int
}

// IntervalCensored is the nonparametric maximum likelihood estimate. Chance is
// placed on the innermost intervals only (Turnbull, 1976, Journal of the Royal
// Statistical Society B 38, 290-295); it is found by self-consistency steps and
// accepted when the gradient proves that no interval deserves more (Gentleman
// and Geyer, 1994, Biometrika 81, 618-623).
func IntervalCensored(windows []Window) (Coarse, error) {
	c := Coarse{N: len(windows)}
	if err := checkWindows(windows); err != nil {
		return c, err
	}
	c.Masses = innermost(windows)
	kinds, count := distinct(windows)
	covers := make([][]int, len(kinds))
	for i, w := range kinds {
		for j, m := range c.Masses {
			if w.covers(m) {
				covers[i] = append(covers[i], j)
			}
		}
	}
	p := make([]float64, len(c.Masses))
	for j := range p {
		p[j] = 1 / float64(len(p))
	}
	if !c.climb(p, covers, count) {
		return c, errors.New("the estimate from interval-censored data did not settle")
	}
	for j := range p {
		c.Masses[j].Chance = p[j]
	}
	c.Masses = slices.DeleteFunc(c.Masses, func(m Mass) bool { return m.Chance < 1e-9 })
	return c, nil
}

func checkWindows(windows []Window) error {
	if len(windows) == 0 {
		return errors.New("no observations")
	}
	for i, w := range windows {
		if !(w.Left >= 0) || !(w.Right >= w.Left) || math.IsInf(w.Left, 1) {
			return fmt.Errorf("observation %d: from %v to %v, expected 0 ≤ from ≤ to", i+1, w.Left, w.Right)
		}
	}
	return nil
}

// covers reports whether the chance of m lies inside w.
func (w Window) covers(m Mass) bool {
	if m.Left == m.Right {
		return (w.Left < m.Left || w.Left == w.Right && w.Left == m.Left) && m.Right <= w.Right
	}
	return w.Left <= m.Left && m.Right <= w.Right
}

// innermost lists the intervals from a left end to the next right end with no
// other end between. At equal values an exact time opens first, then right ends
// close, then left ends open.
func innermost(windows []Window) []Mass {
	type end struct {
		at   float64
		rank int // 0 an exact time opens, 1 a right end, 2 a left end
	}
	var ends []end
	for _, w := range windows {
		ends = append(ends, end{w.Right, 1})
		if w.Left == w.Right {
			ends = append(ends, end{w.Left, 0})
		} else {
			ends = append(ends, end{w.Left, 2})
		}
	}
	slices.SortFunc(ends, func(a, b end) int {
		switch {
		case a.at < b.at:
			return -1
		case a.at > b.at:
			return 1
		}
		return a.rank - b.rank
	})
	var out []Mass
	for i := 1; i < len(ends); i++ {
		if ends[i].rank == 1 && ends[i-1].rank != 1 {
			out = append(out, Mass{Left: ends[i-1].at, Right: ends[i].at})
		}
	}
	return out
}

// distinct counts equal windows.
func distinct(windows []Window) (kinds []Window, count []float64) {
	at := map[Window]int{}
	for _, w := range windows {
		i, seen := at[w]
		if !seen {
			i = len(kinds)
			at[w] = i
			kinds, count = append(kinds, w), append(count, 0)
		}
		count[i]++
	}
	return kinds, count
}

// climb moves p to the maximum; false when it does not get there. The chance
// of an interval is multiplied by the mean, over people, of how much more
// likely it makes them than all intervals do together; at the maximum that
// factor is 1 where there is chance and at most 1 elsewhere. Every few steps
// the last two are carried further along their line where that is uphill.
func (c *Coarse) climb(p []float64, covers [][]int, count []float64) bool {
	const tolerance = 1e-10
	n := float64(c.N)
	factor := make([]float64, len(p))
	gradient := func(p []float64) (logLik, above float64) {
		clear(factor)
		for i, js := range covers {
			s := 0.0
			for _, j := range js {
				s += p[j]
			}
			logLik += count[i] * math.Log(s)
			for _, j := range js {
				factor[j] += count[i] / (n * s)
			}
		}
		for j, f := range factor {
			above = math.Max(above, f-1)
			if p[j] > 1e-9 {
				above = math.Max(above, 1-f)
			}
		}
		return logLik, above
	}
	step := func(p []float64) (logLik, above float64) {
		logLik, above = gradient(p)
		for j := range p {
			p[j] *= factor[j]
		}
		return logLik, above
	}
	p0, p1, try := make([]float64, len(p)), make([]float64, len(p)), make([]float64, len(p))
	for c.Iterations = 1; c.Iterations <= 50000; c.Iterations++ {
		copy(p0, p)
		var above float64
		if c.LogLik, above = step(p); above < tolerance {
			copy(p, p0)
			return true
		}
		copy(p1, p)
		logLik2, _ := step(p)
		r, v := 0.0, 0.0
		for j := range p {
			d := p1[j] - p0[j]
			e := p[j] - p1[j] - d
			r, v = r+d*d, v+e*e
		}
		if v == 0 {
			continue
		}
		far, sum := math.Sqrt(r/v), 0.0
		for j := range p {
			d := p1[j] - p0[j]
			try[j] = math.Max(p[j]/10, p0[j]+2*far*d+far*far*(p[j]-p1[j]-d))
			sum += try[j]
		}
		for j := range try {
			try[j] /= sum
		}
		if logLik, _ := gradient(try); logLik > logLik2 {
			copy(p, try)
		}
	}
	return false
}

// At is the chance of not having had the event by time t, as the range that
// the data leave: both ends are equal except inside an interval with chance.
func (c Coarse) At(t float64) (lower, upper float64) {
	for _, m := range c.Masses {
		if m.Right <= t {
			continue
		}
		upper += m.Chance
		if m.Left >= t || m.Left == m.Right {
			lower += m.Chance
		}
	}
	return lower, upper
}

// Quantile is where a share p has had the event: after From and at or before
// To; +Inf when fewer are ever seen to.
func (c Coarse) Quantile(p float64) (from, to float64) {
	sum := 0.0
	for _, m := range c.Masses {
		if sum += m.Chance; sum >= p-slack && !math.IsInf(m.Right, 1) {
			return m.Left, m.Right
		}
	}
	return math.Inf(1), math.Inf(1)
}

// QuantileInterval is a percentile interval of the assessment by which a share
// p has had the event, from a bootstrap of persons. It suits assessments at a
// few common attempts; with an own time for everybody the bootstrap of this
// estimate is not known to hold its level.
func QuantileInterval(ctx context.Context, windows []Window, p, level float64, sampling resample.Sampling) (resample.Interval, error) {
	level, err := analysis.Level(level)
	if err != nil {
		return resample.Interval{}, err
	}
	if !(p > 0 && p < 1) {
		return resample.Interval{}, fmt.Errorf("a share of %v, expected a number between 0 and 1", p)
	}
	if err := checkWindows(windows); err != nil {
		return resample.Interval{}, err
	}
	reps, err := resample.Replicate(ctx, sampling, "survival/interval-censored", func() func(*rand.Rand) float64 {
		idx, draw := make([]int, len(windows)), make([]Window, len(windows))
		return func(r *rand.Rand) float64 {
			for i, j := range resample.Indices(r, idx, len(windows)) {
				draw[i] = windows[j]
			}
			c, err := IntervalCensored(draw)
			if err != nil {
				return math.NaN()
			}
			_, to := c.Quantile(p)
			return to
		}
	})
	if err != nil {
		return resample.Interval{}, err
	}
	return resample.PercentileInterval(reps, level), nil
}
