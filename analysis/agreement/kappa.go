package agreement

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"
)

// Weights says how much two categories agree.
type Weights string

// The weights: full agreement only, or falling with the distance of the
// categories' positions, linearly or with its square.
const (
	Identity  Weights = "identity"
	Linear    Weights = "linear"
	Quadratic Weights = "quadratic"
)

func (w Weights) of(i, j, k int) float64 {
	d := math.Abs(float64(i-j)) / float64(k-1)
	switch {
	case i == j:
		return 1
	case w == Linear:
		return 1 - d
	case w == Quadratic:
		return 1 - d*d
	}
	return 0
}

// Crosstab counts how often the first rater gave category i and the second j,
// over the subjects that both rated.
func Crosstab(r Ratings, cats []float64) [][]float64 {
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

// CohenKappa is chance-corrected agreement of two raters from a square table
// of counts, with the large-sample standard error of Fleiss, Cohen and Everitt
// (1969), Psychological Bulletin 72, 323-327. Cohen (1960), Educational and
// Psychological Measurement 20, 37-46; weighted: Cohen (1968), Psychological
// Bulletin 70, 213-220.
func CohenKappa(counts [][]float64, weights Weights, level float64) Coefficient {
	name := map[Weights]string{Identity: "cohen-kappa", Linear: "weighted-kappa-linear", Quadratic: "weighted-kappa-quadratic"}[weights]
	return kappa(name, counts, func(i, j int) float64 { return weights.of(i, j, len(counts)) }, level)
}

// KappaWithWeights is CohenKappa with the caller's agreement weights, 1 on the
// diagonal.
func KappaWithWeights(counts, agreement [][]float64, level float64) Coefficient {
	return kappa("weighted-kappa", counts, func(i, j int) float64 { return agreement[i][j] }, level)
}

func kappa(name string, counts [][]float64, w func(i, j int) float64, level float64) Coefficient {
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
	c := Coefficient{Name: name, Estimate: math.NaN(), SE: math.NaN(), Lower: math.NaN(), Upper: math.NaN(), Level: level}
	var po, pe float64
	wRow, wCol := make([]float64, k), make([]float64, k) // mean weight against the other's margin
	for i := range k {
		for j := range k {
			po += w(i, j) * counts[i][j] / n
			pe += w(i, j) * rows[i] * cols[j] / (n * n)
			wRow[i] += w(i, j) * cols[j] / n
			wCol[j] += w(i, j) * rows[i] / n
		}
	}
	if n == 0 || !(1-pe > 1e-15) {
		c.Note = notDefined
		return c
	}
	c.Estimate = (po - pe) / (1 - pe)
	sum := 0.0
	for i := range k {
		for j := range k {
			d := w(i, j)*(1-pe) - (wRow[i]+wCol[j])*(1-po)
			sum += counts[i][j] / n * d * d
		}
	}
	centre := po*pe - 2*pe + po
	variance := (sum - centre*centre) / (n * math.Pow(1-pe, 4))
	if variance < 1e-18 {
		variance = 0
	}
	c.SE = math.Sqrt(variance)
	z := distuv.UnitNormal.Quantile((1 + level) / 2)
	c.Lower, c.Upper = c.Estimate-z*c.SE, c.Estimate+z*c.SE
	c.Method = "normal, large-sample standard error"
	if c.SE == 0 {
		c.Lower, c.Upper, c.Method = math.NaN(), math.NaN(), ""
		c.Note = "no interval: the standard error is 0 when all ratings agree"
	}
	return c
}

// percentAgreement is the share of pairs of raters who agree, averaged over
// the subjects rated at least twice.
func percentAgreement(r Ratings, cats []float64) float64 {
	po, _, n := pairAgreement(r, cats)
	if n == 0 {
		return math.NaN()
	}
	return po
}

// fleissKappa is chance-corrected agreement of any number of raters who need
// not be the same for every subject; Fleiss (1971), Psychological Bulletin 76,
// 378-382. Subjects rated fewer than two times are left out; with gaps each
// subject weighs the same.
func fleissKappa(r Ratings, cats []float64) float64 {
	po, shares, n := pairAgreement(r, cats)
	pe := 0.0
	for _, p := range shares {
		pe += p * p
	}
	if n == 0 || !(1-pe > 1e-15) {
		return math.NaN()
	}
	return (po - pe) / (1 - pe)
}

// pairAgreement is the mean agreement of pairs over subjects rated at least
// twice, with the mean share of each category among them.
func pairAgreement(r Ratings, cats []float64) (po float64, shares []float64, n int) {
	shares = make([]float64, len(cats))
	counts := make([]float64, len(cats))
	for _, row := range r {
		clear(counts)
		m := 0.0
		for _, v := range row {
			if i := slices.Index(cats, v); i >= 0 {
				counts[i]++
				m++
			}
		}
		if m < 2 {
			continue
		}
		n++
		for i, c := range counts {
			po += c * (c - 1) / (m * (m - 1))
			shares[i] += c / m
		}
	}
	for i := range shares {
		shares[i] /= float64(n)
	}
	return po / float64(n), shares, n
}
