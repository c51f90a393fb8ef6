package agreement

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"
)

// A Decision is one way to measure: numbers of levels of each facet but the
// first, with what they give.
type Decision struct {
	Numbers                        []float64 // in the order of the study's facets after the first
	G, GLower, GUpper              float64   // relative: for ranking
	Phi, PhiLower, PhiUpper        float64   // absolute: for pass or fail
	RelativeVariance               float64   // of error
	AbsoluteVariance               float64
	SEMRelative, SEMAbsolute       float64
	ChangeRelative, ChangeAbsolute float64 // smallest detectable change at 95 %
	Cost                           float64 // NaN without costs
}

// weightsOf is what each component adds to the universe score, the relative and
// the absolute error for given numbers of conditions.
func (res GResult) weightsOf(numbers []float64) (universe, relative, absolute []float64) {
	n := len(res.Components)
	universe, relative, absolute = make([]float64, n), make([]float64, n), make([]float64, n)
	for t, c := range res.Components {
		divide, random := 1.0, false
		for _, f := range c.contains {
			if f == 0 {
				continue
			}
			divide *= numbers[f-1]
			random = random || !res.fixed[f]
		}
		object := slices.Contains(c.contains, 0)
		residual := t == n-1
		switch {
		case len(c.contains) == 1 && object:
			universe[t] = 1
		case object && !random && !residual:
			universe[t] = 1 / divide
		case object:
			relative[t], absolute[t] = 1/divide, 1/divide
		case random:
			absolute[t] = 1 / divide
		}
	}
	return universe, relative, absolute
}

// Decide says what given numbers of conditions would give. Intervals are normal
// on the scale of −log(1 − coefficient), from the standard errors of the
// components. It panics where the numbers are not one for each facet after the
// first. Where each object has one score only, what lies between objects cannot be told
// from error, and every number is NaN.
func (res GResult) Decide(numbers []float64) Decision {
	if len(numbers) != len(res.facets)-1 {
		panic(fmt.Sprintf("agreement: %d numbers of conditions for %d facets", len(numbers), len(res.facets)-1))
	}
	d := Decision{Numbers: slices.Clone(numbers), Cost: math.NaN()}
	if res.untold {
		return d.unknown()
	}
	u, rel, abs := res.weightsOf(numbers)
	sum := func(w []float64) float64 {
		s := 0.0
		for t, c := range res.Components {
			s += w[t] * c.Estimate
		}
		return s
	}
	d.RelativeVariance, d.AbsoluteVariance = sum(rel), sum(abs)
	d.G, d.GLower, d.GUpper = res.ratio(u, rel)
	d.Phi, d.PhiLower, d.PhiUpper = res.ratio(u, abs)
	d.SEMRelative, d.SEMAbsolute = math.Sqrt(d.RelativeVariance), math.Sqrt(d.AbsoluteVariance)
	d.ChangeRelative, d.ChangeAbsolute = detectable(d.SEMRelative), detectable(d.SEMAbsolute)
	return d
}

// unknown is the way to measure without what it gives.
func (d Decision) unknown() Decision {
	for _, v := range []*float64{
		&d.G, &d.GLower, &d.GUpper, &d.Phi, &d.PhiLower, &d.PhiUpper, &d.RelativeVariance, &d.AbsoluteVariance,
		&d.SEMRelative, &d.SEMAbsolute, &d.ChangeRelative, &d.ChangeAbsolute,
	} {
		*v = math.NaN()
	}
	return d
}

// detectable is the smallest change beyond error with 95 % certainty: 1.96·√2
// standard errors of measurement. Beckerman et al. (2001), Quality of Life
// Research 10, 571-578.
func detectable(sem float64) float64 { return distuv.UnitNormal.Quantile(0.975) * math.Sqrt2 * sem }

