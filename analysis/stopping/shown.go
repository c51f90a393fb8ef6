package stopping

import (
	"fmt"

	"gonum.org/v1/gonum/mathext"
	"sort"
)

// A ShownChance stops practice once the trainee's own attempts show a pass chance of
// at least Target with the stated confidence: with s passes in the w attempts
// looked at, when
//
//	P(p > Target | s, w) ≥ Confidence,  p ~ Beta(s + 1/2, w − s + 1/2),
//
// the posterior from Jeffreys' prior (Brown, Cai and DasGupta, 2001, Statistical
// Science 16, 101-133). The attempts looked at are the last Last, or all there are
// as long as there are fewer; all of them always with Last 0. A pass chance that
// rises with practice is underestimated by old attempts, the more the more of them
// are looked at. It is an estimate of the chance now; no curve is fitted and
// nothing is projected ahead. Once Last attempts have been made it asks for Needed
// of the last Last.
type ShownChance struct {
	Target, Confidence float64
	Last               int
}

// mostLast bounds the attempts looked at, whose every pattern is a state.
const mostLast = 16

// Check says what is wrong with the settings, if anything.
func (e ShownChance) Check() error {
	switch {
	case !(e.Target > 0 && e.Target < 1):
		return fmt.Errorf("a pass chance of %g to be shown: expected a number between 0 and 1", e.Target)
	case !(e.Confidence > 0 && e.Confidence < 1):
		return fmt.Errorf("a confidence of %g: expected a number between 0 and 1", e.Confidence)
	case e.Last < 0 || e.Last > mostLast:
		return fmt.Errorf("the last %d attempts: expected at most %d, or all of them", e.Last, mostLast)
	case e.Last > 0 && e.Needed(e.Last) > e.Last:
		return fmt.Errorf("the last %d attempts can never show it: with all of them passed the confidence is %.3g", e.Last, e.confidence(e.Last, e.Last))
	}
	return nil
}

// String implements Policy.
func (e ShownChance) String() string {
	s := fmt.Sprintf("chance %g with confidence %g", e.Target, e.Confidence)
	if e.Last > 0 {
		s += fmt.Sprintf(" over last %d", e.Last)
	}
	return s
}

// confidence is the posterior chance that the pass chance is above the target.
func (e ShownChance) confidence(passes, of int) float64 {
	return 1 - mathext.RegIncBeta(float64(passes)+0.5, float64(of-passes)+0.5, e.Target)
}

// Needed is the fewest passes among so many attempts looked at that stop practice;
// one more than the attempts where none do.
func (e ShownChance) Needed(of int) int {
	// The confidence rises with the passes.
	return sort.Search(of+1, func(passes int) bool { return e.confidence(passes, of) >= e.Confidence })
}

// seen is what an estimate needs to know of the attempts looked at: which of them
// were passes, the latest in the lowest bit, or only how many.
type seen struct {
	attempts, passes int32
	pattern          uint32
}

func (e ShownChance) Chain(attempts int) (Chain, error) {
	if err := e.Check(); err != nil {
		return Chain{}, err
	}
	most := attempts
	if e.Last > 0 {
		most = e.Last
	}
	needed := make([]int32, most+1)
	for w := range needed {
		needed[w] = int32(e.Needed(w))
	}
	out, ok := grow(seen{}, attempts, func(s seen, passed bool) (seen, bool) {
		if e.Last > 0 {
			s.pattern <<= 1
			if int(s.attempts) == e.Last {
				s.passes -= int32(s.pattern >> e.Last & 1)
				s.pattern &= 1<<e.Last - 1
				s.attempts--
			}
		}
		s.attempts++
		if passed {
			s.passes++
			if e.Last > 0 {
				s.pattern |= 1
			}
		}
		return s, s.passes >= needed[s.attempts]
	})
	if !ok {
		return Chain{}, fmt.Errorf("%s over %d attempts: %w: it has more than %d states", e, attempts, ErrTooLarge, maxStates)
	}
	return out, nil
}

// MetBy implements Policy.
func (e ShownChance) MetBy(chance []float64) ([]float64, error) {
	if len(chance) == 0 {
		return nil, nil
	}
	c, err := e.Chain(len(chance))
	if err != nil {
		return nil, err
	}
	return c.MetBy(chance)
}

// FirstMet implements Policy.
func (e ShownChance) FirstMet(passes []bool) int {
	for n := range passes {
		from := 0
		if e.Last > 0 {
			from = max(0, n+1-e.Last)
		}
		s := 0
		for _, p := range passes[from : n+1] {
			if p {
				s++
			}
		}
		if e.confidence(s, n+1-from) >= e.Confidence {
			return n + 1
		}
	}
	return 0
}
