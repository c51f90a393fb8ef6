package fit

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"

	"tyro/analysis/resample"
	"tyro/models"
)

// A Method says how the intervals of a fit are made.
type Method string

// The interval methods.
const (
	Wald       Method = "wald"       // estimate ± t·SE, on the log scale for what is above 0
	ByProfile  Method = "profile"    // profile likelihood
	Percentile Method = "percentile" // expanded percentiles of the bootstrap
	Basic      Method = "basic"      // the bootstrap's quantiles reflected about the estimate
	BCa        Method = "bca"        // bias-corrected and accelerated bootstrap
	// Studentised bootstrap: quantiles of (replicate − estimate)/SE of the
	// replicate in the place of Student's t, on the log scale for what is above 0;
	// Efron and Tibshirani (1993), An Introduction to the Bootstrap, section 12.5.
	Studentised Method = "studentised"
)

// Methods lists the interval methods. Profile likelihood is the default: over
// short and long series, both curves and both noises it stays closest to the
// level it claims (testdata/coverage/curve).
func Methods() []Method { return []Method{ByProfile, Wald, Percentile, Basic, BCa, Studentised} }

// WithIntervals returns the chosen fit with its intervals made by the method. The
// sampling and purpose matter to the bootstrap methods only.
func WithIntervals(ctx context.Context, s Series, specs []Spec, choice Choice, method Method, sampling resample.Sampling, purpose string) (Fit, error) {
	f := choice.Fit
	f.Intervals = method
	if !f.Status.Usable() || f.DF <= 0 {
		return f, nil
	}
	switch method {
	case Wald:
		return f, nil
	case ByProfile:
		f.profileAll(s, specs[choice.Index])
		return f, nil
	case Percentile, Basic, BCa, Studentised:
		return f.bootstrapAll(ctx, s, specs[choice.Index], choice, sampling, purpose)
	}
	return f, fmt.Errorf("%w: no interval method %q", ErrSeries, method)
}

// profileAll replaces the intervals of parameters and of derived quantities.
func (f *Fit) profileAll(s Series, spec Spec) {
	params, derived := append([]Estimate(nil), f.Params...), append([]Estimate(nil), f.Derived...)
	for i, p := range params {
		params[i] = ProfileInterval(s, spec, *f, p.Name)
	}
	for i, d := range derived {
		switch d.Name {
		case startingLevel:
			derived[i] = f.profilePin(s, spec, d, pin{quantity: pinnedLevel, at: spec.Family.Origin(), other: f.Last})
		case levelAtLast:
			derived[i] = f.profilePin(s, spec, d, pin{quantity: pinnedLevel, at: f.Last, other: f.First})
		case changeAhead:
			derived[i] = f.profilePin(s, spec, d, pin{quantity: pinnedChange, at: f.Last, other: f.Last + Ahead})
		case perDoubling:
			derived[i] = f.profileDoubling(s, spec, d, params)
		case toNinety:
			derived[i] = f.fromRate(d, params)
		}
	}
	f.Params, f.Derived = params, derived
}

// profilePin is the profile interval of a quantity read off the curve; the one
// there is where the quantity cannot be held. A level is held on the scale of the
// curve; a change or share only where that is the scale of the response too.
func (f *Fit) profilePin(s Series, spec Spec, d Estimate, quantity pin) Estimate {
	quantity.value = 1
	probe := spec
	probe.pin = &quantity
	level := quantity.quantity == pinnedLevel
	if probe.checkPin() != nil || quantity.at == quantity.other || math.IsNaN(d.Value) || !level && !f.Noise.Additive() {
		return d
	}
	e := Estimate{Name: d.Name, Value: d.Value, SE: d.SE}
	if level {
		e = f.Delta("", false, func(c models.Curve) float64 { return c.At(quantity.at) })
	}
	iv := f.profileWith(newPinProfiler(s, spec, *f, quantity), e, level && spec.positive() || quantity.quantity == pinnedShare)
	if level {
		iv.Lower, iv.Upper = f.Noise.Mean(iv.Lower), f.Noise.Mean(iv.Upper)
	}
	d.Lower, d.Upper = iv.Lower, iv.Upper
	return d
}

// profileDoubling is the profile interval of the level per doubling of attempts;
// without a plateau it is 100·2^(−rate), and moves with the rate.
func (f *Fit) profileDoubling(s Series, spec Spec, d Estimate, params []Estimate) Estimate {
	if spec.Family.IsLogLog() {
		for _, p := range params {
			if p.Name == "rate" && f.Noise.Additive() {
				d.Lower, d.Upper = 100*math.Exp2(-p.Upper), 100*math.Exp2(-p.Lower)
			}
		}
		return d
	}
	share := d
	share.Value, share.SE = d.Value/100, d.SE/100
	share.Lower, share.Upper = d.Lower/100, d.Upper/100
	share = f.profilePin(s, spec, share, pin{quantity: pinnedShare, at: f.Last, other: f.Last / 2})
	d.Lower, d.Upper = 100*share.Lower, 100*share.Upper
	return d
}