// ratio is universe/(universe + error) with limits.
func (res GResult) ratio(u, e []float64) (est, lower, upper float64) {
	var uv, ev float64
	for t, c := range res.Components {
		uv += u[t] * c.Estimate
		ev += e[t] * c.Estimate
	}
	est, lower, upper = uv/(uv+ev), math.NaN(), math.NaN()
	if !(uv > 0) || !(ev > 0) {
		return est, lower, upper
	}
	// −log(1 − est) = log(u + e) − log(e).
	variance := 0.0
	slope := func(t int) float64 { return (u[t]+e[t])/(uv+ev) - e[t]/ev }
	for i := range res.Components {
		for j := range res.Components {
			if v := submatrix(res.cov, i, j); !math.IsNaN(v) {
				variance += slope(i) * slope(j) * v
			}
		}
	}
	z := distuv.UnitNormal.Quantile((1+res.level)/2) * math.Sqrt(variance)
	at := -math.Log(1 - est)
	return est, math.Max(0, 1-math.Exp(-(at-z))), 1 - math.Exp(-(at + z))
}

// Numbers are the study's own numbers of conditions, rounded to whole ones
// where they are.
func (res GResult) Numbers() []float64 { return slices.Clone(res.Sizes[1:]) }

// Costs price a way to measure, for one object: each facet's levels cost once
// (a performance: room, kit, staff), and each single rating costs once more.
type Costs struct {
	Base   float64   // once
	Level  []float64 // of one level of each facet after the first; a rater's fee is Rating
	Rating float64
}

func (c Costs) of(numbers []float64) float64 {
	sum, all := c.Base, 1.0
	for f, n := range numbers {
		if f < len(c.Level) {
			sum += c.Level[f] * n
		}
		all *= n
	}
	return sum + c.Rating*all
}

// A DecisionTable crosses numbers of raters with numbers of performances or
// items.
type DecisionTable struct {
	Facets   []string // after the object
	Rows     []Decision
	Target   float64
	Cheapest *Decision // for an absolute coefficient of at least Target; nil when none of the rows reaches it
	Relative *Decision // the same for the relative coefficient
}

// Table lists every combination up to the greatest numbers given, with costs.
func (res GResult) Table(most []int, costs *Costs, target float64) (DecisionTable, error) {
	t := DecisionTable{Facets: res.facets[1:], Target: target}
	if len(most) != len(res.facets)-1 {
		return t, fmt.Errorf("a decision table needs the greatest number of each of %d facets", len(res.facets)-1)
	}
	for f, n := range most {
		if n < 1 {
			return t, fmt.Errorf("a decision table needs a greatest number from 1 on; for facet %s it is %d", t.Facets[f], n)
		}
	}
	if costs != nil {
		for _, v := range append([]float64{costs.Base, costs.Rating}, costs.Level...) {
			if !(v >= 0) {
				return t, fmt.Errorf("a cost of %v, expected a number from 0 on", v)
			}
		}
	}
	numbers := make([]float64, len(most))
	for i := range numbers {
		numbers[i] = 1
	}
	for {
		fits := true
		for f, n := range numbers { // a fixed facet keeps its number
			fits = fits && (!res.fixed[f+1] || n == 1)
		}
		if fits {
			at := slices.Clone(numbers)
			for f := range at {
				if res.fixed[f+1] {
					at[f] = res.Sizes[f+1]
				}
			}
			d := res.Decide(at)
			if costs != nil {
				d.Cost = costs.of(at)
			}
			t.Rows = append(t.Rows, d)
		}
		f := len(numbers) - 1
		for f >= 0 && numbers[f] >= float64(most[f]) {
			numbers[f] = 1
			f--
		}
		if f < 0 {
			break
		}
		numbers[f]++
	}
	t.Cheapest = t.cheapest(func(d Decision) float64 { return d.Phi })
	t.Relative = t.cheapest(func(d Decision) float64 { return d.G })
	return t, nil
}

// cheapest is the row with the lowest cost that reaches the target; without
// costs, the one with the fewest ratings. Ties go to the better coefficient.
func (t DecisionTable) cheapest(of func(Decision) float64) *Decision {
	var best *Decision
	price := func(d Decision) float64 {
		if !math.IsNaN(d.Cost) {
			return d.Cost
		}
		all := 1.0
		for _, n := range d.Numbers {
			all *= n
		}
		return all
	}
	for i := range t.Rows {
		d := &t.Rows[i]
		if !(of(*d) >= t.Target-1e-12) {
			continue
		}
		if best == nil || price(*d) < price(*best)-1e-12 || math.Abs(price(*d)-price(*best)) <= 1e-12 && of(*d) > of(*best) {
			best = d
		}
	}
	return best
}
