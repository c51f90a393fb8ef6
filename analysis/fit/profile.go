package fit

import (
	"math"

	"tyro/analysis/internal/numeric"
)

// Profile likelihood: a parameter is held at a value, everything else is fitted
// anew, and the values at which the fit is not much worse than the best make the
// interval. It follows the likelihood's real shape, is open where the data do not
// bound the parameter, and does not change when the parameter is written another
// way. Venables and Ripley (2002), section 8.4; for least squares the limit is
// RSS ≤ RSSmin·(1 + t²/(n − p)), Bates and Watts (1988), section 6.1.

// A Profile is how much worse the fit gets as one parameter is moved: the signed
// root of the deviance, which for a parabola is a straight line.
type Profile struct {
	Name   string
	Best   float64 // the estimate
	Values []float64
	Roots  []float64 // (value − estimate)'s sign times √(scaled deviance)
	Limit  float64   // root at the ends of the interval: a t or normal quantile
}

// A profiler refits with one quantity held. It keeps its fitter from value to
// value.
type profiler struct {
	series Series
	spec   Spec
	best   Fit
	hold   func(v float64) Spec
	limit  float64
	strict bool // a value at which no curve can be fitted is outside, rather than unbounded

	fitter *Fitter
	found  solution // at the value looked at last
	inside solution // at the last value inside the interval
}

// newProfiler prepares the profile of a parameter, or of "start".
func newProfiler(s Series, spec Spec, best Fit, name string) *profiler {
	return &profiler{series: s, spec: spec, best: best, limit: best.tQuantile(), hold: func(v float64) Spec {
		held := spec
		held.From, held.Hold = nil, append(append([]Hold(nil), spec.Hold...), Hold{name, v})
		return held
	}}
}

// newPinProfiler prepares the profile of a quantity read off the curve.
func newPinProfiler(s Series, spec Spec, best Fit, quantity pin) *profiler {
	return &profiler{series: s, spec: spec, best: best, limit: best.tQuantile(), strict: true, hold: func(v float64) Spec {
		held, p := spec, quantity
		p.value = v
		held.From, held.pin = nil, &p
		return held
	}}
}

// prepare puts the value into the fitter; false where the quantity cannot have
// it.
func (p *profiler) prepare(v float64) bool {
	spec := p.hold(v)
	if spec.check(p.series) != nil {
		return false
	}
	if p.fitter == nil {
		p.fitter = newFitter(spec, p.series)
	} else {
		p.fitter.rehold(spec)
	}
	return true
}

// root is the signed root of the deviance with the quantity held at v, from a
// search over all curves; NaN when none can be fitted there.
func (p *profiler) root(v, estimate float64) float64 {

	if !p.prepare(v) {
		return math.NaN()
	}
	return p.signed(p.fitter.solve(p.series.Response, p.series.Censored), v, estimate)
}

// follow is root with the search begun from the curve at the last value inside the
// interval, and made in full where that leads nowhere.

func (p *profiler) follow(v, estimate float64) float64 {

	s := p.inside
	if !p.prepare(v) {
		return math.NaN()
	}
	f := p.fitter
	if s.by == nil || s.by != f && s.by != f.edge || f.whitened {
		return p.root(v, estimate)
	}
	var ok bool
	s.loss, ok = s.by.walk(&s.point, 1)
	if !ok || s.by == f && f.bounded && f.curveAt(s.point).Plateau < 0 {
		return p.root(v, estimate)
	}
	return p.signed(s, v, estimate)
}

func (p *profiler) signed(s solution, v, estimate float64) float64 {
	p.found = s
	if s.by == nil {
		return math.NaN()
	}
	f, deviance := p.fitter, 0.0
	switch {
	case f.whitened: // the likelihood's, on the scale of the one below
		deviance = 2 * (p.best.LogLik - f.logLikelihood(s)) * float64(p.best.DF) / float64(p.best.N)
	case f.squares:
		deviance = (2*s.loss/p.best.RSS - 1) * float64(p.best.DF)
	default:
		deviance = 2 * (s.loss - p.lossOfBest())
	}
	return math.Copysign(math.Sqrt(math.Max(deviance, 0)), v-estimate)
}

func (p *profiler) lossOfBest() float64 {
	jacobian := 0.0
	for i, y := range p.series.Response {
		jacobian += p.spec.Noise.LogJacobian(y, p.series.Censored != nil && p.series.Censored[i])
	}
	return jacobian - p.best.LogLik
}

// end walks from the estimate in one direction until the root passes the limit,
// then closes in. Where it never does the end is open: infinite, or the bound. The
// step is best where the end is expected.
func (p *profiler) end(estimate, step, bound float64) float64 {
	a := stretch{inside: estimate, short: math.Abs(p.root(estimate, estimate)) - p.limit, outside: math.NaN()}
	p.inside = p.found
	for k := range 60 {
		v := a.inside + step*math.Pow(1.7, float64(k))
		if (v-bound)*step >= 0 { // nearer to the bound, never past it
			v = bound + (a.inside-bound)/4
		}
		if !math.IsInf(bound, 0) && math.Abs(v-bound) <= 1e-9*math.Abs(estimate-bound) {
			return bound
		}
		r := math.Abs(p.root(v, estimate))
		if r > p.limit || p.strict && math.IsNaN(r) {
			a.outside, a.beyond = v, r-p.limit
			break
		}
		if math.IsNaN(r) {
			return bound
		}
		a.inside, a.short = v, r-p.limit
		p.inside = p.found
	}
	if math.IsNaN(a.outside) {
		return bound
	}
	v := p.close(a, estimate, p.follow)
	if r := math.Abs(p.root(v, estimate)); r < p.limit*(1-1e-6) {
		v = p.close(a, estimate, p.root) // a better curve lies aside of the path
	}
	return v
}

