package cohort

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"
)

// Whether a cohort's attempts show the level its curves end at. Between the first
// attempt and the last one that half of the trainees reached, the curve of the
// middle trainee makes the share 1 − h(last)/h(first) of its gain, and
//
//	bend = log(h(first)/h(last))
//
// is 0 for a curve that runs straight in its clock time: rate·(last − first) for an
// exponential, rate·log(last/first) for a power curve. It depends on the shape
// alone, not on plateau and gain, which run away together when the curve
// straightens. The plateau is not identified where, at the lower end of Wald's interval
// of the log of the bend, less than half of the gain falls within the attempts seen: the
// rest would be told by the family of curves, not by the trainees. A single series
// (analysis/fit) may also keep a plateau where the turn is shown. Here it may not:
// many trainees on a straight line show a slight turn by chance with a standard error
// that is small beside what lies ahead. The interval is the curvature of the cohort's
// likelihood, at no further fit. The rule is not applied to a plateau that
// is known to a residual standard deviation (a logit, or a log of a count, where there is
// none): a cohort that learns nothing has its level all the same. A plateau on the log
// scale is also not identified where its standard error there is [looseSE] or more, or
// unknown. The starting level of a logistic or Gompertz curve lies before all attempts;
// it is judged in the same way, by the odds h(first)/(1 − h(first)) of what was still
// to be gained at the first attempt.

// A verdict says which of a curve's levels cannot be told.
type verdict struct{ plateau, gain, start bool }

// A seen is where the attempts of the fit's trainees lay: see [Cohort.window], and the last of
// all; and which levels of the curve they do not show.
type seen struct {
	first, last, furthest float64
	open                  verdict
}

// A shown is how far a curve's shape is known at some place.
type shown struct{ value, se float64 } // of the log of a bend, or of log odds

// half reports whether at least half of the gain falls within the attempts at the
// lower end, z standard errors down.
func (s shown) half(z float64) bool {
	return math.Exp(s.value-z*s.se) >= math.Ln2
}

// even is the same of log odds: half of the gain still to come are odds of 1.
func (s shown) even(z float64) bool {
	return s.value-z*s.se >= 0
}

// window is the first attempt, and the last that half of the trainees reached.
func (c *Cohort) window() (first, last float64) {
	first = math.Inf(1)
	var lasts []float64
	for _, t := range c.trainees {
		first = math.Min(first, slices.Min(t.Attempt))
		lasts = append(lasts, slices.Max(t.Attempt))
	}
	slices.Sort(lasts)
	return first, lasts[len(lasts)/2]
}

// furthest is the last attempt of all trainees.
func (c *Cohort) furthest() float64 {
	last := math.Inf(-1)
	for _, t := range c.trainees {
		last = math.Max(last, slices.Max(t.Attempt))
	}
	return last
}

// shapeParts lists the parts that bend the curve.
func (m *model) shapeParts() []*part {
	var out []*part
	for i := range m.parts {
		if p := &m.parts[i]; p.slot == slotShape || p.slot == slotShape+1 {
			out = append(out, p)
		}
	}
	return out
}

// slope is a function of a trainee's quantities with its slopes in the shape's.
func (m *model) slope(e vector, of func(e *vector) float64) (value float64, by vector) {
	const h = 1e-5
	value = of(&e)
	for _, p := range m.shapeParts() {
		up, down := e, e
		up[p.slot] += h
		down[p.slot] -= h
		by[p.slot] = (of(&up) - of(&down)) / (2 * h)
	}
	return value, by
}

// bendOf is the log of the bend between two attempts.
func (m *model) bendOf(first, last float64) func(e *vector) float64 {
	sh := m.spec.Family.Shape()
	return func(e *vector) float64 {
		c := m.curve(e)
		b := math.Log(sh.At(sh.Clock(first), c.Shape) / sh.At(sh.Clock(last), c.Shape))
		return math.Log(math.Min(b, 700)) // all of the gain
	}
}

