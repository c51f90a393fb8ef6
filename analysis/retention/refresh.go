package retention

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"tyro/analysis/internal/numeric"
)

// A Refresher is when to practise again: the days after which the share of trainees whose
// first attempt still meets the standard falls below the share asked for.
type Refresher struct {
	Share float64
	Days  float64 // by the estimates; +Inf beyond what is looked at
	Lower float64 // the lower end of its interval: refresh by then
	// Status is estimated, already-below (the share is below from the first day on),
	// beyond (later than ten times the longest break seen) or cannot-be-told.
	Status string
}

// The statuses of a refresher.
const (
	Estimated    = "estimated"
	AlreadyBelow = "already-below"
	Beyond       = "beyond"
	CannotBeTold = "cannot-be-told"
)

// refresherOf finds the day. Its lower end is the last day before it on which a test tells the
// share from the one asked for: since the share only falls, it was as large on every day
// before, and the test of the one true day gives the end its level. The test is of the share as a normal deviate, by the jackknife
// over trainees, each left out of the rate, of the spread and of those counted, judged by
// Student's t (Miller, 1974, Biometrika 61, 1-15). (A bootstrap counts a share of trainees
// in samples that differ less than trainees do, and its lower end came too late.)
//
// The spread of first attempts holds the noise of the levels that they are set against, which
// the levels hold as well: the day errs to the early side, more so with few attempts before
// the break.
func refresherOf(people []forgetter, all []int, shape string, best solved, lower bool, standard, share, horizon, level float64) Refresher {
	out := Refresher{Share: share, Days: math.NaN(), Lower: math.NaN(), Status: CannotBeTold}
	if math.IsNaN(standard) || !(best.residual > 0) {
		return out
	}
	asked := distuv.UnitNormal.Quantile(share)
	reading := foresight{people, shape, lower, standard}
	whole := func(days float64) float64 { return reading.deviate(all, best, days) - asked }
	out.Days, out.Status = firstBelow(whole, horizon), Estimated
	switch {
	case out.Days == 0:
		out.Status = AlreadyBelow
	case math.IsInf(out.Days, 1):
		out.Status = Beyond
	}
	without := make([][]int, len(all))
	fits := make([]solved, len(all))
	for i := range all {
		without[i] = slices.Delete(slices.Clone(all), i, i+1)
		if fits[i] = leastSquares(people, without[i], shape); !(fits[i].residual > 0) {
			return out
		}
	}
	n := float64(len(all))
	limit := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: n - 1}.Quantile((1 + level) / 2)
	spread := func(days float64) float64 {
		deviates := make([]float64, len(all))
		for i, f := range fits {
			deviates[i] = reading.deviate(without[i], f, days)
		}
		return math.Sqrt((n - 1) / n * squaresAbout(deviates))
	}
	if !math.IsInf(out.Days, 1) && !(spread(out.Days) > rounding) {
		return out // all alike: no spread to judge by
	}
	out.Lower = lastAbove(func(days float64) float64 { return whole(days) - limit*spread(days) }, out.Days, horizon)
	return out
}

// squaresAbout is the sum of squares about the mean.
func squaresAbout(vs []float64) float64 {
	m, sum := average(vs), 0.0
	for _, v := range vs {
		sum += (v - m) * (v - m)
	}
	return sum
}

// firstBelow is the first day on which a falling number is below 0: 0 where it is from the
// start, +Inf beyond the horizon.
func firstBelow(of func(days float64) float64, horizon float64) float64 {
	switch {
	case of(0) < 0:
		return 0
	case of(horizon) >= 0:
		return math.Inf(1)
	}
	day, _ := numeric.Root(of, 0, horizon, numeric.Tolerance{X: 1e-6})
	return day
}

// lastAbove is the last day before a given one on which a number is above 0, looked for from
// there on backwards: 0 where there is none, +Inf where it is above on the horizon.
func lastAbove(of func(days float64) float64, from, horizon float64) float64 {
	if math.IsInf(from, 1) && of(horizon) > 0 {
		return math.Inf(1)
	}
	const step, least = 0.9, 1e-3 // days
	for later := math.Min(from, horizon); later > 0; {
		day := later * step
		if day < least {
			day = 0
		}
		if of(day) > 0 {
			at, _ := numeric.Root(of, day, later, numeric.Tolerance{X: 1e-6})
			return at
		}
		later = day
	}
	return 0
}

// A foresight reads a fit as how many would meet the standard at their first attempt.
type foresight struct {
	people   []forgetter
	shape    string
	lower    bool
	standard float64
}

// deviate is the normal deviate below which the share of members lies whose first attempt
// after some days is expected to meet the standard, as they stood before their last break.
func (f foresight) deviate(members []int, s solved, days float64) float64 {
	side := 1.0
	if f.lower {
		side = -1
	}
	missing := 0.0
	for _, i := range members {
		p := f.people[i]
		k := len(p.before) - 1
		expected := p.before[k] - p.gain[k]*(1-retained(f.shape, s.rate, days))
		missing += distuv.UnitNormal.CDF(side * (f.standard - expected) / s.residual)
	}
	missing /= float64(len(members))
	return -distuv.UnitNormal.Quantile(math.Max(1e-300, math.Min(1-1e-15, missing)))
}
