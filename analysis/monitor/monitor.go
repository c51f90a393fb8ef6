// Package monitor watches a trainee attempt by attempt with charts whose error
// rates are known.
//
// # Charts
//
// [Learning] takes "not yet adequate" as the hypothesis to be disproved and
// signals when adequate performance is shown (Biau, Williams, Schlup, Nizard
// and Porcher, 2008, British Journal of Surgery 95, 925-929; Biau and Porcher,
// 2010, Statistics in Medicine 29, 1900-1909). [Relapse] is the tabular
// cumulative sum for deterioration (Page, 1954, Biometrika 41, 100-115),
// [Sequential] is Wald's test with both boundaries (Wald, 1947, Sequential
// Analysis), [ObservedExpected] counts failures above those expected,
// [FailureEWMA] is a weighted mean that forgets (Lucas and Saccucci, 1990,
// Technometrics 32, 1-12), and [Projected] weighs each attempt against the pass
// chance projected for it (Steiner, Cook, Farewell and Treasure, 2000,
// Biostatistics 1, 441-452). [NormalCUSUM] and [NormalEWMA] chart a measure
// rather than passes.
//
// # Conventions
//
// Rates are failure rates, and true means a failed attempt. A value at the
// limit counts as beyond it, with a slack of 1e-9 for sums that should meet it
// exactly. Run lengths count attempts from the start of a chart to its first
// signal; no restart comes into them. A run length may be infinite.
//
// # Exactness
//
// A sum of two step sizes has few reachable values, so the pass/fail sums and
// Wald's test are carried forward exactly. A normal sum needs a grid: Gauss
// nodes in Page's integral equation, or the Markov chain of Brook and Evans
// (1972, Biometrika 59, 539-549) with extrapolation, which are checks on each
// other.
//
// # Limits
//
// All figures assume that attempts are independent given the rate, which
// warm-up within sessions and a steady trend both violate. The highest point of
// a chart means nothing in itself: it moves with the number of attempts drawn.
package monitor

import (
	"fmt"
	"math"
)

// slack is how near a sum may be to a limit and still count as at it.
const slack = 1e-9

// Rates are the failure rates a chart tells apart, with
// 0 < Acceptable < Unacceptable < 1.
type Rates struct{ Acceptable, Unacceptable float64 }

// Check says what is wrong with the rates, if anything.
func (r Rates) Check() error {
	if !(r.Acceptable > 0 && r.Acceptable < r.Unacceptable && r.Unacceptable < 1) {
		return fmt.Errorf("failure rates %g (acceptable) and %g (unacceptable): expected 0 < acceptable < unacceptable < 1", r.Acceptable, r.Unacceptable)
	}
	return nil
}

// OddsRatio is how far the odds of failing at the unacceptable rate stand above those
// at the acceptable one.
func (r Rates) OddsRatio() float64 {
	return r.Unacceptable / (1 - r.Unacceptable) / (r.Acceptable / (1 - r.Acceptable))
}

// A Chart follows passes and failures and knows how often it signals.
type Chart interface {
	RunLengths
	// Name is the chart's stable name.
	Name() string
	// Follow runs the chart over attempts in order, true for a failed one,
	// starting it anew before each position listed in restarts.
	Follow(failed []bool, restarts []int) Path
}

// RunLengths are how often a chart signals at a constant failure rate.
type RunLengths interface {
	// Mean is the mean number of attempts to the first signal at a constant
	// failure rate; +Inf where there is none or the mean is infinite, NaN where
	// it is not known.
	Mean(rate float64) float64
	// SignalBy is the chance of a signal within 1, 2, … n attempts.
	SignalBy(rate float64, n int) []float64
}

// A Step is the chart after one attempt.
type Step struct {
	Value   float64
	Signal  bool
	Restart bool // the chart started anew just before this attempt
}

// A Path is a chart run over attempts. First is the position of the first
// signal, -1 without one.
type Path struct {
	Steps []Step
	First int
}

// Signals lists the positions of all signals.
func (p Path) Signals() []int {
	var out []int
	for i, s := range p.Steps {
		if s.Signal {
			out = append(out, i)
		}
	}
	return out
}

// checkRate panics on a rate that is no probability: a programmer's mistake.
func checkRate(rate float64) {
	if !(rate >= 0 && rate <= 1) {
		panic(fmt.Sprintf("monitor: failure rate %v", rate))
	}
}

func clamp01(v float64) float64 { return math.Min(math.Max(v, 0), 1) }
