package standard

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/mathext"
)

// TrueScores is a beta distribution with shapes Alpha and Beta between Lower and
// Upper, which lie in the scores' range of 0 to 1. With two parameters it runs
// from 0 to 1.
type TrueScores struct {
	Alpha, Beta  float64
	Lower, Upper float64
	Parameters   int // 4, or 2 where four do not fit
}

// An observed distribution of scores from 0 to 1: the variance has n − 1 in the
// denominator, skewness and kurtosis (3 for a normal one) have n.
type observed struct{ mean, variance, skewness, kurtosis float64 }

func observe(x []float64) observed {
	m, n := mean(x), float64(len(x))
	var m2, m3, m4 float64
	for _, v := range x {
		d := v - m
		m2 += d * d / n
		m3 += d * d * d / n
		m4 += d * d * d * d / n
	}
	return observed{m, square(sd(x)), m3 / math.Pow(m2, 1.5), m4 / (m2 * m2)}
}

// effectiveItems is the number of equal right-or-wrong items that would give
// scores with this mean, variance and reliability.
func (o observed) effectiveItems(reliability float64) (float64, error) {
	m, v := o.mean, o.variance
	if !(v > 0) || !(m*(1-m) > v) {
		return 0, fmt.Errorf("a mean of %v and variance of %v on a scale from 0 to 1 leave nothing to classify", m, v)
	}
	return (m*(1-m) - reliability*v) / (v * (1 - reliability)), nil
}

// trueScores fits the four-parameter beta distribution by the first four moments
// of true scores (Lord, 1965, Psychometrika 30, 239-270), which follow from the
// factorial moments of scores on the effective number of items. Where it does
// not exist or leaves the range of scores, two parameters are fitted by the mean
// and the reliable part of the variance, and the reason is given.
func (o observed) trueScores(items, reliability float64, two bool) (d TrueScores, reason string) {
	if !two {
		if d, reason = o.fourParameters(items, reliability); reason == "" {
			return d, ""
		}
	}
	size := o.mean*(1-o.mean)/(reliability*o.variance) - 1
	return TrueScores{Alpha: o.mean * size, Beta: (1 - o.mean) * size, Lower: 0, Upper: 1, Parameters: 2}, reason
}

func (o observed) fourParameters(items, reliability float64) (TrueScores, string) {
	if items <= 3 {
		return TrueScores{}, fmt.Sprintf("%.1f effective items give no fourth moment", items)
	}
	variance, skewness, kurtosis := o.trueMoments(items, reliability)
	// Shapes of a beta distribution with this skewness and kurtosis, and its ends
	// by mean and variance (Johnson, Kotz and Balakrishnan, 1995, Continuous
	// Univariate Distributions 2, section 25.4).
	s2 := square(skewness)
	size := 6 * (kurtosis - s2 - 1) / (6 + 3*s2 - 2*kurtosis)
	if !(size > 0) || math.IsInf(size, 0) {
		return TrueScores{}, "no beta distribution has the skewness and kurtosis of true scores"
	}
	lean := (size + 2) * skewness / math.Sqrt(square(size+2)*s2+16*(size+1))
	d := TrueScores{Alpha: size / 2 * (1 - lean), Beta: size / 2 * (1 + lean), Parameters: 4}
	width := math.Sqrt(variance * size * size * (size + 1) / (d.Alpha * d.Beta))
	d.Lower = o.mean - width*d.Alpha/size
	d.Upper = d.Lower + width
	const slack = 1e-9
	if !(d.Lower > -slack && d.Upper < 1+slack) {
		return TrueScores{}, fmt.Sprintf("its true scores would run from %.3g to %.3g of the range", d.Lower, d.Upper)
	}
	d.Lower, d.Upper = math.Max(0, d.Lower), math.Min(1, d.Upper)
	return d, ""
}

// trueMoments are the variance, skewness and kurtosis of true scores τ: the mean
// of y(y−1)…(y−r+1) over n(n−1)…(n−r+1) is that of τ to the r, for binomial
// scores y of n items.
func (o observed) trueMoments(n, reliability float64) (variance, skewness, kurtosis float64) {
	m, v := o.mean, o.variance
	third, fourth := o.skewness*math.Pow(v, 1.5), o.kurtosis*v*v
	y1 := n * m
	y2 := n * n * (v + m*m)
	y3 := n * n * n * (third + 3*m*v + m*m*m)
	y4 := n * n * n * n * (fourth + 4*m*third + 6*m*m*v + m*m*m*m)
	t3 := (y3 - 3*y2 + 2*y1) / (n * (n - 1) * (n - 2))
	t4 := (y4 - 6*y3 + 11*y2 - 6*y1) / (n * (n - 1) * (n - 2) * (n - 3))
	variance = reliability * v // what the second factorial moment gives, n being the effective number
	t2 := variance + m*m
	skewness = (t3 - 3*m*t2 + 2*m*m*m) / math.Pow(variance, 1.5)
	kurtosis = (t4 - 4*m*t3 + 6*m*m*t2 - 3*m*m*m*m) / (variance * variance)
	return variance, skewness, kurtosis
}

// over is the mean of f over the true scores between two points, which adds
// only their share: the density's powers of τ and 1 − τ, on the range from 0 to
// 1 that the ends span, are taken out by the substitution τ = sin²θ.
func (d TrueScores) over(from, to float64, f func(float64) float64) float64 {
	if !(to > from) {
		return 0
	}
	width := d.Upper - d.Lower
	logB := mathext.Lbeta(d.Alpha, d.Beta)
	g := func(θ float64) float64 {
		s, k := math.Sin(θ), math.Cos(θ)
		if s <= 0 || k <= 0 {
			return 0
		}
		return 2 * math.Exp((2*d.Alpha-1)*math.Log(s)+(2*d.Beta-1)*math.Log(k)-logB) * f(d.Lower+width*s*s)
	}
	angle := func(τ float64) float64 {
		return math.Asin(math.Sqrt(math.Min(1, math.Max(0, (τ-d.Lower)/width))))
	}
	a, b := angle(from), angle(to)
	const panels = 64
	sum, step := 0.0, (b-a)/panels
	for i := range panels {
		sum += quad.Fixed(g, a+float64(i)*step, a+float64(i+1)*step, 16, quad.Legendre{}, 0)
	}
	return sum
}
