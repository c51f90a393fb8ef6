package retention

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"tyro/analysis"
	"tyro/analysis/internal/numeric"
	"tyro/analysis/resample"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

// A Course is one curve over the calendar, learning within sessions and loss between them:
// an attempt of a trainee is expected at
//
//	plateau + gain · (left + lost)
//
// left is the share of the gain that is still to be learnt: 1 at the very first attempt, and
// smaller by the share Learnt after each. lost is the share that breaks took and that is not
// back yet: a break of some days takes 1 − kept of all that the trainee then masters, kept
// falling with the days by Shape, and every attempt brings the share Regained of it back.
// (What is lost is relearnt at a rate of its own: Ebbinghaus, 1885, Über das Gedächtnis,
// chapter 4.) Every trainee has a plateau and a gain of their own; what the trainees share is
// found by least squares about these (variable projection; Golub and Pereyra, 1973, SIAM
// Journal on Numerical Analysis 10, 413-432), and intervals are expanded percentiles of a
// bootstrap of whole trainees. Those of what breaks take leave out "nothing" only where a test
// of its own does, whose level does not hang on the search for how fast a loss comes back.
type Course struct {
	Shape    string
	Trainees int
	Attempts int
	Learnt   Ends // share of what is left to learn that each attempt takes away
	Regained Ends // share of what is lost that each attempt brings back; NaN where it cannot be told
	// Rate is of Shape, and HalfLife the days until half of what is mastered is lost, +Inf
	// beyond ten times the longest break; NaN where breaks are of one length.
	Rate, HalfLife Ends
	Kept           []KeptAfter // of every length of break
	// Plateau and Gain are means over trainees, Gain from the plateau to the first attempt;
	// their spreads between trainees are without the noise of attempts. NaN where the
	// attempts do not show the plateau.
	Plateau, Gain       Ends
	PlateauSD, GainSD   float64
	Residual            float64 // standard deviation of attempts about their trainee's curve
	RSS                 float64
	PlateauShown, Loses bool // Loses: the loss in the longest kind of break is told from none
	Expected            []Point
}

// KeptAfter is the share of what is mastered that is kept after a break of some days.
type KeptAfter struct {
	Days float64
	Ends
}

// leastCourse is the fewest attempts of a trainee from which a course is read.
const leastCourse = 4

// A walker is what a course needs of one trainee: the values of every session, NaN where
// there is none, and the days before it, 0 where not known.
type walker struct {
	days   []float64
	kinds  []int // of the break before every session; −1 for none
	values [][]float64
	y      []float64 // those known, in order, less their mean
	mean   float64
}

// A path is the three numbers that all trainees share, as logarithms of rates: of learning
// an attempt, of regaining an attempt, of forgetting a day.
type path [3]float64

// A pace is what a path makes of the share still to learn, and of the share lost, in an attempt,
// and what is lost of the rest in a break, by the kinds of break.
type pace struct {
	learns, regains float64
	loses           []float64
}

// paceAt works a path out.
func (f *calendarFit) paceAt(p path, to *pace) {
	to.learns, to.regains = math.Exp(-math.Exp(p[0])), math.Exp(-math.Exp(p[1]))
	rate := math.Exp(p[2])
	for k, days := range f.breaks {
		to.loses[k] = 1 - retained(f.shape, rate, days)
	}
}

// load fills the share of the gain that is not there at every known attempt.
func (w *walker) load(p *pace, out []float64) {
	learns, regains := p.learns, p.regains
	left, lost, k := 1.0, 0.0, 0
	for s, values := range w.values {
		if w.kinds[s] >= 0 {
			lost += (1 - left - lost) * p.loses[w.kinds[s]]
		}
		for _, v := range values {
			if !math.IsNaN(v) {
				out[k] = left + lost
				k++
			}
			left *= learns
			lost *= regains
		}
	}
}

// A line is a trainee's own plateau and gain beside a load.
type line struct{ plateau, gain, plateauVar, gainVar float64 } // variances in units of the residual's

// own fits a trainee's line and leaves the residuals.
func (w *walker) own(load, residual []float64) line {
	n := float64(len(w.y))
	mh := floats.Sum(load) / n
	hh := floats.Dot(load, load) - n*mh*mh
	l := line{plateau: w.mean, plateauVar: 1 / n}
	if hh > 1e-12 {
		l.gain, l.gainVar = floats.Dot(load, w.y)/hh, 1/hh
		l.plateau, l.plateauVar = w.mean-l.gain*mh, 1/n+mh*mh/hh
	}
	floats.AddScaledTo(residual, w.y, -l.gain, load)
	floats.AddConst(l.gain*mh, residual)
	return l
}