// oddsOf is the log odds of what is still to be gained at an attempt.
func (m *model) oddsOf(first float64) func(e *vector) float64 {
	sh := m.spec.Family.Shape()
	return func(e *vector) float64 {
		h := sh.At(sh.Clock(first), m.curve(e).Shape)
		return math.Log(h / (1 - h))
	}
}

// middleDesign is the mean of the trainees' rows of the design.
func (m *model) middleDesign() *record {
	r := &record{design: make([]float64, len(m.records[0].design))}
	for i := range m.records {
		for k, x := range m.records[i].design {
			r.design[k] += x / float64(len(m.records))
		}
	}
	return r
}

// ofMiddle is what is known of a function of the middle trainee's shape.
func (c *Cohort) ofMiddle(r *record, of func(e *vector) float64) shown {
	m := c.m
	value, by := m.slope(m.eta(r, c.theta), of)
	variance := 0.0
	for _, p := range m.shapeParts() {
		for _, q := range m.shapeParts() {
			if p.held || q.held {
				continue
			}
			for a, ca := range p.cols {
				for b, cb := range q.cols {
					variance += by[p.slot] * by[q.slot] * r.design[ca] * r.design[cb] * c.cov.At(p.at+a, q.at+b)
				}
			}
		}
	}
	return shown{value, math.Sqrt(variance)}
}

// ofMember is the same for a trainee, whose deviations have the spread that is left
// of them.
func (c *Cohort) ofMember(i int, e vector, l *matrix, of func(e *vector) float64) shown {
	m := c.m
	value, by := m.slope(e, of)
	var row vector
	for b := range m.random {
		for a := b; a < len(m.random); a++ {
			row[b] += l[a][b] * by[m.parts[m.random[a]].slot]
		}
	}
	forward(&c.modes[i].chol, len(m.random), &row)
	return shown{value, math.Sqrt(norm2(&row, len(m.random)))}
}

// sShaped reports whether the starting level of the curve lies before all attempts.
func (m *model) sShaped() bool { return math.IsInf(m.spec.Family.Origin(), -1) }

// free reports whether a slot's parameter is estimated.
func (m *model) free(slot int) *part {
	for i := range m.parts {
		if p := &m.parts[i]; p.slot == slot && !p.held {
			return p
		}
	}
	return nil
}

// judge says which levels of the cohort's curves are not identified.
func (c *Cohort) judge(first, last float64) (v verdict) {
	m := c.m
	if len(m.shapeParts()) == 0 || !m.spec.Family.HasGain() {
		return v
	}
	z := distuv.UnitNormal.Quantile((1 + c.Level) / 2)
	r := m.middleDesign()
	if p := m.free(slotPlateau); p != nil && m.spec.Family.HasPlateau() {
		loose := p.scale == Log && !(c.se(p.at) < looseSE)
		straight := !c.ofMiddle(r, m.bendOf(first, last)).half(z) && !c.near(r, last, z)
		v.plateau, v.gain = loose || straight, straight && m.kappa == 0
	}
	if p := m.free(slotGain); p != nil && m.sShaped() {
		v.start = p.scale == Log && !(c.se(p.at) < looseSE) || !c.ofMiddle(r, m.oddsOf(first)).even(z)
		v.gain = v.gain || v.start
	}
	return v
}

// near reports whether the plateau is known, and the last attempts lie at it, to
// the spread of single attempts.
func (c *Cohort) near(r *record, last, z float64) bool {
	m := c.m
	p := m.free(slotPlateau)
	e := m.eta(r, c.theta)
	curve := m.curve(&e)
	if m.link != plain && !(curve.Plateau > 0 && curve.At(last) > 0) {
		return false
	}
	here := m.link.to(curve.Plateau)
	slope := 1.0 // of the noise's scale in the parameter's
	if p.scale == Log {
		slope = curve.Plateau
	}
	if first, _, _ := m.link.slopes(curve.Plateau); m.link != plain {
		slope *= first
	}
	unit := 1.0
	if m.spec.Noise.Additive() {
		unit = m.spreadAt(&e)
	}
	return math.Abs(m.link.to(curve.At(last))-here)+z*slope*c.se(p.at) <= unit
}

