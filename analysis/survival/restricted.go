package survival

import (
	"cmp"
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"slices"

	"tyro/analysis"
	"tyro/analysis/resample"
)

// RestrictedMean is the area under the curve up to tau, with a Greenwood-type
// standard error.
func (c Curve) RestrictedMean(tau float64) (mean, se float64) {
	if c.Err != nil {
		return math.NaN(), math.NaN()
	}
	last, s := 0.0, 1.0
	type piece struct{ from, to, s float64 }
	var pieces []piece
	for _, st := range c.Steps {
		if st.Time >= tau {
			break
		}
		pieces = append(pieces, piece{last, st.Time, s})
		last, s = st.Time, st.Survival
	}
	pieces = append(pieces, piece{last, tau, s})
	for _, p := range pieces {
		mean += p.s * (p.to - p.from)
	}
	variance := 0.0
	for _, st := range c.Steps {
		if st.Time >= tau || st.Events == 0 {
			continue
		}
		area := 0.0
		for _, p := range pieces {
			if p.to > st.Time {
				area += p.s * (p.to - math.Max(p.from, st.Time))
			}
		}
		n, d := float64(st.AtRisk), float64(st.Events)
		if n > d {
			variance += area * area * d / (n * (n - d))
		}
	}
	return mean, math.Sqrt(variance)
}

// RestrictedMeanInterval is the interval of [Curve.RestrictedMean]: expanded
// percentiles of a bootstrap of whole trainees ([resample.ExpandedLevel]).
// The mean and 1.96 standard errors are too short for it, since few trainees
// make the standard error small just when the slow ones are not seen. In
// simulations with 15 and 30 trainees, up to 40 % of whom never met the rule,
// this interval held the truth in about 95 % (testdata/survival/coverage). Its
// ends are NaN where the observations do not vary: then nothing is known of
// other trainees.
func RestrictedMeanInterval(ctx context.Context, obs []Observation, tau, level float64, sampling resample.Sampling) (resample.Interval, error) {
	level, err := analysis.Level(level)
	if err == nil {
		err = checkTimes(obs)
	}
	if err == nil && math.IsNaN(tau) {
		err = errors.New("a mean up to an unknown time")
	}
	if err != nil {
		return resample.Interval{}, err
	}
	sorted := inOrder(obs)
	n := len(sorted)
	if _, se := KaplanMeier(sorted, Linear, level).RestrictedMean(tau); n < 2 || !(se > 0) {
		return resample.Interval{Lower: math.NaN(), Upper: math.NaN(), Level: level, Method: resample.Percentile}, nil
	}
	reps, err := resample.Replicate(ctx, sampling, "survival/restricted-mean", func() func(*rand.Rand) float64 {
		times := make([]int, n) // how often each observation was drawn
		return func(r *rand.Rand) float64 {
			clear(times)
			for range n {
				times[r.IntN(n)]++
			}
			return areaOf(sorted, times, tau)
		}
	})
	if err != nil {
		return resample.Interval{}, err
	}
	size := float64(n)
	iv := resample.PercentileInterval(reps, resample.ExpandedLevel(level, size-1, math.Sqrt(size/(size-1))))
	iv.Level = level
	return iv, nil
}

// areaOf is the area up to tau under the product-limit estimate of observations
// in order, each counted the given number of times.
func areaOf(sorted []Observation, times []int, tau float64) float64 {
	atRisk := 0
	for _, k := range times {
		atRisk += k
	}
	area, last, s := 0.0, 0.0, 1.0
	for i := 0; i < len(sorted) && sorted[i].Time < tau; {
		t, left, events := sorted[i].Time, 0, 0
		for ; i < len(sorted) && sorted[i].Time == t; i++ {
			left += times[i]
			if sorted[i].Event {
				events += times[i]
			}
		}
		area += s * (t - last)
		last = t
		if events > 0 {
			s *= 1 - float64(events)/float64(atRisk)
		}
		atRisk -= left
	}
	return area + s*(tau-last)
}

// inOrder is a copy sorted by time.
func inOrder(obs []Observation) []Observation {
	sorted := slices.Clone(obs)
	slices.SortStableFunc(sorted, func(a, b Observation) int { return cmp.Compare(a.Time, b.Time) })
	return sorted
}
