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
			if onLog(v.noise) {
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

// beginAt is the scale to begin from at a dip: under least squares what its parabolas leave.
func (v *nearGrid) beginAt(s start, n int) float64 {
	if squares, _ := models.Squares(v.noise); squares {
		if left := (v.own + s.loss) / float64(n); left > 0.01 {
			return v.scale * math.Sqrt(left)
		}
	}
	return v.begin
}
