package models

import (
	"math"
	"sort"

	"gonum.org/v1/gonum/mathext"
	"gonum.org/v1/gonum/stat/distuv"
)

// Noises whose curve runs on another scale than the response: pass or fail on
// the logit scale, counts on the log scale. Their scale, where they have one, is
// not a standard deviation.

// Bernoulli noise: the response is 1 for a pass, 0 for a fail, and the curve m is
// the logit of the chance to pass, between the limits of guessing and lapsing:
// chance = Guess + (1 − Guess − Lapse)/(1 + exp(−m)). It has no scale.
type Bernoulli struct{ Guess, Lapse float64 }

func (Bernoulli) Name() string                      { return "bernoulli" }
func (Bernoulli) HasScale() bool                    { return false }
func (Bernoulli) Additive() bool                    { return false }
func (Bernoulli) LogJacobian(float64, bool) float64 { return 0 }

// Mean is the chance to pass.
func (b Bernoulli) Mean(m float64) float64 { return b.Guess + b.spread()/(1+Exp(-m)) }

func (b Bernoulli) spread() float64 { return 1 - b.Guess - b.Lapse }

// Link is the curve value at which the chance to pass is p; NaN outside the
// limits.
func (b Bernoulli) Link(p float64) float64 {
	q := (p - b.Guess) / b.spread()
	return math.Log(q / (1 - q))
}

// Residual is response minus chance.
func (b Bernoulli) Residual(y, m float64) float64 { return y - b.Mean(m) }

// CDF implements Noise.
func (b Bernoulli) CDF(y, m, _ float64) float64 {
	switch {
	case y < 0:
		return 0
	case y < 1:
		return 1 - b.Mean(m)
	}
	return 1
}

// Quantile implements Noise.
func (b Bernoulli) Quantile(p, m, _ float64) float64 {
	if p <= 1-b.Mean(m) {
		return 0
	}
	return 1
}

// Loss implements Noise.
func (b Bernoulli) Loss(y, m, _ float64, _ bool) Loss {
	if b.Guess == 0 && b.Lapse == 0 {
		p := 1 / (1 + Exp(-m))
		return Loss{Value: math.Max(m, 0) + math.Log1p(Exp(-math.Abs(m))) - y*m, M: p - y, MM: p * (1 - p)}
	}
	s := 1 / (1 + Exp(-m))
	r := b.spread()
	p, d1 := b.Guess+r*s, r*s*(1-s)
	d2 := d1 * (1 - 2*s)
	if y == 0 {
		p, d1, d2 = 1-p, -d1, -d2
	}
	return Loss{Value: -math.Log(p), M: -d1 / p, MM: (d1*d1/p - d2) / p}
}

// Third implements Thirder. With p the chance of the response seen and derivatives d1, d2, d3
// of it in m, minus the third derivative of log p is (3·d1·d2 − 2·d1³/p)/p² − d3/p.
func (b Bernoulli) Third(y, m, _ float64) (mmm, mms, mss, sss float64) {
	s := 1 / (1 + math.Exp(-m))
	r := b.spread()
	p, d1 := b.Guess+r*s, r*s*(1-s)
	d2 := d1 * (1 - 2*s)
	d3 := d2*(1-2*s) - 2*d1*s*(1-s)
	if y == 0 {
		p, d1, d2, d3 = 1-p, -d1, -d2, -d3
	}
	return (3*d1*d2-2*d1*d1*d1/p)/(p*p) - d3/p, 0, 0, 0
}

// Poisson noise: the response is a count with mean exp(m). It has no scale.
type Poisson struct{}

func (Poisson) Name() string                      { return "poisson" }
func (Poisson) HasScale() bool                    { return false }
func (Poisson) Additive() bool                    { return false }
func (Poisson) LogJacobian(float64, bool) float64 { return 0 }
func (Poisson) Mean(m float64) float64            { return math.Exp(m) }
func (Poisson) Link(mean float64) float64         { return math.Log(mean) }
func (Poisson) Residual(y, m float64) float64     { return y - math.Exp(m) }

// CDF implements Noise.
func (Poisson) CDF(y, m, _ float64) float64 {
	mu := Exp(m)
	switch {
	case y < 0 || math.IsInf(mu, 1):
		return 0
	case mu == 0:
		return 1
	}
	if last := math.Floor(y); last <= fewCounts && mu < 600 {
		return sumOfCounts(Exp(-mu), last, mu, 0)
	}
	return distuv.Poisson{Lambda: mu}.CDF(y)
}

// Quantile implements Noise.
func (p Poisson) Quantile(q, m, scale float64) float64 { return countQuantile(p, q, m, scale) }

// Loss implements Noise.
func (Poisson) Loss(y, m, _ float64, _ bool) Loss {
	mu := math.Exp(m)
	lg, _ := math.Lgamma(y + 1)
	return Loss{Value: mu - y*m + lg, M: mu - y, MM: mu}
}

// Third implements Thirder.
func (Poisson) Third(_, m, _ float64) (mmm, mms, mss, sss float64) { return math.Exp(m), 0, 0, 0 }

// NegativeBinomial noise: the response is a count with mean μ = exp(m) and variance
// μ + scale·μ², more spread than Poisson.
type NegativeBinomial struct{}

func (NegativeBinomial) Name() string                      { return "negative-binomial" }
func (NegativeBinomial) HasScale() bool                    { return true }
func (NegativeBinomial) Additive() bool                    { return false }
func (NegativeBinomial) LogJacobian(float64, bool) float64 { return 0 }
func (NegativeBinomial) Mean(m float64) float64            { return math.Exp(m) }
func (NegativeBinomial) Link(mean float64) float64         { return math.Log(mean) }
func (NegativeBinomial) Residual(y, m float64) float64     { return y - math.Exp(m) }

