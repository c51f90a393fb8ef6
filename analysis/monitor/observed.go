package monitor

import "math"

// An ObservedExpected counts the failures seen above those expected at a rate,
// and signals at H more than expected. It has no barrier, so credit built up
// early hides a later change.
type ObservedExpected struct {
	Expected float64 // failure rate
	H        float64 // failures above those expected
}

// Name implements Chart.
func (o ObservedExpected) Name() string { return "observed-expected" }

func (o ObservedExpected) sum() CUSUM {
	return CUSUM{o.Name(), Weights{1 - o.Expected, -o.Expected}, Scheme{H: o.H, NoBarrier: true}}
}

// Follow implements Chart. It goes on after a signal.
func (o ObservedExpected) Follow(failed []bool, restarts []int) Path {
	return o.sum().Follow(failed, restarts)
}

// Mean implements Chart. It is infinite at the expected rate, where the sum
// wanders without end, and below.
func (o ObservedExpected) Mean(rate float64) float64 { return o.sum().Mean(rate) }

// SignalBy implements Chart, exactly.
func (o ObservedExpected) SignalBy(rate float64, n int) []float64 { return o.sum().SignalBy(rate, n) }

// FollowChances is Follow with a failure chance expected of each attempt, such
// as those a projected curve gives. Both slices have one entry an attempt, or it
// panics.
func (o ObservedExpected) FollowChances(failed []bool, failureChances []float64, restarts []int) Path {
	if len(failed) != len(failureChances) {
		panic("monitor: one failure chance for each attempt expected")
	}
	increments := make([]float64, len(failed))
	for i, f := range failed {
		increments[i] = -failureChances[i]
		if f {
			increments[i]++
		}
	}
	return o.sum().Scheme.Follow(increments, restarts)
}

// PointwiseLimit is z standard deviations of observed minus expected failures
// after each attempt at the expected rate: what one look alone could show. A
// chart looked at after every attempt crosses it far more often than one look
// does.
func (o ObservedExpected) PointwiseLimit(z float64, n int) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = z * math.Sqrt(float64(i+1)*o.Expected*(1-o.Expected))
	}
	return out
}
