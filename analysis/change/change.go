// Package change looks for a break in one trainee's series: an attempt after which the
// level jumps or the slope is new, as when somebody changes their method.
//
// # Method
//
// The series, on the scale on which its noise is additive, is described by a falling
// exponential a + b·e^(−rate·(attempt − 1)), least squares over a, b and a grid of rates,
// and again with a step or a hinge after each attempt in turn. The largest likelihood
// ratio of all these scans is compared with the largest one in series simulated from the
// curve without a break, so that the p allows for the looking (a supremum test: Andrews,
// 1993, Econometrica 61, 821-856; calibrated by a parametric bootstrap, Davison and
// Hinkley, 1997, Bootstrap Methods and their Application, section 4.2.3). It is the
// false-alarm rate of one series; several series are adjusted by Holm's method.
//
// # Limits
//
// Attempts are taken as independent about the curve. A break found is something to ask
// the trainee about: nothing in tyro acts on it.
package change

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"

	"tyro/analysis/resample"
)

// ErrChange is wrapped by every error of a series that cannot be scanned.
var ErrChange = errors.New("cannot look for a break")

// MinAttempts is the fewest attempts that are scanned, and minSide those on either side
// of a break.
const (
	MinAttempts = 10
	minSide     = 3
)

// The kinds of break.
const (
	Jump  = "jump"
	Slope = "slope"
)

// A Break is the likeliest break of a series, real or not: see P.
type Break struct {
	After      float64 // the last attempt before it
	Kind       string  // jump, or slope
	Size       float64 // of a jump in the unit of the values; of a slope, an attempt
	Ratio      float64 // the likelihood ratio statistic
	P          float64 // chance of so large a ratio anywhere in the series without a break
	N          int
	Replicates int
}

// rates is how many rates are tried.
const rates = 24

// Scan finds the likeliest break of a series; attempts rise. purpose names the streams of
// its simulation.
func Scan(ctx context.Context, attempt, value []float64, purpose string, sampling resample.Sampling) (Break, error) {
	s, err := newScan(attempt, value)
	if err != nil {
		return Break{}, err
	}
	out, fitted, sd := s.at(value)
	out.N = len(value)
	sampling.Progress = nil
	draws, err := resample.Replicate(ctx, sampling, "change/"+purpose, func() func(*rand.Rand) float64 {
		z := make([]float64, len(value))
		return func(r *rand.Rand) float64 {
			for i := range z {
				z[i] = fitted[i] + sd*r.NormFloat64()
			}
			b, _, _ := s.at(z)
			return b.Ratio
		}
	})
	if err != nil {
		return Break{}, err
	}
	far := 1
	for _, d := range draws {
		if d >= out.Ratio {
			far++
		}
	}
	out.Replicates = len(draws)
	out.P = float64(far) / float64(len(draws)+1)
	return out, nil
}

// A candidate is one break to try at one rate: its column with the curve's columns taken
// out, of length 1, and the length it had.
type candidate struct {
	column []float64
	length float64
	kind   string
	after  float64
}

// A scan holds what does not change with the values.
type scan struct {
	base   [][2][]float64 // by rate: an orthonormal basis of the curve's columns
	breaks [][]candidate  // by rate
}

func newScan(attempt, value []float64) (scan, error) {
	n := len(attempt)
	if n != len(value) || n < MinAttempts {
		return scan{}, fmt.Errorf("%w: %d attempts, and %d are needed", ErrChange, n, MinAttempts)
	}
	for i, v := range value {
		if math.IsNaN(v) || math.IsInf(v, 0) || i > 0 && attempt[i] <= attempt[i-1] {
			return scan{}, fmt.Errorf("%w: attempts do not rise, or a value is no number", ErrChange)
		}
	}
	var s scan
	span := attempt[n-1] - attempt[0]
	for k := range rates {
		rate := math.Exp(math.Log(0.5/span) + (math.Log(1.5)-math.Log(0.5/span))*float64(k)/(rates-1))
		level, fall := make([]float64, n), make([]float64, n)
		for i, a := range attempt {
			level[i], fall[i] = 1, math.Exp(-rate*(a-attempt[0]))
		}
		normalise(level)
		remove(fall, level)
		normalise(fall)
		var cs []candidate
		for j := minSide; j <= n-minSide; j++ { // the break lies before position j
			step, hinge := make([]float64, n), make([]float64, n)
			for i := j; i < n; i++ {
				step[i], hinge[i] = 1, attempt[i]-attempt[j-1]
			}
			for _, c := range []candidate{{column: step, kind: Jump}, {column: hinge, kind: Slope}} {
				remove(c.column, level)
				remove(c.column, fall)
				c.length, c.after = normalise(c.column), attempt[j-1]
				if c.length > 1e-6 {
					cs = append(cs, c)
				}
			}
		}
		s.base, s.breaks = append(s.base, [2][]float64{level, fall}), append(s.breaks, cs)
	}
	return s, nil
}

// at is the likeliest break for some values, with the curve fitted without a break and
// its residual standard deviation.
func (s scan) at(z []float64) (best Break, fitted []float64, sd float64) {
	n := float64(len(z))
	total := dot(z, z)
	none, with, noneAt := math.Inf(1), math.Inf(1), 0
	for k, base := range s.base {
		a, b := dot(z, base[0]), dot(z, base[1])
		rss := total - a*a - b*b
		if rss < none {
			none, noneAt = rss, k
		}
		for _, c := range s.breaks[k] {
			g := dot(z, c.column)
			if r := rss - g*g; r < with {
				with = r
				best = Break{After: c.after, Kind: c.kind, Size: g / c.length}
			}
		}
	}
	none, with = math.Max(none, 1e-12*total), math.Max(with, 1e-13*total)
	best.Ratio = n * math.Log(none/with)
	base := s.base[noneAt]
	a, b := dot(z, base[0]), dot(z, base[1])
	fitted = make([]float64, len(z))
	for i := range fitted {
		fitted[i] = a*base[0][i] + b*base[1][i]
	}
	return best, fitted, math.Sqrt(none / (n - 3))
}

func dot(a, b []float64) float64 {
	sum := 0.0
	for i, v := range a {
		sum += v * b[i]
	}
	return sum
}

// remove takes the part along a unit column out of v.
func remove(v, unit []float64) {
	g := dot(v, unit)
	for i := range v {
		v[i] -= g * unit[i]
	}
}

// normalise makes the length of v 1, and returns what it was.
func normalise(v []float64) float64 {
	length := math.Sqrt(dot(v, v))
	for i := range v {
		v[i] /= math.Max(length, 1e-300)
	}
	return length
}
