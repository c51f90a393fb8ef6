package cohort

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
)

// A Status says how a fit, or a step of the ladder, ended. The zero value is
// not success.
type Status int

// The statuses.
const (
	NotRun        Status = iota
	OK                   // converged inside the region, information positive definite
	Boundary             // a spread between trainees, or a correlation, ran to its bound
	NotConverged         // the search did not settle
	NotIdentified        // the information is not positive definite
	Rough                // two-stage: no likelihood was maximised
)

// String is the stable name of the status.
func (s Status) String() string {
	return [...]string{"not-run", "ok", "boundary", "not-converged", "not-identified", "two-stage"}[s]
}

// The rungs of the ladder.
const (
	RungFull     = "full"
	RungReduced  = "full, at a correlation of ±1"
	RungDiagonal = "diagonal"
	RungFewer    = "fewer random effects"
	RungTwoStage = "two-stage"
)

// A Step is one rung that was tried.
type Step struct {
	Rung   string
	Random []string // what differed between trainees
	Status Status
	LogLik float64 // of the responses; NaN where none was reached
	Why    string  // why the step was not the last; blank for the one used
}

// A climb is a ladder in progress.
type climb struct {
	ctx    context.Context
	m      *model
	guess  guess
	steps  []Step
	none   []string // random effects dropped because trainees do not differ in them
	forgot bool     // what residuals carry over could not be told
}

// run goes down the ladder until a rung holds. The search for the full
// covariance begins at the diagonal optimum, with spreads that ran to nothing
// there put back: trainees may differ in a parameter only together with
// another.
func (c *climb) run() (*objective, optimum, string, error) {
	asked := len(c.m.random)
	theta := c.diagonalStart()
	for {
		c.layout(false)
		o, at, status, flat := c.maximise(theta)
		if why := c.nothingCarried(at, status); why != "" {
			c.step(RungDiagonal, status, at.value, why)
			theta = c.forget(at.theta)
			continue
		}
		rung := RungDiagonal
		switch {
		case len(c.m.random) < asked:
			rung = RungFewer
		case asked < 2: // nothing to correlate
			rung = RungFull
		}
		if !c.m.spec.Uncorrelated && len(c.m.random) > 1 && at.grad != nil {
			name := fullName(rung)
			fo, fat, fstatus, why := c.tryFull(at)
			if fstatus == Boundary {
				name = RungReduced
				free := c.m.nSpread() - len(c.m.pinned)
				if free -= len(c.m.random) - len(flat); !(at.value-fat.value > float64(free)) {
					fstatus, why = NotIdentified, "correlations ran to ±1, and AIC is not lower than without correlations"
				}
			}
			c.step(name, fstatus, fat.value, why)
			if fstatus == OK || fstatus == Boundary {
				return fo, fat, name, c.ctx.Err()
			}
			c.layout(false)
		}
		if err := c.ctx.Err(); err != nil {
			return nil, at, "", err
		}
		if status == OK {
			c.step(rung, OK, at.value, "")
			return o, at, rung, nil
		}
		drop := flat
		if len(drop) == 0 {
			c.step(rung, status, at.value, "the search did not settle")
			if len(c.m.random) < 2 {
				return nil, at, RungTwoStage, nil
			}
			drop = []int{c.weakest(at)}
		} else {
			c.step(rung, status, at.value, "how much trainees differ in "+strings.Join(c.names(drop), " and ")+" cannot be told from noise")
			c.none = append(c.none, c.names(drop)...)
		}
		theta = c.without(at.theta, drop)
	}
}

func fullName(rung string) string {
	if rung == RungDiagonal {
		return RungFull
	}
	return rung
}

func (c *climb) names(parts []int) []string {
	var out []string
	for _, i := range parts {
		out = append(out, c.m.parts[i].name)
	}
	return out
}

func (c *climb) step(rung string, s Status, nll float64, why string) {
	jac := 0.0
	for _, r := range c.m.records {
		jac += r.jac
	}
	ll := -nll + jac
	if math.IsInf(ll, 0) {
		ll = math.NaN()
	}
	c.steps = append(c.steps, Step{Rung: rung, Random: c.names(c.m.random), Status: s, LogLik: ll, Why: why})
}

func (c *climb) layout(full bool) {
	c.m.full, c.m.pinned = full, nil
	c.m.bind()
}

// diagonalStart is theta of the diagonal rung from the guess.
func (c *climb) diagonalStart() []float64 {
	c.layout(false)
	theta := append([]float64(nil), c.guess.beta...)
	for _, i := range c.m.random {
		theta = append(theta, math.Log(c.guess.typical[i]))
	}
	return theta
}

