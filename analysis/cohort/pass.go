package cohort

import (
	"math"
	"sync"

	"tyro/models"
)

// A sum is a trainee's loss with its gradient, Hessian and a Hessian without
// the parts that can be negative, over the slots.
type sum struct {
	v             float64
	grad          vector
	hess, descent matrix
	third         vector  // ½ Σ W_ab ∂³/∂a∂b∂c, for order 3
	carried, left float64 // what the last residual passes on: its expectation and, in residual variances, its variance
}

// A place is where a trainee's attempts are looked at: the quantities as they are.
type place struct {
	plateau, gain float64 // gain or start
	amplitude     float64 // gain − kappa·plateau
	shapes        models.Shapes
	slow, fading  float64 // shift at a restart, and how fast it fades
	spread        float64 // log of the scale
	scale, inv    float64 // the scale, and one over it
}

func (m *model) placeAt(eta *vector) place {
	p := place{plateau: eta[slotPlateau], gain: eta[slotGain], slow: eta[slotSession], spread: eta[slotSpread]}
	if m.scales[slotPlateau] == 1 {
		p.plateau = models.Exp(p.plateau)
	}
	if m.scales[slotGain] == 1 {
		p.gain = m.sign * models.Exp(p.gain)
	}
	p.amplitude = p.gain - m.kappa*p.plateau
	p.shapes = m.shapesAt(eta)
	if m.spec.Sessions {
		p.fading = models.Exp(eta[slotFading])
	}
	p.scale = models.Exp(p.spread)
	p.inv = 1 / p.scale
	return p
}

// shapesAt are the shape parameters at eta, as they are.
func (m *model) shapesAt(eta *vector) (shapes models.Shapes) {
	for j := range shapes {
		shapes[j] = eta[slotShape+j]
		if m.scales[slotShape+j] == 1 {
			shapes[j] = models.Exp(shapes[j])
		}
	}
	return shapes
}

// stretch is how many attempts are worked on at a time.
const stretch = 16

// A desk is where a stretch of attempts is worked on: what falls, the derivatives of their
// losses, their curve values before and after the link, and the curvature that residuals leave
// on average.
type desk struct {
	falls      [stretch]falling
	slopes     [stretch]models.Slopes
	means, mus [stretch]float64
	curved     [stretch]float64
}

func newDesks() *sync.Pool { return &sync.Pool{New: func() any { return new(desk) }} }

// pass sums the losses of a trainee's attempts at eta, with derivatives up to
// the order. It reports false where the curve leaves the domain of the noise.
//
// Within the sum the curve is plateau + amplitude·fall, whose derivatives in these two are 1
// and the fall: toScales takes the derivatives of the sum to the slots' own scales.
func (m *model) pass(r *record, eta *vector, order int, w *matrix, o *sum) bool {
	*o = sum{}
	p := m.placeAt(eta)
	var inner matrix
	if order == 3 {
		inner = m.weightsWithin(w, &p)
	}
	ok := false
	switch {
	case order == 0 && r.gap == nil:
		o.v, ok = m.lossAt(r, &p)
		return ok
	case r.gap == nil && (r.restart == nil || order < 3):
		ok = m.independent(r, &p, order, &inner, o)
	default:
		ok = m.inTurn(r, eta, &p, order, &inner, o)
	}
	if ok && order > 0 {
		m.toScales(&p, order, w, o)
	}
	return ok
}

// levels are the curve values on the noise's additive scale of attempts from the given one on,
// but for shifts at restarts, made from the fall; false where the curve leaves the domain of
// the noise. means are the curve values before the link.
func (p *place) levels(to, means []float64, l link) bool {
	if l == plain {
		for j, g := range means {
			means[j] = p.plateau + p.amplitude*g
			to[j] = means[j]
		}
		return true
	}
	for j, g := range means {
		mean := p.plateau + p.amplitude*g
		if !(mean > 0) {
			return false
		}
		means[j] = mean
	}
	if l == logarithm {
		for j, mean := range means {
			to[j] = models.Log(mean)
		}
		return true
	}
	for j, mean := range means {
		to[j] = l.to(mean)
	}
	return true
}

// shifted adds the shifts at restarts.
func (p *place) shifted(mus, restart []float64) {
	for j, at := range restart {
		if at > 0 {
			mus[j] += p.slow * models.Exp(-p.fading*(at-1))
		}
	}
}

