package compare

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// CliffDelta is the chance that a trainee of the arm lies above one of the reference,
// less the chance of the reverse: −1 to 1 (Cliff, 1993, Psychological Bulletin 114,
// 494-509). The interval is the asymmetric one of Feng and Cliff (2004, Journal of
// Modern Applied Statistical Methods 3, 322-332) with the unbiased variance; p is the
// level at which that interval ends at 0.
func CliffDelta(ref, arm Arm, level float64) Contrast {
	c, ref, arm, ok := startOrder("cliff-delta", "cliff", ref, arm, level)
	if !ok {
		return c
	}
	n, m := len(arm.Values), len(ref.Values)
	sign := func(a, b float64) float64 {
		switch {
		case a > b:
			return 1
		case a < b:
			return -1
		}
		return 0
	}
	rows, cols, sum := make([]float64, n), make([]float64, m), 0.0
	for i, a := range arm.Values {
		for j, b := range ref.Values {
			s := sign(a, b)
			rows[i], cols[j], sum = rows[i]+s/float64(m), cols[j]+s/float64(n), sum+s
		}
	}
	d := sum / float64(n*m) // 1 where the arms do not overlap, to the last digit
	within := 0.0
	for _, a := range arm.Values {
		for _, b := range ref.Values {
			within += (sign(a, b) - d) * (sign(a, b) - d)
		}
	}
	fn, fm := float64(n), float64(m)
	v := (fm*fm*squares(rows) + fn*fn*squares(cols) - within) / (fn * fm * (fn - 1) * (fm - 1))
	c.Estimate = d
	if !(v > 1e-12) {
		if math.Abs(d) == 1 {
			c.warn("no-overlap", "every trainee of one arm lies above every trainee of the other, so the delta has no standard error")
		} else {
			c.warn("no-spread", "the trainees of each arm are all alike, so the delta has no standard error")
		}
		return c
	}
	c.SE = math.Sqrt(v)
	z := distuv.UnitNormal.Quantile((1 + c.Level) / 2)
	e := 1 - d*d
	half := z * c.SE * math.Sqrt(e*e+z*z*v)
	c.Lower, c.Upper = (d*e-half)/(e+z*z*v), (d*e+half)/(e+z*z*v)
	// The end is at 0 where d²e² = z²v(e² + z²v): a quadratic in z²v.
	u := (math.Sqrt(e*e*e*e+4*d*d*e*e) - e*e) / 2
	c.P = 2 * distuv.UnitNormal.Survival(math.Sqrt(u)/c.SE)
	c.Describe()
	return c
}
