package cohort

import (
	"math"
	"math/rand/v2"
	"slices"

	"tyro/models"
)

// A memory is what residuals carry over: a stationary part with the given
// share of their variance, correlated by rho per attempt, and a rest that is
// fresh at every attempt. The zero value carries nothing.
type memory struct {
	on         bool
	rho, share float64
}

// carried lists the model's quantities for it.
func (s Spec) carried() ([]part, error) {
	if s.Carry == CarryNone {
		return nil, nil
	}
	if _, gauss := models.NormalOn(s.Noise); !gauss {
		return nil, refuse("carryover needs normal, lognormal or reciprocal noise, not %s", s.Noise.Name())
	}
	switch s.Carry {
	case CarryWhole:
		return []part{{name: Carryover, slot: slotCarry, scale: Identity}}, nil
	case CarryPart:
		return []part{{name: Carryover, slot: slotCarry, scale: Identity}, {name: CarriedShare, slot: slotShare, scale: Identity}}, nil
	}
	return nil, refuse("carryover %q: known are whole and part", s.Carry)
}

// carryScale takes a correlation or share to the scale on which it is
// searched: Fisher's z for a correlation that may be negative, the logit
// otherwise.
func (s Spec) carryScale(slot int, v float64) float64 {
	if slot == slotCarry && s.Carry == CarryWhole {
		return math.Atanh(v)
	}
	return math.Log(v / (1 - v))
}

// carryNatural undoes carryScale.
func (s Spec) carryNatural(slot int, x float64) float64 {
	if slot == slotCarry && s.Carry == CarryWhole {
		return math.Tanh(x)
	}
	return 1 / (1 + math.Exp(-x))
}

// memoryAt reads the memory off a trainee's quantities.
func (m *model) memoryAt(e *vector) memory {
	switch m.spec.Carry {
	case CarryWhole:
		return memory{true, math.Tanh(e[slotCarry]), 1}
	case CarryPart:
		return memory{true, m.spec.carryNatural(slotCarry, e[slotCarry]), m.spec.carryNatural(slotShare, e[slotShare])}
	}
	return memory{}
}

// decay is the correlation of the carried part over a gap of attempts.
func (y memory) decay(gap float64) float64 {
	switch {
	case gap == 1:
		return y.rho
	case math.IsInf(gap, 1):
		return 0
	}
	return math.Pow(y.rho, gap)
}

// A filter turns responses and curve values, attempt by attempt, into what is
// new in each: the Kalman filter of the carried part (Kalman, 1960, Journal of
// Basic Engineering 82, 35-45). Everything it does is linear in response minus
// curve, so that derivatives of the curve pass through it like the curve. A
// censored attempt counts by its chance given those before it and tells
// nothing about the carried part after it.
type filter struct {
	memory
	left float64 // variance of the carried part given the attempts so far, in residual variances

	dev float64 // what is expected of the carried part of response minus curve
	mu  vector
	mm  matrix
	q   vector
}

// step is one attempt's use of the filter: how far the expectation decays since
// the attempt before, the gain of the update, and the variance of what is new.
type step struct{ decay, gain, variance float64 }

func (f *filter) next(gap float64, censored bool) step {
	a := f.decay(gap)
	ahead := a*a*f.left + (1-a*a)*f.share
	s := step{decay: a, variance: ahead + 1 - f.share}
	if !censored {
		s.gain = ahead / s.variance
	}
	f.left = ahead * (1 - s.gain)
	return s
}

// A filtered is what an attempt's loss needs of the filter beside response and curve: the
// same for all curves with one memory.
type filtered struct {
	step
	half, sd float64 // half the log of the variance of what is new, and its root
	left     float64 // see filter, after the attempt
}

// steps are the filter's at every attempt of a record.
func (y memory) steps(to []filtered, r *record) []filtered {
	f := filter{memory: y, left: y.share}
	for j, gap := range r.gap {
		s := f.next(gap, r.cens != nil && r.cens[j])
		to = append(to, filtered{s, models.Log(s.variance) / 2, math.Sqrt(s.variance), f.left})
	}
	return to
}

// lossInTurn is the loss alone of attempts that carry over, and what is carried at the end:
// what [model.inTurn] gives without derivatives.
func (m *model) lossInTurn(r *record, p *place, steps []filtered) (total, dev float64, ok bool) {
	d := m.desks.Get().(*desk)
	defer m.desks.Put(d)
	for from := 0; from < len(r.z); from += stretch {
		to := min(from+stretch, len(r.z))
		means, mus := d.means[:to-from], d.mus[:to-from]
		m.height(means, r.t[from:to], p.shapes)
		if !p.levels(mus, means, m.link) {
			return 0, 0, false
		}
		if r.restart != nil {
			p.shifted(mus, r.restart[from:to])
		}
		for j, mu := range mus {
			s := &steps[from+j]
			dev *= s.decay
			fresh := r.z[from+j] - mu - dev
			dev += s.gain * fresh
			if spread := p.spread + s.half; r.cens != nil && r.cens[from+j] {
				total += gaussLoss(fresh, 0, spread, p.inv/s.sd, true).v
			} else {
				e := fresh * (p.inv / s.sd)
				total += e*e/2 + spread + halfLog2Pi
			}
		}
	}
	return total, dev, true
}

// through takes the derivatives of the attempt at hand through the filter.
func (f *filter) through(s step, d *local, curve []int, order int) {
	fresh := func(expected, x *float64) {
		*expected *= s.decay
		*x -= *expected
		*expected += s.gain * *x
	}
	for i, a := range curve {
		fresh(&f.mu[a], &d.mu[a])
		if order >= 2 {
			for _, e := range curve[:i+1] {
				fresh(&f.mm[a][e], &d.mm[a][e])
			}
		}
		if order == 3 {
			fresh(&f.q[a], &d.q[a])
		}
	}
}

