package agreement

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"tyro/analysis"
	"tyro/analysis/resample"
)

// ICCSubjects is the number of subjects for an interval of icc(1,1) or
// icc(c,1) about as wide as asked, when the coefficient is icc and k raters
// rate each subject. Bonett (2002), Statistics in Medicine 21, 1331-1335, with
// his addition of 5·icc for two raters and an icc of 0.7 or more.
func ICCSubjects(icc float64, k int, width, level float64) (int, error) {
	level, err := analysis.Level(level)
	if err != nil {
		return 0, err
	}
	if !(icc >= 0 && icc < 1) || k < 2 || !(width > 0 && width < 2) {
		return 0, fmt.Errorf("planning: expected an icc from 0 to below 1, 2 or more raters and a width between 0 and 2; got %g, %d, %g", icc, k, width)
	}
	n := iccUnitVariance(icc, k)*4*square(zOf(level)/width) + 1
	if k == 2 && icc >= 0.7 {
		n += 5 * icc
	}
	return int(math.Ceil(n - 1e-9)), nil
}

// ICCWidth is the interval's expected width with n subjects, by the same
// formula; NaN for a level outside of 0 to 1 (0 means 0.95), fewer than 2 raters or
// an icc that is none.
func ICCWidth(icc float64, k, n int, level float64) float64 {
	level, err := analysis.Level(level)
	if err != nil || k < 2 || !(icc >= 0 && icc < 1) {
		return math.NaN()
	}
	m := float64(n) - 1
	if k == 2 && icc >= 0.7 {
		m -= 5 * icc
	}
	if !(m > 0) {
		return math.NaN()
	}
	return 2 * zOf(level) * math.Sqrt(iccUnitVariance(icc, k)/m)
}

// iccUnitVariance is the large-sample variance of the icc times n − 1.
func iccUnitVariance(icc float64, k int) float64 {
	q := float64(k)
	return 2 * square((1-icc)*(1+(q-1)*icc)) / (q * (q - 1))
}

func zOf(level float64) float64 { return distuv.UnitNormal.Quantile((1 + level) / 2) }
func square(v float64) float64  { return v * v }

// KappaSubjects is the number of subjects for a 95 % (or other level) interval
// of Cohen's kappa about as wide as asked, when both raters use the categories
// with the given shares: n = 4z²·V/width², V being the variance of Fleiss,
// Cohen and Everitt (1969) for one subject.
func KappaSubjects(kappa float64, shares []float64, width, level float64) (int, error) {
	v, err := kappaUnitVariance(kappa, shares)
	if err != nil {
		return 0, err
	}
	if level, err = analysis.Level(level); err != nil {
		return 0, err
	}
	if !(width > 0 && width < 2) {
		return 0, fmt.Errorf("planning: expected a width between 0 and 2, got %g", width)
	}
	return int(math.Ceil(4*v*square(zOf(level)/width) - 1e-9)), nil
}

// KappaWidth is the interval's expected width with n subjects; NaN for a level
// outside of 0 to 1 (0 means 0.95), and where [KappaSubjects] gives an error.
func KappaWidth(kappa float64, shares []float64, n int, level float64) float64 {
	level, wrong := analysis.Level(level)
	v, err := kappaUnitVariance(kappa, shares)
	if err != nil || wrong != nil || n < 1 {
		return math.NaN()
	}
	return 2 * zOf(level) * math.Sqrt(v/float64(n))
}

// KappaTestSubjects is the number of subjects for a two-sided test of kappa
// against the value null to have the power when kappa is true. Flack, Afifi,
// Lachenbruch and Schouten (1988), Psychometrika 53, 321-325.
func KappaTestSubjects(null, kappa float64, shares []float64, alpha, power float64) (int, error) {
	v0, err := kappaUnitVariance(null, shares)
	if err != nil {
		return 0, err
	}
	v1, err := kappaUnitVariance(kappa, shares)
	if err != nil {
		return 0, err
	}
	if null == kappa || !(alpha > 0 && alpha < 1) || !(power > 0 && power < 1) {
		return 0, fmt.Errorf("planning: expected two different kappas, and alpha and power between 0 and 1")
	}
	z := distuv.UnitNormal.Quantile
	n := square((z(1-alpha/2)*math.Sqrt(v0) + z(power)*math.Sqrt(v1)) / (kappa - null))
	return int(math.Ceil(n - 1e-9)), nil
}

