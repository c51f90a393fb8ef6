package cohort

import (
	"math"

	"tyro/models"
)

// The slots of a trainee's quantities in every jet.
const (
	slotPlateau = iota
	slotGain    // or the starting level
	slotShape   // and the next
	_
	slotSession
	slotFading
	slotSpread
	slotCarry // correlation of the carried part of the residuals, see memory
	slotShare // and its share of their variance
	slots
)

type (
	vector [slots]float64
	matrix [slots][slots]float64
)

// A falling is the falling part of the curve on the scales on which its shape
// parameters move: value, first, second and third derivatives (order 0; 00,
// 01, 11; 000, 001, 011, 111).
type falling struct {
	g  float64
	d1 [2]float64
	d2 [3]float64
	d3 [4]float64
}

// A fall evaluates the falling part at clock time t for shape parameters s
// (natural scale), with derivatives up to the given order.
type fall func(t float64, s models.Shapes, order int) falling

// A height is the fall alone.
type height func(t float64, s models.Shapes) float64

// newFall picks the formulas for a family. With the starting level as a
// parameter the fall is taken relative to the family's origin, so that it is 1
// there; for the S-shaped curves the starting level is plateau + gain, before
// all practice.
func newFall(f models.Family, useStart bool, scales [2]Scale) (fall, height, error) {
	t0 := 0.0
	relative := false
	if useStart {
		if !f.StartsFarBack() {
			t0, relative = f.Shape().Clock(f.Origin()), true
		}
		if math.IsNaN(t0) || math.IsInf(t0, 0) {
			return nil, nil, refuse("the %s curve has no level at attempt %v for the starting level", f.Name(), f.Origin())
		}
	}
	switch {
	case models.IsDecay(f.Shape()):
		if !relative {
			t0 = 0
		}
		alone := func(t float64, s models.Shapes) float64 { return math.Exp(-s[0] * (t - t0)) }
		if scales[0] == Log {
			return func(t float64, s models.Shapes, order int) falling { return decayOfLog(t-t0, s[0], order) }, alone, nil
		}
		return func(t float64, s models.Shapes, order int) falling { return decay(t-t0, s[0]) }, alone, nil
	case len(f.Shape().Params()) == 0:
		h0 := 1.0
		if relative {
			h0 = f.Shape().At(t0, models.Shapes{})
		}
		alone := func(t float64, s models.Shapes) float64 { return f.Shape().At(t, s) / h0 }
		return func(t float64, s models.Shapes, _ int) falling { return falling{g: alone(t, s)} }, alone, nil
	}
	alone := f.Shape().At
	second := func(t float64, s models.Shapes) falling { return natural(f.Shape(), t, s) }
	if relative {
		alone = func(t float64, s models.Shapes) float64 { return f.Shape().At(t, s) / f.Shape().At(t0, s) }
		second = func(t float64, s models.Shapes) falling {
			return quotient(natural(f.Shape(), t, s), natural(f.Shape(), t0, s))
		}
	}
	return func(t float64, s models.Shapes, order int) falling {
		return moved(second, t, s, scales, len(f.Shape().Params()), order)
	}, alone, nil
}

// decayOfLog is exp(−rate·t) with derivatives in the log of the rate.
func decayOfLog(t, rate float64, order int) falling {
	q := rate * t
	var o falling
	if q > 700 {
		return o
	}
	o.g = math.Exp(-q)
	if order > 0 {
		qg := q * o.g
		o.d1[0], o.d2[0], o.d3[0] = -qg, (q-1)*qg, -(q*q-3*q+1)*qg
	}
	return o
}

// decay is exp(−rate·t) with derivatives in the rate.
func decay(t, rate float64) falling {
	g := math.Exp(-rate * t)
	return falling{g, [2]float64{-t * g}, [3]float64{t * t * g}, [4]float64{-t * t * t * g}}
}

func natural(sh models.Shape, t float64, s models.Shapes) falling {
	var o falling
	o.g, o.d1, o.d2 = sh.Derivs(t, s)
	return o
}

// quotient is a/b with first and second derivatives.
func quotient(a, b falling) falling {
	o := falling{g: a.g / b.g}
	for j := range 2 {
		o.d1[j] = (a.d1[j] - o.g*b.d1[j]) / b.g
	}
	for v, jk := range [3][2]int{{0, 0}, {0, 1}, {1, 1}} {
		j, k := jk[0], jk[1]
		o.d2[v] = (a.d2[v] - o.d1[j]*b.d1[k] - o.d1[k]*b.d1[j] - o.g*b.d2[v]) / b.g
	}
	return o
}

