package stopping

import (
	"fmt"

	"tyro/analysis/monitor"
)

// A Chart stops practice when a learning chart signals: adequate performance has
// been shown at the stated failure rates (see [monitor.Learning]).
type Chart struct {
	Rates monitor.Rates
	H     float64 // signal at a sum of H or more
}

// The error rate for which a chart's limit is chosen where none is stated: the
// share of trainees who fail at the unacceptable rate and yet signal within so many
// attempts.
const (
	ChartFalse  = 0.05
	ChartWithin = 50
)

// NewChart chooses the limit from the rates: the lowest at which the chart signals
// within [ChartWithin] attempts with a chance of at most [ChartFalse] when every
// attempt fails with the unacceptable rate.
func NewChart(r monitor.Rates) (*Chart, error) {
	if err := r.Check(); err != nil {
		return nil, err
	}
	d := monitor.ByShares(func(h float64) monitor.RunLengths { return monitor.Learning(r, h) }, r.Unacceptable, r.Acceptable, ChartFalse, ChartWithin)
	if !(d.H > 0) {
		return nil, fmt.Errorf("failure rates %g and %g: no limit keeps false signals to %g within %d attempts", r.Acceptable, r.Unacceptable, ChartFalse, ChartWithin)
	}
	return &Chart{r, d.H}, nil
}

// String writes the chart as [ParsePolicy] reads it.
func (c *Chart) String() string {
	return fmt.Sprintf("chart %g/%g h %g", c.Rates.Acceptable, c.Rates.Unacceptable, c.H)
}

// since counts successes and failures since the sum was last at zero, which fixes
// where it is.
type since struct{ successes, failures int32 }

// Chain lists the values that the sum can take within the given number of attempts.
// A sum of two step sizes takes few between zero and the limit, so nothing is
// rounded.
func (c *Chart) Chain(attempts int) (Chain, error) {
	if err := c.Rates.Check(); err != nil {
		return Chain{}, err
	}
	if !(c.H > 0) {
		return Chain{}, fmt.Errorf("chart limit %g: expected a number above 0", c.H)
	}
	w := monitor.Learning(c.Rates, c.H).Weights
	out, ok := grow(since{}, attempts, func(s since, passed bool) (since, bool) {
		if passed {
			s.successes++
		} else {
			s.failures++
		}
		sum := float64(s.successes)*w.Success + float64(s.failures)*w.Failure
		if sum <= slack {
			return since{}, false
		}
		return s, sum >= c.H-slack
	})
	if !ok {
		return Chain{}, fmt.Errorf("%s over %d attempts: %w: it takes more than %d values", c, attempts, ErrTooLarge, maxStates)
	}
	return out, nil
}

// slack is how near a sum may be to zero or to the limit and still count as there.
const slack = 1e-9

// MetBy implements [Policy].
func (c *Chart) MetBy(chance []float64) ([]float64, error) {
	if len(chance) == 0 {
		return nil, nil
	}
	states, err := c.Chain(len(chance))
	if err != nil {
		return nil, err
	}
	return states.MetBy(chance)
}

// FirstMet implements [Policy].
func (c *Chart) FirstMet(passes []bool) int {
	failed := make([]bool, len(passes))
	for i, p := range passes {
		failed[i] = !p
	}
	return monitor.Learning(c.Rates, c.H).Follow(failed, nil).First + 1
}
