package fit

import (
	"math"

	"tyro/analysis/internal/numeric"
)

// Correlated neighbours: the residuals of a session follow a first-order
// autoregression, so that those d attempts apart have correlation ρ^d, and those
// of different sessions none. Each residual less what its neighbour before says
// of it is independent of the others:
//
//	u = (e − r·e')/√(1 − r²),  r = ρ^d,
//
// with e' the residual before, and u = e for the first of a session. For a given
// ρ the curve minimises Σu²; ρ maximises the likelihood that remains. Box,
// Jenkins and Reinsel (2008), Time Series Analysis, section 7.1; gaps as in Jones
// (1980), Technometrics 22, 389-395.

// neighbours says which attempt comes before which, and how alike they are.
type neighbours struct {
	before []int     // position of the attempt before in the same session; −1 at its start
	gap    []float64 // attempts between the two
	whole  bool      // every gap is a whole number, so that ρ may be negative

	rho  float64
	r, s []float64 // ρ^gap and √(1 − r²) by attempt
	u, v []float64 // scratch: whitened residuals, and their weights in the gradient
	rows [][maxDim]float64
}

func newNeighbours(series Series) *neighbours {
	n := len(series.Attempt)
	nb := &neighbours{
		before: make([]int, n), gap: make([]float64, n), whole: true,
		r: make([]float64, n), s: make([]float64, n), u: make([]float64, n), v: make([]float64, n), rows: make([][maxDim]float64, n),
	}
	order := inOrder(series.Attempt)
	for k, i := range order {
		nb.before[i] = -1
		if k == 0 || series.Session != nil && series.Session[i] != series.Session[order[k-1]] {
			continue
		}
		if gap := series.Attempt[i] - series.Attempt[order[k-1]]; gap > 0 {
			nb.before[i], nb.gap[i] = order[k-1], gap
			nb.whole = nb.whole && gap == math.Trunc(gap)
		}
	}
	nb.set(0)
	return nb
}

// pairs counts the attempts that have a neighbour before them.
func (nb *neighbours) pairs() int {
	n := 0
	for _, j := range nb.before {
		if j >= 0 {
			n++
		}
	}
	return n
}

// maxCorrelation keeps the whitening away from dividing by 0.
const maxCorrelation = 0.98

// lowest is the lowest ρ that can be looked at: a negative one has no meaning at
// gaps that are not whole.
func (nb *neighbours) lowest() float64 {
	if nb.whole {
		return -maxCorrelation
	}
	return 0
}

// set chooses ρ.
func (nb *neighbours) set(rho float64) {
	nb.rho = rho
	for i, j := range nb.before {
		nb.r[i], nb.s[i] = 0, 1
		if j >= 0 && rho != 0 {
			nb.r[i] = math.Pow(rho, nb.gap[i])
			nb.s[i] = math.Sqrt(1 - nb.r[i]*nb.r[i])
		}
	}
}

// logDet is Σ log √(1 − r²), half the log determinant of the correlations.
func (nb *neighbours) logDet() float64 {
	sum := 0.0
	for _, s := range nb.s {
		sum += math.Log(s)
	}
	return sum
}

// whiten turns residuals e into independent ones.
func (nb *neighbours) whiten(u, e []float64) {
	for i, j := range nb.before {
		u[i] = e[i]
		if j >= 0 {
			u[i] = (e[i] - nb.r[i]*e[j]) / nb.s[i]
		}
	}
}

// colour is the inverse of whiten; attempts before must come first, which the
// order given ensures.
func (nb *neighbours) colour(e, u []float64, order []int) {
	for _, i := range order {
		e[i] = u[i]
		if j := nb.before[i]; j >= 0 {
			e[i] = nb.r[i]*e[j] + nb.s[i]*u[i]
		}
	}
}

// residualAt is attempt i's residual on the additive scale; NaN where the mean
// has no logarithm.
func (f *Fitter) residualAt(y, m float64) float64 {
	if f.log {
		return math.Log(y / m)
	}
	return y - m
}

// whitenedLoss is half the sum of squares of the whitened residuals.
func (f *Fitter) whitenedLoss(q point, c0, c1 float64) float64 {
	nb := f.neighbour
	for i, y := range f.y {
		m := c0 + c1*f.z[i]
		if f.restart != nil {
			m, _ = f.shifted(m, q, i)
		}
		if f.log && !(m > 0) {
			return math.Inf(1)
		}
		nb.v[i] = f.residualAt(y, m)
	}
	nb.whiten(nb.u, nb.v)
	sum := 0.0
	for _, u := range nb.u {
		sum += u * u / 2
	}
	return sum
}

// whitenedSurface is surfaceAt for correlated neighbours. With u = W·e the
// gradient is Σ vᵢ·∂eᵢ and the Hessian Σ (W∂e)ᵢ(W∂e)ᵢᵀ + Σ vᵢ·∂²eᵢ, v = Wᵀu.
func (f *Fitter) whitenedSurface(q point, c0, c1 float64, s *surface) {
	nb, nc := f.neighbour, f.coefficients()
	s.loss = f.whitenedLoss(q, c0, c1)
	clear(nb.v)
	for i, j := range nb.before {
		nb.v[i] += nb.u[i] / nb.s[i]
		if j >= 0 {
			nb.v[j] -= nb.r[i] * nb.u[i] / nb.s[i]
		}
	}
	for i := range f.y {
		m, mt, factor := f.meanAt(q, c0, c1, i)
		inverse, square := 1.0, 0.0 // −∂e/∂m, and ∂²e/∂m²
		if f.log {
			inverse, square = 1/m, 1/(m*m)
		}
		for a := range nc {
			nb.rows[i][a] = -inverse * mt[a]
			s.grad[a] += nb.v[i] * nb.rows[i][a]
			for b := range a + 1 {
				s.hess[a][b] += nb.v[i] * square * mt[a] * mt[b]
			}
		}
		weight := -nb.v[i] * inverse
		f.bend(s, i, weight*factor, c1)
		if f.restart != nil && f.log {
			f.bendRestart(s, i, weight, &mt)
		}
	}
	for i, j := range nb.before {
		row := nb.rows[i]
		if j >= 0 {
			for a := range nc {
				row[a] = (row[a] - nb.r[i]*nb.rows[j][a]) / nb.s[i]
			}
		}
		for a := range nc {
			for b := range a + 1 {
				s.hess[a][b] += row[a] * row[b]
				s.descent[a][b] += row[a] * row[b]
			}
		}
	}
}

