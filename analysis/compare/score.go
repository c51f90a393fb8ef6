package compare

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// scoreTails are the tails at every difference of two shares, ones among so many trainees of arm
// and reference, by the score test: at each difference the shares that are most likely there give
// the variance (Miettinen and Nurminen, 1985, Statistics in Medicine 4, 213-226). Dealing 0 and 1
// out anew says nothing of differences other than none, and where hardly anybody of an arm has
// the other value its own spread says too little.
func scoreTails(ones, n, refOnes, m float64) func(difference float64) (above, below float64) {
	return func(difference float64) (above, below float64) {
		switch {
		case difference >= 1:
			return 1, 0
		case difference <= -1:
			return 0, 1
		}
		p := likelyShare(ones/n, refOnes/m, m/n, difference)
		q := p - difference
		v := (p*(1-p)/n + q*(1-q)/m) * (n + m) / (n + m - 1)
		off := ones/n - refOnes/m - difference
		if !(v > 0) {
			switch {
			case off > 1e-12:
				return 0, 1
			case off < -1e-12:
				return 1, 0
			}
			return 0.5, 0.5
		}
		z := off / math.Sqrt(v)
		return distuv.UnitNormal.Survival(z), distuv.UnitNormal.CDF(z)
	}
}

// likelyShare is the arm's share that is most likely where it differs from the reference's by so
// much: a is the share seen, r that of the reference, of whom there are t times as many. It is
// the one root between the ends of a cubic (Miettinen and Nurminen, 1985, appendix 1).
func likelyShare(a, r, t, difference float64) float64 {
	c3, c2 := 1+t, -(1 + t + a + t*r + difference*(t+2))
	c1, c0 := difference*difference+difference*(2*a+t+1)+a+t*r, -a*difference*(1+difference)
	third := c2 / c3 / 3
	v := third*third*third - c2*c1/(6*c3*c3) + c0/c3/2
	u := math.Copysign(math.Sqrt(math.Max(0, third*third-c1/c3/3)), v)
	at := -third
	if u != 0 {
		at += 2 * u * math.Cos((math.Pi+math.Acos(math.Max(-1, math.Min(1, v/(u*u*u)))))/3)
	}
	return math.Max(math.Max(0, difference), math.Min(math.Min(1, 1+difference), at))
}