// A stretch holds an end: a value inside the interval and one outside, with the
// root less its limit at both.
type stretch struct{ inside, outside, short, beyond float64 }

// close finds where the root is at its limit. What lies outside may have no curve.
func (p *profiler) close(a stretch, estimate float64, root func(v, estimate float64) float64) float64 {
	beyond := func(v float64) float64 {
		short := math.Abs(root(v, estimate)) - p.limit
		if short <= 0 {
			p.inside = p.found
		}
		return short
	}
	at, _ := numeric.RootBetween(beyond, numeric.End{At: a.inside, Value: a.short}, numeric.End{At: a.outside, Value: a.beyond},
		numeric.Tolerance{X: 1e-9 * (math.Abs(estimate) + math.Abs(a.outside)), F: 1e-9 * p.limit})
	return at
}

// ProfileInterval is the profile likelihood interval of a parameter of the fit,
// or of "start". An end that the data do not bound is infinite, or 0 for what
// cannot be below it; of a plateau that is not identified it gives the one-sided
// bound. The fit must be usable.
func ProfileInterval(s Series, spec Spec, best Fit, name string) Estimate {
	e, positive := best.quantity(spec, name)
	switch {
	case e.Held || !best.Status.Usable() || best.DF <= 0:
		return e
	case name == "plateau" && !best.PlateauKnown:
		return best.plateauBound(s, spec, e)
	case math.IsNaN(e.Value):
		return e
	}
	return best.profileOf(s, spec, e, positive)
}

func (f *Fit) profileOf(s Series, spec Spec, e Estimate, positive bool) Estimate {
	return f.profileWith(newProfiler(s, spec, *f, e.Name), e, positive)
}

func (f *Fit) profileWith(p *profiler, e Estimate, positive bool) Estimate {
	lowest := math.Inf(-1)
	if positive {
		lowest = 0
	}
	step := e.SE * p.limit
	if !(step > 0) {
		step = 0.1*math.Abs(e.Value) + 1e-9
	}
	// Where a curve without a turn is not rejected, the plateau is open on the
	// side the curve is heading for.
	open := e.Name == "plateau" && !f.Turns
	e.Lower, e.Upper = lowest, math.Inf(1)
	if !(open && f.Curve.Gain > 0) {
		e.Lower = p.end(e.Value, -step, lowest)
	}
	if !(open && f.Curve.Gain < 0) {
		e.Upper = p.end(e.Value, step, math.Inf(1))
	}
	return e
}

// plateauBound is the side on which an unidentified plateau is still bounded: the
// value nearest to the attempts that the fit allows.
func (f *Fit) plateauBound(s Series, spec Spec, e Estimate) Estimate {
	p := newProfiler(s, spec, *f, "plateau")
	first, last := f.Curve.At(f.First), f.Curve.At(f.Last)
	far := last - 20*(first-last)
	if f.Curve.Gain > 0 {
		e.Lower = math.Inf(-1)
		if spec.positive() {
			e.Lower, far = 0, math.Max(far, 1e-6*last)
		}
		e.Upper = p.end(far, (last-far)/8, math.Inf(1))
		return e
	}
	e.Upper = math.Inf(1)
	e.Lower = p.end(far, (last-far)/8, math.Inf(-1))
	return e
}

// quantity is a parameter or the start as estimated, and whether it is bounded
// below by 0.
func (f *Fit) quantity(spec Spec, name string) (Estimate, bool) {
	for i, p := range f.Params {
		if p.Name == name {
			positive := spec.Family.Params()[i].Positive || name == "plateau" && spec.positive()
			return p, positive
		}
	}
	for _, d := range f.Derived {
		if name == "start" && d.Name == "starting-level" {
			_, held := spec.held("start")
			d.Name, d.Held = name, held
			return d, spec.positive()
		}
	}
	nan := math.NaN()
	return Estimate{name, nan, nan, nan, nan, false}, false
}

// ProfileCurve traces the profile over somewhat more than its interval, for a
// plot.
func ProfileCurve(s Series, spec Spec, best Fit, name string, points int) Profile {
	e := ProfileInterval(s, spec, best, name)
	p := newProfiler(s, spec, best, name)
	out := Profile{Name: name, Best: e.Value, Limit: p.limit}
	if math.IsNaN(e.Value) || e.Held {
		return out
	}
	reach := func(end, side float64) float64 {
		if math.IsInf(end, 0) || math.IsNaN(end) {
			return e.Value + side*4*math.Max(e.SE, 1e-9)
		}
		return e.Value + 1.3*(end-e.Value)
	}
	from, to := reach(e.Lower, -1), reach(e.Upper, 1)
	for i := range points {
		v := from + (to-from)*float64(i)/float64(points-1)
		if r := p.root(v, e.Value); !math.IsNaN(r) {
			out.Values, out.Roots = append(out.Values, v), append(out.Roots, r)
		}
	}
	return out
}
