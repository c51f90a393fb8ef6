package compare

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// A Margin is the largest difference that does not matter in practice, decided before
// the data were seen.
type Margin struct {
	Value float64 // above 0; of a ratio, above 1
	// NonInferior asks only that the arm is not worse by the margin; otherwise the arms
	// are to lie within the margin on both sides.
	NonInferior bool
	LowerBetter bool // smaller values are better; for NonInferior
}

// Within tests against a margin by the standard error and degrees of freedom of a
// contrast that has them: by two one-sided tests, with the interval of which both are
// read off, at level 2·level − 1 (Schuirmann, 1987, Journal of Pharmacokinetics and
// Biopharmaceutics 15, 657-680); for non-inferiority by one, at the contrast's level.
// Excludes says what follows.
func Within(c Contrast, m Margin) Contrast {
	out := c
	out.PAdjusted, out.PHochberg = math.NaN(), math.NaN()
	out.Margin, out.Method, out.P, out.Excludes = m.Value, "equivalence", math.NaN(), ""
	if m.NonInferior {
		out.Method = "non-inferiority"
	}
	estimate, margin := c.Estimate, m.Value
	if c.Ratio {
		estimate, margin = math.Log(estimate), math.Log(margin)
	}
	if !(c.SE > 0) || math.IsNaN(c.Level) || !(margin > 0) || !m.NonInferior && c.Level <= 0.5 { // an interval of 2·level − 1
		return out
	}
	tails := tailsOf(c.DF)
	over, under := tails((estimate+margin)/c.SE), tails((margin-estimate)/c.SE) // p against below −margin, above margin
	level := c.Level
	switch {
	case !m.NonInferior:
		out.P = math.Max(over, under)
		level = math.Round((2*c.Level-1)*1e12) / 1e12 // 90 % and not 89.99999999999999 %
	case m.LowerBetter:
		out.P = under
	default:
		out.P = over
	}
	half := quantileOf(c.DF, (1+level)/2) * c.SE
	out.Level, out.Lower, out.Upper = level, estimate-half, estimate+half
	if c.Ratio {
		out.Lower, out.Upper = math.Exp(out.Lower), math.Exp(out.Upper)
	}
	out.Excludes = m.verdict(out)
	return out
}

// tailsOf is the upper tail of t, or of the normal distribution without degrees of
// freedom.
func tailsOf(df float64) func(float64) float64 {
	if math.IsNaN(df) {
		return distuv.UnitNormal.Survival
	}
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: df}.Survival
}

func quantileOf(df, p float64) float64 {
	if math.IsNaN(df) {
		return distuv.UnitNormal.Quantile(p)
	}
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: df}.Quantile(p)
}

// verdict says what an interval means beside the margin.
func (m Margin) verdict(c Contrast) string {
	low, high, what := -m.Value, m.Value, "difference"
	if c.Ratio {
		low, high, what = 1/m.Value, m.Value, "ratio"
	}
	within := fmt.Sprintf("the %s lies within the margin of %.3g to %.3g", what, low, high)
	switch {
	case m.NonInferior && m.LowerBetter && c.Upper < high:
		return fmt.Sprintf("the arm is not worse by the margin of %.3g", high)
	case m.NonInferior && m.LowerBetter && c.Lower > high:
		return fmt.Sprintf("the arm is worse by more than the margin of %.3g", high)
	case m.NonInferior && m.LowerBetter:
		return fmt.Sprintf("being worse by the margin of %.3g is not excluded", high)
	case m.NonInferior && c.Lower > low:
		return fmt.Sprintf("the arm is not worse by the margin of %.3g", low)
	case m.NonInferior && c.Upper < low:
		return fmt.Sprintf("the arm is worse by more than the margin of %.3g", low)
	case m.NonInferior:
		return fmt.Sprintf("being worse by the margin of %.3g is not excluded", low)
	case c.Lower > low && c.Upper < high:
		return within
	case c.Lower > high || c.Upper < low:
		return fmt.Sprintf("the %s lies beyond the margin of %.3g to %.3g", what, low, high)
	}
	return fmt.Sprintf("a %s beyond the margin of %.3g to %.3g is not excluded", what, low, high)
}