// fromRate carries the interval of a rate over to the attempts to 90 % of the
// gain, which fall as the rate rises, where the rate is the only shape.
func (f *Fit) fromRate(d Estimate, params []Estimate) Estimate {
	if len(f.Curve.Family.Shape().Params()) != 1 {
		return d
	}
	at := func(rate float64) float64 {
		if rate == 0 {
			return math.Inf(1)
		}
		c := f.Curve
		c.Shape[0] = rate
		return c.ToShare(0.9)
	}
	for _, p := range params {
		if p.Name == "rate" && !math.IsNaN(p.Lower) {
			d.Lower, d.Upper = at(p.Upper), at(p.Lower)
		}
	}
	return d
}

// A quoted quantity is a parameter or derived quantity with the way to read it off
// a refit.
type quoted struct {
	estimate Estimate
	of       func(models.Curve) float64
	positive bool
}

// bootstrapAll replaces every interval by one from refits of the chosen family.
func (f Fit) bootstrapAll(ctx context.Context, s Series, spec Spec, choice Choice, sampling resample.Sampling, purpose string) (Fit, error) {
	var interval func(quoted) resample.Interval
	if f.Intervals == Studentised {
		fits, err := refits(ctx, s, spec, f, sampling, purpose)
		if err != nil {
			return f, err
		}
		interval = func(q quoted) resample.Interval { return f.studentised(q, fits) }
	} else {
		reps, err := Bootstrap(ctx, s, []Spec{spec}, choice, DefaultKind(s, f.Noise), sampling, purpose)
		if err != nil {
			return f, err
		}
		var jack []Fit
		if f.Intervals == BCa {
			jack = LeaveOneOut(s, spec)
		}
		interval = func(q quoted) resample.Interval { return f.fromReplicates(q, reps, jack) }
	}
	replace := func(e Estimate, of func(models.Curve) float64, positive bool) Estimate {
		if e.Held || math.IsNaN(e.Value) || of == nil {
			return e
		}
		iv := interval(quoted{e, of, positive})
		e.Lower, e.Upper = iv.Lower, iv.Upper
		return e
	}
	params, derived := append([]Estimate(nil), f.Params...), append([]Estimate(nil), f.Derived...)
	for i, p := range params {
		params[i] = replace(p, func(c models.Curve) float64 { return c.Theta()[i] }, spec.Family.Params()[i].Positive)
	}
	quantities := f.derivedQuantities()
	for i, d := range derived {
		derived[i] = replace(d, quantities[d.Name], d.Name == toNinety || d.Name == perDoubling)
	}
	f.Params, f.Derived = params, derived
	return f, nil
}

// fromReplicates is a percentile, basic or BCa interval.
func (f *Fit) fromReplicates(q quoted, reps []Replicate, jack []Fit) resample.Interval {
	values := make([]float64, len(reps))
	for i, r := range reps {
		values[i] = math.NaN()
		if r.OK {
			values[i] = q.of(r.Curve)
		}
	}
	switch f.Intervals {
	case Percentile:
		return resample.PercentileInterval(values, resample.ExpandedLevel(f.Level, float64(f.DF), 1))
	case Basic:
		return resample.BasicInterval(q.estimate.Value, values, f.Level)
	}
	left := make([]float64, len(jack))
	for i, g := range jack {
		left[i] = q.of(g.Curve)
	}
	return resample.BCaInterval(q.estimate.Value, resample.Acceleration(left), values, f.Level)
}

// studentised is the bootstrap-t interval. A refit without a standard error of the
// quantity says nothing and is passed over.
func (f *Fit) studentised(q quoted, fits []Fit) resample.Interval {
	scale := func(v, se float64) (float64, float64) { return v, se }
	back := func(v float64) float64 { return v }
	if q.positive && q.estimate.Value > 0 {
		scale = func(v, se float64) (float64, float64) { return math.Log(v), se / v }
		back = math.Exp
	}
	centre, spread := scale(q.estimate.Value, f.deltaSE(q.of))
	ratios := make([]float64, len(fits))
	for i := range fits {
		ratios[i] = math.NaN()
		if fits[i].Status.Usable() {
			v, se := scale(q.of(fits[i].Curve), fits[i].deltaSE(q.of))
			ratios[i] = (v - centre) / se
		}
	}
	iv := resample.PercentileInterval(ratios, f.Level)
	iv.Lower, iv.Upper = back(centre-spread*iv.Upper), back(centre-spread*iv.Lower)
	return iv
}

// refits are fits of resampled series with their standard errors.
func refits(ctx context.Context, s Series, spec Spec, base Fit, sampling resample.Sampling, purpose string) ([]Fit, error) {
	return resample.Replicate(ctx, sampling, "fit/studentised/"+purpose, func() func(*rand.Rand) Fit {
		w := newRefitter(s, []Spec{spec}, Choice{Fit: base}, DefaultKind(s, base.Noise))
		return func(r *rand.Rand) Fit {
			w.resample(r)
			drawn := w.series
			drawn.Response, drawn.Censored = w.y, w.cens
			if f, short := tooLittle(drawn, spec); short {
				return f
			}
			return w.fitters[0].bare(drawn, w.fitters[0].solve(w.y, w.censoring()))
		}
	})
}

// LeaveOneOut fits the series without each attempt in turn; attempts without
// which no curve can be fitted are passed over.
func LeaveOneOut(s Series, spec Spec) []Fit {
	var out []Fit
	for i := range s.Attempt {
		if f, err := One(s.without(i), spec); err == nil && f.Status.Usable() {
			out = append(out, f)
		}
	}
	return out
}
