package agreement

import (
	"fmt"
	"math"
	"slices"
)

// Weights says how much two categories agree.
type Weights string

// The weights: full agreement only, or falling with the distance of the
// categories' values, linearly or with its square.
const (
	Identity  Weights = "identity"
	Linear    Weights = "linear"
	Quadratic Weights = "quadratic"
)

func (w Weights) check() error {
	switch w {
	case Identity, Linear, Quadratic:
		return nil
	}
	return fmt.Errorf("weights %q: expected identity, linear or quadratic", string(w))
}

// matrix holds the agreement weights of every two categories.
func (w Weights) matrix(cats []float64) [][]float64 {
	q := len(cats)
	out := make([][]float64, q)
	for i := range out {
		out[i] = make([]float64, q)
		for j := range q {
			d := math.Abs(cats[i]-cats[j]) / (cats[q-1] - cats[0])
			switch {
			case i == j:
				out[i][j] = 1
			case w == Linear:
				out[i][j] = 1 - d
			case w == Quadratic:
				out[i][j] = 1 - d*d
			}
		}
	}
	return out
}

// A coded table holds positions of categories instead of scores, −1 where
// missing.
type coded struct {
	cats   []float64
	codes  [][]int
	counts [][]float64 // [subject][category]
	rated  []float64   // ratings of each subject
	shares [][]float64 // counts as shares
	n, k   int
}

// encode finds every score's category; cats nil means those seen.
func encode(r Ratings, cats []float64) coded {
	all := slices.Concat(r.categories(), cats)
	slices.Sort(all)
	c := coded{cats: slices.Compact(all), n: len(r), k: r.raters()}
	at := make(map[float64]int, len(c.cats))
	for i, v := range c.cats {
		at[v] = i
	}
	for _, row := range r {
		codes, counts := make([]int, len(row)), make([]float64, len(c.cats))
		m := 0.0
		for j, v := range row {
			codes[j] = -1
			if !math.IsNaN(v) {
				codes[j] = at[v]
				counts[at[v]]++
				m++
			}
		}
		shares := make([]float64, len(counts))
		for i, v := range counts {
			shares[i] = v / m
		}
		c.codes, c.counts, c.rated, c.shares = append(c.codes, codes), append(c.counts, counts), append(c.rated, m), append(c.shares, shares)
	}
	return c
}

// agreements is the weighted agreement of each subject's pairs of ratings; NaN
// with fewer than two.
func (c coded) agreements(w [][]float64) []float64 {
	out := make([]float64, c.n)
	for i, counts := range c.counts {
		m := c.rated[i]
		if m < 2 {
			out[i] = math.NaN()
			continue
		}
		sum := 0.0
		for a, ca := range counts {
			if ca == 0 {
				continue
			}
			star := 0.0
			for b, cb := range counts {
				star += w[a][b] * cb
			}
			sum += ca * (star - 1)
		}
		out[i] = sum / (m * (m - 1))
	}
	return out
}

// Crosstab counts how often the first rater gave category i and the second j,
// over the subjects that both rated. It panics on a ragged table or one rater.
func Crosstab(r Ratings, cats []float64) [][]float64 {
	r.must()
	t := make([][]float64, len(cats))
	for i := range t {
		t[i] = make([]float64, len(cats))
	}
	for _, row := range r {
		i, j := slices.Index(cats, row[0]), slices.Index(cats, row[1])
		if i >= 0 && j >= 0 {
			t[i][j]++
		}
	}
	return t
}
