package cohort

import "math"

// nodes are the points of a product rule over the random effects, for a
// standard normal vector.
type nodes struct {
	points []vector
	logW   []float64 // log weight + |z|²/2
}

// maxQuadrature is the largest number of random effects for which a product
// rule is offered.
const maxQuadrature = 3

// newNodes makes the product rule with n points in each of k directions.
func newNodes(n, k int) *nodes {
	x, w := hermite(n)
	o := &nodes{points: []vector{{}}, logW: []float64{0}}
	for d := range k {
		var ps []vector
		var ws []float64
		for i, p := range o.points {
			for j := range x {
				q := p
				q[d] = x[j]
				ps = append(ps, q)
				ws = append(ws, o.logW[i]+math.Log(w[j])+x[j]*x[j]/2)
			}
		}
		o.points, o.logW = ps, ws
	}
	return o
}

// hermite is the n-point Gauss rule for a standard normal variable: the roots
// of the Hermite polynomial He_n by Newton steps on its orthonormal recurrence,
// with weights 1/(n·h_{n−1}²) for the orthonormal h.
func hermite(n int) (x, w []float64) {
	x, w = make([]float64, n), make([]float64, n)
	eval := func(z float64) (h, below float64) {
		p, q := 1.0, 0.0 // h_0 and h_{−1}
		for k := range n {
			p, q = (z*p-math.Sqrt(float64(k))*q)/math.Sqrt(float64(k+1)), p
		}
		return p, q
	}
	// Roots interlace with those of degree n−1 and lie within ±2√n; a fine
	// scan brackets them and bisection followed by Newton finishes each.
	found := 0
	limit := 2*math.Sqrt(float64(n)) + 1
	steps := 400 * n
	prev, _ := eval(-limit)
	for i := 1; i <= steps && found < n; i++ {
		a, b := -limit+2*limit*float64(i-1)/float64(steps), -limit+2*limit*float64(i)/float64(steps)
		h, _ := eval(b)
		if (prev < 0) != (h < 0) {
			lo := prev < 0
			for range 60 {
				c := (a + b) / 2
				if v, _ := eval(c); (v < 0) == lo {
					a = c
				} else {
					b = c
				}
			}
			x[found] = (a + b) / 2
			found++
		}
		prev = h
	}
	for i := range x {
		if n%2 == 1 && i == n/2 {
			x[i] = 0
		}
		_, below := eval(x[i])
		w[i] = 1 / (float64(n) * below * below)
	}
	return x, w
}

// quadrature is a trainee's minus log marginal likelihood by adaptive
// Gauss-Hermite quadrature about the mode. The gradient is the posterior mean
// of the gradient given the random effects (Fisher's identity; Louis, 1982,
// Journal of the Royal Statistical Society B 44, 226-233), taken with the same
// points.
func (m *model) quadrature(r *record, theta []float64, l *matrix, mo *mode, q *nodes, grad []float64) float64 {
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
	order := 0
	if grad != nil {
		order = 1
	}
	base := o.v + norm2(&mo.v, k)/2
	total := 0.0
	var g vector
	factor := make([]float64, 0, 32)
	if grad != nil {
		factor = factor[:m.nSpread()]
	}
	for n, z := range q.points {
		backward(&mo.chol, k, &z)
		v := mo.v
		for i := range k {
			v[i] += z[i]
		}
		e := eta0
		m.addDeviation(&e, l, &v)
		if !m.pass(r, &e, order, nil, &o) || math.IsNaN(o.v) {
			continue
		}
		w := math.Exp(q.logW[n] - (o.v + norm2(&v, k)/2 - base))
		total += w
		if grad == nil {
			continue
		}
		if !m.differentiate(r, &e, 1, nil, false, &o) {
			continue
		}
		for _, s := range m.moved {
			g[s] += w * o.grad[s]
		}
		m.eachFactor(l, func(place, row, col int, chain float64) {
			factor[place-m.nBeta] += w * chain * o.grad[m.parts[m.random[row]].slot] * v[col]
		})
	}
	if grad != nil {
		for s := range g {
			g[s] /= total
		}
		m.spreadBeta(r, &g, grad)
		for j, v := range factor {
			grad[m.nBeta+j] = v / total
		}
	}
	nll := base - math.Log(total)
	for i := range k {
		nll += math.Log(mo.chol[i][i])
	}
	return nll
}