// CDF implements Noise, by the regularised incomplete beta function.
func (NegativeBinomial) CDF(y, m, scale float64) float64 {
	k, mu := 1/scale, Exp(m)
	switch {
	case y < 0 || math.IsInf(mu, 1):
		return 0
	case k > 1e7 || mu == 0: // Poisson's, as far as numbers go
		return Poisson{}.CDF(y, m, scale)
	}
	if last, none := math.Floor(y), k*math.Log1p(mu/k); last <= fewCounts && none < 600 {
		return sumOfCounts(Exp(-none), last, k*mu/(k+mu), mu/(k+mu))
	}
	return mathext.RegIncBeta(k, math.Floor(y)+1, k/(k+mu))
}

// fewCounts is the largest count up to which chances are added up one by one.
const fewCounts = 64

// sumOfCounts is the chance of a count of at most last, where that of 0 is none and every chance
// is (at + by·j)/(j + 1) times that of the count j before it.
func sumOfCounts(none, last, at, by float64) float64 {
	one, total := none, none
	for j := 0.0; j < last; j++ {
		one *= (at + by*j) / (j + 1)
		total += one
	}
	return math.Min(total, 1)
}

// Quantile implements Noise.
func (n NegativeBinomial) Quantile(q, m, scale float64) float64 { return countQuantile(n, q, m, scale) }

// Loss implements Noise. With k = 1/scale the log chance of y is
// lnΓ(y+k) − lnΓ(k) − lnΓ(y+1) + k·ln k + y·m − (y+k)·ln(k+μ).
func (NegativeBinomial) Loss(y, m, scale float64, _ bool) Loss {
	k, mu := 1/scale, math.Exp(m)
	if k > 1e7 { // so nearly Poisson that the gamma functions lose all digits
		return Poisson{}.Loss(y, m, scale, false)
	}
	l1, _ := math.Lgamma(y + 1)
	rise, d1, d2, _ := gammaRise(y, k)
	far, logFar := k+mu, math.Log(k+mu)
	logChance := rise - l1 + k*math.Log(k) + y*m - (y+k)*logFar
	dk := d1 + math.Log(k) + 1 - logFar - (y+k)/far
	dkk := d2 + 1/k - 2/far + (y+k)/(far*far)
	dkm := mu * (y - mu) / (far * far)
	return Loss{
		Value: -logChance,
		M:     -k * (y - mu) / far, MM: k * mu * (k + y) / (far * far),
		S: k * dk, SS: -k * (dk + k*dkk), MS: k * dkm,
	}
}

// Third implements Thirder: with D₁, D₂, D₃ the derivatives of the log chance in k and ∂k/∂s = −k,
// the last is k(D₁ + 3kD₂ + k²D₃).
func (NegativeBinomial) Third(y, m, scale float64) (mmm, mms, mss, sss float64) {
	k, mu := 1/scale, math.Exp(m)
	if k > 1e7 {
		return Poisson{}.Third(y, m, scale)
	}
	_, d1, d2, d3 := gammaRise(y, k)
	far := k + mu
	d1 += math.Log(k) + 1 - math.Log(far) - (y+k)/far
	d2 += 1/k - 2/far + (y+k)/(far*far)
	d3 += -1/(k*k) + 3/(far*far) - 2*(y+k)/(far*far*far)
	cube := k * mu / (far * far * far)
	return cube * (k + y) * (k - mu), cube * (y*k - y*mu - 2*mu*k), -cube * (y - mu) * (mu - k), k * (d1 + 3*k*d2 + k*k*d3)
}

// gammaRise is lnΓ(y + k) − lnΓ(k) with three derivatives in k: for a count, the sum of
// ln(k + j) over j below it.
func gammaRise(y, k float64) (v, d1, d2, d3 float64) {
	if y > 200 {
		a, _ := math.Lgamma(y + k)
		b, _ := math.Lgamma(k)
		return a - b, mathext.Digamma(y+k) - mathext.Digamma(k), trigamma(y+k) - trigamma(k), 2 * (mathext.Zeta(3, k) - mathext.Zeta(3, y+k))
	}
	product := 1.0
	for j := 0.0; j < y; j++ {
		inverse := 1 / (k + j)
		if product *= k + j; product > 1e250 {
			v, product = v+math.Log(product), 1
		}
		d1 += inverse
		d2 -= inverse * inverse
		d3 += 2 * inverse * inverse * inverse
	}
	return v + math.Log(product), d1, d2, d3
}

// trigamma is the second derivative of lnΓ.
func trigamma(x float64) float64 { return mathext.Zeta(2, x) }

// countQuantile is the smallest count whose CDF reaches q.
func countQuantile(n Noise, q, m, scale float64) float64 {
	hi := 1.0
	for n.CDF(hi, m, scale) < q {
		if hi *= 2; hi > 1e9 {
			return math.Inf(1)
		}
	}
	return float64(sort.Search(int(hi), func(y int) bool { return n.CDF(float64(y), m, scale) >= q }))
}

// Shift is not defined for responses that noise is not added to.
func (Bernoulli) Shift(float64, float64) float64 { return math.NaN() }

// Shift is not defined for responses that noise is not added to.
func (Poisson) Shift(float64, float64) float64 { return math.NaN() }

// Shift is not defined for responses that noise is not added to.
func (NegativeBinomial) Shift(float64, float64) float64 { return math.NaN() }
