// Package numeric holds the numerical methods that several analyses need, one of
// each kind: where a function is 0, where one is smallest, symmetric equations,
// derivatives by differences.
//
// # What stays elsewhere
//
// The fitter of single curves has Newton loops of its own for speed and bounds
// (analysis/fit); general minimisation without second derivatives is gonum's
// (gonum.org/v1/gonum/optimize).
package numeric

import "math"

// A Tolerance says when a root is good enough: its place to X (plus what rounding
// leaves of it), or the function's size to F. Zeros mean as far as digits go.
type Tolerance struct{ X, F float64 }

// An End is a place with the function's value there.
type End struct{ At, Value float64 }

// mostSteps is more than halving alone needs to use up all digits.
const mostSteps = 200

// Root is where f, of different signs at a and b, changes sign between them; false
// where the signs are alike.
func Root(f func(float64) float64, a, b float64, tol Tolerance) (float64, bool) {
	return RootBetween(f, End{a, f(a)}, End{b, f(b)}, tol)
}

// RootBetween is [Root] with the values at both ends known. The far end b may lie
// where f has no number (NaN or infinite): no number counts as b's side, and the
// bracket is halved until it is left behind. Of the two ends left, the place
// returned is the one where f is nearer to 0, b's of two alike.
//
// Inverse quadratic interpolation where it can be trusted, halving elsewhere:
// Chandrupatla (1997), Advances in Engineering Software 28, 145-149.
func RootBetween(f func(float64) float64, a, b End, tol Tolerance) (float64, bool) {
	switch {
	case a.Value == 0:
		return a.At, true
	case b.Value == 0:
		return b.At, true
	case math.IsNaN(a.Value) || math.Signbit(a.Value) == math.Signbit(b.Value) && !math.IsNaN(b.Value):
		return math.NaN(), false
	}
	near := math.Signbit(a.Value)
	onNear := func(v float64) bool { return !math.IsNaN(v) && math.Signbit(v) == near }
	one, two := b, a // the newest place, and the other end of the bracket
	t := 0.5
	for range mostSteps {
		x := End{At: one.At + t*(two.At-one.At)}
		if x.Value = f(x.At); math.Abs(x.Value) <= tol.F {
			return x.At, true
		}
		three := two
		if onNear(x.Value) == onNear(one.Value) {
			three = one
		} else {
			two = one
		}
		one = x
		small := (2*epsilon*math.Abs(one.At) + tol.X/2) / math.Abs(two.At-one.At)
		if !(small < 0.5) {
			break
		}
		t = interpolate(one, two, three)
		t = math.Min(math.Max(t, small), 1-small)
	}
	from, beyond := one, two
	if !onNear(one.Value) {
		from, beyond = two, one
	}
	if math.IsNaN(beyond.Value) || math.Abs(from.Value) < math.Abs(beyond.Value) {
		return from.At, true
	}
	return beyond.At, true
}

const epsilon = 1.0 / (1 << 52)

// interpolate is where, as a share of the way from one to two, a parabola of the
// place in the value through three points is 0; a half where it is not to be
// trusted.
func interpolate(one, two, three End) float64 {
	ξ := (one.At - two.At) / (three.At - two.At)
	φ := (one.Value - two.Value) / (three.Value - two.Value)
	if !(φ*φ < ξ && (1-φ)*(1-φ) < 1-ξ) {
		return 0.5
	}
	t := one.Value/(two.Value-one.Value)*three.Value/(two.Value-three.Value) +
		(three.At-one.At)/(two.At-one.At)*one.Value/(three.Value-one.Value)*two.Value/(three.Value-two.Value)
	if math.IsNaN(t) {
		return 0.5
	}
	return t
}
