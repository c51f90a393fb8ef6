package monitor

import "math"

// exits are the chances of a sum of two step sizes leaving an interval: up[i]
// and down[i] that it does so at attempt i+1.
type exits struct {
	up, down  []float64
	hit, back float64 // their sums
	length    float64 // mean attempts spent, those not over at the end included
	alive     float64 // chance of being inside after the last attempt followed
	cut       bool    // the walk was given up before what was left inside stopped mattering
}

const (
	negligible = 1e-17  // share of mass that no longer matters
	vanishing  = 1e-40  // chance of a single state that no longer matters
	mostSteps  = 200000 // attempts followed at most
	mostWork   = 3e7    // states followed at most, over all attempts
)

// leave follows a sum that starts at start and moves by w at each attempt,
// failing with the given chance, until it is at upper or above or at lower or
// below. After n attempts the sum depends on the number of failures only, and
// few of these numbers lie inside, so the chances are exact. The walk ends after
// steps attempts, or for 0 when nothing is left inside that matters, or when that
// would take too long.
func leave(start float64, w Weights, rate, lower, upper float64, steps int) exits {
	var e exits
	e.alive = 1
	first := 0               // failures of inside[0]
	inside := []float64{1.0} // chance of each number of failures
	work := 0
	for n := 1; e.alive > 0 && (steps == 0 || n <= steps); n++ {
		if work += len(inside); steps == 0 && (n > mostSteps || work > mostWork) {
			e.cut = true
			break
		}
		e.length += e.alive
		next := make([]float64, len(inside)+1)
		for k, q := range inside {
			next[k] += q * (1 - rate)
			next[k+1] += q * rate
		}
		var up, down, alive float64
		from, to := len(next), -1
		for k, q := range next {
			if q == 0 {
				continue
			}
			f := first + k
			v := start + float64(f)*w.Failure + float64(n-f)*w.Success
			switch {
			case v >= upper-slack:
				up += q
				next[k] = 0
			case v <= lower+slack:
				down += q
				next[k] = 0
			case q < vanishing:
				next[k] = 0
			default:
				alive += q
				from, to = min(from, k), k
			}
		}
		e.up, e.down = append(e.up, up), append(e.down, down)
		e.hit += up
		e.back += down
		e.alive = alive
		if to < 0 {
			e.alive = 0
			break
		}
		first, inside = first+from, next[from:to+1]
		if steps == 0 && alive < negligible*math.Min(1, e.hit) {
			break
		}
	}
	return e
}

// mean is the mean number of attempts until the sum leaves; NaN where following
// it would take too long.
func (e exits) mean() float64 {
	if e.cut {
		return math.NaN()
	}
	return e.length
}
