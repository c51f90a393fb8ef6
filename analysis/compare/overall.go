package compare

import (
	"context"
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat"

	"tyro/analysis/internal/numeric"
	"tyro/analysis/resample"
)

// An Overall is one test of whether any of the arms differ, in any of several numbers
// a trainee.
type Overall struct {
	Statistic  float64 // Welch and James's: 0 where arms have the same means
	P          float64
	Arms       int
	Measures   []string
	N          int // trainees who enter
	Replicates int
	Method     string
}

// AnyDifference tests all arms at once: values[m][i] is measure m of trainee i, and
// arm[i] the trainee's arm, from 0. The statistic weights the distance of the arms' means
// from their common mean by each arm's own covariance (James, 1954, Biometrika 41, 19-43);
// its distribution comes from normal numbers drawn with each arm's covariance about one
// mean (parametric bootstrap; Krishnamoorthy and Lu, 2010, Journal of Statistical
// Computation and Simulation 80, 873-887), which in arms of 12 keeps the level better than
// dealing trainees out anew where arms differ in spread. On contributions to a cohort's
// curve it is a score form of the likelihood ratio between a curve for each arm and one for
// all (Rao, 1948, Proceedings of the Cambridge Philosophical Society 44, 50-57). Where
// clusters hold several arms, numbers are taken about their cluster's mean and trainees are
// dealt out anew within their cluster; clusters of one arm each are dealt whole (Pauly, Brunner and Konietschke, 2015, Journal of the Royal
// Statistical Society B 77, 461-473). Trainees with an unknown number or without an arm
// (below 0) are left out.
func AnyDifference(ctx context.Context, measures []string, values [][]float64, arm []int, cluster []string, sampling resample.Sampling) (Overall, error) {
	out := Overall{Statistic: math.NaN(), P: math.NaN(), Measures: measures, Method: "parametric bootstrap"}
	var rows [][]float64
	var labels []int
	var names []string
	for i := range arm {
		row := make([]float64, len(values))
		known := arm[i] >= 0
		for m := range values {
			row[m] = values[m][i]
			known = known && !math.IsNaN(row[m]) && !math.IsInf(row[m], 0)
		}
		if !known {
			continue
		}
		rows, labels = append(rows, row), append(labels, arm[i])
		out.Arms = max(out.Arms, arm[i]+1)
		if cluster != nil {
			names = append(names, cluster[i])
		}
	}
	out.N = len(rows)
	if whole := wholeClusters(labels, names); whole {
		rows, labels = clusterMeans(rows, labels, names)
		names = nil
		out.Method = wholeDealt
	} else if names != nil {
		centreWithin(rows, names)
	}
	t, ok := newDistance(rows, labels, out.Arms)
	if !ok {
		return out, nil
	}
	out.Statistic = t.at(labels)
	again := t.drawn(labels)
	switch {
	case out.Method == wholeDealt:
		again = t.dealt(labels, blocksOf(nil, len(rows)))
	case names != nil:
		out.Method = "permutation within clusters"
		again = t.dealt(labels, blocksOf(names, len(rows)))
	}
	sampling.Progress = nil
	far, err := resample.Replicate(ctx, sampling, "compare/overall", again)
	if err != nil {
		return out, err
	}
	over, ties := 0.0, 1.0
	for _, v := range far {
		switch slack := 1e-9 * (1 + out.Statistic); {
		case v > out.Statistic+slack:
			over++
		case v >= out.Statistic-slack:
			ties++
		}
	}
	out.Replicates = len(far)
	out.P = (over + ties/2) / float64(len(far)+1)
	return out, nil
}

// wholeDealt is the method where clusters lie in one arm each.
const wholeDealt = "permutation of whole clusters"

// dealt makes statistics of labels dealt out anew within blocks.
func (d distance) dealt(labels []int, blocks [][]int) func() func(*rand.Rand) float64 {
	return func() func(*rand.Rand) float64 {
		t := d.own()
		dealt := make([]int, len(labels))
		return func(r *rand.Rand) float64 {
			copy(dealt, labels)
			for _, b := range blocks {
				r.Shuffle(len(b), func(i, j int) { dealt[b[i]], dealt[b[j]] = dealt[b[j]], dealt[b[i]] })
			}
			return t.at(dealt)
		}
	}
}

// drawn makes statistics of normal numbers with every arm's own covariance and no
// difference in means.
func (d distance) drawn(labels []int) func() func(*rand.Rand) float64 {
	k := len(d.rows[0])
	factors := make([]mat.TriDense, d.arms)
	for g := range d.arms {
		var own []float64
		for i, r := range d.rows {
			if labels[i] == g {
				own = append(own, r...)
			}
		}
		x := mat.NewDense(len(own)/k, k, own)
		var cov mat.SymDense
		stat.CovarianceMatrix(&cov, x, nil)
		var chol mat.Cholesky
		chol.Factorize(&cov) // it has an inverse, or there were no statistic
		chol.LTo(&factors[g])
	}
	return func() func(*rand.Rand) float64 {
		t := d.own()
		t.rows = make([][]float64, len(d.rows))
		for i := range t.rows {
			t.rows[i] = make([]float64, k)
		}
		z := make([]float64, k)
		return func(r *rand.Rand) float64 {
			for i, row := range t.rows {
				for a := range z {
					z[a] = r.NormFloat64()
				}
				for a := range row {
					row[a] = 0
					for b := range a + 1 {
						row[a] += factors[labels[i]].At(a, b) * z[b]
					}
				}
			}
			return t.at(labels)
		}
	}
}

