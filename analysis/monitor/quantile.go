package monitor

import "math"

// settled is how many equal survival ratios in a row count as a geometric tail.
const settled = 25

// A tail sums survival chances as they come and closes the sum with a geometric
// tail once their ratio has settled.
type tail struct {
	last, ratio float64
	calm        int
}

// add takes the next survival chance and reports whether the ratio has settled.
func (t *tail) add(alive float64) bool {
	r := alive / t.last
	if math.Abs(r-t.ratio) < 1e-14 {
		t.calm++
	} else {
		t.calm = 0
	}
	t.ratio, t.last = r, alive
	return t.calm >= settled
}

// rest is the sum of all later survival chances.
func (t *tail) rest() float64 {
	if t.last == 0 {
		return 0
	}
	return t.last * t.ratio / (1 - t.ratio)
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
