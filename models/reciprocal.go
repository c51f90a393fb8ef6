package models

import "math"

// Reciprocal noise: −1/response = −1/m + scale·z, so that speed (one over
// time) is normal about the curve's speed. The curve is the median. Logs of
// such responses are skewed to the slow side, and scatter less the faster they
// are. The distribution of response times in Carpenter and Williams (1995),
// Nature 377, 59-62. The upper end of a range is +Inf where the speed may be 0
// or less.
type Reciprocal struct{}

func (Reciprocal) Name() string                  { return "reciprocal" }
func (Reciprocal) HasScale() bool                { return true }
func (Reciprocal) Additive() bool                { return true }
func (Reciprocal) Mean(m float64) float64        { return m }
func (Reciprocal) Link(level float64) float64    { return level }
func (Reciprocal) Residual(y, m float64) float64 { return 1/m - 1/y }

// Shift implements Noise.
func (Reciprocal) Shift(m, e float64) float64 {
	if speed := 1/m - e; speed > 0 {
		return 1 / speed
	}
	return math.Inf(1)
}

// LogJacobian implements Noise.
func (Reciprocal) LogJacobian(y float64, censored bool) float64 {
	if censored {
		return 0
	}
	return -2 * math.Log(y)
}

// CDF implements Noise.
func (Reciprocal) CDF(y, m, scale float64) float64 {
	if y <= 0 {
		return 0
	}
	return phiOver(1/m-1/y, scale)
}

// Quantile implements Noise.
func (r Reciprocal) Quantile(p, m, scale float64) float64 { return r.Shift(m, scale*probit(p)) }

// Loss implements Noise. It is +Inf where the curve is not above 0.
func (Reciprocal) Loss(y, m, scale float64, censored bool) Loss {
	if !(m > 0) {
		return Loss{Value: math.Inf(1)}
	}
	l := Normal{}.Loss(-1/y, -1/m, scale, censored)
	// Chain rule through η = −1/m: η' = 1/m², η'' = −2/m³.
	l.MM = (l.MM - 2*m*l.M) / (m * m * m * m)
	l.M /= m * m
	l.MS /= m * m
	return l
}