// A distance computes the statistic for any labels of the same rows.
type distance struct {
	rows  [][]float64 // about their mean, in units of their spread
	arms  int
	sums  []float64 // scratch: by arm, the count, the sums and the products
	total *mat.SymDense
	right []float64
}

// newDistance reports false where an arm is too small for a covariance of its own, or
// the measures cannot be told apart.
func newDistance(rows [][]float64, labels []int, arms int) (distance, bool) {
	d := distance{arms: arms}
	if len(rows) == 0 || arms < 2 {
		return d, false
	}
	k := len(rows[0])
	counts := make([]int, arms)
	for _, a := range labels {
		counts[a]++
	}
	for _, n := range counts {
		if n < k+2 {
			return d, false
		}
	}
	column := make([]float64, len(rows))
	d.rows = make([][]float64, len(rows))
	for i := range rows {
		d.rows[i] = make([]float64, k)
	}
	for m := range k {
		for i, r := range rows {
			column[i] = r[m]
		}
		centre, sd := mean(column), math.Sqrt(variance(column))
		if !(sd > 0) {
			return d, false
		}
		for i, r := range rows {
			d.rows[i][m] = (r[m] - centre) / sd
		}
	}
	d = d.own()
	return d, !math.IsNaN(d.at(labels))
}

// own is the same with scratch memory of its own.
func (d distance) own() distance {
	k := len(d.rows[0])
	d.sums, d.total, d.right = make([]float64, d.arms*(1+k+k*k)), mat.NewSymDense(k, nil), make([]float64, k)
	return d
}

func (d distance) at(labels []int) float64 {
	k := len(d.rows[0])
	size := 1 + k + k*k
	clear(d.sums)
	for i, r := range d.rows {
		s := d.sums[labels[i]*size:]
		s[0]++
		for a, v := range r {
			s[1+a] += v
			for b := range a + 1 {
				s[1+k+a*k+b] += v * r[b]
			}
		}
	}
	weights := make([]*mat.SymDense, d.arms)
	d.total.Zero()
	clear(d.right)
	for g := range d.arms {
		s := d.sums[g*size:]
		n := s[0]
		v := mat.NewSymDense(k, nil)
		for a := range k {
			for b := range a + 1 {
				v.SetSym(a, b, (s[1+k+a*k+b]-s[1+a]*s[1+b]/n)/(n-1)/n)
			}
		}
		w, ok := numeric.Inverse(v)
		if !ok {
			return math.NaN()
		}
		weights[g] = w
		d.total.AddSym(d.total, w)
		for a := range k {
			for b := range k {
				d.right[a] += w.At(a, b) * s[1+b] / n
			}
		}
	}
	common, ok := numeric.Solve(d.total, d.right)
	if !ok {
		return math.NaN()
	}
	sum := 0.0
	for g, w := range weights {
		s := d.sums[g*size:]
		for a := range k {
			for b := range k {
				sum += (s[1+a]/s[0] - common[a]) * w.At(a, b) * (s[1+b]/s[0] - common[b])
			}
		}
	}
	return sum
}

// wholeClusters reports whether there are clusters and each lies in one arm.
func wholeClusters(labels []int, names []string) bool {
	in := map[string]int{}
	for i, name := range names {
		if a, ok := in[name]; ok && a != labels[i] {
			return false
		}
		in[name] = labels[i]
	}
	return len(in) > 0
}

// clusterMeans makes one row of every cluster.
func clusterMeans(rows [][]float64, labels []int, names []string) (out [][]float64, arms []int) {
	at := map[string]int{}
	var n []float64
	for i, name := range names {
		k, ok := at[name]
		if !ok {
			k = len(out)
			at[name] = k
			out, arms, n = append(out, make([]float64, len(rows[i]))), append(arms, labels[i]), append(n, 0)
		}
		n[k]++
		for m, v := range rows[i] {
			out[k][m] += v
		}
	}
	for k := range out {
		for m := range out[k] {
			out[k][m] /= n[k]
		}
	}
	return out, arms
}

// centreWithin takes every row about the mean of its cluster.
func centreWithin(rows [][]float64, names []string) {
	for _, members := range blocksOf(names, len(rows)) {
		for m := range rows[members[0]] {
			sum := 0.0
			for _, i := range members {
				sum += rows[i][m]
			}
			for _, i := range members {
				rows[i][m] -= sum / float64(len(members))
			}
		}
	}
}

// blocksOf lists the positions within which trainees are dealt: everywhere without
// names.
func blocksOf(names []string, n int) [][]int {
	if len(names) == 0 {
		names = make([]string, n)
	}
	at := map[string]int{}
	var out [][]int
	for i, name := range names {
		k, ok := at[name]
		if !ok {
			k = len(out)
			at[name], out = k, append(out, nil)
		}
		out[k] = append(out[k], i)
	}
	return out
}
