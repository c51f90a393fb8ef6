package models

import "math"

// grain is the number of steps of the tables behind [Exp] and [Log].
const grain = 128

// powers are 2^(i/grain); inverses and logs are 1/c and ln c, c = 1 + (i + ½)/grain, of which
// 1/c is rounded first, so that ln c belongs to the very inverse.
var powers, inverses, logs = func() (p, inv, ln [grain]float64) {
	for i := range grain {
		p[i] = math.Exp2(float64(i) / grain)
		inv[i] = 1 / (1 + (float64(i)+0.5)/grain)
		ln[i] = -math.Log(inv[i])
	}
	return p, inv, ln
}()

// ln 2 over grain, cut so that its product with a whole number of 17 bits is exact, and the rest.
const (
	lnStep     = math.Ln2 / grain
	lnStepHigh = 0xb17217f7dp-43
	lnStepLow  = lnStep - lnStepHigh
)

// Exp is e^x to a rounding error or two, several times as fast as math.Exp: a table of 2^(i/128)
// and a polynomial for the rest (Tang, 1989, ACM Transactions on Mathematical Software 15, 144-157).
func Exp(x float64) float64 {
	if !(x > -700 && x < 700) {
		return math.Exp(x)
	}
	const shift = 3 << 51 // added and taken away it rounds to a whole number, whose bits stay behind
	whole := x*(1/lnStep) + shift
	bits := math.Float64bits(whole)
	whole -= shift
	r := x - whole*lnStepHigh - whole*lnStepLow
	rr := r * r
	p := r + rr*(0.5+r*(1./6)) + rr*rr*(1./24+r*(1./120))
	t := powers[bits%grain]
	return math.Float64frombits(math.Float64bits(t+t*p) + bits/grain<<52)
}

// Log is the natural logarithm to 3e-16, or 3e-16 of its value where that is more, several times as
// fast as math.Log (Tang, 1990, ACM Transactions on Mathematical Software 16, 378-400). Close to 1 the
// error is not small beside the logarithm: there use math.Log1p. The logarithm of 1 is 0.
func Log(x float64) float64 {
	if !(x > 0x1p-1000 && x < 0x1p1000) || x == 1 {
		return math.Log(x)
	}
	bits := math.Float64bits(x)
	i := bits >> 45 % grain
	k := float64(int64(bits>>52) - 1023)
	c := 1 + (float64(i)+0.5)*(1./grain)
	r := (math.Float64frombits(bits&(1<<52-1)|1023<<52) - c) * inverses[i]
	rr := r * r
	p := rr*(-0.5+r*(1./3)) + rr*rr*((-0.25+r*0.2)+rr*(-1./6+r*(1./7)))
	return (k*math.Ln2 + logs[i]) + (r + p)
}