func kappaUnitVariance(kappa float64, shares []float64) (float64, error) {
	sum := 0.0
	for _, p := range shares {
		if !(p > 0) {
			return math.NaN(), fmt.Errorf("planning: expected shares of categories above 0, got %v", shares)
		}
		sum += p
	}
	if len(shares) < 2 || math.Abs(sum-1) > 1e-6 || !(kappa >= 0 && kappa < 1) {
		return math.NaN(), fmt.Errorf("planning: expected a kappa from 0 to below 1 and shares of 2 or more categories that sum to 1; got %g and %v", kappa, shares)
	}
	q := len(shares)
	joint := make([][]float64, q)
	for i := range joint {
		joint[i] = make([]float64, q)
		for j := range joint[i] {
			joint[i][j] = (1 - kappa) * shares[i] * shares[j]
		}
		joint[i][i] += kappa * shares[i]
	}
	c := CohenKappa(joint, Identity, 0.95) // a table of total 1: the variance of one subject
	return c.SE * c.SE, nil
}

// A PlannedStudy is what is assumed about a study to come.
type PlannedStudy struct {
	ICC    float64   // planned icc of a single rating; used when Shares is nil
	Kappa  float64   // planned kappa
	Shares []float64 // of the categories; nil for an icc
	Raters int
	// RaterShare is the part of the variance that is not between subjects that
	// lies between raters; with 0 agreement and consistency coincide.
	RaterShare float64
}

// A PlannedWidth is what studies of one size would give.
type PlannedWidth struct {
	Coefficient      string
	Subjects, Raters int
	Formula          float64 // expected width by formula
	Width            float64 // mean width over simulated studies
	WidthUpper       float64 // width that 90 % of studies stay below
	Coverage         float64 // share of intervals that hold the planned value
	Studies, Failed  int     // simulated, and those without an interval
}

// SimulateWidth draws studies of n subjects and measures their intervals: the F
// interval of icc(a,1) or the interval of kappa (Cohen's for two raters, Fleiss'
// for more). The sampling's replicates are the studies.
func SimulateWidth(ctx context.Context, s PlannedStudy, n int, level float64, sampling resample.Sampling) (PlannedWidth, error) {
	level, err := analysis.Level(level)
	if err == nil {
		err = s.Check()
	}
	if err != nil {
		return PlannedWidth{}, err
	}
	w := PlannedWidth{Coefficient: s.Coefficient(), Subjects: n, Raters: s.Raters, Formula: s.FormulaWidth(n, level), Studies: sampling.Count()}
	truth := s.Truth()
	if n < 3 || s.Raters < 2 {
		return w, fmt.Errorf("planning: expected at least 3 subjects and 2 raters, got %d and %d", n, s.Raters)
	}
	ends, err := resample.Replicate(ctx, sampling, fmt.Sprintf("agreement/plan/%d/%d", n, s.Raters), func() func(*rand.Rand) [2]float64 {
		return func(rnd *rand.Rand) [2]float64 {
			c := s.Study(rnd, n, level)
			return [2]float64{c.Lower, c.Upper}
		}
	})
	if err != nil {
		return w, err
	}
	var widths []float64
	covered := 0.0
	for _, e := range ends {
		if math.IsNaN(e[0]) || math.IsNaN(e[1]) {
			w.Failed++
			continue
		}
		widths = append(widths, e[1]-e[0])
		if e[0] <= truth && truth <= e[1] {
			covered++
		}
	}
	slices.Sort(widths)
	w.Width, _ = meanSD(widths)
	w.WidthUpper = resample.Quantile(widths, 0.9)
	w.Coverage = covered / float64(len(widths))
	return w, nil
}

