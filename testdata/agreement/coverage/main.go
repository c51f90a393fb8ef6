// Coverage simulates rating studies with known truth and counts how often the
// intervals of 95 % hold it: bootstrap of subjects and analytic ones, at 20 and
// 60 subjects. The figures go to coverage.csv beside this file, good or bad.
//
// Run: go run ./testdata/agreement/coverage (or with the name of one coefficient,
// which then prints without writing the file)
package main

import (
	"context"
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"os"
	"slices"

	"tyro/analysis/agreement"
	"tyro/analysis/resample"
)

const (
	studies    = 2000
	replicates = 1000
	raters     = 3
	seed       = 20260101
)

// A world makes studies whose coefficient is known.
type world struct {
	coefficient, condition string
	studies                int
	truth                  float64
	intervals              func(r *rand.Rand, n, study int) []interval
}

type interval struct {
	method       string
	lower, upper float64
}

func main() {
	if err := run(); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func run() error {
	only := ""
	if len(os.Args) > 1 {
		only = os.Args[1]
	}
	var file io.Writer = io.Discard
	if only == "" {
		f, err := os.Create("testdata/agreement/coverage/coverage.csv")
		if err != nil {
			return err
		}
		defer f.Close()
		file = f
	}
	out := csv.NewWriter(file)
	out.Write([]string{"coefficient", "condition", "subjects", "raters", "interval", "truth", "studies", "covered", "truth_below", "truth_above", "no_interval", "mean_width"})
	for _, w := range worlds() {
		if only != "" && w.coefficient != only {
			continue
		}
		for _, n := range []int{20, 60} {
			rows, err := w.score(n)
			if err != nil {
				return err
			}
			for _, row := range rows {
				out.Write(row)
				fmt.Println(row)
			}
			out.Flush()
		}
	}
	return out.Error()
}

func worlds() []world {
	fixed := func(*rand.Rand) []float64 { return []float64{-0.5, 0, 0.5} } // variance 0.25 with divisor k − 1
	drawn := func(r *rand.Rand) []float64 {
		return []float64{0.5 * r.NormFloat64(), 0.5 * r.NormFloat64(), 0.5 * r.NormFloat64()}
	}
	alike := func(*rand.Rand) []float64 { return make([]float64, raters) }
	const agree, consistent = 2 / (2 + 0.25 + 1), 2. / 3
	return []world{
		{"icc(a,1)", "these raters", studies, agree, one("icc(a,1)", "interval", normal(fixed, 0))},
		{"icc(a,1)", "raters drawn anew", studies, agree, one("icc(a,1)", "interval", normal(drawn, 0))},
		{"icc(a,1)", "raters drawn anew, 10 % of ratings missing", studies, agree, one("icc(a,1)", "interval", normal(drawn, 0.1))},
		{"icc(c,1)", "these raters, 10 % of ratings missing", studies, consistent, one("icc(c,1)", "interval", normal(fixed, 0.1))},
		{"cronbach-alpha", "these raters", studies, 3 * consistent / (1 + 2*consistent), one("cronbach-alpha", "interval", normal(fixed, 0))},
		{"krippendorff-alpha", "interval scale, raters alike", studies, consistent, one("krippendorff-alpha", "interval", normal(alike, 0))},
		binary("krippendorff-alpha", 0.5), binary("krippendorff-alpha", 0.8),
		binary("gwet-ac1", 0.5), binary("gwet-ac1", 0.8),
		{"phi-coefficient", "trainees with 3 performances each, one score in ten missing, REML", 300, 4. / (4 + 2./3 + 0.5/3 + 1./9), nested},
	}
}

// normal studies have variance 2 between subjects and 1 of residual.
func normal(severity func(r *rand.Rand) []float64, gap float64) func(r *rand.Rand, n int) agreement.Ratings {
	return func(r *rand.Rand, n int) agreement.Ratings {
		s := severity(r)
		out := make(agreement.Ratings, n)
		for i := range out {
			p := math.Sqrt2 * r.NormFloat64()
			for j := range raters {
				v := p + s[j] + r.NormFloat64()
				if r.Float64() < gap || gap > 0 && i == 0 && j == 0 {
					v = math.NaN()
				}
				out[i] = append(out[i], v)
			}
		}
		return out
	}
}

// binary raters see the true category, which has the given prevalence, with
// chance 0.9.
func binary(name string, prevalence float64) world {
	const right = 0.9
	π := prevalence*right + (1-prevalence)*(1-right)
	po := right*right + (1-right)*(1-right)
	pe := 2 * π * (1 - π)
	if name != "gwet-ac1" {
		pe = π*π + (1-π)*(1-π)
	}
	return world{name, fmt.Sprintf("two categories, prevalence %g", prevalence), studies, (po - pe) / (1 - pe), one(name, "nominal", func(r *rand.Rand, n int) agreement.Ratings {
		out := make(agreement.Ratings, n)
		for i := range out {
			is := r.Float64() < prevalence
			for range raters {
				v := 0.0
				if (r.Float64() < right) == is {
					v = 1
				}
				out[i] = append(out[i], v)
			}
		}
		return out
	})}
}

// one reads a coefficient's analytic and bootstrap intervals.
func one(name, scale string, draw func(r *rand.Rand, n int) agreement.Ratings) func(*rand.Rand, int, int) []interval {
	return func(r *rand.Rand, n, study int) []interval {
		o := agreement.Options{Sampling: resample.Sampling{Seed: uint64(study), Replicates: replicates, Workers: 1}}
		c, err := agreement.One(context.Background(), name, draw(r, n), scale, o)
		if err != nil {
			return nil
		}
		main := "analytic"
		if name == "krippendorff-alpha" {
			main = "BCa bootstrap of subjects"
		}
		out := []interval{{main, c.Lower, c.Upper}}
		for _, iv := range c.Others {
			if iv.Over == agreement.OverSubjects {
				out = append(out, interval{"BCa bootstrap of subjects", iv.Lower, iv.Upper})
			}
		}
		return out
	}
}

// nested studies: n trainees, 3 performances each, 3 raters; variances 4
// (trainee), 2 (performance), 0.5 (rater), 1 (residual).
func nested(r *rand.Rand, n, _ int) []interval {
	g := agreement.GStudy{Facets: []string{"trainee", "performance", "rater"}}
	severity := make([]float64, raters)
	for j := range severity {
		severity[j] = math.Sqrt(0.5) * r.NormFloat64()
	}
	for t := range n {
		trainee := 2 * r.NormFloat64()
		for p := range 3 {
			performance := math.Sqrt2 * r.NormFloat64()
			for j := range raters {
				if r.Float64() < 0.1 && (t > 0 || p > 0) {
					continue
				}
				g.Scores = append(g.Scores, trainee+performance+severity[j]+r.NormFloat64())
				g.Levels = append(g.Levels, []int{t, 3*t + p, j})
			}
		}
	}
	res, err := g.Estimate(0.95)
	if err != nil {
		return nil
	}
	d := res.Decide([]float64{3, 3})
	return []interval{{"normal on −log(1 − coefficient)", d.PhiLower, d.PhiUpper}}
}

// A tally counts what one kind of interval did.
type tally struct {
	method                string
	covered, below, above int
	none                  int
	width                 float64
}

func (s *tally) add(iv interval, truth float64) {
	switch {
	case math.IsNaN(iv.lower) || math.IsNaN(iv.upper):
		s.none++
		return
	case truth < iv.lower:
		s.below++
	case truth > iv.upper:
		s.above++
	default:
		s.covered++
	}
	s.width += iv.upper - iv.lower
}

// score simulates the studies of one size.
func (w world) score(n int) ([][]string, error) {
	purpose := fmt.Sprintf("coverage/%s/%s/%d", w.coefficient, w.condition, n)
	all := make([][]interval, w.studies)
	err := resample.Each(context.Background(), w.studies, resample.Sampling{}, func() func(int) error {
		return func(i int) error {
			all[i] = w.intervals(resample.Stream(seed, purpose, i), n, i)
			return nil
		}
	})
	if err != nil {
		return nil, err
	}
	var tallies []*tally
	for _, ivs := range all {
		for _, iv := range ivs {
			at := slices.IndexFunc(tallies, func(t *tally) bool { return t.method == iv.method })
			if at < 0 {
				at = len(tallies)
				tallies = append(tallies, &tally{method: iv.method})
			}
			tallies[at].add(iv, w.truth)
		}
	}
	var rows [][]string
	for _, s := range tallies {
		done := float64(s.covered + s.below + s.above)
		share := func(n int) string { return fmt.Sprintf("%.4f", float64(n)/done) }
		rows = append(rows, []string{w.coefficient, w.condition, fmt.Sprint(n), fmt.Sprint(raters), s.method, fmt.Sprintf("%.4f", w.truth), fmt.Sprint(int(done) + s.none), share(s.covered), share(s.below), share(s.above), fmt.Sprint(s.none), fmt.Sprintf("%.4f", s.width/done)})
	}
	return rows, nil
}
