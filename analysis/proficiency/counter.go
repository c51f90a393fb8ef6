package proficiency

import (
	"fmt"
	"math"

	"tyro/analysis/internal/numeric"
	"tyro/analysis/stopping"
	"tyro/models"
)

// A counter gives the attempts under every definition, for one passing after another. The
// chances to pass are worked out once for all definitions, and only as far as the answers
// need them. It owns scratch memory: use one per goroutine.
type counter struct {
	q     Question
	walks []*stopping.Walk

	p       passing
	chances []float64 // to pass attempt 1, 2, …, as far as worked out
	tables  *tables
	family  models.Family // of the curve that along is for
	along   *models.Along
	falls   []float64 // the curve's falling part, as far as worked out
	powers  []float64 // of the attempts, for the chance to keep within error limits
	keeps   []float64 // the chance itself, as far as worked out
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
	c := &counter{q: q, chances: make([]float64, 0, int(q.Horizon)), tables: q.tables}
	if c.tables == nil {
		c.tables = newTables(int(q.Horizon))
	}
	for _, s := range q.stops {
		c.walks = append(c.walks, s.chain.Begin())
	}
	return c
}

// crossings lists the attempts under each definition: real-valued for mean-crossing, and
// for pass-chance without error limits; +Inf beyond the horizon.
func (c *counter) crossings(p passing) []float64 { return c.crossingsBut(p, -1, 0) }

// crossingsBut lists them with another spread for the stop at a position; -1: none.
func (c *counter) crossingsBut(p passing, other int, spread float64) []float64 {
	c.turnTo(p)
	out := make([]float64, 2+len(c.q.stops))
	out[0], out[1] = c.q.meanCrossing(p), c.passCrossing()
	for k := range c.q.stops {
		if k != other {
			out[2+k] = c.stopCrossing(k)
		}
	}
	if other >= 0 {
		c.p.scale, c.chances = spread, c.chances[:0]
		out[2+other] = c.stopCrossing(other)
	}
	return out
}

// turnTo turns to another passing.
func (c *counter) turnTo(p passing) {
	c.p, c.chances, c.falls, c.powers, c.keeps = p, c.chances[:0], c.falls[:0], c.powers[:0], c.keeps[:0]
	if c.along == nil || c.family != p.curve.Family {
		c.family, c.along = p.curve.Family, c.tables.along(p.curve.Family)
	}
}

// chance is the chance to pass attempt n, a whole number within the horizon: what
// [Question.chance] says.
func (c *counter) chance(n int) float64 {
	if n > len(c.chances) {
		c.workOut(n)
	}
	return c.chances[n-1]
}

// workOut works the chances out up to attempt n.
func (c *counter) workOut(n int) {
	p := &c.p
	if p.curve.Gain != 0 {
		c.falls = c.along.Extend(c.falls, p.curve.Shape, n)
	}
	if p.clean != nil {
		c.keepWithin(n)
	}
	for i := len(c.chances); i < n; i++ {
		m := p.curve.Plateau
		if p.curve.Gain != 0 {
			m += p.curve.Gain * c.falls[i]
		}
		chance := (1 - p.fails) * c.q.single(p.noise, m, p.scale)
		if p.clean != nil {
			chance *= c.keeps[i]
		}
		c.chances = append(c.chances, chance)
	}
}

// keepWithin works out the chances to keep within the error limits up to attempt n.
func (c *counter) keepWithin(n int) {
	line, isLine := c.p.clean.(logit)
	if !isLine || math.Abs(line.start) > steepest {
		for i := len(c.keeps); i < n; i++ {
			c.keeps = append(c.keeps, c.p.clean.at(float64(i+1)))
		}
		return
	}
	against := models.Exp(-line.start) // odds at the first attempt
	c.powers = c.tables.powers.Extend(c.powers, line.slope, n)
	for _, power := range c.powers[len(c.keeps):] {
		c.keeps = append(c.keeps, 1/(1+against*power))
	}
}

// steepest is the log of odds up to which products of odds and powers keep their digits.
const steepest = 300

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
		most *= math.Max(p.clean.at(1), p.clean.at(q.Horizon))
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
