package proficiency

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"tyro/analysis"
	"tyro/analysis/resample"
)

// MinGroup is the fewest trainees from whom an interval for a group is given.
const MinGroup = 6

// OfGroup is the attempt by which half of a group's trainees are proficient under
// one definition: the smallest number of attempts that at least half of their
// estimates do not exceed. Those beyond the horizon count as never, and so do those
// who move away from the standard, whether they meet it now or not; those without an
// answer are left out and counted in a warning. NotReached is the share
// who count as never. Where more than half of the trainees move away, so does the group.
// The interval holds expanded percentiles of a bootstrap
// of whole trainees with their estimates (as [resample.ExpandedLevel] says, with
// trainees less one degrees of freedom); fewer than [MinGroup] trainees have none.
func OfGroup(ctx context.Context, members []Answer, q Question, sampling resample.Sampling, purpose string) (Answer, error) {
	q = q.orDefaults()
	if err := q.check(); err != nil {
		return Answer{}, err
	}
	nan := math.NaN()
	a := Answer{Estimate: nan, Lower: nan, Upper: nan, At: nan, NotReached: nan, Level: q.Level, Status: TooEarly, Leaves: nan,
		Crossing: resample.Interval{Lower: nan, Upper: nan, Level: q.Level}}
	var known []float64
	reached, away := 0, 0
	for _, m := range members {
		a.Definition = m.Definition
		switch {
		case m.Status == MovingAway:
			away++
			known = append(known, math.Inf(1))
		case !math.IsNaN(m.Estimate):
			known = append(known, m.Estimate)
		}
		if m.Status == Reached {
			reached++
		}
	}
	if left := len(members) - len(known); left > 0 {
		a.Warnings = append(a.Warnings, analysis.Warning{Code: "left-out", Text: fmt.Sprintf("%d of %d trainees are left out of the group: nothing can be said of them yet", left, len(members))})
	}
	if away > 0 {
		a.Warnings = append(a.Warnings, analysis.Warning{Code: "moving-away", Text: fmt.Sprintf("%d of %d trainees move away from the standard and count as not getting there", away, len(members))})
	}
	n := len(known)
	if n == 0 {
		return a, nil
	}
	a.Estimate, a.NotReached = halfBy(known), 0
	for _, v := range known {
		if math.IsInf(v, 1) {
			a.NotReached += 1 / float64(n)
		}
	}
	switch a.At = a.Estimate; {
	case 2*away > n:
		a.Status, a.Estimate, a.At = MovingAway, nan, nan
	case math.IsInf(a.Estimate, 1):
		a.Status = BeyondHorizon
	case 2*reached >= n:
		a.Status = Reached
	default:
		a.Status = Projected
	}
	if a.Status == MovingAway {
		return a, nil
	}
	if n < MinGroup {
		a.Warnings = append(a.Warnings, analysis.Warning{Code: "few-trainees", Text: fmt.Sprintf("a group of %d trainees has no interval: it takes %d", n, MinGroup)})
		return a, nil
	}
	reps, err := resample.Replicate(ctx, sampling, "proficiency/group/"+purpose+"/"+a.Definition, func() func(*rand.Rand) float64 {
		index := make([]int, n)
		return func(r *rand.Rand) float64 {
			drawn := make([]float64, n)
			for i, j := range resample.Indices(r, index, n) {
				drawn[i] = known[j]
			}
			return halfBy(drawn)
		}
	})
	if err != nil {
		return a, err
	}
	wide := resample.ExpandedLevel(q.Level, float64(n-1), math.Sqrt(float64(n)/float64(n-1)))
	iv := resample.PercentileInterval(reps, wide)
	a.Crossing, a.Crossing.Level = iv, q.Level
	a.Lower, a.Upper, a.Replicates = wholeAttempts(iv.Lower), wholeAttempts(iv.Upper), iv.Replicates
	a.Method = "expanded percentile, bootstrap of whole trainees"
	return a, nil
}

// halfBy is the smallest of the values that at least half of them do not exceed.
func halfBy(values []float64) float64 {
	sorted := slices.Clone(values)
	slices.Sort(sorted)
	return sorted[(len(sorted)-1)/2]
}
