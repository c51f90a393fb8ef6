package survival

import (
	"math"

	"gonum.org/v1/gonum/mat"
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
	var eig mat.EigenSym
	if !eig.Factorize(m, true) {
		return math.NaN(), 0
	}
	values := eig.Values(nil)
	var vectors mat.Dense
	eig.VectorsTo(&vectors)
	top := 0.0
	for _, λ := range values {
		top = math.Max(top, λ)
	}
	for c, λ := range values {
		if λ <= 1e-10*top || top == 0 {
			continue
		}
		along := 0.0
		for i := range k {
			along += vectors.At(i, c) * d[i]
		}
		value += along * along / λ
		rank++
	}
	return value, rank
}
