// Package models holds learning curves and noise as values: pure mathematics,
// no data and no fitting.
//
// # Curves
//
// Every family is a plateau plus a gain times a falling shape,
//
//	mean(n) = plateau + gain·h(n; shape parameters),
//
// with attempt n counted from 1. The gain is the starting level minus the
// plateau and carries a sign: positive when the response falls with practice
// (seconds), negative when it rises (scores). A family without a plateau has
// it at 0; a family without a gain is flat.
//
// # Units
//
// Plateau and gain have the unit of the response. A rate of a power curve has
// no unit; a rate of an exponential is per attempt. The names of these
// families and their place in research on practice: Newell and Rosenbloom
// (1981); Heathcote, Brown and Mewhort (2000), Psychonomic Bulletin & Review
// 7, 185-207; the straight line in logs without a plateau: Wright (1936),
// Journal of the Aeronautical Sciences 3, 122-128.
package models

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// MaxShape is the largest number of shape parameters of any family.
const MaxShape = 2

// Shapes holds the shape parameters of a curve, in the order of Shape.Params;
// places a family does not use are 0.
type Shapes [MaxShape]float64

// A Param describes one parameter of a family.
type Param struct {
	Name     string
	Linear   bool // the mean is linear in it: plateau and gain
	Positive bool // only values above 0 are allowed
}

// A Family is a learning curve up to its parameters. The order of Params fixes
// the order of every theta: plateau, gain, then the shape parameters, each
// only where the family has it.
type Family struct {
	name          string
	plateau, gain bool
	line          bool // start and slope in place of plateau and gain
	logLog        bool // every doubling of attempts leaves the same share
	shape         Shape
	origin        float64
}

// A Shape is the falling part h of a family, written in clock time t. The
// clock is a fixed increasing function of the attempt number, so that whoever
// evaluates a shape often can compute it once.
type Shape interface {
	// Params lists the shape parameters, at most MaxShape.
	Params() []Param
	// Clock turns an attempt number into clock time; NaN outside the domain.
	Clock(n float64) float64
	// At is h at clock time t.
	At(t float64, s Shapes) float64
	// Derivs is h with its first derivatives (d1[j] = ∂h/∂s[j]) and second
	// derivatives (d2 holds 00, 01, 11).
	Derivs(t float64, s Shapes) (h float64, d1 [2]float64, d2 [3]float64)
	// Inverse is the clock time at which h equals v; NaN when it never does.
	Inverse(v float64, s Shapes) float64
	// Attempt is the inverse of Clock.
	Attempt(t float64) float64
	// Search lists candidate values for each shape parameter, in increasing
	// order, over the whole range that data seen at the sorted clock times
	// could tell apart. The first and last are the bounds of a fit.
	Search(t []float64) [][]float64
}

// Constant is the flat curve: practice changes nothing.
func Constant() Family { return Family{name: "constant", plateau: true, shape: still{}, origin: 1} }

// Wright is the log-log straight line gain·n^(−rate), without a plateau. The
// rate may have either sign.
func Wright() Family {
	return Family{name: "wright", gain: true, logLog: true, shape: powerShape{signed: true}, origin: 1}
}

// Inverse is plateau + gain/n.
func Inverse() Family {
	return Family{name: "inverse", plateau: true, gain: true, shape: reciprocal{}, origin: 1}
}

// Power is plateau + gain·n^(−rate), rate above 0.
func Power() Family {
	return Family{name: "power", plateau: true, gain: true, shape: powerShape{}, origin: 1}
}

// Exponential is plateau + gain·exp(−rate·(n − origin)), rate above 0.
func Exponential(origin float64) Family {
	return Family{name: "exponential", plateau: true, gain: true, shape: exponentialShape{origin}, origin: origin}
}

// PowerPrior is plateau + gain·(n + prior)^(−rate), rate and prior above 0.
func PowerPrior() Family {
	return Family{name: "power-prior", plateau: true, gain: true, shape: priorShape{}, origin: 1}
}

// Apex is plateau + gain·exp(−rate·(n − 1))·n^(−power), rate and power from 0
// on (Heathcote et al., 2000).
func Apex() Family {
	return Family{name: "apex", plateau: true, gain: true, shape: apexShape{}, origin: 1}
}

// Logistic is plateau + gain/(1 + exp(rate·(n − midpoint))), rate above 0. Its
// starting level is the one infinitely far back, plateau + gain.
func Logistic() Family {
	return Family{name: "logistic", plateau: true, gain: true, shape: logisticShape{}, origin: math.Inf(-1)}
}