// A calendarFit searches the path of some trainees.
type calendarFit struct {
	shape     string
	walkers   []walker
	breaks    []float64 // lengths, by kind
	low, high path
	free      []int // of the path
	begin     path  // of draws
	begun     []share
	load      []float64
	at, up    []float64
	steps     [3][]float64
	paces     [4]pace // memory for those of a path, and of a step along each of its numbers
	normal    *mat.SymDense
	right     []float64
}

// A share is what one trainee adds to the sum of squares and to the equations of a step.
type share struct {
	rss    float64
	right  [3]float64
	normal [3][3]float64
}

func (f *calendarFit) scratch() *calendarFit {
	g := *f
	longest := 0
	for _, w := range f.walkers {
		longest = max(longest, len(w.y))
	}
	g.load, g.at, g.up = make([]float64, longest), make([]float64, longest), make([]float64, longest)
	for j := range g.steps {
		g.steps[j] = make([]float64, longest)
	}
	for j := range g.paces {
		g.paces[j].loses = make([]float64, len(f.breaks))
	}
	g.normal, g.right = mat.NewSymDense(len(f.free), nil), make([]float64, len(f.free))
	return &g
}

// beginAt works out what every trainee adds where all draws begin.
func (f *calendarFit) beginAt(p path) {
	f.begin, f.begun = p, make([]share, len(f.walkers))
	f.pacesAt(p)
	for i := range f.walkers {
		f.begun[i] = f.shareOf(&f.walkers[i])
	}
}

// rss is the sum of squares of trainees, each counted so often.
func (f *calendarFit) rss(p path, times []float64) float64 {
	known := f.begun != nil && p == f.begin
	if !known {
		f.paceAt(p, &f.paces[0])
	}
	sum := 0.0
	for i := range f.walkers {
		switch {
		case times[i] == 0:
		case known:
			sum += times[i] * f.begun[i].rss
		default:
			sum += times[i] * f.squares(&f.walkers[i], &f.paces[0])
		}
	}
	return sum
}

// squares is a trainee's own sum of squares, and leaves the residuals.
func (f *calendarFit) squares(w *walker, p *pace) float64 {
	n := len(w.y)
	w.load(p, f.load[:n])
	w.own(f.load[:n], f.at[:n])
	return floats.Dot(f.at[:n], f.at[:n])
}

// step is the difference by which slopes are taken.
const step = 1e-4

// pacesAt works out a path and a step along each of its numbers.
func (f *calendarFit) pacesAt(p path) {
	f.paceAt(p, &f.paces[0])
	for a, j := range f.free {
		q := p
		q[j] += step
		f.paceAt(q, &f.paces[1+a])
	}
}

// shareOf is what a trainee adds at the paces worked out.
func (f *calendarFit) shareOf(w *walker) (s share) {
	n := len(w.y)
	s.rss = f.squares(w, &f.paces[0])
	at, up := f.at[:n], f.up[:n]
	for a := range f.free {
		w.load(&f.paces[1+a], f.load[:n])
		w.own(f.load[:n], up)
		steps := f.steps[a][:n]
		floats.SubTo(steps, up, at)
		floats.Scale(1/step, steps)
		s.right[a] = -floats.Dot(steps, at)
		for b := range a + 1 {
			s.normal[a][b] = floats.Dot(steps, f.steps[b][:n])
		}
	}
	return s
}

// derive fills the normal equations of a step of Gauss and Newton, by differences.
func (f *calendarFit) derive(p path, times []float64) {
	known := f.begun != nil && p == f.begin
	if !known {
		f.pacesAt(p)
	}
	var sum share
	for i := range f.walkers {
		if times[i] == 0 {
			continue
		}
		var s share
		if known {
			s = f.begun[i]
		} else {
			s = f.shareOf(&f.walkers[i])
		}
		for a := range f.free {
			sum.right[a] += times[i] * s.right[a]
			for b := range a + 1 {
				sum.normal[a][b] += times[i] * s.normal[a][b]
			}
		}
	}
	for a := range f.free {
		f.right[a] = sum.right[a]
		for b := range a + 1 {
			f.normal.SetSym(a, b, sum.normal[a][b])
		}
	}
}

