package fit

import (
	"fmt"
	"slices"

	"tyro/models"
)

// Where the first attempts all ran into the limit, nothing says how far beyond it the curve
// starts: ever higher starts with ever higher rates describe the attempts a little better
// each time, and no search comes to an end. The level after the first attempts and the
// standing of the family among others are known all the same, so that such a curve counts as
// found, and what is not known of it is withheld.

const (
	// littleLeft is the log-likelihood that a step may still promise where a search that goes
	// on for ever is taken to be where it leads.
	littleLeft = 0.01
	// farOff is how many times the highest response the start must then be.
	farOff = 2
)

// runsOff reports whether a search that did not end was on its way to ever higher starts and
// has hardly anything left to find.
func (f *Fitter) runsOff(q point, c models.Curve) bool {
	first := f.earliest
	if f.squares || !f.censored(first) || !(c.At(f.source.Attempt[first]) > farOff*slices.Max(f.y)) {
		return false
	}
	var s surface
	f.surfaceAt(q, &s)
	_, promise, ok := solveStep(&s, f.dim(), f.frozen(q, s.grad), 1e-9)
	return ok && promise < littleLeft
}

// judgeStart withholds the start where early timeouts leave it open: where the search ran off,
// or where twice the drop after the first attempt would do as well.
func (f *Fitter) judgeStart(out *Fit, sol solution) {
	if !f.squares && f.censored(f.earliest) && !sol.open && sol.by.form.anchor == lastToFirst && sol.by.form.n == 2 {
		higher := sol.point
		higher[1] *= 2
		sol.open = sol.by.lossAt(higher)-sol.loss < littleLeft
	}
	if !sol.open {
		return
	}
	out.Status, out.StartOpen = AtBound, true
	out.warn("start-not-identified", fmt.Sprintf("starting level and rate not identified: attempt %g ran into the limit, and the later ones do not show how far beyond it the %s curve starts", out.First, f.spec.Family.Name()))
}
