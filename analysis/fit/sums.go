package fit

import (
	"math"

	"tyro/models"
)

// Sums over the attempts from which the surface of a curve with at most one moving shape
// parameter is put together, M being an attempt's loss: of its slope in the mean, of its
// curvature there, and of its derivatives in the log of the scale.
type sums struct {
	loss                              float64
	m, mZ, mZ1, mZ2                   float64 // slope, times z and its derivatives
	mm, mmZ, mmZZ, mmZ1, mmZZ1, mmZ11 float64 // curvature, times products of two of them
	s, ss, ms, msZ, msZ1              float64 // scale
}

// summable reports whether a surface may be put together from sums.
func (f *Fitter) summable() bool {
	return len(f.free) <= 1 && f.restart == nil && !f.whitened
}

// sumsAt evaluates the curve at q with its derivatives and adds the attempts up. The loss is
// +Inf where the curve leaves the domain of the noise.
func (f *Fitter) sumsAt(q point) (t sums) {
	if len(f.free) == 1 {
		f.fillOne(f.shapeOf(q))
	} else {
		f.fill(f.shapeOf(q), false)
	}
	c0, c1 := f.form.coefficients([2]float64{q[0], q[1]})
	switch {
	case f.log && f.squares:
		f.sumLogs(c0, c1, &t)
	case f.log && f.gaussian:
		f.sumLogs(c0, c1, &t)
		f.rescale(&t, f.scaleOf(q))
		if f.cens != nil {
			f.sumTerms(c0, c1, f.scaleOf(q), f.cens, &t)
		}
	default:
		f.sumTerms(c0, c1, f.scaleOf(q), nil, &t)
	}
	return t
}

// rescale turns sums for half the squares into those of minus the log-likelihood at a
// scale.
func (f *Fitter) rescale(t *sums, scale float64) {
	n := 0.0
	for i := range f.y {
		if !f.censored(i) {
			n++
		}
	}
	w := 1 / (scale * scale)
	for _, v := range []*float64{&t.loss, &t.m, &t.mZ, &t.mZ1, &t.mZ2, &t.mm, &t.mmZ, &t.mmZZ, &t.mmZ1, &t.mmZZ1, &t.mmZ11} {
		*v *= w
	}
	t.s, t.ss = n-2*t.loss, 4*t.loss
	t.ms, t.msZ, t.msZ1 = -2*t.m, -2*t.mZ, -2*t.mZ1
	t.loss += n * (math.Log(scale) + halfLog2Pi)
}

// sumLogs is for half the squares of the relative residuals e = log(response/mean) of exact
// responses.
func (f *Fitter) sumLogs(c0, c1 float64, t *sums) {
	ys := f.y
	z, z1, z2 := f.z[:len(ys)], f.still[:len(ys)], f.still[:len(ys)]
	if len(f.free) == 1 {
		z1, z2 = f.z1[0][:len(ys)], f.z2[0][:len(ys)]
	}
	for i, y := range ys {
		if f.cens != nil && f.cens[i] {
			continue
		}
		z, z1 := z[i], z1[i]
		mean := c0 + c1*z
		if !(mean > 0) {
			t.loss = math.Inf(1)
			return
		}
		inverse := 1 / mean
		e := models.Log(y * inverse)
		m, mm := -e*inverse, (1+e)*inverse*inverse
		t.loss += e * e / 2
		t.m += m
		t.mZ += m * z
		t.mZ1 += m * z1
		t.mZ2 += m * z2[i]
		t.mm += mm
		mmZ, mmZ1 := mm*z, mm*z1
		t.mmZ += mmZ
		t.mmZZ += mmZ * z
		t.mmZ1 += mmZ1
		t.mmZZ1 += mmZ1 * z
		t.mmZ11 += mmZ1 * z1
	}
}

// sumTerms is for any noise, and for the attempts named alone where only is not nil.
func (f *Fitter) sumTerms(c0, c1, scale float64, only []bool, t *sums) {
	logScale := math.Log(scale)
	z1, z2 := f.still, f.still
	if len(f.free) == 1 {
		z1, z2 = f.z1[0], f.z2[0]
	}
	for i := range f.y {
		if only != nil && !only[i] {
			continue
		}
		z := f.z[i]
		l, _ := f.terms(i, c0+c1*z, scale, logScale)
		t.loss += l.Value
		t.m += l.M
		t.mZ += l.M * z
		t.mm += l.MM
		t.mmZ += l.MM * z
		t.mmZZ += l.MM * z * z
		t.s += l.S
		t.ss += l.SS
		t.ms += l.MS
		t.msZ += l.MS * z
		z1 := z1[i]
		t.mZ1 += l.M * z1
		t.mZ2 += l.M * z2[i]
		t.mmZ1 += l.MM * z1
		t.mmZZ1 += l.MM * z * z1
		t.mmZ11 += l.MM * z1 * z1
		t.msZ1 += l.MS * z1
	}
}

// surfaceOf puts gradient and Hessian together.
func (f *Fitter) surfaceOf(t *sums, q point, s *surface) {
	fm := &f.form
	_, c1 := fm.coefficients([2]float64{q[0], q[1]})
	n, last := fm.n, f.dim()-1
	s.loss = t.loss
	for j := range n {
		s.grad[j] = fm.b0[j]*t.m + fm.b1[j]*t.mZ
		for k := range j + 1 {
			s.hess[j][k] = fm.b0[j]*fm.b0[k]*t.mm + (fm.b0[j]*fm.b1[k]+fm.b1[j]*fm.b0[k])*t.mmZ + fm.b1[j]*fm.b1[k]*t.mmZZ
		}
	}
	if len(f.free) == 1 {
		s.grad[n] = c1 * t.mZ1
		s.hess[n][n] = c1*c1*t.mmZ11 + c1*t.mZ2
		for k := range n {
			s.hess[n][k] = c1*(fm.b0[k]*t.mmZ1+fm.b1[k]*t.mmZZ1) + fm.b1[k]*t.mZ1
		}
	}
	if !f.scaled {
		return
	}
	s.grad[last], s.hess[last][last] = t.s, t.ss
	for k := range n {
		s.hess[last][k] = fm.b0[k]*t.ms + fm.b1[k]*t.msZ
	}
	if len(f.free) == 1 {
		s.hess[last][n] = c1 * t.msZ1
	}
}

// descentAt adds the substitute for the Hessian, which is never negative, at the curve that
// sumsAt has just evaluated.
func (f *Fitter) descentAt(q point, s *surface) {
	nc, last := f.coefficients(), f.dim()-1
	c0, c1 := f.form.coefficients([2]float64{q[0], q[1]})
	scale := f.scaleOf(q)
	logScale := math.Log(scale)
	for i := range f.y {
		m, mt, _ := f.meanAt(q, c0, c1, i)
		l, curvature := f.terms(i, m, scale, logScale)
		for a := range nc {
			for b := range a + 1 {
				s.descent[a][b] += curvature * mt[a] * mt[b]
			}
		}
		if f.scaled {
			s.descent[last][last] += math.Abs(l.SS)
		}
	}
}
