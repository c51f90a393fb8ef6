package fit

import (
	"math"
	"slices"

	"tyro/models"
)

// maxDim is the largest number of parameters moved at once: two linear, two
// shape, a restart, a scale.
const maxDim = 2 + models.MaxShape + 2

// A Fitter fits one spec to many responses seen at the same attempts, as a
// bootstrap does. It owns scratch memory: use one per goroutine.
type Fitter struct {
	spec  Spec
	form  form
	shape models.Shape
	log   bool          // the response is relative to the curve
	decay bool          // the shape is exp(−rate·t)
	falls *models.Falls // of it, at the clock times; nil for others

	clock               []float64  // clock time of each attempt
	first, last, origin float64    // clock times of the anchors
	earliest, latest    int        // positions of the first and the last attempt
	pinned              [2]float64 // and of a pin's attempts

	free   []int                    // shape parameters that move
	fixed  models.Shapes            // the values of those that do not
	onLog  [models.MaxShape]bool    // moved on the log scale
	lo, hi [models.MaxShape]float64 // bounds, on the scale moved

	grid      []models.Shapes // candidate shape values
	gridZ     [][]float64     // z at each attempt for each candidate
	gridS     [][2]float64    // sums of z and z² over the attempts
	shapeDims [2]int          // the grid's extent in each moved parameter

	bounded bool    // the plateau may not go below 0
	edge    *Fitter // the same with the plateau held there

	steady bool // z is filled and stands for good: no shape parameter moves, and nobody holds one elsewhere
	rough  bool // refits of a bootstrap need no last digits

	near   *nearGrid // the curve that refitted series are drawn from; nil where it is not known
	nearby bool      // and the responses taken are searched with its help
	dips   [maxStarts]start
	found  []start // of them, in the series that promise looked at
	cover  *Fitter // of a family tried too, which holds all curves at the edge with a parameter less; nil for none
	slope  float64 // of the loss in the curve's level, where few last looked
	wanted float64 // log-likelihood below which nobody wants the curve

	y       []float64
	cens    []bool
	working []float64 // responses brought to the scale of the curve, for the grid
	squares bool      // least squares: exact responses, normal or lognormal noise
	scaled  bool      // the scale is a parameter of its own
	// gaussian: normal or lognormal noise with a scale of its own, whose exact
	// responses have their loss written out here, for speed.
	gaussian bool

	source    Series      // attempts, sessions and restarts
	restart   []float64   // how much of the restart's shift each attempt has; nil without one
	neighbour *neighbours // who follows whom, where neighbours may be correlated; nil otherwise
	whitened  bool        // and the responses taken allow it

	buffer  []float64
	centred []float64
	z       []float64
	z1      [models.MaxShape][]float64
	z2      [3][]float64
	still   []float64 // 0 at each attempt: derivatives of z where no shape parameter moves
	a, d    jet       // anchor a and distance b − a, with derivatives
	beta    [][2]float64
	losses  []float64
}

// A jet is a number with first and second derivatives in the moved shape
// parameters.
type jet struct {
	v  float64
	d1 [2]float64
	d2 [3]float64
}

// pairs lists the positions of second derivatives 00, 01, 11.
var pairs = [3][2]int{{0, 0}, {0, 1}, {1, 1}}

// newFitter prepares a spec for the attempts and sessions of a series; the spec
// was checked.
func newFitter(spec Spec, series Series) *Fitter {
	attempts := series.Attempt
	f := &Fitter{spec: spec, form: newForm(spec), shape: spec.Family.Shape(), wanted: math.Inf(-1)}
	f.source = Series{Attempt: series.Attempt, Session: series.Session, Restart: series.Restart}
	f.restart = spec.restartOf(series)
	if spec.Correlated {
		f.neighbour = newNeighbours(series)
	}
	f.log = onLog(spec.Noise)
	f.decay = models.IsDecay(f.shape)
	n := len(attempts)
	f.clock = make([]float64, n)
	for i, x := range attempts {
		f.clock[i] = f.shape.Clock(x)
	}
	if f.decay {
		f.falls = models.NewFalls(f.clock)
	}
	sorted := slices.Clone(f.clock)
	slices.Sort(sorted)
	f.first, f.last = sorted[0], sorted[n-1]
	f.earliest, f.latest = slices.Index(f.clock, f.first), slices.Index(f.clock, f.last)
	f.origin = f.shape.Clock(spec.Family.Origin())
	if spec.pin != nil {
		f.pinned = [2]float64{f.shape.Clock(spec.pin.at), f.shape.Clock(spec.pin.other)}
	}
	f.z, f.still = make([]float64, n), make([]float64, n)
	search := f.shape.Search(sorted)
	if f.form.n == 1 && f.form.k1 == 0 && f.form.b1 == [2]float64{} {
		search = nil // flat: no shape parameter matters
	}
	axes := make([][]float64, 0, models.MaxShape)
	for j, p := range f.shape.Params() {
		if v, held := spec.held(p.Name); held {
			f.fixed[j] = v
			continue
		}
		if j >= len(search) {
			continue
		}
		k := len(f.free)
		f.free = append(f.free, j)
		f.onLog[k] = p.Positive
		f.lo[k], f.hi[k] = f.toMoved(k, search[j][0]), f.toMoved(k, search[j][len(search[j])-1])
		axes = append(axes, search[j])
		f.z1[k] = make([]float64, n)
	}
	for k := range f.z2 {
		if pairs[k][1] < len(f.free) {
			f.z2[k] = make([]float64, n)
		}
	}
	f.makeGrid(axes)
	if _, held := spec.held("plateau"); spec.positive() && spec.Family.HasPlateau() && spec.Family.HasGain() && !held {
		f.bounded = true
		if edge, ok := spec.atEdge(f); ok {
			f.edge = newFitter(edge, f.source)
		}
	}
	return f
}

