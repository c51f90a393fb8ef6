package models

import (
	"math"
	"math/rand/v2"
	"testing"
)

// The standard library's functions, which are right to a rounding error, and by hand what is
// outside their tables.
func TestElementary(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	worstExp, worstLog := 0.0, 0.0
	for range 1_000_000 {
		x := 1400*r.Float64() - 700
		if r.IntN(2) == 0 {
			x /= 100
		}
		worstExp = math.Max(worstExp, math.Abs(Exp(x)/math.Exp(x)-1))
		y := math.Exp(x)
		if r.IntN(2) == 0 {
			y = 0.5 + r.Float64()
		}
		want := math.Log(y)
		worstLog = math.Max(worstLog, math.Abs(Log(y)-want)/math.Max(1, math.Abs(want)))
	}
	if worstExp > 4.5e-16 || worstLog > 4.5e-16 { // 3e-16 and the library's own
		t.Errorf("off by %.2g of e^x and by %.2g of the logarithm", worstExp, worstLog)
	}
	for _, x := range []float64{0, 1, -1, 700, -700, 709, -745, 1e-300, math.Inf(1), math.Inf(-1)} {
		if got, want := Exp(x), math.Exp(x); got != want && !(math.Abs(got/want-1) < 4.5e-16) {
			t.Errorf("Exp(%v) = %v, want %v", x, got, want)
		}
	}
	for _, x := range []float64{0, 5e-324, 1e-310, math.MaxFloat64, math.Inf(1)} {
		if got, want := Log(x), math.Log(x); got != want {
			t.Errorf("Log(%v) = %v, want %v", x, got, want)
		}
	}
	for _, v := range []float64{Exp(math.NaN()), Log(math.NaN()), Log(-1), Log(math.Inf(-1))} {
		if !math.IsNaN(v) {
			t.Errorf("%v, want no number", v)
		}
	}
	if Exp(0) != 1 {
		t.Errorf("Exp(0) = %v", Exp(0))
	}
}

func BenchmarkExp(b *testing.B) {
	x, sum := 0.0, 0.0
	for b.Loop() {
		x = math.Mod(x+0.37, 20)
		sum += Exp(-x)
	}
	_ = sum
}
