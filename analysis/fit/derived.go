package fit

import (
	"math"

	"tyro/analysis/internal/numeric"
	"tyro/models"
)

// Ahead is the number of further attempts that the expected gain looks over.
const Ahead = 10

// derive computes the quantities people quote, with delta-method intervals.
func (f *Fit) derive() []Estimate {
	q := f.derivedQuantities()
	var out []Estimate
	for _, name := range []string{startingLevel, levelAtLast, toNinety, perDoubling, changeAhead} {
		of := q[name]
		switch name {
		case startingLevel, perDoubling:
			if f.StartOpen {
				nan := math.NaN()
				out = append(out, Estimate{name, nan, nan, nan, nan, false})
				continue
			}
		}
		switch name {
		case startingLevel:
			out = append(out, f.level(name, models.Curve.Start))
		case levelAtLast:
			out = append(out, f.level(name, func(c models.Curve) float64 { return c.At(f.Last) }))
		case toNinety:
			if f.PlateauKnown && f.Curve.Family.HasPlateau() && f.Curve.Gain != 0 && f.Status != Flat && !f.StartOpen {
				out = append(out, f.Delta(name, true, of))
			}
		default:
			out = append(out, f.Delta(name, name == perDoubling, of))
		}
	}
	return out
}

// The names of derived quantities.
const (
	startingLevel = "starting-level"
	levelAtLast   = "level-at-last-attempt"
	toNinety      = "attempts-to-90-percent-of-own-gain"
	perDoubling   = "percent-of-previous-level-per-doubling"
	changeAhead   = "expected-change-over-next-10-attempts"
)

// derivedQuantities reads each quantity off a curve, in the unit of the response.
func (f *Fit) derivedQuantities() map[string]func(models.Curve) float64 {
	last, mean := f.Last, f.Noise.Mean
	return map[string]func(models.Curve) float64{
		startingLevel: func(c models.Curve) float64 { return mean(c.Start()) },
		levelAtLast:   func(c models.Curve) float64 { return mean(c.At(last)) },
		toNinety:      func(c models.Curve) float64 { return c.ToShare(0.9) },
		perDoubling:   func(c models.Curve) float64 { return 100 * mean(c.At(last)) / mean(c.At(last/2)) },
		changeAhead:   func(c models.Curve) float64 { return mean(c.At(last+Ahead)) - mean(c.At(last)) },
	}
}

// level is a value of the curve in the unit of the response; its interval is
// made on the scale of the curve.
func (f *Fit) level(name string, of func(models.Curve) float64) Estimate {
	e := f.Delta(name, false, of)
	if f.Noise.Additive() {
		return e
	}
	e.Value, e.Lower, e.Upper, e.SE = f.Noise.Mean(e.Value), f.Noise.Mean(e.Lower), f.Noise.Mean(e.Upper), math.NaN()
	return e
}

// Delta is the delta-method estimate of a quantity read off the curve.
func (f *Fit) Delta(name string, positive bool, of func(models.Curve) float64) Estimate {
	v, se := of(f.Curve), f.deltaSE(of)
	if math.IsNaN(se) || math.IsNaN(v) || math.IsInf(v, 0) {
		return Estimate{Name: name, Value: v, SE: math.NaN(), Lower: math.NaN(), Upper: math.NaN()}
	}
	return f.interval(name, v, se, positive)
}

// deltaSE is the standard error of a quantity read off the curve, from central
// differences in plateau, gain and shape parameters; NaN where it is not known.
func (f *Fit) deltaSE(of func(models.Curve) float64) float64 {
	var x, steps [4]float64
	x[0], x[1] = f.Curve.Plateau, f.Curve.Gain
	copy(x[2:], f.Curve.Shape[:])
	for i := range steps {
		if sd := math.Sqrt(f.cov[i][i]); sd > 0 {
			steps[i] = 1e-4 * sd
		}
	}
	at := f.Curve
	grad := numeric.Gradient(func(x []float64) float64 {
		at.Plateau, at.Gain = x[0], x[1]
		copy(at.Shape[:], x[2:])
		return of(at)
	}, x[:], steps[:])
	variance := 0.0
	for i := range grad {
		for j := range grad {
			variance += grad[i] * grad[j] * f.cov[i][j]
		}
	}
	if !(variance > 0) {
		return math.NaN()
	}
	return math.Sqrt(variance)
}

// A Band is the curve at one attempt with two intervals that answer different
// questions: where the curve lies, and where the next single attempt will.
type Band struct {
	Attempt              float64
	Mean                 float64
	MeanLower, MeanUpper float64
	NextLower, NextUpper float64
}

// Bands evaluates both bands at the given attempts, in the unit of the
// response; NaN where the covariance of the fit is not known. For counts and
// passes the next attempt's band reads the noise's quantiles at the ends of the
// curve's band, which errs on the wide side.
func (f *Fit) Bands(attempts []float64) []Band {
	t := f.tQuantile()
	out := make([]Band, len(attempts))
	for i, n := range attempts {
		e := f.Delta("", false, func(c models.Curve) float64 { return c.At(n) })
		out[i] = f.bandAt(n, e, t)
	}
	return out
}

func (f *Fit) bandAt(n float64, e Estimate, t float64) Band {
	b := Band{Attempt: n, Mean: f.Noise.Mean(e.Value)}
	if !f.Noise.Additive() {
		lower, upper := e.Value-t*e.SE, e.Value+t*e.SE
		b.MeanLower, b.MeanUpper = f.Noise.Mean(lower), f.Noise.Mean(upper)
		b.NextLower = f.Noise.Quantile((1-f.Level)/2, lower, f.Scale)
		b.NextUpper = f.Noise.Quantile((1+f.Level)/2, upper, f.Scale)
		return b
	}
	se := e.SE * math.Exp(f.Noise.LogJacobian(e.Value, false)) // on the additive scale
	next := math.Hypot(se, models.ResidualSD(f.Noise, f.Scale))
	b.MeanLower, b.MeanUpper = f.Noise.Shift(e.Value, -t*se), f.Noise.Shift(e.Value, t*se)
	b.NextLower, b.NextUpper = f.Noise.Shift(e.Value, -t*next), f.Noise.Shift(e.Value, t*next)
	return b
}
