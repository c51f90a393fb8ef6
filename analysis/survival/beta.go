package survival

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"tyro/analysis"
	"tyro/analysis/internal/numeric"
)

// A betaProduct is a product of independent beta variables, by its first two
// moments.
type betaProduct struct{ mean, square float64 }

func (p *betaProduct) times(a, b float64) {
	p.mean *= a / (a + b)
	p.square *= a * (a + 1) / ((a + b) * (a + b + 1))
}

// beta is the beta distribution with the same two moments, which is the product's
// own where nobody is censored.
func (p betaProduct) beta() distuv.Beta {
	total := p.mean*(1-p.mean)/(p.square-p.mean*p.mean) - 1
	return distuv.Beta{Alpha: p.mean * total, Beta: (1 - p.mean) * total}
}

// betasAt are the distributions that the people seen leave for the chance of being
// without the event just after time t: one from those who had it by then, which the
// chance is at most, and one that takes the next to have it too, which the chance is
// at least. They are certain, 1 and 0, before the first event and when nobody is
// left.
func (c Curve) betasAt(t float64) (atMost, atLeast betaProduct) {
	p, left := betaProduct{1, 1}, c.N
	for _, s := range c.Steps {
		if s.Time > t {
			break
		}
		if s.Events > 0 {
			p.times(float64(s.AtRisk-s.Events+1), float64(s.Events))
		}
		left = s.AtRisk - s.Events - s.Censored
	}
	if left == 0 {
		return p, betaProduct{}
	}
	q := p
	q.times(float64(left), 1)
	return p, q
}

// cdf is the chance that the product is at most x.
func (p betaProduct) cdf(x float64) float64 {
	if p.mean == 0 || p.mean == 1 {
		if x >= p.mean {
			return 1
		}
		return 0
	}
	return p.beta().CDF(x)
}

// quantile inverts cdf.
func (p betaProduct) quantile(q float64) float64 {
	if p.mean == 0 || p.mean == 1 {
		return p.mean
	}
	return p.beta().Quantile(q)
}

// BetaLimits are pointwise limits for the chance of being without the event
// after time t, from the beta distributions that order statistics leave (Fay,
// Brittain and Proschan, 2013, Biostatistics 14, 723-736, with the product
// matched by two moments). Without censoring before t they are those of Clopper
// and Pearson for the share seen. They hold their level in small samples, and
// where the estimate is 0 or 1, which the curve's own band does not; in return
// they are wide. A level 0 means 0.95; outside of 0 to 1 the limits are NaN.
func (c Curve) BetaLimits(t, level float64) (lower, upper float64) {
	level, err := analysis.Level(level)
	if err != nil || c.Err != nil {
		return math.NaN(), math.NaN()
	}
	atMost, atLeast := c.betasAt(t)
	return atLeast.quantile((1 - level) / 2), atMost.quantile((1 + level) / 2)
}

// MidLimits are [Curve.BetaLimits] without their excess: quantiles of the even
// mixture of the two distributions, as a mid-p interval of a share is of Clopper and
// Pearson's (Fay and Brittain, 2016, Statistics in Medicine 35, 2726-2740).
func (c Curve) MidLimits(t, level float64) (lower, upper float64) {
	level, err := analysis.Level(level)
	if err != nil || c.Err != nil {
		return math.NaN(), math.NaN()
	}
	atMost, atLeast := c.betasAt(t)
	quantile := func(q float64) float64 {
		lo, hi := atLeast.quantile(q), atMost.quantile(q)
		spare := func(x float64) float64 { return (atMost.cdf(x)+atLeast.cdf(x))/2 - q }
		if spare(lo) >= 0 { // one of the two stands at lo with all its weight, or the two are one
			return lo
		}
		at, ok := numeric.Root(spare, lo, hi, numeric.Tolerance{})
		if !ok {
			return hi
		}
		return at
	}
	return quantile((1 - level) / 2), quantile((1 + level) / 2)
}

// Tolerance is the smallest time by which, with the given confidence, at least a
// share of people have had the event: the upper confidence limit of a quantile.
// Without censoring before it this is an order statistic, whatever the
// distribution (Wilks, 1941, Annals of Mathematical Statistics 12, 91-96);
// otherwise the one-sided limit of [Curve.BetaLimits] takes the place of the
// binomial one. +Inf where the people seen do not show it; claimed is then the
// largest share that they do show with that confidence, and otherwise the share
// shown by the time given. A confidence 0 means 0.95; NaN where it or the share is
// outside of 0 to 1.
func (c Curve) Tolerance(share, confidence float64) (at, claimed float64) {
	confidence, err := analysis.Level(confidence)
	if err != nil || c.Err != nil || !(share > 0 && share < 1) {
		return math.NaN(), math.NaN()
	}
	for _, s := range c.Steps {
		if s.Events == 0 {
			continue
		}
		atMost, _ := c.betasAt(s.Time)
		upper := atMost.quantile(confidence)
		claimed = math.Max(claimed, 1-upper)
		if claimed >= share-slack {
			return s.Time, claimed
		}
	}
	return math.Inf(1), claimed
}

// PeopleNeeded is the fewest people of whom all must have had the event before
// a share can be claimed with the given confidence. A confidence 0 means 0.95; it
// panics where confidence or share is outside of 0 to 1.
func PeopleNeeded(share, confidence float64) int {
	confidence, err := analysis.Level(confidence)
	if err != nil || !(share > 0 && share < 1) {
		panic(fmt.Sprintf("survival: a share of %v with confidence %v", share, confidence))
	}
	return int(math.Ceil(math.Log(1-confidence)/math.Log(share) - slack))
}
