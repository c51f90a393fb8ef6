package resample

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"tyro/analysis"
)

// A Method turns replicates into an interval.
type Method string

// The interval methods.
const (
	Percentile Method = "percentile"
	Basic      Method = "basic"
	BCa        Method = "bca" // bias-corrected and accelerated
)

// An Interval is a confidence interval. An infinite end is a level or time
// that is not reached.
type Interval struct {
	Lower, Upper float64
	Level        float64
	Method       Method
	Replicates   int     // usable ones
	Failed       int     // replicates without a number (NaN)
	Infinite     float64 // share of usable replicates that are infinite
	Err          error   // a level that is none; the ends are then NaN
}

// MaxFailed is the share of failed replicates above which no interval is
// given: failures are not a random subset.
const MaxFailed = 0.10

// Refused reports whether too many replicates failed for an interval, or the level
// is none.
func (iv Interval) Refused() bool {
	return iv.Err != nil || iv.Replicates == 0 || float64(iv.Failed) > MaxFailed*float64(iv.Failed+iv.Replicates)
}

// Every interval takes a level as [analysis.Level] reads it: 0 means 0.95.

// PercentileInterval reads the ends off the replicates' own quantiles.
func PercentileInterval(replicates []float64, level float64) Interval {
	iv, sorted := prepare(replicates, level, Percentile)
	if iv.Refused() {
		return iv
	}
	iv.Lower, iv.Upper = Quantile(sorted, (1-iv.Level)/2), Quantile(sorted, (1+iv.Level)/2)
	return iv
}

// BasicInterval reflects the replicates' quantiles about the estimate:
// 2·estimate − quantile. Where a quantile is infinite so is the end.
func BasicInterval(estimate float64, replicates []float64, level float64) Interval {
	iv, sorted := prepare(replicates, level, Basic)
	if iv.Refused() {
		return iv
	}
	iv.Lower = 2*estimate - Quantile(sorted, (1+iv.Level)/2)
	iv.Upper = 2*estimate - Quantile(sorted, (1-iv.Level)/2)
	return iv
}

// BCaInterval is the bias-corrected and accelerated interval, with the
// acceleration given (see [Acceleration]). The bias correction is the normal
// quantile of the share of replicates below the estimate, ties counted half.
// Efron (1987), Journal of the American Statistical Association 82, 171-185.
func BCaInterval(estimate, acceleration float64, replicates []float64, level float64) Interval {
	iv, sorted := prepare(replicates, level, BCa)
	if iv.Refused() {
		return iv
	}
	below := 0.0
	for _, v := range sorted {
		if v < estimate {
			below++
		} else if v == estimate {
			below += 0.5
		}
	}
	n := float64(len(sorted))
	share := math.Min(math.Max(below/n, 0.5/n), 1-0.5/n)
	z0 := distuv.UnitNormal.Quantile(share)
	end := func(p float64) float64 {
		z := z0 + distuv.UnitNormal.Quantile(p)
		return Quantile(sorted, distuv.UnitNormal.CDF(z0+z/(1-acceleration*z)))
	}
	iv.Lower, iv.Upper = end((1-iv.Level)/2), end((1+iv.Level)/2)
	return iv
}

// Acceleration is the skewness measure of BCa from leave-one-out values:
// Σd³/(6(Σd²)^1.5) with d their mean minus each; 0 when they are all equal or
// one is not finite.
func Acceleration(leaveOneOut []float64) float64 {
	mean := 0.0
	for _, v := range leaveOneOut {
		mean += v / float64(len(leaveOneOut))
	}
	var s2, s3 float64
	for _, v := range leaveOneOut {
		d := mean - v
		s2 += d * d
		s3 += d * d * d
	}
	if a := s3 / (6 * math.Pow(s2, 1.5)); !math.IsNaN(a) && !math.IsInf(a, 0) {
		return a
	}
	return 0
}

// Quantile interpolates between order statistics so that the p-quantile of B
// sorted values stands at position (B+1)p (Davison and Hinkley, 1997, section
// 5.2.1, on a linear rather than a normal scale). Infinite neighbours are not
// interpolated: the nearer position wins.
func Quantile(sorted []float64, p float64) float64 {
	n := len(sorted)
	if n == 0 || math.IsNaN(p) {
		return math.NaN()
	}
	pos := p*float64(n+1) - 1
	if pos <= 0 {
		return sorted[0]
	}
	if pos >= float64(n-1) {
		return sorted[n-1]
	}
	i := int(pos)
	frac := pos - float64(i)
	lo, hi := sorted[i], sorted[i+1]
	if math.IsInf(lo, 0) || math.IsInf(hi, 0) {
		if frac < 0.5 {
			return lo
		}
		return hi
	}
	return lo + frac*(hi-lo)
}

// PermutationP is the two-sided permutation p value: the share of relabelled
// statistics at least as far from 0 as the observed one, which itself counts
// as one of them (Phipson and Smyth, 2010, Statistical Applications in
// Genetics and Molecular Biology 9, 39).
func PermutationP(observed float64, relabelled []float64) float64 {
	if math.IsNaN(observed) {
		return math.NaN()
	}
	const slack = 1e-9
	atLeast, usable := 1.0, 1.0
	for _, v := range relabelled {
		if math.IsNaN(v) {
			continue
		}
		usable++
		if math.Abs(v) >= math.Abs(observed)*(1-slack) {
			atLeast++
		}
	}
	return atLeast / usable
}

// prepare sorts the usable replicates and counts the rest; the ends start out
// unknown.
func prepare(replicates []float64, level float64, m Method) (Interval, []float64) {
	iv := Interval{Lower: math.NaN(), Upper: math.NaN(), Method: m}
	iv.Level, iv.Err = analysis.Level(level)
	sorted := make([]float64, 0, len(replicates))
	infinite := 0
	for _, v := range replicates {
		if math.IsNaN(v) {
			iv.Failed++
			continue
		}
		if math.IsInf(v, 0) {
			infinite++
		}
		sorted = append(sorted, v)
	}
	slices.Sort(sorted)
	iv.Replicates = len(sorted)
	if len(sorted) > 0 {
		iv.Infinite = float64(infinite) / float64(len(sorted))
	}
	return iv, sorted
}

// mostLevel is as near to 1 as a level can come: beyond it quantiles of the normal
// distribution have no digits, and no number of replicates could tell the difference.
const mostLevel = 1 - 1e-12

// ExpandedLevel widens a level for percentile intervals from replicates with df
// degrees of freedom, so that the tails read are those a Student t interval
// would leave: 2Φ(inflate·t) − 1 with t its quantile. The replicates of a plain
// case bootstrap of n are too narrow by √((n−1)/n), which inflate makes good; 1
// where they are not. Hesterberg (2015), The American Statistician 69, 371-386,
// calls the result an expanded percentile interval. It stays below 1, and is NaN
// for a level that is none.
func ExpandedLevel(level, df, inflate float64) float64 {
	level, err := analysis.Level(level)
	if err != nil {
		return math.NaN()
	}
	if df < 1 {
		return level
	}
	t := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: df}.Quantile((1 + level) / 2)
	return math.Min(2*distuv.UnitNormal.CDF(inflate*t)-1, mostLevel)
}
