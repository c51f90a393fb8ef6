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
	fails float64                 // chance of a hard fail
	clean func(n float64) float64 // chance to keep within error limits; nil for none
}

// chances lists the chance to pass attempts 1 to horizon.
func (q Question) chances(p passing, horizon int) []float64 {
	out := make([]float64, horizon)
	for i := range out {
		n := float64(i + 1)
		out[i] = (1 - p.fails) * q.meets(p, p.curve.At(n))
		if p.clean != nil {
			out[i] *= p.clean(n)
		}
	}
	return out
}

// meets is the chance that the measure of one attempt meets the standard when the
// curve stands at m.
func (q Question) meets(p passing, m float64) float64 {
	if _, passFail := p.noise.(models.Bernoulli); passFail {
		return p.noise.Mean(m)
	}
	below := p.noise.CDF(q.Standard, m, p.scale)
	if q.Lower {
		return below
	}
	if !p.noise.Additive() {
		below = p.noise.CDF(q.Standard-1, m, p.scale) // counts: at or above the standard
	}
	return 1 - below
}

// passCrossing is the attempt at which the chance to pass reaches the wanted
// chance: real-valued, or the first whole attempt where error limits take part.
func (q Question) passCrossing(p passing) float64 {
	if p.noise.HasScale() && math.IsNaN(p.scale) {
		return math.NaN()
	}
	if p.clean != nil {
		for i, c := range q.chances(p, int(q.Horizon)) {
			if c >= q.Chance {
				return float64(i + 1)
			}
		}
		return math.Inf(1)
	}
	need := q.Chance / (1 - p.fails)
	if need >= 1 {
		return math.Inf(1)
	}
	return q.within(p.curve.Crossing(q.levelFor(p.noise, need, p.scale), 1, q.Lower))
}

// ruleCrossing is the attempt by which the rule is met with chance one half, by
// the exact recursion; +Inf beyond the horizon.
func (q Question) ruleCrossing(rec *Recursion, p passing) float64 {
	if p.noise.HasScale() && math.IsNaN(p.scale) {
		return math.NaN()
	}
	met, err := rec.MetBy(q.chances(p, int(q.Horizon)))
	if err != nil {
		return math.NaN()
	}
	for i, m := range met {
		if m >= 0.5 {
			return float64(i + 1)
		}
	}
	return math.Inf(1)
}
