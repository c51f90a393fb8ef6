package fit

import (
	"fmt"

	"tyro/models"
)

// A Quantity is something read off a curve in which its likelihood can be
// profiled: a level, or what two levels say of each other.
type Quantity struct{ held pin }

// LevelAt is the level of the curve at an attempt, in the unit of the response.
func LevelAt(attempt float64) Quantity {
	return Quantity{pin{quantity: pinnedLevel, at: attempt}}
}

// Change is the level at one attempt less that at an earlier one.
func Change(from, to float64) Quantity {
	return Quantity{pin{quantity: pinnedChange, at: from, other: to}}
}

// ShareOf is the level at one attempt as a share of that at another.
func ShareOf(attempt, older float64) Quantity {
	return Quantity{pin{quantity: pinnedShare, at: attempt, other: older}}
}

// of reads the quantity off a curve.
func (q Quantity) of(mean func(float64) float64) func(models.Curve) float64 {
	at, other := q.held.at, q.held.other
	switch q.held.quantity {
	case pinnedLevel:
		return func(c models.Curve) float64 { return mean(c.At(at)) }
	case pinnedChange:
		return func(c models.Curve) float64 { return mean(c.At(other)) - mean(c.At(at)) }
	}
	return func(c models.Curve) float64 { return mean(c.At(at)) / mean(c.At(other)) }
}

// ProfileOf is the profile likelihood interval of a quantity of the caller's own,
// at the fit's level: it needs no standard error, follows the likelihood's real
// shape and is open where the data do not bound the quantity. The fit must be of
// the series by the spec and usable. A quantity that the curve or what is held
// leaves no room for is an error, and so is a change or share where the curve runs
// on a logit or log scale.
func (f Fit) ProfileOf(s Series, spec Spec, q Quantity) (Estimate, error) {
	if err := spec.check(s); err != nil {
		return Estimate{}, err
	}
	p := q.held
	if p.quantity == pinnedLevel { // the other anchor: anywhere else
		if p.other = f.First; p.other == p.at {
			p.other = f.Last
		}
	}
	p.value = 1
	probe := spec
	probe.pin = &p
	switch err := probe.checkPin(); {
	case err != nil:
		return Estimate{}, err
	case !f.Status.Usable() || f.DF <= 0:
		return Estimate{}, fmt.Errorf("%w: the fit is %s with %d degrees of freedom, so nothing can be profiled", ErrSeries, f.Status, f.DF)
	case p.at == p.other:
		return Estimate{}, fmt.Errorf("%w: %s needs two attempts, not %v twice", ErrSeries, p.quantity, p.at)
	case p.quantity != pinnedLevel && !f.Noise.Additive():
		return Estimate{}, fmt.Errorf("%w: %s cannot be held where the curve runs on another scale than the response", ErrSeries, p.quantity)
	}
	return f.profilePin(s, spec, f.Delta(string(p.quantity), false, q.of(f.Noise.Mean)), p), nil
}
