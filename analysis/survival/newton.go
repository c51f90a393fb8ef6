package survival

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/mat"

	"tyro/analysis/internal/numeric"
)

// An objective is a log-likelihood with its gradient and information (minus
// the second derivatives, or their expectation) at beta.
type objective func(beta []float64) (logLik float64, gradient []float64, information *mat.SymDense)

// errNoMaximum is returned when no step goes uphill.
var errNoMaximum = errors.New("the likelihood has no maximum that can be found; the covariates may be linearly dependent")

// A maximum is where Newton's method came to rest.
type maximum struct {
	beta       []float64
	logLik     float64
	covariance *mat.SymDense
	iterations int
}

// maximise climbs from start by Newton steps.
func maximise(f objective, start []float64) (maximum, error) {
	none := maximum{beta: start, logLik: math.NaN()}
	m, err := numeric.Newton(func(beta []float64) numeric.Point {
		logLik, gradient, information := f(beta)
		for j := range gradient {
			gradient[j] = -gradient[j]
		}
		return numeric.Point{Value: -logLik, Gradient: gradient, Hessian: func() (*mat.SymDense, bool) { return information, true }}
	}, start, numeric.Settings{})
	if err != nil && !errors.Is(err, numeric.ErrEndless) {
		return none, errNoMaximum
	}
	information, _ := m.Point.Hessian()
	covariance, ok := numeric.Inverse(information)
	if !ok {
		return none, errNoMaximum
	}
	return maximum{beta: m.X, logLik: -m.Point.Value, covariance: covariance, iterations: m.Steps}, nil
}
