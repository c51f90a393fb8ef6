package cohort

import (
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"tyro/analysis/fit"
	"tyro/models"
)

// A Trainee is one person's attempts at one task, in any order.
type Trainee struct {
	ID, Arm  string
	Attempt  []float64
	Response []float64
	Censored []bool // nil when none is; true where the response is only known to be above Response
	// Restart counts attempts since the session began, from 1, in every session
	// but the trainee's first, where it is 0. nil without sessions.
	Restart []float64
	// Covariates holds the trainee's value of each of Spec.Covariates. nil for a
	// trainee without attempts: all are 0.
	Covariates []float64
}

// A Covariate is a trainee's attribute that shifts parameters.
type Covariate struct {
	Name string
	On   []string // parameters it acts on
}

// Work is what a [Spec]'s Watch is told of.
type Work string

// The kinds of work.
const (
	Fitting    Work = "cohort"
	Projecting Work = "posterior"
)

// A Scale is the scale on which a parameter is normal over trainees.
type Scale string

// The scales.
const (
	Identity Scale = "identity"
	Log      Scale = "log"
)

// A Method is a way to take the integral over trainees.
type Method string

// The methods.
const (
	Laplace    Method = "laplace"
	Quadrature Method = "quadrature"
)

// A Carry says what a residual passes on to the next attempt's.
type Carry string

// The kinds. With CarryWhole residuals m attempts apart correlate as
// carryover^m (an autoregression of order 1); with CarryPart a share of their
// variance does, and the rest is fresh at every attempt: a level that wanders.
const (
	CarryNone  Carry = ""
	CarryWhole Carry = "whole"
	CarryPart  Carry = "part"
)

// The names of quantities beside the curve's parameters.
const (
	Start   = "start"   // starting level: the mean at the family's origin
	Spread  = "spread"  // residual standard deviation, always on the log scale
	Session = "session" // shift at the first attempt after a break, additive
	Fading  = "fading"  // rate at which the shift fades, per attempt, log scale

	Carryover    = "carryover"     // correlation of what residuals carry over to the next attempt
	CarriedShare = "carried-share" // share of the residual variance that is carried over
)

// A Spec says what to fit. The zero value of a field means its default.
type Spec struct {
	Family models.Family
	Noise  models.Noise
	// UseStart puts the starting level in the place of the gain.
	UseStart bool
	// Scale by parameter. Without an entry plateau, gain and start are on the
	// log scale with lognormal or reciprocal noise and on the identity scale otherwise; a
	// shape parameter that must be positive is on the log scale.
	Scale map[string]Scale
	// Random names the parameters that differ between trainees; nil means every
	// parameter of the curve. Spread and Session may be named too.
	Random       []string
	Uncorrelated bool
	// ArmEffect names the parameters that differ between arms.
	ArmEffect  []string
	Covariates []Covariate
	Hold       []fit.Hold
	// Sessions adds the restart after a break.
	Sessions bool
	// Carry lets a trainee's neighbouring residuals be alike; normal, lognormal
	// and reciprocal noise only. What is carried ends at a break where Restart
	// shows one, unless CarryAcross.
	Carry       Carry
	CarryAcross bool
	// REML takes the effects on the curve out of the likelihood, so that spreads
	// are not understated; for curves linear in everything that moves them.
	REML    bool
	Method  Method  // "" means Laplace
	Nodes   int     // quadrature points per random effect; 0 means 9
	Level   float64 // of intervals; 0 means 0.95
	Workers int     // 0 means all processors; never changes a number
	// Watch is told of every cohort that [Run] is asked to fit, and of every trainee
	// whose posterior is worked out from the fit; nil: nobody is. It is there to see that
	// nothing is worked out twice.
	Watch func(Work, Spec, []Trainee)
}

func (s Spec) level() float64 {
	if s.Level == 0 {
		return 0.95
	}
	return s.Level
}

// startForGain reports whether the starting level stands in the place of the
// gain; a straight line has one of its own.
func (s Spec) startForGain() bool { return s.UseStart && !s.Family.IsLine() }

// ErrCohort is wrapped by every error about data or a spec that cannot be
// fitted at all.
var ErrCohort = errors.New("cannot fit the cohort")

func refuse(format string, args ...any) error {
	return fmt.Errorf("%w: %s", ErrCohort, fmt.Sprintf(format, args...))
}

