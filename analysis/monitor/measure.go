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

// OnMeasure charts a measure for relapse: the sum of [MeasureModel.CUSUM], or
// with a Lambda above 0 the weighted mean, signalling on the bad side only. H is
// in standard deviations, of the weighted mean for the latter.
type OnMeasure struct {
	Model  MeasureModel
	Rates  Rates
	H      float64
	Start  float64 // headstart of the sum
	Lambda float64
}

// FollowMeasures runs the chart over measures in order; one that is not a number
// leaves it where it is. Values are in standard deviations above the acceptable
// level, the bad side being up. The sum starts anew after a signal.
func (c OnMeasure) FollowMeasures(measures []float64, restarts []int) Path {
	z := c.Model.Standardise(measures, c.Rates)
	if c.Lambda > 0 {
		return c.smoother().followKnown(z, restarts)
	}
	sum := c.sum()
	for i, v := range z {
		z[i] = v - sum.K
		if math.IsNaN(v) {
			z[i] = 0
		}
	}
	return Scheme{H: sum.H, Start: sum.Start, Restart: true}.Follow(z, restarts)
}

// followKnown is Follow that passes over values that are not a number.
func (s Smoother) followKnown(values []float64, restarts []int) Path {
	var known []float64
	var moved []int
	position := make([]int, len(values)) // among the known, of the last one so far
	for i, v := range values {
		for _, r := range restarts {
			if r == i {
				moved = append(moved, len(known))
			}
		}
		if !math.IsNaN(v) {
			known = append(known, v)
		}
		position[i] = len(known) - 1
	}
	p := s.Follow(known, moved)
	out := Path{Steps: make([]Step, len(values)), First: -1}
	for i, at := range position {
		switch {
		case at < 0:
			out.Steps[i].Value = s.Target
		case math.IsNaN(values[i]):
			out.Steps[i].Value = p.Steps[at].Value
		default:
			out.Steps[i] = p.Steps[at]
			if p.Steps[at].Signal && out.First < 0 {
				out.First = i
			}
		}
	}
	return out
}

// Limit is where the chart signals, in the unit of its values.
func (c OnMeasure) Limit() float64 {
	if c.Lambda > 0 {
		return c.smoother().Limit(1)
	}
	return c.H
}

func (c OnMeasure) sum() NormalCUSUM {
	sum := c.Model.CUSUM(c.Rates, c.H)
	sum.Start = c.Start
	return sum
}

func (c OnMeasure) mean() NormalEWMA        { return NormalEWMA{c.Lambda, c.H, Above} }
func (c OnMeasure) smoother() Smoother      { return c.mean().Smoother(0, 1) }
func (c OnMeasure) shift(r float64) float64 { return c.Model.Shift(c.Rates, r) }

// Mean implements RunLengths; the SD is taken as known and the measure as
// (log)normal.
func (c OnMeasure) Mean(rate float64) float64 {
	if c.Lambda > 0 {
		return c.mean().Mean(c.shift(rate))
	}
	return c.sum().Mean(c.shift(rate))
}

// SignalBy implements RunLengths.
func (c OnMeasure) SignalBy(rate float64, n int) []float64 {
	if c.Lambda > 0 {
		return c.mean().SignalBy(c.shift(rate), n)
	}
	return c.sum().SignalBy(c.shift(rate), n)
}

// SuccessiveSD estimates the scatter from attempt to attempt from differences of
// neighbours within series, √(mean square/2), which a slow trend hardly moves
// (von Neumann, Kent, Bellinson and Hart, 1941, Annals of Mathematical Statistics
// 12, 153-162). Values that are not a number are passed over; NaN when no two
// neighbours are left.
func SuccessiveSD(series [][]float64) float64 {
	sum, n := 0.0, 0.0
	for _, s := range series {
		last := math.NaN()
		for _, v := range s {
			if math.IsNaN(v) {
				continue
			}
			if !math.IsNaN(last) {
				sum += (v - last) * (v - last)
				n++
			}
			last = v
		}
	}
	return math.Sqrt(sum / (2 * n))
}
