package cohort

import (
	"context"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"
)

// A Profiled is a quantity of a fit with its profile-likelihood interval: the
// values that a likelihood ratio test with all else free does not exclude.
type Profiled struct {
	Kind      string // "fixed", "sd" or "residual"
	Parameter string
	Arm       string
	Covariate string
	Estimate  float64
	// Lower and Upper are NaN where the search did not settle; a standard
	// deviation that may be nothing has 0 below, one without a limit +Inf above.
	Lower, Upper float64
}

// Profile works out profile-likelihood intervals of the fixed effects, the
// spreads between trainees and the residual spread, at the normal quantile of
// the fit's level (Venzon and Moolgavkar, 1988, Applied Statistics 37, 87-94).
// It needs a joint maximum of the unrestricted likelihood inside its bounds.
func (c *Cohort) Profile(ctx context.Context) ([]Profiled, error) {
	if err := c.withAttempts(); err != nil {
		return nil, err
	}
	switch {
	case c.Rung == RungTwoStage:
		return nil, refuse("no joint likelihood was maximised, so it has no profile")
	case c.REML:
		return nil, refuse("profile intervals need the unrestricted likelihood: fit without REML")
	case c.Rung == RungReduced:
		return nil, refuse("profile intervals need a covariance inside its bounds, and a correlation is at ±1")
	}
	var out []Profiled
	limit := distuv.UnitNormal.Quantile((1 + c.Level) / 2)
	for i := range c.m.parts {
		p := &c.m.parts[i]
		if p.held || p.slot > slotSpread {
			continue
		}
		for k, col := range p.cols {
			lo, hi := c.ends(ctx, c.m, c.theta, p.at+k, c.se(p.at+k), limit)
			q := Profiled{Kind: "fixed", Parameter: p.name, Estimate: c.theta[p.at+k], Lower: lo, Upper: hi}
			q.Arm, q.Covariate = c.m.effectOf(p, col)
			if p.name == Spread && col == 0 {
				r := q
				r.Kind, r.Arm = "residual", ""
				r.Estimate, r.Lower, r.Upper = math.Exp(q.Estimate), math.Exp(lo), math.Exp(hi)
				out = append(out, r)
				if len(p.cols) == 1 && !p.random {
					continue
				}
			}
			out = append(out, q)
		}
	}
	for a, d := range c.Random[:len(c.m.random)] {
		m, theta := c.m.led(c.theta, a)
		j := m.diagonal(0)
		se := math.Log(d.Upper/d.Lower) / (2 * limit)
		lo, hi := c.ends(ctx, m, theta, j, se, limit)
		out = append(out, Profiled{Kind: "sd", Parameter: d.Parameter, Estimate: d.SD, Lower: math.Exp(lo), Upper: math.Exp(hi)})
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	return out, nil
}

// effectOf names what a column of the design stands for.
func (m *model) effectOf(p *part, col int) (arm, covariate string) {
	switch {
	case col == 0 && slices.Contains(m.spec.ArmEffect, p.name) && len(m.arms) > 1:
		return m.arms[0], ""
	case col > 0 && col < len(m.arms):
		return m.arms[col], ""
	case col > 0:
		return "", m.spec.Covariates[col-len(m.arms)].Name
	}
	return "", ""
}

// led is the same model and theta with random part a put first, where its
// standard deviation is a parameter by itself.
func (m *model) led(theta []float64, a int) (*model, []float64) {
	out := *m
	out.random = []int{m.random[a]}
	order := []int{a}
	for b, i := range m.random {
		if b != a {
			out.random, order = append(out.random, i), append(order, b)
		}
	}
	moved := slices.Clone(theta)
	if !m.full {
		for b, from := range order {
			moved[out.diagonal(b)] = theta[m.diagonal(from)]
		}
		return &out, moved
	}
	l := m.factor(theta)
	k := len(order)
	var cov, chol matrix
	for x, a := range order {
		for y, b := range order {
			for e := range k {
				cov[x][y] += l[a][e] * l[b][e]
			}
		}
	}
	cholesky(&cov, k, &chol)
	at := m.nBeta
	for x := range k {
		for y := range x {
			moved[at] = chol[x][y]
			at++
		}
		moved[at] = math.Log(chol[x][x])
		at++
	}
	return &out, moved
}

// ends are where the profile of theta[j] has fallen by half the square of
// limit, on either side of the maximum.
func (c *Cohort) ends(ctx context.Context, m *model, theta []float64, j int, se, limit float64) (lower, upper float64) {
	if !(se > 0) || math.IsInf(se, 0) {
		se = 0.1 * math.Max(1, math.Abs(theta[j]))
	}
	var at [2]float64
	for k, side := range []float64{-1, 1} {
		p := newProfile(ctx, c, m, theta, j)
		at[k] = p.end(side, se, limit)
	}
	return at[0], at[1]
}

// A profile is the likelihood maximised over all of theta but one place.
type profile struct {
	o     *objective
	b     bounds
	j     int
	theta []float64 // best for the value last tried
	hess  []float64 // curvature for the next search by quadrature
	best  float64   // minus log-likelihood at the maximum
	x0    float64
}

func newProfile(ctx context.Context, c *Cohort, m *model, theta []float64, j int) *profile {
	o := newObjective(ctx, m)
	if c.Nodes > 0 {
		o.nodes = newNodes(c.Nodes, len(m.random))
	}
	p := &profile{o: o, b: m.region(c.guess), j: j, theta: slices.Clone(theta), x0: theta[j]}
	p.best = o.at(theta, make([]float64, len(theta)))
	p.hess = o.startingCurvature()
	return p
}

// root is the signed root of twice the fall in likelihood at x; NaN where the
// search over the rest does not settle.
func (p *profile) root(x float64) float64 {
	p.b.lower[p.j], p.b.upper[p.j] = x, x
	start := slices.Clone(p.theta)
	start[p.j] = x
	var at optimum
	if p.o.nodes != nil {
		at = optimum{theta: start, hess: slices.Clone(p.hess)}
		at.converged = p.o.follow(&at, p.b)
	} else {
		at = p.o.minimise(start, p.b)
	}
	if !at.converged {
		return math.NaN()
	}
	p.theta = at.theta
	return math.Copysign(math.Sqrt(2*math.Max(at.value-p.best, 0)), x-p.x0)
}

// end is the value on a side of the maximum at which the root reaches the
// limit: the root is nearly straight, so that secants find it.
func (p *profile) end(side, se, limit float64) float64 {
	floor, ceiling := p.b.lower[p.j], p.b.upper[p.j]
	near, nearRoot := p.x0, 0.0
	far, farRoot := math.NaN(), math.NaN()
	x := p.x0 + side*limit*se
	for range 40 {
		x = math.Min(math.Max(x, floor), ceiling)
		z := side * p.root(x)
		switch {
		case math.IsNaN(z):
			return math.NaN()
		case math.Abs(z-limit) < 1e-5:
			return x
		case z < limit && (x == floor || x == ceiling):
			return math.Inf(int(side))
		case z < limit:
			near, nearRoot = x, z
		default:
			far, farRoot = x, z
		}
		if math.IsNaN(far) {
			// Outwards, at most at double the distance from the maximum.
			grow := math.Min(2, limit/math.Max(z, limit/4)*1.05)
			x = p.x0 + (x-p.x0)*grow
			continue
		}
		// Between the two, by the straight line through them, kept off the ends.
		t := (limit - nearRoot) / (farRoot - nearRoot)
		x = near + math.Min(math.Max(t, 0.02), 0.98)*(far-near)
		if math.Abs(far-near) < 1e-9*math.Max(math.Abs(p.x0), se) {
			return x
		}
	}
	return math.NaN()
}