// A part is one quantity of the model: a parameter of the curve, the residual
// spread, or one of the session effect.
type part struct {
	name   string
	slot   int // place in the jets, see slotPlateau and so on
	scale  Scale
	held   bool
	value  float64 // on its scale, where held
	random bool
	cols   []int // columns of the design that act on it; the first is the constant
	at     int   // place of its first coefficient in theta
}

// parts lists the quantities of a model in the order of their report.
func (s Spec) parts(arms []string) ([]part, error) {
	var out []part
	slot := slotShape
	for _, p := range s.Family.Params() {
		q := part{name: p.Name, scale: Identity}
		switch {
		case p.Name == "plateau", p.Name == Start:
			q.slot = slotPlateau
		case p.Name == "gain", p.Name == "slope":
			q.slot = slotGain
			if s.startForGain() {
				q.name = Start
			}
		default:
			q.slot = slot
			slot++
		}
		if p.Positive || p.Linear && models.NeedsPositive(s.Noise) {
			q.scale = Log
		}
		if v, ok := s.Scale[q.name]; ok {
			if v != Identity && v != Log {
				return nil, refuse("scale %q of %s: known are identity and log", v, q.name)
			}
			q.scale = v
		}
		q.random = s.Random == nil || slices.Contains(s.Random, q.name)
		out = append(out, q)
	}
	if s.UseStart && !s.Family.HasGain() {
		return nil, refuse("the %s curve has no gain for the starting level to stand in for", s.Family.Name())
	}
	if s.Sessions {
		out = append(out,
			part{name: Session, slot: slotSession, scale: Identity, random: slices.Contains(s.Random, Session)},
			part{name: Fading, slot: slotFading, scale: Log})
	}
	if s.Noise.HasScale() {
		out = append(out, part{name: Spread, slot: slotSpread, scale: Log, random: slices.Contains(s.Random, Spread)})
	}
	extra, err := s.carried()
	if err != nil {
		return nil, err
	}
	out = append(out, extra...)
	if err := s.checkNames(out); err != nil {
		return nil, err
	}
	for i := range out {
		p := &out[i]
		for _, h := range s.Hold {
			if h.Name == p.name {
				p.held, p.random, p.value = true, false, h.Value
				if p.slot > slotSpread {
					if p.value = s.carryScale(p.slot, h.Value); math.IsNaN(p.value) || math.IsInf(p.value, 0) {
						return nil, refuse("%s cannot be held at %v", p.name, h.Value)
					}
				}
				if p.scale == Log {
					if p.value = math.Log(h.Value); !(h.Value > 0) {
						return nil, refuse("%s is on the log scale and cannot be held at %v", p.name, h.Value)
					}
				}
			}
		}
		p.cols = []int{0}
		if slices.Contains(s.ArmEffect, p.name) {
			for k := range arms[1:] {
				p.cols = append(p.cols, 1+k)
			}
		}
		for k, c := range s.Covariates {
			if slices.Contains(c.On, p.name) {
				p.cols = append(p.cols, len(arms)+k)
			}
		}
		if p.held && len(p.cols) > 1 {
			return nil, refuse("%s is held, so no effect can act on it", p.name)
		}
	}
	return out, nil
}

// checkNames refuses names that are no part of the model.
func (s Spec) checkNames(parts []part) error {
	var names []string
	for _, p := range parts {
		names = append(names, p.name)
	}
	check := func(what string, list []string) error {
		for _, n := range list {
			if !slices.Contains(names, n) {
				return refuse("%s names %q; the parameters are %s", what, n, strings.Join(names, ", "))
			}
		}
		return nil
	}
	for _, n := range slices.Sorted(maps.Keys(s.Scale)) {
		if err := check("scale", []string{n}); err != nil {
			return err
		}
	}
	if err := check("random", s.Random); err != nil {
		return err
	}
	if slices.Contains(s.Random, Fading) {
		return refuse("the fading of the session effect is common to all trainees")
	}
	if err := check("arm effect", s.ArmEffect); err != nil {
		return err
	}
	for _, c := range s.Covariates {
		if err := check("covariate "+c.Name, c.On); err != nil {
			return err
		}
	}
	for _, name := range []string{Carryover, CarriedShare} {
		shared := slices.Contains(s.Random, name) || slices.Contains(s.ArmEffect, name)
		for _, c := range s.Covariates {
			shared = shared || slices.Contains(c.On, name)
		}
		if shared {
			return refuse("%s is common to all trainees", name)
		}
	}
	for _, h := range s.Hold {
		if err := check("hold", []string{h.Name}); err != nil {
			return err
		}
	}
	return nil
}
