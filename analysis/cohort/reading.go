package cohort

import (
	"context"
	"math"

	"tyro/models"
)

// A Reading is one number read off the curve of an arm's middle trainee.
type Reading struct {
	Value float64
	SE    float64 // by the information of the likelihood
	// Added by member: by how much the value moves, to first order, when the member is
	// counted twice. The sum over all members is 0 at the fit.
	Added []float64
}

// Readings reads numbers off the curve of an arm's middle trainee, with what each
// member contributes to them: with the member's own score g and the information H of
// the whole likelihood, counting the member once more moves the parameters by −H⁻¹g
// (the infinitesimal jackknife; Hampel, 1974, Journal of the American Statistical
// Association 69, 383-393; Cook, 1986, Journal of the Royal Statistical Society B 48,
// 133-169). What the attempts do not show of a parameter is read all the same: whether
// a plateau is identified stands in the fit. A fit in two stages has no likelihood,
// and is refused.
func (c *Cohort) Readings(ctx context.Context, arm string, of []func(models.Curve) float64) ([]Reading, error) {
	if err := c.withAttempts(); err != nil {
		return nil, err
	}
	if c.Rung == RungTwoStage {
		return nil, refuse("a fit in two stages has no likelihood to read contributions off")
	}
	rec, err := c.m.record(Trainee{ID: "the middle trainee", Arm: arm})
	if err != nil {
		return nil, err
	}
	here, p := c.here(ctx), len(c.theta)
	here.o.at(c.theta, make([]float64, p))
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	out := make([]Reading, len(of))
	for k, f := range of {
		out[k] = c.reading(&rec, here.o.grads, f)
	}
	return out, nil
}

// reading is one number; scores has a row a member.
func (c *Cohort) reading(rec *record, scores []float64, f func(models.Curve) float64) Reading {
	p := len(c.theta)
	at := func(theta []float64) float64 {
		e := c.m.eta(rec, theta)
		return f(c.m.curve(&e))
	}
	slope := make([]float64, p)
	theta := append([]float64(nil), c.theta...)
	for j := range c.m.nBeta {
		if !(c.cov.At(j, j) > 0) {
			continue
		}
		h := 1e-3 * math.Sqrt(c.cov.At(j, j))
		theta[j] = c.theta[j] + h
		up := at(theta)
		theta[j] = c.theta[j] - h
		slope[j] = (up - at(theta)) / (2 * h)
		theta[j] = c.theta[j]
	}
	toward := make([]float64, p) // covariance times slope
	r, variance := Reading{Value: at(c.theta)}, 0.0
	for a := range p {
		for b := range p {
			toward[a] += c.cov.At(a, b) * slope[b]
		}
		variance += slope[a] * toward[a]
	}
	r.SE = math.Sqrt(variance)
	for i := range c.m.records {
		step := 0.0
		for a, g := range scores[i*p : (i+1)*p] {
			step -= g * toward[a]
		}
		r.Added = append(r.Added, step)
	}
	return r
}
