package fit

import (
	"math"

	"tyro/models"
)

// A start is a point to begin a Newton iteration from.
type start struct {
	beta  [2]float64
	shape models.Shapes
	loss  float64
}

// maxStarts bounds the dips that are followed to the bottom.
const maxStarts = 6

// starts profiles the linear coefficients out at every grid point and returns
// the dips, best first.
func (f *Fitter) starts(buf []start) []start {
	for g, z := range f.gridZ {
		f.beta[g], f.losses[g] = f.project(z)
	}
	buf = buf[:0]
	for i := range f.shapeDims[0] {
		for j := range f.shapeDims[1] {
			g := i*f.shapeDims[1] + j
			if f.isDip(i, j) && !math.IsInf(f.losses[g], 1) {
				buf = insert(buf, start{f.beta[g], f.grid[g], f.losses[g]})
			}
		}
	}
	return buf
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

// project finds linear coefficients for given z by weighted least squares and
// the loss they have, exact for least squares and a stand-in for other
// likelihoods. On the log scale the weights 1/y² make deviations
// relative ones, and where the form allows it the curve is then rescaled to
// its best level.
func (f *Fitter) project(z []float64) (beta [2]float64, loss float64) {
	var s0, sz, szz, sy, szy float64
	for i, y := range f.working {
		w := 1.0
		if f.log {
			w = 1 / (y * y)
		}
		wz := w * z[i]
		s0 += w
		sz += wz
		szz += wz * z[i]
		sy += w * y
		szy += wz * y
	}
	fm := &f.form
	var m [3]float64 // normal matrix 00, 01, 11
	var r [2]float64
	ty, tz := sy-fm.k0*s0-fm.k1*sz, szy-fm.k0*sz-fm.k1*szz
	for q, jk := range pairs {
		j, k := jk[0], jk[1]
		m[q] = fm.b0[j]*fm.b0[k]*s0 + (fm.b0[j]*fm.b1[k]+fm.b1[j]*fm.b0[k])*sz + fm.b1[j]*fm.b1[k]*szz
	}
	for k := range fm.n {
		r[k] = fm.b0[k]*ty + fm.b1[k]*tz
	}
	switch fm.n {
	case 1:
		if m[0] <= 0 {
			return beta, math.Inf(1)
		}
		beta[0] = r[0] / m[0]
	case 2:
		det := m[0]*m[2] - m[1]*m[1]
		if !(det > 1e-12*m[0]*m[2]) {
			return beta, math.Inf(1)
		}
		beta[0] = (m[2]*r[0] - m[1]*r[1]) / det
		beta[1] = (m[0]*r[1] - m[1]*r[0]) / det
	}
	c0, c1 := fm.coefficients(beta)
	if !f.log {
		for i, y := range f.working {
			e := y - c0 - c1*z[i]
			loss += e * e
		}
		return beta, loss
	}
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
	if fm.k0 == 0 && fm.k1 == 0 {
		n := float64(len(f.y))
		level := math.Exp(sum / n)
		beta[0] *= level
		beta[1] *= level
		sum2 -= sum * sum / n
	}
	return beta, sum2
}