// atEdge is the same spec with the plateau held at 0, where the plateau may not go
// below; false where nothing could be fitted so.
func (s Spec) atEdge(f *Fitter) (Spec, bool) {
	edge := s
	edge.From, edge.Hold = nil, append(slices.Clone(s.Hold), Hold{"plateau", 0})
	if s.pin != nil && s.pin.quantity == pinnedShare {
		shape, ok := f.shapeAtShare(s.pin.value)
		if !ok {
			return edge, false
		}
		edge.pin, edge.Hold = nil, append(edge.Hold, shape)
	}
	return edge, edge.check(Series{}) == nil
}

// rehold changes the values of what is held; the same things must be held.
func (f *Fitter) rehold(spec Spec) {
	f.spec, f.form = spec, newForm(spec)
	moved := false
	for j, p := range f.shape.Params() {
		if v, held := spec.held(p.Name); held && v != f.fixed[j] {
			f.fixed[j], moved = v, true
			for g := range f.grid {
				f.grid[g][j] = v
			}
		}
	}
	if moved {
		f.fillGrid()
	}
	if !f.bounded {
		return
	}
	edge, ok := spec.atEdge(f)
	switch {
	case !ok:
		f.edge = nil
	case f.edge == nil || spec.pin != nil && spec.pin.quantity == pinnedShare:
		f.edge = newFitter(edge, f.source)
	default:
		f.edge.rehold(edge)
	}
}

func (f *Fitter) makeGrid(axes [][]float64) {
	f.shapeDims = [2]int{1, 1}
	for k, axis := range axes {
		f.shapeDims[k] = len(axis)
	}
	for i := range f.shapeDims[0] {
		for j := range f.shapeDims[1] {
			s := f.fixed
			for k, at := range [2]int{i, j} {
				if k < len(axes) {
					s[f.free[k]] = axes[k][at]
				}
			}
			f.grid = append(f.grid, s)
			f.gridZ = append(f.gridZ, make([]float64, len(f.clock)))
		}
	}
	f.gridS = make([][2]float64, len(f.grid))
	f.beta = make([][2]float64, len(f.grid))
	f.losses = make([]float64, len(f.grid))
	f.fillGrid()
}

// fillGrid evaluates z at every candidate.
func (f *Fitter) fillGrid() {
	for g, s := range f.grid {
		f.fill(s, false)
		copy(f.gridZ[g], f.z)
		var sums [2]float64
		for _, z := range f.z {
			sums[0] += z
			sums[1] += z * z
		}
		f.gridS[g] = sums
	}
}

func (f *Fitter) toMoved(k int, v float64) float64 {
	if f.onLog[k] {
		return models.Log(v)
	}
	return v
}

func (f *Fitter) fromMoved(k int, v float64) float64 {
	if f.onLog[k] {
		return models.Exp(v)
	}
	return v
}

// fill evaluates z, and its derivatives in the moved parameters when asked; z of a steady
// fitter stands for good.
func (f *Fitter) fill(s models.Shapes, derivs bool) {
	if f.steady {
		return
	}
	if !derivs {
		f.fillValues(s)
		return
	}
	f.anchors(s)
	for i, t := range f.clock {
		h := f.jetAt(t, s)
		z := (h.v - f.a.v) / f.d.v
		f.z[i] = z
		// From z·d = h − a: z_j = (h_j − a_j − z·d_j)/d, and once more.
		var zj [2]float64
		for k := range f.free {
			zj[k] = (h.d1[k] - f.a.d1[k] - z*f.d.d1[k]) / f.d.v
			f.z1[k][i] = zj[k]
		}
		for q, jk := range pairs {
			if f.z2[q] != nil {
				j, k := jk[0], jk[1]
				f.z2[q][i] = (h.d2[q] - f.a.d2[q] - zj[j]*f.d.d1[k] - zj[k]*f.d.d1[j] - z*f.d.d2[q]) / f.d.v
			}
		}
	}
}

