package fit

import (
	"math"

	"tyro/models"
)

// Least squares with one moving shape parameter, the case that matters most for
// speed: the linear coefficients are solved for at every step, and Newton runs
// on the shape alone with the exact second derivative of the reduced sum of
// squares (the Schur complement of the full Hessian).

// reducible reports whether the short way applies to the responses taken.
func (f *Fitter) reducible() bool {
	return f.squares && !f.log && len(f.free) == 1 && f.form.n > 0 && f.restart == nil && !f.whitened
}

// reduced is the reduced sum of squares at one shape value.
type reduced struct {
	beta      [2]float64
	loss      float64 // half the residual sum of squares
	slope     float64 // in the moved parameter
	curvature float64
	ok        bool
}

// reducedAt evaluates the reduced problem at τ.
func (f *Fitter) reducedAt(tau float64) (r reduced) {
	s := f.fixed
	s[f.free[0]] = f.fromMoved(0, tau)
	f.fillOne(s)
	ys := f.working
	z, z1, z2 := f.z[:len(ys)], f.z1[0][:len(ys)], f.z2[0][:len(ys)]
	var sz, szz, szy, sy float64
	for i, y := range ys {
		sz += z[i]
		szz += z[i] * z[i]
		szy += z[i] * y
		sy += y
	}
	n := float64(len(z))
	m, rhs := f.normalEquations(n, sz, szz, sy, szy)
	var ok bool
	if r.beta, ok = solveTwo(m, rhs, f.form.n); !ok {
		return r
	}
	c0, c1 := f.form.coefficients(r.beta)
	var ez1, ez2, sz1, szz1, sz11 float64
	for i, y := range ys {
		e := y - c0 - c1*z[i]
		r.loss += e * e / 2
		ez1 += e * z1[i]
		ez2 += e * z2[i]
		sz1 += z1[i]
		szz1 += z[i] * z1[i]
		sz11 += z1[i] * z1[i]
	}
	r.slope = -c1 * ez1
	var cross [2]float64 // second derivative in coefficient and shape
	for k := range f.form.n {
		cross[k] = c1*(f.form.b0[k]*sz1+f.form.b1[k]*szz1) - f.form.b1[k]*ez1
	}
	through, _ := solveTwo(m, cross, f.form.n)
	r.curvature = c1*c1*sz11 - c1*ez2 - cross[0]*through[0] - cross[1]*through[1]
	r.ok = true
	return r
}

// fillOne is fill for one moved parameter, without the bookkeeping for two.
func (f *Fitter) fillOne(s models.Shapes) {
	if !f.decay {
		f.fill(s, true)
		return
	}
	// h = exp(−rate·t) with the rate moved on the log scale or, signed, as it
	// is: h₁ = −u·h and h₂ = (u² − u)·h or t²·h, with u = rate·t.
	rate := s[0]
	onLog := f.onLog[0]
	ts := f.clock
	f.z = f.falls.Extend(f.z[:0], rate, len(ts))
	deriv := func(t float64) (h, h1, h2 float64) {
		h = f.fallAt(t, rate)
		if onLog {
			u := rate * t
			return h, -u * h, (u*u - u) * h
		}
		return h, -t * h, t * t * h
	}
	var a, a1, a2, d1, d2 float64
	d := 1.0
	zero, unit, less := f.anchorTimes()
	if !math.IsNaN(zero) {
		a, a1, a2 = deriv(zero)
	}
	if !math.IsNaN(unit) {
		d, d1, d2 = deriv(unit)
	}
	switch {
	case less == zero:
		d, d1, d2 = d-a, d1-a1, d2-a2
	case !math.IsNaN(less):
		b, b1, b2 := deriv(less)
		d, d1, d2 = d-b, d1-b1, d2-b2
	}
	if d == 0 {
		d = 1
	}
	inv := 1 / d
	z, z1, z2 := f.z[:len(ts)], f.z1[0][:len(ts)], f.z2[0][:len(ts)]
	a, a1, a2, d1, d2 = a*inv, a1*inv, a2*inv, d1*inv, d2*inv
	slope, shift := 1.0, 0.0
	if onLog {
		slope, shift = rate, 1
	}
	for i, t := range ts {
		h := inv * z[i]
		u := t * slope // h₁ = −u·h, h₂ = (u² − shift·u)·h
		h1, h2 := -u*h, (u*u-shift*u)*h
		v := h - a
		v1 := h1 - a1 - v*d1
		z[i], z1[i], z2[i] = v, v1, h2-a2-2*v1*d1-v*d2
	}
}

