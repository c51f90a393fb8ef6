package monitor

import "math"

// Sides says on which side of the target a weighted mean signals.
type Sides int

// The sides.
const (
	Both  Sides = iota
	Above       // at the upper limit only
)

// A Smoother is an exponentially weighted moving mean: lambda of the newest
// value and 1−lambda of the mean before it, started at the target. Its limits
// stand L standard deviations of the mean from the target.
type Smoother struct {
	Lambda float64 // 0 < Lambda ≤ 1
	L      float64
	Target float64
	SD     float64 // of one value
	Sides  Sides
	// Widening uses the standard deviation that the mean has after each attempt,
	// which is smaller at first, rather than the constant it tends to.
	Widening bool
}

// Limit is the distance of the limits from the target after n attempts since
// the start: L·SD·√(λ/(2−λ)), times √(1−(1−λ)^(2n)) when widening.
func (s Smoother) Limit(n int) float64 {
	sd := s.SD * math.Sqrt(s.Lambda/(2-s.Lambda))
	if s.Widening {
		sd *= math.Sqrt(1 - math.Pow(1-s.Lambda, 2*float64(n)))
	}
	return s.L * sd
}

// Follow runs the mean over values in order, starting anew before each position
// in restarts, and goes on after a signal.
func (s Smoother) Follow(values []float64, restarts []int) Path {
	p := Path{Steps: make([]Step, len(values)), First: -1}
	fresh := map[int]bool{}
	for _, r := range restarts {
		fresh[r] = true
	}
	z, n := s.Target, 0
	for i, v := range values {
		st := &p.Steps[i]
		if fresh[i] && i > 0 {
			z, n, st.Restart = s.Target, 0, true
		}
		n++
		z = s.Lambda*v + (1-s.Lambda)*z
		st.Value, st.Signal = z, s.beyond(z, s.Limit(n))
		if st.Signal && p.First < 0 {
			p.First = i
		}
	}
	return p
}

func (s Smoother) beyond(z, limit float64) bool {
	const slack = slack * 1e-3
	return z-s.Target >= limit-slack || s.Sides == Both && s.Target-z >= limit-slack
}

// A FailureEWMA is a weighted mean of failures (1 for a failed attempt) that
// signals when it stands L standard deviations above the acceptable rate: a
// recent failure rate with a limit. It goes on after a signal.
type FailureEWMA struct {
	Acceptable, Lambda, L float64
}

// Name implements Chart.
func (e FailureEWMA) Name() string { return "ewma" }

// Smoother is the chart's mean and limit.
func (e FailureEWMA) Smoother() Smoother {
	return Smoother{Lambda: e.Lambda, L: e.L, Target: e.Acceptable, SD: math.Sqrt(e.Acceptable * (1 - e.Acceptable)), Sides: Above}
}

// Follow implements Chart.
func (e FailureEWMA) Follow(failed []bool, restarts []int) Path {
	values := make([]float64, len(failed))
	for i, f := range failed {
		if f {
			values[i] = 1
		}
	}
	return e.Smoother().Follow(values, restarts)
}

// cloudMost is the number of attempts up to which the sharper, slower cloud is
// followed for [FailureEWMA.SignalBy].
const cloudMost = 200

// survival steps through the chance of no signal.
func (e FailureEWMA) survival(rate float64) func() float64 {
	s := e.Smoother()
	upper := s.Target + s.Limit(1)
	now, next := newCloud(0, math.Min(1, upper)+1e-9, cloudCells), newCloud(0, math.Min(1, upper)+1e-9, cloudCells)
	now.add(s.Target, 1)
	jumps := []jump{{1 - e.Lambda, 0, 1 - rate}, {1 - e.Lambda, e.Lambda, rate}}
	return func() float64 {
		now.move(next, jumps, 0, upper-slack*1e-3)
		now, next = next, now
		return now.total()
	}
}

// ewmaCells is the number of grid values from 0 to the limit for the mean run
// length. With four times as many the mean changes by less than 0.02 % (a test
// holds it to that).
const ewmaCells = 16000

// Mean implements Chart, by a Markov chain on a grid of values. A value between
// two of the grid is shared between them so that its mean is kept.
func (e FailureEWMA) Mean(rate float64) float64 {
	checkRate(rate)
	if e.Acceptable+e.Smoother().Limit(1) > 1 || rate == 0 {
		return math.Inf(1)
	}
	return e.meanOn(rate, ewmaCells)
}

func (e FailureEWMA) meanOn(rate float64, cells int) float64 {
	return meanOf(e.chain(rate, cells), gridTail)
}

// chain steps through the chance of no signal on a grid.
func (e FailureEWMA) chain(rate float64, cells int) func() float64 {
	s := e.Smoother()
	limit := s.Target + s.Limit(1) - slack*1e-3
	width := limit / float64(cells)
	type share struct {
		cell  int // and the next
		upper float64
		in    bool
	}
	place := func(v float64) share {
		if v >= limit {
			return share{}
		}
		cell := min(int(v/width), cells-2)
		return share{cell, min(v/width-float64(cell), 1), true}
	}
	pass, fail := make([]share, cells), make([]share, cells)
	for i := range cells {
		v := float64(i) * width
		pass[i], fail[i] = place((1-e.Lambda)*v), place((1-e.Lambda)*v+e.Lambda)
	}
	now, next := make([]float64, cells), make([]float64, cells)
	put := func(into []float64, p share, mass float64) {
		if p.in {
			into[p.cell] += mass * (1 - p.upper)
			into[p.cell+1] += mass * p.upper
		}
	}
	put(now, place(s.Target), 1)
	return func() float64 {
		clear(next)
		for i, m := range now {
			if m != 0 {
				put(next, pass[i], m*(1-rate))
				put(next, fail[i], m*rate)
			}
		}
		now, next = next, now
		sum := 0.0
		for _, m := range now {
			sum += m
		}
		return sum
	}
}

// SignalBy implements Chart, on a grid.
func (e FailureEWMA) SignalBy(rate float64, n int) []float64 {
	checkRate(rate)
	out, step := make([]float64, n), e.survival(rate)
	if n > cloudMost {
		step = e.chain(rate, ewmaCells/4)
	}
	for i := range out {
		out[i] = clamp01(1 - step())
	}
	return out
}
