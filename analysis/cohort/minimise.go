package cohort

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// An optimum is where the search for theta ended.
type optimum struct {
	theta     []float64
	value     float64 // minus log marginal likelihood
	grad      []float64
	hess      []float64 // second derivatives, row by row; nil before refine
	converged bool
}

// bounds keep the search in a region where numbers stay usable.
type bounds struct {
	lower, upper, reach []float64 // reach: the longest step in one iteration
}

// A search is given up after so many steps that had to be shortened so often: the likelihood
// has no smooth top there, and each such step costs as much as a whole search elsewhere.
const (
	tinyStep      = 6
	mostStruggles = 5
)

// minimise searches from theta by quasi-Newton steps (Broyden, Fletcher,
// Goldfarb and Shanno) whose first curvature is the outer product of the
// trainees' gradients.
func (o *objective) minimise(theta []float64, b bounds) optimum {
	p := len(theta)
	x := slices.Clone(theta)
	b.clip(x)
	grad, next := make([]float64, p), make([]float64, p)
	f := o.at(x, grad)
	if math.IsInf(f, 0) || math.IsNaN(f) {
		return optimum{theta: x, value: f}
	}
	h := o.startingCurvature()
	fresh := true
	struggles := 0
	for range 300 {
		frozen := b.frozen(x, grad)
		step, gain := newtonStep(h, grad, frozen)
		if step == nil {
			h, fresh = o.startingCurvature(), true
			if step, gain = newtonStep(h, grad, frozen); step == nil {
				return optimum{theta: x, value: f, grad: grad}
			}
		}
		if gain < 1e-7 {
			return optimum{theta: x, value: f, grad: grad, hess: h, converged: true}
		}
		size := 1.0
		for j := range p {
			size = math.Min(size, b.reach[j]/math.Max(math.Abs(step[j]), 1e-300))
		}
		moved := false
		for try := range 30 {
			y := slices.Clone(x)
			for j := range p {
				y[j] += size * step[j]
			}
			b.clip(y)
			saved := slices.Clone(o.modes)
			g := o.at(y, next)
			if g <= f-1e-4*size*gain || try > 3 && g < f-1e-9 {
				update(h, x, y, grad, next)
				copy(x, y)
				grad, next = next, grad
				f, moved, fresh = g, true, false
				if try >= tinyStep {
					struggles++
				}
				break
			}
			copy(o.modes, saved)
			if math.IsInf(g, 1) || math.IsNaN(g) {
				size /= 4
			} else {
				// The parabola through value and slope here and the value there.
				size *= math.Min(math.Max(size*gain/(2*(g-f+size*gain)), 0.1), 0.5)
			}
			if o.ctx.Err() != nil {
				return optimum{theta: x, value: f, grad: grad}
			}
		}
		if struggles == mostStruggles {
			return optimum{theta: x, value: f, grad: grad, hess: h}
		}
		if !moved {
			o.at(x, grad)
			if fresh {
				return optimum{theta: x, value: f, grad: grad, hess: h, converged: gain < 1e-4}
			}
			h, fresh = o.startingCurvature(), true
		}
	}
	return optimum{theta: x, value: f, grad: grad, hess: h}
}

// startingCurvature is the outer product of gradients with a small ridge.
func (o *objective) startingCurvature() []float64 {
	p := o.m.dim()
	h := o.outer()
	for j := range p {
		h[j*p+j] = h[j*p+j]*1.001 + 1e-6
	}
	return h
}

