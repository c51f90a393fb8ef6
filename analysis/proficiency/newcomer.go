package proficiency

import (
	"context"
	"fmt"
	"math"
	"slices"

	"tyro/analysis"
	"tyro/analysis/practice"
	"tyro/analysis/resample"
	"tyro/analysis/stopping"
)

// NewTrainee answers under every definition for a trainee of an arm before any
// attempt. Mean-crossing and pass-chance are read off the curves and chances that such
// a trainee may have: median, and the range that holds the stated level of them.
// Rule-met and chart-signal are the attempt itself at which the rule is met or the
// chart signals, the luck of the attempts included: medians, and ranges of the exact
// distributions mixed over those curves and chances. So every range is for one
// trainee, not for a mean, and holds the differences between trainees and what is not
// known about the cohort. NotReached is the chance of not getting there within the
// horizon. Where more than half of the curves and chances lead away from a definition's
// level, so does the answer (see the package comment).
func (p *Pooled) NewTrainee(ctx context.Context, arm string, sampling resample.Sampling) ([]Answer, error) {
	records := []practice.Trainee{{ID: "a new trainee of arm " + arm, Arm: arm}}
	known, err := p.posteriors(ctx, records, sampling)
	if err != nil {
		return nil, err
	}
	return p.question.ofWays(p.ways(records, known, 0, mostFollowed, sampling.Seed))
}

// ofWays answers for a trainee about whom the ways are equally likely truths.
func (q Question) ofWays(ways []way) ([]Answer, error) {
	q, err := q.Ready()
	if err != nil {
		return nil, err
	}
	horizon := int(q.Horizon)
	means, passes := make([]float64, len(ways)), make([]float64, len(ways))
	by := make([][]float64, len(q.stops)) // chance of having stopped by attempt
	for k := range by {
		by[k] = make([]float64, horizon)
	}
	leaves := make([][]float64, 2+len(q.stops)) // by definition
	walks := make([]*stopping.Walk, len(q.stops))
	for k, s := range q.stops {
		walks[k] = s.chain.Begin()
	}
	c := q.newOutlook()
	for j, w := range ways {
		c.under(w)
		for k, n := range q.wayLeavings(c, len(q.stops), 0) {
			leaves[k] = append(leaves[k], n)
		}
		means[j] = wholeAttempts(q.meanCrossing(w.measure))
		passes[j] = c.crossing()
		for k := range q.stops {
			walks[k].Reset()
			if err := c.metBy(walks[k], by[k], horizon, 1/float64(len(ways))); err != nil {
				return nil, err
			}
		}
	}
	out := []Answer{q.ofCrossings(MeanCrossing, unlessLeft(means, leaves[0])), q.ofCrossings(PassChance, unlessLeft(passes, leaves[1]))}
	for k, s := range q.stops {
		tail := (1 - q.Level) / 2
		at := [3]float64{firstAtLeast(by[k], 1, 0.5), firstAtLeast(by[k], 1, tail), firstAtLeast(by[k], 1, 1-tail)}
		out = append(out, q.ofNewTrainee(s.definition, at, math.Max(0, 1-by[k][horizon-1])))
	}
	for k := range out {
		q.newcomerAway(&out[k], leaves[k])
	}
	return out, nil
}

// unlessLeft are crossings, but none where the level was met before any practice and practice leads away from it: in a
// group such trainees count as not getting there. Where more than half lead away, the answer itself says so.
func unlessLeft(at, leaves []float64) []float64 {
	if !math.IsInf(mostLeave(leaves), 1) {
		return at
	}
	for j, n := range leaves {
		if at[j] <= 1 && !math.IsInf(n, 1) {
			at[j] = math.Inf(1)
		}
	}
	return at
}

// newcomerAway gives an answer the status moving-away where more than half of the ways lead
// away.
func (q Question) newcomerAway(a *Answer, leaves []float64) {
	half := mostLeave(leaves)
	if math.IsInf(half, 1) {
		return
	}
	away := 0
	for _, n := range leaves {
		if !math.IsInf(n, 1) {
			away++
		}
	}
	a.Status, a.Leaves = MovingAway, half
	share := 100 * float64(away) / float64(len(leaves))
	text := fmt.Sprintf("on %.0f %% of the curves that such a trainee may have, practice leads away from the level asked for: half of all curves do not meet it from attempt %g on", share, half)
	if half <= 1 || math.IsInf(a.Estimate, 1) {
		nan := math.NaN()
		a.Estimate, a.At, a.Lower, a.Upper, a.Crossing.Lower, a.Crossing.Upper = nan, nan, nan, nan, nan, nan
		text += ", so no number of attempts is given"
	}
	a.Warnings = append(a.Warnings, analysis.Warning{Code: "moving-away", Text: text})
}

func (q Question) ofCrossings(definition string, values []float64) Answer {
	at, never := quartet(slices.Clone(values), q.Level)
	return q.ofNewTrainee(definition, at, never)
}

// ofNewTrainee is an answer from its median, lower and upper end.
func (q Question) ofNewTrainee(definition string, at [3]float64, never float64) Answer {
	a := Answer{
		Definition: definition, At: at[0], Estimate: at[0], Lower: at[1], Upper: at[2],
		Crossing:   resample.Interval{Lower: at[1], Upper: at[2], Level: q.Level},
		NotReached: never, Level: q.Level, Method: "prediction for one new trainee, cohort curve", Status: Projected, Leaves: math.NaN(),
	}
	if math.IsInf(a.Estimate, 1) {
		a.Status = BeyondHorizon
	}
	return a
}
