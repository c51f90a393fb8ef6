package models

import (
	"errors"
	"math"
)

// Powers that only some noises have, each an interface of its own. Whoever needs
// one asks for the power and not for the noise's name, so that a new noise says
// here what it can do and nothing else changes.

// A Checker knows which responses its noise can give. The error completes the
// sentence "response 3 …".
type Checker interface {
	Check(response float64) error
}

// CheckResponse says what is wrong with a response, if anything; a noise that is
// no [Checker] can give any number.
func CheckResponse(n Noise, response float64) error {
	if c, ok := n.(Checker); ok {
		return c.Check(response)
	}
	return nil
}

// A PositiveCurver has a noise that can only stand about a curve above 0.
type PositiveCurver interface {
	PositiveCurve() bool
}

// NeedsPositive reports whether a noise knows only curves, and so responses, above
// 0.
func NeedsPositive(n Noise) bool {
	p, ok := n.(PositiveCurver)
	return ok && p.PositiveCurve()
}

// A LeastSquares noise is fitted to exact responses by least squares of its
// residuals: response less curve or, where Relative, the logarithm of response
// over curve.
type LeastSquares interface {
	Relative() bool
}

// Squares reports whether a noise is a [LeastSquares] one, and whether its
// residuals are relative.
func Squares(n Noise) (squares, relative bool) {
	l, ok := n.(LeastSquares)
	return ok, ok && l.Relative()
}

// Residuals is the distribution of residuals on the additive scale. Every additive
// noise has it; without it residuals are normal and the scale is their standard
// deviation.
type Residuals interface {
	ResidualQuantile(p, scale float64) float64
	ResidualSD(scale float64) float64
}

// ResidualQuantile is the residual that a share p of attempts stay at or under, on
// the additive scale of a noise that has one.
func ResidualQuantile(n Noise, p, scale float64) float64 {
	if r, ok := n.(Residuals); ok {
		return r.ResidualQuantile(p, scale)
	}
	return scale * probit(p)
}

// ResidualSD is the standard deviation of residuals on the additive scale.
func ResidualSD(n Noise, scale float64) float64 {
	if r, ok := n.(Residuals); ok {
		return r.ResidualSD(scale)
	}
	return scale
}

// A Tailed noise has residuals of Student's t on the additive scale, whose tails are heavier than
// those of a normal distribution.
type Tailed interface {
	DF() float64
}

// TailDF is the degrees of freedom of a noise with residuals of Student's t; false of any other.
func TailDF(n Noise) (df float64, tailed bool) {
	if t, ok := n.(Tailed); ok {
		return t.DF(), true
	}
	return math.Inf(1), false
}

// A LocationScale noise is the curve plus its scale times a standard residual. Standard is
// minus the log density of a standard residual e, or minus the log chance of a larger one
// where it is right-censored, with three derivatives in e.
type LocationScale interface {
	Standard(e float64, censored bool) (l, d1, d2, d3 float64)
}

// A Thirder knows the third derivatives of its loss: in the curve value m, twice in m and once
// in the log scale s, once and twice, and in s.
type Thirder interface {
	Third(y, m, scale float64) (mmm, mms, mss, sss float64)
}

// A Linked noise runs its curve on another scale than the response. Every noise
// that is not additive has it.
type Linked interface {
	// Near is a curve value that suits one response, never infinite: where a
	// search may begin.
	Near(response float64) float64
	// Unbounded reports responses whose likeliest curve lies at infinity, such as
	// passes without a fail.
	Unbounded(responses []float64) bool
}

// A PassFailer has responses that are 1 for a pass and 0 for a fail, so that the
// mean is the chance to pass.
type PassFailer interface {
	PassFail() bool
}

// IsPassFail reports whether responses are passes and fails.
func IsPassFail(n Noise) bool {
	p, ok := n.(PassFailer)
	return ok && p.PassFail()
}

// An AdditiveScale is the scale on which residuals are added to the curve.
type AdditiveScale int

// The scales.
const (
	AddedAsIs  AdditiveScale = iota // the response itself
	AddedLog                        // its natural logarithm
	AddedSpeed                      // one over it, with a minus sign
)

// An AddedOner is another noise, with the same scale, about the curve on an additive scale.
type AddedOner interface {
	AddedOn() (AdditiveScale, Noise)
}

// AddedOn is the scale on which a noise is added to the curve, and what it is there: of
// [Lognormal] the logarithm, and [Normal]. Any other noise is itself, on the scale of its curve.
func AddedOn(n Noise) (AdditiveScale, Noise) {
	if o, ok := n.(AddedOner); ok {
		return o.AddedOn()
	}
	return AddedAsIs, n
}

// NormalOn is the scale on which responses are normal about the curve, with the noise's scale
// for standard deviation there; false where there is none.
func NormalOn(n Noise) (AdditiveScale, bool) {
	scale, on := AddedOn(n)
	return scale, on == Noise(Normal{})
}

