package models

import "math"

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

// studentCDF is the chance of at most e under t with 4 degrees of freedom. With
// c = e/√(4 + e²) its density (3/8)(1 + e²/4)^(−5/2) integrates to ½ + ¾c − ¼c³, which is
// ¼(1 + c)²(2 − c); 1 + c is 4/(r(r − e)) with r = √(4 + e²), which keeps its digits far below 0.
func studentCDF(e float64) float64 {
	if math.IsInf(e, 0) {
		return (1 + math.Copysign(1, e)) / 2
	}
	r := math.Sqrt(4 + e*e)
	if r > 1e100 { // e² may be no number
		r = math.Abs(e)
	}
	c := e / r
	above := 1 + c
	if e < 0 {
		above = 4 / (r * (r - e))
	}
	return above * above * (2 - c) / 4
}

// studentDensity is the density of t with 4 degrees of freedom.
func studentDensity(e float64) float64 {
	u := 1 + e*e/4
	return 0.375 / (u * u * math.Sqrt(u))
}

// studentQuantile undoes studentCDF: Shaw (2006), Journal of Computational Finance 9(4), 37-73,
// who solves the cubic for 4 degrees of freedom. In the far tails, where that loses digits, a
// Newton step on the logarithm of the chance gives them back.
func studentQuantile(p float64) float64 {
	switch {
	case p == 0.5:
		return 0
	case p > 0.5:
		return -studentQuantile(1 - p)
	case p <= 0:
		return math.Inf(-1)
	}
	root := 2 * math.Sqrt(p*(1-p))
	e := -2 * math.Sqrt(math.Cos(math.Acos(root)/3)/root-1)
	for range 2 {
		f := studentCDF(e)
		e -= f / studentDensity(e) * math.Log(f/p)
	}
	return e
}

// CDF implements Noise.
func (Student) CDF(y, m, scale float64) float64 {
	if scale == 0 && y == m {
		return 1
	}
	return studentCDF((y - m) / scale)
}

// Quantile implements Noise.
func (Student) Quantile(p, m, scale float64) float64 { return m + scale*studentQuantile(p) }

// Loss implements Noise.
func (Student) Loss(y, m, scale float64, censored bool) Loss {
	return scaled(studentLoss, studentConstant, y, m, scale, censored)
}

// studentConstant is minus the log density of t at 0.
var studentConstant = -math.Log(studentDensity(0))

func studentLoss(e float64, censored bool) (l, d, dd float64) {
	l, d, dd, _ = Student{}.Standard(e, censored)
	if !censored {
		l -= studentConstant
	}
	return l, d, dd
}

// Standard implements LocationScale.
func (Student) Standard(e float64, censored bool) (l, d1, d2, d3 float64) {
	const ν = StudentDF
	w := 1 / (ν + e*e)
	slope, bend := (ν+1)*e*w, (ν+1)*(ν-e*e)*w*w
	if !censored {
		return (ν+1)/2.*math.Log1p(e*e/ν) + studentConstant, slope, bend, 2 * (ν + 1) * e * (e*e - 3*ν) * w * w * w
	}
	tail := studentCDF(-e)
	λ := studentDensity(e) / tail
	d2 = λ * (λ - slope)
	return -math.Log(tail), λ, d2, d2*(λ-slope) + λ*(d2-bend)
}
