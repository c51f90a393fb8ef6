package cohort

import (
	"math"
	"slices"

	"tyro/models"
)

// A record is a trainee's attempts made ready: responses on the noise's
// additive scale, clock times, design row.
type record struct {
	z, t    []float64
	cens    []bool    // nil when none is
	restart []float64 // nil without sessions
	gap     []float64 // nil unless residuals are carried over
	design  []float64 // 1, arms after the first, covariates
	jac     float64   // Σ log Jacobian, to be added to a log-likelihood of z
}

// A model is a spec bound to a cohort: what every evaluation needs.
type model struct {
	spec    Spec
	arms    []string
	parts   []part
	random  []int // parts that differ between trainees, in order
	active  []int // slots of the curve, session effect and spread that are not held, in order
	extra   []int // slots of the memory that are not held
	moved   []int // both
	fall    fall
	height  height
	scales  vector // 1 where the slot moves on the log scale
	kappa   float64
	sign    float64 // of the gain on the log scale
	link    link
	gauss   bool
	on      *footing             // of every draw
	onScale models.LocationScale // the noise, where it is one and not normal; nil else
	nBeta   int
	pinned  map[int]float64 // places of theta held where a covariance has lost a rank
	full    bool            // covariance with correlations
	// expected puts the curvature that residuals of either sign leave on
	// average (Gauss and Newton) in the place of the exact one in the Laplace
	// determinant: less exact, but never near singular.
	expected bool
	records  []record
	nObs     int
}

// armsOf lists the arms in the order first seen.
func armsOf(ts []Trainee) []string {
	var out []string
	for _, t := range ts {
		if !slices.Contains(out, t.Arm) {
			out = append(out, t.Arm)
		}
	}
	return out
}

func newModel(spec Spec, arms []string, ts []Trainee) (*model, error) {
	m := &model{spec: spec, arms: arms, full: !spec.Uncorrelated, sign: 1}
	m.link, m.gauss = linkOf(spec.Noise)
	m.on = &footing{noise: spec.Noise, gauss: m.gauss, counts: models.IsCount(spec.Noise), link: m.link}
	if !m.gauss {
		m.onScale, _ = spec.Noise.(models.LocationScale)
	}
	var err error
	if m.parts, err = spec.parts(arms); err != nil {
		return nil, err
	}
	var scales [2]Scale
	for _, p := range m.parts {
		if p.slot == slotShape || p.slot == slotShape+1 {
			scales[p.slot-slotShape] = p.scale
		}
		if p.name == Start && p.slot == slotGain {
			m.kappa = 1
		}
	}
	if m.fall, m.height, err = newFall(spec.Family, m.kappa == 1, scales); err != nil {
		return nil, err
	}
	for _, t := range ts {
		r, err := m.record(t)
		if err != nil {
			return nil, err
		}
		m.records = append(m.records, r)
		m.nObs += len(r.z)
	}
	m.bind()
	return m, nil
}

// bind lays out theta for the parts.
func (m *model) bind() {
	m.random, m.active, m.extra, m.nBeta = nil, nil, nil, 0
	for i := range m.parts {
		p := &m.parts[i]
		if p.scale == Log {
			m.scales[p.slot] = 1
		}
		if p.held {
			continue
		}
		p.at = m.nBeta
		m.nBeta += len(p.cols)
		if p.slot > slotSpread {
			m.extra = append(m.extra, p.slot)
			continue
		}
		m.active = append(m.active, p.slot)
		if p.random {
			m.random = append(m.random, i)
		}
	}
	slices.Sort(m.active)
	m.moved = append(slices.Clone(m.active), m.extra...)
}

