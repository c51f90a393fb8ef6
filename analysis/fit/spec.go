// Package fit estimates learning curves from attempt series: one series, one
// curve.
//
// # Method
//
// Plateau and gain enter linearly. For every value of the remaining (shape)
// parameters the best linear ones are known in closed form, so that the search
// runs over one or two dimensions only: variable projection, Golub and Pereyra
// (1973), SIAM Journal on Numerical Analysis 10, 413-432. A grid over the whole
// distinguishable range of the shape parameters finds every dip; each is
// finished by a damped Newton iteration with exact second derivatives on all
// parameters together, and the best result wins. The linear parameters used
// inside are the curve's values at the first and last attempt of the series
// (expected-value parameters; Ross, 1970, Applied Statistics 19, 205-221), which
// stay well determined when plateau and gain run off to infinity.
//
// Standard errors without censoring are σ²(JᵀJ)⁻¹ with σ² = RSS/(n − p); with
// right-censored responses the likelihood is used and the standard errors come
// from the observed information.
//
// # Units
//
// Attempts count from 1 but may be any real numbers. The response keeps the
// unit of its column; with lognormal noise residuals are on the scale of the
// natural logarithm.
//
// # Limits
//
// A series that never turns has no plateau: see [Fit.Turns] and the warnings.
package fit

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"tyro/models"
)

// A Series is one trainee's attempts at one task, in any order.
type Series struct {
	Attempt  []float64
	Response []float64
	Censored []bool   // nil when none is; true where the response is only known to be above Response
	Session  []string // nil when not known; attempts that follow each other in one session share a name
	// Restart counts attempts since the session began, from 1, in every session
	// after the first, and is 0 in the first: where attempts were left out of the
	// series, it knows of them. Nil: counted among the attempts of the series.
	Restart []float64
	Limit   float64 // the value at which a response is censored; 0 when there is no limit
}

// NCensored is the number of right-censored responses.
func (s Series) NCensored() int {
	n := 0
	for _, c := range s.Censored {
		if c {
			n++
		}
	}
	return n
}

// pick is the series of the attempts at the given positions.
func (s Series) pick(positions []int) Series {
	out := Series{Limit: s.Limit}
	for _, i := range positions {
		out.Attempt, out.Response = append(out.Attempt, s.Attempt[i]), append(out.Response, s.Response[i])
		if s.Censored != nil {
			out.Censored = append(out.Censored, s.Censored[i])
		}
		if s.Session != nil {
			out.Session = append(out.Session, s.Session[i])
		}
		if s.Restart != nil {
			out.Restart = append(out.Restart, s.Restart[i])
		}
	}
	return out
}

// without is the series with one attempt left out.
func (s Series) without(i int) Series {
	var positions []int
	for j := range s.Attempt {
		if j != i {
			positions = append(positions, j)
		}
	}
	return s.pick(positions)
}

// A Hold fixes a parameter: one of the family's own, or "start", the mean at
// the family's origin.
type Hold struct {
	Name  string
	Value float64
}

// A Spec says what to fit.
type Spec struct {
	Family   models.Family
	Noise    models.Noise
	Hold     []Hold
	Positive bool    // the response cannot be below 0, so neither can the plateau
	Level    float64 // of intervals; 0 means 0.95

	// Restart adds a shift of the attempts after a break between sessions, in
	// full at the first and times Fading at each further one: see [Fit.Terms].
	Restart bool
	Fading  float64 // 0 ≤ Fading < 1; at 0 the first attempt alone is shifted
	// Correlated lets neighbouring attempts of a session be alike beyond the
	// curve. It needs normal or lognormal noise and exact responses.
	Correlated bool

	// From makes the search begin at these values of the parameters and look
	// nowhere else; every shape parameter must be named. Without it the whole
	// distinguishable range is searched.
	From []Hold

	pin *pin // a derived quantity held at a value, for its profile
}