// maximise runs the search on the current layout. flat lists the parts whose
// spread ran to nothing.
func (c *climb) maximise(theta []float64) (*objective, optimum, Status, []int) {
	c.m.expected = false
	o, at, status, flat := c.maximiseAs(theta)
	if status == OK && c.trusted(o, at) || status == Boundary {
		return o, at, status, flat
	}
	c.m.expected = true
	return c.maximiseAs(theta)
}

// trusted reports whether the exact curvature and its expectation tell nearly
// the same likelihood. Where trainees' posteriors are far from normal the
// exact curvature can be near singular, and the likelihood overstated without
// bound.
func (c *climb) trusted(o *objective, at optimum) bool {
	saved := slices.Clone(o.modes)
	c.m.expected = true
	v := o.at(at.theta, nil)
	c.m.expected = false
	copy(o.modes, saved)
	return math.Abs(v-at.value) < 1+0.02*float64(len(c.m.records))
}

// maximiseAs is maximise with the curvature that is set.
func (c *climb) maximiseAs(theta []float64) (*objective, optimum, Status, []int) {
	theta = slices.Clone(theta)
	o := newObjective(c.ctx, c.m)
	b := c.m.region(c.guess)
	at := o.minimise(theta, b)
	if at.grad == nil { // nothing to stand on: try with trainees closer together
		for _, shrink := range []float64{1, 2.5} {
			for a := range c.m.random {
				theta[c.m.diagonal(a)] -= shrink
			}
			if at = o.minimise(theta, b); at.grad != nil {
				break
			}
		}
		if at.grad == nil {
			return o, at, NotConverged, nil
		}
	}
	if flat := c.flat(o, at); len(flat) > 0 {
		return o, at, Boundary, flat
	}
	if at.hess == nil {
		at.hess = o.startingCurvature()
	}
	if !o.refine(&at, b) {
		if flat := c.flat(o, at); len(flat) > 0 {
			return o, at, Boundary, flat
		}
		if _, gain := newtonStep(at.hess, at.grad, b.frozen(at.theta, at.grad)); gain == 0 {
			return o, at, NotIdentified, nil
		}
		return o, at, NotConverged, nil
	}
	if flat := c.flat(o, at); len(flat) > 0 {
		return o, at, Boundary, flat
	}
	return o, at, OK, nil
}

// flat lists the random parts whose spread can be taken to nothing at no cost
// in likelihood.
func (c *climb) flat(o *objective, at optimum) []int {
	var out []int
	floor := c.m.region(c.guess).lower
	saved := slices.Clone(o.modes)
	for a, i := range c.m.random {
		j := c.m.diagonal(a)
		if at.theta[j] > math.Log(0.2*c.guess.typical[i]) {
			continue
		}
		x := slices.Clone(at.theta)
		x[j] = floor[j]
		if c.m.full {
			for b := range a {
				x[j-a+b] = 0
			}
		}
		if v := o.at(x, nil); v < at.value+1e-3 {
			out = append(out, i)
		}
		copy(o.modes, saved)
	}
	if len(out) > 0 {
		o.at(at.theta, make([]float64, len(at.theta)))
	}
	return out
}

// tryFull adds correlations, starting from the diagonal optimum.
func (c *climb) tryFull(diag optimum) (*objective, optimum, Status, string) {
	k := len(c.m.random)
	nBeta := c.m.nBeta
	theta := append([]float64(nil), diag.theta[:nBeta]...)
	for a := range k {
		for range a {
			theta = append(theta, 0)
		}
		theta = append(theta, math.Max(diag.theta[nBeta+a], math.Log(0.3*c.guess.typical[c.m.random[a]])))
	}
	c.layout(true)
	c.m.expected = false
	o, at, status, why := c.fullAs(theta)
	if (status == OK || status == Boundary) && c.trusted(o, at) {
		return o, at, status, why
	}
	c.layout(true)
	c.m.expected = true
	return c.fullAs(theta)
}

// fullAs is tryFull with the curvature that is set.
func (c *climb) fullAs(theta []float64) (*objective, optimum, Status, string) {
	o := newObjective(c.ctx, c.m)
	b := c.m.region(c.guess)
	at := o.minimise(theta, b)
	if at.grad == nil || at.hess == nil {
		return o, at, NotConverged, "the search did not settle"
	}
	if c.pin(&at) {
		return c.onBoundary(at)
	}
	if !o.refine(&at, b) {
		return o, at, NotIdentified, "the information about the correlations is not positive definite"
	}
	if c.pin(&at) {
		return c.onBoundary(at)
	}
	return o, at, OK, ""
}

