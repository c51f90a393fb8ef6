package numeric

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// mostCondition is the condition number beyond which a solution has no digits.
const mostCondition = 1e15

// Solve is x with a·x = b; false where a is not positive definite, as far as digits
// go.
func Solve(a *mat.SymDense, b []float64) ([]float64, bool) {
	var chol mat.Cholesky
	if !chol.Factorize(a) || !(chol.Cond() <= mostCondition) {
		return nil, false
	}
	x := mat.NewVecDense(len(b), nil)
	// An error now is a warning about the condition, which was looked at.
	_ = chol.SolveVecTo(x, mat.NewVecDense(len(b), b))
	return x.RawVector().Data, true
}

// Inverse is the inverse of a positive definite matrix; false where it is none, as
// far as digits go.
func Inverse(a *mat.SymDense) (*mat.SymDense, bool) { return InverseWithin(a, mostCondition) }

// InverseWithin is [Inverse] for a matrix whose condition number is at most the one
// given.
func InverseWithin(a *mat.SymDense, condition float64) (*mat.SymDense, bool) {
	var chol mat.Cholesky
	if !chol.Factorize(a) || !(chol.Cond() <= condition) {
		return nil, false
	}
	out := mat.NewSymDense(a.SymmetricDim(), nil)
	_ = chol.InverseTo(out)
	return out, true
}

// An Eigen is a symmetric matrix by its eigenvalues, in increasing order, and
// vectors, one a column.
type Eigen struct {
	Values  []float64
	Vectors mat.Dense
}

// Decompose finds eigenvalues and vectors; false where a holds no numbers.
func Decompose(a *mat.SymDense) (Eigen, bool) {
	var e Eigen
	for _, v := range a.RawSymmetric().Data {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return e, false
		}
	}
	var eig mat.EigenSym
	if !eig.Factorize(a, true) {
		return e, false
	}
	e.Values = eig.Values(nil)
	eig.VectorsTo(&e.Vectors)
	return e, true
}

// along is the part of b in the direction of eigenvector k.
func (e Eigen) along(k int, b []float64) float64 {
	sum := 0.0
	for i, v := range b {
		sum += e.Vectors.At(i, k) * v
	}
	return sum
}

// PseudoInverse leaves out the directions whose eigenvalue is at most a share of
// the largest, in which nothing varies; rank counts those that are kept.
func (e Eigen) PseudoInverse(share float64) (inverse *mat.SymDense, rank int) {
	n := len(e.Values)
	inverse = mat.NewSymDense(n, nil)
	for k, λ := range e.Values {
		if !(λ > share*e.Values[n-1]) {
			continue
		}
		rank++
		for i := range n {
			for j := i; j < n; j++ {
				inverse.SetSym(i, j, inverse.At(i, j)+e.Vectors.At(i, k)*e.Vectors.At(j, k)/λ)
			}
		}
	}
	return inverse, rank
}

// Quadratic is b'a⁻b with the same directions left out.
func (e Eigen) Quadratic(b []float64, share float64) (value float64, rank int) {
	n := len(e.Values)
	for k, λ := range e.Values {
		if !(λ > share*math.Max(0, e.Values[n-1])) {
			continue
		}
		along := e.along(k, b)
		value += along * along / λ
		rank++
	}
	return value, rank
}
