package standard

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mathext"

	"tyro/analysis"
)

// A Classification says how far pass and fail from one test can be relied on.
type Classification struct {
	EffectiveItems       float64
	Accuracy             float64 // share on the side of the standard that their true score is on
	FalsePass, FalseFail float64 // shares of all trainees
	Consistency          float64 // share with the same result on two tests alike
	Kappa                float64 // consistency beyond chance
	PassShare            float64 // of tests, under the model
	Passing              float64 // of the scores given
	ErrorAtStandard      float64 // standard error of measurement of a trainee whose true score is the standard, in score units
	TrueScores           TrueScores
	Warnings             []analysis.Warning
}

// A Test is what Livingston and Lewis' method needs of one.
type Test struct {
	Lowest, Highest float64 // possible scores
	Reliability     float64 // of the score, between 0 and 1
	Standard        float64 // pass at or above
	TwoParameters   bool    // true scores over the whole range of scores, whatever their shape
}

// Classify follows Livingston and Lewis (1995), Journal of Educational
// Measurement 32, 179-197: the test is taken as an effective number of equal
// items that would give its mean, variance and reliability; true scores follow
// a beta distribution with four parameters, or two where four do not fit (see
// [TrueScores]); and scores given a true score are binomial, so that two tests
// alike are independent given it. Shares are those of the model; the share of
// the scores given that pass stands beside the model's. Larger scores are
// better; turn the sign of a measure where they are not.
//
// The effective number is not rounded, as theirs is: the binomial is continued
// between whole numbers by the incomplete beta function, and passing begins
// halfway between the possible scores next to the standard, which are taken to be
// as far apart as the closest two scores given. Rounding put false passes and
// fails off by up to 1 in 100 trainees (testdata/standards/classification has
// what is left).
func Classify(scores []float64, t Test) (Classification, error) {
	c := Classification{}
	if len(scores) < 2 {
		return c, fmt.Errorf("%d scores, expected at least 2", len(scores))
	}
	if !(t.Highest > t.Lowest) || !(t.Reliability > 0 && t.Reliability < 1) {
		return c, fmt.Errorf("scores from %v to %v with reliability %v; expected low to high, and between 0 and 1", t.Lowest, t.Highest, t.Reliability)
	}
	width := t.Highest - t.Lowest
	shares := make([]float64, len(scores))
	for i, v := range scores {
		if !(v >= t.Lowest && v <= t.Highest) {
			return c, fmt.Errorf("a score of %v, expected one from %v to %v", v, t.Lowest, t.Highest)
		}
		shares[i] = (v - t.Lowest) / width
	}
	o := observe(shares)
	items, err := o.effectiveItems(t.Reliability)
	if err != nil {
		return c, err
	}
	trueScores, reason := o.trueScores(items, t.Reliability, t.TwoParameters)
	cut := (t.Standard - t.Lowest) / width
	c = classify(trueScores, items, cut, passingFrom(shares, cut))
	c.Passing = passing(scores, t.Standard, false)
	inside := math.Min(1, math.Max(0, cut))
	c.ErrorAtStandard = width * math.Sqrt(inside*(1-inside)/items)
	if reason != "" {
		c.warn("two-parameter-true-scores", "a beta distribution with four parameters does not fit the scores ("+reason+"), so true scores are taken to run over the whole range of scores, by their mean and variance")
	}
	return c, nil
}

func (c *Classification) warn(code, text string) {
	c.Warnings = append(c.Warnings, analysis.Warning{Code: code, Text: text})
}

// passingFrom is halfway between the lowest possible score that passes and the
// one before.
func passingFrom(shares []float64, cut float64) float64 {
	step, order := math.Inf(1), sorted(shares)
	for i := 1; i < len(order); i++ {
		if gap := order[i] - order[i-1]; gap > 1e-9 {
			step = math.Min(step, gap)
		}
	}
	if math.IsInf(step, 1) {
		return cut
	}
	return (math.Ceil(cut/step-1e-6) - 0.5) * step
}

// classify works on scores from 0 to 1: true scores from the standard on deserve
// to pass, and tests from a score on do.
func classify(d TrueScores, n, standard, from float64) Classification {
	c := Classification{EffectiveItems: n, TrueScores: d, Passing: math.NaN()}
	a, b := n*from+0.5, n*(1-from)+0.5
	pass := func(τ float64) float64 { // of n whole items, P(at least n·from + 1/2)
		switch {
		case a <= 0:
			return 1
		case b <= 0:
			return 0
		}
		return mathext.RegIncBeta(a, b, τ)
	}
	twice := func(τ float64) float64 { p := pass(τ); return p * (1 - p) }
	cut := math.Min(math.Max(standard, d.Lower), d.Upper)
	c.FalsePass = d.over(d.Lower, cut, pass)
	c.FalseFail = d.over(cut, d.Upper, func(τ float64) float64 { return 1 - pass(τ) })
	c.Accuracy = 1 - c.FalsePass - c.FalseFail
	c.Consistency = 1 - 2*(d.over(d.Lower, cut, twice)+d.over(cut, d.Upper, twice))
	c.PassShare = c.FalsePass + d.over(cut, d.Upper, pass)
	chance := square(c.PassShare) + square(1-c.PassShare)
	c.Kappa = math.NaN()
	if chance < 1 {
		c.Kappa = (c.Consistency - chance) / (1 - chance)
	}
	if n < 5 {
		c.warn("few-effective-items", fmt.Sprintf("the scores behave like a test of %.1f items, too few for this method to be trusted", n))
	}
	return c
}
