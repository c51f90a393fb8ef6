package standard

import (
	"math"

	"gonum.org/v1/gonum/mat"
	"tyro/analysis/internal/numeric"
)

// A LogisticCut is a logistic regression of being competent on the value, and
// the value at which its chance is one half.
type LogisticCut struct {
	Intercept, Slope                 float64
	InterceptSE, SlopeSE, Covariance float64
	LogLikelihood                    float64
	Cut, CutSE                       float64 // standard error by the delta method
	Separated                        bool    // the groups do not overlap: the slope has no finite estimate
}

// At is the value at which the chance of being competent is p.
func (l LogisticCut) At(p float64) float64 { return (math.Log(p/(1-p)) - l.Intercept) / l.Slope }

// fitLogistic maximises the likelihood by Newton's method on values in units
// of their spread.
func fitLogistic(not, yes []float64) LogisticCut {
	nan := math.NaN()
	out := LogisticCut{nan, nan, nan, nan, nan, nan, nan, nan, false}
	all := append(append([]float64(nil), not...), yes...)
	center, scale := mean(all), sd(all)
	if !(scale > 0) {
		return out
	}
	a, b := sorted(not), sorted(yes)
	if a[len(a)-1] <= b[0] || b[len(b)-1] <= a[0] {
		out.Separated = true
		return out
	}
	at := func(x []float64) numeric.Point {
		c, s := x[0], x[1]
		p := numeric.Point{Gradient: make([]float64, 2)}
		var h [3]float64
		for i, v := range all {
			x := (v - center) / scale
			η := c + s*x
			y := 0.0
			if i >= len(not) {
				y = 1
			}
			chance := 1 / (1 + math.Exp(-η))
			p.Value += softplus(η) - y*η
			w := chance * (1 - chance)
			p.Gradient[0] += chance - y
			p.Gradient[1] += (chance - y) * x
			h[0] += w
			h[1] += w * x
			h[2] += w * x * x
		}
		p.Hessian = func() (*mat.SymDense, bool) { return mat.NewSymDense(2, []float64{h[0], h[1], h[1], h[2]}), true }
		return p
	}
	best, err := numeric.Newton(at, []float64{0, 0}, numeric.Settings{})
	information, _ := best.Point.Hessian()
	covariance, ok := numeric.Inverse(information)
	if err != nil || !ok {
		return out
	}
	c, s := best.X[0], best.X[1]
	vcc, vcs, vss := covariance.At(0, 0), covariance.At(0, 1), covariance.At(1, 1)
	m := center / scale // from the scaled to the given values: intercept c − s·m, slope s/scale
	out.Slope, out.Intercept, out.LogLikelihood = s/scale, c-s*m, -best.Point.Value
	out.SlopeSE = math.Sqrt(vss) / scale
	out.InterceptSE = math.Sqrt(vcc - 2*m*vcs + m*m*vss)
	out.Covariance = (vcs - m*vss) / scale
	out.Cut = center - scale*c/s
	dc, ds := -scale/s, scale*c/(s*s)
	out.CutSE = math.Sqrt(dc*dc*vcc + 2*dc*ds*vcs + ds*ds*vss)
	return out
}

// softplus is log(1 + e^x).
func softplus(x float64) float64 {
	if x > 0 {
		return x + math.Log1p(math.Exp(-x))
	}
	return math.Log1p(math.Exp(x))
}