// onBoundary finishes the search where some deviations follow exactly from
// others: the covariance then has a lower rank, and its maximum lies on the
// boundary of what covariances can be.
func (c *climb) onBoundary(at optimum) (*objective, optimum, Status, string) {
	for range len(c.m.random) {
		o := newObjective(c.ctx, c.m)
		b := c.m.region(c.guess)
		next := o.minimise(at.theta, b)
		if next.grad == nil || next.hess == nil || next.value > at.value+0.01 {
			return o, next, NotConverged, "the search did not settle at a correlation of ±1"
		}
		if !o.refine(&next, b) {
			return o, next, NotIdentified, "the information about the correlations is not positive definite"
		}
		if !c.pin(&next) {
			return o, next, Boundary, ""
		}
		at = next
	}
	return nil, at, NotConverged, "the search did not settle at a correlation of ±1"
}

// nearExact is the share of a deviation's spread that must be its own for it
// not to count as an exact combination of others.
const nearExact = 0.02

// pin holds deviations that ran to an exact combination of those before them
// there, and reports whether it found another. What later deviations shared
// with the lost direction becomes their own.
func (c *climb) pin(at *optimum) bool {
	m := c.m
	l := m.factor(at.theta)
	found := false
	for a, i := range m.random {
		total := 0.0
		for b := range a + 1 {
			total += l[a][b] * l[a][b]
		}
		j := m.diagonal(a)
		if _, done := m.pinned[j]; done || a == 0 || l[a][a] >= nearExact*math.Sqrt(total) {
			continue
		}
		found = true
		if m.pinned == nil {
			m.pinned = map[int]float64{}
		}
		m.pinned[j] = math.Log(floorShare * c.guess.typical[i])
		at.theta[j] = m.pinned[j]
		for e := a + 1; e < len(m.random); e++ {
			k := m.diagonal(e) - e + a
			at.theta[m.diagonal(e)] = math.Log(math.Hypot(l[e][e], l[e][a]))
			m.pinned[k], at.theta[k] = 0, 0
		}
	}
	if found {
		at.value = newObjective(c.ctx, m).at(at.theta, nil)
	}
	return found
}

// exactWords says which deviations follow from which.
func (m *model) exactWords(theta []float64) []string {
	l := m.factor(theta)
	var out []string
	for a, i := range m.random {
		if _, ok := m.pinned[m.diagonal(a)]; !ok {
			continue
		}
		var of []int
		for b := range a {
			if _, lost := m.pinned[m.diagonal(b)]; !lost {
				of = append(of, b)
			}
		}
		name := m.parts[i].name
		if len(of) == 1 {
			how := "together"
			if l[a][of[0]] < 0 {
				how = "in opposite directions"
			}
			out = append(out, fmt.Sprintf("%s and %s move %s without exception", m.parts[m.random[of[0]]].name, name, how))
			continue
		}
		var names []string
		for _, b := range of {
			names = append(names, m.parts[m.random[b]].name)
		}
		out = append(out, fmt.Sprintf("%s follows without exception from %s", name, strings.Join(names, " and ")))
	}
	return out
}

// weakest is the random part with the smallest spread for its kind.
func (c *climb) weakest(at optimum) int {
	best, least := c.m.random[0], math.Inf(1)
	for a, i := range c.m.random {
		if v := at.theta[c.m.diagonal(a)] - math.Log(c.guess.typical[i]); v < least {
			best, least = i, v
		}
	}
	return best
}

// nothingCarried says why a fit should do without carryover; blank where it
// need not.
func (c *climb) nothingCarried(at optimum, status Status) string {
	switch {
	case len(c.m.extra) == 0:
		return ""
	case status != OK && status != Boundary:
		return "what residuals carry over cannot be told"
	case c.m.spec.Carry == CarryPart:
		for i := range c.m.parts {
			if p := &c.m.parts[i]; !p.held && p.slot > slotSpread && at.theta[p.at] < nothing {
				return "residuals carry nothing over beyond noise"
			}
		}
	}
	return ""
}

// nothing is the logit of a carryover or carried share (0.4 %) below which
// nothing is carried over.
const nothing = -5.5

// forget drops what residuals carry over from the model and from theta.
func (c *climb) forget(theta []float64) []float64 {
	m := c.m
	kept := m.nBeta - len(m.extra)
	out := append(slices.Clone(theta[:kept]), theta[m.nBeta:]...)
	m.parts = slices.DeleteFunc(m.parts, func(p part) bool { return p.slot > slotSpread })
	m.spec.Carry = CarryNone
	for i := range m.records {
		m.records[i].gap = nil
	}
	c.layout(m.full)
	c.forgot = true
	return out
}

// without drops random parts from the model and from theta.
func (c *climb) without(theta []float64, drop []int) []float64 {
	out := append([]float64(nil), theta[:c.m.nBeta]...)
	for a, i := range c.m.random {
		if slices.Contains(drop, i) {
			c.m.parts[i].random = false
		} else {
			out = append(out, theta[c.m.diagonal(a)])
		}
	}
	c.layout(false)
	return out
}
