package survival

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"tyro/analysis"
)

// A Link ties the chance of having the event at an attempt, when not had
// before, to the covariates.
type Link string

// The links.
const (
	CLogLog Link = "cloglog" // proportional hazards in time that is grouped into attempts
	Logit   Link = "logit"   // proportional odds of the hazard
)

// A Baseline is how the hazard moves over attempts.
type Baseline string

// The baselines.
const (
	Free      Baseline = "free"       // its own value at every attempt with an event
	Flat      Baseline = "constant"   // the same at every attempt
	LogLinear Baseline = "log-linear" // on the link's scale, linear in the logarithm of the attempt
)

// DiscreteOptions choose a grouped hazard model; the zero value is the
// complementary log-log link over a free baseline, 95 %.
type DiscreteOptions struct {
	Link     Link
	Baseline Baseline
	Level    float64 // 0 means 0.95
}

// A Discrete is a fitted grouped hazard model.
type Discrete struct {
	Regression
	Link     Link
	Baseline Baseline

	attempts []float64 // 1 to the last seen
	alpha    []float64 // link of the hazard by attempt, at covariates 0; ±Inf where the hazard is 0 or 1
}

// FitDiscrete fits hazards at whole attempts from 1: each attempt of each
// person until the event, or until last seen, is one observation of having the
// event or not. Prentice and Gloeckler (1978), Biometrics 34, 57-67; Allison
// (1982), Sociological Methodology 13, 61-98. x may be nil. Standard errors come
// from the expected information. With a free baseline an attempt at which
// nobody had the event has hazard 0, and one at which everybody at risk had it
// hazard 1; neither tells anything of the covariates.
func FitDiscrete(obs []Observation, x [][]float64, o DiscreteOptions) (Discrete, error) {
	var err error
	if o.Level, err = analysis.Level(o.Level); err != nil {
		return Discrete{}, err
	}
	if o.Link == "" {
		o.Link = CLogLog
	}
	if o.Baseline == "" {
		o.Baseline = Free
	}
	out := Discrete{Link: o.Link, Baseline: o.Baseline}
	if !slices.Contains([]Link{CLogLog, Logit}, o.Link) {
		return out, fmt.Errorf("link %q: expected cloglog or logit", o.Link)
	}
	if !slices.Contains([]Baseline{Free, Flat, LogLinear}, o.Baseline) {
		return out, fmt.Errorf("baseline %q: expected free, constant or log-linear", o.Baseline)
	}
	d, err := newDesign(x, len(obs))
	if err != nil {
		return out, err
	}
	last := 0.0
	for i, b := range obs {
		if !(b.Time >= 0) || b.Event && b.Time == 0 || b.Time != math.Trunc(b.Time) || b.Time > 1e6 {
			return out, fmt.Errorf("observation %d: attempt %v, expected a whole number, from 1 where it was met", i+1, b.Time)
		}
		last = math.Max(last, b.Time)
		if b.Event {
			out.Events++
		}
	}
	if out.N = len(obs); out.Events == 0 {
		return out, errors.New("nobody had the event")
	}
	for t := 1.0; t <= last; t++ {
		out.attempts = append(out.attempts, t)
	}
	g := newGrouped(obs, d, o, last)
	m, err := maximise(g.at(d.columns), g.start(d.columns))
	if err != nil {
		return out, err
	}
	null := m
	if d.columns > 0 {
		if null, err = maximise(g.at(0), g.start(0)); err != nil {
			return out, err
		}
		_, gradient, information := g.at(d.columns)(append(slices.Clone(null.beta), make([]float64, d.columns)...))
		out.Score = scoreTest(gradient, information)
		out.Score.DF = d.columns
		out.Score.P = chiSquareTest(out.Score.ChiSquare, d.columns).P
	}
	out.NullLikelihood = null.logLik
	out.finish(m, g.parts, d, o.Level)
	out.alpha = g.baseline(m.beta, d)
	return out, nil
}

// Hazard is the chance of having the event at an attempt, not having had it
// before, for someone with these covariates (nil: all 0); NaN beyond the last
// attempt seen, unless the baseline says how it goes on.
func (f Discrete) Hazard(attempt int, covariates []float64) float64 {
	if attempt < 1 || attempt > len(f.alpha) {
		return math.NaN()
	}
	η := f.alpha[attempt-1]
	for j, v := range covariates {
		if v != 0 {
			η += v * f.Coefficients[j].Estimate
		}
	}
	h, _ := f.Link.inverse(η)
	return h
}

// Survival is the chance of not having had the event by attempts 1, 2, … up to
// the last seen.
func (f Discrete) Survival(covariates []float64) []float64 {
	out, s := make([]float64, len(f.alpha)), 1.0
	for i := range out {
		s *= 1 - f.Hazard(i+1, covariates)
		out[i] = s
	}
	return out
}

