package cohort

import (
	"context"
	"math"

	"tyro/analysis/resample"
)

// An objective is minus the log marginal likelihood of a cohort as a function
// of theta. It remembers every trainee's mode, from which the next evaluation
// starts; the trainees are worked on in parallel and summed in order, so that
// the numbers do not depend on the workers.
type objective struct {
	m      *model
	ctx    context.Context
	modes  []mode
	nll    []float64
	grads  []float64 // a row a trainee
	info   []matrix  // of REML: every trainee's information
	nodes  *nodes    // nil for the Laplace approximation
	trials int       // evaluations so far
}

func newObjective(ctx context.Context, m *model) *objective {
	n := len(m.records)
	return &objective{m: m, ctx: ctx, modes: make([]mode, n), nll: make([]float64, n), grads: make([]float64, n*m.dim())}
}

// block is how many trainees a worker takes at a time.
const block = 16

// at evaluates the objective and, where grad is not nil, its gradient.
func (o *objective) at(theta, grad []float64) float64 {
	o.trials++
	m, p := o.m, o.m.dim()
	l := m.factor(theta)
	n := len(m.records)
	blocks := (n + block - 1) / block
	work := func(b int) {
		for i := b * block; i < min(n, (b+1)*block); i++ {
			var g []float64
			if grad != nil {
				g = o.grads[i*p : (i+1)*p]
			}
			if o.nodes != nil {
				o.nll[i] = m.quadrature(&m.records[i], theta, &l, &o.modes[i], o.nodes, g)
			} else {
				o.nll[i] = m.laplace(&m.records[i], theta, &l, &o.modes[i], g)
			}
		}
	}
	sampling := resample.Sampling{Workers: m.spec.Workers}
	if err := resample.Each(o.ctx, blocks, sampling, func() func(int) error {
		return func(b int) error { work(b); return nil }
	}); err != nil {
		return math.NaN()
	}
	total := 0.0
	for _, v := range o.nll {
		total += v
	}
	if math.IsInf(total, 1) || math.IsNaN(total) {
		return total
	}
	if grad == nil {
		if m.spec.REML {
			total = o.restrict(theta, nil, total)
		}
		return total
	}
	clear(grad)
	for i := range n {
		for j, v := range o.grads[i*p : (i+1)*p] {
			grad[j] += v
		}
	}
	if m.spec.REML {
		total = o.restrict(theta, grad, total)
	}
	return total
}

// outer is the sum over trainees of the outer products of their gradients,
// near the information where the model holds (Berndt, Hall, Hall and Hausman,
// 1974, Annals of Economic and Social Measurement 3, 653-665).
func (o *objective) outer() []float64 {
	p := o.m.dim()
	h := make([]float64, p*p)
	for i := range o.m.records {
		g := o.grads[i*p : (i+1)*p]
		for a := range p {
			for b := range p {
				h[a*p+b] += g[a] * g[b]
			}
		}
	}
	return h
}

// hessian is the matrix of second derivatives by central differences of the
// gradient, with steps in proportion to scale.
func (o *objective) hessian(theta, scale []float64) []float64 {
	p := o.m.dim()
	h := make([]float64, p*p)
	up, down := make([]float64, p), make([]float64, p)
	saved := append([]mode(nil), o.modes...)
	for j := range p {
		step := scale[j]
		x := append([]float64(nil), theta...)
		x[j] = theta[j] + step
		copy(o.modes, saved)
		o.at(x, up)
		x[j] = theta[j] - step
		copy(o.modes, saved)
		o.at(x, down)
		for i := range p {
			h[i*p+j] = (up[i] - down[i]) / (2 * step)
		}
	}
	copy(o.modes, saved)
	for i := range p {
		for j := range i {
			v := (h[i*p+j] + h[j*p+i]) / 2
			h[i*p+j], h[j*p+i] = v, v
		}
	}
	return h
}
