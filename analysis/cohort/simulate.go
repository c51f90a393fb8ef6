package cohort

import (
	"math"
	"math/rand/v2"
	"slices"
)

// Simulate draws a cohort of the same design from the fit: new deviations of
// every trainee and new residuals, at the same attempts and after the same
// breaks. Where all censored responses share one limit it holds for every
// attempt; otherwise an attempt that was censored is censored at its own
// response again, and the others never are. With reciprocal noise a speed that
// is not above 0 is drawn anew.
func (c *Cohort) Simulate(r *rand.Rand) []Trainee {
	return c.drawn(r, func(int) (v vector) {
		for a := range c.m.random {
			v[a] = r.NormFloat64()
		}
		return v
	})
}

// drawn is Simulate with deviations of the caller's making, in the order of the
// trainees.
func (c *Cohort) drawn(r *rand.Rand, deviation func(i int) vector) []Trainee {
	limit := c.limit()
	l := c.m.factor(c.theta)
	out := make([]Trainee, len(c.trainees))
	for i, t := range c.trainees {
		t = t.sorted()
		v := deviation(i)
		e := c.m.eta(&c.m.records[i], c.theta)
		c.m.addDeviation(&e, &l, &v)
		out[i] = c.m.draw(t, &e, func(j int) float64 {
			if math.IsNaN(limit) && t.Censored != nil && t.Censored[j] {
				return t.Response[j]
			}
			return limit
		}, r)
	}
	return out
}

// draw gives a trainee with the given quantities new responses, censored at the limit
// of each attempt; a NaN one is none.
func (m *model) draw(t Trainee, e *vector, limit func(j int) float64, r *rand.Rand) Trainee {
	y := m.responses(t, e, r)
	var censored []bool
	for j := range y {
		if at := limit(j); y[j] > at {
			if censored == nil {
				censored = make([]bool, len(y))
			}
			y[j], censored[j] = at, true
		}
	}
	return Trainee{t.ID, t.Arm, t.Attempt, y, censored, t.Restart, t.Covariates}
}

// limit is the one response at which attempts are censored; NaN where there
// are several, +Inf where there is none.
func (c *Cohort) limit() float64 { return limitOf(c.trainees) }

func limitOf(ts []Trainee) float64 {
	var at []float64
	for _, t := range ts {
		for j := range t.Censored {
			if t.Censored[j] {
				at = append(at, t.Response[j])
			}
		}
	}
	switch {
	case len(at) == 0:
		return math.Inf(1)
	case slices.Min(at) != slices.Max(at):
		return math.NaN()
	}
	return at[0]
}

// mostDraws is how often a response without end is drawn anew before it stands.
const mostDraws = 10_000

// responses draws the responses of a trainee with the given quantities, whose
// attempts are in order.
func (m *model) responses(t Trainee, e *vector, r *rand.Rand) []float64 {
	curve, spread := m.curve(e), m.spreadAt(e)
	memory := m.memoryAt(e)
	var gap []float64
	if memory.on {
		gap = gaps(t.Attempt, t.Restart, m.spec.CarryAcross)
	}
	out := make([]float64, len(t.Attempt))
	carried := 0.0
	for j, n := range t.Attempt {
		mu := m.link.to(curve.At(n))
		if m.spec.Sessions && t.Restart != nil && t.Restart[j] > 0 {
			mu += e[slotSession] * math.Exp(-math.Exp(e[slotFading])*(t.Restart[j]-1))
		}
		if memory.on {
			a := memory.decay(gap[j])
			carried = a*carried + math.Sqrt(memory.share*(1-a*a))*r.NormFloat64()
		}
		for range mostDraws {
			switch {
			case !m.gauss:
				out[j] = m.link.from(m.on.added.Quantile(r.Float64(), mu, spread))
			default:
				fresh := math.Sqrt(1-memory.share) * r.NormFloat64()
				out[j] = m.link.from(mu + spread*(carried+fresh))
			}
			if !math.IsInf(out[j], 0) && (m.link == plain || out[j] > 0) {
				break
			}
			if memory.share == 1 { // nothing fresh to draw
				carried = r.NormFloat64()
			}
		}
	}
	return out
}
