package cohort

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"

	"tyro/models"
)

// A look is a cohort's likelihood at one place, with every trainee's mode.
type look struct {
	m        *model
	o        *objective
	theta    []float64
	trainees []Trainee
}

// nearby fits other trainees: it searches from the fitted values on the rung that was used, by the
// Laplace approximation, and reports whether the search settled.
func (c *Cohort) nearby(ctx context.Context, ts []Trainee) (look, bool) {
	m, err := newModel(c.m.spec, c.m.arms, ts)
	if err != nil {
		return look{}, false
	}
	m.spec.Workers = 1
	m.parts = slices.Clone(c.m.parts)
	m.full, m.pinned, m.expected = c.m.full, c.m.pinned, c.m.expected
	m.bind()
	guess := m.begin(ts)
	m.sign = c.m.sign
	o, b := newObjective(ctx, m), m.region(guess)
	at := optimum{theta: slices.Clone(c.theta), hess: c.information()}
	settled := at.hess != nil && o.follow(&at, b)
	if !settled {
		at = o.minimise(c.theta, b)
		settled = at.converged
	}
	return look{m, o, at.theta, ts}, settled && ctx.Err() == nil
}

// information is the inverse of the covariance of theta, with 1 for what is not
// estimated; nil where there is none.
func (c *Cohort) information() []float64 {
	p := len(c.theta)
	cov := mat.NewSymDense(p, nil)
	cov.CopySym(c.cov)
	for j := range p {
		if cov.At(j, j) == 0 {
			cov.SetSym(j, j, 1)
		}
	}
	var chol mat.Cholesky
	var inv mat.SymDense
	if !chol.Factorize(cov) || chol.InverseTo(&inv) != nil {
		return nil
	}
	out := make([]float64, 0, p*p)
	for i := range p {
		for j := range p {
			out = append(out, inv.At(i, j))
		}
	}
	return out
}

// here looks at the fit itself. The modes are those of the fit.
func (c *Cohort) here(ctx context.Context) look {
	o := newObjective(ctx, c.m)
	copy(o.modes, c.modes)
	return look{c.m, o, c.theta, c.trainees}
}

// again draws the cohort's own trainees once more: deviations from the normal
// approximation of what is known of each, and new responses.
func (c *Cohort) again(r *rand.Rand) []Trainee {
	k := len(c.m.random)
	return c.drawn(r, func(i int) vector {
		v := c.modes[i].v
		if k == 0 || !c.modes[i].ok {
			return v
		}
		var z vector
		for a := range k {
			z[a] = r.NormFloat64()
		}
		backward(&c.modes[i].chol, k, &z)
		for a := range k {
			v[a] += z[a]
		}
		return v
	})
}

// scores are n standard normal quantiles at the middles of n equal shares.
func scores(n int) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = distuv.UnitNormal.Quantile((float64(i) + 0.5) / float64(n))
	}
	return out
}

// residuals are the exact attempts' responses about each trainee's curve, in
// residual standard deviations, smallest first. Noise without residuals has none.
func (k look) residuals() []float64 {
	m := k.m
	if !m.spec.Noise.Additive() {
		return nil
	}
	l := m.factor(k.theta)
	var out []float64
	for i, t := range k.trainees {
		e := m.eta(&m.records[i], k.theta)
		m.addDeviation(&e, &l, &k.o.modes[i].v)
		spread := models.ResidualSD(m.spec.Noise, m.spreadAt(&e))
		mean := m.means(&e, t)
		for j, y := range t.Response {
			if t.Censored == nil || !t.Censored[j] {
				out = append(out, m.spec.Noise.Residual(y, mean[j])/spread)
			}
		}
	}
	slices.Sort(out)
	return out
}

// means are the curve's values at a trainee's attempts, restarts after breaks
// included.
func (m *model) means(e *vector, t Trainee) []float64 {
	curve := m.curve(e)
	out := make([]float64, len(t.Attempt))
	for j, n := range t.Attempt {
		out[j] = curve.At(n)
		if m.spec.Sessions && t.Restart != nil && t.Restart[j] > 0 {
			out[j] = m.spec.Noise.Shift(out[j], e[slotSession]*math.Exp(-math.Exp(e[slotFading])*(t.Restart[j]-1)))
		}
	}
	return out
}

// deviations are the trainees' predicted deviations in each random parameter,
// centred and in their own standard deviations, smallest first.
func (k look) deviations() [][]float64 {
	m := k.m
	l := m.factor(k.theta)
	out := make([][]float64, len(m.random))
	for i := range m.records {
		for a := range m.random {
			u := 0.0
			for b := range a + 1 {
				u += l[a][b] * k.o.modes[i].v[b]
			}
			out[a] = append(out[a], u)
		}
	}
	for _, us := range out {
		standardise(us)
		slices.Sort(us)
	}
	return out
}

// standardise centres values and divides by their standard deviation, in place.
func standardise(x []float64) {
	mean, ss := 0.0, 0.0
	for _, v := range x {
		mean += v / float64(len(x))
	}
	for _, v := range x {
		ss += (v - mean) * (v - mean)
	}
	sd := math.Sqrt(ss / float64(len(x)-1))
	for i := range x {
		x[i] = (x[i] - mean) / sd
	}
}
