package proficiency

import (
	"fmt"
	"math"
	"slices"

	"tyro/analysis"
	"tyro/analysis/fit"
	"tyro/models"
)

// even is the pass chance below which an attempt is more likely to miss than to pass:
// the level under which rule-met and chart-signal count as moving away.
const even = 0.5

// A standing is where practice stands towards a level, attempt by attempt.
type standing struct {
	meets  func(n float64) bool
	values []func(n float64) float64 // higher is better; a later one speaks where the earlier do not move
}

// standings lists what the definitions look at, in their order: a curve, and the chance
// to pass.
func (q Question) standings(curve models.Curve, noise models.Noise, chance func(n float64) float64, stops int) []standing {
	level, sign := q.Standard.Curve(noise), 1.0
	if q.Standard.Lower {
		sign = -1
	}
	height := func(n float64) float64 { return sign * curve.At(n) }
	pass := func(level float64) standing { // a chance may be 0 to all digits
		return standing{func(n float64) bool { return chance(n) >= level-rounding }, []func(float64) float64{chance, height}}
	}
	out := []standing{
		{func(n float64) bool { return q.Standard.Beyond(curve.At(n), level) }, []func(float64) float64{height}},
		pass(q.Chance),
	}
	for range stops {
		out = append(out, pass(even))
	}
	return out
}

// leavings lists the attempts from which each definition's level is not met any more.
func (q Question) leavings(p passing) []float64 {
	var out []float64
	chance := func(n float64) float64 { return q.chance(p, n) }
	for _, s := range q.standings(p.curve, p.noise, chance, len(q.stops)) {
		out = append(out, q.leaves(s, p.last))
	}
	return out
}

// wayLeavings does so for a possible truth about a trainee.
func (q Question) wayLeavings(c *outlook, stops int, last float64) []float64 {
	out := make([]float64, 0, 2+stops)
	if c.rises {
		for range 2 + stops {
			out = append(out, math.Inf(1))
		}
		return out
	}
	for _, s := range q.standings(c.way.measure.curve, c.way.measure.noise, c.at, stops) {
		out = append(out, q.leaves(s, last))
	}
	return out
}

// mostLeave is the attempt by which more than half of equally likely truths have left a
// level; +Inf where no more than half ever do.
func mostLeave(leaves []float64) float64 {
	sorted := slices.Sorted(slices.Values(leaves))
	return sorted[len(sorted)/2]
}

// rounding is a difference of two chances, or of two curve values as a share of their
// size, that is no difference.
const rounding = 1e-12

// leaves is the first whole attempt from which the level is not met, as practice leads
// away from it; +Inf where it does not do so within the horizon. One at or before the
// last attempt made says that the level is not met now.
func (q Question) leaves(s standing, last float64) float64 {
	now := math.Max(last, 1)
	next := math.Floor(now) + 1
	if s.meets(now) {
		for n := next; n <= q.Horizon; n++ {
			if !s.meets(n) {
				return n
			}
		}
		return math.Inf(1)
	}
	if !s.worsens(now, math.Max(now, q.Horizon)) {
		return math.Inf(1)
	}
	for n := next; n <= q.Horizon; n++ {
		if s.meets(n) {
			return math.Inf(1)
		}
	}
	n := math.Floor(now)
	for n > 1 && !s.meets(n-1) {
		n--
	}
	return n
}

// worsens reports whether practice leads the wrong way from one attempt to another. A
// curve that has come to rest leads where it came from.
func (s standing) worsens(from, to float64) bool {
	for _, value := range s.values {
		for _, span := range [][2]float64{{from, to}, {1, from}} {
			a, b := value(span[0]), value(span[1])
			if math.Abs(a-b) > rounding*math.Max(math.Abs(a), math.Abs(b)) {
				return b < a
			}
		}
	}
	return false
}

// moveAway gives an answer the status moving-away where the level is left: the estimate
// is kept as long as the level is met at the last attempt made, and is not known else. A
// curve chosen beforehand that still meets the level does not move away unless the
// attempts show it (see [Learner.moves]).
func (q Question) moveAway(a *Answer, leaves float64, p passing, shown bool) {
	if math.IsInf(leaves, 1) || math.IsNaN(leaves) || a.Status == TooEarly || !shown && leaves > p.last {
		return
	}
	a.Status, a.Leaves = MovingAway, leaves
	if leaves <= p.last || math.IsInf(a.Estimate, 1) {
		nan := math.NaN()
		a.Estimate, a.At, a.Lower, a.Upper, a.Crossing.Lower, a.Crossing.Upper = nan, nan, nan, nan, nan, nan
	}
	text := q.awayText(*a, p)
	if !shown {
		text += "; the attempts do not show that practice changes anything: a level that stays the same describes them as well"
	}
	a.Warnings = append(a.Warnings, analysis.Warning{Code: "moving-away", Text: text})
}

// moves reports whether the attempts show that practice changes anything: whether the
// curve describes them better, by AICc, than a level that stays the same. Where such a
// level is among the curves tried, the choice of the curve has settled that.
func (l Learner) moves() bool {
	if slices.ContainsFunc(l.Specs, func(s fit.Spec) bool { return !s.Family.HasGain() }) {
		return true
	}
	spec := l.Specs[l.Choice.Index]
	spec.Family, spec.Hold, spec.From = models.Constant(), nil, nil
	level, err := fit.One(l.Series, spec)
	return err != nil || !(level.AICc <= l.Choice.Fit.AICc)
}

// awayText says what moving away means for an answer.
func (q Question) awayText(a Answer, p passing) string {
	if a.Definition == MeanCrossing {
		switch {
		case a.Leaves > p.last:
			return fmt.Sprintf("the curve meets the standard at the last attempt made but leads away from it: from attempt %g on it would not meet it, if practice continues as so far", a.Leaves)
		case a.Leaves > 1:
			return fmt.Sprintf("the curve has not met the standard since attempt %g and leads away from it, so no number of attempts is given", a.Leaves)
		}
		return "the curve does not meet the standard at any attempt and leads away from it, so no number of attempts is given"
	}
	level := q.Chance
	if a.Definition != PassChance {
		level = even
	}
	now := fmt.Sprintf("the chance to pass, %.0f %% at the last attempt made", 100*q.chance(p, p.last))
	if a.Leaves > p.last {
		return fmt.Sprintf("%s, falls: from attempt %g on it would be below %.3g %%, if practice continues as so far", now, a.Leaves, 100*level)
	}
	return fmt.Sprintf("%s, is below %.3g %% and falls, so no number of attempts is given", now, 100*level)
}
