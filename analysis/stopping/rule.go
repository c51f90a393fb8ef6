package stopping

import (
	"math"

	"tyro/analysis/practice"
)

// A Rule stops practice once a rule on passes is met.
type Rule struct{ practice.Rule }

// MetBy is [Recursion.MetBy] for a rule used once.
func (r Rule) MetBy(chance []float64) ([]float64, error) {
	rec, err := NewRecursion(r.Rule)
	if err != nil {
		return nil, err
	}
	return rec.MetBy(chance)
}

// MeanAttempts is [Recursion.MeanAttempts] for a rule used once.
func (r Rule) MeanAttempts(chance float64) (float64, error) {
	rec, err := NewRecursion(r.Rule)
	if err != nil {
		return math.NaN(), err
	}
	return rec.MeanAttempts(chance)
}

// Chain of a rule is the same for any number of attempts.
func (r Rule) Chain(int) (Chain, error) {
	rec, err := NewRecursion(r.Rule)
	if err != nil {
		return Chain{}, err
	}
	return rec.Chain, nil
}
