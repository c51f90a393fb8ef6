package agreement

import (
	"cmp"
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"tyro/analysis"
)

// CohenKappa is chance-corrected agreement of two raters from a square table
// of counts, with the large-sample standard errors of Fleiss, Cohen and Everitt
// (1969), Psychological Bulletin 72, 323-327: one for the interval, one under
// the hypothesis of chance agreement for the test. Cohen (1960), Educational
// and Psychological Measurement 20, 37-46; weighted: Cohen (1968),
// Psychological Bulletin 70, 213-220. A level 0 means 0.95. A table that is not
// square, a count below 0, unknown weights and a level outside of 0 to 1 are told by
// Err.
func CohenKappa(counts [][]float64, weights Weights, level float64) Coefficient {
	name := map[Weights]string{Identity: "cohen-kappa", Linear: "weighted-kappa-linear", Quadratic: "weighted-kappa-quadratic"}[weights]
	cats := make([]float64, len(counts))
	for i := range cats {
		cats[i] = float64(i)
	}
	level, err := analysis.Level(level)
	if err = cmp.Or(err, weights.check(), checkCounts(counts)); err != nil {
		return failed(cmp.Or(name, "weighted-kappa"), err)
	}
	return kappa(name, counts, weights.matrix(cats), level)
}

// KappaWithWeights is CohenKappa with the caller's agreement weights, 1 on the
// diagonal, from 0 to 1 and the same both ways elsewhere.
func KappaWithWeights(counts, agreement [][]float64, level float64) Coefficient {
	level, err := analysis.Level(level)
	if err = cmp.Or(err, checkWeights(agreement), checkCounts(counts)); err == nil && len(agreement) != len(counts) {
		err = fmt.Errorf("custom weights: %d rows for %d categories", len(agreement), len(counts))
	}
	if err != nil {
		return failed("weighted-kappa-custom", err)
	}
	return kappa("weighted-kappa-custom", counts, agreement, level)
}

func kappa(name string, counts, w [][]float64, level float64) Coefficient {
	k := len(counts)
	n := 0.0
	rows, cols := make([]float64, k), make([]float64, k)
	for i := range counts {
		for j, c := range counts[i] {
			n += c
			rows[i] += c
			cols[j] += c
		}
	}
	var po, pe float64
	wRow, wCol := make([]float64, k), make([]float64, k) // mean weight against the other's margin
	for i := range k {
		for j := range k {
			po += w[i][j] * counts[i][j] / n
			pe += w[i][j] * rows[i] * cols[j] / (n * n)
			wRow[i] += w[i][j] * cols[j] / n
			wCol[j] += w[i][j] * rows[i] / n
		}
	}
	c := unknown(name, level, notDefined)
	if n == 0 || !(1-pe > 1e-12) {
		return c
	}
	c.Estimate, c.Note = (po-pe)/(1-pe), ""
	var sum, null float64
	for i := range k {
		for j := range k {
			d := w[i][j]*(1-pe) - (wRow[i]+wCol[j])*(1-po)
			sum += counts[i][j] / n * d * d
			d = w[i][j] - (wRow[i] + wCol[j])
			null += rows[i] / n * cols[j] / n * d * d
		}
	}
	centre := po*pe - 2*pe + po
	se := math.Sqrt(math.Max(0, sum-centre*centre) / n / math.Pow(1-pe, 4))
	c.Test = zTest(c.Estimate, math.Sqrt(math.Max(0, null-pe*pe)/n)/(1-pe), "agreement is by chance", "Fleiss, Cohen and Everitt (1969)")
	return c.analytic(se, math.NaN(), "normal, large-sample standard error")
}

// zTest is the two-sided test of 0, nil without a standard error.
func zTest(estimate, se float64, null, formula string) *Test {
	if !(se > 0) {
		return nil
	}
	z := estimate / se
	return &Test{Statistic: "z", Value: z, SE: se, DF1: math.NaN(), DF2: math.NaN(), P: 2 * distuv.UnitNormal.CDF(-math.Abs(z)), Null: null, Formula: formula}
}