// Gompertz is plateau + gain·(1 − exp(−exp(−rate·(n − midpoint)))), rate above
// 0. Its starting level is the one infinitely far back, plateau + gain.
func Gompertz() Family {
	return Family{name: "gompertz", plateau: true, gain: true, shape: gompertzShape{}, origin: math.Inf(-1)}
}

// Logarithmic is start + slope·log(n): a straight line in the logarithm of the
// attempt, without a plateau. On the logit scale it is the usual logistic
// regression of passing on log attempts. In a Curve the start stands in the place
// of the plateau and the slope in that of the gain.
func Logarithmic() Family {
	return Family{name: "logarithmic", gain: true, line: true, shape: logShape{}, origin: 1}
}

// Families lists one of each family, with the starting level read at the origin where
// a family lets it be chosen: attempt 1 unless a study says otherwise.
func Families(origin float64) []Family {
	all := []Family{Constant(), Logarithmic(), Wright(), Inverse(), Power(), PowerPrior(), Exponential(origin), Apex(), Logistic(), Gompertz()}
	for i, f := range all {
		// A line's start is the level at attempt 1; that of an S-shaped curve lies
		// infinitely far back.
		if !f.line && !f.StartsFarBack() {
			all[i].origin = origin
		}
	}
	return all
}

// Names lists the families.
func Names() []string {
	var names []string
	for _, f := range Families(1) {
		names = append(names, f.name)
	}
	return names
}

// Candidates lists the families that an automatic choice tries. The inverse
// curve is left to those who ask for it: with nothing but its two levels to
// bend it buys a late fit with absurd early ones.
// Where the curve runs on a logit or log scale, the straight line in log
// attempts takes the place of the log-log line.
func Candidates(noise Noise) []string {
	if noise.Additive() {
		return []string{"constant", "wright", "power", "exponential"}
	}
	return []string{"constant", "logarithmic", "power", "exponential"}
}

// ByName finds a family; see [Families] for the origin.
func ByName(name string, origin float64) (Family, error) {
	for _, f := range Families(origin) {
		if f.name == name {
			return f, nil
		}
	}
	return Family{}, fmt.Errorf("no curve family %q; known are %s", name, strings.Join(Names(), ", "))
}

// Name is the family's name.
func (f Family) Name() string { return f.name }

// Origin is the attempt at which the starting level is read.
func (f Family) Origin() float64 { return f.origin }

// StartsFarBack reports whether the starting level lies infinitely far back, before all
// practice, where the shape is 1: that of S-shaped curves.
func (f Family) StartsFarBack() bool { return math.IsInf(f.origin, -1) }

// HasPlateau reports whether the plateau is a parameter of the family.
func (f Family) HasPlateau() bool { return f.plateau }

// WithoutPlateau is the family that holds every curve of f whose plateau is 0; false where
// none of [Families] does.
func (f Family) WithoutPlateau() (Family, bool) {
	if _, ok := f.shape.(powerShape); ok && f.plateau && f.gain {
		bare := Wright()
		bare.origin = f.origin
		return bare, true
	}
	return Family{}, false
}

// HasGain reports whether the gain is a parameter of the family.
func (f Family) HasGain() bool { return f.gain }

// IsLine reports whether the family is a straight line in clock time, with a
// start and a slope for parameters.
func (f Family) IsLine() bool { return f.line }

// IsLogLog reports whether the family is a straight line in the logarithms of
// attempt and response: 2^(−rate) of the level is left at every doubling.
func (f Family) IsLogLog() bool { return f.logLog }

// Contains reports whether the smaller family is this one with some parameters at
// particular values, which a likelihood ratio test needs.
func (f Family) Contains(smaller Family) bool {
	within := map[string][]string{
		"constant":    {"logarithmic", "inverse", "power", "power-prior", "exponential", "apex", "logistic", "gompertz"},
		"wright":      {"power", "power-prior", "apex"}, // plateau 0
		"inverse":     {"power", "power-prior", "apex"}, // rate 1
		"power":       {"power-prior", "apex"},          // prior 0; rate 0
		"exponential": {"apex"},                         // power 0
	}
	return slices.Contains(within[smaller.name], f.name)
}

// Shape is the falling part of the curve.
func (f Family) Shape() Shape { return f.shape }