// inverse is the hazard at η and its derivative.
func (l Link) inverse(η float64) (h, slope float64) {
	if l == Logit {
		h = 1 / (1 + math.Exp(-η))
		return h, h * (1 - h)
	}
	e := math.Exp(η)
	return -math.Expm1(-e), e * math.Exp(-e)
}

// of is the link of a hazard.
func (l Link) of(h float64) float64 {
	if l == Logit {
		return math.Log(h / (1 - h))
	}
	return math.Log(-math.Log1p(-h))
}

// A grouped is the data one row an attempt of a person, grouped by person.
type grouped struct {
	obs   []Observation
	d     design
	link  Link
	kind  Baseline
	parts int   // baseline parameters
	slot  []int // free baseline: parameter of each attempt; -1 where the hazard is 0, -2 where it is 1
	share float64
}

func newGrouped(obs []Observation, d design, o DiscreteOptions, last float64) *grouped {
	g := &grouped{obs: obs, d: d, link: o.Link, kind: o.Baseline}
	atRisk, events := make([]int, int(last)), make([]int, int(last))
	rows := 0
	for _, b := range obs {
		for t := range int(b.Time) {
			atRisk[t]++
			rows++
		}
		if b.Event {
			events[int(b.Time)-1]++
		}
	}
	total := 0
	for t := range atRisk {
		total += events[t]
		switch {
		case events[t] == 0:
			g.slot = append(g.slot, -1)
		case events[t] == atRisk[t]:
			g.slot = append(g.slot, -2)
		default:
			g.slot = append(g.slot, g.parts)
			g.parts++
		}
	}
	g.share = math.Min(math.Max(float64(total)/float64(rows), 1e-6), 1-1e-6)
	switch g.kind {
	case Flat:
		g.parts = 1
	case LogLinear:
		g.parts = 2
	}
	return g
}

// start has every hazard at the overall share.
func (g *grouped) start(covariates int) []float64 {
	out := make([]float64, g.parts+covariates)
	for j := range g.parts {
		out[j] = g.link.of(g.share)
	}
	if g.kind == LogLinear {
		out[1] = 0
	}
	return out
}

// terms are the baseline parameters that act at attempt t, with their factors.
func (g *grouped) terms(t int) (at []int, factor []float64) {
	switch g.kind {
	case Flat:
		return []int{0}, []float64{1}
	case LogLinear:
		return []int{0, 1}, []float64{1, math.Log(float64(t))}
	}
	if s := g.slot[t-1]; s >= 0 {
		return []int{s}, []float64{1}
	}
	return nil, nil
}

// at is the log-likelihood of baseline and the first covariates, with the
// expected information.
func (g *grouped) at(covariates int) objective {
	return func(beta []float64) (float64, []float64, *mat.SymDense) {
		k := g.parts + covariates
		logLik, gradient, information := 0.0, make([]float64, k), mat.NewSymDense(k, nil)
		for i, b := range g.obs {
			x := g.d.rows[i]
			η := 0.0
			for j := range covariates {
				η += x[j] * beta[g.parts+j]
			}
			for t := 1; t <= int(b.Time); t++ {
				at, factor := g.terms(t)
				if at == nil {
					continue
				}
				all := η
				for a, j := range at {
					all += factor[a] * beta[j]
				}
				for c := range covariates {
					at, factor = append(at, g.parts+c), append(factor, x[c])
				}
				h, slope := g.link.inverse(all)
				y := 0.0
				if b.Event && t == int(b.Time) {
					y = 1
					logLik += math.Log(h)
				} else if g.link == CLogLog {
					logLik -= math.Exp(all)
				} else {
					logLik += math.Log1p(-h)
				}
				if slope == 0 || h == 0 || h == 1 {
					continue
				}
				weight := slope / (h * (1 - h))
				for a, j := range at {
					gradient[j] += (y - h) * weight * factor[a]
					for b, l := range at[:a+1] {
						information.SetSym(j, l, information.At(j, l)+slope*weight*factor[a]*factor[b])
					}
				}
			}
		}
		return logLik, gradient, information
	}
}

// baseline moves the fitted baseline from the covariates' means to 0.
func (g *grouped) baseline(beta []float64, d design) []float64 {
	shift := 0.0
	for j := range d.columns {
		shift += d.mean[j] * beta[g.parts+j]
	}
	out := make([]float64, len(g.slot))
	for t := range out {
		at, factor := g.terms(t + 1)
		switch {
		case at != nil:
			for a, j := range at {
				out[t] += factor[a] * beta[j]
			}
			out[t] -= shift
		case g.slot[t] == -1:
			out[t] = math.Inf(-1)
		default:
			out[t] = math.Inf(1)
		}
	}
	return out
}
