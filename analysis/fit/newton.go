package fit

import (
	"math"

	"tyro/models"
)

// A point is a set of moved parameters: linear coefficients, shape parameters
// on the scale they move on, log scale.
type point [maxDim]float64

// A surface is the loss at a point with its gradient, exact Hessian and a
// nonnegative substitute for it.
type surface struct {
	loss    float64
	grad    [maxDim]float64
	hess    [maxDim][maxDim]float64
	descent [maxDim][maxDim]float64
}

func (f *Fitter) pointFrom(s start) point {
	var q point
	copy(q[:], s.beta[:f.form.n])
	for k, j := range f.free {
		q[f.form.n+k] = f.toMoved(k, s.shape[j])
	}
	if f.scaled && f.nearby {
		q[f.dim()-1] = math.Log(f.near.beginAt(s, len(f.y)))
		return q
	}
	if f.scaled {
		scale := math.Sqrt(math.Max(s.loss, 1e-300) / float64(len(f.y)))
		if !f.spec.Noise.Additive() {
			scale = 0.3
		}
		if !f.log { // the grid's loss is in the unit of the response: to the additive scale
			sum := 0.0
			for _, y := range f.y {
				sum += f.spec.Noise.LogJacobian(y, false)
			}
			scale *= math.Exp(sum / float64(len(f.y)))
		}
		q[f.dim()-1] = math.Log(scale)
	}
	return q
}

func (f *Fitter) shapeOf(q point) models.Shapes {
	s := f.fixed
	for k, j := range f.free {
		s[j] = f.fromMoved(k, q[f.form.n+k])
	}
	return s
}

func (f *Fitter) scaleOf(q point) float64 {
	if !f.scaled {
		return 1
	}
	return models.Exp(q[f.dim()-1])
}

func (f *Fitter) censored(i int) bool { return f.cens != nil && f.cens[i] }

// lossAt is the loss at q: half the residual sum of squares, or minus the log
// likelihood on the noise's own scale. +Inf
// where the curve leaves the domain of the noise.
func (f *Fitter) lossAt(q point) float64 {
	f.fill(f.shapeOf(q), false)
	c0, c1 := f.form.coefficients([2]float64{q[0], q[1]})
	if f.whitened {
		return f.whitenedLoss(q, c0, c1)
	}
	scale := f.scaleOf(q)
	logScale := math.Log(scale)
	sum := 0.0
	for i, y := range f.y {
		m := c0 + c1*f.z[i]
		if f.restart != nil {
			m, _ = f.shifted(m, q, i)
		}
		switch {
		case f.gaussian && !f.censored(i):
			if f.log && !(m > 0) {
				return math.Inf(1)
			}
			e := f.residualAt(y, m) / scale
			sum += e*e/2 + logScale + halfLog2Pi
		case !f.squares:
			sum += f.spec.Noise.Loss(y, m, scale, f.censored(i)).Value
		case f.log:
			if !(m > 0) {
				return math.Inf(1)
			}
			e := math.Log(y / m)
			sum += e * e / 2
		default:
			e := y - m
			sum += e * e / 2
		}
	}
	return sum
}

// halfLog2Pi is minus the log density of a standard normal variable at 0.
var halfLog2Pi = 0.5 * math.Log(2*math.Pi)

// terms is one attempt's loss with derivatives in m and log scale, and a
// curvature in m that is never negative.
func (f *Fitter) terms(i int, m, scale, logScale float64) (l models.Loss, curvature float64) {
	y := f.y[i]
	switch {
	case f.gaussian && !f.censored(i):
		e := f.residualAt(y, m) / scale
		inverse := 1 / scale
		l = models.Loss{Value: e*e/2 + logScale + halfLog2Pi, M: -e * inverse, MM: inverse * inverse, S: 1 - e*e, MS: 2 * e * inverse, SS: 2 * e * e}
		if f.log { // through η = log m: η' = 1/m, η'' = −1/m²
			l.MM = (l.MM - l.M) / (m * m)
			l.M /= m
			l.MS /= m
		}
		return l, math.Abs(l.MM)
	case !f.squares:
		l = f.spec.Noise.Loss(y, m, scale, f.censored(i))
		return l, math.Abs(l.MM)
	case f.log:
		e := math.Log(y / m)
		return models.Loss{Value: e * e / 2, M: -e / m, MM: (1 + e) / (m * m)}, 1 / (m * m)
	default:
		e := y - m
		return models.Loss{Value: e * e / 2, M: -e, MM: 1}, 1
	}
}