func (s Spec) level() float64 {
	if s.Level == 0 {
		return 0.95
	}
	return s.Level
}

// ErrSeries is wrapped by every error about an unusable series or spec.
var ErrSeries = errors.New("cannot fit")

func (s Spec) check(series Series) error {
	n := len(series.Attempt)
	if n != len(series.Response) || series.Censored != nil && len(series.Censored) != n || series.Session != nil && len(series.Session) != n || series.Restart != nil && len(series.Restart) != n {
		panic("fit: attempts, responses, censoring, sessions and restarts differ in length")
	}
	if err := s.checkDependence(); err != nil {
		return err
	}
	if err := s.checkFrom(); err != nil {
		return err
	}
	if err := s.checkPin(); err != nil {
		return err
	}
	needsPositive := models.NeedsPositive(s.Noise)
	_, passFail := s.Noise.(models.Bernoulli)
	counts := !s.Noise.Additive()
	for i, x := range series.Attempt {
		y := series.Response[i]
		switch t := s.Family.Shape().Clock(x); {
		case math.IsNaN(t) || math.IsInf(t, 0):
			return fmt.Errorf("%w: attempt %v is outside the domain of the %s curve", ErrSeries, x, s.Family.Name())
		case math.IsNaN(y) || math.IsInf(y, 0) || math.Abs(y) > 1e150:
			return fmt.Errorf("%w: response %v at attempt %v is not a usable number", ErrSeries, y, x)
		case passFail && y != 0 && y != 1:
			return fmt.Errorf("%w: response %v at attempt %v is not 0 or 1, as pass or fail needs", ErrSeries, y, x)
		case counts && (y < 0 || y != math.Trunc(y)):
			return fmt.Errorf("%w: response %v at attempt %v is not a count", ErrSeries, y, x)
		case counts && series.Censored != nil && series.Censored[i]:
			return fmt.Errorf("%w: attempt %v is censored, which %s noise does not know", ErrSeries, x, s.Noise.Name())
		case needsPositive && (y <= 0 || y < 1e-150):
			return fmt.Errorf("%w: response %v at attempt %v is not above 0, as %s noise needs", ErrSeries, y, x, s.Noise.Name())
		}
	}
	for i, h := range s.Hold {
		known := h.Name == "start" && !s.Family.IsLine() && (s.Family.HasGain() || s.Family.HasPlateau())
		for _, p := range s.Family.Params() {
			if p.Name == h.Name {
				known = true
				if p.Positive && h.Value <= 0 {
					return fmt.Errorf("%w: %s of the %s curve must be above 0, held at %v", ErrSeries, h.Name, s.Family.Name(), h.Value)
				}
			}
		}
		if !known {
			return fmt.Errorf("%w: the %s curve has no parameter %q to hold", ErrSeries, s.Family.Name(), h.Name)
		}
		if math.IsNaN(h.Value) || math.IsInf(h.Value, 0) {
			return fmt.Errorf("%w: %s cannot be held at %v", ErrSeries, h.Name, h.Value)
		}
		if slices.ContainsFunc(s.Hold[:i], func(o Hold) bool { return o.Name == h.Name }) {
			return fmt.Errorf("%w: %s is held twice", ErrSeries, h.Name)
		}
	}
	if _, held := s.held("start"); s.Family.IsLine() {
		return nil
	} else if held && s.Family.HasPlateau() {
		_, p := s.held("plateau")
		if _, g := s.held("gain"); p && g || !s.Family.HasGain() {
			return fmt.Errorf("%w: start, plateau and gain cannot all be held: two of them fix the third", ErrSeries)
		}
	} else if held {
		if _, g := s.held("gain"); g {
			return fmt.Errorf("%w: start and gain of the %s curve cannot both be held", ErrSeries, s.Family.Name())
		}
	}
	return nil
}

func (s Spec) held(name string) (float64, bool) {
	for _, h := range s.Hold {
		if h.Name == name {
			return h.Value, true
		}
	}
	return 0, false
}