// lossAt is the loss alone, of attempts that carry nothing over.
func (m *model) lossAt(r *record, p *place) (float64, bool) {
	d := m.desks.Get().(*desk)
	defer m.desks.Put(d)
	total := 0.0
	for from := 0; from < len(r.z); from += stretch {
		to := min(from+stretch, len(r.z))
		means, mus := d.means[:to-from], d.mus[:to-from]
		m.height(means, r.t[from:to], p.shapes)
		if !p.levels(mus, means, m.link) {
			return 0, false
		}
		if r.restart != nil {
			p.shifted(mus, r.restart[from:to])
		}
		total += m.losses(nil, r, from, mus, p, 0)
	}
	return total, true
}

// losses are those of the attempts from the given one on, at curve values on the noise's
// additive scale: their sum, with derivatives in to where these are asked for.
func (m *model) losses(to []models.Slopes, r *record, from int, mus []float64, p *place, order int) float64 {
	zs := r.z[from : from+len(mus)]
	switch {
	case r.cens == nil && m.gauss:
		return gaussLosses(to, zs, mus, p.spread, p.inv, order)
	case r.cens == nil && m.batch != nil:
		return m.batch.Losses(to, zs, mus, p.scale, order)
	}
	total := 0.0
	for j, z := range zs {
		l := m.lossOf(z, mus[j], p, r.cens != nil && r.cens[from+j], order)
		total += l.v
		if order > 0 {
			to[j] = l.Slopes
		}
	}
	return total
}

// lossOf is the loss of one attempt.
func (m *model) lossOf(z, mu float64, p *place, censored bool, order int) loss {
	switch {
	case m.gauss:
		return gaussLoss(z, mu, p.spread, p.inv, censored)
	case m.onScale != nil:
		return standardLoss(m.onScale, z, mu, p.spread, p.inv, censored)
	}
	return otherLoss(m.on.added, z, mu, p.spread, censored, order)
}

// independent is pass for attempts that carry nothing over; with restarts, up to order 2.
func (m *model) independent(r *record, p *place, order int, w *matrix, o *sum) bool {
	d := m.desks.Get().(*desk)
	defer m.desks.Put(d)
	for from := 0; from < len(r.z); from += stretch {
		to := min(from+stretch, len(r.z))
		n := to - from
		falls, slopes, means, mus, curved := d.falls[:n], d.slopes[:n], d.means[:n], d.mus[:n], d.curved[:n]
		m.fall(falls, r.t[from:to], p.shapes, order)
		for j := range falls {
			means[j] = falls[j].g
		}
		if !p.levels(mus, means, m.link) {
			return false
		}
		if r.restart != nil {
			p.shifted(mus, r.restart[from:to])
		}
		o.v += m.losses(slopes, r, from, mus, p, order)
		if r.restart != nil {
			o.bendRestarts(falls, slopes, means, r.restart[from:to], p, m.link)
		}
		m.throughLink(slopes, means, curved)
		if order == 1 {
			o.slope(falls, slopes, p, m.twoShapes)
			continue
		}
		o.bend(falls, slopes, curved, p, m.twoShapes)
		if order == 3 {
			o.twist(falls, slopes, curved, p, w, m.expected)
		}
	}
	if order > 1 && m.gauss {
		for j := range r.z {
			if r.cens == nil || !r.cens[j] {
				o.descent[slotSpread][slotSpread] += 2 // the mean of 2e²
			}
		}
	}
	return true
}

// throughLink takes derivatives in the curve value on the noise's additive scale to those in the
// curve value itself, and leaves in curved the second ones that residuals of either sign leave
// on average. With expected the third derivatives are of these.
func (m *model) throughLink(slopes []models.Slopes, means, curved []float64) {
	for j := range slopes {
		curved[j] = math.Max(slopes[j].MM, 0)
	}
	if m.link == plain {
		return
	}
	for j := range slopes {
		l := &slopes[j]
		s, c2, c3 := m.link.slopes(means[j])
		ss := s * s
		curved[j] *= ss
		if m.expected {
			l.MMM = (l.MMM + 2*l.MM*c2) * ss * s
			l.MMS *= ss
		} else {
			l.MMM = (l.MMM + 3*l.MM*c2 + l.M*c3) * ss * s
			l.MMS = (l.MMS + l.MS*c2) * ss
		}
		l.MM = (l.MM + l.M*c2) * ss
		l.M, l.MS, l.MSS = l.M*s, l.MS*s, l.MSS*s
	}
}

