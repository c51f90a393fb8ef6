package monitor

import (
	"fmt"
	"math"

	"tyro/analysis/internal/numeric"
)

// A Sequential is Wald's test between two failure rates with both boundaries.
type Sequential struct {
	Rates Rates
	Alpha float64 // chance wanted of deciding for unacceptable at the acceptable rate
	Beta  float64 // chance wanted of deciding for acceptable at the unacceptable rate
}

// Check says what is wrong with the settings, if anything.
func (s Sequential) Check() error {
	if err := s.Rates.Check(); err != nil {
		return err
	}
	if !(s.Alpha > 0 && s.Beta > 0 && s.Alpha+s.Beta < 1) {
		return fmt.Errorf("error chances %g and %g: expected two above 0 with a sum below 1", s.Alpha, s.Beta)
	}
	return nil
}

// A Decision is what the test has settled on.
type Decision int

// The decisions.
const (
	Undecided Decision = iota
	Acceptable
	Unacceptable
)

// String is the stable name of the decision.
func (d Decision) String() string { return [...]string{"undecided", "acceptable", "unacceptable"}[d] }

// Weights are the log likelihood ratios of the unacceptable rate.
func (s Sequential) Weights() Weights { return LogRatio(s.Rates.Unacceptable, s.Rates.Acceptable) }

// Boundaries are Wald's: the sum decides for unacceptable at ln((1−β)/α) or
// above and for acceptable at ln(β/(1−α)) or below.
func (s Sequential) Boundaries() (lower, upper float64) {
	return math.Log(s.Beta / (1 - s.Alpha)), math.Log((1 - s.Beta) / s.Alpha)
}

// A CountForm is the same test on the number of failures less PerAttempt for
// every attempt: unacceptable at Upper or above, acceptable at −Lower or below.
type CountForm struct{ PerAttempt, Upper, Lower float64 }

// CountForm rescales the test so that a failure counts 1 (Wald, 1947).
func (s Sequential) CountForm() CountForm {
	w := s.Weights()
	lower, upper := s.Boundaries()
	unit := w.Failure - w.Success
	return CountForm{-w.Success / unit, upper / unit, -lower / unit}
}

// Name implements Chart.
func (s Sequential) Name() string { return "sequential" }

// Follow implements Chart: the sum goes on after the decision, and signals once,
// where the test first decides. A restart opens a new test.
func (s Sequential) Follow(failed []bool, restarts []int) Path {
	p, _ := s.Decide(failed, restarts)
	return p
}

// Decide is Follow with the decision standing after every attempt.
func (s Sequential) Decide(failed []bool, restarts []int) (Path, []Decision) {
	p := Scheme{H: math.Inf(1), NoBarrier: true}.Follow(s.Weights().Of(failed), restarts)
	lower, upper := s.Boundaries()
	out := make([]Decision, len(failed))
	now := Undecided
	for i := range p.Steps {
		st := &p.Steps[i]
		if st.Restart {
			now = Undecided
		}
		if now == Undecided {
			switch {
			case st.Value >= upper-slack:
				now = Unacceptable
			case st.Value <= lower+slack:
				now = Acceptable
			}
			if st.Signal = now != Undecided; st.Signal && p.First < 0 {
				p.First = i
			}
		}
		out[i] = now
	}
	return p, out
}

// An Operating is how a test behaves at one failure rate.
type Operating struct {
	Rate                     float64
	Unacceptable, Acceptable float64 // chances of either decision
	MeanAttempts             float64
}

// Exact is the operating characteristic and mean number of attempts, summed over
// every number of failures the test can stand at; NaN where that would take too
// long.
func (s Sequential) Exact(rate float64) Operating {
	checkRate(rate)
	lower, upper := s.Boundaries()
	e := leave(0, s.Weights(), rate, lower, upper, 0)
	if e.cut {
		nan := math.NaN()
		return Operating{rate, nan, nan, nan}
	}
	return Operating{rate, e.hit, e.back, e.mean()}
}

// Wald is the operating characteristic by Wald's approximation, which takes the
// sum to stop exactly at a boundary.
func (s Sequential) Wald(rate float64) Operating {
	checkRate(rate)
	w := s.Weights()
	lower, upper := s.Boundaries()
	drift := rate*w.Failure + (1-rate)*w.Success
	out := Operating{Rate: rate}
	if math.Abs(drift) < 1e-9 {
		out.Acceptable = upper / (upper - lower)
		out.Unacceptable = 1 - out.Acceptable
		out.MeanAttempts = -upper * lower / (rate*w.Failure*w.Failure + (1-rate)*w.Success*w.Success)
		return out
	}
	t := waldRoot(w, rate)
	out.Acceptable = (math.Exp(t*upper) - 1) / (math.Exp(t*upper) - math.Exp(t*lower))
	if rate == 0 || rate == 1 { // one boundary only can be reached
		out.Acceptable = 1 - rate
	}
	out.Unacceptable = 1 - out.Acceptable
	out.MeanAttempts = (out.Acceptable*lower + out.Unacceptable*upper) / drift
	return out
}

// waldRoot solves rate·exp(t·failure) + (1−rate)·exp(t·success) = 1 for t ≠ 0.
func waldRoot(w Weights, rate float64) float64 {
	f := func(t float64) float64 {
		return rate*math.Exp(t*w.Failure) + (1-rate)*math.Exp(t*w.Success) - 1
	}
	// The sum is lowest here, half way to the root where that is near 0.
	lowest := math.Log(-(1-rate)*w.Success/(rate*w.Failure)) / (w.Failure - w.Success)
	if f(lowest) >= 0 { // by rounding: no drift to speak of
		return 2 * lowest
	}
	far := 2 * lowest
	for f(far) < 0 && math.Abs(far) < 1e6 {
		far *= 2
	}
	t, _ := numeric.Root(f, lowest, far, numeric.Tolerance{})
	return t
}

// Mean implements Chart: attempts to a decision of either kind.
func (s Sequential) Mean(rate float64) float64 { return s.Exact(rate).MeanAttempts }

// SignalBy implements Chart: the chance of a decision of either kind.
func (s Sequential) SignalBy(rate float64, n int) []float64 {
	checkRate(rate)
	lower, upper := s.Boundaries()
	e := leave(0, s.Weights(), rate, lower, upper, n)
	out, total := make([]float64, n), 0.0
	for i := range out {
		total += at(e.up, i) + at(e.down, i)
		out[i] = clamp01(total)
	}
	return out
}
