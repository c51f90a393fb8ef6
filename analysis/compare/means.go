package compare

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"tyro/analysis"
)

// Welch compares means with a standard error from each arm's own spread and Welch's
// degrees of freedom (Welch, 1947, Biometrika 34, 28-35).
func Welch(measure string, ref, arm Arm, level float64) Contrast {
	c, ok := startMeans(measure, "welch", ref, arm, level)
	if !ok {
		return c
	}
	ref, arm = ref.Known(), arm.Known()
	n, m := float64(len(arm.Values)), float64(len(ref.Values))
	va, vr := variance(arm.Values)/n, variance(ref.Values)/m
	return c.student(math.Sqrt(va+vr), (va+vr)*(va+vr)/(va*va/(n-1)+vr*vr/(m-1)))
}

// Pooled compares means with one spread for both arms: Student's t.
func Pooled(measure string, ref, arm Arm, level float64) Contrast {
	c, ok := startMeans(measure, "pooled-t", ref, arm, level)
	if !ok {
		return c
	}
	ref, arm = ref.Known(), arm.Known()
	n, m := float64(len(arm.Values)), float64(len(ref.Values))
	return c.student(pooledSD(ref, arm)*math.Sqrt(1/n+1/m), n+m-2)
}

func pooledSD(ref, arm Arm) float64 {
	return math.Sqrt((squares(ref.Values) + squares(arm.Values)) / float64(len(ref.Values)+len(arm.Values)-2))
}

// Ratio compares geometric means as a ratio, by Welch's method on logarithms.
func Ratio(measure string, ref, arm Arm, level float64) Contrast {
	c := Welch(measure, ref.Logs(), arm.Logs(), level)
	c.exponentiate()
	c.Describe()
	return c
}

// startMeans fills what every comparison of means has; false where there is none.
func startMeans(measure, method string, ref, arm Arm, level float64) (Contrast, bool) {
	ref, arm = ref.Known(), arm.Known()
	c := newContrast(measure, method, ref, arm)
	var err error
	if c.Level, err = analysis.Level(level); err != nil {
		c.warn("level", err.Error())
		return c, false
	}
	if len(ref.Values) == 0 || len(arm.Values) == 0 {
		return c, false
	}
	c.ArmValue, c.RefValue = mean(arm.Values), mean(ref.Values)
	size := 0.0 // of the numbers, beside which rounding is nothing
	for _, v := range slices.Concat(arm.Values, ref.Values) {
		size = math.Max(size, math.Abs(v))
	}
	if c.Estimate = c.ArmValue - c.RefValue; math.Abs(c.Estimate) < 1e-12*size {
		c.Estimate = 0
	}
	if min(len(ref.Values), len(arm.Values)) < 2 {
		c.warn("too-few-trainees", "an arm with fewer than 2 trainees gives no interval")
		return c, false
	}
	if math.Sqrt(squares(ref.Values)+squares(arm.Values)) <= 1e-10*size {
		c.warn("no-spread", "the trainees of each arm are all alike, so there is no spread to judge by and no interval")
		return c, false
	}
	return c, true
}

// student fills interval and p of an estimate with a standard error, by t.
func (c Contrast) student(se, df float64) Contrast {
	c.SE, c.DF = se, df
	t := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: df}
	half := t.Quantile((1+c.Level)/2) * se
	c.Lower, c.Upper = c.Estimate-half, c.Estimate+half
	c.P = 2 * t.Survival(math.Abs(c.Estimate)/se)
	c.Describe()
	return c
}
