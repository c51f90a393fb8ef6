package monitor

import "math"

// settled is how many survival ratios in a row must agree for a geometric tail.
const settled = 25

// The tolerances of geometric tails: of sums carried forward exactly, and on a
// grid, whose ratios tremble. They are shares of the ratio's distance from 1.
const (
	exactTail = 1e-10
	gridTail  = 1e-5
)

// A tail watches survival chances until their ratio has settled.
type tail struct {
	last, ratio float64
	calm        int
}

// add takes the next survival chance and reports whether the ratio has settled.
func (t *tail) add(alive float64) bool {
	r := alive / t.last
	if math.Abs(r-t.ratio) < exactTail*math.Abs(1-r)+1e-15 {
		t.calm++
	} else {
		t.calm = 0
	}
	t.ratio, t.last = r, alive
	return t.calm >= settled
}

// Quantile is the smallest number of attempts by which the chart has signalled
// with chance level at a constant failure rate; +Inf where it never does.
func (c CUSUM) Quantile(rate, level float64) float64 {
	checkRate(rate)
	if c.Scheme.NoBarrier {
		return firstAt(c.SignalBy(rate, horizonLimit), level)
	}
	r := c.renewal(rate, 0)
	if r.cycle.hit == 0 && r.first.hit < level {
		return math.Inf(1)
	}
	t := tail{last: 1}
	for n := 1; n <= horizonLimit; n++ {
		by := r.step()
		if by >= level {
			return float64(n)
		}
		if t.add(1 - by) {
			return float64(n) + math.Ceil(math.Log((1-level)/(1-by))/math.Log(t.ratio)-1e-9)
		}
	}
	return math.Inf(1)
}

// horizonLimit bounds searches over attempts.
const horizonLimit = 20000

func firstAt(by []float64, level float64) float64 {
	for i, v := range by {
		if v >= level {
			return float64(i + 1)
		}
	}
	return math.Inf(1)
}
