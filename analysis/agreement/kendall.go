package agreement

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"
)

// KendallW is the coefficient of concordance of the raters' rankings of the
// subjects that all rated, corrected for ties, with its chi-square test.
// Kendall and Babington Smith (1939), Annals of Mathematical Statistics 10,
// 275-287. A ragged table is told by Err.
func KendallW(r Ratings) Coefficient {
	if err := r.Check(); err != nil {
		return failed("kendall-w", err)
	}
	full := r.complete()
	c := unknown("kendall-w", 0, notDefined)
	n, m := float64(len(full)), float64(r.raters())
	if n < 2 || m < 2 {
		c.Note = "not defined: fewer than 2 subjects rated by all of at least 2 raters"
		return c
	}
	sums, ties := make([]float64, len(full)), 0.0
	for j := range r.raters() {
		ranks, t := midRanks(column(full, j))
		ties += t
		for i, v := range ranks {
			sums[i] += v
		}
	}
	s := 0.0
	for _, v := range sums {
		d := v - m*(n+1)/2
		s += d * d
	}
	most := m*m*(n*n*n-n) - m*ties
	if !(most > 0) {
		return c
	}
	c.Estimate, c.Note = 12*s/most, "no interval; tested"
	chi := m * (n - 1) * c.Estimate
	c.Test = &Test{Statistic: "chi-square", Value: chi, SE: math.NaN(), DF1: n - 1, DF2: math.NaN(), P: distuv.ChiSquared{K: n - 1}.Survival(chi), Null: "the rankings are unrelated", Formula: "Kendall and Babington Smith (1939)"}
	return c
}

// midRanks ranks values from 1, ties sharing their mean rank, with Σ(t³ − t)
// over the groups of ties.
func midRanks(vs []float64) (ranks []float64, ties float64) {
	order := everyone(len(vs))
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(vs[a], vs[b]) })
	ranks = make([]float64, len(vs))
	for i := 0; i < len(order); {
		j := i
		for j < len(order) && vs[order[j]] == vs[order[i]] {
			j++
		}
		for _, at := range order[i:j] {
			ranks[at] = float64(i+j+1) / 2
		}
		t := float64(j - i)
		ties += t*t*t - t
		i = j
	}
	return ranks, ties
}
