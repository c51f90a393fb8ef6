package agreement

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// By hand: loadings of 0.8, 0.6 and 0.5 make correlations of 0.48, 0.40 and 0.30. The general
// search finds the same; two negative loadings come back with their signs; correlations of
// 0.9, 0.9 and 0.5 would need a square of 1.62, which no loading has, and there is none where
// their product is negative.
func TestTriad(t *testing.T) {
	of := func(a, b, c float64) *mat.SymDense { return mat.NewSymDense(3, []float64{1, a, b, a, 1, c, b, c, 1}) }
	for _, want := range [][]float64{{0.8, 0.6, 0.5}, {0.8, -0.6, 0.5}} {
		corr := of(want[0]*want[1], want[0]*want[2], want[1]*want[2])
		got, unique, ok := triad(corr)
		searched, _ := factorEM(corr, allDigits)
		for i := range want {
			if !ok || math.Abs(got[i]-want[i]) > 1e-12 || math.Abs(unique[i]-(1-want[i]*want[i])) > 1e-12 || math.Abs(searched[i]-want[i]) > 1e-9 {
				t.Errorf("loadings %v, searched %v, want %v", got, searched, want)
			}
		}
	}
	for _, corr := range []*mat.SymDense{of(0.9, 0.9, 0.5), of(0.5, 0.5, -0.2), of(0, 0.5, 0.5), mat.NewSymDense(2, []float64{1, 0.5, 0.5, 1})} {
		if _, _, ok := triad(corr); ok {
			t.Errorf("a factor of %v", mat.Formatted(corr))
		}
	}
}
