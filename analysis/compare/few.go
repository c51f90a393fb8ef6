package compare

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/combin"
	"gonum.org/v1/gonum/stat/distuv"
)

// fewApart says where so few trainees of both arms have the other value than the rest that,
// however they fell to the arms, no p could be as low as 1 − level. That is no fault of the
// test: where nearly everybody is alike there is little to tell arms apart by, and any test
// that errs in no more than 1 − level of studies errs in far fewer there (Lehmann and Romano,
// 2005, Testing Statistical Hypotheses, section 3.2; mid-p gives back what it can).
func (c *Contrast) fewApart(ones, lowest float64) {
	n := float64(c.ArmN + c.RefN)
	if few := math.Min(ones, n-ones); lowest > 1-c.Level {
		c.warn("few-apart", fmt.Sprintf("only about %.3g of %.0f trainees differ from the others, and however these fell to the two arms p could not be below %.2g: no test can tell these arms apart, and this one errs on the safe side; read the interval", few, n, lowest))
	}
}

// countOnes is how many trainees have a 1; false where numbers are not 0 and 1.
func countOnes(arms ...Arm) (ones int, whole bool) {
	for _, a := range arms {
		for _, v := range a.Values {
			switch math.Round(v) {
			case 1:
				ones++
			case 0:
			default:
				return 0, false
			}
			if math.Abs(v-math.Round(v)) > 1e-9 {
				return 0, false
			}
		}
	}
	return ones, true
}

// lowestDealt is the lowest p of [Shift] by which so many ones among the trainees of two arms
// could be dealt to them, all deals gone through: that of the deal with as many as go into one
// arm, half of its chance counting on either side.
func lowestDealt(ones, n, m int) float64 {
	few := min(ones, n+m-ones)
	lowest := 1.0
	for _, size := range [][2]int{{n, m}, {m, n}} {
		in := min(few, size[0])
		log := combin.LogGeneralizedBinomial(float64(size[0]), float64(in)) + combin.LogGeneralizedBinomial(float64(size[1]), float64(few-in)) - combin.LogGeneralizedBinomial(float64(n+m), float64(few))
		lowest = math.Min(lowest, math.Exp(log))
	}
	return lowest
}

// lowestLeaning is the lowest p of [Leaning] at so many ones in all, the standard error being
// as small as it may.
func lowestLeaning(ones, n, m, nWorth, mWorth float64) float64 {
	few, p := math.Min(ones, n+m-ones), ones/(n+m)
	vn, vm := p*(1-p)/n, p*(1-p)/m
	df := (vn + vm) * (vn + vm) / (vn*vn/math.Max(1, nWorth-1) + vm*vm/math.Max(1, mWorth-1))
	lowest := 1.0
	for _, size := range [][2]float64{{n, m}, {m, n}} {
		in := math.Min(few, size[0])
		apart := in/size[0] - (few-in)/size[1]
		lowest = math.Min(lowest, 2*distuv.StudentsT{Mu: 0, Sigma: 1, Nu: df}.Survival(apart/math.Sqrt(vn+vm)))
	}
	return lowest
}
