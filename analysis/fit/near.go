package fit

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"

	"tyro/models"
)

// Refits of a bootstrap. Series are drawn about a curve that is known, so that their own
// best curve lies near it. There the loss of an attempt is nearly a parabola in the mean,
// which makes every point of the grid a weighted regression: a few sums say where the dips
// of the replicate's own surface lie and how deep they are, and one to three Newton steps
// finish the deepest. It is the same search over all shapes as for a first fit, at a small
// part of its cost; refit_test.go holds the two against each other on hard series.

// A vicinity is the curve that series are drawn from, and each drawn attempt's loss there as
// a parabola in the mean: all curves that are fitted to a series share it.
type vicinity struct {
	noise  models.Noise
	mean   []float64 // the curve at each attempt
	scale  float64   // of its noise
	weight []float64 // curvature of each attempt's parabola
	pull   []float64 // weight times the mean at its bottom
	own    float64   // Σ pull²/weight: what twice the loss would be at a mean of 0
}

func newVicinity(noise models.Noise, mean []float64, scale, limit float64) *vicinity {
	if !(scale > 0) {
		scale = 1 // a noise without one, or attempts all on the curve
	}
	n := len(mean)
	mean = slices.Clone(mean)
	if limit > 0 {
		for i, m := range mean {
			mean[i] = min(m, noise.Shift(limit, surely*scale))
		}
	}
	return &vicinity{noise: noise, mean: mean, scale: scale, weight: make([]float64, n), pull: make([]float64, n)}
}

// take sets each attempt's parabola for a series drawn. That of an exact response under least
// squares has its bottom at the response and the loss's own value at the mean, which holds
// far off too; others have the loss's slope and curvature at the mean.
func (v *vicinity) take(y []float64, cens []bool) {
	squares, relative := models.Squares(v.noise)
	v.own = 0
	for i, y := range y {
		m := v.mean[i]
		censored := cens != nil && cens[i]
		if squares && !censored {
			w := 1 / v.scale
			switch d := y - m; {
			case !relative:
			case math.Abs(d) > 1e-6*m:
				w *= v.noise.Residual(y, m) / d
			default:
				w /= m
			}
			v.weight[i], v.pull[i] = w*w, w*w*y
			v.own += w * w * y * y
			continue
		}
		l := v.noise.Loss(y, m, v.scale, censored)
		v.weight[i] = math.Abs(l.MM)
		if censored { // any high mean suits a timeout: a little weight holds it where it is
			unit := v.scale
			if relative {
				unit *= m
			}
			v.weight[i] = max(v.weight[i], held/(unit*unit))
		}
		v.pull[i] = v.weight[i]*m - l.M
		v.own += v.pull[i] * v.pull[i] / v.weight[i]
	}
}

// surely is how many times the spread a mean lies beyond the limit from where an attempt runs
// into it for sure; how much further it lies makes no difference.
const surely = 4

// held is the least weight of a timeout, as a share of an exact response's.
const held = 1e-3

// A nearGrid is what a fitter needs beside its grid to search near a curve.
type nearGrid struct {
	*vicinity
	begin float64     // scale to begin from: that of the family's own fit to what was seen
	zz    [][]float64 // z² at each grid point
}

// otherDips is how far above the deepest dip another may lie, in twice the log-likelihood,
// and still be followed to its bottom.
const otherDips = 6

// about makes the fitter refit series drawn about a curve, beginning from the scale given.
// Breaks, correlated neighbours and given starts keep the long way.
func (f *Fitter) about(v *vicinity, begin float64) *Fitter {
	if f.restart != nil || f.neighbour != nil || f.spec.From != nil || f.spec.Noise != v.noise {
		return f
	}
	if !(begin > 0) {
		begin = v.scale
	}
	f.near = &nearGrid{vicinity: v, begin: begin}
	for _, z := range f.gridZ {
		zz := make([]float64, len(z))
		floats.MulTo(zz, z, z)
		f.near.zz = append(f.near.zz, zz)
	}
	if f.edge != nil {
		f.edge.about(v, begin)
	}
	return f
}

// projectNear finds linear coefficients and loss, in twice the log-likelihood and up to a
// constant, at every grid point.
func (f *Fitter) projectNear() {
	v := f.near
	s0, sy := floats.Sum(v.weight), floats.Sum(v.pull)
	for g, z := range f.gridZ {
		f.beta[g], f.losses[g] = f.weighted(s0, sy, floats.Dot(v.weight, z), floats.Dot(v.weight, v.zz[g]), floats.Dot(v.pull, z))
	}
}