// Coefficient is the name of the coefficient planned for.
func (s PlannedStudy) Coefficient() string {
	switch {
	case s.Shares == nil:
		return "icc(a,1)"
	case s.Raters > 2:
		return "fleiss-kappa"
	}
	return "cohen-kappa"
}

// Truth is the coefficient that is assumed.
func (s PlannedStudy) Truth() float64 {
	if s.Shares == nil {
		return s.ICC
	}
	return s.Kappa
}

// FormulaWidth is the expected width of the interval with n subjects by formula; NaN
// where there is none.
func (s PlannedStudy) FormulaWidth(n int, level float64) float64 {
	switch {
	case s.Shares != nil && s.Raters == 2:
		return KappaWidth(s.Kappa, s.Shares, n, level)
	case s.Shares == nil && s.RaterShare == 0:
		return ICCWidth(s.ICC, s.Raters, n, level)
	}
	return math.NaN()
}

// Study draws the ratings of one study of n subjects and gives the coefficient with its
// interval.
func (s PlannedStudy) Study(rnd *rand.Rand, n int, level float64) Coefficient {
	if s.Shares == nil {
		return s.interval(s.drawICC(rnd, n), level)
	}
	return s.interval(s.drawKappa(rnd, n), level)
}

// Check reports assumptions that no study can meet.
func (s PlannedStudy) Check() error {
	if s.Shares != nil {
		_, err := kappaUnitVariance(s.Kappa, s.Shares)
		return err
	}
	if !(s.ICC >= 0 && s.ICC < 1) || !(s.RaterShare >= 0 && s.RaterShare <= 1) {
		return fmt.Errorf("planning: expected an icc from 0 to below 1 and a share between raters from 0 to 1; got %g and %g", s.ICC, s.RaterShare)
	}
	return nil
}

// interval is the coefficient's analytic interval, without any bootstrap.
func (s PlannedStudy) interval(r Ratings, level float64) Coefficient {
	name := s.Coefficient()
	if s.Shares == nil {
		return ICC(r, level)[1]
	}
	cats := make([]float64, len(s.Shares))
	for i := range cats {
		cats[i] = float64(i)
	}
	if name == "cohen-kappa" {
		return CohenKappa(Crosstab(r, cats), Identity, level)
	}
	c := encode(r, cats)
	w := Identity.matrix(cats)
	agreements, m := c.agreements(w), newMargins(c)
	m.of(c, agreements, everyone(c.n))
	k := unknown(name, level, notDefined)
	if k.Estimate = m.coefficient(pooled, w); math.IsNaN(k.Estimate) {
		return k
	}
	return k.analytic(standardError(c, agreements, pooled, w), float64(c.n-1), "Student t, linearised standard error")
}

func (s PlannedStudy) drawICC(rnd *rand.Rand, n int) Ratings {
	rest := 1 - s.ICC
	between, raters, noise := math.Sqrt(s.ICC), math.Sqrt(rest*s.RaterShare), math.Sqrt(rest*(1-s.RaterShare))
	severity := make([]float64, s.Raters)
	for j := range severity {
		severity[j] = raters * rnd.NormFloat64()
	}
	out := make(Ratings, n)
	for i := range out {
		p := between * rnd.NormFloat64()
		out[i] = make([]float64, s.Raters)
		for j := range out[i] {
			out[i][j] = p + severity[j] + noise*rnd.NormFloat64()
		}
	}
	return out
}

// drawKappa lets a rater see the subject's own category with chance √kappa and
// guess by the shares otherwise, which gives every pair that kappa.
func (s PlannedStudy) drawKappa(rnd *rand.Rand, n int) Ratings {
	guess := func() float64 {
		u := rnd.Float64()
		for q, p := range s.Shares {
			if u -= p; u < 0 {
				return float64(q)
			}
		}
		return float64(len(s.Shares) - 1)
	}
	sees := math.Sqrt(s.Kappa)
	out := make(Ratings, n)
	for i := range out {
		own := guess()
		for range s.Raters {
			v := own
			if rnd.Float64() >= sees {
				v = guess()
			}
			out[i] = append(out[i], v)
		}
	}
	return out
}
