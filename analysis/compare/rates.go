package compare

import (
	"context"
	"math"

	"tyro/analysis/resample"
)

// Counts are what happened to the trainees of an arm: events, such as errors, in so many
// attempts each.
type Counts struct {
	Name             string
	Events, Attempts []float64
	// Cluster names each trainee's site or session group; nil for none.
	Cluster []string
}

// RateRatio compares events per attempt as a difference of logarithms (for [AsRatio]): all
// events over all attempts of each arm. The trainee is the unit, so that trainees may
// differ as they like in what befalls them. The test deals the trainees out to the arms
// anew; its statistic is the difference over its standard error, worked out anew for every
// deal (Chung and Romano, 2013, Annals of Statistics 41, 484-507), mid-p as in [Shift]. The
// interval holds the ratios at which the arm's events, divided by them, are not told from
// the reference's. Where rates and trainees are alike in both arms the level is exact,
// however few and skewed the events. Clusters as in [Shift]; where they hold trainees of both
// arms, the ratio is that within clusters. Every arm needs an event.
func RateRatio(ctx context.Context, measure string, ref, arm Counts, level float64, sampling resample.Sampling) (Contrast, error) {
	logs := func(a Counts) Arm {
		return Arm{Name: a.Name, Values: LogRates(a.Events, a.Attempts), Cluster: a.Cluster}
	}
	r, a := logs(ref), logs(arm)
	c, ok := startMeans(measure, "studentised permutation", r, a, level)
	if !ok {
		return c, nil
	}
	switch whole, across := clustered(r, a); {
	case whole:
		return c.byCluster(r, a), nil
	case across:
		return c.ratesWithin(ctx, ref, arm, sampling)
	}
	t := rates{deck: newDeck(r, a), arm: arm, ref: ref}
	for i := range t.all {
		t.total.add(t.one(i))
	}
	deals, exact, err := deal(ctx, t.deck, t.sum, sampling, max(sampling.Count(), 1000), "compare/rates/"+ref.Name+"/"+arm.Name)
	if err != nil {
		return c, err
	}
	n, m := float64(len(a.Values)), float64(len(r.Values))
	va, vr := variance(a.Values)/n, variance(r.Values)/m
	c.SE, c.DF = math.Sqrt(va+vr), (va+vr)*(va+vr)/(va*va/(n-1)+vr*vr/(m-1))
	return c.judgeRates(ctx, len(deals), exact, func(k int, ratio float64) (diff, v float64) {
		one, v1 := deals[k].logRate(ratio)
		none, v0 := t.total.less(deals[k]).logRate(ratio)
		return one - none, v1 + v0
	}, sampling)
}

// judgeRates fills p and interval from what every deal comes to at a ratio.
func (c Contrast) judgeRates(ctx context.Context, deals int, exact bool, dealt func(deal int, ratio float64) (diff, variance float64), sampling resample.Sampling) (Contrast, error) {
	c.Replicates, c.Exact = deals, exact
	at := func(shift float64) (above, below float64) {
		var count tails
		ratio := math.Exp(shift)
		for k := range deals {
			diff, v := dealt(k, ratio)
			se := math.Sqrt(v)
			s := diff / se
			if se < 1e-9 || math.IsInf(diff, 0) {
				s = 0
				if math.Abs(diff) > 1e-9 {
					s = math.Copysign(math.Inf(1), diff)
				}
			}
			count.add(s, (c.Estimate-shift)/c.SE)
		}
		return count.shares(exact)
	}
	above, below := at(0)
	c.P = math.Min(1, 2*math.Min(above, below))
	err := c.ends(ctx, at, (1-c.Level)/2, above, below, sampling.Workers)
	c.Describe()
	return c, err
}

// rates is a test of every ratio.
type rates struct {
	deck
	arm, ref Counts
	total    tally
}

// A tally is what a group's rate and its variance follow from: sums of attempts a and
// events e, these by whose they are, the reference's first.
type tally struct {
	n, a, aa  float64
	e, ee, ea [2]float64
}

func (t *tally) add(o tally) {
	t.n, t.a, t.aa = t.n+o.n, t.a+o.a, t.aa+o.aa
	for k := range t.e {
		t.e[k] += o.e[k]
		t.ee[k] += o.ee[k]
		t.ea[k] += o.ea[k]
	}
}

func (t tally) less(o tally) tally {
	t.n, t.a, t.aa = t.n-o.n, t.a-o.a, t.aa-o.aa
	for k := range t.e {
		t.e[k] -= o.e[k]
		t.ee[k] -= o.ee[k]
		t.ea[k] -= o.ea[k]
	}
	return t
}

// logRate is the logarithm of events per attempt, the arm's events divided by a ratio, and
// its variance.
func (t tally) logRate(ratio float64) (log, v float64) {
	e := t.e[0] + t.e[1]/ratio
	if !(e > 1e-9) {
		return math.Inf(-1), 0
	}
	rate := e / t.a
	squares := t.ee[0] + t.ee[1]/(ratio*ratio) - 2*rate*(t.ea[0]+t.ea[1]/ratio) + rate*rate*t.aa
	return math.Log(rate), math.Max(squares, 0) / (e * e) * t.n / (t.n - 1)
}

// one is a trainee, the arm's first.
func (t *rates) one(i int) tally {
	of, k, whose := &t.arm, i, 1
	if i >= t.n {
		of, k, whose = &t.ref, i-t.n, 0
	}
	e, a := of.Events[k], of.Attempts[k]
	out := tally{n: 1, a: a, aa: a * a}
	out.e[whose], out.ee[whose], out.ea[whose] = e, e*e, e*a
	return out
}

func (t *rates) sum(pick []int) (out tally) {
	for _, i := range pick {
		out.add(t.one(i))
	}
	return out
}