// weighted finds coefficients and loss from sums of weights and pulls, alone and times z and
// z²; +Inf where they do not determine the coefficients.
func (f *Fitter) weighted(s0, sy, sz, szz, szy float64) (beta [2]float64, loss float64) {
	if f.form.anchor == lastToFirst { // level and drop are the coefficients themselves
		det := s0*szz - sz*sz
		if !(det > 1e-13*s0*szz) {
			return beta, math.Inf(1)
		}
		beta = [2]float64{(szz*sy - sz*szy) / det, (s0*szy - sz*sy) / det}
		return beta, -sy*beta[0] - szy*beta[1]
	}
	m, rhs := f.normalEquations(s0, sz, szz, sy, szy)
	beta, ok := solveTwo(m, rhs, f.form.n)
	if !ok && f.form.n > 0 {
		return beta, math.Inf(1)
	}
	k0, k1 := f.form.k0, f.form.k1
	return beta, k0*k0*s0 + 2*k0*k1*sz + k1*k1*szz - 2*k0*sy - 2*k1*szy - rhs[0]*beta[0] - rhs[1]*beta[1]
}

// between moves a dip from its grid point to where a parabola through the neighbours puts it.
func (f *Fitter) between(s start) start {
	if len(f.free) != 1 || s.shape[f.free[0]] == f.fromMoved(0, s.tau) {
		return s // nothing to move, or moved already
	}
	better := s
	better.shape[f.free[0]] = f.fromMoved(0, s.tau)
	f.fill(better.shape, false)
	v := f.near
	var sz, szz, szy float64
	for i, z := range f.z {
		wz := v.weight[i] * z
		sz += wz
		szz += wz * z
		szy += v.pull[i] * z
	}
	if better.beta, better.loss = f.weighted(floats.Sum(v.weight), floats.Sum(v.pull), sz, szz, szy); better.loss < s.loss {
		return better
	}
	return s
}

// follow finishes the dips of a replicate's surface, deepest first.
func (f *Fitter) follow(best *solution, starts []start) {
	for i, s := range starts {
		if i > 0 && s.loss > starts[0].loss+otherDips {
			return
		}
		q := f.pointFrom(f.between(s))
		loss, ok := f.few(&q)
		f.consider(best, q, loss, ok)
	}
}

// few takes the few Newton steps that lead from a start near a minimum to it. Where they do
// not go down at once, walk takes over. It stops short where the minimum, as the surface
// promises it four times over, is out of the limit.
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
		switch saves := f.inLogLik(decrease, t.loss); {
		case saves <= enough:
			*q = next
			return t.loss - decrease, true
		case saves < f.trusted() && f.outOfReach(t.loss-4*decrease):
			return t.loss, true
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

// enough is what a step promises to save, in log-likelihood, below which the promise is
// taken for the deed: the next step would save about its square.
const enough = 1e-4

// inLogLik is a small decrease of the loss in units of the log-likelihood, with the scale at
// its best.
func (f *Fitter) inLogLik(decrease, loss float64) float64 {
	if f.squares {
		return float64(len(f.y)) / 2 * decrease / loss
	}
	return decrease
}

// within makes refits stop as soon as they cannot reach the log-likelihood given, on the
// additive scale: the curve that they then have does not reach it either.
func (f *Fitter) within(logLik float64) {
	f.wanted = logLik
	if f.edge != nil {
		f.edge.wanted = logLik
	}
}

// outOfReach reports whether a loss gives a lower log-likelihood than is wanted.
func (f *Fitter) outOfReach(loss float64) bool {
	return !math.IsInf(f.wanted, -1) && f.onScale(solution{loss: loss}) < f.wanted
}

// trusted is how much log-likelihood a step may promise to save and four times as much bound
// what there is to find: less the more a curve can do. Timeouts let a curve that falls from
// anywhere to a plateau improve without end.
func (f *Fitter) trusted() float64 {
	switch {
	case len(f.free) == 0:
		return 8
	case f.form.n == 1:
		return 2
	case !f.censored(f.earliest):
		return 0.5
	}
	return 0
}

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

// beginAt is the scale to begin from at a dip: under least squares what its parabolas leave.
func (v *nearGrid) beginAt(s start, n int) float64 {
	if squares, _ := models.Squares(v.noise); squares {
		if left := (v.own + s.loss) / float64(n); left > 0.01 {
			return v.scale * math.Sqrt(left)
		}
	}
	return v.begin
}

// promise looks for the dips of a drawn series and says which AICc the deepest comes to, up to
// a constant and as far as parabolas tell; false where they tell nothing.
func (f *Fitter) promise(y []float64, cens []bool) (aicc float64, ok bool) {
	f.take(y, cens)
	if !f.nearby {
		return 0, false
	}
	f.found = f.starts(f.dips[:])
	if len(f.found) == 0 {
		return 0, false
	}
	f.found[0] = f.between(f.found[0])
	n := float64(len(y))
	_, aicc, _ = f.criteria(-n / 2 * math.Log((f.near.own+f.found[0].loss)/n))
	return aicc, !math.IsNaN(aicc)
}

// keep fits the curve whose dips promise found.
func (f *Fitter) keep() solution { return f.solveFrom(f.found, f.dips[:]) }

// hopeless is how much higher than another's a curve's AICc may be, as far as parabolas tell,
// before it is taken to have lost: they are wrong by a small part of that, but by more where
// the first attempt timed out, since a curve that starts ever higher does ever better.
func (f *Fitter) hopeless() float64 {
	if f.censored(f.earliest) {
		return 20
	}
	return 6
}
