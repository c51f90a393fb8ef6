package survival

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"

	"tyro/analysis"
)

// A Coefficient is a covariate's effect on the log hazard (for the logit link:
// on the log odds of the hazard). An infinite estimate means that the covariate
// sets those with the event apart from the others; it has no standard error.
type Coefficient struct {
	Estimate, SE, Lower, Upper float64
	Ratio                      float64 // exp(Estimate): the hazard ratio, or the odds ratio
	Z, P                       float64
}

func newCoefficient(estimate, se, level float64) Coefficient {
	z := distuv.UnitNormal.Quantile((1 + level) / 2)
	c := Coefficient{Estimate: estimate, SE: se, Lower: estimate - z*se, Upper: estimate + z*se, Ratio: math.Exp(estimate), Z: estimate / se}
	c.P = math.Erfc(math.Abs(c.Z) / math.Sqrt2)
	return c
}

// atInfinity is the standard error, a unit of the covariate's standard
// deviation taken as one, above which an effect is called infinite: the
// likelihood is then flat as far as numbers go.
const atInfinity = 100

// coefficients turns a maximum over centred covariates into coefficients, the
// first of which stands at position from.
func coefficients(m maximum, from int, d design, level float64) ([]Coefficient, []analysis.Warning) {
	var out []Coefficient
	var ws []analysis.Warning
	for j := range d.columns {
		c := newCoefficient(m.beta[from+j], math.Sqrt(m.covariance.At(from+j, from+j)), level)
		if c.SE*d.sd[j] > atInfinity {
			nan := math.NaN()
			inf := math.Inf(1)
			if c.Estimate < 0 {
				inf = math.Inf(-1)
			}
			c = Coefficient{Estimate: inf, SE: nan, Lower: nan, Upper: nan, Ratio: math.Exp(inf), Z: nan, P: nan}
			ws = append(ws, analysis.Warning{Code: "no-finite-effect", Text: fmt.Sprintf("covariate %d sets those with the event apart from the others, so its effect has no finite estimate; the likelihood ratio test still holds", j+1)})
		}
		out = append(out, c)
	}
	return out, ws
}

// A design is a table of covariates, one row a person, centred column by
// column.
type design struct {
	rows     [][]float64
	columns  int
	mean, sd []float64
}

// newDesign centres covariates; x may be nil for none.
func newDesign(x [][]float64, n int) (design, error) {
	d := design{rows: make([][]float64, n)}
	if x == nil {
		return d, nil
	}
	if len(x) != n {
		return d, fmt.Errorf("%d rows of covariates for %d observations", len(x), n)
	}
	if n == 0 {
		return d, errors.New("no observations")
	}
	d.columns = len(x[0])
	d.mean, d.sd = make([]float64, d.columns), make([]float64, d.columns)
	for i, row := range x {
		if len(row) != d.columns {
			return d, fmt.Errorf("observation %d has %d covariates, the first has %d", i+1, len(row), d.columns)
		}
		for j, v := range row {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				return d, fmt.Errorf("observation %d: covariate %d is unknown", i+1, j+1)
			}
			d.mean[j] += v / float64(n)
		}
	}
	for i, row := range x {
		d.rows[i] = make([]float64, d.columns)
		for j, v := range row {
			d.rows[i][j] = v - d.mean[j]
			d.sd[j] += d.rows[i][j] * d.rows[i][j] / float64(n)
		}
	}
	for j := range d.sd {
		if d.sd[j] = math.Sqrt(d.sd[j]); !(d.sd[j] > 1e-12*(1+math.Abs(d.mean[j]))) {
			return d, fmt.Errorf("covariate %d is the same for everybody", j+1)
		}
	}
	return d, nil
}

func dot(a, b []float64) float64 {
	s := 0.0
	for i := range a {
		s += a[i] * b[i]
	}
	return s
}

// scoreTest is the quadratic form of the gradient at the null.
func scoreTest(gradient []float64, information *mat.SymDense) Test {
	v := make([][]float64, len(gradient))
	for i := range v {
		v[i] = make([]float64, len(gradient))
		for j := range v[i] {
			v[i][j] = information.At(i, j)
		}
	}
	// The quadratic form wants the inverse of the information: the variance of
	// the gradient is the information itself.
	return chiSquareTest(quadratic(gradient, v))
}