// slope adds the first derivatives of attempts.
func (o *sum) slope(falls []falling, slopes []models.Slopes, p *place, two bool) {
	var g0, g1, g2, g3, s float64
	for j := range slopes {
		f, l := &falls[j], &slopes[j]
		g0 += l.M
		g1 += l.M * f.g
		g2 += l.M * f.d1[0]
		s += l.S
		if two {
			g3 += l.M * f.d1[1]
		}
	}
	o.grad[slotPlateau] += g0
	o.grad[slotGain] += g1
	o.grad[slotShape] += g2 * p.amplitude
	o.grad[slotShape+1] += g3 * p.amplitude
	o.grad[slotSpread] += s
}

// bend adds the first and second derivatives of attempts. Within the curve the amplitude meets
// the shapes in d1, and the shapes each other in amplitude·d2.
func (o *sum) bend(falls []falling, slopes []models.Slopes, curved []float64, p *place, two bool) {
	c := p.amplitude
	var g0, g1, g2, x12, x22, h00, h10, h11, h20, h21, h22, d00, d10, d11, d20, d21, d22, s, ss, s0, s1, s2 float64
	for j := range slopes {
		f, l := &falls[j], &slopes[j]
		g, d := f.g, c*f.d1[0]
		g0 += l.M
		g1 += l.M * g
		g2 += l.M * d
		x12 += l.M * f.d1[0]
		x22 += l.M * f.d2[0]
		hg, hd := l.MM*g, l.MM*d
		h00 += l.MM
		h10 += hg
		h11 += hg * g
		h20 += hd
		h21 += hd * g
		h22 += hd * d
		bent := curved[j]
		dg, dd := bent*g, bent*d
		d00 += bent
		d10 += dg
		d11 += dg * g
		d20 += dd
		d21 += dd * g
		d22 += dd * d
		s += l.S
		ss += l.SS
		s0 += l.MS
		s1 += l.MS * g
		s2 += l.MS * d
	}
	o.grad[slotPlateau] += g0
	o.grad[slotGain] += g1
	o.grad[slotShape] += g2
	o.grad[slotSpread] += s
	h, e := &o.hess, &o.descent
	h[0][0] += h00
	h[1][0] += h10
	h[1][1] += h11
	h[2][0] += h20
	h[2][1] += h21 + x12
	h[2][2] += h22 + c*x22
	e[0][0] += d00
	e[1][0] += d10
	e[1][1] += d11
	e[2][0] += d20
	e[2][1] += d21
	e[2][2] += d22
	t := &h[slotSpread]
	t[0] += s0
	t[1] += s1
	t[2] += s2
	t[slotSpread] += ss
	if two {
		o.bendSecond(falls, slopes, curved, p)
	}
}

// bendSecond adds the derivatives in the second shape.
func (o *sum) bendSecond(falls []falling, slopes []models.Slopes, curved []float64, p *place) {
	const second = slotShape + 1
	c := p.amplitude
	h, e := &o.hess[second], &o.descent[second]
	for j := range slopes {
		f, l := &falls[j], &slopes[j]
		d := c * f.d1[1]
		for a, x := range [...]float64{1, f.g, c * f.d1[0], d} {
			h[a] += l.MM * d * x
			e[a] += curved[j] * d * x
		}
		h[1] += l.M * f.d1[1]
		h[2] += l.M * c * f.d2[1]
		h[3] += l.M * c * f.d2[2]
		o.grad[second] += l.M * d
		o.hess[slotSpread][second] += l.MS * d
	}
}

// bendRestarts adds the derivatives in the shift at restarts and in how fast it fades, which
// is added after the link: slopes are in the curve value on the noise's additive scale.
func (o *sum) bendRestarts(falls []falling, slopes []models.Slopes, means, restart []float64, p *place, link link) {
	h, e := &o.hess, &o.descent
	c := p.amplitude
	for j, since := range restart {
		if !(since > 0) {
			continue
		}
		f, l := &falls[j], &slopes[j]
		s, _, _ := link.slopes(means[j])
		qs := p.fading * (since - 1)
		left := models.Exp(-qs)
		x := [...]float64{s, s * f.g, s * c * f.d1[0], s * c * f.d1[1], left, -p.slow * qs * left}
		curved := math.Max(l.MM, 0)
		for a := slotSession; a <= slotFading; a++ {
			o.grad[a] += l.M * x[a]
			h[slotSpread][a] += l.MS * x[a]
			for b := range a + 1 {
				h[a][b] += l.MM * x[a] * x[b]
				e[a][b] += curved * x[a] * x[b]
			}
		}
		h[slotFading][slotSession] -= l.M * qs * left
		h[slotFading][slotFading] += l.M * p.slow * (qs - 1) * qs * left
	}
}

