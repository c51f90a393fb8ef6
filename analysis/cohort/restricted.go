package cohort

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"tyro/analysis/resample"
)

// Restricted maximum likelihood (Patterson and Thompson, 1971, Biometrika 58,
// 545-554) takes the fixed effects of the curve out of the likelihood with a
// flat prior, so that spreads are not understated by the effects that were
// estimated beside them. Where the curve is linear in everything that moves it,
// that is minus half the log determinant of the effects' information, which
// depends on the covariance alone:
//
//	information = Σ XᵀSX,  S = H − H·A·(AᵀHA + I)⁻¹·AᵀH
//
// over trainees, with H the curvature in the quantities and A·v the deviations.

// checkRestricted refuses models for which the restricted likelihood is no
// closed form.
func (m *model) checkRestricted(theta []float64) error {
	switch {
	case m.spec.Method == Quadrature:
		return refuse("REML is exact without quadrature; use laplace")
	case !m.gauss:
		return refuse("REML needs normal, lognormal or reciprocal noise")
	}
	for _, i := range m.random {
		if m.parts[i].slot == slotSpread {
			return refuse("REML needs one residual spread: trainees may not differ in it")
		}
	}
	var o sum
	for i := range m.records {
		r := &m.records[i]
		if r.cens != nil {
			return refuse("REML needs exact responses: some are censored")
		}
		e := m.eta(r, theta)
		if !m.pass(r, &e, 2, nil, &o) {
			return refuse("REML: the curve leaves the domain of the noise")
		}
		for _, a := range m.mean() {
			for _, b := range m.mean() {
				bent := at(&o.hess, a, b) - at(&o.descent, a, b)
				if math.Abs(bent) > 1e-9*math.Sqrt(o.descent[a][a]*o.descent[b][b]) {
					return refuse("REML needs a curve that is linear in everything that moves it, on the scales chosen; hold the shape, or put plateau and gain on the noise's scale")
				}
			}
		}
	}
	return nil
}

// mean lists the slots that move the curve.
func (m *model) mean() []int {
	if n := len(m.active); n > 0 && m.active[n-1] == slotSpread {
		return m.active[:n-1]
	}
	return m.active
}

// informative is the quantities' information S of a trainee.
func (m *model) informative(r *record, theta []float64, l *matrix) (s matrix) {
	var o sum
	e := m.eta(r, theta)
	m.pass(r, &e, 2, nil, &o)
	k := len(m.random)
	_, curv := m.project(l, &o.grad, &o.hess, &vector{})
	var c matrix
	if !cholesky(&curv, k, &c) {
		return s
	}
	// Rows of H·A solved against C: S = H − BᵀB with C·B = (HA)ᵀ.
	var b [slots]vector
	for _, i := range m.mean() {
		for col := range k {
			for row := col; row < k; row++ {
				b[i][col] += at(&o.hess, i, m.parts[m.random[row]].slot) * l[row][col]
			}
		}
		forward(&c, k, &b[i])
	}
	for _, i := range m.mean() {
		for _, j := range m.mean() {
			s[i][j] = at(&o.hess, i, j)
			for col := range k {
				s[i][j] -= b[i][col] * b[j][col]
			}
		}
	}
	return s
}

// restriction is half the log determinant of the information about the
// effects on the curve, less the constant of their integral.
func (o *objective) restriction(theta []float64) float64 {
	m := o.m
	l := m.factor(theta)
	var parts []*part
	p := 0
	for i := range m.parts {
		if q := &m.parts[i]; !q.held && q.slot < slotSpread {
			parts, p = append(parts, q), p+len(q.cols)
		}
	}
	if o.info == nil {
		o.info = make([]matrix, len(m.records))
	}
	blocks := (len(m.records) + block - 1) / block
	err := resample.Each(o.ctx, blocks, resample.Sampling{Workers: m.spec.Workers}, func() func(int) error {
		return func(b int) error {
			for i := b * block; i < min(len(m.records), (b+1)*block); i++ {
				o.info[i] = m.informative(&m.records[i], theta, &l)
			}
			return nil
		}
	})
	if err != nil {
		return math.NaN()
	}
	total := mat.NewSymDense(p, nil)
	for i := range m.records {
		x := m.records[i].design
		row := 0
		for _, a := range parts {
			for _, ca := range a.cols {
				col := 0
				for _, b := range parts {
					for _, cb := range b.cols {
						if col <= row {
							total.SetSym(row, col, total.At(row, col)+o.info[i][a.slot][b.slot]*x[ca]*x[cb])
						}
						col++
					}
				}
				row++
			}
		}
	}
	var chol mat.Cholesky
	if !chol.Factorize(total) {
		return math.Inf(1)
	}
	return chol.LogDet()/2 - float64(p)*halfLog2Pi
}

// restrict adds the restriction to a value and, by central differences over
// what the covariance rests on, to its gradient.
func (o *objective) restrict(theta, grad []float64, value float64) float64 {
	if grad != nil {
		const h = 1e-4
		x := append([]float64(nil), theta...)
		move := func(j int) {
			x[j] = theta[j] + h
			up := o.restriction(x)
			x[j] = theta[j] - h
			grad[j] += (up - o.restriction(x)) / (2 * h)
			x[j] = theta[j]
		}
		for i := range o.m.parts {
			if p := &o.m.parts[i]; !p.held && p.slot >= slotSpread {
				for k := range p.cols {
					move(p.at + k)
				}
			}
		}
		for j := o.m.nBeta; j < len(theta); j++ {
			move(j)
		}
	}
	return value + o.restriction(theta)
}
