package cohort

import (
	"math"

	"tyro/models"
)

// A local is the derivatives of the attempt at hand: mu of the curve value on the noise's
// additive scale, mm its second ones (lower triangle), in plateau, amplitude and the rest.
type local struct {
	c            float64 // amplitude
	slow, fading float64 // shift at a restart, and how fast it fades

	f           [1]falling
	scale       float64 // derivative of the link
	c2, c3      float64 // its second and third over the square and cube of the first
	qs, decayed float64 // fading so far, and what is left of the shift
	mu          vector
	mm          matrix
	q           vector // Σ W_ab ∂³/∂a∂b∂c, for order 3
}

// inTurn is pass attempt by attempt: where residuals carry over to the next, and for the third
// derivatives where there are restarts.
func (m *model) inTurn(r *record, eta *vector, p *place, order int, w *matrix, o *sum) bool {
	d := local{c: p.amplitude, slow: p.slow, fading: p.fading}
	curve := m.within
	var carry *filter
	if r.gap != nil {
		carry = &filter{memory: m.memoryAt(eta)}
		carry.left = carry.share
	}
	for j, z := range r.z {
		m.fall(d.f[:], r.t[j:j+1], p.shapes, order)
		mean := p.plateau + d.c*d.f[0].g
		d.scale = 1
		if m.link != plain {
			if !(mean > 0) {
				return false
			}
			d.scale, d.c2, d.c3 = m.link.slopes(mean)
			mean = m.link.to(mean)
		}
		d.qs, d.decayed = 0, 0
		if r.restart != nil && r.restart[j] > 0 {
			d.qs = d.fading * (r.restart[j] - 1)
			d.decayed = models.Exp(-d.qs)
			mean += d.slow * d.decayed
		}
		var l loss
		censored := r.cens != nil && r.cens[j]
		var s step
		if carry == nil {
			l = m.lossOf(z, mean, p, censored, order)
		} else {
			s = carry.next(r.gap[j], censored)
			dev := z - mean
			carry.dev *= s.decay
			fresh := dev - carry.dev
			carry.dev += s.gain * fresh
			sd := math.Sqrt(s.variance)
			l = gaussLoss(fresh, 0, p.spread+models.Log(s.variance)/2, p.inv/sd, censored)
		}
		o.v += l.v
		if order == 0 {
			continue
		}
		d.first()
		if order > 1 {
			d.second()
		}
		if order == 3 && !m.expected {
			d.q = d.curveTwist(w)
			if d.c2 != 0 {
				d.throughLink(w, &d.q)
			}
		}
		if carry != nil {
			carry.through(s, &d, curve, order)
		}
		for _, a := range curve {
			o.grad[a] += l.M * d.mu[a]
		}
		o.grad[slotSpread] += l.S
		if order == 1 {
			continue
		}
		o.bendOne(&d, &l, curve)
		o.hess[slotSpread][slotSpread] += l.SS
		if m.gauss && !censored {
			o.descent[slotSpread][slotSpread] += 2 // the mean of 2e²
		}
		if order == 3 {
			o.twistOne(&d, &l, curve, w, m.expected)
		}
	}
	if carry != nil {
		o.carried, o.left = carry.dev, carry.left
	}
	return true
}

// first fills the first derivatives of the curve value.
func (d *local) first() {
	f := &d.f[0]
	d.mu[slotPlateau], d.mu[slotGain] = d.scale, f.g*d.scale
	d.mu[slotShape], d.mu[slotShape+1] = d.c*f.d1[0]*d.scale, d.c*f.d1[1]*d.scale
	d.mu[slotSession], d.mu[slotFading] = d.decayed, -d.slow*d.qs*d.decayed
}

// second fills the second derivatives of the curve value; the session effect is added after the
// link.
func (d *local) second() {
	f, mm := &d.f[0], &d.mm
	c := d.c * d.scale
	mm[0][0], mm[1][0], mm[1][1] = 0, 0, 0
	mm[2][0], mm[2][1], mm[2][2] = 0, d.scale*f.d1[0], c*f.d2[0]
	mm[3][0], mm[3][1], mm[3][2], mm[3][3] = 0, d.scale*f.d1[1], c*f.d2[1], c*f.d2[2]
	if d.c2 != 0 {
		for a := range slotSession {
			for e := range a + 1 {
				mm[a][e] += d.c2 * d.mu[a] * d.mu[e]
			}
		}
	}
	mm[slotFading][slotSession] = -d.qs * d.decayed
	mm[slotFading][slotFading] = d.slow * (d.qs - 1) * d.qs * d.decayed
}

