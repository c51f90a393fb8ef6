package compare

import (
	"context"
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/mat"

	"tyro/analysis/internal/numeric"
	"tyro/analysis/resample"
)

// An Overall is one test of whether any of the arms differ, in any of several numbers
// a trainee.
type Overall struct {
	Statistic  float64 // Pillai's trace: 0 where arms have the same means, at most arms − 1
	P          float64
	Arms       int
	Measures   []string
	N          int // trainees who enter
	Replicates int
	Method     string
}

// AnyDifference tests all arms at once: values[m][i] is measure m of trainee i, and
// arm[i] the trainee's arm, from 0. The statistic is the trace of B·T⁻¹, with B the
// scatter of the arms' means and T that of all trainees (Pillai, 1955, Annals of
// Mathematical Statistics 26, 117-121); its distribution comes from dealing the trainees
// out to the arms anew. For contributions to a cohort's curve it is the score form of
// the likelihood ratio between a curve for each arm and one for all (Rao, 1948,
// Proceedings of the Cambridge Philosophical Society 44, 50-57). Trainees are dealt
// within their cluster where clusters are given that hold several arms; clusters of one
// arm each are dealt whole. Trainees with an unknown number are left out.
func AnyDifference(ctx context.Context, measures []string, values [][]float64, arm []int, cluster []string, sampling resample.Sampling) (Overall, error) {
	out := Overall{Statistic: math.NaN(), P: math.NaN(), Measures: measures, Method: "permutation of arms"}
	var rows [][]float64
	var labels []int
	var names []string
	for i := range arm {
		row := make([]float64, len(values))
		known := true
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
		out.Method = "permutation of whole clusters"
	}
	t, ok := newTrace(rows, out.Arms)
	if !ok {
		return out, nil
	}
	blocks := blocksOf(names, len(rows))
	out.Statistic = t.at(labels)
	sampling.Progress = nil
	far, err := resample.Replicate(ctx, sampling, "compare/overall", func() func(*rand.Rand) float64 {
		dealt := make([]int, len(labels))
		return func(r *rand.Rand) float64 {
			copy(dealt, labels)
			for _, b := range blocks {
				r.Shuffle(len(b), func(i, j int) { dealt[b[i]], dealt[b[j]] = dealt[b[j]], dealt[b[i]] })
			}
			return t.at(dealt)
		}
	})
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

// A trace computes Pillai's trace for any labels of the same rows.
type trace struct {
	white [][]float64 // rows about their mean, with the scatter of all as the unit
	arms  int
}

func newTrace(rows [][]float64, arms int) (trace, bool) {
	if len(rows) <= arms || arms < 2 {
		return trace{}, false
	}
	n, k := len(rows), len(rows[0])
	centre := make([]float64, k)
	for _, r := range rows {
		for m, v := range r {
			centre[m] += v / float64(n)
		}
	}
	scatter := mat.NewSymDense(k, nil)
	for _, r := range rows {
		for a := range k {
			for b := range a + 1 {
				scatter.SetSym(a, b, scatter.At(a, b)+(r[a]-centre[a])*(r[b]-centre[b]))
			}
		}
	}
	inverse, ok := numeric.Inverse(scatter)
	if !ok {
		return trace{}, false
	}
	var chol mat.Cholesky
	if !chol.Factorize(inverse) {
		return trace{}, false
	}
	var u mat.TriDense
	chol.UTo(&u)
	t := trace{arms: arms}
	for _, r := range rows {
		w := make([]float64, k)
		for a := range k {
			for b := a; b < k; b++ {
				w[a] += u.At(a, b) * (r[b] - centre[b])
			}
		}
		t.white = append(t.white, w)
	}
	return t, true
}

func (t trace) at(labels []int) float64 {
	k := len(t.white[0])
	sums, counts := make([]float64, t.arms*k), make([]float64, t.arms)
	for i, w := range t.white {
		a := labels[i]
		counts[a]++
		for m, v := range w {
			sums[a*k+m] += v
		}
	}
	total := 0.0
	for a, n := range counts {
		for m := range k {
			if s := sums[a*k+m]; n > 0 {
				total += s * s / n
			}
		}
	}
	return total
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