// fillValues evaluates z alone.
func (f *Fitter) fillValues(s models.Shapes) {
	at := f.shape.At
	if f.decay {
		f.z = f.falls.Extend(f.z[:0], s[0], len(f.clock))
		at = func(t float64, s models.Shapes) float64 { return f.fallAt(t, s[0]) }
	} else {
		for i, t := range f.clock {
			f.z[i] = at(t, s)
		}
	}
	a, d := f.anchorValues(s, at)
	f.a, f.d = jet{v: a}, jet{v: d}
	inverse := 1 / d
	for i, h := range f.z {
		f.z[i] = (h - a) * inverse
	}
}

// fallAt is exp(−rate·t) with z filled by it: at the first and the last attempt the very value
// that stands there, so that the curve passes through its anchors to the last digit.
func (f *Fitter) fallAt(t, rate float64) float64 {
	switch t {
	case f.first:
		return f.z[f.earliest]
	case f.last:
		return f.z[f.latest]
	}
	return models.Exp(-rate * t)
}

// anchors evaluates a and d = b − a for the form, with derivatives.
func (f *Fitter) anchors(s models.Shapes) {
	zero, unit, less := f.anchorTimes()
	f.a, f.d = jet{}, jet{v: 1}
	if !math.IsNaN(zero) {
		f.a = f.jetAt(zero, s)
	}
	if !math.IsNaN(unit) {
		f.d = f.jetAt(unit, s)
	}
	if !math.IsNaN(less) {
		f.d = f.d.minus(f.jetAt(less, s))
	}
	if f.d.v == 0 {
		f.d = jet{v: 1} // a single attempt: the gain has nothing to stand on
	}
}

// anchorValues is anchors without derivatives.
func (f *Fitter) anchorValues(s models.Shapes, at func(t float64, s models.Shapes) float64) (a, d float64) {
	zero, unit, less := f.anchorTimes()
	d = 1
	if !math.IsNaN(zero) {
		a = at(zero, s)
	}
	if !math.IsNaN(unit) {
		d = at(unit, s)
	}
	switch {
	case less == zero:
		d -= a
	case !math.IsNaN(less):
		d -= at(less, s)
	}
	if d == 0 {
		d = 1
	}
	return a, d
}

// anchorTimes lists the clock times of a, and of the two values of h whose difference is d;
// NaN for those that the form has not.
func (f *Fitter) anchorTimes() (zero, unit, less float64) {
	none := math.NaN()
	switch f.form.anchor {
	case lastToFirst:
		return f.last, f.first, f.last
	case zeroToFirst:
		return none, f.first, none
	case zeroToStart:
		return none, f.origin, none
	case fromStart:
		return f.origin, none, none
	case between:
		return f.pinned[0], f.pinned[1], f.pinned[0]
	case zeroBetween:
		return none, f.pinned[1], f.pinned[0]
	case zeroToAt:
		return none, f.pinned[0], none
	}
	return none, none, none
}

func (a jet) minus(b jet) jet {
	a.v -= b.v
	for i := range a.d1 {
		a.d1[i] -= b.d1[i]
	}
	for i := range a.d2 {
		a.d2[i] -= b.d2[i]
	}
	return a
}

// jetAt is h at clock time t with derivatives in the moved parameters.
func (f *Fitter) jetAt(t float64, s models.Shapes) jet {
	h, d1, d2 := f.shape.Derivs(t, s)
	out := jet{v: h}
	for k, j := range f.free {
		out.d1[k] = d1[j]
		if f.onLog[k] {
			out.d1[k] *= s[j]
		}
	}
	for q, jk := range pairs {
		j, k := jk[0], jk[1]
		if k >= len(f.free) {
			continue
		}
		v := d2[f.free[j]+f.free[k]]
		if f.onLog[j] {
			v *= s[f.free[j]]
		}
		if f.onLog[k] {
			v *= s[f.free[k]]
		}
		if j == k && f.onLog[j] {
			v += out.d1[j]
		}
		out.d2[q] = v
	}
	return out
}

// roughly makes the fitter and its edge content with fewer digits.
func (f *Fitter) roughly() *Fitter {
	f.rough = true
	if f.edge != nil {
		f.edge.roughly()
	}
	return f
}

// dim is the number of parameters moved at once.
func (f *Fitter) dim() int {
	p := f.coefficients()
	if f.scaled {
		p++
	}
	return p
}

// coefficients counts the free parameters of the mean: of the curve, and the
// restart.
func (f *Fitter) coefficients() int {
	if f.restart != nil {
		return f.restartAt() + 1
	}
	return f.form.n + len(f.free)
}

// restartAt is the restart's position among the moved parameters.
func (f *Fitter) restartAt() int { return f.form.n + len(f.free) }
