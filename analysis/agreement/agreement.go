// Package agreement measures whether raters agree: chance-corrected
// coefficients for categories, intraclass correlations and limits of agreement
// for numbers, variance components and what they say about how many raters and
// performances are needed, each rater's severity, and what disagreement does to
// pass/fail decisions.
//
// # Input
//
// A table of subjects by raters with NaN where a rating is missing. A missing
// rating is never a category, and a subject with one gap is kept wherever the
// method allows it.
//
// # Intervals
//
// Every coefficient says how its interval was made and what it generalises to:
// to other subjects rated by these raters (conditional on raters), or to other
// raters as well. Analytic limits come first where they are published;
// bootstrap limits stand beside them, BCa at an expanded level. Where a coefficient
// is not defined it carries a note instead of a number.
//
// Intraclass correlations with gaps put REML components into the usual formulas with
// effective numbers of ratings, which equals the analysis of variance on complete
// tables.
package agreement

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"tyro/analysis"
	"tyro/analysis/resample"
)

// Ratings is a table of scores, [subject][rater], NaN where missing. For
// categories the scores are codes; on an ordinal scale their order and, for
// weights, their values count.
type Ratings [][]float64

// What an interval generalises to.
const (
	OverSubjects = "subjects"            // other subjects, these raters
	OverBoth     = "subjects and raters" // other subjects and other raters
)

// A Coefficient is one measure of agreement.
type Coefficient struct {
	Name         string
	Estimate, SE float64
	Lower, Upper float64
	Level        float64
	Method       string     // of the interval
	Over         string     // what the interval generalises to: OverSubjects, OverBoth
	Test         *Test      // nil where there is none
	Others       []Interval // further intervals of the same coefficient
	Note         string     // why the number is missing, or what to know
	Err          error      // input that cannot be used; nil where only the data do not define the coefficient
}

// An Interval is a further interval of a coefficient.
type Interval struct {
	Method, Over       string
	SE, Lower, Upper   float64
	Replicates, Failed int
	Note               string
}

// A Test is a test of one null hypothesis about a coefficient.
type Test struct {
	Statistic     string // "F", "z", "chi-square"
	Value, SE     float64
	DF1, DF2      float64 // NaN where the statistic has none
	P             float64
	Null, Formula string // the hypothesis, and whose formula
}

// A Summary is what can be said about one table of ratings.
type Summary struct {
	Scale                     string
	Subjects, Raters, Missing int
	Coefficients              []Coefficient
	Forms                     []ICCForm   // every form of the intraclass correlation, by name
	Components                []Component // subject, rater, residual
	Paradox                   string      // why observed agreement and kappa part ways; blank where they do not
	Warnings                  []analysis.Warning
}

// Options say how intervals are made.
type Options struct {
	Level      float64     // 0 means 0.95
	Categories []float64   // every code the scale has, also those nobody used; nil: those seen
	Weights    [][]float64 // custom agreement weights of the categories in increasing order, 1 on the diagonal

	// LowerPositive says that of two categories the lower code is the positive one.
	LowerPositive bool
	Sampling      resample.Sampling
}

// level is the level of intervals; the options were checked.
func (o Options) level() float64 {
	level, err := analysis.Level(o.Level)
	if err != nil {
		return math.NaN()
	}
	return level
}

const notDefined = "not defined: no variation"

// Summarise computes the coefficients that suit the scale: nominal, ordinal,
// interval or ratio.
func Summarise(ctx context.Context, r Ratings, scale string, o Options) (Summary, error) {
	if err := cmp.Or(checkScale(scale), usable(r, o)); err != nil {
		return Summary{}, err
	}
	s := Summary{Scale: scale, Subjects: len(r), Raters: r.raters(), Missing: r.missing()}
	if s.Raters < 2 || s.Subjects < 2 {
		s.warn("too-few-ratings", fmt.Sprintf("agreement needs at least 2 subjects and 2 raters; there are %d and %d", s.Subjects, s.Raters))
		return s, nil
	}
	r = r.rated()
	if pairs(r) == 0 {
		s.warn("too-few-ratings", "no subject has two ratings, so nothing can be said about agreement")
		return s, nil
	}
	if len(r.categories()) < 2 {
		s.warn("no-variation", "all ratings are the same, so agreement beyond chance is "+notDefined)
	}
	if scale == "nominal" || scale == "ordinal" {
		if err := s.categorical(ctx, r, o); err != nil {
			return s, err
		}
	}
	alpha, err := KrippendorffAlpha(ctx, r, scale, o)
	if err != nil {
		return s, err
	}
	s.Coefficients = append(s.Coefficients, alpha)
	if scale != "nominal" {
		s.Coefficients = append(s.Coefficients, KendallW(r))
		if err := s.continuous(ctx, r, o); err != nil {
			return s, err
		}
	}
	s.Paradox = paradox(s.Coefficients)
	return s, nil
}

func (s *Summary) warn(code, text string) {
	s.Warnings = append(s.Warnings, analysis.Warning{Code: code, Text: text})
}

// unknown is a coefficient without a number, and the reason.
func unknown(name string, level float64, note string) Coefficient {
	nan := math.NaN()
	return Coefficient{Name: name, Estimate: nan, SE: nan, Lower: nan, Upper: nan, Level: level, Note: note}
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
		n += len(row) - count(row)
	}
	return n
}

// count is the number of ratings in a row.
func count(row []float64) int {
	n := 0
	for _, v := range row {
		if !math.IsNaN(v) {
			n++
		}
	}
	return n
}

// pairs is the number of subjects rated at least twice.
func pairs(r Ratings) int {
	n := 0
	for _, row := range r {
		if count(row) >= 2 {
			n++
		}
	}
	return n
}

// categories lists the codes used, in increasing order.
func (r Ratings) categories() []float64 {
	seen := map[float64]bool{}
	for _, row := range r {
		for _, v := range row {
			if !math.IsNaN(v) {
				seen[v] = true
			}
		}
	}
	out := make([]float64, 0, len(seen))
	for v := range seen {
		out = append(out, v)
	}
	slices.Sort(out)
	return out
}

// rated leaves out subjects that nobody rated.
func (r Ratings) rated() Ratings {
	var out Ratings
	for _, row := range r {
		if count(row) > 0 {
			out = append(out, row)
		}
	}
	return out
}

// complete keeps the subjects that every rater rated.
func (r Ratings) complete() Ratings {
	var out Ratings
	for _, row := range r {
		if count(row) == len(row) {
			out = append(out, row)
		}
	}
	return out
}

// only keeps the columns named, and of them the subjects that all rated.
func (r Ratings) only(columns ...int) Ratings {
	var out Ratings
	for _, row := range r {
		var line []float64
		for _, j := range columns {
			if !math.IsNaN(row[j]) {
				line = append(line, row[j])
			}
		}
		if len(line) == len(columns) {
			out = append(out, line)
		}
	}
	return out
}