// record checks one trainee's attempts.
func (m *model) record(t Trainee) (record, error) {
	n := len(t.Attempt)
	if len(t.Response) != n || t.Censored != nil && len(t.Censored) != n || t.Restart != nil && len(t.Restart) != n {
		return record{}, refuse("trainee %s: attempts, responses, censoring and restarts differ in number", t.ID)
	}
	if t.Covariates == nil && n == 0 {
		t.Covariates = make([]float64, len(m.spec.Covariates))
	}
	if len(t.Covariates) != len(m.spec.Covariates) {
		return record{}, refuse("trainee %s has %d covariates, the model %d", t.ID, len(t.Covariates), len(m.spec.Covariates))
	}
	if m.spec.Carry != CarryNone {
		t = t.sorted()
	}
	r := record{z: make([]float64, n), t: make([]float64, n), design: make([]float64, len(m.arms)+len(t.Covariates))}
	arm := slices.Index(m.arms, t.Arm)
	if arm < 0 {
		return record{}, refuse("trainee %s is in arm %q, which the cohort lacks", t.ID, t.Arm)
	}
	r.design[0] = 1
	if arm > 0 {
		r.design[arm] = 1
	}
	for k, v := range t.Covariates {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return record{}, refuse("trainee %s has no usable value of %s", t.ID, m.spec.Covariates[k].Name)
		}
		r.design[len(m.arms)+k] = v
	}
	if slices.Contains(t.Censored, true) {
		r.cens = t.Censored
	}
	if m.spec.Sessions {
		if t.Restart == nil {
			r.restart = make([]float64, n)
		} else {
			r.restart = t.Restart
		}
	}
	if m.spec.Carry != CarryNone {
		r.gap = gaps(t.Attempt, t.Restart, m.spec.CarryAcross)
	}
	sh := m.spec.Family.Shape()
	for j, y := range t.Response {
		if r.t[j] = sh.Clock(t.Attempt[j]); math.IsNaN(r.t[j]) || math.IsInf(r.t[j], 0) {
			return record{}, refuse("attempt %v of trainee %s is outside the domain of the %s curve", t.Attempt[j], t.ID, m.spec.Family.Name())
		}
		switch {
		case math.IsNaN(y) || math.Abs(y) > 1e150:
			return record{}, refuse("response %v of trainee %s at attempt %v is not a usable number", y, t.ID, t.Attempt[j])
		case m.link != plain && !(y > 1e-150):
			return record{}, refuse("response %v of trainee %s at attempt %v is not above 0, as %s noise needs", y, t.ID, t.Attempt[j], m.spec.Noise.Name())
		}
		r.z[j] = m.link.to(y)
		r.jac += m.spec.Noise.LogJacobian(y, r.cens != nil && r.cens[j])
	}
	return r, nil
}

// nSpread is the number of covariance parameters.
func (m *model) nSpread() int {
	k := len(m.random)
	if m.full {
		return k * (k + 1) / 2
	}
	return k
}

func (m *model) dim() int { return m.nBeta + m.nSpread() }

// eta is a trainee's quantities, each on its scale, without their own
// deviations.
func (m *model) eta(r *record, theta []float64) (e vector) {
	for i := range m.parts {
		p := &m.parts[i]
		v := p.value
		if !p.held {
			v = 0
			for k, c := range p.cols {
				v += theta[p.at+k] * r.design[c]
			}
		}
		e[p.slot] = v
	}
	return e
}

// factor is the lower triangular matrix L with u = L·v, v standard normal; row
// and column count over the random parts.
func (m *model) factor(theta []float64) (l matrix) {
	q := theta[m.nBeta:]
	at := 0
	for a := range m.random {
		if m.full {
			for b := range a {
				l[a][b] = q[at]
				at++
			}
		}
		l[a][a] = math.Exp(q[at])
		at++
	}
	return l
}

// diagonal is the place in theta of the log of L[a][a].
func (m *model) diagonal(a int) int {
	if m.full {
		return m.nBeta + a*(a+3)/2
	}
	return m.nBeta + a
}

// isDiagonal reports whether theta holds at j the log of some L[a][a].
func (m *model) isDiagonal(j int) bool {
	for a := range m.random {
		if m.diagonal(a) == j {
			return true
		}
	}
	return false
}

// addDeviation moves eta by u = L·v.
func (m *model) addDeviation(e *vector, l *matrix, v *vector) {
	for a, i := range m.random {
		u := 0.0
		for b := range a + 1 {
			u += l[a][b] * v[b]
		}
		e[m.parts[i].slot] += u
	}
}

// naturals are a quantity and its derivatives in the scale it moves on.
func naturals(x, isLog, sign float64) (v, d1, d2, d3 float64) {
	if isLog == 1 {
		e := sign * math.Exp(x)
		return e, e, e, e
	}
	return x, 1, 0, 0
}

// A sum is a trainee's loss with its gradient, Hessian and a Hessian without
// the parts that can be negative, over the slots.
type sum struct {
	v             float64
	grad          vector
	hess, descent matrix
	third         vector  // ½ Σ W_ab ∂³/∂a∂b∂c, for order 3
	carried, left float64 // what the last residual passes on: its expectation and, in residual variances, its variance
}

// A local is what one evaluation shares between attempts, and the derivatives
// of the attempt at hand: mu of the curve value on the noise's additive scale,
// mm its second ones (lower triangle).
type local struct {
	p0, p1, p2, p3 float64 // plateau with derivatives in its scale
	g0, g1, g2, g3 float64 // gain or start likewise
	kappa, c       float64 // amplitude c = gain − kappa·plateau
	slow, fading   float64 // shift at a restart, and how fast it fades

	f           falling
	b           float64 // 1 − kappa·fall
	scale       float64 // derivative of the link
	c2, c3      float64 // its second and third over the square and cube of the first
	qs, decayed float64 // fading so far, and what is left of the shift
	mu          vector
	mm          matrix
	q           vector // Σ W_ab ∂³/∂a∂b∂c, for order 3
}

