package agreement

import (
	"cmp"
	"context"
	"math"
)

// KrippendorffAlpha is 1 − observed/expected disagreement for any number of
// raters and missing ratings; the scale (nominal, ordinal, interval, ratio)
// sets the distance between two values. Subjects rated once are left out.
// Krippendorff (2011), Computing Krippendorff's Alpha-Reliability; Krippendorff
// (2013), Content Analysis, chapter 12. The interval is a bootstrap of
// subjects.
//
// Within a subject the ordinal distance between two values is the difference of
// their mid-ranks among all pairable values, so that on ordinal and interval
// scales disagreement is a sum of squares and needs no table of pairs.
func KrippendorffAlpha(ctx context.Context, r Ratings, scale string, o Options) (Coefficient, error) {
	if err := cmp.Or(checkScale(scale), usable(r, o)); err != nil {
		return failed("krippendorff-alpha", err), err
	}
	k := unknown("krippendorff-alpha", o.level(), notDefined)
	var paired Ratings
	for _, row := range r {
		if count(row) >= 2 {
			paired = append(paired, row)
		}
	}
	if len(paired) == 0 {
		return k, nil
	}
	a := newAlpha(paired, scale)
	if scale == "ratio" && a.cats[0] < 0 {
		k.Note = "not defined: a ratio scale has no values below 0"
		return k, nil
	}
	est := a.stat()(everyone(len(paired)))[0]
	if math.IsNaN(est) {
		return k, nil
	}
	k.Estimate, k.Note = est, ""
	if len(paired) < 2 {
		k.Note = "no interval: one subject only"
		return k, nil
	}
	if scale == "ratio" && len(a.cats) > 3000 {
		k.Note = "no interval: too many distinct values to bootstrap on a ratio scale"
		return k, nil
	}
	ivs, err := bySubjects(ctx, o, "krippendorff-alpha", len(paired), a.stat)
	if err != nil {
		return k, err
	}
	return k.promote(ivs[0]), nil
}

// alpha holds each subject's values once, as positions of categories with
// their counts.
type alpha struct {
	scale string
	cats  []float64
	cells [][]cell
	rated []float64
	own   []float64 // disagreement within each subject, where it does not depend on the margins
	sum   []float64 // of values, interval scale
	sq    []float64 // of their squares, about the overall middle
}

type cell struct {
	at    int
	count float64
}

func newAlpha(r Ratings, scale string) *alpha {
	a := &alpha{scale: scale, cats: r.categories()}
	at := make(map[float64]int, len(a.cats))
	middle := 0.0
	for i, v := range a.cats {
		at[v] = i
		middle += v / float64(len(a.cats))
	}
	for _, row := range r {
		counts := map[int]float64{}
		var order []int
		m, s, sq := 0.0, 0.0, 0.0
		for _, v := range row {
			if math.IsNaN(v) {
				continue
			}
			if counts[at[v]] == 0 {
				order = append(order, at[v])
			}
			counts[at[v]]++
			m++
			s += v - middle
			sq += (v - middle) * (v - middle)
		}
		cells := make([]cell, 0, len(order))
		for _, i := range order {
			cells = append(cells, cell{i, counts[i]})
		}
		a.cells, a.rated, a.sum, a.sq = append(a.cells, cells), append(a.rated, m), append(a.sum, s), append(a.sq, sq)
		a.own = append(a.own, a.within(cells, m))
	}
	return a
}

// within is Σ over ordered pairs of one subject's values of the distance,
// divided by m − 1; 0 on an ordinal scale, where it depends on the margins.
func (a *alpha) within(cells []cell, m float64) float64 {
	sum := 0.0
	for i, x := range cells {
		for _, y := range cells[:i] {
			sum += 2 * x.count * y.count * a.distance(x.at, y.at)
		}
	}
	return sum / (m - 1)
}

func (a *alpha) distance(i, j int) float64 {
	x, y := a.cats[i], a.cats[j]
	switch a.scale {
	case "nominal":
		return 1
	case "interval":
		return (x - y) * (x - y)
	case "ratio":
		d := (x - y) / (x + y)
		return d * d
	}
	return 0
}

// stat computes alpha on the subjects drawn.
func (a *alpha) stat() statistic {
	counts, rank := make([]float64, len(a.cats)), make([]float64, len(a.cats))
	return func(draw []int) []float64 {
		var n, observed float64
		if a.scale == "interval" {
			var s, sq float64
			for _, i := range draw {
				n += a.rated[i]
				observed += a.own[i]
				s += a.sum[i]
				sq += a.sq[i]
			}
			expected := 2 * (n*sq - s*s)
			if observed == 0 && expected < 1e-9*n*sq {
				expected = 0
			}
			return []float64{ratio(observed, expected, n)}
		}
		clear(counts)
		for _, i := range draw {
			n += a.rated[i]
			observed += a.own[i]
			for _, c := range a.cells[i] {
				counts[c.at] += c.count
			}
		}
		if a.scale == "ordinal" {
			below := 0.0
			for q, c := range counts {
				rank[q] = below + c/2 - n/2
				below += c
			}
			for _, i := range draw {
				var s, sq float64
				for _, c := range a.cells[i] {
					s += c.count * rank[c.at]
					sq += c.count * rank[c.at] * rank[c.at]
				}
				m := a.rated[i]
				observed += 2 * (m*sq - s*s) / (m - 1)
			}
		}
		return []float64{ratio(observed, a.expected(counts, rank, n), n)}
	}
}

// ratio is alpha from the two sums, NaN without expected disagreement.
func ratio(observed, expected, n float64) float64 {
	if !(expected > 0) {
		return math.NaN()
	}
	return 1 - observed*(n-1)/expected
}

// expected is Σ over ordered pairs of all pairable values of the distance.
func (a *alpha) expected(counts, rank []float64, n float64) float64 {
	switch a.scale {
	case "nominal":
		sum := n * n
		for _, c := range counts {
			sum -= c * c
		}
		return sum
	case "ordinal":
		var s, sq float64
		used := 0
		for q, c := range counts {
			s += c * rank[q]
			sq += c * rank[q] * rank[q]
			if c > 0 {
				used++
			}
		}
		if used < 2 {
			return 0
		}
		return 2 * (n*sq - s*s)
	}
	sum := 0.0
	for i, x := range counts {
		for j, y := range counts[:i] {
			if x > 0 && y > 0 {
				sum += 2 * x * y * a.distance(i, j)
			}
		}
	}
	return sum
}
