package monitor

import (
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

// A Chain is a Markov chain on a grid of chart values that ends at a signal
// (Brook and Evans, 1972). It starts in state 0, the value zero.
type Chain struct {
	to     [][]int
	chance [][]float64
}

// BernoulliChain puts a pass/fail sum held at zero on cells values i·h/cells,
// each move rounded to the nearest; a value below h that would round up to it
// stays in the last cell. Rounding makes it wander about the exact figure of
// [CUSUM.Mean] as cells grow, so it is a check rather than the figure used.
func BernoulliChain(w Weights, h, rate float64, cells int) Chain {
	c := Chain{make([][]int, cells), make([][]float64, cells)}
	d := h / float64(cells)
	for i := range cells {
		for _, m := range []struct{ step, chance float64 }{{w.Failure, rate}, {w.Success, 1 - rate}} {
			v := float64(i)*d + m.step
			if v >= h-1e-12 || m.chance == 0 {
				continue
			}
			c.to[i] = append(c.to[i], min(int(math.Floor(math.Max(0, v)/d+0.5)), cells-1))
			c.chance[i] = append(c.chance[i], m.chance)
		}
	}
	return c
}

// LatticeChain is the exact chain of a sum of whole-number steps: up for a
// failure, down for a success, held at zero, signalling at h.
func LatticeChain(up, down, h int, rate float64) Chain {
	c := Chain{make([][]int, h), make([][]float64, h)}
	for i := range h {
		if i+up < h {
			c.to[i], c.chance[i] = append(c.to[i], i+up), append(c.chance[i], rate)
		}
		c.to[i], c.chance[i] = append(c.to[i], max(0, i-down)), append(c.chance[i], 1-rate)
	}
	return c
}

// NormalChain puts the upper normal sum of values with mean shift (in standard
// deviations), reference k and limit h on cells states, the first of which
// gathers the values held at zero: state i stands for the values around i·d with
// d = 2h/(2·cells−1).
func NormalChain(k, h, shift float64, cells int) Chain {
	c := Chain{make([][]int, cells), make([][]float64, cells)}
	d := 2 * h / float64(2*cells-1)
	for i := range cells {
		upTo := func(edge float64) float64 { return distuv.UnitNormal.CDF(edge - float64(i)*d + k - shift) }
		before := 0.0
		for j := range cells {
			f := upTo((float64(j) + 0.5) * d)
			c.to[i], c.chance[i] = append(c.to[i], j), append(c.chance[i], f-before)
			before = f
		}
	}
	return c
}

// Mean is the mean number of steps to the signal from state 0.
func (c Chain) Mean() float64 {
	if len(c.to) > 300 && len(c.to[0]) < 10 {
		return meanOf(c.survival(), exactTail) // sparse: carrying forward is faster than solving
	}
	n := len(c.to)
	a, one, x := mat.NewDense(n, n, nil), mat.NewVecDense(n, nil), mat.NewVecDense(n, nil)
	for i := range c.to {
		a.Set(i, i, 1)
		one.SetVec(i, 1)
		for k, j := range c.to[i] {
			a.Set(i, j, a.At(i, j)-c.chance[i][k])
		}
	}
	if err := x.SolveVec(a, one); err != nil && math.IsInf(float64(condition(err)), 1) {
		return math.Inf(1)
	}
	return x.AtVec(0)
}

func condition(err error) mat.Condition {
	if c, ok := err.(mat.Condition); ok {
		return c
	}
	return 0
}

// SignalBy is the chance of a signal within 1, 2, … n steps.
func (c Chain) SignalBy(n int) []float64 {
	out, step := make([]float64, n), c.survival()
	for i := range out {
		out[i] = clamp01(1 - step())
	}
	return out
}

func (c Chain) survival() func() float64 {
	now, next := make([]float64, len(c.to)), make([]float64, len(c.to))
	now[0] = 1
	return func() float64 {
		clear(next)
		sum := 0.0
		for i, m := range now {
			if m == 0 {
				continue
			}
			for k, j := range c.to[i] {
				next[j] += m * c.chance[i][k]
			}
		}
		for _, m := range next {
			sum += m
		}
		now, next = next, now
		return sum
	}
}

// Extrapolate carries a figure that a chain gives on three numbers of cells to
// infinitely many, taking it as a + b/cells + c/cells² (Brook and Evans, 1972,
// section 3). It suits the normal sum; a pass/fail sum on a rounded grid does
// not change so smoothly.
func Extrapolate(figure func(cells int) float64, cells [3]int) float64 {
	a, y := mat.NewDense(3, 3, nil), mat.NewVecDense(3, nil)
	for i, n := range cells {
		r := 1 / float64(n)
		a.SetRow(i, []float64{1, r, r * r})
		y.SetVec(i, figure(n))
	}
	var x mat.VecDense
	if err := x.SolveVec(a, y); err != nil {
		return math.NaN()
	}
	return x.AtVec(0)
}
