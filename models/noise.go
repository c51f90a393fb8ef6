package models

import (
	"fmt"
	"math"
	"strings"
)

// A Noise says how single attempts scatter about the curve value m. The scale
// is its spread: a standard deviation in the unit of the response for Normal,
// of the natural logarithm for Lognormal; [ResidualSD] gives the standard deviation of any.
type Noise interface {
	Name() string
	// HasScale reports whether the noise has a scale to estimate.
	HasScale() bool
	// Additive reports whether a response is the curve plus noise on some
	// scale, so that residuals can be moved from one attempt to another.
	Additive() bool
	// Mean turns a curve value into the unit of the response, and Link turns it
	// back: the same number except where the curve runs on a logit or log
	// scale.
	Mean(m float64) float64
	Link(level float64) float64
	// Residual is the deviation of a response from the curve, on the scale on
	// which it is additive.
	Residual(y, m float64) float64
	// Shift is the response that has residual e: the inverse of Residual.
	Shift(m, e float64) float64
	// Loss is minus the log density of response y (minus the log chance of a
	// response above y when it is right-censored), up to LogJacobian.
	Loss(y, m, scale float64, censored bool) Loss
	// LogJacobian is the log of the derivative of the additive scale with
	// respect to the response: subtract it from Loss.Value to have minus the
	// log density in the unit of the response. 0 for a censored response.
	LogJacobian(y float64, censored bool) float64
	// CDF is the chance that one attempt is at most y.
	CDF(y, m, scale float64) float64
	// Quantile is the response that a share p of attempts stay at or under.
	Quantile(p, m, scale float64) float64
}

// Loss is one attempt's contribution to minus the log-likelihood with its
// derivatives in the curve value m and in the log of the scale.
type Loss struct{ Value, M, MM, S, MS, SS float64 }

// Noises lists the noise families.
func Noises() []Noise {
	return []Noise{Normal{}, Lognormal{}, Reciprocal{}, Student{}, LogStudent{}, Bernoulli{}, Poisson{}, NegativeBinomial{}}
}

// NoiseByName finds a noise family.
func NoiseByName(name string) (Noise, error) {
	var names []string
	for _, n := range Noises() {
		if n.Name() == name {
			return n, nil
		}
		names = append(names, n.Name())
	}
	return nil, fmt.Errorf("no noise family %q; known are %s", name, strings.Join(names, ", "))
}

// Normal noise: response = m + scale·z. The curve is the mean.
type Normal struct{}

func (Normal) Name() string                      { return "normal" }
func (Normal) HasScale() bool                    { return true }
func (Normal) Additive() bool                    { return true }
func (Normal) Mean(m float64) float64            { return m }
func (Normal) Link(level float64) float64        { return level }
func (Normal) Residual(y, m float64) float64     { return y - m }
func (Normal) Shift(m, e float64) float64        { return m + e }
func (Normal) LogJacobian(float64, bool) float64 { return 0 }
func (Normal) CDF(y, m, scale float64) float64   { return phiOver(y-m, scale) }
func (Normal) Quantile(p, m, scale float64) float64 {
	return m + scale*probit(p)
}

// Loss implements Noise.
func (Normal) Loss(y, m, scale float64, censored bool) Loss {
	return scaled(standardLoss, halfLog2Pi, y, m, scale, censored)
}

// scaled is the loss of m + scale·e where e has the given standard loss, with
// derivatives in e, up to the constant.
func scaled(standard func(e float64, censored bool) (l, d, dd float64), constant, y, m, scale float64, censored bool) Loss {
	e := (y - m) / scale
	l, d, dd := standard(e, censored)
	if !censored {
		l += math.Log(scale) + constant
	}
	return Loss{
		Value: l,
		M:     -d / scale, MM: dd / (scale * scale),
		S: -d*e + scaleTerm(censored), MS: (dd*e + d) / scale, SS: dd*e*e + d*e,
	}
}

var halfLog2Pi = 0.5 * math.Log(2*math.Pi)

// Lognormal noise: log response = log m + scale·z. The curve is the median;
// the mean is higher by the factor exp(scale²/2).
type Lognormal struct{}

func (Lognormal) Name() string                  { return "lognormal" }
func (Lognormal) HasScale() bool                { return true }
func (Lognormal) Additive() bool                { return true }
func (Lognormal) Mean(m float64) float64        { return m }
func (Lognormal) Link(level float64) float64    { return level }
func (Lognormal) Residual(y, m float64) float64 { return Log(y / m) }
func (Lognormal) Shift(m, e float64) float64    { return m * Exp(e) }
func (Lognormal) LogJacobian(y float64, censored bool) float64 {
	if censored {
		return 0
	}
	return -math.Log(y)
}
func (Lognormal) CDF(y, m, scale float64) float64 {
	if y <= 0 {
		return 0
	}
	return phiOver(Log(y/m), scale)
}
func (Lognormal) Quantile(p, m, scale float64) float64 { return m * Exp(scale*probit(p)) }

// Loss implements Noise. It is +Inf where the curve is not above 0.
func (Lognormal) Loss(y, m, scale float64, censored bool) Loss {
	if !(m > 0) {
		return Loss{Value: math.Inf(1)}
	}
	return throughLog(Normal{}.Loss(Log(y), Log(m), scale, censored), m)
}

// throughLog takes derivatives in η = log m to those in m.
func throughLog(l Loss, m float64) Loss {
	// By the chain rule: η' = 1/m, η'' = −1/m².
	l.MM = (l.MM - l.M) / (m * m)
	l.M /= m
	l.MS /= m
	return l
}

// standardLoss is minus the log density at e, or minus the log upper tail, of
// a standard normal variable, with two derivatives in e.
func standardLoss(e float64, censored bool) (l, d, dd float64) {
	if !censored {
		return e * e / 2, e, 1
	}
	// With hazard λ = φ/(1−Φ): d/de(−log(1−Φ)) = λ, and λ' = λ(λ − e).
	logTail := logUpperTail(e)
	λ := Exp(-e*e/2-logTail) / math.Sqrt(2*math.Pi)
	return -logTail, λ, λ * (λ - e)
}

func scaleTerm(censored bool) float64 {
	if censored {
		return 0
	}
	return 1
}

func phi(z float64) float64 {
	below, _ := StandardNormal(z)
	return below
}

// phiOver is the chance of a residual up to e. A scale of 0 puts all attempts on
// the curve.
func phiOver(e, scale float64) float64 {
	if e == 0 && scale == 0 {
		return 1
	}
	return phi(e / scale)
}

func probit(p float64) float64 { return -math.Sqrt2 * math.Erfcinv(2*p) }

// logUpperTail is log(1 − Φ(e)), by a continued fraction where erfc nears
// underflow.
func logUpperTail(e float64) float64 {
	switch {
	case e < 2: // where the error of the table is small beside the chance
		return Log(phi(-e))
	case e < 10:
		return math.Log(0.5 * math.Erfc(e/math.Sqrt2))
	}
	// 1 − Φ(e) = φ(e)/(e + 1/(e + 2/(e + 3/(e + …)))), Abramowitz and Stegun
	// (1964) 26.2.14.
	c := e
	for k := 40; k >= 1; k-- {
		c = e + float64(k)/c
	}
	return -e*e/2 - 0.5*math.Log(2*math.Pi) - math.Log(c)
}
