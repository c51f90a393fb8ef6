package proficiency

import (
	"math"

	"tyro/analysis/fit"
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

// fittedPassing is what a fit says of single attempts; clean may be nil.
func fittedPassing(f fit.Fit, fails failShare, clean *cleanChance) passing {
	p := passing{curve: f.Curve, noise: f.Noise, scale: f.Scale, fails: fails.share}
	if clean != nil {
		p.clean = clean.chance
	}
	return p
}

// chance is the chance to pass attempt n.
func (q Question) chance(p passing, n float64) float64 {
	c := (1 - p.fails) * q.meets(p, p.curve.At(n))
	if p.clean != nil {
		c *= p.clean(n)
	}
	return c
}

// FittedChances lists a trainee's chance to pass attempts 1, 2, … up to the horizon
// by the curve that fits best, noise, error limits and hard fails included; nil where
// there are too few attempts for a projection.
func FittedChances(tr Trainee, specs []fit.Spec, q Question) ([]float64, error) {
	q = q.orDefaults()
	choice, err := fit.Choose(tr.Series, specs)
	if err != nil || tooLittle(tr, choice) != "" {
		return nil, err
	}
	p := fittedPassing(choice.Fit, newFailShare(tr), newCleanChance(tr))
	if p.noise.HasScale() && math.IsNaN(p.scale) {
		return nil, nil
	}
	out := make([]float64, int(q.Horizon))
	for i := range out {
		out[i] = q.chance(p, float64(i+1))
	}
	return out, nil
}

// meets is the chance that the measure of one attempt meets the standard when the
// curve stands at m.
func (q Question) meets(p passing, m float64) float64 {
	if models.IsPassFail(p.noise) {
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
		for n := 1.0; n <= q.Horizon; n++ {
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
	return q.within(p.curve.Crossing(q.levelFor(p.noise, need, p.scale), 1, q.Lower))
}

// stopCrossing is the attempt by which practice has stopped with chance one half,
// exactly; +Inf beyond the horizon.
func (q Question) stopCrossing(c *chain, p passing) float64 {
	if p.noise.HasScale() && math.IsNaN(p.scale) {
		return math.NaN()
	}
	w := c.begin()
	for n := 1.0; n <= q.Horizon; n++ {
		at := q.chance(p, n)
		if math.IsNaN(at) {
			return math.NaN()
		}
		if w.step(at) >= 0.5 {
			return n
		}
	}
	return math.Inf(1)
}
