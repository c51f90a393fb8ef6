package cohort

import "math"

// LogDensity is the logarithm of the predictive density of a response at an attempt, in the
// response's own unit, so that different noises compare; the log chance of a larger response
// where it is right-censored, and of the very response where responses are counts or passes.
// restart is as in [Posterior.CDF].
func (p *Posterior) LogDensity(attempt, restart, y float64, censored bool) float64 {
	s := p.at(attempt, restart)
	logs, most := make([]float64, len(s.draws)), math.Inf(-1)
	for i := range s.draws {
		d := &s.draws[i]
		logs[i] = math.Log(d.Weight) - d.on.loss(y, s.mu[i], s.sd[i], censored)
		most = math.Max(most, logs[i])
	}
	return most + math.Log(sumOfExp(logs, most))
}

// sumOfExp is Σ exp(x − most).
func sumOfExp(logs []float64, most float64) float64 {
	total := 0.0
	for _, x := range logs {
		if x > math.Inf(-1) {
			total += math.Exp(x - most)
		}
	}
	return total
}

// loss is minus the log density of a response.
func (f *footing) loss(y, mu, sd float64, censored bool) float64 {
	if math.IsInf(mu, -1) || f.link != plain && !(y > 0) {
		return math.Inf(1)
	}
	l := f.added.Loss(f.link.to(y), mu, sd, censored).Value
	if censored {
		return l
	}
	first, _, _ := f.link.slopes(y)
	return l - math.Log(first)
}
