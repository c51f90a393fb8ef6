package agreement

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"tyro/analysis"
	"tyro/analysis/internal/numeric"
)

// BinaryTable is the joint table of two raters who say yes with the rates given and agree
// with the kappa given: cells yes-yes, yes-no, no-yes, no-no. Rates that no such kappa can
// have are an error.
func BinaryTable(kappa, first, second float64) ([][]float64, error) {
	chance := first*second + (1-first)*(1-second)
	agree := kappa*(1-chance) + chance
	both := (agree - 1 + first + second) / 2
	t := [][]float64{{both, first - both}, {second - both, 1 - first - second + both}}
	for _, row := range t {
		for _, p := range row {
			if !(p >= -1e-12) {
				return nil, fmt.Errorf("planning: raters with rates of %g and %g cannot have a kappa of %g", first, second, kappa)
			}
		}
	}
	return t, nil
}

// KappaTableSubjects is [KappaSubjects] for any joint table of two raters, whose cells sum
// to 1, and any weights: n = 4z²·V/width².
func KappaTableSubjects(joint [][]float64, w Weights, width, level float64) (int, error) {
	level, err := analysis.Level(level)
	if err != nil {
		return 0, err
	}
	v, err := tableVariance(joint, w)
	if err != nil || !(width > 0 && width < 2) {
		return 0, fmt.Errorf("planning: expected a table that sums to 1 and a width between 0 and 2; got a width of %g", width)
	}
	return int(math.Ceil(4*v*square(zOf(level)/width) - 1e-9)), nil
}

// tableVariance is the variance of kappa for one subject.
func tableVariance(joint [][]float64, w Weights) (float64, error) {
	sum := 0.0
	for _, row := range joint {
		for _, p := range row {
			sum += p
		}
	}
	c := CohenKappa(joint, w, 0.95)
	if math.Abs(sum-1) > 1e-6 || math.IsNaN(c.SE) {
		return math.NaN(), fmt.Errorf("planning: a table that sums to %g", sum)
	}
	return c.SE * c.SE, nil
}

// KappaTableTestSubjects is [KappaTestSubjects] for the joint tables of two raters under
// the null and as they are taken to be, such as those of [BinaryTable].
func KappaTableTestSubjects(null, table [][]float64, alpha, power float64) (int, error) {
	v0, err := tableVariance(null, Identity)
	if err != nil {
		return 0, err
	}
	v1, err := tableVariance(table, Identity)
	if err != nil {
		return 0, err
	}
	k0, k1 := CohenKappa(null, Identity, 0.95).Estimate, CohenKappa(table, Identity, 0.95).Estimate
	if math.Abs(k0-k1) < 1e-9 || !(alpha > 0 && alpha < 1) || !(power > 0 && power < 1) {
		return 0, fmt.Errorf("planning: expected two different kappas, and alpha and power between 0 and 1")
	}
	z := distuv.UnitNormal.Quantile
	return int(math.Ceil(square((z(1-alpha/2)*math.Sqrt(v0)+z(power)*math.Sqrt(v1))/(k1-k0)) - 1e-9)), nil
}

// KappaFitSubjects is the number of subjects for a goodness-of-fit test of kappa against
// the value null, for two raters alike who say yes with the prevalence given: the
// non-centrality that gives the power, over the distance of the two distributions of pairs
// (Donner and Eliasziw, 1992, Statistics in Medicine 11, 1511-1519).
func KappaFitSubjects(null, kappa, prevalence, alpha, power float64) (int, error) {
	if null == kappa || !(prevalence > 0 && prevalence < 1) || !(alpha > 0 && alpha < 1) || !(power > alpha && power < 1) {
		return 0, fmt.Errorf("planning: expected two different kappas, and prevalence, alpha and a larger power between 0 and 1")
	}
	pairs := func(k float64) [3]float64 {
		q := prevalence * (1 - prevalence)
		return [3]float64{square(1-prevalence) + k*q, 2 * q * (1 - k), square(prevalence) + k*q}
	}
	p0, p1 := pairs(null), pairs(kappa)
	distance := 0.0
	for i := range p0 {
		if !(p0[i] > 0) || p1[i] < 0 {
			return 0, fmt.Errorf("planning: no pair of raters has a kappa of %g or %g at a prevalence of %g", null, kappa, prevalence)
		}
		distance += square(p1[i]-p0[i]) / p0[i]
	}
	normal := distuv.UnitNormal
	limit := normal.Quantile(1 - alpha/2)
	root, ok := numeric.Root(func(d float64) float64 { return normal.CDF(d-limit) + normal.CDF(-d-limit) - power }, 0, 40, numeric.Tolerance{})
	if !ok {
		return 0, fmt.Errorf("planning: no number of subjects gives a power of %g", power)
	}
	return int(math.Ceil(square(root)/distance - 1e-9)), nil
}
