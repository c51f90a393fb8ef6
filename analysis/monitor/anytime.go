package monitor

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"tyro/analysis/internal/numeric"
)

// A Bound is what passes so far say about a chance to pass, at some level.
type Bound struct{ Lower, Upper float64 }

// tilts are the exponents of the mixture: from those that tell chances apart after many
// attempts to those that do after few.
var tilts = func() []float64 {
	var out []float64
	const n = 24
	for k := range n {
		out = append(out, math.Exp(math.Log(0.03)+(math.Log(4.0)-math.Log(0.03))*float64(k)/(n-1)))
	}
	return out
}()

// Anytime bounds the mean of the chances to pass over the attempts made so far, from
// passes among attempts: the bounds hold at every attempt at once with the level, so that
// one may look after every attempt and stop when one likes. They are a confidence
// sequence (Howard, Ramdas, McAuliffe and Sekhon, 2021, Annals of Statistics 49,
// 1055-1080), by a discrete mixture over k exponents t,
//
//	Σ exp(t·passes − attempts·log(1 − p + p·eᵗ)) / k,
//
// which for the mean chance p is never above a martingale that begins at 1, also where the
// chance changes from attempt to attempt: the logarithm is concave in p. By Ville's
// inequality it comes to 2/(1 − level) with a chance of (1 − level)/2 at most. Where a chance
// only rises, a lower bound for the mean so far is one for the chance now.
func Anytime(passes, attempts int, level float64) Bound {
	if attempts == 0 {
		return Bound{0, 1}
	}
	return Bound{anytimeLower(passes, attempts, level), 1 - anytimeLower(attempts-passes, attempts, level)}
}

// anytimeLower is the smallest mean chance that is not given up.
func anytimeLower(passes, attempts int, level float64) float64 {
	if passes == 0 {
		return 0
	}
	limit := math.Log(2 / (1 - level))
	evidence := func(p float64) float64 {
		largest, logs := math.Inf(-1), make([]float64, len(tilts))
		for k, t := range tilts {
			logs[k] = t*float64(passes) - float64(attempts)*math.Log1p(p*math.Expm1(t))
			largest = math.Max(largest, logs[k])
		}
		sum := 0.0
		for _, l := range logs {
			sum += math.Exp(l - largest)
		}
		return largest + math.Log(sum/float64(len(tilts))) - limit
	}
	share := float64(passes) / float64(attempts)
	if evidence(0) <= 0 {
		return 0
	}
	p, _ := numeric.Root(evidence, 0, share, numeric.Tolerance{})
	return p
}

// FixedTime is the interval for one look at an attempt chosen beforehand (Clopper and
// Pearson, 1934, Biometrika 26, 404-413). Looking at it again and again misses the chance
// more often than it claims.
func FixedTime(passes, attempts int, level float64) Bound {
	tail := (1 - level) / 2
	b := Bound{0, 1}
	if passes > 0 {
		b.Lower = distuv.Beta{Alpha: float64(passes), Beta: float64(attempts - passes + 1)}.Quantile(tail)
	}
	if passes < attempts {
		b.Upper = distuv.Beta{Alpha: float64(passes + 1), Beta: float64(attempts - passes)}.Quantile(1 - tail)
	}
	return b
}

// mostPriced is how far ahead [Price] looks.
const mostPriced = 5000

// Price is how many attempts it takes, at a true chance with as many passes as expected,
// until the lower bound comes above a level to show: with one look at an attempt chosen
// beforehand, and however often one looks. 0 where neither does within 5,000.
func Price(chance, show, level float64) (fixed, anytime int) {
	for n := 1; n <= mostPriced && (fixed == 0 || anytime == 0); n++ {
		passes := int(math.Floor(chance*float64(n) + 1e-9))
		if fixed == 0 && FixedTime(passes, n, level).Lower > show {
			fixed = n
		}
		if anytime == 0 && Anytime(passes, n, level).Lower > show {
			anytime = n
		}
	}
	return fixed, anytime
}
