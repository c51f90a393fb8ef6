package models

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// StudentDF is the degrees of freedom of Student noise, held: enough tail to
// make single wild attempts harmless, not so little that the spread is lost
// (Lange, Little and Taylor, 1989, Journal of the American Statistical
// Association 84, 881-896, use 4 where it is not estimated).
const StudentDF = 4

// Student noise: response = m + scale·t with t on StudentDF degrees of freedom.
// The curve is the median; the standard deviation is scale·√2.
type Student struct{}

func (Student) Name() string                      { return "student" }
func (Student) HasScale() bool                    { return true }
func (Student) Additive() bool                    { return true }
func (Student) Mean(m float64) float64            { return m }
func (Student) Link(level float64) float64        { return level }
func (Student) Residual(y, m float64) float64     { return y - m }
func (Student) Shift(m, e float64) float64        { return m + e }
func (Student) LogJacobian(float64, bool) float64 { return 0 }

var studentT = distuv.StudentsT{Mu: 0, Sigma: 1, Nu: StudentDF}

// CDF implements Noise.
func (Student) CDF(y, m, scale float64) float64 {
	if scale == 0 && y == m {
		return 1
	}
	return studentT.CDF((y - m) / scale)
}

// Quantile implements Noise.
func (Student) Quantile(p, m, scale float64) float64 { return m + scale*studentT.Quantile(p) }

// Loss implements Noise.
func (Student) Loss(y, m, scale float64, censored bool) Loss {
	return scaled(studentLoss, studentConstant, y, m, scale, censored)
}

// studentConstant is minus the log density of t at 0.
var studentConstant = -studentT.LogProb(0)

func studentLoss(e float64, censored bool) (l, d, dd float64) {
	const ν = StudentDF
	slope := (ν + 1) * e / (ν + e*e)
	if !censored {
		return (ν + 1) / 2. * math.Log1p(e*e/ν), slope, (ν + 1) * (ν - e*e) / ((ν + e*e) * (ν + e*e))
	}
	tail := studentT.CDF(-e)
	λ := studentT.Prob(e) / tail
	return -math.Log(tail), λ, λ * (λ - slope)
}
