package fit

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"tyro/analysis/resample"
	"tyro/models"
)

// A Kind says how bootstrap series are made.
type Kind string

// The kinds of bootstrap for one series.
const (
	Residual   Kind = "residual"   // curve plus resampled residuals, inflated by √(n/(n−p)) and centred
	Parametric Kind = "parametric" // curve plus fresh noise, censored at the limit
	Case       Kind = "case"       // whole attempts drawn with replacement
)

// DefaultKind is residual where residuals are known and can be moved, and
// parametric where they cannot: with censoring, for passes and for counts.
func DefaultKind(s Series, noise models.Noise) Kind {
	if s.NCensored() > 0 || !noise.Additive() {
		return Parametric
	}
	return Residual
}

// A Replicate is one refitted curve.
type Replicate struct {
	Curve models.Curve
	Scale float64
	Loss  float64 // half the residual sum of squares, or minus the log-likelihood
	OK    bool
}

// Bootstrap refits the chosen curve to resampled series. With several specs
// the family is chosen anew in every replicate, so that the spread includes
// the choice.
func Bootstrap(ctx context.Context, s Series, specs []Spec, base Choice, kind Kind, sampling resample.Sampling, purpose string) ([]Replicate, error) {
	out := make([]Replicate, sampling.Count())
	err := EachReplicate(ctx, s, specs, base, kind, sampling, purpose, func() func(i int, r Replicate) {
		return func(i int, r Replicate) { out[i] = r }
	})
	return out, err
}

// EachReplicate is [Bootstrap] for those who need of every replicate only what follows from
// it: newVisit is called once a goroutine, and its visit with every replicate drawn there.
func EachReplicate(ctx context.Context, s Series, specs []Spec, base Choice, kind Kind, sampling resample.Sampling, purpose string, newVisit func() func(i int, r Replicate)) error {
	for _, spec := range specs {
		if err := spec.check(s); err != nil {
			return err
		}
	}
	if kind == Case && base.Fit.correlated {
		return fmt.Errorf("%w: attempts that depend on their neighbours cannot be drawn one by one", ErrSeries)
	}
	purpose = "fit/" + string(kind) + "/" + purpose
	return resample.Each(ctx, sampling.Count(), sampling, func() func(int) error {
		w, visit := newRefitter(s, specs, base, kind), newVisit()
		w.coverEdges()
		return func(i int) error {
			visit(i, w.draw(resample.Stream(sampling.Seed, purpose, i)))
			return nil
		}
	})
}

// A refitter owns the memory of one goroutine's bootstrap.
type refitter struct {
	series   Series
	base     Fit
	kind     Kind
	specs    []Spec
	fitters  []*Fitter
	order    []int     // of the specs: the one chosen for the series seen comes first
	alike    bool      // all specs have one noise
	promised []float64 // AICc of each spec's deepest dip as far as parabolas tell

	vicinity *vicinity
	mean     []float64 // with a restart's shift
	resid    []float64 // independent: less what neighbours say where they are correlated
	y        []float64
	x        []float64
	cens     []bool
	session  []string // of the attempts drawn, in a bootstrap of attempts
	since    []float64

	neighbour *neighbours // at the base fit's correlation; nil where it has none
	inTurn    []int       // attempts in order
	noise     []float64
	coloured  []float64
}

func newRefitter(s Series, specs []Spec, choice Choice, kind Kind) *refitter {
	base, n := choice.Fit, len(s.Attempt)
	own := func(k int) float64 { // scale of the family's own fit
		if k < len(choice.All) {
			return choice.All[k].Scale
		}
		return base.Scale
	}
	w := &refitter{series: s, base: base, kind: kind, specs: specs, alike: true, promised: make([]float64, len(specs)), y: make([]float64, n), x: make([]float64, n), cens: make([]bool, n)}
	w.mean = base.means(s)
	w.vicinity = newVicinity(base.Noise, w.mean, base.Scale, s.Limit)
	for k, spec := range specs {
		w.fitters = append(w.fitters, newFitter(spec, s).roughly().about(w.vicinity, own(k)))
		w.alike = w.alike && spec.Noise == specs[0].Noise
		if k == choice.Index {
			w.order = append([]int{k}, w.order...)
		} else {
			w.order = append(w.order, k)
		}
	}
	w.resid = base.residuals(s)
	if base.correlated {
		w.neighbour, w.inTurn = newNeighbours(s), inOrder(s.Attempt)
		w.neighbour.set(base.rho)
		w.noise, w.coloured = make([]float64, n), make([]float64, n)
	}
	centre := 0.0
	for _, e := range w.resid {
		centre += e / float64(n)
	}
	inflate := math.Sqrt(float64(n) / float64(max(1, base.DF)))
	for i := range w.resid {
		w.resid[i] = (w.resid[i] - centre) * inflate
	}
	return w
}

// coverEdges leaves out curves that a family tried holds with their plateau at 0, and puts
// that family before them.
func (w *refitter) coverEdges() {
	for k, wide := range w.specs {
		for j, spec := range w.specs {
			if !w.alike || !spec.covers(wide) || !w.fitters[k].coveredBy(w.fitters[j]) {
				continue
			}
			at := slices.Index(w.order, k)
			if other := slices.Index(w.order, j); other > at {
				w.order = slices.Insert(slices.Delete(w.order, other, other+1), at, j)
			}
		}
	}
}

func (w *refitter) draw(r *rand.Rand) Replicate {
	if !w.resample(r) {
		return Replicate{}
	}
	return w.refit()
}