// curveTwist is Σ W_ab ∂³mean/∂a∂b∂c for every slot c of the curve, before the
// link, and of the session effect.
func (d *local) curveTwist(w *matrix) (q vector) {
	f := &d.f[0]
	d2, d3 := &f.d2, &f.d3
	q[1] = w[2][2]*d2[0] + 2*w[2][3]*d2[1] + w[3][3]*d2[2]
	q[2] = 2*(w[1][2]*d2[0]+w[1][3]*d2[1]) + d.c*(w[2][2]*d3[0]+2*w[2][3]*d3[1]+w[3][3]*d3[2])
	q[3] = 2*(w[1][2]*d2[1]+w[1][3]*d2[2]) + d.c*(w[2][2]*d3[1]+2*w[2][3]*d3[2]+w[3][3]*d3[3])
	bend := (d.qs - 1) * d.qs * d.decayed
	q[slotSession] = w[slotFading][slotFading] * bend
	q[slotFading] = 2*w[slotSession][slotFading]*bend - w[slotFading][slotFading]*d.slow*(d.qs*d.qs-3*d.qs+1)*d.qs*d.decayed
	return q
}

// bendOne adds an attempt's second derivatives over the curve's slots, and those
// with the spread.
func (o *sum) bendOne(d *local, l *loss, curve []int) {
	curvature := math.Max(l.MM, 0)
	for i, a := range curve {
		ma := d.mu[a]
		o.hess[slotSpread][a] += l.MS * ma
		for _, e := range curve[:i+1] {
			x := ma * d.mu[e]
			o.hess[a][e] += l.MM*x + l.M*d.mm[a][e]
			o.descent[a][e] += curvature * x
		}
	}
}

// throughLink takes curveTwist through the link g: the third derivatives of
// g(m) from those of m and the lower ones of g(m).
func (d *local) throughLink(w *matrix, q *vector) {
	var t, ss float64
	var wm vector
	for a := range slotSession {
		for e := range slotSession {
			wm[a] += w[a][e] * d.mu[e]
			t += w[a][e] * at(&d.mm, a, e)
		}
		ss += wm[a] * d.mu[a]
	}
	for a := range slotSession {
		x := 0.0
		for e := range slotSession {
			x += wm[e] * at(&d.mm, a, e)
		}
		q[a] = q[a]*d.scale + d.c2*(t*d.mu[a]+2*x) + (d.c3-3*d.c2*d.c2)*ss*d.mu[a]
	}
}

// twistOne adds half the third derivatives of an attempt's loss contracted with W;
// with expected, half the derivatives of its expected curvature.
func (o *sum) twistOne(d *local, l *loss, curve []int, w *matrix, expected bool) {
	var t, ss, ws float64
	var wm vector
	for _, a := range curve {
		for _, e := range curve {
			wm[a] += w[a][e] * d.mu[e]
			t += w[a][e] * at(&d.mm, a, e)
		}
		ss += wm[a] * d.mu[a]
		ws += w[a][slotSpread] * d.mu[a]
	}
	if expected {
		if !(l.MM > 0) {
			return
		}
		for _, a := range curve {
			x := 0.0
			for _, e := range curve {
				x += wm[e] * at(&d.mm, a, e)
			}
			o.third[a] += 0.5 * (l.MMM*ss*d.mu[a] + 2*l.MM*x)
		}
		o.third[slotSpread] += 0.5 * l.MMS * ss
		return
	}
	w0 := w[slotSpread][slotSpread]
	for _, a := range curve {
		x, y := 0.0, 0.0
		for _, e := range curve {
			v := at(&d.mm, a, e)
			x += wm[e] * v
			y += w[e][slotSpread] * v
		}
		o.third[a] += 0.5 * (l.MMM*ss*d.mu[a] + l.MM*(t*d.mu[a]+2*x) + l.M*d.q[a] + 2*(l.MMS*ws*d.mu[a]+l.MS*y) + w0*l.MSS*d.mu[a])
	}
	o.third[slotSpread] += 0.5 * (l.MMS*ss + l.MS*t + 2*l.MSS*ws + w0*l.SSS)
}
