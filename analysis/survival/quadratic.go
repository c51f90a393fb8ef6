package survival

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"tyro/analysis/internal/numeric"
)

// quadratic is d'V⁻d with the rank of V: the generalised inverse drops the
// directions in which nothing varies, of which there is always one.
func quadratic(d []float64, v [][]float64) (value float64, rank int) {
	k := len(d)
	m := mat.NewSymDense(k, nil)
	for i := range k {
		for j := range i + 1 {
			m.SetSym(i, j, v[i][j])
		}
	}
	e, ok := numeric.Decompose(m)
	if !ok {
		return math.NaN(), 0
	}
	return e.Quadratic(d, 1e-10)
}
