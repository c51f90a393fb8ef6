package cohort

import (
	"math"
	"sync"

	"tyro/models"
)

// expectedNodes is how many points stand for the noise of a draw where responses are slow by speed.
const expectedNodes = 11

var expectedRule = sync.OnceValues(func() (z, w []float64) { return hermite(expectedNodes) })

// Expected is what one attempt is expected to give: the mean of the predictive distribution. Of
// times, whose noise is even in their logarithm or in speed, it is the geometric mean, so that
// half as long and twice as long count alike; attempts without an end (a speed of 0) are left out
// of it. Of passes it is the chance. restart is as in [Posterior.CDF].
func (p *Posterior) Expected(attempt, restart float64) float64 {
	s := p.at(attempt, restart)
	return s.expected()
}

// Foretold is what one attempt is expected to give, as [Posterior.Expected], and the responses that
// shares of the predictive distribution stay at or under, as [Posterior.Quantiles]: both for little
// more than the cost of one.
func (p *Posterior) Foretold(attempt, restart float64, shares ...float64) (expected float64, quantiles []float64) {
	s := p.at(attempt, restart)
	return s.expected(), s.quantiles(shares)
}

// expected is the mean of what the draws stand for.
func (s stand) expected() float64 {
	sum, weight := 0.0, 0.0
	logs := models.NeedsPositive(s.draws[0].on.noise)
	z, w := expectedRule()
	for i := range s.draws {
		d := &s.draws[i]
		switch mu := s.mu[i]; {
		case math.IsInf(mu, -1):
			continue
		case !d.on.gauss:
			sum += d.Weight * d.on.added.Mean(mu)
		case d.on.link != reciprocal:
			sum += d.Weight * mu
		default:
			inside, total := 0.0, 0.0
			for k := range z {
				if y := d.on.link.from(mu + s.sd[i]*z[k]); y > 0 && !math.IsInf(y, 1) {
					inside, total = inside+w[k], total+w[k]*math.Log(y)
				}
			}
			if inside == 0 {
				continue
			}
			sum += d.Weight * total / inside
		}
		weight += d.Weight
	}
	switch {
	case weight == 0 && logs:
		return 0 // no curve is above 0
	case logs:
		return math.Exp(sum / weight)
	}
	return sum / weight
}