// newtonStep solves h·step = −grad over the parameters that are free; gain is
// the fall in value per unit step, −grad·step. nil where h is not positive
// definite there.
func newtonStep(h, grad []float64, frozen []bool) (step []float64, gain float64) {
	p := len(grad)
	var free []int
	for j := range p {
		if !frozen[j] {
			free = append(free, j)
		}
	}
	step = make([]float64, p)
	if len(free) == 0 {
		return step, 0
	}
	sym := mat.NewSymDense(len(free), nil)
	rhs := mat.NewVecDense(len(free), nil)
	// Scaling by the diagonal keeps parameters of unlike units apart from
	// questions of rank.
	d := make([]float64, len(free))
	for a, i := range free {
		if d[a] = math.Sqrt(h[i*p+i]); !(d[a] > 0) {
			return nil, 0
		}
		rhs.SetVec(a, -grad[i]/d[a])
		for b := range a + 1 {
			sym.SetSym(a, b, h[i*p+free[b]]/(d[a]*d[b]))
		}
	}
	var chol mat.Cholesky
	if !chol.Factorize(sym) || chol.Cond() > 1e14 {
		return nil, 0
	}
	var sol mat.VecDense
	if err := chol.SolveVecTo(&sol, rhs); err != nil {
		return nil, 0
	}
	for a, i := range free {
		step[i] = sol.AtVec(a) / d[a]
		gain -= grad[i] * step[i]
	}
	return step, gain
}

// update is the BFGS update of the curvature h, damped so that it stays
// positive definite (Powell, 1978, Lecture Notes in Mathematics 630, 144-157).
func update(h, x, y, gx, gy []float64) {
	p := len(x)
	s, d, hs := make([]float64, p), make([]float64, p), make([]float64, p)
	var sd, shs float64
	for i := range p {
		s[i], d[i] = y[i]-x[i], gy[i]-gx[i]
		sd += s[i] * d[i]
	}
	for i := range p {
		for j := range p {
			hs[i] += h[i*p+j] * s[j]
		}
		shs += s[i] * hs[i]
	}
	if !(shs > 0) {
		return
	}
	if sd < 0.1*shs {
		t := 0.9 * shs / (shs - sd)
		sd = 0
		for i := range p {
			d[i] = t*d[i] + (1-t)*hs[i]
			sd += s[i] * d[i]
		}
	}
	for i := range p {
		for j := range p {
			h[i*p+j] += d[i]*d[j]/sd - hs[i]*hs[j]/shs
		}
	}
}

// refine finishes an optimum with Newton steps on the second derivatives by
// differences of the gradient, which it leaves in hess. It reports whether
// they are positive definite and the gradient vanishes.
func (o *objective) refine(at *optimum, b bounds) bool {
	p := len(at.theta)
	for round := range 4 {
		scale := make([]float64, p)
		for j := range p {
			scale[j] = 1e-3 * math.Max(1, math.Abs(at.theta[j]))
			if c := at.hess[j*p+j]; c > 0 {
				scale[j] = math.Min(0.01/math.Sqrt(c), 0.02*b.reach[j])
			}
		}
		if round == 0 || round == 2 {
			at.hess = o.hessian(at.theta, scale)
		}
		frozen := b.frozen(at.theta, at.grad)
		step, gain := newtonStep(at.hess, at.grad, frozen)
		if step == nil {
			at.converged = false
			return false
		}
		if gain < 1e-12 {
			break
		}
		y := slices.Clone(at.theta)
		size := 1.0
		for j := range p {
			size = math.Min(size, b.reach[j]/math.Max(math.Abs(step[j]), 1e-300))
		}
		for j := range p {
			y[j] += size * step[j]
		}
		b.clip(y)
		g := make([]float64, p)
		saved := slices.Clone(o.modes)
		if v := o.at(y, g); v <= at.value+1e-7*math.Max(1, math.Abs(at.value)*1e-3) || o.nodes != nil && v < at.value+0.01 {
			at.theta, at.value, at.grad = y, v, g
		} else {
			copy(o.modes, saved)
			break
		}
	}
	_, gain := newtonStep(at.hess, at.grad, b.frozen(at.theta, at.grad))
	at.converged = gain < 1e-5
	return at.converged
}

func (b bounds) clip(x []float64) {
	for j := range x {
		x[j] = math.Min(math.Max(x[j], b.lower[j]), b.upper[j])
	}
}

// frozen marks parameters that sit at a bound and would leave it.
func (b bounds) frozen(x, grad []float64) []bool {
	out := make([]bool, len(x))
	for j := range x {
		out[j] = b.lower[j] == b.upper[j] || x[j] <= b.lower[j] && grad[j] > 0 || x[j] >= b.upper[j] && grad[j] < 0
	}
	return out
}
