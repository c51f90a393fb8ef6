package agreement

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"tyro/analysis/internal/numeric"
)

// A source of variation: the level of every observation, from 0.
type source struct {
	name   string
	level  []int
	levels int
}

func newSource(name string, level []int) source {
	s := source{name: name, level: level}
	for _, l := range level {
		s.levels = max(s.levels, l+1)
	}
	return s
}

// A mixed model is y = mean + Σ one random effect a source + residual, all
// normal and independent; no balance is asked for.
//
// # Method
//
// Restricted maximum likelihood (Patterson and Thompson, 1971, Biometrika 58,
// 545-554). Effects are written θ·v with v as variable as the residual, which
// lets a component be 0; the deviance, profiled over mean and residual
// variance, is even in every θ, so that it is minimised without bounds, by
// Newton steps with the analytic slope (Henderson's equations). Those equations are
// solved here rather than in the numeric package, since their log determinant is
// wanted too. The source with
// the most levels is eliminated first: its block is diagonal.
type mixed struct {
	y       []float64 // about its mean
	sources []source  // the first has the most levels
	order   []int     // position of each in the caller's order
	diag    []float64 // observations of each level of the first source
	rest    []int     // start of each other source in the remainder; the mean is last
	m       int       // size of the remainder
	cross   [][]entry // [level of the first source] how often it meets each of the remainder
	inner   *mat.SymDense
	zy0, zy []float64
	yy      float64
}

type entry struct {
	at    int
	count float64
}

func newMixed(y []float64, sources []source) *mixed {
	x := &mixed{order: everyone(len(sources))}
	slices.SortStableFunc(x.order, func(a, b int) int { return cmp.Compare(sources[b].levels, sources[a].levels) })
	for _, i := range x.order {
		x.sources = append(x.sources, sources[i])
	}
	mean := 0.0
	for _, v := range y {
		mean += v / float64(len(y))
	}
	for _, v := range y {
		x.y = append(x.y, v-mean)
	}
	for _, s := range x.sources[1:] {
		x.rest = append(x.rest, x.m)
		x.m += s.levels
	}
	x.m++
	x.count()
	return x
}

// count fills the cross-products of the design.
func (x *mixed) count() {
	first := x.sources[0]
	x.diag, x.zy0 = make([]float64, first.levels), make([]float64, first.levels)
	x.cross, x.zy = make([][]entry, first.levels), make([]float64, x.m)
	x.inner = mat.NewSymDense(x.m, nil)
	for i, y := range x.y {
		a := first.level[i]
		x.diag[a]++
		x.zy0[a] += y
		x.yy += y * y
		at := make([]int, 0, len(x.sources))
		for k, s := range x.sources[1:] {
			at = append(at, x.rest[k]+s.level[i])
		}
		at = append(at, x.m-1)
		for p, c := range at {
			x.zy[c] += y
			x.meet(a, c)
			for _, d := range at[p:] {
				x.inner.SetSym(c, d, x.inner.At(c, d)+1)
			}
		}
	}
}

func (x *mixed) meet(a, c int) {
	for e := range x.cross[a] {
		if x.cross[a][e].at == c {
			x.cross[a][e].count++
			return
		}
	}
	x.cross[a] = append(x.cross[a], entry{c, 1})
}

// scaleOf is θ of each column of the remainder; 1 for the mean.
func (x *mixed) scaleOf(θ []float64) []float64 {
	out := make([]float64, x.m)
	for k, s := range x.sources[1:] {
		for l := range s.levels {
			out[x.rest[k]+l] = θ[k+1]
		}
	}
	out[x.m-1] = 1
	return out
}

// A solved model at one θ.
type solved struct {
	deviance float64
	slope    []float64 // of the deviance in θ
	s2       float64   // residual variance
	d        []float64 // eliminated diagonal
	f        *mat.SymDense
	e        [][]entry // scaled cross block over the diagonal: E = D⁻¹B
	trace    []float64 // tr of each source's block of the inverse
}