// Params lists the parameters in the order of theta.
func (f Family) Params() []Param {
	var ps []Param
	if f.plateau {
		ps = append(ps, Param{Name: "plateau", Linear: true})
	}
	if f.line {
		return []Param{{Name: "start", Linear: true}, {Name: "slope", Linear: true}}
	}
	if f.gain {
		ps = append(ps, Param{Name: "gain", Linear: true})
	}
	return append(ps, f.shape.Params()...)
}

// Curve reads theta, in the order of Params.
func (f Family) Curve(theta []float64) Curve {
	if len(theta) != len(f.Params()) {
		panic(fmt.Sprintf("models: %s takes %d parameters, got %d", f.name, len(f.Params()), len(theta)))
	}
	c := Curve{Family: f}
	if f.plateau || f.line {
		c.Plateau, theta = theta[0], theta[1:]
	}
	if f.gain {
		c.Gain, theta = theta[0], theta[1:]
	}
	copy(c.Shape[:], theta)
	return c
}

// Value is the mean at attempt n.
func (f Family) Value(theta []float64, n float64) float64 { return f.Curve(theta).At(n) }

// Grad fills dst with the derivative of Value with respect to each parameter.
func (f Family) Grad(dst, theta []float64, n float64) {
	c := f.Curve(theta)
	h, d1, _ := f.shape.Derivs(f.shape.Clock(n), c.Shape)
	i := 0
	if f.plateau || f.line {
		dst[i] = 1
		i++
	}
	if f.gain {
		dst[i] = h
		i++
	}
	for j := range f.shape.Params() {
		dst[i+j] = c.Gain * d1[j]
	}
}

// Basis fills dst with the functions that the linear parameters multiply, so
// that Value = Σ dst[j]·linear[j], for the given shape parameters.
func (f Family) Basis(dst []float64, shape Shapes, n float64) {
	i := 0
	if f.plateau || f.line {
		dst[i] = 1
		i++
	}
	if f.gain {
		dst[i] = f.shape.At(f.shape.Clock(n), shape)
	}
}

// A Curve is a family with numbers in it.
type Curve struct {
	Family        Family
	Plateau, Gain float64 // unit of the response; 0 where the family has none
	Shape         Shapes
}

// Theta lists the parameters in the order of Family.Params.
func (c Curve) Theta() []float64 {
	var th []float64
	if c.Family.plateau || c.Family.line {
		th = append(th, c.Plateau)
	}
	if c.Family.gain {
		th = append(th, c.Gain)
	}
	return append(th, c.Shape[:len(c.Family.shape.Params())]...)
}

// At is the mean (or median, for multiplicative noise) at attempt n.
func (c Curve) At(n float64) float64 {
	if c.Gain == 0 {
		return c.Plateau
	}
	return c.Plateau + c.Gain*c.Family.shape.At(c.Family.shape.Clock(n), c.Shape)
}

// Start is the starting level: the mean at the family's origin.
func (c Curve) Start() float64 { return c.At(c.Family.origin) }

// Crossing is the real-valued attempt, from the given one on, at which the
// curve first meets the level; lower tells whether smaller responses are
// better. It is from itself when the level is met there, and +Inf when the
// curve never meets the level.
func (c Curve) Crossing(level, from float64, lower bool) float64 {
	meets := func(m float64) bool { return lower && m <= level || !lower && m >= level }
	switch at := c.At(from); {
	case math.IsNaN(at) || math.IsNaN(level):
		return math.NaN()
	case meets(at):
		return from
	case c.Gain == 0 || lower != (c.At(from+1) < at):
		return math.Inf(1) // flat, or moving away
	}
	t := c.Family.shape.Inverse((level-c.Plateau)/c.Gain, c.Shape)
	n := c.Family.shape.Attempt(t)
	if math.IsNaN(n) || n < from {
		return math.Inf(1)
	}
	return n
}

// ToShare is the number of attempts, counted from the origin's attempt as 1,
// after which the given share of the gain has been made: 0.9 for the attempts
// to 90 % of the own gain (Feldman et al., 2009, Surgery 146, 381-386). NaN
// for a curve without a plateau.
func (c Curve) ToShare(share float64) float64 {
	if c.Gain == 0 || !c.Family.plateau {
		return math.NaN()
	}
	sh, o := c.Family.shape, c.Family.origin
	if c.Family.StartsFarBack() {
		o = 1 // an S-shaped curve's gain is counted from the first attempt
	}
	h0 := sh.At(sh.Clock(o), c.Shape)
	n := sh.Attempt(sh.Inverse(h0*(1-share), c.Shape))
	return n - o + 1
}
