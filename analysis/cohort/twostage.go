package cohort

import (
	"context"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"tyro/analysis/fit"
	"tyro/analysis/resample"
	"tyro/models"
)

// twoStage summarises separate curves: each trainee's own parameters on their
// scales, regressed on the design, with the spread between trainees as what
// their variance exceeds the mean squared standard error by. The last rung: it
// needs nothing to converge jointly.
func (c *Cohort) twoStage(ctx context.Context, ts []Trainee, cl *climb) error {
	m := c.m
	m.full = false
	for i := range m.parts { // what the ladder took away comes back
		p := &m.parts[i]
		p.random = !p.held && p.slot < slotSession && (m.spec.Random == nil || slices.Contains(m.spec.Random, p.name))
	}
	m.bind()
	cl.none = nil
	type own struct {
		at, se vector
		spread float64
		ok     bool
	}
	owns := make([]own, len(ts))
	err := resample.Each(ctx, len(ts), resample.Sampling{Workers: m.spec.Workers}, func() func(int) error {
		return func(i int) error {
			t := ts[i]
			f, err := fit.One(fit.Series{Attempt: t.Attempt, Response: t.Response, Censored: t.Censored},
				fit.Spec{Family: m.spec.Family, Noise: m.spec.Noise, Hold: m.curveHolds(), Positive: m.link != plain})
			if err != nil || f.Status != fit.OK {
				return nil
			}
			o := own{spread: f.Scale, ok: true}
			for _, p := range m.parts {
				if p.slot >= slotSession {
					continue
				}
				var v, se float64
				switch {
				case p.name == Start:
					e := f.Delta(Start, false, m.startOf)
					v, se = e.Value, e.SE
				default:
					for _, e := range f.Params {
						if e.Name == p.name {
							v, se = e.Value, e.SE
						}
					}
				}
				if p.scale == Log {
					v *= map[bool]float64{true: m.sign, false: 1}[p.slot == slotGain]
					if !(v > 0) {
						return nil
					}
					v, se = math.Log(v), se/v
				}
				o.at[p.slot], o.se[p.slot] = v, se
				if math.IsNaN(se) && !p.held {
					return nil
				}
			}
			owns[i] = o
			return nil
		}
	})
	if err != nil {
		return err
	}
	used := 0
	logSpread := 0.0
	for _, o := range owns {
		if o.ok {
			used++
			logSpread += math.Log(math.Max(o.spread, 1e-300))
		}
	}
	if used < 3 {
		return refuse("no joint fit held and only %d trainees have a curve of their own: fewer parameters, or more attempts, are needed", used)
	}
	c.theta = make([]float64, m.dim())
	c.cov = mat.NewSymDense(m.dim(), nil)
	for i := range m.parts {
		p := &m.parts[i]
		if p.held {
			continue
		}
		if p.slot == slotSpread {
			c.theta[p.at] = logSpread / float64(used)
			c.cov.SetSym(p.at, p.at, 1/(2*float64(m.nObs)))
			continue
		}
		if p.slot > slotSpread {
			c.theta[p.at] = cl.guess.beta[p.at]
			continue
		}
		if p.slot == slotSession || p.slot == slotFading {
			c.theta[p.at] = map[bool]float64{true: 0, false: math.Log(0.5)}[p.slot == slotSession]
			continue
		}
		var xs, ys, ses []float64
		for k, o := range owns {
			if !o.ok {
				continue
			}
			for _, col := range p.cols {
				xs = append(xs, m.records[k].design[col])
			}
			ys, ses = append(ys, o.at[p.slot]), append(ses, o.se[p.slot])
		}
		beta, cov, variance, ok := regress(xs, ys, len(p.cols))
		if !ok {
			return refuse("no joint fit held and too few trainees with a curve of their own are in every arm")
		}
		for a := range p.cols {
			c.theta[p.at+a] = beta[a]
			for b := range a + 1 {
				c.cov.SetSym(p.at+a, p.at+b, cov[a*len(p.cols)+b])
			}
		}
		mean := 0.0
		for _, s := range ses {
			mean += s * s / float64(len(ses))
		}
		for a, r := range m.random {
			if r == i {
				j := m.diagonal(a)
				floor := m.region(cl.guess).lower[j]
				c.theta[j] = math.Max(floor, 0.5*math.Log(math.Max(variance-mean, 1e-12*variance)))
				c.cov.SetSym(j, j, 1/(2*float64(len(ys)-1)))
			}
		}
	}
	c.Status = Rough
	// Where the trainees stand under these numbers.
	o := newObjective(ctx, m)
	c.LogLikLog = -o.at(c.theta, nil)
	if math.IsInf(c.LogLikLog, 0) {
		c.LogLikLog = math.NaN()
	}
	c.modes = o.modes
	c.Ladder = append(c.Ladder, Step{Rung: RungTwoStage, Random: cl.names(m.random), Status: Rough, LogLik: math.NaN()})
	return nil
}

// startOf reads the starting level off a curve, as newFall has it.
func (m *model) startOf(c models.Curve) float64 {
	if c.Family.StartsFarBack() {
		return c.Plateau + c.Gain
	}
	return c.Start()
}

// curveHolds are the holds that a single curve knows.
func (m *model) curveHolds() []fit.Hold {
	return slices.DeleteFunc(slices.Clone(m.spec.Hold), func(h fit.Hold) bool {
		return slices.Contains([]string{Spread, Session, Fading, Carryover, CarriedShare}, h.Name)
	})
}

// regress is ordinary least squares of y on rows of k columns, with the
// covariance of the coefficients and the residual variance.
func regress(xs, ys []float64, k int) (beta, cov []float64, variance float64, ok bool) {
	n := len(ys)
	if n <= k {
		return nil, nil, 0, false
	}
	x := mat.NewDense(n, k, xs)
	var xtx mat.SymDense
	xtx.SymOuterK(1, x.T())
	var chol mat.Cholesky
	if !chol.Factorize(&xtx) || chol.Cond() > 1e12 {
		return nil, nil, 0, false
	}
	var xty, b mat.VecDense
	xty.MulVec(x.T(), mat.NewVecDense(n, ys))
	if chol.SolveVecTo(&b, &xty) != nil {
		return nil, nil, 0, false
	}
	var fitted mat.VecDense
	fitted.MulVec(x, &b)
	for i := range n {
		variance += (ys[i] - fitted.AtVec(i)) * (ys[i] - fitted.AtVec(i)) / float64(n-k)
	}
	var inv mat.SymDense
	if chol.InverseTo(&inv) != nil {
		return nil, nil, 0, false
	}
	cov = make([]float64, k*k)
	for a := range k {
		beta = append(beta, b.AtVec(a))
		for e := range k {
			cov[a*k+e] = variance * inv.At(a, e)
		}
	}
	return beta, cov, variance, true
}