// at solves Henderson's equations for θ.
func (x *mixed) at(θ []float64) (solved, error) {
	first, scale := x.sources[0], x.scaleOf(θ)
	out := solved{d: make([]float64, first.levels), e: make([][]entry, first.levels), slope: make([]float64, len(θ)), trace: make([]float64, len(θ))}
	schur := mat.NewSymDense(x.m, nil)
	for i := range x.m {
		for j := i; j < x.m; j++ {
			schur.SetSym(i, j, scale[i]*scale[j]*x.inner.At(i, j))
		}
		if i < x.m-1 {
			schur.SetSym(i, i, schur.At(i, i)+1)
		}
	}
	right := make([]float64, x.m)
	for i := range right {
		right[i] = scale[i] * x.zy[i]
	}
	logDet := 0.0
	for a, n := range x.diag {
		d := θ[0]*θ[0]*n + 1
		out.d[a] = d
		logDet += math.Log(d)
		row := make([]entry, len(x.cross[a]))
		for p, c := range x.cross[a] {
			row[p] = entry{c.at, θ[0] * scale[c.at] * c.count / d}
		}
		out.e[a] = row
		for p, c := range row {
			right[c.at] -= c.count * θ[0] * x.zy0[a]
			for _, c2 := range row[p:] {
				schur.SetSym(c.at, c2.at, schur.At(c.at, c2.at)-d*c.count*c2.count)
			}
		}
	}
	var chol mat.Cholesky
	if !chol.Factorize(schur) {
		return out, errors.New("the equations of the variance components are singular")
	}
	logDet += chol.LogDet()
	out.f = mat.NewSymDense(x.m, nil)
	if err := chol.InverseTo(out.f); err != nil {
		return out, fmt.Errorf("variance components: %w", err)
	}
	b := make([]float64, x.m)
	for i := range b {
		for j, v := range right {
			b[i] += out.f.At(i, j) * v
		}
	}
	fitted := 0.0
	v0 := make([]float64, first.levels)
	for a := range v0 {
		v0[a] = θ[0] * x.zy0[a] / out.d[a]
		for _, c := range out.e[a] {
			v0[a] -= c.count * b[c.at]
		}
		fitted += v0[a] * θ[0] * x.zy0[a]
	}
	for i, v := range b {
		fitted += v * scale[i] * x.zy[i]
	}
	df := float64(len(x.y) - 1)
	ss := x.yy - fitted
	out.s2 = ss / df
	out.deviance = logDet + df*(1+math.Log(2*math.Pi*out.s2))
	x.slopes(&out, θ, v0, b)
	return out, nil
}

// slopes fills the derivative of the deviance: 2(q − tr − v'v/s²)/θ.
func (x *mixed) slopes(out *solved, θ, v0, b []float64) {
	vv := make([]float64, len(θ))
	for a, v := range v0 {
		vv[0] += v * v
		out.trace[0] += 1 / out.d[a]
		for _, c := range out.e[a] {
			for _, c2 := range out.e[a] {
				out.trace[0] += c.count * out.f.At(c.at, c2.at) * c2.count
			}
		}
	}
	for k, s := range x.sources[1:] {
		for l := range s.levels {
			at := x.rest[k] + l
			vv[k+1] += b[at] * b[at]
			out.trace[k+1] += out.f.At(at, at)
		}
	}
	for k, s := range x.sources {
		if θ[k] != 0 {
			out.slope[k] = 2 * (float64(s.levels) - out.trace[k] - vv[k]/out.s2) / θ[k]
		}
	}
}

// A variance estimate of every source, in the caller's order, the residual
// last, with the covariance matrix of the estimates (NaN for those at 0).
type variances struct {
	estimate  []float64
	cov       *mat.SymDense
	deviance  float64
	converged bool
}

// fit maximises the restricted likelihood.
func (x *mixed) fit() (variances, error) {
	if !(x.yy > 0) {
		return variances{}, errors.New(notDefined)
	}
	θ := make([]float64, len(x.sources))
	for i := range θ {
		θ[i] = 0.7
	}
	if _, err := x.at(θ); err != nil {
		return variances{}, err
	}
	m, err := numeric.Newton(x.point, θ, numeric.Settings{Turn: true})
	converged := err == nil
	if errors.Is(err, numeric.ErrStuck) { // at the bottom, as far as digits go
		converged = numeric.Size(m.Point.Gradient) < 1e-3*(1+numeric.Size(m.X))
	}
	for i, v := range m.X { // the deviance is even in every θ
		m.X[i] = math.Abs(v)
	}
	return x.finish(m.X, converged)
}

