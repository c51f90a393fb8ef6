package numeric

import (
	"slices"

	"gonum.org/v1/gonum/diff/fd"
	"gonum.org/v1/gonum/mat"
)

// Gradient is the derivative of f in each coordinate by central differences of the
// given steps; 0 in a coordinate whose step is 0, which is held.
func Gradient(f func(x []float64) float64, x, steps []float64) []float64 {
	at, out := slices.Clone(x), make([]float64, len(x))
	for i, h := range steps {
		if h == 0 {
			continue
		}
		out[i] = fd.Derivative(func(v float64) float64 {
			at[i] = v
			return f(at)
		}, x[i], &fd.Settings{Formula: fd.Central, Step: h})
		at[i] = x[i]
	}
	return out
}

// Hessian is the matrix of second derivatives by central differences of the
// gradient, made symmetric; false where the gradient has no number. Every
// coordinate has a step of its own, which gonum's Jacobian does not offer.
func Hessian(gradient func(x []float64) ([]float64, bool), x, steps []float64) (*mat.SymDense, bool) {
	n := len(x)
	at, columns := slices.Clone(x), make([][]float64, n)
	for i, h := range steps {
		at[i] = x[i] + h
		up, ok := gradient(at)
		if !ok {
			return nil, false
		}
		up = slices.Clone(up)
		at[i] = x[i] - h
		down, ok := gradient(at)
		if !ok {
			return nil, false
		}
		at[i] = x[i]
		for j := range up {
			up[j] = (up[j] - down[j]) / (2 * h)
		}
		columns[i] = up
	}
	out := mat.NewSymDense(n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			out.SetSym(i, j, (columns[i][j]+columns[j][i])/2)
		}
	}
	return out, true
}
