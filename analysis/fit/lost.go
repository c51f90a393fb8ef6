package fit

import "math"

// Curves that cannot win among those of a replicate are not followed to the end: at first by
// what parabolas tell of each, and then by what the steps of a search promise.

// within makes refits stop as soon as they cannot reach the log-likelihood given, on the
// additive scale: the curve that they then have does not reach it either.
func (f *Fitter) within(logLik float64) {
	f.wanted = logLik
	if f.edge != nil {
		f.edge.wanted = logLik
	}
}

// outOfReach reports whether a loss gives a lower log-likelihood than is wanted.
func (f *Fitter) outOfReach(loss float64) bool {
	return !math.IsInf(f.wanted, -1) && f.onScale(solution{loss: loss}) < f.wanted
}

// trusted is how much log-likelihood a step may promise to save and four times as much bound
// what there is to find: less the more a curve can do. Timeouts let a curve that falls from
// anywhere to a plateau improve without end.
func (f *Fitter) trusted() float64 {
	switch {
	case len(f.free) == 0:
		return 8
	case f.form.n == 1:
		return 2
	case !f.censored(f.earliest):
		return 0.5
	}
	return 0
}

// promise looks for the dips of a drawn series and says which AICc the deepest comes to, up to
// a constant and as far as parabolas tell; false where they tell nothing.
func (f *Fitter) promise(y []float64, cens []bool) (aicc float64, ok bool) {
	f.take(y, cens)
	if !f.nearby {
		return 0, false
	}
	f.found = f.starts(f.dips[:])
	if len(f.found) == 0 {
		return 0, false
	}
	f.found[0] = f.between(f.found[0])
	n := float64(len(y))
	_, aicc, _ = f.criteria(-n / 2 * math.Log((f.near.own+f.found[0].loss)/n))
	return aicc, !math.IsNaN(aicc)
}

// keep fits the curve whose dips promise found.
func (f *Fitter) keep() solution { return f.solveFrom(f.found, f.dips[:]) }

// hopeless is how much higher than another's a curve's AICc may be, as far as parabolas tell,
// before it is taken to have lost: they are wrong by a small part of that, but by more where
// the first attempt timed out, since a curve that starts ever higher does ever better.
func (f *Fitter) hopeless() float64 {
	if f.censored(f.earliest) {
		return 20
	}
	return 6
}