// pass sums the losses of a trainee's attempts at eta, with derivatives up to
// the order. It reports false where the curve leaves the domain of the noise.
func (m *model) pass(r *record, eta *vector, order int, w *matrix, o *sum) bool {
	*o = sum{}
	d := local{kappa: m.kappa, slow: eta[slotSession], fading: math.Exp(eta[slotFading])}
	d.p0, d.p1, d.p2, d.p3 = naturals(eta[slotPlateau], m.scales[slotPlateau], 1)
	d.g0, d.g1, d.g2, d.g3 = naturals(eta[slotGain], m.scales[slotGain], m.sign)
	d.c = d.g0 - d.kappa*d.p0
	shapes := m.shapesAt(eta)
	curve, spreads := m.active, false
	if n := len(curve); n > 0 && curve[n-1] == slotSpread {
		curve, spreads = curve[:n-1], true
	}
	spread := eta[slotSpread]
	inv := math.Exp(-spread)
	var carry *filter
	if r.gap != nil {
		carry = &filter{memory: m.memoryAt(eta)}
		carry.left = carry.share
	}
	for j, z := range r.z {
		d.f = m.fall(r.t[j], shapes, order)
		mean := d.p0 + d.c*d.f.g
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
			d.decayed = math.Exp(-d.qs)
			mean += d.slow * d.decayed
		}
		var l loss
		censored := r.cens != nil && r.cens[j]
		var s step
		switch {
		case carry != nil:
			s = carry.next(r.gap[j], censored)
			dev := z - mean
			carry.dev *= s.decay
			fresh := dev - carry.dev
			carry.dev += s.gain * fresh
			sd := math.Sqrt(s.variance)
			l = gaussLoss(fresh, 0, spread+math.Log(sd), inv/sd, censored)
		case m.gauss:
			l = gaussLoss(z, mean, spread, inv, censored)
		case m.onScale != nil:
			l = standardLoss(m.onScale, z, mean, spread, inv, censored)
		default:
			l = otherLoss(m.spec.Noise, z, mean, spread, censored, order)
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
			o.grad[a] += l.m * d.mu[a]
		}
		if spreads {
			o.grad[slotSpread] += l.s
		}
		if order == 1 {
			continue
		}
		o.bend(&d, &l, curve)
		if spreads {
			o.hess[slotSpread][slotSpread] += l.ss
			if m.gauss && !censored {
				o.descent[slotSpread][slotSpread] += 2 // the mean of 2e²
			}
		}
		if order == 3 {
			o.twist(&d, &l, curve, w, m.expected)
		}
	}
	if carry != nil {
		o.carried, o.left = carry.dev, carry.left
	}
	return true
}

// lossAt is the loss of a trainee's attempts at eta alone; false where the curve leaves the
// domain of the noise. It is what pass gives at order 0, without what derivatives need.
func (m *model) lossAt(r *record, eta *vector) (float64, bool) {
	if r.gap != nil || r.restart != nil {
		var o sum
		ok := m.pass(r, eta, 0, nil, &o)
		return o.v, ok
	}
	p, _, _, _ := naturals(eta[slotPlateau], m.scales[slotPlateau], 1)
	g, _, _, _ := naturals(eta[slotGain], m.scales[slotGain], m.sign)
	c := g - m.kappa*p
	shapes := m.shapesAt(eta)
	spread := eta[slotSpread]
	inv := math.Exp(-spread)
	constant := spread + halfLog2Pi
	total := 0.0
	for j, z := range r.z {
		mean := p + c*m.height(r.t[j], shapes)
		if m.link != plain {
			if !(mean > 0) {
				return 0, false
			}
			mean = m.link.to(mean)
		}
		censored := r.cens != nil && r.cens[j]
		switch {
		case m.gauss && !censored:
			e := (z - mean) * inv
			total += e*e/2 + constant
		case m.gauss:
			total += gaussLoss(z, mean, spread, inv, censored).v
		case m.onScale != nil:
			l, _, _, _ := m.onScale.Standard((z-mean)*inv, censored)
			if total += l; !censored {
				total += spread
			}
		default:
			total += otherLoss(m.spec.Noise, z, mean, spread, censored, 0).v
		}
	}
	return total, true
}

// shapesAt are the shape parameters at eta, as they are.
func (m *model) shapesAt(eta *vector) (shapes models.Shapes) {
	for j := range shapes {
		shapes[j] = eta[slotShape+j]
		if m.scales[slotShape+j] == 1 {
			shapes[j] = math.Exp(shapes[j])
		}
	}
	return shapes
}