// A Counter has responses that are counts, and a curve that is the logarithm of their
// mean.
type Counter interface {
	Counts() bool
}

// IsCount reports whether responses are counts.
func IsCount(n Noise) bool {
	c, ok := n.(Counter)
	return ok && c.Counts()
}

// A Limited noise has a chance to pass that keeps between limits whatever the curve: a
// chance to pass by guessing, and one to fail with all skill.
type Limited interface {
	Limits() (guess, lapse float64)
	WithLimits(guess, lapse float64) Noise
}

var (
	errNotPositive = errors.New("is not above 0")
	errNotCount    = errors.New("is not a whole number from 0 on")
	errNotPassFail = errors.New("is not 0 or 1")
)

// tiny keeps responses away from where their reciprocals and logarithms lose
// their meaning.
const tiny = 1e-150

func checkPositive(y float64) error {
	if !(y >= tiny) {
		return errNotPositive
	}
	return nil
}

func checkCount(y float64) error {
	if !(y >= 0) || y != math.Trunc(y) {
		return errNotCount
	}
	return nil
}

// Relative implements LeastSquares.
func (Normal) Relative() bool { return false }

// Relative implements LeastSquares.
func (Lognormal) Relative() bool { return true }

// AddedOn implements AddedOner.
func (Lognormal) AddedOn() (AdditiveScale, Noise) { return AddedLog, Normal{} }

// Check implements Checker.
func (Lognormal) Check(y float64) error { return checkPositive(y) }

// PositiveCurve implements PositiveCurver.
func (Lognormal) PositiveCurve() bool { return true }

// AddedOn implements AddedOner.
func (Reciprocal) AddedOn() (AdditiveScale, Noise) { return AddedSpeed, Normal{} }

// Check implements Checker.
func (Reciprocal) Check(y float64) error { return checkPositive(y) }

// PositiveCurve implements PositiveCurver.
func (Reciprocal) PositiveCurve() bool { return true }

// ResidualQuantile implements Residuals.
func (Student) ResidualQuantile(p, scale float64) float64 { return scale * studentQuantile(p) }

// ResidualSD implements Residuals.
func (Student) ResidualSD(scale float64) float64 {
	return scale * math.Sqrt(StudentDF/(StudentDF-2.))
}

// DF implements Tailed.
func (Student) DF() float64 { return StudentDF }

// DF implements Tailed.
func (LogStudent) DF() float64 { return StudentDF }

// AddedOn implements AddedOner.
func (LogStudent) AddedOn() (AdditiveScale, Noise) { return AddedLog, Student{} }

// Check implements Checker.
func (LogStudent) Check(y float64) error { return checkPositive(y) }

// PositiveCurve implements PositiveCurver.
func (LogStudent) PositiveCurve() bool { return true }

// ResidualQuantile implements Residuals.
func (LogStudent) ResidualQuantile(p, scale float64) float64 {
	return Student{}.ResidualQuantile(p, scale)
}

// ResidualSD implements Residuals.
func (LogStudent) ResidualSD(scale float64) float64 { return Student{}.ResidualSD(scale) }

// Check implements Checker.
func (Bernoulli) Check(y float64) error {
	if y != 0 && y != 1 {
		return errNotPassFail
	}
	return nil
}

// PassFail implements PassFailer.
func (Bernoulli) PassFail() bool { return true }

// Limits implements Limited.
func (b Bernoulli) Limits() (guess, lapse float64) { return b.Guess, b.Lapse }

// WithLimits implements Limited.
func (Bernoulli) WithLimits(guess, lapse float64) Noise { return Bernoulli{Guess: guess, Lapse: lapse} }

// Near implements Linked: halfway to certainty, ±log 3.
func (Bernoulli) Near(y float64) float64 { return (2*y - 1) * math.Log(3) }

// Unbounded implements Linked.
func (Bernoulli) Unbounded(ys []float64) bool {
	for _, y := range ys {
		if y != ys[0] {
			return false
		}
	}
	return true
}

// Counts implements Counter.
func (Poisson) Counts() bool { return true }

// Check implements Checker.
func (Poisson) Check(y float64) error { return checkCount(y) }

// Near implements Linked.
func (Poisson) Near(y float64) float64 { return math.Log(y + 0.5) }

// Unbounded implements Linked.
func (Poisson) Unbounded(ys []float64) bool { return allZero(ys) }

// Counts implements Counter.
func (NegativeBinomial) Counts() bool { return true }

// Check implements Checker.
func (NegativeBinomial) Check(y float64) error { return checkCount(y) }

// Near implements Linked.
func (NegativeBinomial) Near(y float64) float64 { return math.Log(y + 0.5) }

// Unbounded implements Linked.
func (NegativeBinomial) Unbounded(ys []float64) bool { return allZero(ys) }

func allZero(ys []float64) bool {
	for _, y := range ys {
		if y != 0 {
			return false
		}
	}
	return true
}
