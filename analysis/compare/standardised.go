package compare

import (
	"math"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/stat/distuv"

	"tyro/analysis/internal/numeric"
)

// CohenD is the difference of means over the common standard deviation. Its interval
// holds the effects for which the t seen is not in a tail of the non-central t
// distribution, so that it leaves out 0 exactly where Student's t test rejects
// (Cumming and Finch, 2001, Educational and Psychological Measurement 61, 532-574).
func CohenD(ref, arm Arm, level float64) Contrast {
	c := Pooled("cohen-d", ref, arm, level)
	if math.IsNaN(c.P) {
		c.Estimate = math.NaN()
		return c
	}
	ref, arm = ref.Known(), arm.Known()
	scale := math.Sqrt(1/float64(len(arm.Values)) + 1/float64(len(ref.Values)))
	t := c.Estimate / c.SE
	c.Estimate, c.SE = t*scale, math.NaN()
	tail := (1 - c.Level) / 2
	c.Lower, c.Upper = noncentrality(t, c.DF, 1-tail)*scale, noncentrality(t, c.DF, tail)*scale
	c.Describe()
	return c
}

// HedgesG is [CohenD] with the exact correction for small samples, interval included
// (Hedges, 1981, Journal of Educational Statistics 6, 107-128).
func HedgesG(ref, arm Arm, level float64) Contrast {
	c := CohenD(ref, arm, level)
	c.Measure = "hedges-g"
	a, _ := math.Lgamma(c.DF / 2)
	b, _ := math.Lgamma((c.DF - 1) / 2)
	j := math.Exp(a-b) / math.Sqrt(c.DF/2)
	c.Estimate, c.Lower, c.Upper = j*c.Estimate, j*c.Lower, j*c.Upper
	c.Describe()
	return c
}

// noncentrality is the value for which t is the p-quantile of the non-central t.
func noncentrality(t, df, p float64) float64 {
	d := newNonCentralT(df)
	f := func(nc float64) float64 { return d.atMost(t, nc) - p }
	lo, hi := t-10, t+10
	for f(lo) < 0 {
		lo -= 10 + math.Abs(lo)
	}
	for f(hi) > 0 {
		hi += 10 + math.Abs(hi)
	}
	root, _ := numeric.Root(f, lo, hi, numeric.Tolerance{})
	return root
}

// A nonCentralT is the non-central t distribution of some degrees of freedom: places of
// s = √(χ²/df) with their weights.
type nonCentralT struct{ s, weight []float64 }

func newNonCentralT(df float64) nonCentralT { return nonCentralTBelow(df, math.Inf(1)) }

// nonCentralTBelow has only the places below the largest s.
func nonCentralTBelow(df, largest float64) nonCentralT {
	const places = 240
	sd := 1 / math.Sqrt(2*df)
	d := nonCentralT{make([]float64, places), make([]float64, places)}
	from := math.Max(0, 1-9*sd)
	quad.Legendre{}.FixedLocations(d.s, d.weight, from, math.Max(from, math.Min(1+12*sd, largest)))
	chi := distuv.ChiSquared{K: df}
	for k, s := range d.s {
		d.weight[k] *= chi.Prob(s*s*df) * 2 * s * df
	}
	return d
}

// atMost is the chance of at most t: Φ(t·s − nc) averaged over s.
func (d nonCentralT) atMost(t, nc float64) float64 {
	sum := 0.0
	for k, s := range d.s {
		sum += d.weight[k] * distuv.UnitNormal.CDF(t*s-nc)
	}
	return sum
}

// TPower is the power of Student's two-sided t test of two arms of n and m trainees whose
// means are d standard deviations apart: the chance of a t beyond the limit on either
// side, of the non-central t distribution (Cohen, 1988, Statistical Power Analysis for the
// Behavioral Sciences, chapter 2). NaN where there is no test.
func TPower(d float64, n, m int, level float64) float64 {
	df := float64(n + m - 2)
	if n < 1 || m < 1 || df < 1 || math.IsNaN(d) || !(level > 0 && level < 1) {
		return math.NaN()
	}
	limit := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: df}.Quantile((1 + level) / 2)
	nc := math.Abs(d) / math.Sqrt(1/float64(n)+1/float64(m))
	t := newNonCentralT(df)
	return t.atMost(-limit, nc) + t.above(limit, nc)
}

// MarginPower is the power of Student's test of two arms of n and m trainees against a
// margin, in standard deviations, where the means are d of them apart: for non-inferiority
// the chance that the arm, of which more is better, is shown to be worse by less than the
// margin; for equivalence that both one-sided tests show it, each at 1 − level (Phillips,
// 1990, Journal of Pharmacokinetics and Biopharmaceutics 18, 137-144). NaN where there is no
// test.
func MarginPower(d, margin float64, nonInferior bool, n, m int, level float64) float64 {
	df := float64(n + m - 2)
	if n < 1 || m < 1 || df < 1 || math.IsNaN(d) || !(margin > 0) || !(level > 0 && level < 1) {
		return math.NaN()
	}
	c := math.Sqrt(1/float64(n) + 1/float64(m))
	if nonInferior {
		return newNonCentralT(df).above(quantileOf(df, (1+level)/2), (d+margin)/c)
	}
	limit, sum := quantileOf(df, level), 0.0
	t := nonCentralTBelow(df, margin/(c*limit)) // with a larger spread no interval is short enough
	for k, s := range t.s {
		normal := distuv.UnitNormal
		sum += t.weight[k] * (normal.CDF((margin-d)/c-limit*s) - normal.CDF((-margin-d)/c+limit*s))
	}
	return math.Max(0, sum)
}

// above is the chance of more than t.
func (d nonCentralT) above(t, nc float64) float64 {
	sum := 0.0
	for k, s := range d.s {
		sum += d.weight[k] * distuv.UnitNormal.CDF(nc-t*s)
	}
	return sum
}
