package models

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Products of values must be what each exponential gives by itself: on clocks that are whole
// numbers, their logarithms, logarithms with gaps, times out of order, twice the same, below 0
// and of no sums at all.
func TestFallsAreExponentials(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	clocks := map[string][]float64{"none": nil, "one": {0}, "disorder": {3, 1, 2, 5, 4}, "twice": {1, 1, 2, 2, 3}, "before 0": {-3, -2, -1, 0, 1, 2, 3}}
	for i := range 200 {
		n := float64(i + 1)
		clocks["whole"] = append(clocks["whole"], n)
		clocks["from 0"] = append(clocks["from 0"], n-1)
		clocks["logs"] = append(clocks["logs"], math.Log(n))
		clocks["any"] = append(clocks["any"], 10*r.Float64())
		if i%7 != 2 {
			clocks["gaps"] = append(clocks["gaps"], math.Log(n))
		}
	}
	for name, times := range clocks {
		f := NewFalls(times)
		for _, rate := range []float64{0, 1e-7, 0.03, 1, 40, 1e4, -0.5} {
			values := f.Extend(nil, rate, len(times)/2)
			values = f.Extend(values, rate, len(times))
			if len(values) != len(times) {
				t.Fatalf("%s: %d values at %d times", name, len(values), len(times))
			}
			for i, v := range values {
				want := math.Exp(-rate * times[i])
				if slack := 1e-15 * (10 + math.Abs(rate*times[i])); math.Abs(v-want) > slack*want && want > 1e-300 {
					t.Errorf("%s, rate %g: %v at time %v, want %v", name, rate, v, times[i], want)
				}
			}
		}
	}
}

// Along a curve the falling part is the family's own.
func TestAlongIsTheCurve(t *testing.T) {
	for _, f := range Families(1) {
		s := Shapes{0.13, 1.7}
		for i, h := range NewAlong(f, 60).Extend(nil, s, 60) {
			if want := f.shape.At(f.shape.Clock(float64(i+1)), s); math.Abs(h-want) > 1e-13*math.Abs(want) {
				t.Errorf("%s: %v at attempt %d, want %v", f.Name(), h, i+1, want)
			}
		}
	}
}