// descend walks from a path to the lowest sum of squares (Marquardt, 1963, Journal of the
// Society for Industrial and Applied Mathematics 11, 431-441).
func (f *calendarFit) descend(p path, times []float64, most int, tolerance float64) (path, float64) {
	now, damping := f.rss(p, times), 1e-3
	for range most {
		f.derive(p, times)
		better := false
		for range 8 {
			damped := mat.NewSymDense(len(f.free), nil)
			damped.CopySym(f.normal)
			for a := range f.free {
				damped.SetSym(a, a, damped.At(a, a)*(1+damping)+1e-9*now)
			}
			step, ok := numeric.Solve(damped, f.right)
			if !ok {
				damping *= 10
				continue
			}
			q := p
			for a, j := range f.free {
				q[j] = math.Min(math.Max(p[j]+math.Max(-1, math.Min(1, step[a])), f.low[j]), f.high[j])
			}
			if v := f.rss(q, times); v < now {
				better = now-v > tolerance*now
				p, now, damping = q, v, math.Max(damping/10, 1e-9)
				break
			}
			damping *= 10
		}
		if !better {
			break
		}
	}
	// So little forgetting that it cannot be told from none is none: there the sum of squares
	// is flat, and a walk ends early.
	none := p
	none[2] = f.low[2]
	if v := f.rss(none, times); v <= now*(1+tolerance) {
		return none, v
	}
	return p, now
}

// search looks over the whole box.
func (f *calendarFit) search(times []float64) (path, float64) {
	best, least := path{}, math.Inf(1)
	const few = 6
	for a := range few {
		for b := range few {
			for c := range few {
				var p path
				for j, k := range []int{a, b, c} {
					p[j] = f.low[j] + (f.high[j]-f.low[j])*(float64(k)+0.5)/few
				}
				if v := f.rss(p, times); v < least {
					best, least = p, v
				}
			}
		}
	}
	return f.descend(best, times, 60, 1e-9)
}

// Courses fits one curve over the calendar: by both shapes of forgetting where breaks are of
// two lengths or more, otherwise by one, which then says what is kept after such a break and
// no more.
func Courses(ctx context.Context, trainees []Trainee, o Options) ([]Course, error) {
	level, err := analysis.Level(o.Level)
	if err != nil {
		return nil, err
	}
	kinds, err := o.kinds(trainees)
	if err != nil {
		return nil, err
	}
	var days []float64 // of every kind, the middle one, which describe takes too
	longest := 0.0
	for _, k := range kinds {
		days = append(days, k.days[len(k.days)/2])
		longest = math.Max(longest, k.days[len(k.days)-1])
	}
	var people []Trainee
	f := &calendarFit{breaks: breaksOf(trainees)}
	after, relearning, within := 0, 0, 0
	for _, t := range trainees {
		w := walkerOf(t, f.breaks)
		if len(w.y) < leastCourse {
			continue
		}
		f.walkers, people = append(f.walkers, w), append(people, t)
		broke, more := false, false
		for s := range w.days {
			broke = broke || w.days[s] > 0 && known(w.values[s]) > 0
			more = more || w.days[s] > 0 && known(w.values[s]) > 1
		}
		if broke {
			after++
		}
		if more {
			relearning++
		}
		if len(w.values) > 0 && known(w.values[0]) > 2 {
			within++
		}
	}
	if after < 3 || within < 3 {
		return nil, fmt.Errorf("%w: one curve over the calendar needs 3 trainees with attempts after a break, and 3 with 3 attempts before the first; there are %d and %d", ErrRetention, after, within)
	}
	f.low = path{math.Log(0.01), math.Log(0.05), math.Log(1e-3 / longest)}
	f.high = path{math.Log(5), math.Log(10), math.Log(5)}
	f.free = []int{0, 1, 2}
	if relearning < 3 {
		f.free = []int{0, 2}
	}
	shapes := []string{Exponential, Power}
	if len(kinds) < 2 {
		shapes = shapes[:1]
	}
	var out []Course
	for _, shape := range shapes {
		g := *f
		g.shape = shape
		if shape == Power {
			g.low[2] = math.Log(1e-3 / math.Log1p(longest))
			g.high[2] = math.Log(8)
		}
		c, err := g.course(ctx, people, o, days, longest, level)
		if err != nil {
			return nil, err
		}
		out = append(out, c)
	}
	return out, nil
}

func known(values []float64) int {
	n := 0
	for _, v := range values {
		if !math.IsNaN(v) {
			n++
		}
	}
	return n
}

