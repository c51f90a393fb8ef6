package models

import "math"

// LogStudent noise: log response = log m + scale·t with t on StudentDF degrees of freedom, so
// that a few attempts take far longer, or far shorter, than the others, by a factor. The curve
// is the median; no mean is known, since a tail that falls by a power of the logarithm has none
// (Cassidy, Hamp and Ouyed, 2010, Physica A 389, 5736-5748, on the log of prices).
type LogStudent struct{}

func (LogStudent) Name() string                  { return "log-student" }
func (LogStudent) HasScale() bool                { return true }
func (LogStudent) Additive() bool                { return true }
func (LogStudent) Mean(m float64) float64        { return m }
func (LogStudent) Link(level float64) float64    { return level }
func (LogStudent) Residual(y, m float64) float64 { return Log(y / m) }
func (LogStudent) Shift(m, e float64) float64    { return m * Exp(e) }

// LogJacobian implements Noise.
func (LogStudent) LogJacobian(y float64, censored bool) float64 {
	return Lognormal{}.LogJacobian(y, censored)
}

// CDF implements Noise.
func (LogStudent) CDF(y, m, scale float64) float64 {
	if y <= 0 {
		return 0
	}
	return Student{}.CDF(Log(y/m), 0, scale)
}

// Quantile implements Noise.
func (LogStudent) Quantile(p, m, scale float64) float64 { return m * Exp(scale*studentQuantile(p)) }

// Loss implements Noise. It is +Inf where the curve is not above 0.
func (LogStudent) Loss(y, m, scale float64, censored bool) Loss {
	if !(m > 0) {
		return Loss{Value: math.Inf(1)}
	}
	return throughLog(Student{}.Loss(Log(y), Log(m), scale, censored), m)
}
