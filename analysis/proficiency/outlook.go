package proficiency

import (
	"fmt"
	"math"
	"sort"

	"tyro/analysis/stopping"
	"tyro/models"
)

// An outlook is the attempts to come under a possible truth about a trainee. Chances to pass
// are worked out where somebody asks for them. It serves one truth after another; use one per
// goroutine.
type outlook struct {
	q     Question
	way   way
	rises bool // nothing that passing asks for gets less likely up to the horizon
	known []float64
}

func (q Question) newOutlook() *outlook {
	return &outlook{q: q, known: make([]float64, int(q.Horizon))}
}

// under turns to another possible truth.
func (c *outlook) under(w way) {
	c.way, c.rises = w, c.q.improves(w)
	for i := range c.known {
		c.known[i] = math.NaN()
	}
}

// improves reports whether the curve leads towards the standard and no further chance falls:
// each moves one way only.
func (q Question) improves(w way) bool {
	first, last := w.measure.curve.At(1), w.measure.curve.At(q.Horizon)
	if math.IsNaN(first) || math.IsNaN(last) || !q.Standard.Beyond(last, first) {
		return false
	}
	for _, curve := range w.also {
		if (models.Bernoulli{}).Mean(curve.At(q.Horizon)) < (models.Bernoulli{}).Mean(curve.At(1)) {
			return false
		}
	}
	return true
}

// at is the chance to pass attempt n.
func (c *outlook) at(n float64) float64 {
	i := int(n) - 1
	if n != math.Trunc(n) || i < 0 || i >= len(c.known) {
		return c.way.chance(c.q, n)
	}
	if math.IsNaN(c.known[i]) {
		c.known[i] = c.way.chance(c.q, n)
	}
	return c.known[i]
}

// ahead is the chance to pass attempt n in the course of those to come.
func (c *outlook) ahead(n float64) float64 {
	if c.way.of != nil {
		return c.way.given(c.q, n)
	}
	return c.at(n)
}

// crossing is the first attempt at which the chance to pass reaches the one asked for; +Inf
// beyond the horizon.
func (c *outlook) crossing() float64 {
	reaches := func(n int) bool { return c.at(float64(n)) >= c.q.Chance-rounding }
	horizon := len(c.known)
	if !c.rises {
		if c.most() < c.q.Chance-2*rounding {
			return math.Inf(1)
		}
		for n := 1; n <= horizon; n++ {
			if reaches(n) {
				return float64(n)
			}
		}
		return math.Inf(1)
	}
	if horizon == 0 || !reaches(horizon) {
		return math.Inf(1)
	}
	return float64(1 + sort.Search(horizon-1, func(i int) bool { return reaches(i + 1) }))
}

// most is a chance that no attempt's chance to pass is above: each part of it rises or falls
// throughout.
func (c *outlook) most() float64 {
	w, first, last := c.way, 1.0, c.q.Horizon
	m := w.measure
	most := w.share * math.Max(c.q.single(m.noise, m.curve.At(first), m.scale), c.q.single(m.noise, m.curve.At(last), m.scale))
	for _, curve := range w.also {
		most *= math.Max(models.Bernoulli{}.Mean(curve.At(first)), models.Bernoulli{}.Mean(curve.At(last)))
	}
	return most
}

// metBy adds to by, which ends at the horizon, a share of the chances of having stopped by
// each attempt. The walk stands before the first of them.
func (c *outlook) metBy(w *stopping.Walk, by []float64, horizon int, share float64) error {
	met := w.Met()
	for i := range by {
		if met < sure {
			n := horizon - len(by) + i + 1
			p := c.ahead(float64(n))
			if !(p >= 0 && p <= 1) {
				return fmt.Errorf("attempt %d: a pass chance of %v, expected a number from 0 to 1", n, p)
			}
			met = w.Step(p)
		}
		by[i] += share * met
	}
	return nil
}