// twist adds half the third derivatives of the attempts' losses contracted with W; with
// expected, half the derivatives of their expected curvature. All are in the curve value itself.
func (o *sum) twist(falls []falling, slopes []models.Slopes, curved []float64, p *place, w *matrix, expected bool) {
	c := p.amplitude
	var t [4]float64
	var spread float64
	const sp = slotSpread
	for j := range slopes {
		f, l := &falls[j], &slopes[j]
		d1, d2, d3 := &f.d1, &f.d2, &f.d3
		x1, x2, x3 := f.g, c*d1[0], c*d1[1]
		w1x := w[1][0] + w[1][1]*x1 + w[1][2]*x2 + w[1][3]*x3
		w2x := w[2][0] + w[2][1]*x1 + w[2][2]*x2 + w[2][3]*x3
		w3x := w[3][0] + w[3][1]*x1 + w[3][2]*x2 + w[3][3]*x3
		xwx := w[0][0] + w[0][1]*x1 + w[0][2]*x2 + w[0][3]*x3 + w1x*x1 + w2x*x2 + w3x*x3
		// Σ_b (Wx)_b ∂²curve/∂b∂c, c the amplitude and the shapes.
		z1 := w2x*d1[0] + w3x*d1[1]
		z2 := w1x*d1[0] + c*(w2x*d2[0]+w3x*d2[1])
		z3 := w1x*d1[1] + c*(w2x*d2[1]+w3x*d2[2])
		if expected {
			if curved[j] > 0 {
				k, b := 0.5*l.MMM*xwx, curved[j]
				t[0] += k
				t[1] += k*x1 + b*z1
				t[2] += k*x2 + b*z2
				t[3] += k*x3 + b*z3
				spread += 0.5 * l.MMS * xwx
			}
			continue
		}
		// Σ W_ab ∂²curve/∂a∂b, and Σ W_ab ∂³curve/∂a∂b∂c for c.
		shapes := w[2][2]*d2[0] + 2*w[2][3]*d2[1] + w[3][3]*d2[2]
		bent := 2*(w[1][2]*d1[0]+w[1][3]*d1[1]) + c*shapes
		q2 := 2*(w[1][2]*d2[0]+w[1][3]*d2[1]) + c*(w[2][2]*d3[0]+2*w[2][3]*d3[1]+w[3][3]*d3[2])
		q3 := 2*(w[1][2]*d2[1]+w[1][3]*d2[2]) + c*(w[2][2]*d3[1]+2*w[2][3]*d3[2]+w[3][3]*d3[3])
		// The same with the spread for one of a and b.
		ws := w[0][sp] + w[1][sp]*x1 + w[2][sp]*x2 + w[3][sp]*x3
		y1 := w[2][sp]*d1[0] + w[3][sp]*d1[1]
		y2 := w[1][sp]*d1[0] + c*(w[2][sp]*d2[0]+w[3][sp]*d2[1])
		y3 := w[1][sp]*d1[1] + c*(w[2][sp]*d2[1]+w[3][sp]*d2[2])
		k := 0.5*(l.MMM*xwx+l.MM*bent+w[sp][sp]*l.MSS) + l.MMS*ws
		t[0] += k
		t[1] += k*x1 + l.MM*z1 + 0.5*l.M*shapes + l.MS*y1
		t[2] += k*x2 + l.MM*z2 + 0.5*l.M*q2 + l.MS*y2
		t[3] += k*x3 + l.MM*z3 + 0.5*l.M*q3 + l.MS*y3
		spread += 0.5*(l.MMS*xwx+l.MS*bent+w[sp][sp]*l.SSS) + l.MSS*ws
	}
	for a, v := range t {
		o.third[a] += v
	}
	o.third[sp] += spread
}