// lightKappa is the mean of all pairs' kappas, each over the subjects both
// rated; Light (1971), Psychological Bulletin 76, 365-377. A pair without
// variation has none and is left out.
func lightKappa(c coded) statistic {
	q := len(c.cats)
	w := Identity.matrix(c.cats)
	m := newMargins(coded{cats: c.cats, k: 2})
	joint := make([]float64, q)
	return func(draw []int) []float64 {
		sum, n := 0.0, 0.0
		for a := range c.k {
			for b := a + 1; b < c.k; b++ {
				if v := c.pairKappa(a, b, draw, m, joint, w); !math.IsNaN(v) {
					sum += v
					n++
				}
			}
		}
		return []float64{sum / n}
	}
}

func (c coded) pairKappa(a, b int, draw []int, m *margins, agree []float64, w [][]float64) float64 {
	clear(agree)
	clear(m.rater[0])
	clear(m.rater[1])
	n := 0.0
	for _, i := range draw {
		x, y := c.codes[i][a], c.codes[i][b]
		if x < 0 || y < 0 {
			continue
		}
		n++
		m.rater[0][x]++
		m.rater[1][y]++
		if x == y {
			agree[x]++
		}
	}
	if n == 0 {
		return math.NaN()
	}
	po, pe := 0.0, 0.0
	for q := range agree {
		po += agree[q] / n
		pe += m.rater[0][q] / n * m.rater[1][q] / n
	}
	if !(1-pe > 1e-12) {
		return math.NaN()
	}
	return (po - pe) / (1 - pe)
}

// fleissNull tests Fleiss' kappa against chance when every subject has the same
// number m of ratings; nil otherwise. Fleiss, Nee and Landis (1979),
// Psychological Bulletin 86, 974-977.
func fleissNull(c coded, kappa float64) *Test {
	m := c.rated[0]
	shares := make([]float64, len(c.cats))
	for i, counts := range c.counts {
		if c.rated[i] != m {
			return nil
		}
		for q, v := range counts {
			shares[q] += v / (m * float64(c.n))
		}
	}
	var b, skew float64
	for _, p := range shares {
		b += p * (1 - p)
		skew += p * (1 - p) * (1 - 2*p)
	}
	se := math.Sqrt(2 * (b*b - skew) / (b * b * float64(c.n) * m * (m - 1)))
	return zTest(kappa, se, "agreement is by chance", "Fleiss, Nee and Landis (1979)")
}

// A CategoryKappa is Fleiss' kappa of one category against all others.
type CategoryKappa struct {
	Category, Share, Kappa float64
	Test                   *Test
}

// FleissByCategory gives each category's own kappa, for the same number of
// ratings of every subject; nil otherwise. Fleiss (1971); null standard error
// of Fleiss, Nee and Landis (1979). It panics on a ragged table.
func FleissByCategory(r Ratings) []CategoryKappa {
	r.must()
	c := encode(r.rated(), nil)
	if c.n == 0 || c.rated[0] < 2 {
		return nil
	}
	m, n := c.rated[0], float64(c.n)
	out := make([]CategoryKappa, len(c.cats))
	for i, counts := range c.counts {
		if c.rated[i] != m {
			return nil
		}
		for q, v := range counts {
			out[q].Share += v / (m * n)
			out[q].Kappa += v * (m - v)
		}
	}
	for q := range out {
		p := out[q].Share
		out[q].Category = c.cats[q]
		out[q].Kappa = 1 - out[q].Kappa/(n*m*(m-1)*p*(1-p))
		if p == 1 {
			out[q].Kappa = math.NaN()
		}
		out[q].Test = zTest(out[q].Kappa, math.Sqrt(2/(n*m*(m-1))), "agreement on this category is by chance", "Fleiss, Nee and Landis (1979)")
	}
	return out
}
