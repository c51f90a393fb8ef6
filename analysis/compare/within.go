package compare

import (
	"context"
	"fmt"
	"math"

	"tyro/analysis/resample"
)

// WithinClusters is the method of a [Contrast] where clusters hold trainees of both arms.
const WithinClusters = "studentised permutation within clusters"

// within compares arms whose clusters hold trainees of both: the difference within each
// cluster, weighted by n₀n₁/(n₀+n₁) of its trainees, which is the arm's coefficient in a
// regression on arm and cluster. The trainees are dealt out anew within their clusters. The
// standard error lets arms and clusters differ in spread: the squared residuals of that
// regression, each over 1 less its leverage (HC2; MacKinnon and White, 1985, Journal of
// Econometrics 29, 305-325), which in one cluster is Welch's and in clusters of two that of
// paired differences. Degrees of freedom are those of the regression.
func (c Contrast) within(ctx context.Context, ref, arm Arm, sampling resample.Sampling) (Contrast, *studentised, error) {
	c.Method = WithinClusters
	all := len(ref.Values) + len(arm.Values)
	ref, arm = sharing(ref, arm), sharing(arm, ref)
	c.ArmN, c.RefN = len(arm.Values), len(ref.Values)
	c.leftOut(all-c.ArmN-c.RefN, all)
	w := newWithin(ref, arm)
	c.ArmValue, c.RefValue = w.means()
	seen := w.seen()
	if c.Estimate = seen.y; math.Abs(c.Estimate) < 1e-12*w.size {
		c.Estimate = 0
	}
	c.SE, c.DF = math.Sqrt(seen.yy), float64(w.all-len(w.block)-1)
	if !w.free {
		c.SE, c.DF = math.NaN(), math.NaN()
		c.warn("too-few-trainees", oneWithin)
		return c, nil, nil
	}
	if !(c.SE > 1e-10*w.size) {
		c.SE, c.DF = math.NaN(), math.NaN()
		c.warn("no-spread", alikeWithin)
		return c, nil, nil
	}
	deals, exact, err := deal(ctx, w.deck, w.sum, sampling, max(sampling.Count(), 1000), "compare/shift/"+ref.Name+"/"+arm.Name)
	if err != nil {
		return c, nil, err
	}
	c.Replicates, c.Exact = len(deals), exact
	at := func(k int, shift float64) (diff, v float64) { return deals[k].at(shift) }
	return c, &studentised{deals: len(deals), at: at, exact: exact, estimate: c.Estimate, se: c.SE}, nil
}

// Why there is no interval within clusters.
const (
	oneWithin   = "within clusters an arm with fewer than 2 trainees gives no interval"
	alikeWithin = "within clusters trainees differ by their arm alone, so there is no spread to judge by and no interval"
)

// leftOut tells of trainees in clusters of one arm.
func (c *Contrast) leftOut(left, all int) {
	if left > 0 {
		c.warn("clusters-of-one-arm", fmt.Sprintf("%d of %d trainees are in clusters that hold one of the two arms alone: the contrast within clusters says nothing of them and leaves them out", left, all))
	}
}

// inBoth are the positions of clusters that are among another arm's as well.
func inBoth(clusters, others []string) (out []int) {
	in := map[string]bool{}
	for _, name := range others {
		in[name] = true
	}
	for i, name := range clusters {
		if in[name] {
			out = append(out, i)
		}
	}
	return out
}

// sharing is the arm's trainees in clusters that hold trainees of another arm as well.
func sharing(a, other Arm) Arm {
	out := Arm{Name: a.Name, Share: a.Share}
	for _, i := range inBoth(a.Cluster, other.Cluster) {
		out.Values, out.Cluster = append(out.Values, a.Values[i]), append(out.Cluster, a.Cluster[i])
	}
	return out
}

// A within is trainees with their numbers, and whose they are, about their cluster's means.
type within struct {
	deck
	raw    []float64
	y, own []float64
	share  []float64 // of the trainee's cluster that is of the arm
	count  []float64 // trainees of the cluster
	weight float64   // of all clusters: the sum of n₀n₁/(n₀+n₁)
	size   float64   // of the numbers, beside which rounding is nothing
	free   bool      // no trainee's number alone decides the estimate
}

func newWithin(ref, arm Arm) within {
	w := within{deck: newDeck(ref, arm), raw: append(append([]float64(nil), arm.Values...), ref.Values...), free: true}
	w.y, w.own, w.share, w.count = make([]float64, w.all), make([]float64, w.all), make([]float64, w.all), make([]float64, w.all)
	for k, members := range w.block {
		n, mean := float64(len(members)), 0.0
		share := float64(w.inBlock[k]) / n
		w.weight += n * share * (1 - share)
		for _, i := range members {
			mean += w.raw[i] / n
			w.size = math.Max(w.size, math.Abs(w.raw[i]))
		}
		for _, i := range members {
			w.y[i], w.own[i], w.share[i], w.count[i] = w.raw[i]-mean, -share, share, n
			if i < w.n {
				w.own[i]++
			}
		}
	}
	for i := range w.all {
		w.free = w.free && 1-w.leverage(i, w.own[i]) > 1e-9
	}
	return w
}

// leverage is a trainee's, dealt to an arm that lies so far from the cluster's share.
func (w within) leverage(i int, side float64) float64 { return 1/w.count[i] + side*side/w.weight }

// means are those of both arms with clusters weighted as in their difference.
func (w within) means() (arm, ref float64) {
	for i, v := range w.raw {
		if i < w.n {
			arm += v * w.own[i] / w.weight
		} else {
			ref -= v * w.own[i] / w.weight
		}
	}
	return arm, ref
}

// A withinDeal is the difference within clusters of numbers less a shift of the arm's own
// trainees, y − shift·z, and its variance, yy − 2·shift·yz + shift²·zz.
type withinDeal struct{ y, z, yy, yz, zz float64 }

func (d withinDeal) at(shift float64) (diff, v float64) {
	return d.y - shift*d.z, math.Max(0, d.yy-2*shift*d.yz+shift*shift*d.zz)
}

// seen is the deal as it was.
func (w within) seen() withinDeal {
	pick := make([]int, w.n)
	for i := range pick {
		pick[i] = i
	}
	return w.sum(pick)
}

func (w within) sum(pick []int) (d withinDeal) {
	side := make([]float64, w.all)
	for i, share := range w.share {
		side[i] = -share
	}
	for _, i := range pick {
		side[i]++
	}
	for i, s := range side {
		d.y, d.z = d.y+w.y[i]*s/w.weight, d.z+w.own[i]*s/w.weight
	}
	for i, s := range side {
		a := s / w.weight
		by := a * a / (1 - w.leverage(i, s))
		y, z := w.y[i]-d.y*s, w.own[i]-d.z*s
		d.yy, d.yz, d.zz = d.yy+by*y*y, d.yz+by*y*z, d.zz+by*z*z
	}
	return d
}