// breaksOf lists the lengths of breaks, each once.
func breaksOf(trainees []Trainee) []float64 {
	var out []float64
	for _, t := range trainees {
		for _, s := range t.Sessions {
			if s.Gap > 0 {
				out = append(out, s.Gap)
			}
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

func walkerOf(t Trainee, breaks []float64) walker {
	var w walker
	for _, s := range t.Sessions {
		var values []float64
		for _, a := range s.Attempts {
			values = append(values, a.Value)
			if !math.IsNaN(a.Value) {
				w.y = append(w.y, a.Value)
				w.mean += a.Value
			}
		}
		w.values = append(w.values, values)
		gap, kind := 0.0, -1
		if s.Gap > 0 {
			gap = s.Gap
			kind, _ = slices.BinarySearch(breaks, gap)
		}
		w.days, w.kinds = append(w.days, gap), append(w.kinds, kind)
	}
	w.mean /= float64(len(w.y))
	for k, v := range w.y {
		w.y[k] = settled(v-w.mean, w.mean)
	}
	return w
}

// told are the numbers of one set of people.
type told struct {
	path
	plateau, gain float64
}

// course fits one shape, and again to samples of whole trainees.
func (f *calendarFit) course(ctx context.Context, people []Trainee, o Options, days []float64, longest, level float64) (Course, error) {
	once := make([]float64, len(f.walkers))
	for i := range once {
		once[i] = 1
	}
	g := f.scratch()
	best, rss := g.search(once)
	start := best // draws begin inside the box
	for j := range start {
		if start[j] < f.low[j]+1e-3 || start[j] > f.high[j]-1e-3 {
			start[j] = math.Min(math.Max(start[j], f.low[j]+1), f.high[j]-1)
		}
	}
	g.beginAt(start)
	sampling := o.Sampling
	sampling.Progress = nil
	draws, err := resample.Replicate(ctx, sampling, "retention/course/"+f.shape, func() func(*rand.Rand) told {
		h := f.scratch()
		h.begin, h.begun = g.begin, g.begun
		members, times := make([]int, len(f.walkers)), make([]float64, len(f.walkers))
		return func(r *rand.Rand) told {
			clear(times)
			for _, i := range resample.Indices(r, members, len(f.walkers)) {
				times[i]++
			}
			p, _ := h.descend(start, times, 8, 1e-5)
			return h.tell(p, times)
		}
	})
	if err != nil {
		return Course{}, err
	}
	n := float64(len(f.walkers))
	wide := resample.ExpandedLevel(level, n-1, math.Sqrt(n/(n-1)))
	whole := g.tell(best, once)
	// edges are values at an end of what is looked at: all draws there tell no interval.
	ends := func(of func(told) float64, edges ...float64) Ends {
		values := make([]float64, len(draws))
		for k, d := range draws {
			values[k] = of(d)
		}
		iv := resample.PercentileInterval(values, wide)
		if iv.Refused() || iv.Lower == iv.Upper && slices.Contains(edges, iv.Lower) {
			return Ends{of(whole), math.NaN(), math.NaN()}
		}
		return Ends{of(whole), iv.Lower, iv.Upper}
	}
	nan := math.NaN()
	unknown := Ends{nan, nan, nan}
	c := Course{Shape: f.shape, Trainees: len(f.walkers), RSS: rss, Regained: unknown, Rate: unknown, HalfLife: unknown, Plateau: unknown, Gain: unknown, PlateauSD: nan, GainSD: nan}
	for _, w := range f.walkers {
		c.Attempts += len(w.y)
	}
	df := float64(c.Attempts - 2*len(f.walkers) - len(f.free))
	c.Residual = math.Sqrt(rss / math.Max(df, 1))
	learnt := func(log float64) float64 { return 1 - math.Exp(-math.Exp(log)) }
	c.Learnt = ends(func(d told) float64 { return learnt(d.path[0]) }, learnt(f.low[0]), learnt(f.high[0]))
	if len(f.free) == 3 {
		c.Regained = ends(func(d told) float64 {
			switch { // at the ends of what is looked at: nothing, and all
			case d.path[1] < f.low[1]+1e-3:
				return 0
			case d.path[1] > f.high[1]-1e-3:
				return 1
			}
			return learnt(d.path[1])
		}, 0, 1)
	}
	// A rate at the low end of what is looked at is none.
	rate := func(d told) float64 {
		if d.path[2] < f.low[2]+1e-3 {
			return 0
		}
		return math.Exp(d.path[2])
	}
	for _, day := range days {
		c.Kept = append(c.Kept, KeptAfter{day, ends(func(d told) float64 { return retained(f.shape, rate(d), day) }, 1)})
	}
	nothing, err := f.none(ctx, sampling)
	if err != nil {
		return Course{}, err
	}
	if nothing > 1-level { // the intervals leave room for no loss
		for k := range c.Kept {
			if !math.IsNaN(c.Kept[k].Upper) {
				c.Kept[k].Upper = 1
			}
		}
	}
	c.Loses = c.Kept[len(c.Kept)-1].Upper < 1
	if len(days) > 1 {
		c.Rate = ends(rate, 0)
		c.HalfLife = ends(func(d told) float64 { return halfLife(f.shape, rate(d), 10*longest) })
		if math.IsNaN(c.Rate.Lower) {
			c.HalfLife.Lower, c.HalfLife.Upper = nan, nan
		} else if !c.Loses {
			c.Rate.Lower, c.HalfLife.Upper = 0, math.Inf(1)
		}
	}
	gain := ends(func(d told) float64 { return d.gain })
	if o.Lower && !(gain.Lower > 0) || !o.Lower && !(gain.Upper < 0) {
		return c, fmt.Errorf("%w: one curve over the calendar needs something that was learnt: along it trainees did not get better beyond chance", ErrRetention)
	}
	most := 0
	for _, w := range f.walkers {
		most = max(most, len(w.y))
	}
	if c.PlateauShown = math.Pow(1-c.Learnt.Lower, float64(most-1)) < 0.5; c.PlateauShown {
		c.Plateau, c.Gain = ends(func(d told) float64 { return d.plateau }), gain
		c.PlateauSD, c.GainSD = g.spreads(best, c.Residual)
	}
	c.Expected = g.expected(people, best)
	return c, nil
}

// tell reads the means of plateaus and gains, each trainee counted so often.
func (f *calendarFit) tell(p path, times []float64) told {
	out, n := told{path: p}, 0.0
	f.paceAt(p, &f.paces[0])
	for i := range f.walkers {
		if times[i] == 0 {
			continue
		}
		w := &f.walkers[i]
		w.load(&f.paces[0], f.load[:len(w.y)])
		l := w.own(f.load[:len(w.y)], f.at[:len(w.y)])
		out.plateau, out.gain, n = out.plateau+times[i]*l.plateau, out.gain+times[i]*l.gain, n+times[i]
	}
	out.plateau, out.gain = out.plateau/n, out.gain/n
	return out
}

// spreads are the standard deviations of plateaus and gains between trainees, less what the
// noise of attempts adds.
func (f *calendarFit) spreads(p path, residual float64) (plateau, gain float64) {
	var plateaus, gains []float64
	noiseP, noiseG := 0.0, 0.0
	n := float64(len(f.walkers))
	f.paceAt(p, &f.paces[0])
	for i := range f.walkers {
		w := &f.walkers[i]
		w.load(&f.paces[0], f.load[:len(w.y)])
		l := w.own(f.load[:len(w.y)], f.at[:len(w.y)])
		plateaus, gains = append(plateaus, l.plateau), append(gains, l.gain)
		noiseP, noiseG = noiseP+l.plateauVar*residual*residual/n, noiseG+l.gainVar*residual*residual/n
	}
	sd := func(vs []float64, noise float64) float64 {
		m := meanOf(vs, 0.95)
		return math.Sqrt(math.Max(0, m.SD*m.SD-noise))
	}
	return sd(plateaus, noiseP), sd(gains, noiseG)
}

// expected is the curve at the attempts of [Calendar]: the mean of what is expected of the
// trainees who made them.
func (f *calendarFit) expected(people []Trainee, p path) []Point {
	fitted := make([]Trainee, len(people))
	f.paceAt(p, &f.paces[0])
	for i, t := range people {
		w := &f.walkers[i]
		w.load(&f.paces[0], f.load[:len(w.y)])
		l, k := w.own(f.load[:len(w.y)], f.at[:len(w.y)]), 0
		fitted[i] = Trainee{ID: t.ID, Arm: t.Arm}
		for _, s := range t.Sessions {
			e := Session{Gap: s.Gap}
			for _, a := range s.Attempts {
				if !math.IsNaN(a.Value) {
					a.Value = l.plateau + l.gain*f.load[k]
					k++
				}
				e.Attempts = append(e.Attempts, a)
			}
			fitted[i].Sessions = append(fitted[i].Sessions, e)
		}
	}
	return Calendar(fitted, 0)
}
