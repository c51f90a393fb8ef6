package cohort

import (
	"context"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"tyro/models"
)

// A Reading is one number read off the curve of an arm's middle trainee.
type Reading struct {
	Value float64
	SE    float64 // by the information of the likelihood
	// Added by member: by how much the value moves, to first order, when the member is
	// counted twice, made up for how far the member draws the fit. The sum over all members
	// is 0 at the fit where they draw it alike, and nearly so otherwise.
	Added []float64
	// Weight by member: the member's share of what is known of the value, by the model. Where
	// some were followed further than others, few may hold most of it.
	Weight []float64
}

// Contributions are what every member of a cohort contributes to its parameters.
type Contributions struct {
	c      *Cohort
	scores []float64       // a row a member
	free   []int           // fixed effects that are estimated
	own    []*mat.SymDense // every member's information of them
	known  *mat.Cholesky   // of their sum; nil where it has no root
}

// Contributions works out what each member contributes: with the member's own score g and
// the information H of the whole likelihood, counting the member once more moves the
// parameters by −H⁻¹g (the infinitesimal jackknife; Hampel, 1974, Journal of the American
// Statistical Association 69, 383-393; Cook, 1986, Journal of the Royal Statistical Society
// B 48, 133-169).
//
// A member draws the fit, which makes the member's score smaller than it would be beside a
// fit of the others. With J the member's own information of the fixed effects, scores are
// divided by the root of 1 − JH⁻¹, so that their squares are right on average however
// unequally members were followed (Bell and McCaffrey, 2002, Survey Methodology 28,
// 169-181); where the members of an arm were followed alike this is the usual factor
// n/(n − 1), which is left to the comparison of means.
func (c *Cohort) Contributions(ctx context.Context) (*Contributions, error) {
	if err := c.withAttempts(); err != nil {
		return nil, err
	}
	if c.Rung == RungTwoStage {
		return nil, refuse("a fit in two stages has no likelihood to read contributions off")
	}
	here, p := c.here(ctx), len(c.theta)
	saved := slices.Clone(here.o.modes)
	var free []int // fixed effects that are estimated
	for j := range c.m.nBeta {
		if c.cov.At(j, j) > 0 {
			free = append(free, j)
		}
	}
	own := make([]*mat.SymDense, len(c.m.records)) // every member's information of them
	for i := range own {
		own[i] = mat.NewSymDense(max(1, len(free)), nil)
	}
	theta, ignored := slices.Clone(c.theta), make([]float64, p)
	for b, j := range free {
		h := 1e-2 * math.Sqrt(c.cov.At(j, j))
		for _, side := range []float64{1, -1} {
			theta[j] = c.theta[j] + side*h
			copy(here.o.modes, saved)
			here.o.at(theta, ignored)
			for i, m := range own {
				for a, k := range free {
					half := side * here.o.grads[i*p+k] / (2 * h) / 2 // of two that should be the same
					m.SetSym(a, b, m.At(a, b)+half)
					if a == b {
						m.SetSym(a, a, m.At(a, a)+half)
					}
				}
			}
		}
		theta[j] = c.theta[j]
	}
	copy(here.o.modes, saved)
	here.o.at(c.theta, ignored)
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	out := &Contributions{c: c, scores: slices.Clone(here.o.grads), free: free, own: own}
	out.undraw()
	return out, nil
}

// most is the largest share of what is known of a direction that a member is taken to hold
// alone: beyond it nothing is left to judge the member by.
const most = 0.9

// undraw makes up for how far members draw the fit.
func (x *Contributions) undraw() {
	free, own := x.free, x.own
	k, p := len(free), len(x.c.theta)
	if k == 0 {
		return
	}
	total := mat.NewSymDense(k, nil)
	for _, m := range own {
		total.AddSym(total, m)
	}
	var chol mat.Cholesky
	if !chol.Factorize(total) {
		return
	}
	x.known = &chol
	var l mat.TriDense
	chol.LTo(&l)
	inArm := map[string]float64{}
	for _, t := range x.c.Members {
		inArm[t.Arm]++
	}
	for i, m := range own {
		// With H = LLᵀ: (1 − JH⁻¹)^(−1/2)·g is L·(1 − A)^(−1/2)·L⁻¹g, A being L⁻¹JL⁻ᵀ.
		var half, a mat.Dense
		if half.Solve(&l, m) != nil || a.Solve(&l, half.T()) != nil {
			return
		}
		sym := mat.NewSymDense(k, nil)
		for r := range k {
			for s := range r + 1 {
				sym.SetSym(r, s, (a.At(r, s)+a.At(s, r))/2)
			}
		}
		var eigen mat.EigenSym
		if !eigen.Factorize(sym, true) {
			return
		}
		var vectors mat.Dense
		eigen.VectorsTo(&vectors)
		score := mat.NewVecDense(k, nil)
		for r, j := range free {
			score.SetVec(r, x.scores[i*p+j])
		}
		var at, along mat.VecDense
		if at.SolveVec(&l, score) != nil {
			return
		}
		along.MulVec(vectors.T(), &at)
		alike := 1 - 1/math.Max(2, inArm[x.c.Members[i].Arm])
		for r, v := range eigen.Values(nil) {
			along.SetVec(r, along.AtVec(r)*math.Sqrt(alike/(1-math.Min(math.Max(v, 0), most))))
		}
		at.MulVec(&vectors, &along)
		score.MulVec(&l, &at)
		for r, j := range free {
			x.scores[i*p+j] = score.AtVec(r)
		}
	}
}