// moved takes a fall in natural parameters to the scales they move on. Third
// derivatives are central differences of the second ones.
func moved(second func(float64, models.Shapes) falling, t float64, s models.Shapes, scales [2]Scale, n, order int) falling {
	at := func(s models.Shapes) falling {
		o := second(t, s)
		for j := range n {
			if scales[j] == Log {
				v := s[j]
				o.d2[2*j] = v*v*o.d2[2*j] + v*o.d1[j]
				o.d2[1] *= v
				o.d1[j] *= v
			}
		}
		return o
	}
	o := at(s)
	if order < 3 {
		return o
	}
	const h = 1e-4
	for j := range n {
		up, down, step := s, s, h
		if scales[j] == Log {
			up[j] *= math.Exp(h)
			down[j] *= math.Exp(-h)
		} else {
			step = h * math.Max(1, math.Abs(s[j]))
			up[j] += step
			down[j] -= step
		}
		u, d := at(up), at(down)
		if j == 0 {
			for v := range 3 {
				o.d3[v] = (u.d2[v] - d.d2[v]) / (2 * step)
			}
		} else {
			o.d3[3] = (u.d2[2] - d.d2[2]) / (2 * step)
		}
	}
	return o
}

// A loss is one attempt's contribution to minus the log-likelihood with its
// derivatives in the additive-scale curve value m and the log spread s.
type loss struct{ v, m, mm, mmm, s, ss, sss, ms, mms, mss float64 }

const halfLog2Pi = 0.91893853320467274178

// gaussLoss is the loss of a normal deviation on the additive scale.
func gaussLoss(z, mu, s, inv float64, censored bool) loss {
	e := (z - mu) * inv
	if !censored {
		ee, i2 := e*e, inv*inv
		return loss{v: ee/2 + s + halfLog2Pi, m: -e * inv, mm: i2, s: 1 - ee, ss: 2 * ee, sss: -4 * ee,
			ms: 2 * e * inv, mms: -2 * i2, mss: -4 * e * inv}
	}
	// The noise gives −log upper tail with two derivatives in e (μ enters as
	// −e when the spread is 1); λ'' follows from λ' = λ(λ − e).
	t := models.Normal{}.Loss(e, 0, 1, true)
	l1, l2 := -t.M, t.MM
	l3 := l2*(l1-e) + l1*(l2-1)
	// e_μ = −1/σ, e_s = −e.
	return loss{v: t.Value, m: -l1 * inv, mm: l2 * inv * inv, mmm: -l3 * inv * inv * inv,
		s: -l1 * e, ss: l2*e*e + l1*e, sss: -(l3*e*e*e + 3*l2*e*e + l1*e),
		ms: (l2*e + l1) * inv, mms: -(l3*e + 2*l2) * inv * inv, mss: -(l3*e*e + 3*l2*e + l1) * inv}
}

// standardLoss is the loss of a residual on a scale: with e = (y − μ)/σ, e_μ = −1/σ and e_s = −e.
// inv is 1/σ.
func standardLoss(n models.LocationScale, y, mu, s, inv float64, censored bool) loss {
	e := (y - mu) * inv
	l, d1, d2, d3 := n.Standard(e, censored)
	o := loss{v: l, m: -d1 * inv, mm: d2 * inv * inv, mmm: -d3 * inv * inv * inv,
		s: -d1 * e, ss: d2*e*e + d1*e, sss: -(d3*e*e*e + 3*d2*e*e + d1*e),
		ms: (d2*e + d1) * inv, mms: -(d3*e + 2*d2) * inv * inv, mss: -(d3*e*e + 3*d2*e + d1) * inv}
	if !censored {
		o.v += s
		o.s++
	}
	return o
}

// otherLoss is the loss of any noise of package models; third derivatives are
// central differences of its second ones.
func otherLoss(n models.Noise, y, mu, s float64, censored bool, order int) loss {
	at := func(mu, s float64) models.Loss { return n.Loss(y, mu, math.Exp(s), censored) }
	l := at(mu, s)
	o := loss{v: l.Value, m: l.M, mm: l.MM, s: l.S, ss: l.SS, ms: l.MS}
	if order < 3 {
		return o
	}
	if third, ok := n.(models.Thirder); ok {
		o.mmm, o.mms, o.mss, o.sss = third.Third(y, mu, math.Exp(s))
		return o
	}
	const h = 1e-4
	step := h * math.Max(1, math.Abs(mu))
	u, d := at(mu+step, s), at(mu-step, s)
	o.mmm, o.mms, o.mss = (u.MM-d.MM)/(2*step), (u.MS-d.MS)/(2*step), (u.SS-d.SS)/(2*step)
	u, d = at(mu, s+h), at(mu, s-h)
	o.sss = (u.SS - d.SS) / (2 * h)
	return o
}
