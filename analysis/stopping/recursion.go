package stopping

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"tyro/analysis/practice"
)

// A Recursion is a rule made ready for exact answers: every state that the
// passes so far can leave the rule in, and where a pass or a fail leads from
// there. A rule of several clauses is met at the attempt by which each has been
// met, at that attempt or before: "2 in a row and 12 in all" asks for two
// passes in a row at some time and ten more at any time. It depends on the rule alone, so one serves any number of pass
// chances. It is never changed and may be shared by goroutines.
type Recursion struct {
	Chain
	rule practice.Rule
}

const (
	// maxStates bounds the states of a rule (8 bytes each), maxSteps the states
	// times attempts of one answer, and maxUpdates the work of one mean.
	maxStates  = 300_000
	maxWindows = 60
	maxSteps   = 4_000_000_000
	maxUpdates = 20_000_000
)

// ErrTooLarge is returned for a rule, or a horizon, whose exact answer would
// take more states than the recursion may use; test with errors.Is.
var ErrTooLarge = errors.New("too large for an exact answer")

// A position is all that a rule needs to know of the passes so far: passes in
// all and in a row, each counted up to what the rule asks, which clauses on
// the last attempts have been met, and how many attempts ago the latest passes
// were, as far as the others still need it. A run that has been long enough
// stays so.
type position struct {
	all, run int
	done     uint64 // one bit a window
	ages     string // ages of the latest passes, two bytes each, latest first
}

// needs is what a rule asks, with the clauses implied by others left out: k in
// a row imply k of the last m, and those imply k in all.
type needs struct {
	all, run int
	windows  []practice.Clause
}

func needsOf(r practice.Rule) needs {
	var n needs
	most := 0
	for _, c := range r {
		switch {
		case c.InAll:
			n.all = max(n.all, c.Need)
		case c.Of > 0:
			most = max(most, c.Need)
			if !slices.Contains(n.windows, c) {
				n.windows = append(n.windows, c)
			}
		default:
			n.run = max(n.run, c.Need)
		}
	}
	n.windows = slices.DeleteFunc(n.windows, func(c practice.Clause) bool { return c.Need <= n.run })
	if n.all <= max(most, n.run) {
		n.all = 0
	}
	return n
}

// after is the position after one more attempt.
func (n needs) after(p position, passed bool) position {
	q := position{all: p.all, done: p.done}
	ages := aged(p.ages)
	if passed {
		q.all, q.run = min(p.all+1, n.all), p.run+1
		ages = append([]int{0}, ages...)
	}
	if p.run >= n.run || q.run > n.run {
		q.run = n.run
	}
	keep, reach := 0, 0
	for i, c := range n.windows {
		if len(ages) >= c.Need && ages[c.Need-1] < c.Of {
			q.done |= 1 << i
		}
		if q.done>>i&1 == 0 {
			keep, reach = max(keep, c.Need-1), max(reach, c.Of)
		}
	}
	var kept []byte
	for _, age := range ages[:min(keep, len(ages))] {
		if age+1 < reach { // it still counts at the next attempt
			kept = append(kept, byte(age>>8), byte(age))
		}
	}
	q.ages = string(kept)
	return q
}

// aged unpacks ages and adds one to each.
func aged(packed string) []int {
	out := make([]int, 0, len(packed)/2+1)
	for i := 0; i < len(packed); i += 2 {
		out = append(out, int(packed[i])<<8+int(packed[i+1])+1)
	}
	return out
}

// metAt reports whether every clause has been met.
func (n needs) metAt(p position) bool {
	return p.all >= n.all && p.run >= n.run && p.done == 1<<len(n.windows)-1
}

// patterns is the number of ways in which the last attempts can fall short of a
// window: at most Need − 1 passes in Of − 1 attempts. A rule has no fewer
// states.
func patterns(c practice.Clause) float64 {
	sum, ways := 0.0, 1.0
	for k := range c.Need {
		sum += ways
		ways *= float64(c.Of-1-k) / float64(k+1)
	}
	return sum
}

// NewRecursion lists the states of the rule; an [ErrTooLarge] where there are
// more than 300 000, as for many passes of a long window.
func NewRecursion(r practice.Rule) (*Recursion, error) {
	if len(r) == 0 {
		return nil, errors.New("a rule without clauses is never met")
	}
	n := needsOf(r)
	if len(n.windows) > maxWindows {
		return nil, fmt.Errorf("rule %q: %w: it has more than %d clauses on the last attempts", r, ErrTooLarge, maxWindows)
	}
	tooMany := fmt.Errorf("rule %q: %w: it has more than %d states; ask for fewer passes or a shorter window", r, ErrTooLarge, maxStates)
	for _, c := range n.windows {
		if patterns(c) > maxStates {
			return nil, tooMany
		}
	}
	c, ok := grow(position{}, 0, func(p position, passed bool) (position, bool) {
		q := n.after(p, passed)
		return q, n.metAt(q)
	})
	if !ok {
		return nil, tooMany
	}
	return &Recursion{c, slices.Clone(r)}, nil
}

// MetBy is the chance that the rule has been met by attempt 1, 2, …, when
// attempt n passes with chance[n-1], independently of the others given these
// chances. The result is as long as chance and exact up to rounding: the
// chances of all states are carried from attempt to attempt, nothing is drawn.
func (rec *Recursion) MetBy(chance []float64) ([]float64, error) {
	by, err := rec.Chain.MetBy(chance)
	if err != nil {
		return nil, fmt.Errorf("rule %q: %w", rec.rule, err)
	}
	return by, nil
}

// MeanAttempts is the mean number of attempts until the rule is met when every
// attempt passes with the same chance, without a horizon; +Inf when the chance
// is 0. States are eliminated one after another without a subtraction
// (Grassmann, Taksar and Heyman, 1985, Operations Research 33, 1107-1116), so
// a mean of 10^20 attempts is as exact as one of 10.
func (rec *Recursion) MeanAttempts(chance float64) (float64, error) {
	switch {
	case !(chance >= 0 && chance <= 1):
		return math.NaN(), fmt.Errorf("a pass chance of %v, expected a number from 0 to 1", chance)
	case chance == 0:
		return math.Inf(1), nil
	}
	return newElimination(rec, chance).mean()
}

// Constant is the same pass chance at each of the attempts.
func Constant(chance float64, attempts int) []float64 {
	out := make([]float64, attempts)
	for i := range out {
		out[i] = chance
	}
	return out
}
