package fit

import (
	"fmt"
	"math"
	"slices"

	"tyro/models"
)

// checkFrom reports starting values that cannot be begun from.
func (s Spec) checkFrom() error {
	if s.From == nil {
		return nil
	}
	params := s.Family.Params()
	for i, h := range s.From {
		at := slices.IndexFunc(params, func(p models.Param) bool { return p.Name == h.Name })
		_, held := s.held(h.Name)
		switch {
		case at < 0:
			return fmt.Errorf("%w: the %s curve has no parameter %q to begin from", ErrSeries, s.Family.Name(), h.Name)
		case held:
			return fmt.Errorf("%w: %s is held, so nothing begins from it", ErrSeries, h.Name)
		case math.IsNaN(h.Value) || math.IsInf(h.Value, 0) || params[at].Positive && h.Value <= 0:
			return fmt.Errorf("%w: the search cannot begin from %s %v", ErrSeries, h.Name, h.Value)
		case slices.ContainsFunc(s.From[:i], func(o Hold) bool { return o.Name == h.Name }):
			return fmt.Errorf("%w: %s is named twice to begin from", ErrSeries, h.Name)
		}
	}
	for _, p := range params {
		_, held := s.held(p.Name)
		if _, named := s.from(p.Name); !p.Linear && !held && !named {
			return fmt.Errorf("%w: beginning from given values needs one of %s", ErrSeries, p.Name)
		}
	}
	return nil
}

func (s Spec) from(name string) (float64, bool) {
	for _, h := range s.From {
		if h.Name == name {
			return h.Value, true
		}
	}
	return s.held(name)
}

// startFrom is the point that the spec says to begin from. Plateau and gain that
// it leaves out are the best for the given shape.
func (f *Fitter) startFrom() start {
	st := start{shape: f.fixed}
	for k, j := range f.free {
		v, _ := f.spec.from(f.shape.Params()[j].Name)
		st.tau = math.Min(math.Max(f.toMoved(k, v), f.lo[k]), f.hi[k])
		st.shape[j] = f.fromMoved(k, st.tau)
	}
	f.fill(st.shape, false)
	if beta, ok := f.betaFrom(st.shape); ok {
		st.beta = beta
	} else {
		st.beta, _ = f.projectOne()
	}
	if f.squares {
		st.loss = 2 * f.lossAt(f.pointFrom(st))
	}
	return st
}

// projectOne finds the best linear coefficients for the z filled in, by least
// squares on the scale of the curve.
func (f *Fitter) projectOne() (beta [2]float64, ok bool) {
	if f.log {
		beta, loss := f.project(f.z)
		return beta, !math.IsInf(loss, 1)
	}
	var sz, szz, sy, szy float64
	for i, y := range f.working {
		sz += f.z[i]
		szz += f.z[i] * f.z[i]
		sy += y
		szy += f.z[i] * y
	}
	m, rhs := f.normalEquations(float64(len(f.working)), sz, szz, sy, szy)
	return solveTwo(m, rhs, f.form.n)
}

// betaFrom turns a given plateau and gain into the form's coefficients, at the
// shape that was filled in.
func (f *Fitter) betaFrom(shape models.Shapes) (beta [2]float64, ok bool) {
	if f.spec.Family.IsLine() {
		return beta, false
	}
	h0 := f.jetAt(f.origin, shape).v
	plateau, p := f.spec.from("plateau")
	if !f.spec.Family.HasPlateau() {
		p = true
	}
	gain, g := f.spec.from("gain")
	if !f.spec.Family.HasGain() {
		g = true
	}
	if begin, held := f.spec.held("start"); held {
		switch {
		case p && !g:
			gain, g = (begin-plateau)/h0, true
		case g && !p:
			plateau, p = begin-gain*h0, true
		}
	}
	if !p || !g {
		return beta, false
	}
	c0, c1 := plateau+gain*f.a.v, gain*f.d.v
	switch {
	case f.form.n == 2:
		return [2]float64{c0, c1}, true
	case f.form.n == 1 && f.form.b0[0] != 0:
		beta[0] = (c0 - f.form.k0) / f.form.b0[0]
	case f.form.n == 1:
		beta[0] = (c1 - f.form.k1) / f.form.b1[0]
	}
	return beta, true
}