// first fills the first derivatives of the curve value.
func (d *local) first() {
	f := &d.f
	d.b = 1 - d.kappa*f.g
	d.mu[slotPlateau], d.mu[slotGain] = d.p1*d.b*d.scale, d.g1*f.g*d.scale
	d.mu[slotShape], d.mu[slotShape+1] = d.c*f.d1[0]*d.scale, d.c*f.d1[1]*d.scale
	d.mu[slotSession], d.mu[slotFading] = d.decayed, -d.slow*d.qs*d.decayed
}

// second fills the second derivatives of the curve value. Plateau and gain
// never meet in one term; the session effect is added after the link.
func (d *local) second() {
	f, mm := &d.f, &d.mm
	kp, g := -d.kappa*d.p1*d.scale, d.g1*d.scale
	c := d.c * d.scale
	mm[0][0], mm[1][0], mm[1][1] = d.p2*d.b*d.scale, 0, d.g2*f.g*d.scale
	mm[2][0], mm[2][1], mm[2][2] = kp*f.d1[0], g*f.d1[0], c*f.d2[0]
	mm[3][0], mm[3][1], mm[3][2], mm[3][3] = kp*f.d1[1], g*f.d1[1], c*f.d2[1], c*f.d2[2]
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

// bend adds an attempt's second derivatives over the curve's slots, and those
// with the spread.
func (o *sum) bend(d *local, l *loss, curve []int) {
	curvature := math.Max(l.mm, 0)
	for i, a := range curve {
		ma := d.mu[a]
		o.hess[slotSpread][a] += l.ms * ma
		for _, e := range curve[:i+1] {
			x := ma * d.mu[e]
			o.hess[a][e] += l.mm*x + l.m*d.mm[a][e]
			o.descent[a][e] += curvature * x
		}
	}
}

// curveTwist is Σ W_ab ∂³mean/∂a∂b∂c for every slot c of the curve, before the
// link, and of the session effect.
func (d *local) curveTwist(w *matrix) (q vector) {
	d1, d2, d3 := &d.f.d1, &d.f.d2, &d.f.d3
	shapes := w[2][2]*d2[0] + 2*w[2][3]*d2[1] + w[3][3]*d2[2]
	kp := d.kappa * d.p1
	q[0] = w[0][0]*d.p3*d.b - 2*d.kappa*d.p2*(w[0][2]*d1[0]+w[0][3]*d1[1]) - kp*shapes
	q[1] = w[1][1]*d.g3*d.f.g + 2*d.g2*(w[1][2]*d1[0]+w[1][3]*d1[1]) + d.g1*shapes
	own := w[1][1]*d.g2 - w[0][0]*d.kappa*d.p2
	x2, x3 := 2*(w[1][2]*d.g1-w[0][2]*kp), 2*(w[1][3]*d.g1-w[0][3]*kp)
	q[2] = own*d1[0] + x2*d2[0] + x3*d2[1] + d.c*(w[2][2]*d3[0]+2*w[2][3]*d3[1]+w[3][3]*d3[2])
	q[3] = own*d1[1] + x2*d2[1] + x3*d2[2] + d.c*(w[2][2]*d3[1]+2*w[2][3]*d3[2]+w[3][3]*d3[3])
	bend := (d.qs - 1) * d.qs * d.decayed
	q[slotSession] = w[slotFading][slotFading] * bend
	q[slotFading] = 2*w[slotSession][slotFading]*bend - w[slotFading][slotFading]*d.slow*(d.qs*d.qs-3*d.qs+1)*d.qs*d.decayed
	return q
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

// twist adds half the third derivatives of an attempt's loss contracted with W;
// with expected, half the derivatives of its expected curvature.
func (o *sum) twist(d *local, l *loss, curve []int, w *matrix, expected bool) {
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
		if !(l.mm > 0) {
			return
		}
		for _, a := range curve {
			x := 0.0
			for _, e := range curve {
				x += wm[e] * at(&d.mm, a, e)
			}
			o.third[a] += 0.5 * (l.mmm*ss*d.mu[a] + 2*l.mm*x)
		}
		o.third[slotSpread] += 0.5 * l.mms * ss
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
		o.third[a] += 0.5 * (l.mmm*ss*d.mu[a] + l.mm*(t*d.mu[a]+2*x) + l.m*d.q[a] + 2*(l.mms*ws*d.mu[a]+l.ms*y) + w0*l.mss*d.mu[a])
	}
	o.third[slotSpread] += 0.5 * (l.mms*ss + l.ms*t + 2*l.mss*ws + w0*l.sss)
}

// at reads a symmetric matrix whose lower triangle is filled.
func at(m *matrix, a, b int) float64 {
	if a < b {
		a, b = b, a
	}
	return m[a][b]
}
