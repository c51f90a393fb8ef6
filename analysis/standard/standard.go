// Package standard sets the level to reach from the performances of experts,
// from groups known to be competent or not, or from judges.
//
// A standard is a policy decision: no method finds a true one. Each method here
// says how sure its number is, and the caller keeps who decided, when and on
// which data.
//
// # Methods
//
// Experts: mean, mean and some standard deviations, median, percentile (common
// practice; interval of a normal quantile by the noncentral t distribution,
// Hahn and Meeker, 1991, Statistical Intervals, chapter 4; of a percentile by
// order statistics, chapter 5). Groups: contrasting groups and borderline group
// (Livingston and Zieky, 1982, Passing Scores), borderline regression (Kramer
// et al., 2003, Medical Education 37, 132-139). Judges: modified Angoff
// (Angoff, 1971; standard errors by generalizability theory, Brennan, 1995),
// Ebel (1972), and the compromise of Hofstee (1983; De Gruijter, 1985, Journal of
// Educational Measurement 22, 263-269). How far pass and fail from one test can be
// relied on: Livingston and Lewis (1995), see [Classify], without rounding: the
// effective number of items stays a fraction and passing begins halfway between
// possible scores. Rounded as published, false passes were off by up to 0.01 of all
// trainees, so by 0.0006 at most (testdata/standards/classification).
//
// # Direction
//
// Where lower is true, smaller values are better (times, errors): a pass is a
// value at or below the standard, and standard deviations are added to a mean.
// Otherwise a pass is a value at or above it, and they are subtracted.
package standard

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"gonum.org/v1/gonum/stat"
	"tyro/analysis"
)

// An Estimate is a standard with its uncertainty. Numbers that cannot be known
// are NaN, with a warning.
type Estimate struct {
	Value, SE, Lower, Upper float64
	Level                   float64 // of the interval
	Interval                string  // how it was made
	N                       int     // experts, trainees or judges used
	Warnings                []analysis.Warning
}

func (e *Estimate) warn(code, text string) {
	e.Warnings = append(e.Warnings, analysis.Warning{Code: code, Text: text})
}

// unknown is an estimate about which nothing can be said yet.
func unknown(n int, level float64) Estimate {
	nan := math.NaN()
	return Estimate{Value: nan, SE: nan, Lower: nan, Upper: nan, Level: level, N: n}
}

// Passes reports whether a value meets a standard.
func Passes(value, standard float64, lower bool) bool {
	if lower {
		return value <= standard
	}
	return value >= standard
}

// A Change counts trainees by where a standard is put inside its interval.
type Change struct {
	N, Pass, PassLower, PassUpper int // with the standard at its estimate, and at the ends of its interval
	Differ                        int // pass at one end and not at the other
}

// StatusChange counts how many trainees' status depends on where the standard
// lies inside its interval. Unknown values are left out.
func StatusChange(values []float64, e Estimate, lower bool) Change {
	var c Change
	for _, v := range values {
		if math.IsNaN(v) {
			continue
		}
		c.N++
		at, low, high := Passes(v, e.Value, lower), Passes(v, e.Lower, lower), Passes(v, e.Upper, lower)
		for p, n := range map[*int]bool{&c.Pass: at, &c.PassLower: low, &c.PassUpper: high, &c.Differ: low != high} {
			if n {
				*p++
			}
		}
	}
	return c
}

func mean(x []float64) float64 { return stat.Mean(x, nil) }

// sd is the sample standard deviation, n − 1 in the denominator; NaN for one.
func sd(x []float64) float64 { return stat.StdDev(x, nil) }

func sorted(x []float64) []float64 {
	out := slices.Clone(x)
	slices.Sort(out)
	return out
}

// quantile interpolates between order statistics at position 1 + (n − 1)p, as R and
// SciPy do unless told otherwise; gonum has no such kind.
func quantile(x []float64, p float64) float64 {
	s := sorted(x)
	if len(s) == 0 {
		return math.NaN()
	}
	at := p * float64(len(s)-1)
	i := min(int(at), len(s)-1)
	if i == len(s)-1 {
		return s[i]
	}
	return s[i] + (at-float64(i))*(s[i+1]-s[i])
}

func median(x []float64) float64 { return quantile(x, 0.5) }

// mad is the median distance from the median, scaled to the standard deviation
// of a normal distribution.
func mad(x []float64) float64 {
	m, far := median(x), make([]float64, len(x))
	for i, v := range x {
		far[i] = math.Abs(v - m)
	}
	return 1.4826 * median(far)
}

// tQuantile is Student's for two-sided intervals of a level.
func tQuantile(level, df float64) float64 {
	if df < 1 {
		return math.NaN()
	}
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: df}.Quantile((1 + level) / 2)
}
