package compare

import (
	"math"
	"slices"
	"sort"

	"gonum.org/v1/gonum/stat/distuv"
)

// mostExactRanks is how many trainees the exact distribution of a rank sum is worked
// out for.
const mostExactRanks = 80

// startOrder begins a comparison by the order of values alone: arms are left with the values
// that are known, and have no value of their own.
func startOrder(measure, method string, ref, arm Arm, level float64) (Contrast, Arm, Arm, bool) {
	c, ok := startMeans(measure, method, ref, arm, level)
	c.ArmValue, c.RefValue, c.Estimate = math.NaN(), math.NaN(), math.NaN()
	return c, ref.Known(), arm.Known(), ok
}

// rankMethod is how the distribution of ranks is known.
func rankMethod(ref, arm Arm) string {
	if len(ref.Values)+len(arm.Values) > mostExactRanks {
		return "rank"
	}
	return "exact-rank"
}

// RankSum tests whether trainees of one arm tend to lie above those of the other
// (Mann and Whitney, 1947, Annals of Mathematical Statistics 18, 50-60). The estimate
// is U, the number of pairs in which the arm's trainee lies above, ties counting half.
// p is exact given the ties (mid-ranks) up to 80 trainees, and from the normal
// distribution with the variance corrected for ties beyond. The interval that belongs to
// it is that of [HodgesLehmann].
func RankSum(ref, arm Arm, level float64) Contrast {
	c, ref, arm, ok := startOrder("rank-sum", rankMethod(ref.Known(), arm.Known()), ref, arm, level)
	if !ok {
		return c
	}
	n := float64(len(arm.Values))
	ranks := doubledRanks(ref.Values, arm.Values, 0)
	sum := 0
	for _, r := range ranks[len(ref.Values):] {
		sum += r
	}
	c.Estimate = float64(sum)/2 - n*(n+1)/2
	c.P = rankP(ranks, len(arm.Values))
	return c
}

// HodgesLehmann is the median of all differences between a trainee of the arm and one
// of the reference. Its interval ends at order statistics of the differences (Hodges and
// Lehmann, 1963, Annals of Mathematical Statistics 34, 598-611; Hollander and Wolfe, 1973,
// Nonparametric Statistical Methods, chapter 4), and p is the level at which that interval
// ends at 0: without ties that of [RankSum]. Ties count against a difference: with many,
// such as whole numbers of a small range, it rejects far less often than its level says
// (testdata/coverage/README.md), and [RankSum] is the test to read.
func HodgesLehmann(ref, arm Arm, level float64) Contrast {
	c, ref, arm, ok := startOrder("hodges-lehmann", rankMethod(ref.Known(), arm.Known()), ref, arm, level)
	if !ok {
		return c
	}
	var d []float64
	atMost, atLeast := 0, 0 // differences not above 0, not below 0
	for _, a := range arm.Values {
		for _, b := range ref.Values {
			v := a - b
			d = append(d, v)
			if v <= 0 {
				atMost++
			}
			if v >= 0 {
				atLeast++
			}
		}
	}
	slices.Sort(d)
	k := len(d)
	c.Estimate = (d[(k-1)/2] + d[k/2]) / 2
	cdf := untiedRankSum(len(arm.Values), len(ref.Values))
	c.P = math.Min(1, 2*cdf(min(atMost, atLeast)))
	h := sort.Search(k, func(u int) bool { return cdf(u) >= (1-c.Level)/2 })
	c.Lower, c.Upper = math.Inf(-1), math.Inf(1)
	if h > 0 {
		c.Lower, c.Upper = d[h-1], d[k-h]
	}
	c.Describe()
	return c
}

// untiedRankSum is the distribution function of U for samples of n and m without ties:
// exact, or normal with a correction for continuity.
func untiedRankSum(n, m int) func(u int) float64 {
	if n+m > mostExactRanks {
		sd := math.Sqrt(float64(n) * float64(m) * float64(n+m+1) / 12)
		return func(u int) float64 { return distuv.UnitNormal.CDF((float64(u) + 0.5 - float64(n)*float64(m)/2) / sd) }
	}
	// The ways to come to each U are the coefficients of the product over i of
	// (1 − q^(m+i))/(1 − q^i) (Mann and Whitney, 1947, section 3).
	ways := make([]float64, n*m+1)
	ways[0] = 1
	for i := 1; i <= n; i++ {
		for u := len(ways) - 1; u >= m+i; u-- {
			ways[u] -= ways[u-m-i]
		}
		for u := i; u < len(ways); u++ {
			ways[u] += ways[u-i]
		}
	}
	total := 0.0
	cumulative := make([]float64, len(ways))
	for u, w := range ways {
		total += w
		cumulative[u] = total
	}
	return func(u int) float64 { return cumulative[min(u, len(ways)-1)] / total }
}

// subsetSums counts the ways in which n of the numbers sum to s, for every s.
func subsetSums(numbers []int, n int) []float64 {
	total := 0
	for _, r := range numbers {
		total += r
	}
	ways := make([][]float64, n+1)
	for k := range ways {
		ways[k] = make([]float64, total+1)
	}
	ways[0][0] = 1
	reach := 0
	for _, r := range numbers {
		reach += r
		for k := n; k > 0; k-- {
			for s := reach; s >= r; s-- {
				ways[k][s] += ways[k-1][s-r]
			}
		}
	}
	return ways[n]
}

// doubledRanks are twice the mid-ranks of the reference's values, then of the arm's less
// a shift: whole numbers. Values that differ by rounding alone are ties.
func doubledRanks(ref, arm []float64, shift float64) []int {
	all := slices.Clone(ref)
	size := 0.0
	for _, v := range arm {
		all = append(all, v-shift)
	}
	for _, v := range all {
		size = math.Max(size, math.Abs(v))
	}
	order := make([]int, len(all))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int {
		switch {
		case all[a] < all[b]:
			return -1
		case all[a] > all[b]:
			return 1
		}
		return 0
	})
	out := make([]int, len(all))
	for from := 0; from < len(order); {
		to := from + 1
		for to < len(order) && all[order[to]]-all[order[to-1]] <= 1e-12*size {
			to++
		}
		for _, i := range order[from:to] {
			out[i] = from + 1 + to
		}
		from = to
	}
	return out
}

// rankP is the two-sided p of the sum of the last n doubled ranks: the chance of a sum
// at least as far from its mean.
func rankP(ranks []int, n int) float64 {
	total, seen := 0, 0
	for i, r := range ranks {
		total += r
		if i >= len(ranks)-n {
			seen += r
		}
	}
	all := len(ranks)
	far := math.Abs(float64(seen) - float64(total)*float64(n)/float64(all))
	if all > mostExactRanks {
		within := 0.0
		for _, r := range ranks {
			d := float64(r) - float64(total)/float64(all)
			within += d * d
		}
		m := all - n
		sd := math.Sqrt(float64(n) * float64(m) * within / float64(all) / float64(all-1))
		return 2 * distuv.UnitNormal.Survival(far/sd)
	}
	extreme, count := 0.0, 0.0
	for s, w := range subsetSums(ranks, n) {
		count += w
		if math.Abs(float64(s)-float64(total)*float64(n)/float64(all)) >= far-1e-9 {
			extreme += w
		}
	}
	return extreme / count
}
