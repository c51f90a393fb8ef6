package models

import "slices"

// Falls is exp(−rate·t) at clock times that stay, for one rate after another. Where a time is
// the sum of two earlier ones, as on the clock of a power curve log 6 = log 2 + log 3, its
// value is the product of theirs: few exponentials are left. It is never changed and may be
// shared by goroutines.
type Falls struct {
	times []float64
	parts [][2]int32 // positions of the two; −1 where the value is worked out by itself
}

// factors is how many of the first times are tried as a part of another.
const factors = 8

// NewFalls prepares for the times given, which may stand in any order; only those after all
// earlier ones are taken apart.
func NewFalls(times []float64) *Falls {
	f := &Falls{times: times, parts: make([][2]int32, len(times))}
	var small []int32 // positions of the first times after 0
	rising := true
	for i, t := range times {
		f.parts[i] = [2]int32{-1, -1}
		rising = rising && (i == 0 || t > times[i-1])
		if !rising || !(t > 0) {
			continue
		}
		for k := len(small) - 1; k >= 0; k-- {
			j := small[k]
			if other, ok := slices.BinarySearchFunc(times[:i], t-times[j], near(t)); ok && times[other] > 0 {
				f.parts[i] = [2]int32{int32(other), j}
				break
			}
		}
		if len(small) < factors {
			small = append(small, int32(i))
		}
	}
	return f
}

// near compares times that are equal to the last digits of a time t.
func near(t float64) func(a, b float64) int {
	slack := 4e-16 * t
	return func(a, b float64) int {
		switch {
		case a < b-slack:
			return -1
		case a > b+slack:
			return 1
		}
		return 0
	}
}

// Extend appends the values at the next times to those at the first ones, until there are n.
func (f *Falls) Extend(values []float64, rate float64, n int) []float64 {
	for i := len(values); i < n; i++ {
		if p := f.parts[i]; p[0] >= 0 {
			values = append(values, values[p[0]]*values[p[1]])
		} else {
			values = append(values, Exp(-rate*f.times[i]))
		}
	}
	return values
}

// An Along evaluates the falling parts of a family's curves at attempts 1, 2, …, one curve
// after another: what hangs on the attempts alone is worked out once. It is never changed and
// may be shared by goroutines.
type Along struct {
	shape Shape
	clock []float64
	falls *Falls // nil where the shape is no exponential in its clock time
}

// NewAlong prepares for so many attempts.
func NewAlong(f Family, attempts int) *Along {
	a := &Along{shape: f.shape, clock: make([]float64, attempts)}
	for i := range a.clock {
		a.clock[i] = a.shape.Clock(float64(i + 1))
	}
	if IsDecay(a.shape) {
		a.falls = NewFalls(a.clock)
	}
	return a
}

// Extend appends the falling part at the next attempts to its values at the first ones, until
// there are n.
func (a *Along) Extend(values []float64, s Shapes, n int) []float64 {
	if a.falls != nil {
		return a.falls.Extend(values, s[0], n)
	}
	for i := len(values); i < n; i++ {
		values = append(values, a.shape.At(a.clock[i], s))
	}
	return values
}
