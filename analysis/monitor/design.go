package monitor

import (
	"math"

	"sort"
)

// A Design is a limit chosen for wanted error rates, with those it has.
type Design struct {
	H      float64 // to two decimals; NaN when no limit up to 1000 will do
	Within int     // attempts
	False  float64 // chance of a signal within them where there should be none
	True   float64 // chance of a signal within them where there should be one
	// MeanFalse and MeanTrue are the mean attempts to a signal.
	MeanFalse, MeanTrue float64
}

// step is the grid on which limits are chosen: the digits a chart is labelled
// with.
const (
	designStep = 0.01
	mostDesign = 1000.0
)

// smallest is the lowest limit on the grid that is strict enough; strict must
// stay true once it is.
func smallest(strict func(h float64) bool) float64 {
	high := 1
	for !strict(float64(high) * designStep) {
		if float64(high)*designStep > mostDesign {
			return math.NaN()
		}
		high *= 2
	}
	low := high / 2
	high = low + 1 + sort.Search(high-low-1, func(i int) bool { return strict(float64(low+1+i) * designStep) })
	return float64(high) * designStep
}

// Both ways to choose a limit look at a number of attempts from 1 on; of fewer
// they know nothing.

// ByShares chooses the lowest limit at which the chart signals falsely within
// the attempts with a chance of at most maxFalse. falseRate and trueRate are the
// failure rates at which a signal is false and true.
func ByShares(chart func(h float64) RunLengths, falseRate, trueRate, maxFalse float64, within int) Design {
	if within < 1 {
		return describe(chart, falseRate, trueRate, within, math.NaN())
	}
	return describe(chart, falseRate, trueRate, within, smallest(func(h float64) bool {
		return chart(h).SignalBy(falseRate, within)[within-1] <= maxFalse
	}))
}

// ByRunLength chooses the lowest limit at which false signals come at least
// meanFalse attempts after the start on average.
func ByRunLength(chart func(h float64) RunLengths, falseRate, trueRate, meanFalse float64, within int) Design {
	return describe(chart, falseRate, trueRate, within, smallest(func(h float64) bool {
		return chart(h).Mean(falseRate) >= meanFalse
	}))
}

func describe(chart func(h float64) RunLengths, falseRate, trueRate float64, within int, h float64) Design {
	nan := math.NaN()
	d := Design{h, within, nan, nan, nan, nan}
	if d.Within < 1 {
		d.H = nan
	}
	if math.IsNaN(d.H) {
		return d
	}
	c := chart(h)
	d.False, d.True = c.SignalBy(falseRate, within)[within-1], c.SignalBy(trueRate, within)[within-1]
	d.MeanFalse, d.MeanTrue = c.Mean(falseRate), c.Mean(trueRate)
	return d
}

// A Setting is a chart's choices: what a result may hang on.
type Setting struct {
	Rates Rates
	H     float64
}

// Around lists settings for a sensitivity table: the chosen one first, then both
// rates a quarter lower and higher in every combination, then h a quarter lower
// and higher. Rates that no longer differ are left out.
func Around(s Setting) []Setting {
	out := []Setting{s}
	factors := []float64{0.75, 1, 1.25}
	for _, a := range factors {
		for _, u := range factors {
			r := Rates{round(a*s.Rates.Acceptable, 4), round(u*s.Rates.Unacceptable, 4)}
			if r.Check() == nil && (a != 1 || u != 1) {
				out = append(out, Setting{r, s.H})
			}
		}
	}
	for _, f := range []float64{0.75, 1.25} {
		out = append(out, Setting{s.Rates, round(f*s.H, 4)})
	}
	return out
}

// round keeps n decimals.
func round(v float64, n int) float64 {
	p := math.Pow10(n)
	return math.Round(v*p) / p
}
