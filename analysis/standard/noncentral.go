package standard

import (
	"math"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/stat/distuv"

	"tyro/analysis/internal/numeric"
)

// noncentralCDF is P(T ≤ q) for the noncentral t distribution: the mean of
// Φ(q·w − shift) over w = √(χ²/df).
func noncentralCDF(q, df, shift float64) float64 {
	logC := math.Ln2 + df/2*math.Log(df/2)
	lg, _ := math.Lgamma(df / 2)
	logC -= lg
	spread := 12 / math.Sqrt(2*df)
	from, to := math.Max(0, 1-spread), 1+spread
	f := func(w float64) float64 {
		if w <= 0 {
			return 0
		}
		return math.Exp(logC+(df-1)*math.Log(w)-df*w*w/2) * distuv.UnitNormal.CDF(q*w-shift)
	}
	const panels = 32
	sum, width := 0.0, (to-from)/panels
	for i := range panels {
		a := from + float64(i)*width
		sum += quad.Fixed(f, a, a+width, 16, quad.Legendre{}, 0)
	}
	return sum
}

// noncentralQuantile brackets the quantile and closes in on it.
func noncentralQuantile(p, df, shift float64) float64 {
	at := func(q float64) float64 { return noncentralCDF(q, df, shift) - p }
	half := math.Abs(shift) + 10
	low, high := shift-half, shift+half
	fLow, fHigh := at(low), at(high)
	for fLow > 0 {
		low -= half
		half *= 2
		fLow = at(low)
	}
	for fHigh < 0 {
		high += half
		half *= 2
		fHigh = at(high)
	}
	q, _ := numeric.RootBetween(at, numeric.End{At: low, Value: fLow}, numeric.End{At: high, Value: fHigh}, numeric.Tolerance{F: 1e-15})
	return q
}