// normalEquations builds the matrix (00, 01, 11) and right side for the form's
// coefficients from sums over the attempts.
func (f *Fitter) normalEquations(s0, sz, szz, sy, szy float64) (m [3]float64, rhs [2]float64) {
	fm := &f.form
	ty, tz := sy-fm.k0*s0-fm.k1*sz, szy-fm.k0*sz-fm.k1*szz
	for q, jk := range pairs {
		j, k := jk[0], jk[1]
		m[q] = fm.b0[j]*fm.b0[k]*s0 + (fm.b0[j]*fm.b1[k]+fm.b1[j]*fm.b0[k])*sz + fm.b1[j]*fm.b1[k]*szz
	}
	for k := range fm.n {
		rhs[k] = fm.b0[k]*ty + fm.b1[k]*tz
	}
	return m, rhs
}

// solveTwo solves a symmetric system of n = 0, 1 or 2 unknowns.
func solveTwo(m [3]float64, rhs [2]float64, n int) (x [2]float64, ok bool) {
	switch n {
	case 1:
		if !(m[0] > 0) {
			return x, false
		}
		x[0] = rhs[0] / m[0]
	case 2:
		det := m[0]*m[2] - m[1]*m[1]
		if !(det > 1e-13*m[0]*m[2]) {
			return x, false
		}
		x[0] = (m[2]*rhs[0] - m[1]*rhs[1]) / det
		x[1] = (m[0]*rhs[1] - m[1]*rhs[0]) / det
	}
	return x, true
}

// descend runs Newton on the reduced problem from τ, keeping a bracket that
// holds a minimum. It is the fitter's own, for speed: it has the exact slope of the
// slope at hand and allocates nothing.
func (f *Fitter) descend(tau float64) (point, float64, bool) {
	lo, hi := f.lo[0], f.hi[0]
	tau = math.Min(math.Max(tau, lo), hi)
	var best reduced
	at := math.NaN()
	for range 60 {
		r := f.reducedAt(tau)
		if !r.ok {
			break
		}
		best, at = r, tau
		if r.slope > 0 {
			hi = tau
		} else {
			lo = tau
		}
		step := -r.slope / r.curvature
		if !(r.curvature > 0) {
			step = math.Copysign(0.5, -r.slope)
		}
		step = math.Min(math.Max(step, -2), 2)
		next := tau + step
		if small := 1e-6 * math.Max(1, math.Abs(tau)); math.Abs(step) <= small && r.curvature > 0 {
			// Newton squares its error: one more step is as far as digits go.
			if last := f.reducedAt(math.Min(math.Max(next, f.lo[0]), f.hi[0])); last.ok && math.Abs(step) > 1e-13 {
				return f.reducedPoint(last, math.Min(math.Max(next, f.lo[0]), f.hi[0])), last.loss, true
			}
			return f.reducedPoint(best, at), best.loss, true
		}
		if next <= lo || next >= hi {
			edge := next <= lo && lo == f.lo[0] || next >= hi && hi == f.hi[0]
			switch {
			case edge && (tau == lo || tau == hi): // pushed against the bound
				return f.reducedPoint(best, at), best.loss, true
			case edge:
				next = math.Min(math.Max(next, f.lo[0]), f.hi[0])
			default:
				next = (lo + hi) / 2
			}
		}
		if next == tau || hi-lo <= 1e-12*math.Max(1, math.Abs(tau)) {
			return f.reducedPoint(best, at), best.loss, true
		}
		tau = next
	}
	if math.IsNaN(at) {
		return point{}, math.Inf(1), false
	}
	return f.reducedPoint(best, at), best.loss, false
}

func (f *Fitter) reducedPoint(r reduced, tau float64) (q point) {
	copy(q[:], r.beta[:f.form.n])
	q[f.form.n] = tau
	return q
}
