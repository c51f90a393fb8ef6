package standard

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/mathext"
	"gonum.org/v1/gonum/stat/distuv"

	"tyro/analysis"
	"tyro/analysis/resample"
)

// An ExpertRule says how a standard follows from experts.
type ExpertRule struct {
	Lower bool    // smaller values are better
	SDs   float64 // distance from the mean (or scaled MADs from the median) on the lenient side; 0 means none
	Drop  Drop
	Log   bool    // means and standard deviations of logarithms, for times whose distribution is skewed
	Level float64 // of the interval; 0 means 0.95
}

// level is the level of the interval; the rule was checked.
func (r ExpertRule) level() float64 {
	level, _ := analysis.Level(r.Level)
	return level
}

// check reports a rule that cannot be followed.
func (r ExpertRule) check() error {
	if math.IsNaN(r.SDs) || math.IsInf(r.SDs, 0) {
		return fmt.Errorf("a standard %v standard deviations from the mean: expected a number", r.SDs)
	}
	if !(r.Drop.Trim >= 0 && r.Drop.Trim < 0.5) || !(r.Drop.SDs >= 0) || !(r.Drop.MADs >= 0) {
		return fmt.Errorf("leaving out experts: trimming of %v and distances of %v and %v; expected a share from 0 to below 0.5 and distances from 0 on", r.Drop.Trim, r.Drop.SDs, r.Drop.MADs)
	}
	_, err := analysis.Level(r.Level)
	return err
}

// lenient is +1 where a larger standard is easier to meet.
func (r ExpertRule) lenient() float64 {
	if r.Lower {
		return 1
	}
	return -1
}

// An Expert is an estimate from experts with what it was made of.
type Expert struct {
	Estimate
	Mean, SD, Median, MAD float64 // of those kept; the MAD scaled to a standard deviation
	Dropped               int
	Kept                  []bool // of the values given; false also for one that is unknown
}

// Summaries make one value an expert of repeated runs, which are not
// independent: the first skip runs are left out as familiarisation, unknown
// ones are skipped, and the rest is summed up by how: mean, median, best or
// last. An expert without a usable run is NaN.
func Summaries(runs [][]float64, how string, skip int, lower bool) ([]float64, error) {
	if !slices.Contains([]string{"", "mean", "median", "best", "last"}, how) {
		return nil, fmt.Errorf("summary %q: expected mean, median, best or last", how)
	}
	out := make([]float64, len(runs))
	for i, all := range runs {
		var use []float64
		for j, v := range all {
			if j >= skip && !math.IsNaN(v) {
				use = append(use, v)
			}
		}
		switch {
		case len(use) == 0:
			out[i] = math.NaN()
		case how == "mean" || how == "":
			out[i] = mean(use)
		case how == "median":
			out[i] = median(use)
		case how == "last":
			out[i] = use[len(use)-1]
		default:
			best := sorted(use)
			out[i] = best[len(best)-1]
			if lower {
				out[i] = best[0]
			}
		}
	}
	return out, nil
}

// prepare drops unknown values and those the rule leaves out.
func (r ExpertRule) prepare(values []float64) (Expert, []float64, error) {
	if err := r.check(); err != nil {
		return Expert{}, nil, err
	}
	var known []float64
	var at []int // of the values given
	for i, v := range values {
		if math.IsInf(v, 0) {
			return Expert{}, nil, errors.New("an expert's value is infinite")
		}
		if !math.IsNaN(v) {
			known, at = append(known, v), append(at, i)
		}
	}
	stays, ws := r.Drop.keep(known)
	e := Expert{Kept: make([]bool, len(values))}
	var kept []float64
	for i, v := range known {
		if e.Kept[at[i]] = stays[i]; stays[i] {
			kept = append(kept, v)
		}
	}
	e.Estimate, e.Dropped = unknown(len(kept), r.level()), len(known)-len(kept)
	e.Warnings = ws
	if missing := len(values) - len(known); missing > 0 {
		e.warn("experts-without-value", fmt.Sprintf("%d experts have no usable run and are left out", missing))
	}
	if len(kept) == 0 {
		return e, nil, errors.New("no experts are left")
	}
	e.Mean, e.SD, e.Median, e.MAD = mean(kept), sd(kept), median(kept), mad(kept)
	switch {
	case len(kept) > 1:
	case r.SDs != 0:
		e.warn("one-expert", "one expert says nothing of how far experts differ, so a rule that adds their spread sets no standard; without --sds it is that expert's own value")
	default:
		e.warn("one-expert", "one expert says nothing of how far experts differ, so the standard has no interval")
	}
	return e, kept, nil
}