// surfaceAt evaluates everything at q, where the loss is finite.
func (f *Fitter) surfaceAt(q point, s *surface) {
	*s = surface{}
	if f.summable() {
		t := f.sumsAt(q)
		f.surfaceOf(&t, q, s)
		f.descentAt(q, s)
		return
	}
	if len(f.free) == 1 {
		f.fillOne(f.shapeOf(q))
	} else {
		f.fill(f.shapeOf(q), true)
	}
	nc, p := f.coefficients(), f.dim()
	c0, c1 := f.form.coefficients([2]float64{q[0], q[1]})
	if f.whitened {
		f.whitenedSurface(q, c0, c1, s)
		return
	}
	scale := f.scaleOf(q)
	logScale := math.Log(scale)
	for i := range f.y {
		m, mt, factor := f.meanAt(q, c0, c1, i)
		l, curvature := f.terms(i, m, scale, logScale)
		s.loss += l.Value
		for a := range nc {
			s.grad[a] += l.M * mt[a]
			for b := range a + 1 {
				mm := mt[a] * mt[b]
				s.hess[a][b] += l.MM * mm
				s.descent[a][b] += curvature * mm
			}
		}
		f.bend(s, i, l.M*factor, c1)
		if f.restart != nil && f.log {
			f.bendRestart(s, i, l.M, &mt)
		}
		if f.scaled {
			s.grad[p-1] += l.S
			s.hess[p-1][p-1] += l.SS
			s.descent[p-1][p-1] += math.Abs(l.SS)
			for a := range nc {
				s.hess[p-1][a] += l.MS * mt[a]
			}
		}
	}
}

// meanAt is the mean at attempt i with its derivatives in the moved parameters,
// and the factor by which a restart has multiplied the curve.
func (f *Fitter) meanAt(q point, c0, c1 float64, i int) (m float64, mt [maxDim]float64, factor float64) {
	z := f.z[i]
	m, factor = c0+c1*z, 1
	for k := range f.form.n {
		mt[k] = f.form.b0[k] + f.form.b1[k]*z
	}
	for k := range f.free {
		mt[f.form.n+k] = c1 * f.z1[k][i]
	}
	if f.restart == nil {
		return m, mt, factor
	}
	at := f.restartAt()
	m, factor = f.shifted(m, q, i)
	mt[at] = f.restart[i]
	if f.log {
		for a := range at {
			mt[a] *= factor
		}
		mt[at] *= m
	}
	return m, mt, factor
}

// bend adds weight times the second derivatives of the curve at attempt i.
func (f *Fitter) bend(s *surface, i int, weight, c1 float64) {
	nb := f.form.n
	for j := range f.free {
		for k := range nb {
			s.hess[nb+j][k] += weight * f.form.b1[k] * f.z1[j][i]
		}
	}
	for v, jk := range pairs {
		if f.z2[v] != nil {
			s.hess[nb+jk[1]][nb+jk[0]] += weight * c1 * f.z2[v][i]
		}
	}
}

// The Newton loop and the solution of its equations are the fitter's own rather than
// the numeric package's: they hold bounds, take arrays of fixed size and allocate
// nothing, which makes a fit take microseconds.

// polish walks from q to a minimum of the loss inside the bounds of the shape
// parameters: to the last digits, or in a rough fitter as far as a refit needs. It reports
// whether it arrived.
func (f *Fitter) polish(q *point) (loss float64, converged bool) {
	if f.rough {
		return f.walk(q, 1)
	}
	return f.walk(q, 3)
}

// settled reports whether what a step would save is not worth it any more.
func (f *Fitter) settled(decrease, loss float64) bool {
	if f.rough {
		return f.inLogLik(decrease, loss) <= enough
	}
	return decrease <= 1e-15*math.Abs(loss)
}

