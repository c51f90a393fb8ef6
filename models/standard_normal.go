package models

import "math"

// A grid of standard normal values: the coefficients of Taylor polynomials of the distribution
// function about every eighth from −normalEnd to normalEnd. Its derivative of order n + 1 is the
// density times (−1)^n He_n, with Hermite's polynomials He_{n+1} = x·He_n − n·He_{n−1}.
const (
	normalEnd   = 9
	normalSteps = 8
	normalTerms = 11
)

var normalGrid = func() (grid [2*normalEnd*normalSteps + 1][normalTerms]float64) {
	for i := range grid {
		x := float64(i)/normalSteps - normalEnd
		c := &grid[i]
		c[0] = 0.5 * math.Erfc(-x/math.Sqrt2)
		below, he := 0.0, 1.0
		term := math.Exp(-x*x/2) / math.Sqrt(2*math.Pi) // density·(−1)^n/(n+1)!
		for n := range normalTerms - 1 {
			c[n+1] = term * he
			below, he = he, x*he-float64(n)*below
			term /= -float64(n + 2)
		}
	}
	return grid
}()

// StandardNormal is the chance that a standard normal variable stays at or below x, within 2e-16, and the
// density there, within 1e-14; several times as fast as by math.Erfc.
func StandardNormal(x float64) (below, density float64) {
	if !(x > -5 && x < normalEnd) { // far down what counts are the digits of the chance itself
		return 0.5 * math.Erfc(-x/math.Sqrt2), math.Exp(-x*x/2) / math.Sqrt(2*math.Pi)
	}
	i := int((x+normalEnd)*normalSteps + 0.5)
	d := x - (float64(i)/normalSteps - normalEnd)
	c := &normalGrid[i]
	// Even and odd powers apart, so that one does not wait for the other.
	dd := d * d
	even := c[2] + dd*(c[4]+dd*(c[6]+dd*(c[8]+dd*c[10])))
	odd := c[3] + dd*(c[5]+dd*(c[7]+dd*c[9]))
	below = c[0] + (d*c[1] + dd*(even+d*odd))
	even = 2*c[2] + dd*(4*c[4]+dd*(6*c[6]+dd*(8*c[8]+dd*(10*c[10]))))
	odd = 3*c[3] + dd*(5*c[5]+dd*(7*c[7]+dd*(9*c[9])))
	return below, c[1] + (d*even + dd*odd)
}