// ExpertMean is the mean of experts, made easier by SDs standard deviations.
// The standard error is by the delta method; the interval is exact for normal
// values: the standard is a quantile of their distribution, whose limits follow
// the noncentral t distribution with n − 1 degrees of freedom. On the log scale
// all of this is done with logarithms and turned back: the mean is then the
// geometric one, and the interval is exact for log-normal values.
func ExpertMean(values []float64, r ExpertRule) (Expert, error) {
	e, kept, err := r.prepare(values)
	if err != nil {
		return e, err
	}
	if r.Log {
		logs := make([]float64, len(kept))
		for i, v := range kept {
			if !(v > 0) {
				return e, fmt.Errorf("an expert's value of %v has no logarithm", v)
			}
			logs[i] = math.Log(v)
		}
		r.meanOf(&e.Estimate, logs)
		e.Value, e.Lower, e.Upper = math.Exp(e.Value), math.Exp(e.Lower), math.Exp(e.Upper)
		e.SE *= e.Value
		return e, nil
	}
	r.meanOf(&e.Estimate, kept)
	return e, nil
}

// meanOf fills an estimate on the scale of the values given.
func (r ExpertRule) meanOf(e *Estimate, kept []float64) {
	n, m, s := float64(len(kept)), mean(kept), sd(kept)
	e.Value, e.Interval = m, "t"
	if r.SDs != 0 {
		e.Value, e.Interval = m+r.lenient()*r.SDs*s, "noncentral-t"
	}
	if n < 2 {
		return
	}
	e.SE = s * math.Sqrt(1/n+r.SDs*r.SDs/(2*(n-1)))
	if s == 0 {
		e.warn("experts-equal", "all experts have the same value, so the interval has no width; it says nothing of other experts")
		e.Lower, e.Upper = e.Value, e.Value
		return
	}
	low, high := -tQuantile(e.Level, n-1), tQuantile(e.Level, n-1)
	if r.SDs != 0 {
		shift := r.lenient() * r.SDs * math.Sqrt(n)
		low, high = noncentralQuantile((1-e.Level)/2, n-1, shift), noncentralQuantile((1+e.Level)/2, n-1, shift)
	}
	e.Lower, e.Upper = m+low*s/math.Sqrt(n), m+high*s/math.Sqrt(n)
}

// fewForMAD is the number of experts from which the bootstrap below held its
// level in simulations (testdata/standards/coverage).
const fewForMAD = 10