// walk takes steps until they are settled, and then so many in all.
func (f *Fitter) walk(q *point, last int) (loss float64, converged bool) {
	p := f.dim()
	if p == 0 {
		return f.lossAt(*q), true
	}
	loss = f.lossAt(*q)
	if math.IsInf(loss, 1) || math.IsNaN(loss) {
		return math.Inf(1), false
	}
	// The surface at the next place is worked out with its loss, since most steps are
	// taken: two of them change places.
	var both [2]surface
	s, then := &both[0], &both[1]
	f.surfaceAt(*q, s)
	lambda, quiet := 1e-4, 0
	for range 200 {
		frozen := f.frozen(*q, s.grad)
		moved := false
		for range 40 {
			step, decrease, ok := solveStep(s, p, frozen, lambda)
			if !ok {
				lambda = math.Max(lambda*10, 1e-6)
				continue
			}
			next := f.clamp(q, step)
			if f.settled(decrease, loss) {
				// At the bottom further pure Newton steps give the last digits.
				quiet++
				if quiet >= last {
					if nextLoss := f.lossAt(next); nextLoss <= loss*(1+1e-12)+1e-300 {
						*q, loss = next, math.Min(loss, nextLoss)
					}
				} else if f.surfaceAt(next, then); then.loss <= loss*(1+1e-12)+1e-300 {
					*q, loss, s, then = next, math.Min(loss, then.loss), then, s
				}
				moved = true
				break
			}
			if f.surfaceAt(next, then); then.loss < loss {
				*q, loss, moved = next, then.loss, true
				s, then = then, s
				lambda /= 10
				if lambda < 1e-9 {
					lambda = 0
				}
				break
			}
			lambda = math.Max(lambda*10, 1e-6)
		}
		if quiet >= last {
			return loss, true
		}
		if !moved {
			return loss, gradientIsFlat(s, p, frozen, loss)
		}
	}
	return loss, false
}

// frozen marks shape parameters that sit at a bound and would leave it.
func (f *Fitter) frozen(q point, grad [maxDim]float64) (out [maxDim]bool) {
	for k := range f.free {
		i := f.form.n + k
		out[i] = q[i] <= f.lo[k] && grad[i] > 0 || q[i] >= f.hi[k] && grad[i] < 0
	}
	return out
}

// clamp adds the step and keeps shape parameters inside their bounds.
func (f *Fitter) clamp(q *point, step [maxDim]float64) point {
	next := *q
	for i := range f.dim() {
		next[i] += step[i]
	}
	for k := range f.free {
		i := f.form.n + k
		// A long jump in the log of a rate leaves the region that the local
		// picture describes.
		if f.onLog[k] {
			next[i] = math.Min(math.Max(next[i], q[i]-2), q[i]+2)
		}
		next[i] = math.Min(math.Max(next[i], f.lo[k]), f.hi[k])
	}
	return next
}

// solveStep solves (H + λ·diag)·step = −grad over the parameters that are not
// frozen, with the exact Hessian where it is positive definite and its
// nonnegative substitute where it is not. decrease is the loss it promises to
// save.
func solveStep(s *surface, p int, frozen [maxDim]bool, lambda float64) (step [maxDim]float64, decrease float64, ok bool) {
	for _, m := range []*[maxDim][maxDim]float64{&s.hess, &s.descent} {
		if step, ok = choleskySolve(m, &s.descent, &s.grad, p, frozen, lambda); ok {
			for i := range p {
				decrease -= step[i] * s.grad[i] / 2
			}
			return step, decrease, true
		}
	}
	return step, 0, false
}

func choleskySolve(m, scale *[maxDim][maxDim]float64, grad *[maxDim]float64, p int, frozen [maxDim]bool, lambda float64) (x [maxDim]float64, ok bool) {
	var l [maxDim][maxDim]float64
	for i := range p {
		for j := range i + 1 {
			v := m[i][j]
			if i == j {
				v += lambda * scale[i][i]
			}
			if frozen[i] || frozen[j] {
				v = 0
				if i == j {
					v = 1
				}
			}
			for k := range j {
				v -= l[i][k] * l[j][k]
			}
			if i == j {
				if !(v > 1e-14*math.Abs(m[i][i])) && !frozen[i] || math.IsInf(v, 0) {
					return x, false
				}
				l[i][i] = math.Sqrt(v)
			} else {
				l[i][j] = v / l[j][j]
			}
		}
	}
	for i := range p {
		v := -grad[i]
		if frozen[i] {
			v = 0
		}
		for k := range i {
			v -= l[i][k] * x[k]
		}
		x[i] = v / l[i][i]
	}
	for i := p - 1; i >= 0; i-- {
		for k := i + 1; k < p; k++ {
			x[i] -= l[k][i] * x[k]
		}
		x[i] /= l[i][i]
	}
	return x, true
}

// gradientIsFlat accepts a point from which no step helped when the gradient
// is as small as rounding allows.
func gradientIsFlat(s *surface, p int, frozen [maxDim]bool, loss float64) bool {
	for i := range p {
		if !frozen[i] && s.grad[i]*s.grad[i] > 1e-9*math.Max(s.descent[i][i], 1e-300)*math.Max(loss, 1e-300) {
			return false
		}
	}
	return true
}
