package cohort

import "math"

// A mode is where a trainee's posterior of the standard deviations v peaks,
// with the factor of its curvature there.
type mode struct {
	v    vector
	chol matrix // lower triangular C, curvature = C·Cᵀ
	ok   bool
}

// cholesky factors the leading k×k block of a; false where it is not positive
// definite.
func cholesky(a *matrix, k int, out *matrix) bool {
	for i := range k {
		for j := range i + 1 {
			s := a[i][j]
			for n := range j {
				s -= out[i][n] * out[j][n]
			}
			if i == j {
				if !(s > 1e-12*math.Abs(a[i][i])) || math.IsInf(s, 0) {
					return false
				}
				out[i][i] = math.Sqrt(s)
			} else {
				out[i][j] = s / out[j][j]
			}
		}
	}
	return true
}

// forward solves C·x = b in place, backward Cᵀ·x = b.
func forward(c *matrix, k int, b *vector) {
	for i := range k {
		for j := range i {
			b[i] -= c[i][j] * b[j]
		}
		b[i] /= c[i][i]
	}
}

func backward(c *matrix, k int, b *vector) {
	for i := k - 1; i >= 0; i-- {
		for j := i + 1; j < k; j++ {
			b[i] -= c[j][i] * b[j]
		}
		b[i] /= c[i][i]
	}
}

// project turns derivatives in eta into those in v: gradient Aᵀg + v and
// curvature Aᵀ·H·A + I, where A puts L·v into the slots.
func (m *model) project(l *matrix, g *vector, h *matrix, v *vector) (grad vector, curv matrix) {
	k := len(m.random)
	var ha matrix // H·A restricted to random slots
	for a, i := range m.random {
		sa := m.parts[i].slot
		for b := range k {
			s := 0.0
			for c := b; c < k; c++ {
				s += at(h, sa, m.parts[m.random[c]].slot) * l[c][b]
			}
			ha[a][b] = s
		}
	}
	for b := range k {
		grad[b] = v[b]
		for c := b; c < k; c++ {
			grad[b] += l[c][b] * g[m.parts[m.random[c]].slot]
		}
		for e := range b + 1 {
			s := 0.0
			for c := e; c < k; c++ {
				s += l[c][e] * ha[c][b]
			}
			curv[b][e] = s
		}
		curv[b][b]++
	}
	return grad, curv
}

func norm2(v *vector, k int) float64 {
	s := 0.0
	for i := range k {
		s += v[i] * v[i]
	}
	return s
}

// seek finds the mode by Newton steps from v, and leaves the derivatives of
// the given trainee at the mode in o. The curvature is the exact one where it
// is positive definite.
func (m *model) seek(r *record, eta0 *vector, l *matrix, v vector, o *sum) mode {
	k := len(m.random)
	value := func(v *vector, order int, o *sum) float64 {
		e := *eta0
		m.addDeviation(&e, l, v)
		if !m.pass(r, &e, order, nil, o) || math.IsNaN(o.v) {
			return math.Inf(1)
		}
		return o.v + norm2(v, k)/2
	}
	f := value(&v, 2, o)
	if math.IsInf(f, 1) {
		v = vector{}
		if f = value(&v, 2, o); math.IsInf(f, 1) {
			return mode{}
		}
	}
	var trial sum
	for range 100 {
		grad, curv := m.project(l, &o.grad, &o.hess, &v)
		var c matrix
		exact := cholesky(&curv, k, &c)
		if !exact {
			_, curv = m.project(l, &o.grad, &o.descent, &v)
			if !cholesky(&curv, k, &c) {
				return mode{}
			}
		}
		step := grad
		forward(&c, k, &step)
		decrement := norm2(&step, k)
		if exact && decrement < 1e-18 {
			return mode{v, c, true}
		}
		backward(&c, k, &step)
		size := 1.0
		if n := math.Sqrt(norm2(&step, k)); n > 3 {
			size = 3 / n
		}
		for {
			next := v
			for i := range k {
				next[i] -= size * step[i]
			}
			g := value(&next, 2, &trial)
			if g <= f+1e-12*math.Abs(f)+1e-14 {
				// The mode itself is not asked for beyond the square of the
				// step that led to it.
				done := exact && size == 1 && decrement < 1e-9
				v, f, *o = next, g, trial
				if done {
					_, curv = m.project(l, &o.grad, &o.hess, &v)
					var c2 matrix
					if cholesky(&curv, k, &c2) {
						return mode{v, c2, true}
					}
				}
				break
			}
			if size /= 2; size < 1e-9 {
				// Rounding lets no step help: this is the mode, if it is one.
				return mode{v, c, exact && decrement < 1e-6}
			}
		}
	}
	return mode{}
}

