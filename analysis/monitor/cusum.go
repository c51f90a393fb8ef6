package monitor

import (
	"math"
	"slices"
)

// Weights are what one attempt adds to a sum.
type Weights struct{ Failure, Success float64 }

// LogRatio weighs an attempt by the log likelihood ratio of failure rate
// against another: ln(rate/other) for a failure, ln((1−rate)/(1−other)) for a
// success.
func LogRatio(rate, other float64) Weights {
	return Weights{math.Log(rate / other), math.Log((1 - rate) / (1 - other))}
}

// Of lists the weights of attempts.
func (w Weights) Of(failed []bool) []float64 {
	out := make([]float64, len(failed))
	for i, f := range failed {
		out[i] = w.one(f)
	}
	return out
}

func (w Weights) one(failed bool) float64 {
	if failed {
		return w.Failure
	}
	return w.Success
}

// A Scheme says how a sum is kept. The zero value of every field but H is the
// usual chart: held at zero, started at zero, going on after a signal.
type Scheme struct {
	H         float64 // signal at a sum of H or more
	Start     float64 // headstart: where the sum starts, also after a restart
	NoBarrier bool    // let the sum fall below zero
	Restart   bool    // after a signal the sum starts anew; else it goes on
	AtSignal  bool    // hold the sum at H once reached, so that later attempts start from there
}

// Follow adds up the increments of attempts in order, starting anew before each
// position in restarts.
func (s Scheme) Follow(increments []float64, restarts []int) Path {
	p := Path{Steps: make([]Step, len(increments)), First: -1}
	sum, next := s.Start, 0
	fresh := slices.Clone(restarts)
	slices.Sort(fresh)
	for i, x := range increments {
		st := &p.Steps[i]
		for next < len(fresh) && fresh[next] <= i {
			if fresh[next] == i {
				sum, st.Restart = s.Start, i > 0
			}
			next++
		}
		if i > 0 && s.Restart && p.Steps[i-1].Signal {
			sum, st.Restart = s.Start, true
		}
		sum += x
		if !s.NoBarrier && sum < 0 {
			sum = 0
		}
		st.Signal = sum >= s.H-slack
		if st.Signal && s.AtSignal {
			sum = math.Min(sum, s.H)
		}
		st.Value = sum
		if st.Signal && p.First < 0 {
			p.First = i
		}
	}
	return p
}

// A CUSUM is a cumulative sum over passes and failures. One weight must be
// above zero and the other below.
type CUSUM struct {
	Kind    string
	Weights Weights
	Scheme  Scheme
}

// Learning is the chart for trainees not yet known to be adequate: a success
// adds, a failure subtracts, and the sum signals at h when the acceptable rate
// is shown rather than the unacceptable one. It goes on after a signal.
func Learning(r Rates, h float64) CUSUM {
	return CUSUM{"learning", LogRatio(r.Acceptable, r.Unacceptable), Scheme{H: h}}
}

// Relapse is the chart for trainees who have passed: a failure adds, a success
// subtracts, and the sum signals at h when the unacceptable rate is shown. It
// starts anew after a signal.
func Relapse(r Rates, h float64) CUSUM {
	return CUSUM{"relapse", LogRatio(r.Unacceptable, r.Acceptable), Scheme{H: h, Restart: true}}
}

// Name implements Chart.
func (c CUSUM) Name() string { return c.Kind }

// Follow implements Chart.
func (c CUSUM) Follow(failed []bool, restarts []int) Path {
	return c.Scheme.Follow(c.Weights.Of(failed), restarts)
}

// Mean implements Chart, exactly: by renewal at zero (Page, 1954) the mean from
// zero is the mean length of an excursion over its chance of ending at H.
func (c CUSUM) Mean(rate float64) float64 {
	checkRate(rate)
	if c.Scheme.NoBarrier {
		if rate*c.Weights.Failure+(1-rate)*c.Weights.Success <= slack {
			return math.Inf(1) // without upward drift the mean is infinite
		}
		return leave(c.Scheme.Start, c.Weights, rate, math.Inf(-1), c.Scheme.H, 0).mean()
	}
	cycle := leave(0, c.Weights, rate, 0, c.Scheme.H, 0)
	zero := cycle.mean() / cycle.hit
	switch {
	case cycle.hit == 0 && rate > 0 && rate < 1:
		zero = math.NaN() // too rare to be told from never
	case cycle.hit == 0:
		zero = math.Inf(1)
	}
	if c.Scheme.Start <= 0 {
		return zero
	}
	first := leave(c.Scheme.Start, c.Weights, rate, 0, c.Scheme.H, 0)
	if first.back == 0 {
		return first.mean()
	}
	return first.mean() + first.back*zero
}

// SignalBy implements Chart, exactly, by renewal at zero.
func (c CUSUM) SignalBy(rate float64, n int) []float64 {
	checkRate(rate)
	out := make([]float64, 0, n)
	if c.Scheme.NoBarrier {
		e := leave(c.Scheme.Start, c.Weights, rate, math.Inf(-1), c.Scheme.H, n)
		total := 0.0
		for i := range n {
			total += at(e.up, i)
			out = append(out, clamp01(total))
		}
		return out
	}
	r := c.renewal(rate, n)
	for range n {
		out = append(out, clamp01(r.step()))
	}
	return out
}

// A renewal steps through the chance of a signal by attempt n of a sum held at
// zero.
type renewal struct {
	first, cycle exits
	zero         []float64 // chance of being at zero after 1, 2, … attempts, by renewal
	total        float64
}

func (c CUSUM) renewal(rate float64, n int) *renewal {
	r := &renewal{cycle: leave(0, c.Weights, rate, 0, c.Scheme.H, n)}
	r.first = r.cycle
	if c.Scheme.Start > 0 {
		r.first = leave(c.Scheme.Start, c.Weights, rate, 0, c.Scheme.H, n)
	}
	return r
}

// step advances one attempt and gives the chance of a signal by then.
func (r *renewal) step() float64 {
	n := len(r.zero) // this is attempt n+1
	zero, signal := at(r.first.down, n), at(r.first.up, n)
	for age := range min(n, max(len(r.cycle.down), len(r.cycle.up))) {
		z := r.zero[n-1-age]
		zero += z * at(r.cycle.down, age)
		signal += z * at(r.cycle.up, age)
	}
	r.zero = append(r.zero, zero)
	r.total += signal
	return r.total
}

// at is v[i], 0 beyond the end.
func at(v []float64, i int) float64 {
	if i < len(v) {
		return v[i]
	}
	return 0
}