// point is the deviance at θ, with its curvature by differences of the slope.
func (x *mixed) point(θ []float64) numeric.Point {
	now, err := x.at(θ)
	if err != nil {
		return numeric.Point{Value: math.Inf(1)}
	}
	at := slices.Clone(θ)
	return numeric.Point{Value: now.deviance, Gradient: now.slope, Hessian: func() (*mat.SymDense, bool) {
		steps := make([]float64, len(at))
		for i, v := range at {
			steps[i] = 1e-4 * (1e-2 + math.Abs(v))
		}
		return numeric.Hessian(func(θ []float64) ([]float64, bool) {
			s, err := x.at(θ)
			return s.slope, err == nil
		}, at, steps)
	}}
}

// finish turns θ into variances in the caller's order.
func (x *mixed) finish(θ []float64, converged bool) (variances, error) {
	k := len(θ)
	for i := range θ {
		if θ[i]*θ[i] < 1e-7 {
			θ[i] = 0
		}
	}
	now, err := x.at(θ)
	if err != nil {
		return variances{}, err
	}
	out := variances{estimate: make([]float64, k+1), deviance: now.deviance, converged: converged}
	for i, at := range x.order {
		out.estimate[at] = now.s2 * θ[i] * θ[i]
	}
	out.estimate[k] = now.s2
	out.cov = x.covariance(θ, now)
	return out, nil
}

// covariance inverts the expected information of the components above 0:
// half of tr(P·ZkZk'·P·ZlZl'), from blocks of the inverse of Henderson's
// matrix, without forming P.
func (x *mixed) covariance(θ []float64, now solved) *mat.SymDense {
	k := len(θ)
	nan := mat.NewSymDense(k+1, nil)
	for i := range k + 1 {
		for j := i; j <= k; j++ {
			nan.SetSym(i, j, math.NaN())
		}
	}
	var free []int // of the sources in the solver's order; k is the residual
	for i := range θ {
		if θ[i] > 0 {
			free = append(free, i)
		}
	}
	s2 := now.s2
	tr := make([]float64, k) // tr(P ZkZk')
	pp := mat.NewSymDense(k, nil)
	g := x.gram(now)
	for _, i := range free {
		tr[i] = (float64(x.sources[i].levels) - now.trace[i]) / (θ[i] * θ[i] * s2)
		for _, j := range free {
			if j >= i {
				pp.SetSym(i, j, x.frobenius(i, j, now, g)/(θ[i]*θ[i]*θ[j]*θ[j]*s2*s2))
			}
		}
	}
	// Remaining traces from P·V·P = P and V = Σσ²ZZ' + s²I.
	cross := make([]float64, k) // tr(P ZkZk' P)
	trP, trPP := float64(len(x.y)-1), 0.0
	for _, i := range free {
		trP -= s2 * θ[i] * θ[i] * tr[i]
		cross[i] = tr[i]
		for _, j := range free {
			cross[i] -= s2 * θ[j] * θ[j] * pp.At(i, j)
		}
		cross[i] /= s2
	}
	trP /= s2
	trPP = trP
	for _, i := range free {
		trPP -= s2 * θ[i] * θ[i] * cross[i]
	}
	trPP /= s2
	f := len(free)
	info := mat.NewSymDense(f+1, nil)
	for a, i := range free {
		for b, j := range free {
			info.SetSym(a, b, pp.At(i, j)/2)
		}
		info.SetSym(a, f, cross[i]/2)
	}
	info.SetSym(f, f, trPP/2)
	inv, ok := numeric.Inverse(info)
	if !ok {
		return nan
	}
	where := make([]int, f+1)
	for a, i := range free {
		where[a] = x.order[i]
	}
	where[f] = k
	for a := range f + 1 {
		for b := range f + 1 {
			nan.SetSym(where[a], where[b], inv.At(a, b))
		}
	}
	return nan
}

// gram is E'E.
func (x *mixed) gram(now solved) *mat.SymDense {
	g := mat.NewSymDense(x.m, nil)
	for _, row := range now.e {
		for p, c := range row {
			for _, c2 := range row[p:] {
				g.SetSym(c.at, c2.at, g.At(c.at, c2.at)+c.count*c2.count)
			}
		}
	}
	return g
}

