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

// A fall evaluates the falling part at clock times for shape parameters s (natural scale),
// with derivatives up to the given order.
type fall func(to []falling, t []float64, s models.Shapes, order int)

// A height is the fall alone.
type height func(to, t []float64, s models.Shapes)

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
		alone := func(to, t []float64, s models.Shapes) {
			for j, t := range t {
				to[j] = models.Exp(-s[0] * (t - t0))
			}
		}
		if scales[0] == Log {
			return func(to []falling, t []float64, s models.Shapes, _ int) { decaysOfLog(to, t, t0, s[0]) }, alone, nil
		}
		return func(to []falling, t []float64, s models.Shapes, _ int) { decays(to, t, t0, s[0]) }, alone, nil
	case len(f.Shape().Params()) == 0:
		h0 := 1.0
		if relative {
			h0 = f.Shape().At(t0, models.Shapes{})
		}
		alone := func(to, t []float64, s models.Shapes) {
			for j, t := range t {
				to[j] = f.Shape().At(t, s) / h0
			}
		}
		return func(to []falling, t []float64, s models.Shapes, _ int) {
			for j, t := range t {
				to[j] = falling{g: f.Shape().At(t, s) / h0}
			}
		}, alone, nil
	}
	alone := func(to, t []float64, s models.Shapes) {
		h0 := 1.0
		if relative {
			h0 = f.Shape().At(t0, s)
		}
		for j, t := range t {
			to[j] = f.Shape().At(t, s) / h0
		}
	}
	second := func(t float64, s models.Shapes) falling { return natural(f.Shape(), t, s) }
	if relative {
		second = func(t float64, s models.Shapes) falling {
			return quotient(natural(f.Shape(), t, s), natural(f.Shape(), t0, s))
		}
	}
	return func(to []falling, t []float64, s models.Shapes, order int) {
		for j, t := range t {
			to[j] = moved(second, t, s, scales, len(f.Shape().Params()), order)
		}
	}, alone, nil
}

// decaysOfLog are exp(−rate·(t − t0)) with derivatives in the log of the rate.
func decaysOfLog(to []falling, t []float64, t0, rate float64) {
	for j, t := range t {
		o := &to[j]
		q := rate * (t - t0)
		if q > 700 {
			*o = falling{}
			continue
		}
		o.g = models.Exp(-q)
		qg := q * o.g
		o.d1[0], o.d2[0], o.d3[0] = -qg, (q-1)*qg, -(q*q-3*q+1)*qg
	}
}

// decays are exp(−rate·(t − t0)) with derivatives in the rate.
func decays(to []falling, t []float64, t0, rate float64) {
	for j, t := range t {
		t -= t0
		g := models.Exp(-rate * t)
		o := &to[j]
		o.g, o.d1[0], o.d2[0], o.d3[0] = g, -t*g, t*t*g, -t*t*t*g
	}
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
// derivatives in the additive-scale curve value and the log spread.
type loss struct {
	v float64
	models.Slopes
}

const halfLog2Pi = 0.91893853320467274178

// gaussLosses are the losses of exact normal deviations on the additive scale: their sum, with
// derivatives in to where these are asked for.
func gaussLosses(to []models.Slopes, zs, mus []float64, s, inv float64, order int) float64 {
	i2 := inv * inv
	total := 0.0
	for j, z := range zs {
		e := (z - mus[j]) * inv
		ee := e * e
		total += ee
		if order > 0 {
			to[j] = models.Slopes{M: -e * inv, MM: i2, S: 1 - ee, SS: 2 * ee, MS: 2 * e * inv, MMS: -2 * i2, MSS: -4 * e * inv, SSS: -4 * ee}
		}
	}
	return total/2 + float64(len(zs))*(s+halfLog2Pi)
}

// gaussLoss is the loss of a normal deviation on the additive scale.
func gaussLoss(z, mu, s, inv float64, censored bool) (l loss) {
	e := (z - mu) * inv
	if !censored {
		ee, i2 := e*e, inv*inv
		return loss{ee/2 + s + halfLog2Pi, models.Slopes{M: -e * inv, MM: i2, S: 1 - ee, SS: 2 * ee, MS: 2 * e * inv, MMS: -2 * i2, MSS: -4 * e * inv, SSS: -4 * ee}}
	}
	// The noise gives −log upper tail with two derivatives in e (μ enters as
	// −e when the spread is 1); λ'' follows from λ' = λ(λ − e).
	t := models.Normal{}.Loss(e, 0, 1, true)
	d1, d2 := -t.M, t.MM
	return loss{t.Value, slopesOf(e, d1, d2, d2*(d1-e)+d1*(d2-1), inv)}
}

// slopesOf takes derivatives in a standard residual e = (y − μ)/σ to those in μ and log σ:
// e_μ = −1/σ and e_s = −e. inv is 1/σ.
func slopesOf(e, d1, d2, d3, inv float64) models.Slopes {
	i2 := inv * inv
	return models.Slopes{M: -d1 * inv, MM: d2 * i2, S: -d1 * e, SS: d2*e*e + d1*e, MS: (d2*e + d1) * inv,
		MMM: -d3 * i2 * inv, MMS: -(d3*e + 2*d2) * i2, MSS: -(d3*e*e + 3*d2*e + d1) * inv, SSS: -(d3*e*e*e + 3*d2*e*e + d1*e)}
}

// standardLoss is the loss of a residual on a scale.
func standardLoss(n models.LocationScale, y, mu, s, inv float64, censored bool) loss {
	e := (y - mu) * inv
	v, d1, d2, d3 := n.Standard(e, censored)
	o := loss{v, slopesOf(e, d1, d2, d3, inv)}
	if !censored {
		o.v += s
		o.S++
	}
	return o
}

// otherLoss is the loss of any noise of package models; third derivatives are
// central differences of its second ones.
func otherLoss(n models.Noise, y, mu, s float64, censored bool, order int) loss {
	at := func(mu, s float64) models.Loss { return n.Loss(y, mu, math.Exp(s), censored) }
	l := at(mu, s)
	o := loss{l.Value, models.Slopes{M: l.M, MM: l.MM, S: l.S, SS: l.SS, MS: l.MS}}
	if order < 3 {
		return o
	}
	if third, ok := n.(models.Thirder); ok {
		o.MMM, o.MMS, o.MSS, o.SSS = third.Third(y, mu, math.Exp(s))
		return o
	}
	const h = 1e-4
	step := h * math.Max(1, math.Abs(mu))
	u, d := at(mu+step, s), at(mu-step, s)
	o.MMM, o.MMS, o.MSS = (u.MM-d.MM)/(2*step), (u.MS-d.MS)/(2*step), (u.SS-d.SS)/(2*step)
	u, d = at(mu, s+h), at(mu, s-h)
	o.SSS = (u.SS - d.SS) / (2 * h)
	return o
}
