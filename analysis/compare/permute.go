package compare

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/stat/combin"

	"tyro/analysis/resample"
)

// Permutation compares means by dealing the trainees out to the arms anew. The interval
// holds every shift that the same test does not reject, so that it leaves out 0 exactly
// where p is below 1 − level (Garthwaite, 1996, Biometrics 52, 1387-1393, without his
// search: each deal turns from less to more extreme at two shifts that are known). All
// deals are gone through where they are few enough (200,000), otherwise as many as the
// sampling says are drawn. It assumes that the curriculum moves everybody alike; arms
// that differ in spread are for [Shift].
func Permutation(ctx context.Context, ref, arm Arm, level float64, sampling resample.Sampling) (Contrast, error) {
	c, ok := startMeans("permutation", "permutation", ref, arm, level)
	if !ok {
		return c, nil
	}
	ref, arm = ref.Known(), arm.Known()
	p := pool(ref, arm)
	deals, exact, err := p.deal(ctx, sampling, mostDeals, "compare/permutation/"+ref.Name+"/"+arm.Name)
	if err != nil {
		return c, err
	}
	from, to, same := make([]float64, 0, len(deals)), make([]float64, 0, len(deals)), 0
	slack := 1e-9 * (1 + math.Abs(c.Estimate))
	far := 0
	for _, d := range deals {
		diff, moved := p.difference(d)
		if math.Abs(diff) >= math.Abs(c.Estimate)-slack {
			far++
		}
		if moved > 1-1e-12 { // the deal seen: as extreme at every shift
			same++
			continue
		}
		// |diff − shift·moved| ≥ |estimate − shift| between two shifts, one on either side
		// of the estimate.
		a, b := (c.Estimate-diff)/(1-moved), math.Inf(1)
		if moved > -1+1e-12 {
			b = (c.Estimate + diff) / (1 + moved)
		} else if diff < -c.Estimate { // the arms exchanged
			b = math.Inf(-1)
		}
		from, to = append(from, math.Min(a, b)), append(to, math.Max(a, b))
	}
	c.Replicates, c.Exact = len(deals), exact
	plus := 0
	if !exact { // the deal seen is one of them
		plus = 1
	}
	total := float64(len(deals) + plus)
	c.P = float64(far+plus) / total
	slices.Sort(from)
	slices.Sort(to)
	c.Lower = firstReached(from, same+plus, total, c.Level)
	slices.Reverse(to)
	c.Upper = firstReached(to, same+plus, total, c.Level)
	for _, end := range []*float64{&c.Lower, &c.Upper} {
		if math.Abs(*end) < slack { // rounding must not move an end across 0
			*end = 0
		}
	}
	if math.IsInf(c.Lower, 0) || math.IsInf(c.Upper, 0) {
		c.Lower, c.Upper = math.Inf(-1), math.Inf(1)
	}
	c.Describe()
	return c, nil
}

// firstReached is where, coming from outside, more than 1 − level of the deals are as
// extreme as what was seen.
func firstReached(ends []float64, always int, total, level float64) float64 {
	for k, e := range ends {
		if float64(always+k+1)/total > 1-level+1e-12 {
			return e
		}
	}
	return math.NaN()
}

// mostDeals is how many deals are gone through one by one.
const mostDeals = 200_000

// A pooled is both arms' trainees, the arm's first.
type pooled struct {
	y       []float64
	n       int // of the arm
	block   [][]int
	inBlock []int // of the arm in each block
	total   sums
}

// sums are those that a group's mean and variance at any shift follow from: z is 1 for
// the arm's own trainees.
type sums struct{ n, y, z, yy, yz float64 }

func (s sums) less(o sums) sums {
	return sums{s.n - o.n, s.y - o.y, s.z - o.z, s.yy - o.yy, s.yz - o.yz}
}

// moments are the mean and variance of y − shift·z.
func (s sums) moments(shift float64) (m, v float64) {
	my, mz := s.y/s.n, s.z/s.n
	m = my - shift*mz
	v = (s.yy - s.n*my*my - 2*shift*(s.yz-s.n*my*mz) + shift*shift*(s.z-s.n*mz*mz)) / (s.n - 1)
	return m, math.Max(v, 0)
}

// pool puts the arms together about their common mean. Where clusters hold trainees of
// both arms, trainees are dealt within their cluster only.
func pool(ref, arm Arm) pooled {
	p := pooled{n: len(arm.Values)}
	p.y = append(slices.Clone(arm.Values), ref.Values...)
	centre := mean(p.y)
	for i := range p.y {
		p.y[i] -= centre
		p.total = p.total.with(p.y[i], i < p.n)
	}
	if _, across := clustered(ref, arm); across {
		names := append(slices.Clone(arm.Cluster), ref.Cluster...)
		at := map[string]int{}
		for i, name := range names {
			k, ok := at[name]
			if !ok {
				k = len(p.block)
				at[name] = k
				p.block, p.inBlock = append(p.block, nil), append(p.inBlock, 0)
			}
			p.block[k] = append(p.block[k], i)
			if i < p.n {
				p.inBlock[k]++
			}
		}
		return p
	}
	all := make([]int, len(p.y))
	for i := range all {
		all[i] = i
	}
	p.block, p.inBlock = [][]int{all}, []int{p.n}
	return p
}

func (s sums) with(y float64, own bool) sums {
	s.n, s.y, s.yy = s.n+1, s.y+y, s.yy+y*y
	if own {
		s.z, s.yz = s.z+1, s.yz+y
	}
	return s
}

// difference of means of a deal, and how much of a shift of the arm it would keep.
func (p pooled) difference(d sums) (diff, moved float64) {
	rest := p.total.less(d)
	return d.y/d.n - rest.y/rest.n, d.z/d.n - rest.z/rest.n
}

// deal lists the sums of the group that stands for the arm: of every deal where there
// are at most so many, otherwise of as many as the sampling says.
func (p pooled) deal(ctx context.Context, sampling resample.Sampling, most int, purpose string) (deals []sums, exact bool, err error) {
	if len(p.block) == 1 && combin.LogGeneralizedBinomial(float64(len(p.y)), float64(p.n)) <= math.Log(float64(most))+1e-9 {
		g := combin.NewCombinationGenerator(len(p.y), p.n)
		pick := make([]int, p.n)
		for g.Next() {
			deals = append(deals, p.sum(g.Combination(pick)))
		}
		return deals, true, ctx.Err()
	}
	sampling.Progress = nil
	deals, err = resample.Replicate(ctx, sampling, purpose, func() func(*rand.Rand) sums {
		order, pick := make([]int, len(p.y)), make([]int, 0, p.n)
		return func(r *rand.Rand) sums {
			pick = pick[:0]
			for k, members := range p.block {
				copy(order, members)
				for i := range p.inBlock[k] {
					j := i + r.IntN(len(members)-i)
					order[i], order[j] = order[j], order[i]
				}
				pick = append(pick, order[:p.inBlock[k]]...)
			}
			return p.sum(pick)
		}
	})
	if err != nil {
		return nil, false, fmt.Errorf("dealing trainees out to arms: %w", err)
	}
	return deals, false, nil
}

func (p pooled) sum(pick []int) sums {
	var s sums
	for _, i := range pick {
		s = s.with(p.y[i], i < p.n)
	}
	return s
}
