package proficiency

import (
	"fmt"
	"math"

	"tyro/analysis/internal/numeric"
	"tyro/analysis/stopping"
)

// A counter gives the attempts under every definition, for one passing after another. The
// chances to pass are worked out once for all definitions, and only as far as the answers
// need them. It owns scratch memory: use one per goroutine.
type counter struct {
	q     Question
	walks []*stopping.Walk

	p       passing
	chances []float64 // to pass attempt 1, 2, …, as far as worked out
}

// A stop is a definition answered by a chain: the attempt by which practice has
// stopped with chance one half.
type stop struct {
	definition string
	chain      *stopping.Chain
	// least is a chance to pass at which practice has not stopped with chance one half
	// within the horizon. Since a pass never leads away from stopping, chances that stay
	// below it do not get there either.
	least float64
}

// newStops lists the definitions answered by a chain.
func (q Question) newStops() ([]stop, error) {
	var out []stop
	if q.Rule != nil {
		rec, err := stopping.NewRecursion(q.Rule)
		if err != nil || rec.States() > maxFollowed {
			return nil, fmt.Errorf("rule %q has too many states to follow in every replicate", q.Rule)
		}
		out = append(out, stop{RuleMet, &rec.Chain, q.leastChance(&rec.Chain)})
	}
	if q.Chart != nil {
		c, err := q.Chart.Chain(int(q.Horizon))
		if err != nil {
			return nil, err
		}
		out = append(out, stop{ChartSignal, &c, q.leastChance(&c)})
	}
	return out, nil
}

// leastChance is just below the steady chance to pass at which practice has stopped with
// chance one half by the horizon.
func (q Question) leastChance(c *stopping.Chain) float64 {
	w := c.Begin()
	short := func(chance float64) float64 {
		w.Reset()
		by := 0.0
		for n := 1.0; n <= q.Horizon; n++ {
			by = w.Step(chance)
		}
		return even - by
	}
	const digits = 1e-6
	at, ok := numeric.Root(short, 0, 1, numeric.Tolerance{X: digits})
	if !ok {
		return 0
	}
	return math.Max(0, at-2*digits)
}

func (q Question) newCounter() *counter {
	c := &counter{q: q, chances: make([]float64, 0, int(q.Horizon))}
	for _, s := range q.stops {
		c.walks = append(c.walks, s.chain.Begin())
	}
	return c
}

// crossings lists the attempts under each definition: real-valued for mean-crossing, and
// for pass-chance without error limits; +Inf beyond the horizon.
func (c *counter) crossings(p passing) []float64 {
	c.p, c.chances = p, c.chances[:0]
	out := make([]float64, 0, 2+len(c.q.stops))
	out = append(out, c.q.meanCrossing(p), c.passCrossing())
	for k := range c.q.stops {
		out = append(out, c.stopCrossing(k))
	}
	return out
}

// chance is the chance to pass attempt n, a whole number within the horizon.
func (c *counter) chance(n int) float64 {
	for len(c.chances) < n {
		c.chances = append(c.chances, c.q.chance(c.p, float64(len(c.chances)+1)))
	}
	return c.chances[n-1]
}

// passCrossing is the attempt at which the chance to pass reaches the wanted
// chance: real-valued, or the first whole attempt where error limits take part. One that
// has been left again by the last attempt made does not count.
func (c *counter) passCrossing() float64 {
	q, p := c.q, c.p
	if p.noise.HasScale() && math.IsNaN(p.scale) {
		return math.NaN()
	}
	if p.clean == nil {
		need := q.Chance / (1 - p.fails)
		if need >= 1 {
			return math.Inf(1)
		}
		return q.crossing(p, q.Standard.CurveFor(p.noise, need, p.scale))
	}
	first := 1
	if p.last >= 1 && q.chance(p, p.last) < q.Chance {
		first = int(p.last) + 1
	}
	if c.most() < q.Chance {
		return math.Inf(1)
	}
	for n := first; n <= int(q.Horizon); n++ {
		if c.chance(n) >= q.Chance {
			return float64(n)
		}
	}
	return math.Inf(1)
}

// most is a chance that no attempt's chance to pass is above: curve and chance to keep
// within error limits each rise or fall throughout.
func (c *counter) most() float64 {
	q, p := c.q, c.p
	most := (1 - p.fails) * math.Max(q.single(p.noise, p.curve.At(1), p.scale), q.single(p.noise, p.curve.At(q.Horizon), p.scale))
	if p.clean != nil {
		most *= math.Max(p.clean(1), p.clean(q.Horizon))
	}
	return most
}

// stopCrossing is the attempt by which practice has stopped with chance one half,
// exactly; +Inf beyond the horizon.
func (c *counter) stopCrossing(k int) float64 {
	if c.p.noise.HasScale() && math.IsNaN(c.p.scale) {
		return math.NaN()
	}
	if c.most() < c.q.stops[k].least {
		return math.Inf(1)
	}
	w := c.walks[k]
	w.Reset()
	for n := 1; n <= int(c.q.Horizon); n++ {
		at := c.chance(n)
		if math.IsNaN(at) {
			return math.NaN()
		}
		if w.Step(at) >= even {
			return float64(n)
		}
	}
	return math.Inf(1)
}
