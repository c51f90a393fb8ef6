package proficiency

import (
	"tyro/analysis/fit"
	"tyro/analysis/practice"
	"tyro/analysis/resample"
	"tyro/models"
)

// A cleanChance is the chance that an attempt keeps within its error limits, which
// grows with practice: a logistic regression on the logarithm of the attempt, or one
// share for all attempts where passes and misses do not mix enough for a slope.
type cleanChance struct {
	attempts []float64
	chance   func(n float64) float64
	fitter   *fit.Fitter
	fitted   []float64 // at the attempts seen
}

// newCleanChance reads whether each measured attempt was clean; nil when no limit is
// set.
func newCleanChance(t practice.Trainee) *cleanChance {
	if !t.ErrorLimits {
		return nil
	}
	c := &cleanChance{}
	var y []float64
	for _, a := range t.Attempts {
		if a.Measured() {
			c.attempts, y = append(c.attempts, a.Number), append(y, zeroOne(a.Clean))
		}
	}
	spec := fit.Spec{Family: models.Logarithmic(), Noise: models.Bernoulli{}}
	if f, err := fit.NewFitter(spec, c.attempts); err == nil {
		c.fitter = f
	}
	c.chance = c.learn(y)
	for _, n := range c.attempts {
		c.fitted = append(c.fitted, c.chance(n))
	}
	return c
}

// learn fits the chance to 0 and 1 by attempt.
func (c *cleanChance) learn(y []float64) func(n float64) float64 {
	clean := 0.0
	for _, v := range y {
		clean += v
	}
	n := float64(len(y))
	// Half an attempt each way keeps a share off 0 and 1 (common practice, no
	// source).
	share := (clean + 0.5) / (n + 1)
	if c.fitter != nil && clean >= 3 && n-clean >= 3 {
		if r := c.fitter.Refit(y, nil); r.OK {
			return func(n float64) float64 { return models.Bernoulli{}.Mean(r.Curve.At(n)) }
		}
	}
	return func(float64) float64 { return share }
}

// draw is the chance learnt from one bootstrap replicate of the clean attempts.
func (c *cleanChance) draw(seed uint64, purpose string, replicate int) func(n float64) float64 {
	r := resample.Stream(seed, "proficiency/clean/"+purpose, replicate)
	y := make([]float64, len(c.fitted))
	for i, p := range c.fitted {
		if r.Float64() < p {
			y[i] = 1
		}
	}
	return c.learn(y)
}
