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
	deals, exact, err := deal(ctx, p.deck, p.sum, sampling, mostDeals, "compare/permutation/"+ref.Name+"/"+arm.Name)
	if err != nil {
		return c, err
	}
	from, to, same := make([]float64, 0, len(deals)), make([]float64, 0, len(deals)), 0
	slack := 1e-9 * math.Max(math.Abs(c.Estimate), p.size()) // of rounding, whatever the unit
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

// A deck is both arms' trainees, the arm's first, as they may be dealt out anew.
type deck struct {
	all, n  int // trainees, and those of the arm
	block   [][]int
	inBlock []int // of the arm in each block
}

// newDeck deals trainees within their cluster only where clusters hold trainees of both
// arms.
func newDeck(ref, arm Arm) deck {
	d := deck{all: len(arm.Values) + len(ref.Values), n: len(arm.Values)}
	var names []string
	if _, across := clustered(ref, arm); across {
		names = append(slices.Clone(arm.Cluster), ref.Cluster...)
	}
	d.block = blocksOf(names, d.all)
	for _, members := range d.block {
		own := 0
		for _, i := range members {
			if i < d.n {
				own++
			}
		}
		d.inBlock = append(d.inBlock, own)
	}
	return d
}

// A pooled is both arms' trainees with their numbers.
type pooled struct {
	deck
	y     []float64
	total sums
}

// size is the largest distance of a value from the mean of all.
func (p pooled) size() float64 {
	most := 0.0
	for _, y := range p.y {
		most = math.Max(most, math.Abs(y))
	}
	return most
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

// pool puts the arms together about their common mean.
func pool(ref, arm Arm) pooled {
	p := pooled{deck: newDeck(ref, arm)}
	p.y = append(slices.Clone(arm.Values), ref.Values...)
	centre := mean(p.y)
	for i := range p.y {
		p.y[i] -= centre
		p.total = p.total.with(p.y[i], i < p.n)
	}
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
func deal[S any](ctx context.Context, d deck, sum func(pick []int) S, sampling resample.Sampling, most int, purpose string) (deals []S, exact bool, err error) {
	if len(d.block) == 1 && combin.LogGeneralizedBinomial(float64(d.all), float64(d.n)) <= math.Log(float64(most))+1e-9 {
		g := combin.NewCombinationGenerator(d.all, d.n)
		pick := make([]int, d.n)
		for g.Next() {
			deals = append(deals, sum(g.Combination(pick)))
		}
		return deals, true, ctx.Err()
	}
	sampling.Progress = nil
	deals, err = resample.Replicate(ctx, sampling, purpose, func() func(*rand.Rand) S {
		order, pick := make([]int, d.all), make([]int, 0, d.n)
		return func(r *rand.Rand) S {
			pick = pick[:0]
			for k, members := range d.block {
				copy(order, members)
				for i := range d.inBlock[k] {
					j := i + r.IntN(len(members)-i)
					order[i], order[j] = order[j], order[i]
				}
				pick = append(pick, order[:d.inBlock[k]]...)
			}
			return sum(pick)
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
