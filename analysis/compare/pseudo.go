package compare

import (
	"context"
	"math"
	"math/rand/v2"

	"tyro/analysis/resample"
	"tyro/analysis/survival"
)

// Pseudo turns a number of a group into one number for each of its members:
// n·(number of all) − (n−1)·(number without the member), moved together so that their
// mean is the number of all (the jackknife's own estimate of bias is left out: it takes
// shares above 1). A group of one has the number of all.
func Pseudo(n int, of func(members []int) float64) []float64 {
	all := make([]int, n)
	for i := range all {
		all[i] = i
	}
	whole := of(all)
	if n == 1 {
		return []float64{whole} // there is no group without the member
	}
	out := make([]float64, n)
	rest := make([]int, 0, n)
	for i := range out {
		rest = append(append(rest[:0], all[:i]...), all[i+1:]...)
		out[i] = float64(n)*whole - float64(n-1)*of(rest)
	}
	move := whole - mean(out)
	for i := range out {
		out[i] += move
	}
	return out
}

// RestrictedMeans are pseudo-values of the mean number of attempts up to tau, when
// practice stops at the rule.
func RestrictedMeans(obs []survival.Observation, tau float64) []float64 {
	return Pseudo(len(obs), func(members []int) float64 {
		m, _ := kaplanMeier(obs, members).RestrictedMean(tau)
		return m
	})
}

// Shares are pseudo-values of the share that has met the rule by an attempt.
func Shares(obs []survival.Observation, by float64) []float64 {
	return Pseudo(len(obs), func(members []int) float64 { return 1 - kaplanMeier(obs, members).At(by) })
}

func kaplanMeier(obs []survival.Observation, members []int) survival.Curve {
	some := make([]survival.Observation, len(members))
	for k, i := range members {
		some[k] = obs[i]
	}
	return survival.KaplanMeier(some, survival.Linear, 0)
}

// MedianRatio is the ratio of the attempts by which half of each arm has met the rule,
// with expanded percentiles of a bootstrap of whole trainees within arms; no p is given,
// since whole attempts leave a test of medians far from its level. Beyond the attempts
// seen a median is infinite; two such have no ratio. All that is known then is that it
// comes after the arm's last attempt: the lower end of the interval takes the ratio to be
// as low as that allows, the upper end as high.
func MedianRatio(ctx context.Context, measure, refName, armName string, ref, arm []survival.Observation, level float64, sampling resample.Sampling) (Contrast, error) {
	c := newContrast(measure, "bootstrap of trainees", Arm{Name: refName}, Arm{Name: armName})
	c.ArmN, c.RefN, c.Ratio, c.Level = len(arm), len(ref), true, level
	all := append(append([]survival.Observation(nil), ref...), arm...)
	groups := [][]int{indices(0, len(ref)), indices(len(ref), len(all))}
	median := func(members []int) float64 { return kaplanMeier(all, members).Quantile(0.5).Estimate }
	c.RefValue, c.ArmValue = median(groups[0]), median(groups[1])
	c.Estimate = ratioOf(c.ArmValue, c.RefValue)
	small := min(len(ref), len(arm))
	if small < 3 {
		c.warn("too-few-trainees", "an arm with fewer than 3 trainees gives no interval of a median")
		return c, nil
	}
	sampling.Progress = nil
	if math.IsNaN(c.Estimate) {
		c.warn("median-not-reached", "in neither arm did half meet the rule, so their medians have no ratio")
		return c, nil
	}
	refLast, armLast := lastOf(ref), lastOf(arm)
	draws, err := resample.Replicate(ctx, sampling, "compare/median/"+refName+"/"+armName, func() func(*rand.Rand) [2]float64 {
		return func(r *rand.Rand) [2]float64 {
			drawn := resample.Within(r, groups)
			a, b := median(drawn[1]), median(drawn[0])
			return [2]float64{math.Min(a, armLast) / b, a / math.Min(b, refLast)}
		}
	})
	if err != nil {
		return c, err
	}
	lows, highs := make([]float64, len(draws)), make([]float64, len(draws))
	for k, d := range draws {
		lows[k], highs[k] = d[0], d[1]
	}
	n := float64(small)
	wide := resample.ExpandedLevel(level, float64(len(all)-2), math.Sqrt(n/(n-1)))
	low, high := resample.PercentileInterval(lows, wide), resample.PercentileInterval(highs, wide)
	c.Replicates = len(draws)
	if low.Lower == high.Upper {
		c.warn("no-spread", "half of each arm meets the rule at the same attempt however trainees are drawn anew, so there is no spread to judge by and no interval")
		return c, nil
	}
	c.Lower, c.Upper = low.Lower, high.Upper
	c.Describe()
	return c, nil
}

// lastOf is the last attempt seen of an arm.
func lastOf(obs []survival.Observation) float64 {
	last := 0.0
	for _, o := range obs {
		last = math.Max(last, o.Time)
	}
	return last
}

func indices(from, to int) []int {
	var out []int
	for i := from; i < to; i++ {
		out = append(out, i)
	}
	return out
}

func ratioOf(arm, ref float64) float64 {
	if math.IsInf(arm, 1) && math.IsInf(ref, 1) {
		return math.NaN()
	}
	return arm / ref
}

// LogRates are the logarithm of a group's events per attempt as one number a member, in
// linear form: log R + (events − R·attempts)/(mean attempts·R), with R all events over
// all attempts. NaN for everybody where there are no events.
func LogRates(events, attempts []float64) []float64 {
	var e, a float64
	for i := range events {
		e, a = e+events[i], a+attempts[i]
	}
	rate, each := e/a, a/float64(len(attempts))
	out := make([]float64, len(events))
	for i := range out {
		out[i] = math.NaN()
		if e > 0 {
			out[i] = math.Log(rate) + (events[i]-rate*attempts[i])/(each*rate)
		}
	}
	return out
}
