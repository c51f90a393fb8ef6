package study

import (
	"fmt"
	"math"

	"tyro/analysis/practice"
	"tyro/analysis/proficiency"
	"tyro/analysis/stopping"
)

// An OperatingCurve is what a rule lets through when every attempt passes with the same
// chance, exactly and without data.
type OperatingCurve struct {
	Rule     practice.Rule
	Chance   float64
	MetBy    []float64           // chance of having met the rule, by attempt up to the horizon
	Mean     float64             // attempts until the rule is met, without a horizon; +Inf where it never is
	Quotas   []proficiency.Quota // limits are NaN: nothing is estimated
	Warnings Warnings
}

// MaxOperating is the longest horizon of an operating curve.
const MaxOperating = 1_000_000

// Operating works out the operating curve of a rule.
func Operating(rule practice.Rule, chance float64, horizon int) (*OperatingCurve, error) {
	switch {
	case !(chance >= 0 && chance <= 1):
		return nil, fmt.Errorf("a pass chance of %v: expected a number from 0 to 1", chance)
	case horizon < 1 || horizon > MaxOperating:
		return nil, fmt.Errorf("a horizon of %d attempts: expected 1 to %d", horizon, MaxOperating)
	}
	rec, err := stopping.NewRecursion(rule)
	if err != nil {
		return nil, err
	}
	out := &OperatingCurve{Rule: rule, Chance: chance}
	if out.MetBy, err = rec.MetBy(stopping.Constant(chance, horizon)); err != nil {
		return nil, err
	}
	if out.Mean, err = rec.MeanAttempts(chance); err != nil {
		return nil, err
	}
	out.Warnings.Add("chance-as-given", "the pass chance is taken as given and the answer is exact, so there is no interval and no standard")
	if math.IsInf(out.Mean, 1) {
		out.Warnings.Add("never-met", "with a pass chance of 0 no number of attempts is enough, so there is no mean")
	}
	largest := out.MetBy[horizon-1]
	for _, share := range proficiency.QuotaShares() {
		q := proficiency.Quota{Share: share, Attempts: math.Inf(1), Lower: math.NaN(), Upper: math.NaN(), Largest: largest}
		for n, p := range out.MetBy {
			if p >= share {
				q.Attempts = float64(n + 1)
				break
			}
		}
		if math.IsInf(q.Attempts, 1) {
			out.Warnings.Add("beyond-horizon", fmt.Sprintf("a share of %.0f %% does not meet the rule within %d attempts; the largest share that does is %.0f %%", 100*share, horizon, 100*largest))
		}
		out.Quotas = append(out.Quotas, q)
	}
	return out, nil
}
