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
// however few and skewed the events. Clusters as in [Shift]. Every arm needs an event.
func RateRatio(ctx context.Context, measure string, ref, arm Counts, level float64, sampling resample.Sampling) (Contrast, error) {
	logs := func(a Counts) Arm {
		return Arm{Name: a.Name, Values: LogRates(a.Events, a.Attempts), Cluster: a.Cluster}
	}
	r, a := logs(ref), logs(arm)
	c, ok := startMeans(measure, "studentised permutation", r, a, level)
	if !ok {
		return c, nil
	}
	if whole, _ := clustered(r, a); whole {
		return c.byCluster(r, a), nil
	}
	t := rates{deck: newDeck(r, a), arm: arm, ref: ref}
	for i := range t.all {
		t.total.add(t.one(i))
	}
	var err error
	if t.deals, t.exact, err = deal(ctx, t.deck, t.sum, sampling, max(sampling.Count(), 1000), "compare/rates/"+ref.Name+"/"+arm.Name); err != nil {
		return c, err
	}
	c.Replicates, c.Exact = len(t.deals), t.exact
	n, m := float64(len(a.Values)), float64(len(r.Values))
	va, vr := variance(a.Values)/n, variance(r.Values)/m
	c.SE, c.DF = math.Sqrt(va+vr), (va+vr)*(va+vr)/(va*va/(n-1)+vr*vr/(m-1))
	at := func(shift float64) (above, below float64) { return t.tails(shift, (c.Estimate-shift)/c.SE) }
	above, below := at(0)
	c.P = math.Min(1, 2*math.Min(above, below))
	tail := (1 - c.Level) / 2
	err = c.ends(ctx, at, tail, above, below, sampling.Workers)
	c.Describe()
	return c, err
}

// rates is a test of every ratio.
type rates struct {
	deck
	arm, ref Counts
	total    tally
	deals    []tally
	exact    bool
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

// tails are the shares of deals whose statistic is above, and below, what was seen at a
// logarithm of a ratio.
func (t *rates) tails(shift, seen float64) (above, below float64) {
	var count tails
	ratio := math.Exp(shift)
	for _, d := range t.deals {
		one, v1 := d.logRate(ratio)
		none, v0 := t.total.less(d).logRate(ratio)
		diff, se := one-none, math.Sqrt(v1+v0)
		s := diff / se
		if se < 1e-9 || math.IsInf(diff, 0) {
			s = 0
			if math.Abs(diff) > 1e-9 {
				s = math.Copysign(math.Inf(1), diff)
			}
		}
		count.add(s, seen)
	}
	return count.shares(t.exact)
}
