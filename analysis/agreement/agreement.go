// Package agreement measures whether raters agree: chance-corrected
// coefficients for categories, intraclass correlations for numbers.
//
// Input is a table of subjects by raters with NaN where a rating is missing. A
// missing rating is never a category. Every coefficient says how its interval
// was made; where it is not defined it carries a note instead of a number.
package agreement

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"tyro/analysis"
	"tyro/analysis/resample"
)

// Ratings is a table of scores, [subject][rater], NaN where missing. For
// categories the scores are codes; on an ordinal scale their order counts.
type Ratings [][]float64

// A Coefficient is one measure of agreement.
type Coefficient struct {
	Name         string
	Estimate, SE float64
	Lower, Upper float64
	Level        float64
	Method       string // of the interval
	Note         string // why the number is missing, or what to know
}

// A Summary is what can be said about one table of ratings.
type Summary struct {
	Scale                     string
	Subjects, Raters, Missing int
	Coefficients              []Coefficient
	Warnings                  []analysis.Warning
}

// Options say how intervals are made.
type Options struct {
	Level float64 // 0 means 0.95
	Plan  resample.Plan
}

func (o Options) level() float64 {
	if o.Level == 0 {
		return 0.95
	}
	return o.Level
}

// Summarise computes the coefficients that suit the scale: nominal, ordinal,
// interval or ratio.
func Summarise(ctx context.Context, r Ratings, scale string, o Options) (Summary, error) {
	s := Summary{Scale: scale, Subjects: len(r), Raters: r.raters(), Missing: r.missing()}
	if s.Raters < 2 || s.Subjects < 2 {
		s.warn("too-few-ratings", fmt.Sprintf("agreement needs at least 2 subjects and 2 raters; there are %d and %d", s.Subjects, s.Raters))
		return s, nil
	}
	if scale == "nominal" || scale == "ordinal" {
		if err := s.categorical(ctx, r, o); err != nil {
			return s, err
		}
	}
	if scale != "nominal" {
		s.continuous(r, o)
	}
	return s, nil
}

func (s *Summary) warn(code, text string) {
	s.Warnings = append(s.Warnings, analysis.Warning{Code: code, Text: text})
}

func (s *Summary) categorical(ctx context.Context, r Ratings, o Options) error {
	cats := r.categories()
	if len(cats) < 2 {
		s.warn("no-variation", "all ratings fall in one category, so agreement beyond chance is not defined")
	}
	for _, c := range []struct {
		name string
		of   func(Ratings) float64
	}{
		{"percent-agreement", func(r Ratings) float64 { return percentAgreement(r, cats) }},
		{"fleiss-kappa", func(r Ratings) float64 { return fleissKappa(r, cats) }},
	} {
		k, err := bySubjects(ctx, c.name, r, c.of, o)
		if err != nil {
			return err
		}
		s.Coefficients = append(s.Coefficients, k)
	}
	if s.Raters != 2 {
		return nil
	}
	kinds := []Weights{Identity}
	if s.Scale == "ordinal" {
		kinds = append(kinds, Linear, Quadratic)
	}
	for _, w := range kinds {
		s.Coefficients = append(s.Coefficients, CohenKappa(Crosstab(r, cats), w, o.level()))
	}
	return nil
}

// bySubjects is a coefficient with a bias-corrected accelerated interval from
// a bootstrap of subjects: it generalises to other subjects rated by these
// raters.
func bySubjects(ctx context.Context, name string, r Ratings, of func(Ratings) float64, o Options) (Coefficient, error) {
	c := Coefficient{Name: name, Estimate: of(r), SE: math.NaN(), Lower: math.NaN(), Upper: math.NaN(), Level: o.level()}
	if math.IsNaN(c.Estimate) {
		c.Note = notDefined
		return c, nil
	}
	reps, err := resample.Replicate(ctx, o.Plan, "agreement/"+name, func() func(*rand.Rand) float64 {
		idx, draw := make([]int, len(r)), make(Ratings, len(r))
		return func(rnd *rand.Rand) float64 {
			for i, j := range resample.Indices(rnd, idx, len(r)) {
				draw[i] = r[j]
			}
			return of(draw)
		}
	})
	if err != nil {
		return c, err
	}
	jack := make([]float64, len(r))
	for i := range r {
		jack[i] = of(slices.Concat(r[:i], r[i+1:]))
	}
	iv := resample.BCaInterval(c.Estimate, resample.Acceleration(jack), reps, c.Level)
	c.Lower, c.Upper, c.SE = iv.Lower, iv.Upper, spread(reps)
	c.Method = "BCa bootstrap of subjects"
	if iv.Refused() {
		c.Method, c.SE = "", math.NaN()
		c.Note = fmt.Sprintf("no interval: %d of %d bootstrap samples have no variation", iv.Failed, iv.Failed+iv.Replicates)
	}
	return c, nil
}

const notDefined = "not defined: no variation"

// spread is the standard deviation of the usable replicates.
func spread(reps []float64) float64 {
	n, mean, ss := 0.0, 0.0, 0.0
	for _, v := range reps {
		if math.IsNaN(v) {
			continue
		}
		n++
		d := v - mean
		mean += d / n
		ss += d * (v - mean)
	}
	return math.Sqrt(ss / (n - 1))
}

func (r Ratings) raters() int {
	if len(r) == 0 {
		return 0
	}
	return len(r[0])
}

func (r Ratings) missing() int {
	n := 0
	for _, row := range r {
		for _, v := range row {
			if math.IsNaN(v) {
				n++
			}
		}
	}
	return n
}

// categories lists the codes used, in increasing order.
func (r Ratings) categories() []float64 {
	var out []float64
	for _, row := range r {
		for _, v := range row {
			if !math.IsNaN(v) && !slices.Contains(out, v) {
				out = append(out, v)
			}
		}
	}
	slices.Sort(out)
	return out
}

// complete keeps the subjects that every rater rated.
func (r Ratings) complete() Ratings {
	var out Ratings
	for _, row := range r {
		if !slices.ContainsFunc(row, math.IsNaN) {
			out = append(out, row)
		}
	}
	return out
}
