package monitor

import "math"

// A Projected chart weighs each attempt against the pass chance projected for
// it, such as the trainee's own projection from the cohort's curve. A failure
// counts the more the less it was expected. The alternative multiplies the odds
// of failing by OddsRatio: above 1 the chart looks for performance worse than
// projected, below 1 for better.
type Projected struct {
	PassChances []float64 // of each attempt in order
	OddsRatio   float64   // not 1
	Scheme      Scheme
}

// Weights are the log likelihood ratios of attempt i: ln R − ln(1−f+R·f) for a
// failure and −ln(1−f+R·f) for a success, f being the projected failure chance
// and R the odds ratio (Steiner and others, 2000).
func (p Projected) Weights(i int) Weights {
	f := 1 - p.PassChances[i]
	norm := math.Log(1 - f + p.OddsRatio*f)
	return Weights{math.Log(p.OddsRatio) - norm, -norm}
}

// Follow runs the chart over at most as many attempts as have a chance, and panics
// at more. An attempt whose chance is not a number adds nothing.
func (p Projected) Follow(failed []bool, restarts []int) Path {
	increments := make([]float64, len(failed))
	for i, f := range failed {
		if w := p.Weights(i).one(f); !math.IsNaN(w) {
			increments[i] = w
		}
	}
	return p.Scheme.Follow(increments, restarts)
}

// SignalBy is the chance of a signal within 1, 2, … attempts when the odds of
// failing are the projected ones times oddsRatio (1: as projected), on a grid.
func (p Projected) SignalBy(oddsRatio float64) []float64 {
	low, floor := 0.0, 0.0
	if p.Scheme.NoBarrier {
		floor = math.Inf(-1)
		for i := range p.PassChances {
			if w := p.Weights(i); !math.IsNaN(w.Failure) {
				low += math.Min(w.Failure, w.Success)
			}
		}
	}
	now, next := newCloud(low, p.Scheme.H, cloudCells), newCloud(low, p.Scheme.H, cloudCells)
	now.add(p.Scheme.Start, 1)
	out, total := make([]float64, len(p.PassChances)), 0.0
	for i, c := range p.PassChances {
		w, f := p.Weights(i), 1-c
		rate := oddsRatio * f / (1 - f + oddsRatio*f)
		if math.IsNaN(rate) {
			w, rate = Weights{}, 0
		}
		total += now.move(next, []jump{{1, w.Failure, rate}, {1, w.Success, 1 - rate}}, floor, p.Scheme.H-slack)
		now, next = next, now
		out[i] = clamp01(total)
	}
	return out
}