// resample draws one series; false when no curve can be fitted to it.
func (w *refitter) resample(r *rand.Rand) bool {
	n := len(w.y)
	switch w.kind {
	case Residual:
		w.shiftAll(func() float64 { return w.resid[r.IntN(n)] })
	case Parametric:
		if w.neighbour != nil {
			w.shiftAll(func() float64 { return w.base.Scale * r.NormFloat64() })
			break
		}
		for i := range w.y {
			w.y[i], w.cens[i] = w.base.Noise.Quantile(r.Float64(), w.mean[i], w.base.Scale), false
			if limit := w.series.Limit; limit > 0 && w.y[i] >= limit {
				w.y[i], w.cens[i] = limit, true
			}
		}
	case Case:
		since := w.series.since()
		for i := range w.y {
			j := r.IntN(n)
			w.x[i], w.y[i], w.cens[i] = w.series.Attempt[j], w.series.Response[j], w.series.Censored != nil && w.series.Censored[j]
			if w.series.Session != nil {
				w.session = append(w.session[:i], w.series.Session[j])
			}
			if since != nil {
				w.since = append(w.since[:i], since[j])
			}
		}
		for k, spec := range w.specs {
			if _, short := tooLittle(Series{Attempt: w.x, Response: w.y, Censored: w.cens}, spec); short {
				return false
			}
			w.fitters[k] = newFitter(spec, Series{Attempt: w.x, Session: w.session, Restart: w.since}).roughly()
		}
		return true
	}
	w.vicinity.take(w.y, w.censoring())
	return true
}

// censoring is the drawn series' censoring; nil where nothing is.
func (w *refitter) censoring() []bool {
	if slices.Contains(w.cens, true) {
		return w.cens
	}
	return nil
}

// shiftAll makes responses from the mean and drawn noise, which is coloured where
// neighbours are correlated.
func (w *refitter) shiftAll(draw func() float64) {
	if w.neighbour == nil {
		for i := range w.y {
			w.y[i] = w.base.Noise.Shift(w.mean[i], draw())
		}
		return
	}
	for i := range w.noise {
		w.noise[i] = draw()
	}
	w.neighbour.colour(w.coloured, w.noise, w.inTurn)
	for i, e := range w.coloured {
		w.y[i] = w.base.Noise.Shift(w.mean[i], e)
	}
}

// refit fits every spec to the drawn responses and keeps the lowest AICc.
func (w *refitter) refit() Replicate {
	cens := w.censoring()
	exact := len(w.y)
	for _, c := range cens {
		if c {
			exact--
		}
	}
	if exact < 2 || noVariation(Series{Response: w.y}, w.specs[0]) {
		return Replicate{}
	}
	best, bestAICc := Replicate{}, math.Inf(1)
	lowest := w.promises(cens)
	for _, k := range w.order {
		f := w.fitters[k]
		promised := !math.IsInf(w.promised[k], -1)
		if w.promised[k] > lowest+f.hopeless() || promised && f.belowCover() {
			continue
		}
		if best.OK && w.alike {
			_, penalty, _ := f.criteria(0)
			f.within((penalty - bestAICc) / 2)
		}
		var sol solution
		if promised {
			sol = f.keep()
		} else {
			sol = f.solve(w.y, cens)
		}
		f.within(math.Inf(-1))
		if sol.by == nil || !sol.converged {
			continue
		}
		logLik := f.onScale(sol)
		if !w.alike {
			logLik += f.logJacobian()
		}
		_, aicc, _ := f.criteria(logLik)
		if !best.OK || aicc < bestAICc {
			best, bestAICc = Replicate{Curve: sol.curve, Scale: sol.scale, Loss: sol.loss, OK: true}, aicc
		}
	}
	return best
}

// promises notes which AICc every family comes to as far as parabolas tell, −Inf where they
// tell nothing or there is nothing to choose, and returns the lowest.
func (w *refitter) promises(cens []bool) float64 {
	lowest := math.Inf(1)
	for k, f := range w.fitters {
		w.promised[k] = math.Inf(-1)
		if !w.alike || len(w.fitters) == 1 {
			continue
		}
		if aicc, ok := f.promise(w.y, cens); ok {
			w.promised[k] = aicc
			lowest = min(lowest, aicc)
		}
	}
	return lowest
}

// NewFitter prepares a spec for many responses at the same attempts. What can be
// worked out from the attempts alone is worked out here, so that a refit costs
// little and allocates nothing.
func NewFitter(spec Spec, attempts []float64) (*Fitter, error) {
	probe := Series{Attempt: attempts, Response: make([]float64, len(attempts))}
	if err := spec.checkParts(); err != nil {
		return nil, err
	}
	for i := range probe.Response {
		if !models.IsPassFail(spec.Noise) || i%2 == 0 { // passes alone have no curve
			probe.Response[i] = 1
		}
	}
	if err := spec.check(probe); err != nil {
		return nil, err
	}
	if _, short := tooLittle(probe, spec); short {
		return nil, fmt.Errorf("%w: %d attempts are too few for the %s curve", ErrSeries, len(attempts), spec.Family.Name())
	}
	f := newFitter(spec, Series{Attempt: attempts})
	f.steady = len(f.free) == 0 && f.edge == nil
	return f, nil
}

// Refit finds the best curve for responses at the fitter's attempts; censored may
// be nil. It gives the curve alone: for standard errors, verdicts and warnings
// use [One]. The responses must be usable, as [One] checks, and as many as the
// attempts; otherwise it panics.
func (f *Fitter) Refit(responses []float64, censored []bool) Replicate {
	sol := f.solve(responses, censored)
	if sol.by == nil {
		return Replicate{}
	}
	return Replicate{Curve: sol.curve, Scale: sol.scale, Loss: sol.loss, OK: sol.converged}
}
