package monitor

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// A MeasureModel ties a measure to failure rates: an attempt fails when its
// measure misses the standard, and measures scatter with SD about a level. With
// Log the measure is lognormal: SD is that of natural logarithms.
type MeasureModel struct {
	Standard float64
	SD       float64 // from attempt to attempt, the trainee's level being constant
	Lower    bool    // lower is better
	Log      bool
}

// Check says what is wrong with the model, if anything.
func (m MeasureModel) Check() error {
	switch {
	case !(m.SD > 0) || math.IsInf(m.SD, 0):
		return fmt.Errorf("standard deviation %g: expected a number above 0", m.SD)
	case math.IsNaN(m.Standard) || m.Log && m.Standard <= 0:
		return fmt.Errorf("standard %g: expected a number, above 0 for a lognormal measure", m.Standard)
	}
	return nil
}

// Level is the median measure at which attempts fail with the given chance.
func (m MeasureModel) Level(failureRate float64) float64 {
	z := distuv.UnitNormal.Quantile(failureRate) * m.SD
	if !m.Lower {
		z = -z
	}
	return m.back(m.scale(m.Standard) + z)
}

func (m MeasureModel) scale(v float64) float64 {
	if m.Log {
		return math.Log(v)
	}
	return v
}

func (m MeasureModel) back(v float64) float64 {
	if m.Log {
		return math.Exp(v)
	}
	return v
}

// Standardise gives measures in standard deviations on the bad side of the level
// that the acceptable failure rate implies.
func (m MeasureModel) Standardise(measures []float64, r Rates) []float64 {
	level := m.scale(m.Level(r.Acceptable))
	out := make([]float64, len(measures))
	for i, v := range measures {
		out[i] = (m.scale(v) - level) / m.SD
		if !m.Lower {
			out[i] = -out[i]
		}
	}
	return out
}

// Shift is how many standard deviations lie between the levels of two failure
// rates: what moves the acceptable rate to the given one.
func (m MeasureModel) Shift(r Rates, rate float64) float64 {
	return distuv.UnitNormal.Quantile(rate) - distuv.UnitNormal.Quantile(r.Acceptable)
}

// CUSUM is the sum that tells the two rates apart: its reference is half the
// shift between them, so for a normal measure it is the likelihood ratio sum
// over that shift.
func (m MeasureModel) CUSUM(r Rates, h float64) NormalCUSUM {
	return NormalCUSUM{K: m.Shift(r, r.Unacceptable) / 2, H: h}
}