// Read reads numbers off the curve of an arm's middle trainee, with what each member adds
// to them. What the attempts do not show of a parameter is read all the same: whether a
// plateau is identified stands in the fit.
func (x *Contributions) Read(arm string, of []func(models.Curve) float64) ([]Reading, error) {
	rec, err := x.c.m.record(Trainee{ID: "the middle trainee", Arm: arm})
	if err != nil {
		return nil, err
	}
	out := make([]Reading, len(of))
	for k, f := range of {
		out[k] = x.reading(&rec, f)
	}
	return out, nil
}

// Through is what each member adds to a quantity that is known under the draws of the
// cohort's parameters that [Cohort.Posteriors] makes by the seed: byCard has its values in the
// order of draws, NaN where one is not known. How the quantity moves with the parameters is
// read off the draws by least squares, two opposite ones at a time.
func (x *Contributions) Through(byCard []float64, seed uint64) []float64 {
	c := x.c
	out := make([]float64, len(c.m.records))
	free, l, ok := c.root(c.untold())
	k, p := len(free), len(c.theta)
	if !ok {
		return out
	}
	cards := c.deal(seed, "cohort parameters", len(byCard))
	// In units of the parameters' spread, draws are standard normal numbers; one more
	// row a unit, of 0, holds slopes that few draws leave open.
	normal, right := mat.NewSymDense(k, nil), mat.NewVecDense(k, nil)
	for a := range k {
		normal.SetSym(a, a, 1)
	}
	apart, z := mat.NewVecDense(k, nil), mat.NewVecDense(k, nil)
	for s := 0; s+1 < len(cards); s += 2 {
		d := (byCard[s] - byCard[s+1]) / 2
		if math.IsNaN(d) {
			continue
		}
		for a, j := range free {
			apart.SetVec(a, (cards[s][j]-cards[s+1][j])/2)
		}
		if z.SolveVec(l, apart) != nil {
			return out
		}
		normal.SymRankOne(normal, 1, z)
		right.AddScaledVec(right, d, z)
	}
	var chol mat.Cholesky
	var slope, toward mat.VecDense
	if !chol.Factorize(normal) || chol.SolveVecTo(&slope, right) != nil {
		return out
	}
	toward.MulVec(l, &slope)
	for i := range out {
		for a, j := range free {
			out[i] -= x.scores[i*p+j] * toward.AtVec(a)
		}
	}
	return out
}

// reading is one number.
func (x *Contributions) reading(rec *record, f func(models.Curve) float64) Reading {
	c, scores := x.c, x.scores
	p := len(c.theta)
	at := func(theta []float64) float64 {
		e := c.m.eta(rec, theta)
		return f(c.m.curve(&e))
	}
	slope := make([]float64, p)
	theta := append([]float64(nil), c.theta...)
	for j := range c.m.nBeta {
		if !(c.cov.At(j, j) > 0) {
			continue
		}
		h := 1e-3 * math.Sqrt(c.cov.At(j, j))
		theta[j] = c.theta[j] + h
		up := at(theta)
		theta[j] = c.theta[j] - h
		slope[j] = (up - at(theta)) / (2 * h)
		theta[j] = c.theta[j]
	}
	toward := make([]float64, p) // covariance times slope
	r, variance := Reading{Value: at(c.theta)}, 0.0
	for a := range p {
		for b := range p {
			toward[a] += c.cov.At(a, b) * slope[b]
		}
		variance += slope[a] * toward[a]
	}
	r.SE = math.Sqrt(variance)
	for i := range c.m.records {
		step := 0.0
		for a, g := range scores[i*p : (i+1)*p] {
			step -= g * toward[a]
		}
		r.Added = append(r.Added, step)
	}
	r.Weight = x.weights(slope)
	return r
}

// weights are the members' shares of the information of a number with these slopes.
func (x *Contributions) weights(slope []float64) []float64 {
	out := make([]float64, len(x.own))
	if x.known == nil {
		return out
	}
	s := mat.NewVecDense(len(x.free), nil)
	for a, j := range x.free {
		s.SetVec(a, slope[j])
	}
	var toward mat.VecDense
	if x.known.SolveVecTo(&toward, s) != nil {
		return out
	}
	total := 0.0
	for i, m := range x.own {
		out[i] = math.Max(0, mat.Inner(&toward, m, &toward))
		total += out[i]
	}
	for i := range out {
		out[i] /= total
	}
	return out
}
