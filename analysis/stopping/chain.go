package stopping

import (
	"fmt"
	"math"
)

// A Chain is a way to stop practice that looks at passes and misses alone: every state
// they can leave it in, and where the next pass or miss leads. State 0 is the
// start. It is never changed and may be shared by goroutines.
type Chain struct {
	pass, fail []int32 // next state by state; met where practice stops
	reach      []int32 // the last state that one attempt leads to from this state or an earlier one
}

const met int32 = -1

// grow lists the states that next can reach from start within the given number of
// attempts (0: any number), those reached sooner first. A state reached at the last
// of these attempts leads nowhere: nobody leaves it. It is false where there are
// more than maxStates.
func grow[S comparable](start S, attempts int, next func(s S, passed bool) (S, bool)) (Chain, bool) {
	var c Chain
	states, depth := []S{start}, []int{0}
	index := map[S]int32{start: 0}
	find := func(from int, passed bool) int32 {
		s, stops := next(states[from], passed)
		if stops {
			return met
		}
		i, known := index[s]
		if !known {
			i = int32(len(states))
			index[s] = i
			states, depth = append(states, s), append(depth, depth[from]+1)
		}
		return i
	}
	for i := 0; i < len(states); i++ {
		if len(states) > maxStates {
			return Chain{}, false
		}
		if attempts > 0 && depth[i] == attempts {
			c.pass, c.fail = append(c.pass, int32(i)), append(c.fail, int32(i))
			continue
		}
		c.pass = append(c.pass, find(i, true))
		c.fail = append(c.fail, find(i, false))
	}
	furthest := int32(0)
	for i := range c.pass {
		furthest = max(furthest, c.pass[i], c.fail[i])
		c.reach = append(c.reach, furthest)
	}
	return c, true
}

// States is the number of states in which practice goes on.
func (c *Chain) States() int { return len(c.pass) }

// MetBy is the chance of having stopped by attempt 1, 2, …: the chances of all states
// are carried from attempt to attempt.
func (c *Chain) MetBy(chance []float64) ([]float64, error) {
	if c.States()*len(chance) > maxSteps {
		return nil, fmt.Errorf("%w: %d states over %d attempts", ErrTooLarge, c.States(), len(chance))
	}
	out := make([]float64, len(chance))
	w := c.Begin()
	for n, p := range chance {
		if !(p >= 0 && p <= 1) {
			return nil, fmt.Errorf("attempt %d: a pass chance of %v, expected a number from 0 to 1", n+1, p)
		}
		out[n] = w.Step(p)
	}
	return out, nil
}

// A Walk is the chance of being in each state of a chain after some attempts.
type Walk struct {
	c *Chain
	// The chance of state s stands at s + 1, so that what has met stands at 0 and is added
	// up like the rest.
	now, then []float64
	last      int32 // no state after this one has been reached
	total     float64
}

// Begin is a walk before the first attempt.
func (c *Chain) Begin() *Walk {
	w := &Walk{c: c, now: make([]float64, c.States()+1), then: make([]float64, c.States()+1)}
	w.now[1] = 1
	return w
}

// Reset puts the walk back before the first attempt.
func (w *Walk) Reset() {
	clear(w.now[:w.last+2])
	w.now[1], w.last, w.total = 1, 0, 0
}

// Resume puts the walk where another walk of the same chain stands.
func (w *Walk) Resume(at *Walk) {
	clear(w.now[:w.last+2])
	copy(w.now, at.now[:at.last+2])
	w.last, w.total = at.last, at.total
}

// Met is the chance of having stopped so far.
func (w *Walk) Met() float64 { return math.Min(w.total, 1) }

// Step makes one attempt, which passes with chance p, and gives the chance of
// having stopped by then.
func (w *Walk) Step(p float64) float64 {
	n := int(w.last) + 1
	now, then := w.now[1:n+1], w.then
	pass, fail := w.c.pass[:n], w.c.fail[:n]
	for s, mass := range now {
		now[s] = 0
		passed := mass * p
		then[pass[s]+1] += passed
		then[fail[s]+1] += mass - passed
	}
	w.total += then[0]
	then[0] = 0
	w.now, w.then, w.last = then, w.now, w.c.reach[w.last]
	return w.Met()
}
