package compare

import (
	"context"
	"math"

	"tyro/analysis/resample"
)

// ratesWithin compares events per attempt where clusters hold trainees of both arms: the ratio
// of Mantel and Haenszel, in which a cluster's rates weigh a₀a₁/(a₀+a₁) of its attempts
// (Rothman and Greenland, 1998, Modern Epidemiology, chapter 15). Trainees are dealt out anew
// within their clusters. The standard error is of events about those that attempts, cluster
// and arm lead to expect, each square over 1 less the trainee's leverage as in [Shift].
func (c Contrast) ratesWithin(ctx context.Context, ref, arm Counts, sampling resample.Sampling) (Contrast, error) {
	c.Method = WithinClusters
	all := len(ref.Events) + len(arm.Events)
	ref, arm = ref.sharing(arm), arm.sharing(ref)
	c.ArmN, c.RefN = len(arm.Events), len(ref.Events)
	c.leftOut(all-c.ArmN-c.RefN, all)
	s := newStrata(ref, arm)
	own, others, v := s.rates(s.sum(indices(0, s.n)), 1)
	c.ArmValue, c.RefValue = math.Log(own), math.Log(others)
	c.Estimate = math.NaN()
	switch {
	case !(own > 0) || !(others > 0):
		c.warn("no-events-within-clusters", "in the clusters that hold both arms an arm has no event, so there is no ratio within clusters")
		return c, nil
	case !s.free:
		c.Estimate = c.ArmValue - c.RefValue
		c.warn("too-few-trainees", oneWithin)
		return c, nil
	case !(v > 1e-18):
		c.Estimate = c.ArmValue - c.RefValue
		c.warn("no-spread", alikeWithin)
		return c, nil
	}
	c.Estimate, c.SE, c.DF = c.ArmValue-c.RefValue, math.Sqrt(v), float64(s.all-len(s.block)-1)
	deals, exact, err := deal(ctx, s.deck, s.sum, sampling, max(sampling.Count(), 1000), "compare/rates/"+ref.Name+"/"+arm.Name)
	if err != nil {
		return c, err
	}
	return c.judgeRates(ctx, len(deals), exact, func(k int, ratio float64) (diff, v float64) {
		own, others, v := s.rates(deals[k], ratio)
		return math.Log(own) - math.Log(others), v
	}, sampling)
}

// sharing is the arm's trainees in clusters that hold trainees of another arm as well.
func (a Counts) sharing(other Counts) Counts {
	out := Counts{Name: a.Name}
	for _, i := range inBoth(a.Cluster, other.Cluster) {
		out.Events, out.Attempts, out.Cluster = append(out.Events, a.Events[i]), append(out.Attempts, a.Attempts[i]), append(out.Cluster, a.Cluster[i])
	}
	return out
}

// strata are the clusters of a test of rates, each with the tally of its trainees.
type strata struct {
	within
	counts  rates
	cluster []int // of each trainee
	total   []tally
}

func newStrata(ref, arm Counts) *strata {
	w := newWithin(Arm{Name: ref.Name, Values: ref.Events, Cluster: ref.Cluster}, Arm{Name: arm.Name, Values: arm.Events, Cluster: arm.Cluster})
	s := &strata{within: w, counts: rates{deck: w.deck, arm: arm, ref: ref}, cluster: make([]int, w.all), total: make([]tally, len(w.block))}
	for k, members := range w.block {
		for _, i := range members {
			s.cluster[i] = k
			s.total[k].add(s.counts.one(i))
		}
	}
	return s
}

// sum tallies the trainees dealt to the arm, cluster by cluster.
func (s *strata) sum(pick []int) []tally {
	out := make([]tally, len(s.block))
	for _, i := range pick {
		out[s.cluster[i]].add(s.counts.one(i))
	}
	return out
}

// rates are those of the arm as dealt and of the others, clusters weighted alike in both, and
// the variance of the logarithm of their ratio; events of the arm's own trainees are divided
// by a ratio.
func (s *strata) rates(dealt []tally, ratio float64) (own, others, v float64) {
	weight := 0.0
	for k, t := range dealt {
		rest := s.total[k].less(t)
		a := s.total[k].a
		own, others, weight = own+t.events(ratio)*rest.a/a, others+rest.events(ratio)*t.a/a, weight+t.a*rest.a/a
	}
	times := own / others
	for k, t := range dealt {
		rest := s.total[k].less(t)
		a, share := s.total[k].a, t.n/s.total[k].n
		rate := s.total[k].events(ratio) / (rest.a + times*t.a)
		by, restBy := rest.a/a/own, t.a/a/others
		i := s.block[k][0]
		v += by*by*t.about(times*rate, ratio)/(1-s.leverage(i, 1-share)) + restBy*restBy*rest.about(rate, ratio)/(1-s.leverage(i, -share))
	}
	return own / weight, others / weight, v
}

// events are all events, those of the arm's own trainees divided by a ratio.
func (t tally) events(ratio float64) float64 { return t.e[0] + t.e[1]/ratio }

// about is the sum of squares of events about a rate times attempts.
func (t tally) about(rate, ratio float64) float64 {
	return math.Max(0, t.ee[0]+t.ee[1]/(ratio*ratio)-2*rate*(t.ea[0]+t.ea[1]/ratio)+rate*rate*t.aa)
}
