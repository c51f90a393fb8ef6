package fit

import (
	"math"

	"gonum.org/v1/gonum/floats"

	"tyro/models"
)

// Refits of a bootstrap. Series are drawn about a curve that is known, so that their own
// best curve lies near it. There the loss of an attempt is nearly a parabola in the mean,
// which makes every point of the grid a weighted regression: a few sums say where the dips
// of the replicate's own surface lie and how deep they are, and one to three Newton steps
// finish the deepest. It is the same search over all shapes as for a first fit, at a small
// part of its cost; refit_test.go holds the two against each other on hard series.

// A vicinity is what a fitter knows of the curve that series are drawn from.
type vicinity struct {
	mean   []float64 // the curve at each attempt
	scale  float64   // its noise
	begin  float64   // scale to begin from: that of the family's own fit to what was seen
	weight []float64 // curvature of each attempt's loss at the mean
	pull   []float64 // weight times the response at the bottom of its parabola
	exact  []float64 // weights of exact least squares, the same for every series
	exactZ [][2]float64
	zz     [][]float64 // z² at each grid point
}

// otherDips is how far above the deepest dip another may lie, in twice the log-likelihood,
// and still be followed to its bottom.
const otherDips = 6

// about makes the fitter refit series drawn about the given means, with noise of the scale
// given, and of the scale to begin from. Breaks, correlated neighbours and given starts keep the long way.
func (f *Fitter) about(mean []float64, scale, begin float64) *Fitter {
	if f.restart != nil || f.neighbour != nil || f.spec.From != nil {
		return f
	}
	if !(scale > 0) {
		scale = 1 // a noise without one, or attempts all on the curve
	}
	if !(begin > 0) {
		begin = scale
	}
	n := len(mean)
	v := &vicinity{mean: mean, scale: scale, begin: begin, weight: make([]float64, n), pull: make([]float64, n)}
	for _, z := range f.gridZ {
		zz := make([]float64, n)
		floats.MulTo(zz, z, z)
		v.zz = append(v.zz, zz)
	}
	if squares, relative := models.Squares(f.spec.Noise); squares {
		v.exact = make([]float64, n)
		for i, m := range mean {
			v.exact[i] = 1 / (scale * scale)
			if relative {
				v.exact[i] /= m * m
			}
		}
		for g, z := range f.gridZ {
			v.exactZ = append(v.exactZ, [2]float64{floats.Dot(v.exact, z), floats.Dot(v.exact, v.zz[g])})
		}
	}
	f.near = v
	if f.edge != nil {
		f.edge.about(mean, scale, begin)
	}
	return f
}

// parabolas sets each attempt's weight and pull at the curve that the series was drawn from.
func (f *Fitter) parabolas() {
	v := f.near
	if f.squares {
		for i, y := range f.y {
			v.pull[i] = v.exact[i] * v.mean[i] * (1 + f.residualAt(y, v.mean[i]))
			if !f.log {
				v.pull[i] = v.exact[i] * y
			}
		}
		return
	}
	for i, y := range f.y {
		l := f.spec.Noise.Loss(y, v.mean[i], v.scale, f.censored(i))
		v.weight[i] = math.Abs(l.MM)
		v.pull[i] = v.weight[i]*v.mean[i] - l.M
	}
}

// projectNear finds linear coefficients and loss, in twice the log-likelihood and up to a
// constant, at every grid point.
func (f *Fitter) projectNear() {
	v := f.near
	f.parabolas()
	weight := v.weight
	if f.squares {
		weight = v.exact
	}
	s0, sy := floats.Sum(weight), floats.Sum(v.pull)
	k0, k1 := f.form.k0, f.form.k1
	for g, z := range f.gridZ {
		var sz, szz float64
		if f.squares {
			sz, szz = v.exactZ[g][0], v.exactZ[g][1]
		} else {
			sz, szz = floats.Dot(weight, z), floats.Dot(weight, v.zz[g])
		}
		szy := floats.Dot(v.pull, z)
		m, rhs := f.normalEquations(s0, sz, szz, sy, szy)
		beta, ok := solveTwo(m, rhs, f.form.n)
		if !ok && f.form.n > 0 {
			f.losses[g] = math.Inf(1)
			continue
		}
		f.beta[g] = beta
		f.losses[g] = k0*k0*s0 + 2*k0*k1*sz + k1*k1*szz - 2*k0*sy - 2*k1*szy - rhs[0]*beta[0] - rhs[1]*beta[1]
	}
}

// follow finishes the dips of a replicate's surface, deepest first.
func (f *Fitter) follow(best *solution, starts []start) {
	for i, s := range starts {
		if i > 0 && s.loss > starts[0].loss+otherDips {
			return
		}
		q := f.pointFrom(s)
		loss, ok := f.few(&q)
		f.consider(best, q, loss, ok)
	}
}

// few takes the few Newton steps that lead from a start near a minimum to it. Where they do
// not go down at once, walk takes over.
func (f *Fitter) few(q *point) (loss float64, converged bool) {
	if !f.summable() {
		return f.polish(q)
	}
	p := f.dim()
	var s surface
	t := f.sumsAt(*q)
	for range 12 {
		f.surfaceOf(&t, *q, &s)
		step, decrease, ok := newtonStep(&s, p, f.frozen(*q, s.grad))
		if !ok {
			break
		}
		next := f.clamp(q, step)
		if decrease <= enough*math.Abs(t.loss) {
			*q = next
			return t.loss - decrease, true
		}
		then := f.sumsAt(next)
		for range 3 {
			if then.loss < t.loss {
				break
			}
			for i := range p {
				step[i] /= 2
			}
			next = f.clamp(q, step)
			then = f.sumsAt(next)
		}
		if !(then.loss < t.loss) {
			break
		}
		*q, t = next, then
	}
	return f.polish(q)
}

// enough is the share of the loss below which what a step promises to save is taken as
// saved: the next step would save its square.
const enough = 1e-7

// newtonStep is the step to the bottom of the surface; false where it has none.
func newtonStep(s *surface, p int, frozen [maxDim]bool) (step [maxDim]float64, decrease float64, ok bool) {
	step, ok = choleskySolve(&s.hess, &s.hess, &s.grad, p, frozen, 0)
	for i := range p {
		decrease -= step[i] * s.grad[i] / 2
	}
	return step, decrease, ok
}

// atEdge is the best curve with its plateau at 0 where every dip's plateau lies below that,
// and raising it from 0 would only do worse; false else.
func (f *Fitter) atEdge(starts []start) (solution, bool) {
	if f.edge == nil || len(starts) == 0 {
		return solution{}, false
	}
	for i, s := range starts {
		if i > 0 && s.loss > starts[0].loss+otherDips {
			break
		}
		if f.curveAt(f.pointFrom(s)).Plateau >= 0 {
			return solution{}, false
		}
	}
	e := f.solveEdge()
	if math.IsInf(e.loss, 1) || !e.converged {
		return e, false
	}
	if t := f.edge.sumsAt(e.point); !(t.m >= 0) {
		return e, false
	}
	e.curve.Family = f.spec.Family
	return e, true
}
