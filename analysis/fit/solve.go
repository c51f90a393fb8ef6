package fit

import (
	"math"
	"slices"

	"tyro/models"
)

// A solution is the best curve found for one set of responses.
type solution struct {
	curve          models.Curve
	scale          float64 // spread of single attempts, on the noise's scale
	loss           float64 // half the RSS, or minus the log-likelihood
	point          point
	by             *Fitter // the fitter that found it: the edge's, when the plateau sits at 0
	rho            float64 // correlation of neighbours
	starts, agreed int
	converged      bool
	open           bool // the start runs off beyond the limit of early timeouts, see startOpen
}

// agreement is the relative difference in loss below which two starts are
// said to have found the same minimum.
const agreement = 1e-8

// solve finds the best curve for the responses; cens may be nil.
func (f *Fitter) solve(y []float64, cens []bool) solution {
	f.take(y, cens)
	if f.whitened {
		return f.solveCorrelated()
	}
	return f.solveAt()
}

// solveAt finds the best curve for the responses taken, at the correlation set.
func (f *Fitter) solveAt() solution {
	var buf [maxStarts]start
	return f.solveFrom(f.starts(buf[:]), buf[:])
}

// solveFrom follows the dips found on the grid; buf holds them.
func (f *Fitter) solveFrom(starts, buf []start) solution {
	best := solution{loss: math.Inf(1)}
	switch {
	case f.spec.From != nil:
		f.explore(&best, append(buf[:0], f.startFrom()))
	case f.nearby:
		if e, ok := f.atEdge(starts); ok {
			return e
		}
		f.follow(&best, starts)
		if math.IsInf(best.loss, 1) && f.edge == nil { // nothing near: look everywhere
			f.nearby = false
			return f.solveAt()
		}
	default:
		f.explore(&best, starts)
	}
	best.starts = max(1, len(starts))
	if f.edge != nil && f.cover == nil && (math.IsInf(best.loss, 1) || f.nearEdge(best)) {
		if e := f.solveEdge(); e.loss < best.loss {
			best = e
			best.curve.Family = f.spec.Family
		}
	}
	if f.whitened {
		best.rho = f.neighbour.rho
	}
	best.scale = f.spread(best)
	return best
}

// explore follows every start to the bottom of its dip.
func (f *Fitter) explore(best *solution, starts []start) {
	for _, s := range starts {
		q := f.pointFrom(s)
		var loss float64
		var ok bool
		if f.reducible() {
			q, loss, ok = f.descend(s.tau)
		} else {
			loss, ok = f.polish(&q)
		}
		f.consider(best, q, loss, ok)
	}
}

// solveEdge finds the best curve with its plateau at 0 for the same responses.
func (f *Fitter) solveEdge() solution {
	f.edge.take(f.y, f.cens)
	return f.edge.solveAt()
}

// take sets the responses and settles which kind of problem they make.
func (f *Fitter) take(y []float64, cens []bool) {
	f.y, f.cens, f.working, f.slope = y, cens, y, math.NaN()
	leastSquares, _ := models.Squares(f.spec.Noise)
	f.squares = leastSquares
	for _, c := range cens {
		f.squares = f.squares && !c
	}
	f.scaled = !f.squares && f.spec.Noise.HasScale()
	f.gaussian = f.scaled && leastSquares
	f.whitened = f.neighbour != nil && f.squares
	f.nearby = f.near != nil && !f.reducible()
	linked, ok := f.spec.Noise.(models.Linked)
	if !ok {
		return
	}
	f.working = slices.Grow(f.buffer[:0], len(y))
	for _, v := range y {
		f.working = append(f.working, linked.Near(v))
	}
	f.buffer = f.working
}

// consider keeps the lower loss and counts the starts that reached it. A curve
// whose plateau lies below its bound is no candidate.
func (f *Fitter) consider(best *solution, q point, loss float64, ok bool) {
	if math.IsNaN(loss) || math.IsInf(loss, 1) {
		return
	}
	c := f.curveAt(q)
	open := !ok && f.runsOff(q, c)
	ok = ok || open
	if f.bounded && c.Plateau < 0 {
		return
	}
	switch near := agreement * math.Max(math.Abs(loss), 1e-300); {
	case loss < best.loss-near:
		*best = solution{curve: c, loss: loss, point: q, by: f, agreed: 1, converged: ok, open: open}
	case math.Abs(loss-best.loss) <= near:
		best.agreed++
		if loss < best.loss || ok && !best.converged {
			best.curve, best.loss, best.point, best.converged, best.open = c, loss, q, ok || best.converged, open
		}
	}
}

// nearEdge reports whether a curve with its plateau at 0 might do as well: the
// bound matters only when some start was turned away or the minimum sits on a
// bound of the search.
func (f *Fitter) nearEdge(best solution) bool {
	return best.agreed < best.starts || best.starts > 1 || !best.converged || f.atLowBound(best.point)
}

// atLowBound reports whether every shape parameter sits at its lower bound,
// where the curve is a straight line in clock time.
func (f *Fitter) atLowBound(q point) bool {
	for k := range f.free {
		if q[f.form.n+k] > f.lo[k] {
			return false
		}
	}
	return len(f.free) > 0
}

// curveAt turns moved parameters into plateau, gain and shape.
func (f *Fitter) curveAt(q point) models.Curve {
	s := f.shapeOf(q)
	a, d := f.anchorValues(s, f.shape.At)
	c0, c1 := f.form.coefficients([2]float64{q[0], q[1]})
	return models.Curve{
		Family:  f.spec.Family,
		Plateau: c0 - c1*a/d,
		Gain:    c1 / d,
		Shape:   s,
	}
}

// spread is the scale of the noise: the residual standard deviation with n − p
// degrees of freedom for least squares, the maximum likelihood value otherwise,
// NaN for a noise without a scale.
func (f *Fitter) spread(s solution) float64 {
	if s.by == nil {
		return math.NaN()
	}
	if f.scaled {
		return s.by.scaleOf(s.point)
	}
	df := len(f.y) - f.coefficients()
	if df <= 0 || !f.squares {
		return math.NaN()
	}
	return math.Sqrt(2 * s.loss / float64(df))
}

// logLikelihood is the maximised log-likelihood in the unit of the response,
// with the scale at its maximum likelihood value.
func (f *Fitter) logLikelihood(s solution) float64 { return f.onScale(s) + f.logJacobian() }

// onScale is the maximised log-likelihood on the additive scale.
func (f *Fitter) onScale(s solution) float64 {
	n := float64(len(f.y))
	l := -s.loss
	if f.squares {
		l = -n / 2 * (math.Log(2*math.Pi*2*s.loss/n) + 1)
	}
	if f.whitened {
		l -= f.neighbour.logDet()
	}
	return l
}

func (f *Fitter) logJacobian() float64 {
	sum := 0.0
	for i, y := range f.y {
		sum += f.spec.Noise.LogJacobian(y, f.censored(i))
	}
	return sum
}

// criteria are the information criteria; every coefficient of the family that
// is not held counts, and so does the scale where the noise has one.
func (f *Fitter) criteria(logLik float64) (aic, aicc, bic float64) {
	n, k := float64(len(f.y)), float64(f.coefficients())
	if f.spec.Noise.HasScale() {
		k++
	}
	if f.whitened {
		k++
	}
	aic = -2*logLik + 2*k
	aicc = aic + 2*k*(k+1)/(n-k-1)
	if n-k-1 <= 0 {
		aicc = math.NaN()
	}
	return aic, aicc, -2*logLik + k*math.Log(n)
}
