package models

import "math"

// Shapes with two parameters.

// priorShape is h = (n + prior)^(−rate): a power curve for somebody who comes
// with practice worth prior attempts.
type priorShape struct{}

func (priorShape) Params() []Param {
	return []Param{{Name: "rate", Positive: true}, {Name: "prior", Positive: true}}
}
func (priorShape) Clock(n float64) float64 {
	if n < 0 {
		return math.NaN()
	}
	return n
}
func (priorShape) Attempt(t float64) float64      { return t }
func (priorShape) At(t float64, s Shapes) float64 { return math.Exp(-s[0] * math.Log(t+s[1])) }
func (priorShape) Inverse(v float64, s Shapes) float64 {
	return math.Exp(-math.Log(v)/s[0]) - s[1]
}
func (priorShape) Derivs(t float64, s Shapes) (float64, [2]float64, [3]float64) {
	rate, u := s[0], t+s[1]
	l := math.Log(u)
	h := math.Exp(-rate * l)
	return h, [2]float64{-l * h, -rate / u * h},
		[3]float64{l * l * h, (rate*l - 1) / u * h, rate * (rate + 1) / (u * u) * h}
}
func (priorShape) Search(t []float64) [][]float64 {
	first, _, last := ends(t)
	span := last - first
	if span == 0 {
		return [][]float64{{1}, {1}}
	}
	return [][]float64{geometric(1e-3, 60, 1.8), geometric(1e-4*span, 100*span, 2.6)}
}

// apexShape is h = exp(−rate·(n − 1))·n^(−power): exponential and power curve
// are its two edges.
type apexShape struct{}

func (apexShape) Params() []Param {
	return []Param{{Name: "rate", Positive: true}, {Name: "power", Positive: true}}
}
func (apexShape) Clock(n float64) float64 {
	if n <= 0 {
		return math.NaN()
	}
	return n
}
func (apexShape) Attempt(t float64) float64 { return t }
func (apexShape) At(t float64, s Shapes) float64 {
	return math.Exp(-s[0]*(t-1) - s[1]*math.Log(t))
}
func (a apexShape) Inverse(v float64, s Shapes) float64 {
	if !(v > 0) {
		return math.NaN()
	}
	// Solve rate·(n−1) + power·log n = −log v for log n, where the left side
	// rises: halving of its own, since this package uses none of ours.
	want := -math.Log(v)
	gap := func(l float64) float64 { return s[0]*(math.Exp(l)-1) + s[1]*l - want }
	lo, hi := -50.0, 50.0
	if gap(hi) < 0 || gap(lo) > 0 {
		return math.NaN()
	}
	for range 200 {
		if mid := (lo + hi) / 2; gap(mid) < 0 {
			lo = mid
		} else {
			hi = mid
		}
	}
	return math.Exp((lo + hi) / 2)
}
func (apexShape) Derivs(t float64, s Shapes) (float64, [2]float64, [3]float64) {
	e, l := t-1, math.Log(t)
	h := math.Exp(-s[0]*e - s[1]*l)
	return h, [2]float64{-e * h, -l * h}, [3]float64{e * e * h, e * l * h, l * l * h}
}
func (apexShape) Search(t []float64) [][]float64 {
	first, second, last := ends(t)
	if last == first {
		return [][]float64{{1}, {1}}
	}
	logs := math.Log(last / first)
	return [][]float64{
		edge(1e-7/(last-first), 0.03/(last-first), 36/(second-first)),
		edge(1e-7/logs, 0.03/logs, 36/math.Log(second/first)),
	}
}

// logisticShape is h = 1/(1 + exp(rate·(n − midpoint))).
type logisticShape struct{ sigmoid }

func (logisticShape) At(t float64, s Shapes) float64 { return 1 / (1 + math.Exp(s[0]*(t-s[1]))) }
func (logisticShape) Inverse(v float64, s Shapes) float64 {
	return s[1] + math.Log(1/v-1)/s[0]
}
func (l logisticShape) Derivs(t float64, s Shapes) (float64, [2]float64, [3]float64) {
	h := l.At(t, s)
	return chain(t, s, h, -h*(1-h), h*(1-h)*(1-2*h))
}

// gompertzShape is h = 1 − exp(−exp(−rate·(n − midpoint))).
type gompertzShape struct{ sigmoid }

func (gompertzShape) At(t float64, s Shapes) float64 {
	return -math.Expm1(-math.Exp(-s[0] * (t - s[1])))
}
func (gompertzShape) Inverse(v float64, s Shapes) float64 {
	return s[1] - math.Log(-math.Log1p(-v))/s[0]
}
func (gompertzShape) Derivs(t float64, s Shapes) (float64, [2]float64, [3]float64) {
	u := math.Exp(-s[0] * (t - s[1]))
	h := -math.Expm1(-u)
	if math.IsInf(u, 1) {
		return h, [2]float64{}, [3]float64{}
	}
	return chain(t, s, h, -u*math.Exp(-u), u*(1-u)*math.Exp(-u))
}

// sigmoid is what the S-shaped curves share: a rate and a midpoint, and a start
// that lies infinitely far back, where h is 1.
type sigmoid struct{}

func (sigmoid) Params() []Param {
	return []Param{{Name: "rate", Positive: true}, {Name: "midpoint"}}
}
func (sigmoid) Clock(n float64) float64   { return n }
func (sigmoid) Attempt(t float64) float64 { return t }
func (sigmoid) Search(t []float64) [][]float64 {
	first, second, last := ends(t)
	span := last - first
	if span == 0 {
		return [][]float64{{1}, {first}}
	}
	var mid []float64
	for k := -10.0; k <= 20; k++ {
		mid = append(mid, first+k*span/10)
	}
	return [][]float64{edge(1e-4/span, 0.3/span, 36/(second-first)), mid}
}

// chain turns derivatives of h in x = rate·(t − midpoint) into derivatives in
// rate and midpoint.
func chain(t float64, s Shapes, h, hx, hxx float64) (float64, [2]float64, [3]float64) {
	if hx == 0 && hxx == 0 || math.IsInf(t, 0) {
		return h, [2]float64{}, [3]float64{}
	}
	d, rate := t-s[1], s[0]
	return h, [2]float64{hx * d, -rate * hx}, [3]float64{hxx * d * d, -rate*hxx*d - hx, hxx * rate * rate}
}

// geometric lists values from lo to hi with about the given ratio between
// neighbours.
func geometric(lo, hi, ratio float64) []float64 {
	n := int(math.Ceil(math.Log(hi/lo) / math.Log(ratio)))
	out := make([]float64, n+1)
	for i := range out {
		out[i] = lo * math.Pow(hi/lo, float64(i)/float64(n))
	}
	return out
}

// edge is geometric from lo to hi with one value below it that stands for 0.
func edge(zero, lo, hi float64) []float64 {
	return append([]float64{zero}, geometric(lo, math.Max(hi, 2*lo), 2)...)
}
