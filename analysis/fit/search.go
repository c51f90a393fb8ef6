package fit

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"

	"tyro/models"
)

// A start is a point to begin a Newton iteration from.
type start struct {
	beta  [2]float64
	shape models.Shapes
	loss  float64
	tau   float64 // with one moved parameter, where a parabola puts the dip
}

// maxStarts bounds the dips that are followed to the bottom.
const maxStarts = 6

// starts profiles the linear coefficients out at every grid point and returns
// the dips, best first. A refit needs only sums for it, see projectNear.
func (f *Fitter) starts(buf []start) []start {
	switch {
	case f.nearby:
		f.projectNear()
	case f.log:
		for g, z := range f.gridZ {
			f.beta[g], f.losses[g] = f.project(z)
		}
	default:
		f.projectAll()
	}
	buf = buf[:0]
	for i := range f.shapeDims[0] {
		for j := range f.shapeDims[1] {
			g := i*f.shapeDims[1] + j
			if f.isDip(i, j) && !math.IsInf(f.losses[g], 1) {
				buf = insert(buf, start{f.beta[g], f.grid[g], f.losses[g], f.vertex(i)})
			}
		}
	}
	return buf
}

// vertex is the lowest point of the parabola through a dip and its neighbours on
// the grid of the first moved parameter, on the scale it moves on.
func (f *Fitter) vertex(i int) float64 {
	if len(f.free) != 1 {
		return 0
	}
	at := func(k int) float64 { return f.toMoved(0, f.grid[k][f.free[0]]) }
	b, fb := at(i), f.losses[i]
	if i == 0 || i == len(f.grid)-1 {
		return b
	}
	a, fa, c, fc := at(i-1), f.losses[i-1], at(i+1), f.losses[i+1]
	p, q := (b-a)*(fb-fc), (b-c)*(fb-fa)
	v := b - ((b-a)*p-(b-c)*q)/(2*(p-q))
	if !(v > a && v < c) {
		return b
	}
	return v
}

// insert keeps the best few starts in order of loss.
func insert(list []start, s start) []start {
	at := len(list)
	for at > 0 && list[at-1].loss > s.loss {
		at--
	}
	if at == maxStarts {
		return list
	}
	if len(list) < maxStarts {
		list = append(list, start{})
	}
	copy(list[at+1:], list[at:])
	list[at] = s
	return list
}

// isDip reports whether no neighbour on the grid is lower.
func (f *Fitter) isDip(i, j int) bool {
	here := f.losses[i*f.shapeDims[1]+j]
	for di := -1; di <= 1; di++ {
		for dj := -1; dj <= 1; dj++ {
			a, b := i+di, j+dj
			if a < 0 || b < 0 || a >= f.shapeDims[0] || b >= f.shapeDims[1] {
				continue
			}
			if f.losses[a*f.shapeDims[1]+b] < here {
				return false
			}
		}
	}
	return true
}

// projectAll finds linear coefficients at every grid point by least squares,
// and half their residual sum of squares, from sums alone.
func (f *Fitter) projectAll() {
	centre := 0.0
	if f.form.k0 == 0 && f.form.k1 == 0 && f.form.b0[0] == 1 && f.form.b1[0] == 0 {
		centre = f.working[0] // a level moves with the responses: fewer digits are lost
	}
	f.centred = slices.Grow(f.centred[:0], len(f.working))
	var sy, syy float64
	for _, y := range f.working {
		f.centred = append(f.centred, y-centre)
		sy += y - centre
		syy += (y - centre) * (y - centre)
	}
	n := float64(len(f.working))
	k0, k1 := f.form.k0, f.form.k1
	for g, z := range f.gridZ {
		szy := floats.Dot(z, f.centred)
		sz, szz := f.gridS[g][0], f.gridS[g][1]
		m, rhs := f.normalEquations(n, sz, szz, sy, szy)
		beta, ok := solveTwo(m, rhs, f.form.n)
		if !ok && f.form.n > 0 {
			f.losses[g] = math.Inf(1)
			continue
		}
		total := syy - 2*k0*sy - 2*k1*szy + k0*k0*n + 2*k0*k1*sz + k1*k1*szz
		f.losses[g] = total - rhs[0]*beta[0] - rhs[1]*beta[1]
		beta[0] += centre
		f.beta[g] = beta
	}
}

// project finds linear coefficients for given z by least squares with weights
// 1/y², which make deviations relative ones, rescales the curve to its best
// level where the form allows it, and returns the loss on the log scale.
func (f *Fitter) project(z []float64) (beta [2]float64, loss float64) {
	var s0, sz, szz, sy, szy float64
	for i, y := range f.working {
		w := 1 / (y * y)
		wz := w * z[i]
		s0 += w
		sz += wz
		szz += wz * z[i]
		sy += w * y
		szy += wz * y
	}
	m, rhs := f.normalEquations(s0, sz, szz, sy, szy)
	beta, ok := solveTwo(m, rhs, f.form.n)
	if !ok && f.form.n > 0 {
		return beta, math.Inf(1)
	}
	c0, c1 := f.form.coefficients(beta)
	var sum, sum2 float64
	for i, y := range f.working {
		m := c0 + c1*z[i]
		if !(m > 0) {
			return beta, math.Inf(1)
		}
		e := math.Log(y / m)
		sum += e
		sum2 += e * e
	}
	if f.form.k0 == 0 && f.form.k1 == 0 {
		n := float64(len(f.y))
		level := math.Exp(sum / n)
		beta[0] *= level
		beta[1] *= level
		sum2 -= sum * sum / n
	}
	return beta, sum2
}
