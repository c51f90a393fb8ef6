package proficiency

import (
	"math"

	"tyro/analysis/stopping"
	"tyro/models"
)

// A passing is everything that makes an attempt pass: the measure meets the
// standard, the errors keep within their limits, and it is no hard fail. The three
// are taken as independent given the attempt number.
type passing struct {
	curve models.Curve
	noise models.Noise
	scale float64
	last  float64                 // attempt up to which practice was seen; 0 for none
	fails float64                 // chance of a hard fail
	clean func(n float64) float64 // chance to keep within error limits; nil for none
}

// passing is what the fit says of single attempts.
func (l Learner) passing() passing {
	f := l.Choice.Fit
	p := passing{curve: f.Curve, noise: f.Noise, scale: f.Scale, last: f.Last, fails: l.fails.share}
	if l.clean != nil {
		p.clean = l.clean.chance
	}
	return p
}

// single is the chance that the measure of one attempt meets the standard when the curve
// stands at m. Noise that multiplies has no meaning about a curve at or below 0, which
// some draws of curves come to: the chance there is the one near 0.
func (q Question) single(noise models.Noise, m, scale float64) float64 {
	if m <= 0 && models.NeedsPositive(noise) {
		return zeroOne(q.Standard.Lower)
	}
	return q.Standard.PassChance(noise, m, scale)
}

// chance is the chance to pass attempt n.
func (q Question) chance(p passing, n float64) float64 {
	c := (1 - p.fails) * q.single(p.noise, p.curve.At(n), p.scale)
	if p.clean != nil {
		c *= p.clean(n)
	}
	return c
}

// passCrossing is the attempt at which the chance to pass reaches the wanted
// chance: real-valued, or the first whole attempt where error limits take part. One that
// has been left again by the last attempt made does not count.
func (q Question) passCrossing(p passing) float64 {
	if p.noise.HasScale() && math.IsNaN(p.scale) {
		return math.NaN()
	}
	if p.clean != nil {
		first := 1.0
		if p.last >= 1 && q.chance(p, p.last) < q.Chance {
			first = math.Floor(p.last) + 1
		}
		for n := first; n <= q.Horizon; n++ {
			if q.chance(p, n) >= q.Chance {
				return n
			}
		}
		return math.Inf(1)
	}
	need := q.Chance / (1 - p.fails)
	if need >= 1 {
		return math.Inf(1)
	}
	return q.crossing(p, q.Standard.CurveFor(p.noise, need, p.scale))
}

// stopCrossing is the attempt by which practice has stopped with chance one half,
// exactly; +Inf beyond the horizon.
func (q Question) stopCrossing(c *stopping.Chain, p passing) float64 {
	if p.noise.HasScale() && math.IsNaN(p.scale) {
		return math.NaN()
	}
	w := c.Begin()
	for n := 1.0; n <= q.Horizon; n++ {
		at := q.chance(p, n)
		if math.IsNaN(at) {
			return math.NaN()
		}
		if w.Step(at) >= 0.5 {
			return n
		}
	}
	return math.Inf(1)
}
