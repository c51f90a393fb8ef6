package compare

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"

	"tyro/analysis"
)

// ErrAncova is wrapped by every error of data that cannot be adjusted.
var ErrAncova = errors.New("cannot adjust for the baseline")

// An Ancova compares arms at the same baseline.
type Ancova struct {
	N          int // trainees who enter
	DF         float64
	ResidualSD float64
	Slopes     []Slope // of the covariates, common to the arms
	Means      []AdjustedMean
	Pairs      []Contrast // every pair, later arms against earlier ones
	Group      FTest      // whether any arms differ
	Parallel   FTest      // whether slopes differ between arms, which the comparison takes them not to
	Warnings   []analysis.Warning
}

// A Slope is how much the response rises with a covariate.
type Slope struct {
	Covariate    string
	Estimate, SE float64
}

// An AdjustedMean is an arm's mean at the covariates' means over all trainees.
type AdjustedMean struct {
	Arm          string
	N            int
	Estimate, SE float64
}

// An FTest is a test of several coefficients at once.
type FTest struct{ F, DF1, DF2, P float64 }

// A Baseline is an attribute of trainees from before the arms differ: values by arm and
// trainee, as the arms have them.
type Baseline struct {
	Name   string
	Values [][]float64
}

// Adjust compares the arms by the linear model response = arm + covariates (analysis of
// covariance; Fisher, 1932, Statistical Methods for Research Workers, 4th edition,
// section 49.1; Senn, 2006, Statistics in Medicine 25, 4334-4344). Trainees with an
// unknown number are left out. Different slopes are tested and told.
func Adjust(measure string, arms []Arm, covariates []Baseline, level float64) (Ancova, error) {
	level, err := analysis.Level(level)
	if err != nil {
		return Ancova{}, err
	}
	a, k := len(arms), len(covariates)
	var y []float64
	var x, crossed [][]float64
	counts := make([]int, a)
	centre := make([]float64, k)
	for g, arm := range arms {
		for i, v := range arm.Values {
			row := make([]float64, a+k)
			row[g] = 1
			known := !math.IsNaN(v) && !math.IsInf(v, 0)
			for c, b := range covariates {
				row[a+c] = b.Values[g][i]
				known = known && !math.IsNaN(row[a+c]) && !math.IsInf(row[a+c], 0)
			}
			if !known {
				continue
			}
			counts[g]++
			y, x = append(y, v), append(x, row)
			for c := range centre {
				centre[c] += row[a+c]
			}
		}
	}
	for g, n := range counts {
		if n < 2 {
			return Ancova{}, fmt.Errorf("%w: arm %s has %d trainees with all the numbers, and 2 are needed", ErrAncova, arms[g].Name, n)
		}
	}
	for c := range centre {
		centre[c] /= float64(len(y))
	}
	for _, row := range x { // about their means, so that an arm's coefficient is its adjusted mean
		wide := append([]float64(nil), row[:a]...)
		for c := range centre {
			row[a+c] -= centre[c]
			for g := range a {
				wide = append(wide, row[g]*row[a+c])
			}
		}
		crossed = append(crossed, wide)
	}
	full, ok := regress(x, y)
	if !ok {
		return Ancova{}, fmt.Errorf("%w: the covariates cannot be told from each other or from the arms, or trainees are too few", ErrAncova)
	}
	if full.rss == 0 {
		return Ancova{}, fmt.Errorf("%w: the arms and the covariates give every number exactly, so there is nothing left to judge by", ErrAncova)
	}
	out := Ancova{N: len(y), DF: full.df, ResidualSD: math.Sqrt(full.rss / full.df)}
	for c, b := range covariates {
		out.Slopes = append(out.Slopes, Slope{b.Name, full.beta[a+c], full.se(a+c, a+c)})
	}
	for g, arm := range arms {
		out.Means = append(out.Means, AdjustedMean{arm.Name, counts[g], full.beta[g], full.se(g, g)})
		for r := range g {
			c := newContrast(measure, "ancova", arms[r], arm)
			c.Level, c.ArmN, c.RefN = level, counts[g], counts[r]
			c.ArmValue, c.RefValue = full.beta[g], full.beta[r]
			c.Estimate = c.ArmValue - c.RefValue
			out.Pairs = append(out.Pairs, c.student(full.se(g, r), full.df))
		}
	}
	common := make([][]float64, len(x)) // one mean for all arms
	for i, row := range x {
		common[i] = append([]float64{1}, row[a:]...)
	}
	out.Group = full.against(common, y)
	out.Parallel = FTest{math.NaN(), math.NaN(), math.NaN(), math.NaN()}
	if wide, ok := regress(crossed, y); ok && k > 0 {
		out.Parallel = wide.against(x, y)
	}
	if out.Parallel.P < 0.05 {
		out.Warnings = append(out.Warnings, analysis.Warning{Code: "slopes-differ", Text: fmt.Sprintf(
			"the slope on the baseline differs between arms (F = %.3g, p = %.2g): the difference between arms depends on where trainees start, and one adjusted difference is doubtful", out.Parallel.F, out.Parallel.P)})
	}
	out.Warnings = append(out.Warnings, apart(arms, covariates)...)
	return out, nil
}

