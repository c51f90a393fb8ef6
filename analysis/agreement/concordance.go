package agreement

import (
	"cmp"
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"tyro/analysis"
)

// LinCCC is Lin's concordance correlation of two columns: correlation times a
// factor for shift and scale. Lin (1989), Biometrics 45, 255-268, with the
// correction of 2000, Biometrics 56, 324; variances with divisor n, limits on
// the scale of Fisher's z. Columns of different lengths or a level outside of 0 to 1
// (0 means 0.95) are told by Err.
func LinCCC(x, y []float64, level float64) Coefficient {
	level, err := analysis.Level(level)
	if err = cmp.Or(err, checkColumns(len(x), len(y))); err != nil {
		return failed("lin-ccc", err)
	}
	c := unknown("lin-ccc", level, notDefined)
	var a, b []float64
	for i := range x {
		if !math.IsNaN(x[i]) && !math.IsNaN(y[i]) {
			a, b = append(a, x[i]), append(b, y[i])
		}
	}
	n := float64(len(a))
	if n < 3 {
		c.Note = "not defined: fewer than 3 subjects rated by both"
		return c
	}
	ma, sa := meanSD(a)
	mb, sb := meanSD(b)
	va, vb, cov := sa*sa*(n-1)/n, sb*sb*(n-1)/n, 0.0
	for i := range a {
		cov += (a[i] - ma) * (b[i] - mb) / n
	}
	shift := (ma - mb) * (ma - mb)
	if va+vb+shift == 0 {
		return c
	}
	p := 2 * cov / (va + vb + shift)
	c.Estimate, c.Note = p, ""
	r := cov / math.Sqrt(va*vb)
	u := shift / math.Sqrt(va*vb)
	v := ((1-r*r)*p*p*(1-p*p)/(r*r) + 2*p*p*p*(1-p)*u/r - p*p*p*p*u*u/(2*r*r)) / (n - 2)
	c.SE = math.Sqrt(v)
	z := distuv.UnitNormal.Quantile((1+level)/2) * c.SE / (1 - p*p)
	c.Lower, c.Upper = math.Tanh(math.Atanh(p)-z), math.Tanh(math.Atanh(p)+z)
	c.Method, c.Over = "normal on Fisher's z, asymptotic standard error", OverSubjects
	if math.IsNaN(c.SE) || !(c.SE > 1e-12) || math.IsNaN(c.Lower) {
		c.SE, c.Lower, c.Upper, c.Method = math.NaN(), math.NaN(), math.NaN(), ""
		c.Note = "no interval: one rater does not vary, or both agree fully"
	}
	return c
}
