package stopping

import (
	"fmt"
	"maps"
	"slices"
)

// An elimination is a chain being shrunk to its first state. By state: the
// chances of moving to each other state, the chance that the rule is met, and
// the mean number of attempts that one visit costs.
type elimination struct {
	rec  *Recursion
	to   []map[int32]float64
	from []map[int32]bool // the states with a move to this one
	met  []float64
	cost []float64
}

func newElimination(rec *Recursion, chance float64) *elimination {
	n := rec.States()
	e := &elimination{rec, make([]map[int32]float64, n), make([]map[int32]bool, n), make([]float64, n), make([]float64, n)}
	for s := range n {
		e.to[s], e.from[s], e.cost[s] = map[int32]float64{}, map[int32]bool{}, 1
	}
	for s := range n {
		e.move(int32(s), rec.pass[s], chance)
		e.move(int32(s), rec.fail[s], 1-chance)
	}
	return e
}

func (e *elimination) move(s, to int32, chance float64) {
	switch {
	case chance == 0:
	case to == met:
		e.met[s] += chance
	default:
		e.to[s][to] += chance
		e.from[to][s] = true
	}
}

// mean eliminates every state but the first, the last found first.
func (e *elimination) mean() (float64, error) {
	updates := 0
	for s := int32(len(e.cost) - 1); s > 0; s-- {
		updates += len(e.from[s]) * (len(e.to[s]) + 1)
		if updates > maxUpdates {
			return 0, fmt.Errorf("rule %q, mean attempts: %w: it has %d states", e.rec.rule, ErrTooLarge, len(e.cost))
		}
		e.eliminate(s)
	}
	return e.cost[0] / e.met[0], nil
}

// eliminate sends every visit to s on to where it leads.
func (e *elimination) eliminate(s int32) {
	delete(e.to[s], s)
	delete(e.from[s], s)
	targets := slices.Sorted(maps.Keys(e.to[s])) // an order, so that sums are the same every time
	leaving := e.met[s]
	for _, j := range targets {
		leaving += e.to[s][j]
		delete(e.from[j], s)
	}
	if leaving == 0 {
		return // never entered: every state reached can be left while the chance is above 0
	}
	for i := range e.from[s] {
		share := e.to[i][s] / leaving
		delete(e.to[i], s)
		for _, j := range targets {
			e.move(i, j, share*e.to[s][j])
		}
		e.met[i] += share * e.met[s]
		e.cost[i] += share * e.cost[s]
	}
	e.to[s], e.from[s] = nil, nil
}
