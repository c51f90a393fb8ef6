package models

import (
	"math"
	"testing"
)

// The standard library's erfc and exp, which are right to a rounding error or so.
func TestNormal(t *testing.T) {
	var chance, density float64
	for x := -12.0; x < 12; x += 0.000731 {
		p, d := StandardNormal(x)
		want := 0.5 * math.Erfc(-x/math.Sqrt2)
		chance = math.Max(chance, math.Abs(p-want))
		if x < -4.99 && math.Abs(p/want-1) > 1e-9 {
			t.Fatalf("at %v: %v, want %v", x, p, want)
		}
		density = math.Max(density, math.Abs(d-math.Exp(-x*x/2)/math.Sqrt(2*math.Pi)))
	}
	if chance > 4e-16 || density > 1e-14 {
		t.Errorf("off by %.2g of the chance and %.2g of the density", chance, density)
	}
	for _, c := range []struct{ x, p, d float64 }{{math.Inf(-1), 0, 0}, {math.Inf(1), 1, 0}, {0, 0.5, 0.3989422804014327}} {
		if p, d := StandardNormal(c.x); p != c.p || math.Abs(d-c.d) > 1e-15 {
			t.Errorf("at %v: %v and %v, want %v and %v", c.x, p, d, c.p, c.d)
		}
	}
	if p, _ := StandardNormal(math.NaN()); !math.IsNaN(p) {
		t.Errorf("at no number: %v", p)
	}
}
