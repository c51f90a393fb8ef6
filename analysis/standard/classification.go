package standard

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/mathext"

	"tyro/analysis"
)

// A Classification says how far pass and fail from one test can be relied on.
type Classification struct {
	EffectiveItems       int
	Accuracy             float64 // share on the side of the standard that their true score is on
	FalsePass, FalseFail float64 // shares of all trainees
	Consistency          float64 // share with the same result on two tests alike
	Kappa                float64 // consistency beyond chance
	PassShare            float64 // of tests, under the model
	Alpha, Beta          float64 // of the beta distribution of true scores
	Warnings             []analysis.Warning
}

// A Test is what Livingston and Lewis' method needs of one.
type Test struct {
	Lowest, Highest float64 // possible scores
	Reliability     float64 // of the score, between 0 and 1
	Standard        float64 // pass at or above
}

// Classify follows Livingston and Lewis (1995), Journal of Educational
// Measurement 32, 179-197: the test is taken as an effective number of equal
// items that would give its mean, variance and reliability; true scores follow
// a beta distribution over the whole range of scores (two parameters, by the
// mean and the reliable part of the variance, where they also allow four); and
// scores given a true score are binomial. Larger scores are better; turn the
// sign of a measure where they are not.
func Classify(scores []float64, t Test) (Classification, error) {
	c := Classification{}
	if len(scores) < 2 {
		return c, fmt.Errorf("%d scores, expected at least 2", len(scores))
	}
	if !(t.Highest > t.Lowest) || !(t.Reliability > 0 && t.Reliability < 1) {
		return c, fmt.Errorf("scores from %v to %v with reliability %v; expected low to high, and between 0 and 1", t.Lowest, t.Highest, t.Reliability)
	}
	for _, v := range scores {
		if !(v >= t.Lowest && v <= t.Highest) {
			return c, fmt.Errorf("a score of %v, expected one from %v to %v", v, t.Lowest, t.Highest)
		}
	}
	width := t.Highest - t.Lowest
	return classify((mean(scores)-t.Lowest)/width, square(sd(scores)/width), t.Reliability, (t.Standard-t.Lowest)/width)
}

// classify works on scores from 0 to 1.
func classify(m, variance, reliability, standard float64) (Classification, error) {
	c := Classification{}
	if !(variance > 0) || !(m*(1-m) > variance) {
		return c, fmt.Errorf("a mean of %v and variance of %v on a scale from 0 to 1 leave nothing to classify", m, variance)
	}
	items := (m*(1-m) - reliability*variance) / (variance * (1 - reliability))
	n := int(math.Max(1, math.Round(items)))
	c.EffectiveItems = n
	size := m*(1-m)/(reliability*variance) - 1
	c.Alpha, c.Beta = m*size, (1-m)*size
	need := int(math.Ceil(float64(n)*standard - 1e-9))
	pass := func(τ float64) float64 { // P(at least need of n)
		switch {
		case need <= 0:
			return 1
		case need > n:
			return 0
		}
		return mathext.RegIncBeta(float64(need), float64(n-need+1), τ)
	}
	cut := math.Min(math.Max(standard, 0), 1)
	falseFail := c.over(cut, 1, func(τ float64) float64 { return 1 - pass(τ) })
	c.FalsePass, c.FalseFail = c.over(0, cut, pass), falseFail
	c.Accuracy = 1 - c.FalsePass - c.FalseFail
	both := c.over(0, cut, func(τ float64) float64 { p := pass(τ); return p * (1 - p) }) + c.over(cut, 1, func(τ float64) float64 { p := pass(τ); return p * (1 - p) })
	c.Consistency = 1 - 2*both
	c.PassShare = c.over(0, cut, pass) + c.over(cut, 1, pass)
	chance := square(c.PassShare) + square(1-c.PassShare)
	c.Kappa = math.NaN()
	if chance < 1 {
		c.Kappa = (c.Consistency - chance) / (1 - chance)
	}
	if items < 5 {
		c.Warnings = append(c.Warnings, analysis.Warning{Code: "few-effective-items", Text: fmt.Sprintf("the scores behave like a test of %.1f items, too few for this method to be trusted", items)})
	}
	return c, nil
}

// over is the mean of f over the true scores between two points, which adds
// only their share: the density's powers of τ and 1 − τ are taken out by the
// substitution τ = sin²θ.
func (c Classification) over(from, to float64, f func(float64) float64) float64 {
	if !(to > from) {
		return 0
	}
	logB := mathext.Lbeta(c.Alpha, c.Beta)
	g := func(θ float64) float64 {
		s, k := math.Sin(θ), math.Cos(θ)
		if s <= 0 || k <= 0 {
			return 0
		}
		return 2 * math.Exp((2*c.Alpha-1)*math.Log(s)+(2*c.Beta-1)*math.Log(k)-logB) * f(s*s)
	}
	a, b := math.Asin(math.Sqrt(from)), math.Asin(math.Sqrt(to))
	const panels = 64
	sum, width := 0.0, (b-a)/panels
	for i := range panels {
		sum += quad.Fixed(g, a+float64(i)*width, a+float64(i+1)*width, 16, quad.Legendre{}, 0)
	}
	return sum
}
