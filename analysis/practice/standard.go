package practice

import (
	"math"

	"tyro/analysis/internal/numeric"
	"tyro/models"
)

// A Standard is the level that one attempt has to meet. It is the one place that
// says what meeting it means: for a response seen, for the chance of an attempt to
// come, and for the curve.
//
// With passes and fails the value is a chance to pass, which the curve can reach;
// an attempt meets the standard by being a pass, whatever the value.
type Standard struct {
	Value    float64 // NaN where none is set
	Lower    bool    // smaller responses are better
	PassFail bool    // responses are 1 and 0, and 1 is a pass (a failure where Lower)
}

// Set reports whether there is a standard.
func (s Standard) Set() bool { return !math.IsNaN(s.Value) }

// At is the same standard at another value.
func (s Standard) At(value float64) Standard {
	s.Value = value
	return s
}

// Meets reports whether a response meets the standard. An unknown one does not.
func (s Standard) Meets(response float64) bool {
	at := s.Value
	if s.PassFail {
		at = 1
		if s.Lower {
			at = 0
		}
	}
	if s.Lower {
		return response <= at
	}
	return response >= at
}

// PassChance is the chance that the response of one attempt meets the standard
// when the curve stands at m and the noise has the scale given. NaN where the
// curve or the scale is not known.
func (s Standard) PassChance(noise models.Noise, m, scale float64) float64 {
	if s.PassFail {
		p := noise.Mean(m)
		if s.Lower {
			return 1 - p
		}
		return p
	}
	if s.Lower {
		return noise.CDF(s.Value, m, scale)
	}
	return models.AtLeast(noise, s.Value, m, scale)
}

// ChanceOf is the chance to meet the standard of an attempt whose response is spread
// as the distribution function says, such as a mixture of curves with the noise: what
// [Standard.PassChance] is for one curve.
func (s Standard) ChanceOf(noise models.Noise, cdf func(y float64) float64) float64 {
	switch {
	case s.PassFail && s.Lower:
		return cdf(0)
	case s.PassFail:
		return 1 - cdf(0)
	case s.Lower:
		return cdf(s.Value)
	case noise.Additive():
		return 1 - cdf(s.Value)
	}
	return 1 - cdf(math.Ceil(s.Value)-1) // responses are whole numbers
}

// Curve is the curve value at which the mean (for multiplicative noise the median)
// meets the standard; infinite where no curve can, or every curve does.
func (s Standard) Curve(noise models.Noise) float64 {
	level := noise.Link(s.Value)
	if math.IsNaN(level) && s.Set() { // beyond what the noise's mean can reach
		return math.Copysign(math.Inf(1), s.Value-noise.Mean(0))
	}
	return level
}

// Beyond reports whether a curve that stands at m is at the level or on its better
// side.
func (s Standard) Beyond(m, level float64) bool {
	if s.Lower {
		return m <= level
	}
	return m >= level
}

// CurveFor is the curve value at which one attempt meets the standard with the
// chance given: beyond it, in the better direction, the chance is higher.
func (s Standard) CurveFor(noise models.Noise, chance, scale float64) float64 {
	if s.PassFail {
		if s.Lower {
			chance = 1 - chance
		}
		return within(noise, chance)
	}
	if noise.Additive() { // a shift by the noise's own quantile
		e := models.ResidualQuantile(noise, chance, scale)
		if s.Lower {
			e = -e
		}
		return noise.Shift(s.Value, e)
	}
	// Logarithms and logits far beyond any that data show; the chance rises towards
	// the better end.
	worse, better := -40.0, 25.0
	if s.Lower {
		worse, better = better, worse
	}
	spare := func(m float64) float64 { return s.PassChance(noise, m, scale) - chance }
	switch {
	case spare(worse) >= 0:
		return math.Copysign(math.Inf(1), worse)
	case spare(better) < 0:
		return math.Copysign(math.Inf(1), better)
	}
	level, ok := numeric.Root(spare, worse, better, numeric.Tolerance{})
	if !ok {
		return math.NaN()
	}
	return level
}

// within is the curve value at which the mean of passes and fails is p, or infinite
// where guessing or lapsing keeps the mean on one side of p.
func within(noise models.Noise, p float64) float64 {
	switch {
	case p <= noise.Mean(math.Inf(-1)):
		return math.Inf(-1)
	case p >= noise.Mean(math.Inf(1)):
		return math.Inf(1)
	}
	return noise.Link(p)
}
