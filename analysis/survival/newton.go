package survival

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/mat"
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

// maximise climbs from start by Newton steps, halved while they lead down.
func maximise(f objective, start []float64) (maximum, error) {
	m := maximum{beta: append([]float64(nil), start...)}
	var gradient []float64
	var information *mat.SymDense
	m.logLik, gradient, information = f(m.beta)
	flat := 0 // steps in a row that gained next to nothing
	for m.iterations = 1; m.iterations <= 200; m.iterations++ {
		var chol mat.Cholesky
		if !chol.Factorize(information) || chol.Cond() > 1e15 {
			return m, errNoMaximum
		}
		var step mat.VecDense
		if err := chol.SolveVecTo(&step, mat.NewVecDense(len(gradient), gradient)); err != nil && chol.Cond() > 1e15 {
			return m, errNoMaximum
		}
		next := make([]float64, len(m.beta))
		logLik, size := math.Inf(-1), 1.0
		for range 40 {
			for j := range next {
				next[j] = m.beta[j] + size*step.AtVec(j)
			}
			var g []float64
			var h *mat.SymDense
			if logLik, g, h = f(next); logLik >= m.logLik-1e-12*math.Abs(m.logLik) {
				gradient, information = g, h
				break
			}
			size /= 2
		}
		if !(logLik >= m.logLik-1e-12*math.Abs(m.logLik)) {
			return m, errNoMaximum
		}
		moved := 0.0
		for j := range next {
			moved = math.Max(moved, math.Abs(next[j]-m.beta[j])/(1+math.Abs(next[j])))
		}
		gained := logLik - m.logLik
		m.beta, m.logLik = next, logLik
		if gained > 1e-10 {
			flat = 0
		} else {
			flat++
		}
		// Near a maximum two such steps leave rounding only. Elsewhere the
		// likelihood rises towards a limit that no finite value reaches.
		if moved < 1e-11 || flat == 2 {
			break
		}
	}
	m.covariance = mat.NewSymDense(len(m.beta), nil)
	var chol mat.Cholesky
	if !chol.Factorize(information) {
		return m, errNoMaximum
	}
	if err := chol.InverseTo(m.covariance); err != nil && chol.Cond() > 1e15 {
		return m, errNoMaximum
	}
	return m, nil
}