// withhold takes back what is not identified among the fixed effects, and leaves
// the bound that the curve gives at the attempts seen.
func (c *Cohort) withhold() {
	first, last := c.window()
	v := c.judge(first, last)
	c.seen = seen{first, last, c.furthest(), v}
	e := c.m.eta(c.m.middleDesign(), c.theta)
	curve := c.m.curve(&e)
	for i := range c.Fixed {
		f := &c.Fixed[i]
		common := f.Covariate == "" && (f.Arm == "" || f.Arm == c.Arms[0])
		switch {
		case f.Held:
		case f.Parameter == "plateau" && v.plateau:
			f.none()
			if common {
				f.bound(curve.At(last), curve.Gain < 0)
			}
		case c.m.sShaped() && f.Parameter == Start && v.start:
			f.none()
			if common {
				f.bound(curve.At(first), curve.Gain > 0)
			}
		case f.Parameter == "gain" && v.gain:
			f.none()
		}
	}
	if v.plateau {
		c.warn("plateau-not-identified", fmt.Sprintf("plateau not identified: the trainees' %s curves are still changing at attempt %g, and these data do not show where they end", c.Family, last))
	}
	if v.start {
		c.warn("start-not-identified", fmt.Sprintf("starting level not identified: most of the %s curve's change lies before attempt %g, and these data do not show where it began", c.Family, first))
	}
	c.withholdMembers()
}

// none withholds an estimate.
func (e *Effect) none() {
	e.NotIdentified = true
	e.Estimate, e.SE, e.Lower, e.Upper = math.NaN(), math.NaN(), math.NaN(), math.NaN()
}

// bound gives a level that the parameter lies above, or below.
func (e *Effect) bound(level float64, above bool) {
	if e.Scale == Log {
		level = math.Log(level)
	}
	if above {
		e.Lower = level
	} else {
		e.Upper = level
	}
}

// withholdMembers does the same for every trainee. Their shapes rest on the cohort
// as well, so that they are judged over the same attempts as it.
func (c *Cohort) withholdMembers() {
	m, first, last := c.m, c.seen.first, c.seen.last
	z := distuv.UnitNormal.Quantile((1 + c.Level) / 2)
	l := m.factor(c.theta)
	for i := range c.Members {
		mem := &c.Members[i]
		v := c.seen.open
		if c.modes[i].ok && len(m.shapeParts()) > 0 && m.spec.Family.HasGain() {
			e := m.eta(&m.records[i], c.theta)
			m.addDeviation(&e, &l, &c.modes[i].v)
			if m.free(slotPlateau) != nil && m.spec.Family.HasPlateau() && !c.ofMember(i, e, &l, m.bendOf(first, last)).half(z) && !m.flat(&e, first, last) {
				v.plateau, v.gain = true, v.gain || m.kappa == 0
			}
			if m.free(slotGain) != nil && m.sShaped() && !c.ofMember(i, e, &l, m.oddsOf(first)).even(z) {
				v.start, v.gain = true, true
			}
		}
		mem.NotIdentified = make([]bool, len(c.Parameters))
		for k, name := range c.Parameters {
			held := !slices.ContainsFunc(m.parts, func(p part) bool { return p.name == name && !p.held })
			mem.NotIdentified[k] = !held && (name == "plateau" && v.plateau || name == "gain" && v.gain || name == Start && m.sShaped() && v.start)
			if mem.NotIdentified[k] {
				mem.Parameters[k] = math.NaN()
			}
		}
	}
}

// flat reports whether a trainee's curve changes over the attempts by less than the
// spread of single attempts (a logit, or the log of a count, where there is none).
func (m *model) flat(e *vector, first, last float64) bool {
	curve := m.curve(e)
	if !m.spec.Noise.Additive() {
		return math.Abs(curve.At(first)-curve.At(last)) < 1
	}
	if m.link != plain && !(curve.At(first) > 0 && curve.At(last) > 0) {
		return false
	}
	return math.Abs(m.link.to(curve.At(first))-m.link.to(curve.At(last))) < m.spreadAt(e)
}
