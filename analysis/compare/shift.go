package compare

import (
	"context"
	"math"

	"tyro/analysis/resample"
)

// Shift compares means by a permutation of arms whose statistic is the difference over
// its standard error, each arm with its own spread. That keeps its level where arms
// differ in spread as well (Janssen, 1997, Statistics and Probability Letters 36, 9-21;
// Chung and Romano, 2013, Annals of Statistics 41, 484-507). The interval holds the
// shifts that the test does not reject on either side; a deal that is as extreme as what
// was seen counts half (mid-p; Lancaster, 1961, Journal of the American Statistical
// Association 56, 223-234), which matters where values are few, such as 0 and 1. Of shares the
// ends are those of a score test of every difference, on the side of 0 that the deals say.
//
// Where clusters hold trainees of both arms, what is compared is the difference within
// clusters, and trainees are dealt within them. Clusters that belong to one arm each are the unit themselves, and few: their
// means are compared by Student's t with as many degrees of freedom as there are
// clusters less two (Hayes and Moulton, 2017, Cluster Randomised Trials, chapter 10). Where
// the numbers are shares, few clusters may come out alike by chance, as when everybody in
// them met a rule: their standard error is then taken to be no smaller than that of as many
// trainees without clusters.
func Shift(ctx context.Context, measure string, ref, arm Arm, level float64, sampling resample.Sampling) (Contrast, error) {
	c, t, above, below, err := testShift(ctx, measure, ref, arm, level, sampling)
	if err != nil || t == nil {
		return c, err
	}
	tails, tail := t.tails, (1-c.Level)/2
	if score, ok := scoreOf(ref.Known(), arm.Known()); ok {
		tails = score
	}
	err = c.ends(ctx, tails, tail, above, below, sampling.Workers)
	c.Describe()
	return c, err
}

// scoreOf has the tails of a score test where the numbers are 0 and 1 of trainees without
// clusters; false otherwise.
func scoreOf(ref, arm Arm) (func(float64) (above, below float64), bool) {
	if !arm.Share || arm.Cluster != nil {
		return nil, false
	}
	own, whole := countOnes(arm)
	others, wholes := countOnes(ref)
	if !whole || !wholes {
		return nil, false
	}
	return scoreTails(float64(own), float64(len(arm.Values)), float64(others), float64(len(ref.Values))), true
}

// testShift is [Shift] without the interval, for which the test and its tails at 0 are
// handed on; a nil test means that nothing is left to do. The interval that it would have
// leaves out 0 where P is below 1 − level.
func testShift(ctx context.Context, measure string, ref, arm Arm, level float64, sampling resample.Sampling) (c Contrast, t *studentised, above, below float64, err error) {
	c, ok := startMeans(measure, "studentised permutation", ref, arm, level)
	if !ok {
		return c, nil, 0, 0, nil
	}
	ref, arm = ref.Known(), arm.Known()
	whole, across := clustered(ref, arm)
	switch {
	case whole:
		return c.byCluster(ref, arm), nil, 0, 0, nil
	case across:
		c, t, err = c.within(ctx, ref, arm, sampling)
	default:
		c, t, err = c.dealt(ctx, ref, arm, sampling)
	}
	if err != nil || t == nil {
		return c, nil, 0, 0, err
	}
	above, below = t.tails(0)
	c.P = math.Min(1, 2*math.Min(above, below))
	if arm.Share && arm.Cluster == nil {
		if ones, whole := countOnes(arm, ref); whole {
			c.fewApart(float64(ones), lowestDealt(ones, len(arm.Values), len(ref.Values)))
		}
	}
	return c, t, above, below, nil
}

// dealt deals trainees without clusters out to the arms anew.
func (c Contrast) dealt(ctx context.Context, ref, arm Arm, sampling resample.Sampling) (Contrast, *studentised, error) {
	p := pool(ref, arm)
	deals, exact, err := deal(ctx, p.deck, p.sum, sampling, max(sampling.Count(), 1000), "compare/shift/"+ref.Name+"/"+arm.Name)
	if err != nil {
		return c, nil, err
	}
	c.Replicates, c.Exact = len(deals), exact
	n, m := float64(len(arm.Values)), float64(len(ref.Values))
	va, vr := variance(arm.Values)/n, variance(ref.Values)/m
	c.SE, c.DF = math.Sqrt(va+vr), (va+vr)*(va+vr)/(va*va/(n-1)+vr*vr/(m-1))
	at := func(k int, shift float64) (diff, v float64) {
		rest := p.total.less(deals[k])
		m1, v1 := deals[k].moments(shift)
		m0, v0 := rest.moments(shift)
		return m1 - m0, v1/deals[k].n + v0/rest.n
	}
	return c, &studentised{deals: len(deals), at: at, exact: exact, estimate: c.Estimate, se: c.SE}, nil
}

