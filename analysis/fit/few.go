package fit

import "math"

// The few steps of a refit: from the dips that parabolas found to the bottom.

// otherDips is how far above the deepest dip another may lie, in twice the log-likelihood,
// and still be followed to its bottom.
const otherDips = 6

// follow finishes the dips of a replicate's surface, deepest first.
func (f *Fitter) follow(best *solution, starts []start) {
	for i, s := range starts {
		if i > 0 && s.loss > starts[0].loss+otherDips {
			return
		}
		q := f.pointFrom(f.between(s))
		loss, ok := f.few(&q)
		f.consider(best, q, loss, ok)
	}
}

// few takes the few Newton steps that lead from a start near a minimum to it. Where they do
// not go down at once, walk takes over. It stops short where the minimum, as the surface
// promises it four times over, is out of the limit.
func (f *Fitter) few(q *point) (loss float64, converged bool) {
	if !f.summable() {
		return f.polish(q)
	}
	p := f.dim()
	var s surface
	t := f.sumsAt(*q)
	before := 0.0 // what the last step promised to save
	for range 12 {
		f.slope = t.m
		f.surfaceOf(&t, *q, &s)
		step, decrease, ok := newtonStep(&s, p, f.frozen(*q, s.grad))
		if !ok {
			break
		}
		next := f.clamp(q, step)
		saves := f.inLogLik(decrease, t.loss)
		switch {
		case saves <= enough || lastStep(saves, before):
			*q = next
			return t.loss - decrease, true
		case saves < f.trusted() && f.outOfReach(t.loss-4*decrease):
			return t.loss, true
		}
		before = saves
		then := f.sumsAt(next)
		for range 3 {
			if then.loss < t.loss {
				break
			}
			for i := range p {
				step[i] /= 2
			}
			next = f.clamp(q, step)
			then = f.sumsAt(next)
		}
		if !(then.loss < t.loss) {
			break
		}
		*q, t = next, then
	}
	return f.polish(q)
}

// enough is what a step promises to save, in log-likelihood, below which the promise is
// taken for the deed: the next step would save about its square.
const enough = 1e-4

// lastStep reports whether steps that promised to save before and then saves leave nothing to
// look for. Near the bottom each saves about the square of the one before, times a constant
// that the two tell; on a ridge without end they do not shrink like that.
func lastStep(saves, before float64) bool {
	const near, nothing = 1e-2, 1e-6
	return saves < near && saves*saves*saves <= nothing*before*before
}

// inLogLik is a small decrease of the loss in units of the log-likelihood, with the scale at
// its best.
func (f *Fitter) inLogLik(decrease, loss float64) float64 {
	if f.squares {
		return float64(len(f.y)) / 2 * decrease / loss
	}
	return decrease
}

// newtonStep is the step to the bottom of the surface; false where it has none.
func newtonStep(s *surface, p int, frozen [maxDim]bool) (step [maxDim]float64, decrease float64, ok bool) {
	step, ok = choleskySolve(&s.hess, &s.hess, &s.grad, p, frozen, 0)
	for i := range p {
		decrease -= step[i] * s.grad[i] / 2
	}
	return step, decrease, ok
}

// atEdge is the best curve with its plateau at 0 where every dip's plateau lies below that,
// and raising it from 0 would only do worse; false else.
func (f *Fitter) atEdge(starts []start) (solution, bool) {
	if f.edge == nil || f.cover != nil {
		return solution{}, false
	}
	if !f.allBelow(starts) {
		return solution{}, false
	}
	e := f.solveEdge()
	if math.IsInf(e.loss, 1) || !e.converged {
		return e, false
	}
	if t := f.edge.sumsAt(e.point); !(t.m >= 0) {
		return e, false
	}
	e.curve.Family = f.spec.Family
	return e, true
}

// allBelow reports whether the plateau of every dip worth following lies below 0.
func (f *Fitter) allBelow(starts []start) bool {
	for i, s := range starts {
		if i > 0 && s.loss > starts[0].loss+otherDips {
			break
		}
		if f.curveAt(f.pointFrom(s)).Plateau >= 0 {
			return false
		}
	}
	return len(starts) > 0
}

// coveredBy notes a fitter whose family holds all of f's curves with the plateau at 0: since
// it has a parameter less, f's own need not be looked for.
func (f *Fitter) coveredBy(other *Fitter) bool {
	if f.near == nil || f.edge == nil {
		return false
	}
	f.cover = other
	return true
}

// covers reports whether spec's curves are those of wide with its plateau at 0, and more.
func (s Spec) covers(wide Spec) bool {
	bare, ok := wide.Family.WithoutPlateau()
	return ok && bare == s.Family && s.Noise == wide.Noise && s.free() && wide.free()
}

// free reports whether nothing is held or asked of the curve beyond its family.
func (s Spec) free() bool { return len(s.Hold) == 0 && s.pin == nil && s.From == nil }

// belowCover reports whether all dips that promise found have their plateau below 0, and the
// covering family, fitted to the same series, would only do worse with its level raised: f
// has nothing to add to it.
func (f *Fitter) belowCover() bool {
	return f.cover != nil && f.allBelow(f.found) && f.cover.slope >= 0
}
