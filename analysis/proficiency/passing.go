package proficiency

import (
	"math"

	"tyro/models"
)

// A passing is everything that makes an attempt pass: the measure meets the
// standard, the errors keep within their limits, and it is no hard fail. The three
// are taken as independent given the attempt number.
type passing struct {
	curve models.Curve
	noise models.Noise
	scale float64
	last  float64 // attempt up to which practice was seen; 0 for none
	fails float64 // chance of a hard fail
	clean keeping // nil for none
}

// A keeping is the chance that attempt n keeps within its error limits, which rises or falls
// throughout.
type keeping interface{ at(n float64) float64 }

// passing is what the fit says of single attempts.
func (l Learner) passing() passing {
	f := l.Choice.Fit
	p := passing{curve: f.Curve, noise: f.Noise, scale: f.Scale, last: f.Last, fails: l.fails.share}
	if step, ok := l.step(); ok {
		p.curve = step
	}
	if l.clean != nil {
		p.clean = l.clean.learnt
	}
	return p
}

// steep is how far, on the logit scale, a step stands from an even chance at the attempts
// around it: chances of 1e-26 and of 1 less that.
const steep = 60

// step is the curve that a series of passes and fails tends to where they do not mix: the
// steeper, the better it fits, so that its limit steps from fail to pass. Between the two
// attempts around the step nothing tells where it is; it stands near the later one.
func (l Learner) step() (models.Curve, bool) {
	before, after, rising, ok := l.Choice.Fit.Parted(l.Series)
	if !ok || before <= 0 {
		return models.Curve{}, false
	}
	middle := math.Log(after - math.Min(1, after-before)/2)
	slope := steep / (math.Log(after) - middle)
	if !rising {
		slope = -slope
	}
	return models.Logarithmic().Curve([]float64{-slope * middle, slope}), true
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
		c *= p.clean.at(n)
	}
	return c
}
