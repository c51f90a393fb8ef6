package fit

import "math"

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
	Values []float64
	Roots  []float64 // (value − estimate)'s sign times √(scaled deviance)
	Limit  float64   // root at the ends of the interval: a t or normal quantile
}

// A profiler refits with one quantity held.
type profiler struct {
	series Series
	spec   Spec
	best   Fit
	hold   func(v float64) Spec
	limit  float64
	strict bool // a value at which no curve can be fitted is outside, rather than unbounded
}

// newProfiler prepares the profile of a parameter, or of "start".
func newProfiler(s Series, spec Spec, best Fit, name string) profiler {
	return profiler{series: s, spec: spec, best: best, limit: best.tQuantile(), hold: func(v float64) Spec {
		held := spec
		held.From, held.Hold = nil, append(append([]Hold(nil), spec.Hold...), Hold{name, v})
		return held
	}}
}

// newPinProfiler prepares the profile of a quantity read off the curve.
func newPinProfiler(s Series, spec Spec, best Fit, quantity pin) profiler {
	return profiler{series: s, spec: spec, best: best, limit: best.tQuantile(), strict: true, hold: func(v float64) Spec {
		held, p := spec, quantity
		p.value = v
		held.From, held.pin = nil, &p
		return held
	}}
}

// root is the signed root of the deviance with the quantity held at v; NaN when
// no curve can be fitted there.
func (p profiler) root(v, estimate float64) float64 {
	spec := p.hold(v)
	if spec.check(p.series) != nil {
		return math.NaN()
	}
	f := newFitter(spec, p.series)
	sol := f.solve(p.series.Response, p.series.Censored)
	if sol.by == nil {
		return math.NaN()
	}
	deviance := 0.0
	switch {
	case f.whitened: // the likelihood's, on the scale of the one below
		deviance = 2 * (p.best.LogLik - f.logLikelihood(sol)) * float64(p.best.DF) / float64(p.best.N)
	case f.squares:
		deviance = (2*sol.loss/p.best.RSS - 1) * float64(p.best.DF)
	default:
		deviance = 2 * (sol.loss - p.lossOfBest())
	}
	return math.Copysign(math.Sqrt(math.Max(deviance, 0)), v-estimate)
}

func (p profiler) lossOfBest() float64 {
	jacobian := 0.0
	for i, y := range p.series.Response {
		jacobian += p.spec.Noise.LogJacobian(y, p.series.Censored != nil && p.series.Censored[i])
	}
	return jacobian - p.best.LogLik
}

// end walks from the estimate in one direction until the root passes the limit,
// then closes in. Where it never does the end is open: infinite, or the bound.
func (p profiler) end(estimate, step, bound float64) float64 {
	inside, outside := estimate, math.NaN()
	for k := range 60 {
		v := inside + step*math.Pow(1.7, float64(k))
		if bounded := (v-bound)*step >= 0; bounded {
			v = bound
		}
		r := math.Abs(p.root(v, estimate))
		if r > p.limit || p.strict && math.IsNaN(r) {
			outside = v
			break
		}
		if math.IsNaN(r) || v == bound {
			return bound
		}
		inside = v
	}
	if math.IsNaN(outside) {
		return bound
	}
	for range 50 {
		mid := (inside + outside) / 2
		if r := math.Abs(p.root(mid, estimate)); r > p.limit || math.IsNaN(r) {
			outside = mid
		} else {
			inside = mid
		}
		if math.Abs(outside-inside) <= 1e-6*(math.Abs(estimate)+math.Abs(outside)) {
			break
		}
	}
	return (inside + outside) / 2
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

func (f *Fit) profileWith(p profiler, e Estimate, positive bool) Estimate {
	lowest := math.Inf(-1)
	if positive {
		lowest = 0
	}
	step := e.SE / 2
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
		if spec.Positive {
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
			positive := spec.Family.Params()[i].Positive || name == "plateau" && spec.Positive
			return p, positive
		}
	}
	for _, d := range f.Derived {
		if name == "start" && d.Name == "starting-level" {
			_, held := spec.held("start")
			d.Name, d.Held = name, held
			return d, spec.Positive
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
	out := Profile{Name: name, Limit: p.limit}
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