// frobenius is the squared norm of the block of I − C⁻¹ (same source) or C⁻¹
// (two sources), C being Henderson's matrix: C⁻¹ = [D⁻¹ + EFE', −EF; ·, F].
func (x *mixed) frobenius(i, j int, now solved, g *mat.SymDense) float64 {
	if i == 0 && j == 0 {
		var fg, fgfg mat.Dense
		fg.Mul(now.f, g)
		fgfg.Mul(&fg, &fg)
		sum := mat.Trace(&fgfg)
		for a, row := range now.e {
			own := 1 - 1/now.d[a]
			q := 0.0
			for _, c := range row {
				for _, c2 := range row {
					q += c.count * now.f.At(c.at, c2.at) * c2.count
				}
			}
			sum += own*own - 2*own*q
		}
		return sum
	}
	from := x.rest[j-1]
	to := from + x.sources[j].levels
	sum := 0.0
	if i == 0 {
		for c := from; c < to; c++ {
			for p := range x.m {
				for q := range x.m {
					sum += now.f.At(p, c) * g.At(p, q) * now.f.At(q, c)
				}
			}
		}
		return sum
	}
	start := x.rest[i-1]
	for a := start; a < start+x.sources[i].levels; a++ {
		for b := from; b < to; b++ {
			v := -now.f.At(a, b)
			if i == j && a == b {
				v++
			}
			sum += v * v
		}
	}
	return sum
}

// unbalanced makes mean squares of a table with gaps from REML components, with
// effective numbers: k₀ = (N − Σkᵢ²/N)/(n − 1) ratings of a subject, n₀
// likewise subjects of a rater; the sizes of groups as in a one-way analysis of
// variance with unequal groups.
func unbalanced(r Ratings) (meanSquares, error) {
	y, subjects, raters := r.long()
	perSubject, perRater := tally(subjects), tally(raters)
	n, k, total := float64(len(perSubject)), float64(len(perRater)), float64(len(y))
	if n < 2 || total-n < 1 {
		return meanSquares{}, errors.New("not defined: no two subjects with a subject rated twice")
	}
	if len(r.categories()) < 2 {
		return meanSquares{}, errors.New(notDefined)
	}
	one, err := newMixed(y, []source{newSource("subject", subjects)}).fit()
	if err != nil {
		return meanSquares{}, err
	}
	k0, n0 := effective(perSubject), effective(perRater)
	if k < 2 || total-n-k+1 < 1 { // raters met too rarely for a two-way model
		nan := math.NaN()
		return meanSquares{
			n: nan, k: k0, panel: math.Max(2, math.Round(total/n)), subjectDF: n - 1, withinDF: total - n, raterDF: nan, residualDF: nan,
			between: one.estimate[1] + k0*one.estimate[0], within: one.estimate[1], raters: nan, residual: nan, gaps: true, oneWay: true,
		}, nil
	}
	two, err := newMixed(y, []source{newSource("subject", subjects), newSource("rater", raters)}).fit()
	if err != nil {
		return meanSquares{}, err
	}
	v := two.estimate
	// The one-way model has its own components; only its ratio of mean squares counts.
	return meanSquares{
		n: n0, k: k0, panel: k, subjectDF: n - 1, raterDF: k - 1, residualDF: total - n - k + 1, withinDF: total - n,
		between: v[2] + k0*v[0], raters: v[2] + n0*v[1], residual: v[2],
		within: one.estimate[1] * (v[2] + k0*v[0]) / (one.estimate[1] + k0*one.estimate[0]), gaps: true,
	}, nil
}

// effective is the number of members of a group that counts.
func effective(sizes []float64) float64 {
	total, sq := 0.0, 0.0
	for _, s := range sizes {
		total += s
		sq += s * s
	}
	return (total - sq/total) / float64(len(sizes)-1)
}

// long lists the ratings with positions of subjects and raters that have any.
func (r Ratings) long() (y []float64, subjects, raters []int) {
	at := make(map[int]int)
	n := 0
	for _, row := range r {
		if count(row) == 0 {
			continue
		}
		for j, v := range row {
			if math.IsNaN(v) {
				continue
			}
			if _, ok := at[j]; !ok {
				at[j] = len(at)
			}
			y, subjects, raters = append(y, v), append(subjects, n), append(raters, at[j])
		}
		n++
	}
	return y, subjects, raters
}

// tally counts how often each position occurs.
func tally(at []int) []float64 {
	var out []float64
	for _, i := range at {
		for i >= len(out) {
			out = append(out, 0)
		}
		out[i]++
	}
	return out
}