// gaps are the attempts since the one before in a sorted series; +Inf where
// nothing is carried over: at the first attempt and after a break.
func gaps(attempt, restart []float64, across bool) []float64 {
	out := make([]float64, len(attempt))
	for j := range attempt {
		out[j] = math.Inf(1)
		if j > 0 && (across || restart == nil || restart[j] != 1) {
			out[j] = attempt[j] - attempt[j-1]
		}
	}
	return out
}

// sorted is the trainee with the attempts in order.
func (t Trainee) sorted() Trainee {
	if slices.IsSorted(t.Attempt) {
		return t
	}
	order := make([]int, len(t.Attempt))
	for j := range order {
		order[j] = j
	}
	slices.SortStableFunc(order, func(a, b int) int {
		switch {
		case t.Attempt[a] < t.Attempt[b]:
			return -1
		case t.Attempt[a] > t.Attempt[b]:
			return 1
		}
		return 0
	})
	out := Trainee{ID: t.ID, Arm: t.Arm, Covariates: t.Covariates}
	for _, j := range order {
		out.Attempt, out.Response = append(out.Attempt, t.Attempt[j]), append(out.Response, t.Response[j])
		if t.Censored != nil {
			out.Censored = append(out.Censored, t.Censored[j])
		}
		if t.Restart != nil {
			out.Restart = append(out.Restart, t.Restart[j])
		}
	}
	return out
}

// differentiate fills the derivatives of a trainee's sum in the quantities of
// the memory, by central differences of the exact ones in the others: the
// gradient; for order 3 the second derivatives with every other slot, and half
// the derivative of the curvature contracted with W.
func (m *model) differentiate(r *record, eta *vector, order int, w *matrix, expected bool, o *sum) bool {
	const h = 1e-4
	var up, down sum
	for _, s := range m.extra {
		e := *eta
		e[s] = eta[s] + h
		ok := m.pass(r, &e, order-1, nil, &up)
		e[s] = eta[s] - h
		if !ok || !m.pass(r, &e, order-1, nil, &down) {
			return false
		}
		o.grad[s] = (up.v - down.v) / (2 * h)
		if order < 3 {
			continue
		}
		o.third[s] = 0
		for _, a := range m.active {
			o.hess[s][a] = (up.grad[a] - down.grad[a]) / (2 * h)
			for _, b := range m.active {
				u, d := at(&up.hess, a, b), at(&down.hess, a, b)
				if expected {
					u, d = at(&up.descent, a, b), at(&down.descent, a, b)
				}
				o.third[s] += 0.5 * w[a][b] * (u - d) / (2 * h)
			}
		}
	}
	return true
}

// A wander is what a trainee's residuals up to their last attempt say about
// the attempts after it.
type wander struct {
	memory
	last          float64 // attempt number
	carried, left float64 // expectation and, in residual variances, variance of the carried part there
	across        bool    // breaks between sessions do not end it
}

// unseen is what is known of the residuals of somebody without attempts: how they carry over, not
// what.
func (m *model) unseen(e *vector) wander {
	w := wander{memory: m.memoryAt(e), across: m.spec.CarryAcross}
	w.left = w.share
	return w
}

// kept is the correlation of the carried part at an attempt with that at the
// last one; 0 where a break, or nothing, lies between.
func (w wander) kept(attempt, restart float64) float64 {
	gap := attempt - w.last
	if !w.on || gap <= 0 || !w.across && restart > 0 && restart <= gap {
		return 0
	}
	return w.decay(gap)
}

func (w wander) shift(attempt, restart float64) float64 {
	return w.kept(attempt, restart) * w.carried
}

// shrink is the residual standard deviation at an attempt, in units of the one
// without knowledge of residuals.
func (w wander) shrink(attempt, restart float64) float64 {
	a := w.kept(attempt, restart)
	return math.Sqrt(1 - a*a*(w.share-w.left))
}

// Carries reports whether the draw's residuals carry over from attempt to attempt.
func (d *Draw) Carries() bool { return d.wander.on }

// Fresh is the spread of what is new in every attempt beside what is carried over.
func (d *Draw) Fresh() float64 { return d.Spread * math.Sqrt(math.Max(1-d.wander.share, 0)) }

// Carried draws what is carried over to attempt first and those after it, made without a break
// after the attempts that the draw knows of, on the scale on which noise is added. Given it the
// attempts are independent, each with the spread [Draw.Fresh] about [Draw.Shifted].
func (d *Draw) Carried(r *rand.Rand, first float64, to []float64) {
	w := d.wander
	x, a := w.carried+d.Spread*math.Sqrt(math.Max(w.left, 0))*r.NormFloat64(), w.decay(first-w.last)
	for i := range to {
		x = a*x + d.Spread*math.Sqrt(w.share*(1-a*a))*r.NormFloat64()
		to[i], a = x, w.rho
	}
}

// Shifted is the curve value m with what is carried over added to it on the scale of the noise.
func (d *Draw) Shifted(m, carried float64) float64 { return d.on.link.from(d.on.link.to(m) + carried) }

// carryEffect takes an estimate on its search scale to the natural one.
func (s Spec) carryEffect(p *part, e Effect) Effect {
	x := e.Estimate
	e.Estimate = s.carryNatural(p.slot, x)
	e.Lower, e.Upper = s.carryNatural(p.slot, e.Lower), s.carryNatural(p.slot, e.Upper)
	slope := e.Estimate * (1 - e.Estimate)
	if p.slot == slotCarry && s.Carry == CarryWhole {
		slope = 1 - e.Estimate*e.Estimate
	}
	e.SE *= slope
	return e
}