// ExpertMedian is the median of experts, made easier by SDs scaled median
// distances. Without them it is the percentile 50 with its order-statistic
// interval; with them, an expanded percentile interval from a bootstrap of
// experts.
func ExpertMedian(ctx context.Context, values []float64, r ExpertRule, sampling resample.Sampling) (Expert, error) {
	if r.SDs == 0 {
		return ExpertPercentile(values, 0.5, r)
	}
	e, kept, err := r.prepare(values)
	if err != nil {
		return e, err
	}
	of := func(x []float64) float64 { return median(x) + r.lenient()*r.SDs*mad(x) }
	e.Interval = "bootstrap"
	if len(kept) < 2 {
		return e, nil // no spread to add
	}
	e.Value = of(kept)
	reps, err := resample.Replicate(ctx, sampling, "standard/expert-median", func() func(*rand.Rand) float64 {
		idx, draw := make([]int, len(kept)), make([]float64, len(kept))
		return func(rnd *rand.Rand) float64 {
			for i, j := range resample.Indices(rnd, idx, len(kept)) {
				draw[i] = kept[j]
			}
			return of(draw)
		}
	})
	if err != nil {
		return e, err
	}
	if len(kept) < fewForMAD {
		e.warn("few-experts", fmt.Sprintf("a bootstrap of %d experts makes intervals of a median distance too short: of simulated studies with 5 experts 74 %% held the true value where 95 %% was claimed, with 10 experts 95 %%", len(kept)))
	}
	n := float64(len(kept))
	e.SE = sd(reps)
	iv := resample.PercentileInterval(reps, resample.ExpandedLevel(e.Level, n-1, math.Sqrt(n/(n-1))))
	e.Lower, e.Upper = iv.Lower, iv.Upper
	return e, nil
}

// ExpertPercentile is the share-quantile of experts' values, whatever their
// direction (0.75 of times is an easy standard, 0.25 a hard one). The standard
// error is that of the bootstrap, computed exactly (Maritz and Jarrett, 1978,
// Journal of the American Statistical Association 73, 194-196). The interval
// lies between two order statistics and holds its level or more for any
// distribution; where too few experts reach it, an end is unknown.
func ExpertPercentile(values []float64, share float64, r ExpertRule) (Expert, error) {
	if !(share > 0 && share < 1) {
		return Expert{}, fmt.Errorf("a share of %v, expected a number between 0 and 1", share)
	}
	e, kept, err := r.prepare(values)
	if err != nil {
		return e, err
	}
	e.Value, e.Interval = quantile(kept, share), "order-statistics"
	if len(kept) < 2 {
		return e, nil
	}
	e.SE = maritzJarrett(sorted(kept), share)
	lower, upper, need := orderLimits(len(kept), share, e.Level)
	s := sorted(kept)
	if lower > 0 {
		e.Lower = s[lower-1]
	}
	if upper > 0 {
		e.Upper = s[upper-1]
	}
	if lower == 0 || upper == 0 {
		e.warn("too-few-experts", fmt.Sprintf("%d experts are too few for a %g %% interval of this percentile without an assumption; it takes at least %d", len(kept), 100*e.Level, need))
	}
	return e, nil
}

// orderLimits are the ranks, from 1, between which the p-quantile of n values
// lies with at least the level, half of the rest on each side; 0 for an end
// that does not exist. need is the number of values from which both do.
func orderLimits(n int, p, level float64) (lower, upper, need int) {
	tail := (1 - level) / 2
	ends := func(n int) (lower, upper int) {
		b := distuv.Binomial{N: float64(n), P: p}
		for k := 1; k <= n; k++ {
			if b.CDF(float64(k-1)) <= tail { // P(fewer than k at or below the quantile)
				lower = k
			}
		}
		for k := n; k >= 1; k-- {
			if 1-b.CDF(float64(k-1)) <= tail {
				upper = k
			}
		}
		return lower, upper
	}
	lower, upper = ends(n)
	for need = n; need < 100000; need++ {
		if l, u := math.Pow(1-p, float64(need)), math.Pow(p, float64(need)); l <= tail && u <= tail {
			break
		}
	}
	return lower, upper, need
}

// maritzJarrett is the standard deviation of the p-quantile of a bootstrap
// sample, with weights from the beta distribution of the quantile's rank.
func maritzJarrett(s []float64, p float64) float64 {
	n := float64(len(s))
	a, b := p*(n+1), (1-p)*(n+1)
	m1, m2, before := 0.0, 0.0, 0.0
	center := mean(s)
	for i, v := range s {
		at := mathext.RegIncBeta(a, b, float64(i+1)/n)
		w := at - before
		before = at
		m1 += w * (v - center)
		m2 += w * (v - center) * (v - center)
	}
	return math.Sqrt(math.Max(0, m2-m1*m1))
}