// laplace is a trainee's minus log marginal likelihood by the Laplace
// approximation, with its gradient in theta added nowhere but to grad, which is
// overwritten (nil: not asked for). The mode is read and updated.
func (m *model) laplace(r *record, theta []float64, l *matrix, mo *mode, grad []float64) float64 {
	k := len(m.random)
	eta0 := m.eta(r, theta)
	var o sum
	found := m.seek(r, &eta0, l, mo.v, &o)
	if !found.ok {
		if found = m.seek(r, &eta0, l, vector{}, &o); !found.ok {
			return math.Inf(1)
		}
	}
	*mo = found
	chol, curvature := &mo.chol, &o.hess // of the determinant
	var other matrix
	if m.expected {
		chol, curvature = &other, &o.descent
		if _, c := m.project(l, &o.grad, curvature, &mo.v); !cholesky(&c, k, chol) {
			return math.Inf(1)
		}
	}
	nll := o.v + norm2(&mo.v, k)/2
	for i := range k {
		nll += math.Log(chol[i][i])
	}
	if grad == nil {
		return nll
	}
	// Inverse curvature in v, and W = A·H⁻¹·Aᵀ over the slots.
	var inv, a matrix // a[slot][b] = ∂eta/∂v
	for b := range k {
		var e vector
		e[b] = 1
		forward(chol, k, &e)
		backward(chol, k, &e)
		for c := range k {
			inv[c][b] = e[c]
		}
	}
	for c, i := range m.random {
		for b := range c + 1 {
			a[m.parts[i].slot][b] = l[c][b]
		}
	}
	var w, ai matrix
	for _, c := range m.random {
		s := m.parts[c].slot
		for b := range k {
			for e := range k {
				ai[s][b] += a[s][e] * inv[e][b]
			}
		}
	}
	for _, c := range m.random {
		for _, d := range m.random {
			s, t := m.parts[c].slot, m.parts[d].slot
			for b := range k {
				w[s][t] += ai[s][b] * a[t][b]
			}
		}
	}
	e := eta0
	m.addDeviation(&e, l, &mo.v)
	m.pass(r, &e, 3, &w, &o)
	if !m.differentiate(r, &e, 3, &w, m.expected, &o) {
		return math.Inf(1)
	}
	// How the mode's own move changes the determinant.
	var turn vector // (curvature of the posterior)⁻¹Aᵀτ
	for b := range k {
		for _, c := range m.random {
			s := m.parts[c].slot
			turn[b] += a[s][b] * o.third[s]
		}
	}
	forward(&mo.chol, k, &turn)
	backward(&mo.chol, k, &turn)
	var aw vector
	for _, c := range m.random {
		s := m.parts[c].slot
		for b := range k {
			aw[s] += a[s][b] * turn[b]
		}
	}
	var g vector // total derivative in eta
	for _, s := range m.moved {
		x := 0.0
		for _, c := range m.random {
			t := m.parts[c].slot
			x += at(&o.hess, s, t) * aw[t]
		}
		g[s] = o.grad[s] + o.third[s] - x
	}
	m.spreadBeta(r, &g, grad)
	m.eachFactor(l, func(place, c, b int, chain float64) {
		s := m.parts[m.random[c]].slot
		x := 0.0
		for _, d := range m.random {
			t := m.parts[d].slot
			x += at(curvature, s, t) * ai[t][b]
		}
		grad[place] = chain * (g[s]*mo.v[b] + x - o.grad[s]*turn[b])
	})
	return nll
}

// spreadBeta turns a gradient in eta into one in the coefficients.
func (m *model) spreadBeta(r *record, g *vector, grad []float64) {
	for i := range m.parts {
		if p := &m.parts[i]; !p.held {
			for k, c := range p.cols {
				grad[p.at+k] = g[p.slot] * r.design[c]
			}
		}
	}
}

// eachFactor visits the entries of L that theta moves: place in theta, row,
// column, and the derivative of the entry in its parameter.
func (m *model) eachFactor(l *matrix, visit func(at, row, col int, chain float64)) {
	at := m.nBeta
	for a := range m.random {
		if m.full {
			for b := range a {
				visit(at, a, b, 1)
				at++
			}
		}
		visit(at, a, a, l[a][a])
		at++
	}
}
