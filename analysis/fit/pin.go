package fit

import (
	"fmt"
	"math"

	"tyro/analysis/internal/numeric"
)

// A pin holds a quantity read off the curve at a value, as a Hold does a
// parameter, so that its profile likelihood can be followed. Each quantity is
// linear in the curve's levels at two attempts, which the form then takes for its
// anchors.
type pin struct {
	quantity  pinned
	value     float64
	at, other float64 // attempts
}

// pinned names what a pin holds.
type pinned string

const (
	pinnedLevel  pinned = "the level at an attempt"      // of at
	pinnedChange pinned = "the change between attempts"  // from at to other
	pinnedShare  pinned = "a level as share of an older" // of at, as a share of that of other
)

// form writes the mean with the quantity held.
func (p pin) form(through0 bool) form {
	switch {
	case through0 && p.quantity == pinnedLevel: // value·h/h(at)
		return form{k1: p.value, anchor: zeroToAt}
	case through0: // value·h/(h(other) − h(at))
		return form{k1: p.value, anchor: zeroBetween}
	case p.quantity == pinnedLevel: // value at z = 0
		return form{n: 1, k0: p.value, b1: [2]float64{1}, anchor: between}
	case p.quantity == pinnedChange: // level free, value from z = 0 to 1
		return form{n: 1, b0: [2]float64{1}, k1: p.value, anchor: between}
	default: // share·β at z = 0, β at z = 1
		return form{n: 1, b0: [2]float64{p.value}, b1: [2]float64{1 - p.value}, anchor: between}
	}
}

// through0 reports whether the curve has no plateau but 0.
func (s Spec) through0() bool {
	plateau, held := s.held("plateau")
	return !s.Family.HasPlateau() || held && plateau == 0
}

// checkPin reports pins that the family, or what else is held, leaves no room
// for.
func (s Spec) checkPin() error {
	if s.pin == nil {
		return nil
	}
	_, plateauHeld := s.held("plateau")
	room := s.Family.HasGain() && !s.Family.IsLine() && (len(s.Hold) == 0 || len(s.Hold) == 1 && plateauHeld && s.through0())
	for _, n := range []float64{s.pin.at, s.pin.other} {
		if t := s.Family.Shape().Clock(n); math.IsNaN(t) || math.IsInf(t, 0) {
			room = false
		}
	}
	if !room || s.through0() && s.pin.quantity == pinnedShare {
		return fmt.Errorf("%w: %s of the %s curve cannot be held", ErrSeries, s.pin.quantity, s.Family.Name())
	}
	return nil
}

// shapeAtShare is the shape parameter at which a curve with its plateau at 0 has
// the pinned share, for families with one.
func (f *Fitter) shapeAtShare(share float64) (Hold, bool) {
	if len(f.free) != 1 || len(f.shape.Params()) != 1 {
		return Hold{}, false
	}
	gap := func(q float64) float64 {
		s := f.fixed
		s[f.free[0]] = f.fromMoved(0, q)
		return f.shape.At(f.pinned[0], s) - share*f.shape.At(f.pinned[1], s)
	}
	if !(gap(f.lo[0]) > 0) {
		return Hold{}, false
	}
	at, ok := numeric.Root(gap, f.lo[0], f.hi[0], numeric.Tolerance{})
	if !ok {
		return Hold{}, false
	}
	return Hold{f.shape.Params()[f.free[0]].Name, f.fromMoved(0, at)}, true
}
