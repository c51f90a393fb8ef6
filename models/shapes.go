package models

import "math"

// still is the shape of a flat curve: nothing falls.
type still struct{}

func (still) Params() []Param                     { return nil }
func (still) Clock(n float64) float64             { return n }
func (still) Attempt(t float64) float64           { return t }
func (still) At(float64, Shapes) float64          { return 0 }
func (still) Inverse(_ float64, _ Shapes) float64 { return math.NaN() }
func (still) Search([]float64) [][]float64        { return nil }
func (still) Derivs(float64, Shapes) (float64, [2]float64, [3]float64) {
	return 0, [2]float64{}, [3]float64{}
}

// reciprocal is h = 1/n.
type reciprocal struct{}

func (reciprocal) Params() []Param                     { return nil }
func (reciprocal) Clock(n float64) float64             { return n }
func (reciprocal) Attempt(t float64) float64           { return t }
func (reciprocal) At(t float64, _ Shapes) float64      { return 1 / t }
func (reciprocal) Inverse(v float64, _ Shapes) float64 { return positiveOrNaN(1 / v) }
func (reciprocal) Search([]float64) [][]float64        { return nil }
func (reciprocal) Derivs(t float64, _ Shapes) (float64, [2]float64, [3]float64) {
	return 1 / t, [2]float64{}, [3]float64{}
}

// logShape is h = log n, which rises without end.
type logShape struct{}

func (logShape) Params() []Param                     { return nil }
func (logShape) Clock(n float64) float64             { return math.Log(n) }
func (logShape) Attempt(t float64) float64           { return math.Exp(t) }
func (logShape) At(t float64, _ Shapes) float64      { return t }
func (logShape) Inverse(v float64, _ Shapes) float64 { return v }
func (logShape) Search([]float64) [][]float64        { return nil }
func (logShape) Derivs(t float64, _ Shapes) (float64, [2]float64, [3]float64) {
	return t, [2]float64{}, [3]float64{}
}

// powerShape is h = n^(−rate) = exp(−rate·log n); signed allows rates below 0.
type powerShape struct{ signed bool }

func (p powerShape) Params() []Param                   { return []Param{{Name: "rate", Positive: !p.signed}} }
func (powerShape) Clock(n float64) float64             { return math.Log(n) }
func (powerShape) Attempt(t float64) float64           { return math.Exp(t) }
func (powerShape) At(t float64, s Shapes) float64      { return Exp(-s[0] * t) }
func (powerShape) Inverse(v float64, s Shapes) float64 { return -math.Log(v) / s[0] }
func (powerShape) Derivs(t float64, s Shapes) (float64, [2]float64, [3]float64) {
	return decay(t, s[0])
}
func (p powerShape) Search(t []float64) [][]float64 {
	if p.signed {
		return [][]float64{signedRates(t)}
	}
	return [][]float64{rates(t)}
}

// exponentialShape is h = exp(−rate·(n − origin)).
type exponentialShape struct{ origin float64 }

func (exponentialShape) Params() []Param                     { return []Param{{Name: "rate", Positive: true}} }
func (e exponentialShape) Clock(n float64) float64           { return n - e.origin }
func (e exponentialShape) Attempt(t float64) float64         { return t + e.origin }
func (exponentialShape) At(t float64, s Shapes) float64      { return Exp(-s[0] * t) }
func (exponentialShape) Inverse(v float64, s Shapes) float64 { return -math.Log(v) / s[0] }
func (exponentialShape) Derivs(t float64, s Shapes) (float64, [2]float64, [3]float64) {
	return decay(t, s[0])
}
func (exponentialShape) Search(t []float64) [][]float64 { return [][]float64{rates(t)} }

// A Decayer is a shape that is exp(−rate·t) in its clock time.
type Decayer interface {
	Decays() bool
}

// IsDecay reports whether a shape is exp(−rate·t) in its clock time, so that
// whoever evaluates it often may do so directly.
func IsDecay(s Shape) bool {
	d, ok := s.(Decayer)
	return ok && d.Decays()
}

func (powerShape) Decays() bool       { return true }
func (exponentialShape) Decays() bool { return true }

// decay is exp(−rate·t) with its derivatives in the rate.
func decay(t, rate float64) (float64, [2]float64, [3]float64) {
	h := math.Exp(-rate * t)
	return h, [2]float64{-t * h}, [3]float64{t * t * h}
}

// rates spans decay rates from "a straight line in clock time over the whole
// series" to "all of it gone at the second attempt". Between them neighbours
// differ by a factor of about 1.6, less than the width of any dip that a sum
// of squares can have in the log of a rate.
func rates(t []float64) []float64 {
	first, second, last := ends(t)
	if last == first {
		return []float64{1}
	}
	lo, hi := 1e-5/(last-first), 36/(second-first)
	out := []float64{lo}
	const ratio = 1.6
	for r := 0.02 / (last - first); r < hi/ratio; r *= ratio {
		out = append(out, r)
	}
	return append(out, hi)
}

// signedRates spans rates of both signs, closest near 0.
func signedRates(t []float64) []float64 {
	first, second, last := ends(t)
	if last == first {
		return []float64{0}
	}
	steps := []float64{0.1, 0.3, 0.6, 1, 1.5, 2, 3, 4, 6, 9, 14, 20, 30}
	hi := 36 / (second - first)
	out := []float64{-hi}
	for i := len(steps) - 1; i >= 0; i-- {
		out = append(out, -steps[i]/(last-first))
	}
	out = append(out, 0)
	for _, s := range steps {
		out = append(out, s/(last-first))
	}
	if out[len(out)-1] < hi {
		out = append(out, hi)
	} else {
		out[0], out[len(out)-1] = out[1]*1.5, out[len(out)-1]*1.5
	}
	return out
}

// ends returns the first, the second distinct and the last of sorted times.
func ends(t []float64) (first, second, last float64) {
	first, last = t[0], t[len(t)-1]
	second = last
	for _, v := range t {
		if v > first {
			second = v
			break
		}
	}
	return first, second, last
}

func positiveOrNaN(v float64) float64 {
	if v > 0 {
		return v
	}
	return math.NaN()
}
