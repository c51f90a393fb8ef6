package compare

import (
	"math"
)

// Expected says which of an arm's numbers were expected of a trainee rather than seen.
type Expected struct {
	// Within is the variance of every trainee's number given all that is known of the
	// trainee: 0 where it was seen.
	Within []float64
	// Means are the arm's mean under each of equally likely truths about what all those
	// expected have in common: the cohort's parameters. The same truths in every arm.
	Means []float64
}

// ExpectedMeans compares means of which some numbers are expected: taking these for seen
// would make intervals too narrow. To the variance between trainees, with the expected
// numbers as they would scatter, comes that of what was not seen, its own and what it
// shares (Rubin, 1987, Multiple Imputation for Nonresponse in Surveys, section 3.3, with
// the draws worked out instead of drawn); t has the degrees of freedom of Barnard and
// Rubin (1999, Biometrika 86, 948-955). Clusters of one arm each are the unit, as in
// [Shift]; clusters across arms are not used, which makes the interval wider, not narrower,
// where trainees of a cluster are alike.
func ExpectedMeans(measure string, ref, arm Arm, refOpen, armOpen Expected, level float64) Contrast {
	c, ok := startMeans(measure, "t with expected numbers", ref, arm, level)
	open := openVariance(arm, armOpen) + openVariance(ref, refOpen) + sharedVariance(refOpen, armOpen)
	if !ok && !(open > 0 && min(c.ArmN, c.RefN) > 1 && c.Level > 0) {
		return c
	}
	if !ok {
		c.Warnings = nil // those seen do not differ, but those expected may
	}
	within, df := seenVariance(ref, arm, refOpen, armOpen)
	if math.IsNaN(within) {
		return c.byCluster(ref.Known(), arm.Known())
	}
	total := within + open
	if !(total > 0) {
		return c
	}
	if !(within > 0) { // those seen are all alike
		df = float64(c.ArmN + c.RefN - 2)
	}
	missing := open / total
	df = 1 / (missing*missing/math.Max(1, float64(len(armOpen.Means)+len(refOpen.Means))/2-1) + 1/((df+1)/(df+3)*df*(1-missing)))
	return c.student(math.Sqrt(total), df)
}

// seenVariance is that of the difference of means if all had been seen, with its degrees
// of freedom; NaN where an arm has a single cluster.
func seenVariance(ref, arm Arm, refOpen, armOpen Expected) (v, df float64) {
	of := func(a Arm, e Expected) (v, df float64) {
		known, n := a.Known(), 0.0
		var luck float64
		for i, x := range a.Values {
			if !math.IsNaN(x) {
				n++
				if e.Within != nil {
					luck += e.Within[i]
				}
			}
		}
		return (variance(known.Values) + luck/n) / n, n - 1
	}
	if whole, _ := clustered(ref, arm); whole {
		c := newContrast("", "", ref, arm)
		c.Level = 0.95
		c = c.byCluster(ref.Known(), arm.Known())
		return c.SE * c.SE, c.DF
	}
	va, da := of(arm, armOpen)
	vr, dr := of(ref, refOpen)
	return va + vr, (va + vr) * (va + vr) / (va*va/da + vr*vr/dr)
}

// openVariance is that of an arm's mean from the own luck of those expected.
func openVariance(a Arm, e Expected) float64 {
	sum, n := 0.0, 0.0
	for i, v := range a.Values {
		if !math.IsNaN(v) {
			n++
			if e.Within != nil {
				sum += e.Within[i]
			}
		}
	}
	if n == 0 {
		return 0
	}
	return sum / (n * n)
}

// sharedVariance is that of the difference of means from what those expected share.
func sharedVariance(ref, arm Expected) float64 {
	n := max(len(ref.Means), len(arm.Means))
	if n < 2 {
		return 0
	}
	of := func(e Expected, k int) float64 {
		if e.Means == nil {
			return 0
		}
		return e.Means[k]
	}
	diffs := make([]float64, n)
	for k := range diffs {
		diffs[k] = of(arm, k) - of(ref, k)
	}
	return variance(diffs)
}