// apart tells pairs of arms that have no value of a covariate in common: what they would do at
// the same value nobody has seen.
func apart(arms []Arm, covariates []Baseline) []analysis.Warning {
	var out []analysis.Warning
	for _, b := range covariates {
		for g := range arms {
			for r := range g {
				low, high := rangeOf(arms[g].Values, b.Values[g])
				refLow, refHigh := rangeOf(arms[r].Values, b.Values[r])
				if low <= refHigh && refLow <= high {
					continue
				}
				out = append(out, analysis.Warning{Code: "baselines-apart", Text: fmt.Sprintf(
					"%s lies from %.4g to %.4g in arm %s and from %.4g to %.4g in arm %s: the two have no value in common, so their difference at the same value rests on a straight line beyond what was seen, and is doubtful",
					b.Name, low, high, arms[g].Name, refLow, refHigh, arms[r].Name)})
			}
		}
	}
	return out
}

// rangeOf is the lowest and highest value of those whose response is known.
func rangeOf(response, values []float64) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for i, v := range values {
		if !math.IsNaN(response[i]) && !math.IsNaN(v) {
			low, high = math.Min(low, v), math.Max(high, v)
		}
	}
	return low, high
}

// A regression is a least squares fit.
type regression struct {
	beta    []float64
	inverse *mat.Dense // of XᵀX
	rss, df float64
}

// roundingLeft is the share of the squares of numbers that rounding leaves of residuals that are 0.
const roundingLeft = 1e-24

// regress fits by a QR decomposition; false where coefficients cannot be told apart or
// nothing is left to estimate a spread from.
func regress(x [][]float64, y []float64) (regression, bool) {
	n, k := len(y), len(x[0])
	if n <= k {
		return regression{}, false
	}
	flat := make([]float64, 0, n*k)
	for _, row := range x {
		flat = append(flat, row...)
	}
	m := mat.NewDense(n, k, flat)
	var qr mat.QR
	qr.Factorize(m)
	if qr.Cond() > 1e10 {
		return regression{}, false
	}
	var beta, fitted mat.VecDense
	if qr.SolveVecTo(&beta, false, mat.NewVecDense(n, y)) != nil {
		return regression{}, false
	}
	fitted.MulVec(m, &beta)
	out := regression{beta: beta.RawVector().Data, df: float64(n - k), inverse: mat.NewDense(k, k, nil)}
	size := 0.0
	for i, v := range y {
		size += v * v
		out.rss += (v - fitted.AtVec(i)) * (v - fitted.AtVec(i))
	}
	if out.rss < roundingLeft*size {
		out.rss = 0
	}
	var r, ri mat.Dense
	qr.RTo(&r)
	if ri.Inverse(r.Slice(0, k, 0, k)) != nil {
		return regression{}, false
	}
	out.inverse.Mul(&ri, ri.T())
	return out, true
}

// se is the standard error of a coefficient, or of one less another.
func (r regression) se(a, b int) float64 {
	v := r.inverse.At(a, a)
	if a != b {
		v += r.inverse.At(b, b) - 2*r.inverse.At(a, b)
	}
	return math.Sqrt(v * r.rss / r.df)
}

// against compares the fit with one of fewer columns.
func (r regression) against(x [][]float64, y []float64) FTest {
	small, ok := regress(x, y)
	if !ok {
		nan := math.NaN()
		return FTest{nan, nan, nan, nan}
	}
	t := FTest{DF1: small.df - r.df, DF2: r.df}
	t.F = math.Max(0, small.rss-r.rss) / t.DF1 / (r.rss / r.df) // rounding leaves a little below 0
	if t.P = math.NaN(); !math.IsNaN(t.F) && !math.IsInf(t.F, 1) {
		t.P = distuv.F{D1: t.DF1, D2: t.DF2}.Survival(t.F)
	}
	return t
}