// setCorrelation chooses ρ for the fitter and its edge.
func (f *Fitter) setCorrelation(rho float64) {
	f.neighbour.set(rho)
	if f.edge != nil {
		f.edge.setCorrelation(rho)
	}
}

// solveCorrelated finds the curve and ρ together. ρ is walked outward from 0 with
// the curve carried along, which brackets the best; golden sections close in, and
// the whole search for the curve is run once more at the ρ found. Golden sections
// are enough: gonum minimises along a line only inside its methods for more.
func (f *Fitter) solveCorrelated() solution {
	f.setCorrelation(0)
	best := f.solveAt()
	if best.by == nil || f.neighbour.pairs() < 3 {
		return best
	}
	best = f.bestCorrelation(best)
	rho := best.rho
	again := f.solveAt() // the fitter stands at rho
	if again.by != nil && again.loss < best.loss*(1-1e-9) {
		best = f.bestCorrelation(again)
	} else {
		best.starts, best.agreed = again.starts, again.agreed
	}
	if best.rho != rho {
		f.setCorrelation(best.rho)
	}
	best.scale = f.spread(best)
	return best
}

// bestCorrelation maximises the likelihood over ρ, following one curve.
func (f *Fitter) bestCorrelation(from solution) solution {
	lowest := f.neighbour.lowest()
	best := from
	best.rho = f.neighbour.rho
	bestLoss := f.minusLogLik(best)
	try := func(rho float64, near solution) (solution, float64) {
		f.setCorrelation(rho)
		s := near
		s.rho = rho
		s.loss, s.converged = s.by.polish(&s.point)
		s.curve = s.by.curveAt(s.point)
		s.curve.Family = f.spec.Family
		if f.edge != nil && s.by == f && s.curve.Plateau < 0 {
			e := f.solveEdge()
			s.curve, s.loss, s.point, s.by, s.converged = e.curve, e.loss, e.point, e.by, e.converged
			s.curve.Family = f.spec.Family
		}
		loss := f.minusLogLik(s)
		if loss < bestLoss {
			best, bestLoss = s, loss
		}
		return s, loss
	}
	const stride = 0.2
	for _, side := range []float64{stride, -stride} {
		near := from
		for rho := side; rho >= lowest && math.Abs(rho) <= maxCorrelation; rho += side {
			near, _ = try(rho, near)
			if near.by == nil || math.IsInf(near.loss, 1) {
				break
			}
		}
	}
	a, b := math.Max(lowest, best.rho-stride), math.Min(maxCorrelation, best.rho+stride)
	const golden = 0.6180339887498949
	x1, x2 := b-golden*(b-a), a+golden*(b-a)
	_, f1 := try(x1, best)
	_, f2 := try(x2, best)
	for b-a > 1e-7 {
		if f1 < f2 {
			b, x2, f2 = x2, x1, f1
			x1 = b - golden*(b-a)
			_, f1 = try(x1, best)
		} else {
			a, x1, f1 = x1, x2, f2
			x2 = a + golden*(b-a)
			_, f2 = try(x2, best)
		}
	}
	f.setCorrelation(best.rho)
	return best
}

// minusLogLik is what ρ minimises: minus the log-likelihood up to a constant,
// with the scale at its best.
func (f *Fitter) minusLogLik(s solution) float64 {
	if s.by == nil || !(s.loss > 0) {
		return math.Inf(1)
	}
	return float64(len(f.y))/2*math.Log(s.loss) + f.neighbour.logDet()
}

// correlationEstimate is ρ with its profile likelihood interval: the values at
// which the deviance, scaled to the residual degrees of freedom as that of a
// curve's parameters is, stays below the squared t quantile.
func (f *Fitter) correlationEstimate(out *Fit, sol solution) Estimate {
	nan := math.NaN()
	e := Estimate{correlationTerm, sol.rho, nan, nan, nan, false}
	t := out.tQuantile()
	if math.IsNaN(t) {
		return e
	}
	best := f.minusLogLik(sol)
	beyond := func(rho float64) float64 {
		f.setCorrelation(rho)
		s := sol
		s.loss, _ = s.by.polish(&s.point)
		return 2*(f.minusLogLik(s)-best)*float64(out.DF)/float64(out.N) - t*t
	}
	end := func(bound float64) float64 {
		at, crossed := numeric.RootBetween(beyond, numeric.End{At: sol.rho, Value: -t * t}, numeric.End{At: bound, Value: beyond(bound)}, numeric.Tolerance{X: 1e-9})
		if !crossed {
			return bound
		}
		return at
	}
	e.Lower, e.Upper = end(f.neighbour.lowest()), end(maxCorrelation)
	f.setCorrelation(sol.rho)
	return e
}
