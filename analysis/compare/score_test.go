package compare

import (
	"context"
	"fmt"
	"math"
	"testing"

	"tyro/analysis/resample"
)

// Ends of 95 % intervals by R, which searches the likelihood (testdata/compare/score.R); the first
// is also published: 0.0528 to 0.3382 (Newcombe, 1998, Statistics in Medicine 17, 873-890, table
// II, 56/70 and 48/80, method 6).
func TestScoreTails(t *testing.T) {
	for _, x := range []struct{ ones, n, refOnes, m, lower, upper float64 }{
		{56, 70, 48, 80, 0.052829713, 0.338172940},
		{29, 30, 24, 30, 0.0034972692, 0.3476453105},
		{12, 12, 9, 12, -0.03228354, 0.53813901},
		{3, 17, 5, 40, -0.13242889, 0.30280952},
	} {
		tails := scoreTails(x.ones, x.n, x.refOnes, x.m)
		above, _ := tails(x.lower)
		_, below := tails(x.upper)
		near(t, fmt.Sprint("above the lower end of ", x), above, 0.025, 2e-6)
		near(t, fmt.Sprint("below the upper end of ", x), below, 0.025, 2e-6)
	}
}

// Shares that differ as far as can be: the most likely shares at a difference of 1 are 1 and 0,
// and no difference beyond is possible.
func TestScoreTailsAtTheEdge(t *testing.T) {
	tails := scoreTails(5, 5, 0, 5)
	if above, below := tails(1); above != 1 || below != 0 {
		t.Errorf("at 1: %v, %v", above, below)
	}
	if above, below := tails(0.9999); math.Abs(above-0.5) > 0.05 || math.Abs(below-0.5) > 0.05 {
		t.Errorf("just below 1: %v, %v", above, below)
	}
	if above, _ := tails(-1); above != 0 {
		t.Errorf("at -1: %v above", above)
	}
}

// The interval of shares leaves out 0 exactly where p says so, and lies between -1 and 1.
func TestShareIntervalAgreesWithP(t *testing.T) {
	share := func(ones, n int) Arm {
		a := Arm{Share: true, Values: make([]float64, n)}
		for i := range ones {
			a.Values[i] = 1
		}
		return a
	}
	for _, n := range []int{5, 12} {
		for x := range n + 1 {
			for y := range n + 1 {
				c, err := Shift(context.Background(), "share", share(y, n), share(x, n), 0, resample.Sampling{Replicates: 1000})
				if err != nil {
					t.Fatal(err)
				}
				if !c.Known() {
					continue
				}
				if outside := c.Lower > 0 || c.Upper < 0; outside != (c.P <= 0.05) {
					t.Errorf("%d and %d of %d: p %v, %v to %v", x, y, n, c.P, c.Lower, c.Upper)
				}
				if c.Lower < -1 || c.Upper > 1 || c.Lower > c.Estimate+1e-9 || c.Upper < c.Estimate-1e-9 {
					t.Errorf("%d and %d of %d: %v (%v to %v)", x, y, n, c.Estimate, c.Lower, c.Upper)
				}
			}
		}
	}
}
