// Package survival describes attempts (or time) to an event when not everybody
// reaches it: those who do not are right-censored at the last attempt seen,
// never dropped.
//
// # Method
//
// Product-limit estimate of Kaplan and Meier (1958) with Greenwood's variance;
// pointwise bands on several scales and quantile limits by inverting them
// (Brookmeyer and Crowley, 1982, Biometrics 38, 29-41); cumulative hazard of
// Nelson and Aalen; log-rank tests, stratified and weighted, with the
// hypergeometric variance. Formulas as in Klein and Moeschberger (2003),
// Survival Analysis, sections 4.2 to 4.5 and 7.3. With covariates: proportional
// hazards with three treatments of ties ([Cox]) and, since attempts are few and
// whole, hazards by attempt ([FitDiscrete]). Where assessments come every few
// attempts only: [IntervalCensored].
//
// # Conventions
//
// A quantile is the smallest time at which the estimate has fallen to 1 − p or
// below: for attempts, the attempt by which a share p has met the rule. At
// tied times events come before censorings.
package survival

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"tyro/analysis"
)

// An Observation is one person: the time of the event, or the last time seen
// without it.
type Observation struct {
	Time  float64
	Event bool
}

// A Band is the scale on which pointwise limits are symmetric.
type Band string

// The bands.
const (
	Linear  Band = "linear"
	Log     Band = "log"
	LogLog  Band = "log-log"
	Arcsine Band = "arcsine"
)

// A Step is the estimate from one distinct time on.
type Step struct {
	Time                       float64
	AtRisk, Events, Censored   int
	Survival, SE, Lower, Upper float64
}

// A Curve is a product-limit estimate.
type Curve struct {
	N, Events int
	Band      Band
	Level     float64
	Steps     []Step // at every distinct time, also those with censorings only
	Err       error  // what was wrong with the input; the curve then knows nothing
}

// KaplanMeier estimates the survival curve. A band "" means LogLog, a level 0
// means 0.95; an unknown band, a level outside of 0 to 1 or a time that is no
// number make a curve without steps, whose Err says why and whose numbers are NaN.
func KaplanMeier(obs []Observation, band Band, level float64) Curve {
	if band == "" {
		band = LogLog
	}
	c := Curve{N: len(obs), Band: band}
	if c.Level, c.Err = analysis.Level(level); c.Err == nil {
		c.Err = checkBand(band)
	}
	if c.Err == nil {
		c.Err = checkTimes(obs)
	}
	if c.Err != nil {
		return c
	}
	level = c.Level
	sorted := inOrder(obs)
	s, greenwood := 1.0, 0.0
	for i := 0; i < len(sorted); {
		st := Step{Time: sorted[i].Time, AtRisk: len(sorted) - i}
		for ; i < len(sorted) && sorted[i].Time == st.Time; i++ {
			if sorted[i].Event {
				st.Events++
			} else {
				st.Censored++
			}
		}
		n, d := float64(st.AtRisk), float64(st.Events)
		s *= 1 - d/n
		if d > 0 {
			greenwood += d / (n * (n - d))
		}
		c.Events += st.Events
		st.Survival, st.SE = s, s*math.Sqrt(greenwood)
		if s == 0 {
			st.SE = math.NaN()
		}
		st.Lower, st.Upper = limits(s, greenwood, band, level)
		c.Steps = append(c.Steps, st)
	}
	return c
}

func checkBand(band Band) error {
	switch band {
	case Linear, Log, LogLog, Arcsine:
		return nil
	}
	return fmt.Errorf("band %q: expected linear, log, log-log or arcsine", band)
}

// checkTimes reports times that cannot be put in order.
func checkTimes(obs []Observation) error {
	for i, o := range obs {
		if math.IsNaN(o.Time) {
			return fmt.Errorf("observation %d: its time is unknown", i+1)
		}
	}
	return nil
}

// limits are the pointwise limits for survival s whose relative variance is
// given; NaN where the estimate is 0, and 1 to 1 where it is 1.
func limits(s, relVar float64, band Band, level float64) (lower, upper float64) {
	if s == 1 {
		return 1, 1
	}
	if s == 0 {
		return math.NaN(), math.NaN()
	}
	z := distuv.UnitNormal.Quantile((1 + level) / 2)
	rel := math.Sqrt(relVar)
	switch band {
	case Linear:
		lower, upper = s-z*s*rel, s+z*s*rel
	case Log:
		lower, upper = s*math.Exp(-z*rel), s*math.Exp(z*rel)
	case Arcsine:
		at, half := math.Asin(math.Sqrt(s)), z/2*rel*math.Sqrt(s/(1-s))
		lower = square(math.Sin(math.Max(0, at-half)))
		upper = square(math.Sin(math.Min(math.Pi/2, at+half)))
	default:
		θ := math.Exp(z * rel / math.Log(s))
		lower, upper = math.Pow(s, 1/θ), math.Pow(s, θ)
		lower, upper = math.Min(lower, upper), math.Max(lower, upper)
	}
	return math.Max(lower, 0), math.Min(upper, 1)
}

func square(v float64) float64 { return v * v }

// At is the estimate at time t, 1 before the first step.
func (c Curve) At(t float64) float64 {
	if c.Err != nil {
		return math.NaN()
	}
	s := 1.0
	for _, st := range c.Steps {
		if st.Time > t {
			break
		}
		s = st.Survival
	}
	return s
}