// studentised is a test of every shift.
type studentised struct {
	deals        int
	at           func(deal int, shift float64) (diff, variance float64)
	exact        bool
	estimate, se float64
}

// tails are the shares of deals whose statistic is above, and below, what was seen at a
// shift.
func (t studentised) tails(shift float64) (above, below float64) {
	seen := (t.estimate - shift) / t.se
	var count tails
	for k := range t.deals {
		diff, v := t.at(k, shift)
		se := math.Sqrt(v)
		s := diff / se
		if se < 1e-9*t.se {
			s = 0
			if math.Abs(diff) > 1e-9*t.se {
				s = math.Copysign(math.Inf(1), diff)
			}
		}
		count.add(s, seen)
	}
	return count.shares(t.exact)
}

// tails counts the statistics of deals above, below and at what was seen.
type tails struct{ over, under, ties float64 }

func (t *tails) add(s, seen float64) {
	switch slack := 1e-9 * (1 + math.Abs(seen)); {
	case s > seen+slack:
		t.over++
	case s < seen-slack:
		t.under++
	default:
		t.ties++
	}
}

// shares are those above and below, ties counting half; where deals were drawn, the one
// seen is one more.
func (t tails) shares(exact bool) (above, below float64) {
	if !exact {
		t.ties++
	}
	total := t.over + t.under + t.ties
	return (t.over + t.ties/2) / total, (t.under + t.ties/2) / total
}

// ends finds both ends of the interval at the same time, where workers may.
func (c *Contrast) ends(ctx context.Context, tails func(shift float64) (above, below float64), share, above, below float64, workers int) error {
	at := *c
	return resample.Each(ctx, 2, resample.Sampling{Workers: workers}, func() func(int) error {
		return func(i int) error {
			if i == 0 {
				c.Lower = at.end(tails, share, -1, above)
			} else {
				c.Upper = at.end(tails, share, 1, below)
			}
			return nil
		}
	})
}

// end is where the tail falls to the share, on one side of the estimate. atNone is the
// tail at shift 0, which decides on which side of 0 the end lies, so that interval and p
// agree.
func (c Contrast) end(tails func(shift float64) (above, below float64), share, side, atNone float64) float64 {
	tail := func(shift float64) float64 {
		above, below := tails(shift)
		if side < 0 {
			return above
		}
		return below
	}
	inner, outer, found := c.Estimate, 0.0, false // not rejected; rejected
	if side*c.Estimate < 0 {                      // 0 lies on this side
		if atNone > share {
			inner = 0
		} else {
			found = true
		}
	}
	for step := 4 * c.SE; !found; step *= 2 {
		if step > 1e6*c.SE {
			return math.Inf(int(side))
		}
		outer = inner + side*step
		found = tail(outer) <= share
	}
	for range 60 {
		mid := (inner + outer) / 2
		if math.Abs(outer-inner) <= 1e-5*c.SE {
			break
		}
		if tail(mid) > share {
			inner = mid
		} else {
			outer = mid
		}
	}
	return inner
}

// byCluster compares arms whose clusters are their own: every cluster enters with its
// share of the arm's trainees.
func (c Contrast) byCluster(ref, arm Arm) Contrast {
	c.Method = "t of cluster means"
	ra, rr := clusterResiduals(arm), clusterResiduals(ref)
	k, m := float64(len(ra)), float64(len(rr))
	if k < 2 || m < 2 {
		c.warn("too-few-clusters", "an arm with a single cluster gives no interval: what the cluster does cannot be told from what the arm does")
		return c
	}
	sum := 0.0
	for _, r := range append(ra, rr...) {
		sum += r * r
	}
	v := sum / (k + m - 2) * (1/k + 1/m)
	if arm.Share {
		v = math.Max(v, pooledSD(ref, arm)*pooledSD(ref, arm)*(1/float64(len(arm.Values))+1/float64(len(ref.Values))))
	}
	if !(v > 0) {
		c.warn("no-spread", "the clusters of each arm are all alike, so there is no spread to judge by and no interval")
		return c
	}
	return c.student(math.Sqrt(v), k+m-2)
}

// clusterResiduals are the clusters' deviations from the arm's mean, weighted by how
// many trainees they hold in mean clusters.
func clusterResiduals(a Arm) []float64 {
	m := mean(a.Values)
	at := map[string]int{}
	var sums []float64
	for i, name := range a.Cluster {
		k, ok := at[name]
		if !ok {
			k = len(sums)
			at[name] = k
			sums = append(sums, 0)
		}
		sums[k] += a.Values[i] - m
	}
	for k := range sums {
		sums[k] /= float64(len(a.Values)) / float64(len(sums))
	}
	return sums
}
