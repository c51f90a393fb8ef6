package compare

import (
	"math"
)

// Worth is how many trainees with equal shares would know as much of their own spread as
// these with unequal ones: (Σw)²/Σw² (Kish, 1965, Survey Sampling, section 8.2).
func Worth(weights []float64) float64 {
	sum, squares := 0.0, 0.0
	for _, w := range weights {
		sum, squares = sum+w, squares+w*w
	}
	return sum * sum / squares
}

// Leaning compares means of numbers that lean on some trainees more than on others, or on a
// curve: by t, with the degrees of freedom that so many trainees are worth (Satterthwaite,
// 1946, Biometrics Bulletin 2, 110-114; for contributions of unequal size Bell and McCaffrey,
// 2002, Survey Methodology 28, 169-181). Dealing such trainees out anew would take each for as
// good as the other. The standard error of shares is no smaller than if all had been seen:
// that of as many 0 and 1.
func Leaning(measure string, ref, arm Arm, refWorth, armWorth, level float64) Contrast {
	c, ok := startMeans(measure, "t of contributions", ref, arm, level)
	if !ok {
		return c
	}
	ref, arm = ref.Known(), arm.Known()
	n, m := float64(len(arm.Values)), float64(len(ref.Values))
	va, vr := variance(arm.Values)/n, variance(ref.Values)/m
	if arm.Share {
		p := math.Min(1, math.Max(0, (n*c.ArmValue+m*c.RefValue)/(n+m)))
		va, vr = math.Max(va, p*(1-p)/n), math.Max(vr, p*(1-p)/m)
		if ones := p * (n + m); p > 0 && p < 1 {
			c.fewApart(ones, lowestLeaning(ones, n, m, armWorth, refWorth))
		}
	}
	df := (va + vr) * (va + vr) / (va*va/math.Max(1, armWorth-1) + vr*vr/math.Max(1, refWorth-1))
	return c.student(math.Sqrt(va+vr), df)
}
