package plan

import (
	"context"
	"fmt"
	"maps"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"tyro/analysis/monitor"
)

// A Smallest is the smallest number of trainees whose power reaches a target.
type Smallest struct {
	Attempts int
	Target   float64
	Found    bool
	Why      string // in words, where none was found
	Row      Row    // of the size found
	// Lower and Upper are within how many trainees the smallest size lies, as far as the
	// simulation tells, at 95 %; 0 and the most looked at where it does not.
	Lower, Upper int
	Looked       []Row // every size looked at, by rising number of trainees
	Spent        int   // studies in all that the answer rests on
	ByFormula    int   // the size by the closed form; 0 where there is none, or none up to the most looked at
}

// The search.
const (
	firstLook  = 40    // studies before a size may be judged
	clearLevel = 0.999 // of the interval that must leave out the target for a size to be judged early
)

// Smallest looks for the smallest size between two numbers of trainees. Sizes that are
// clearly too small or too large are judged from few studies; up to so many are spent on
// each of those near the answer. The number of trainees is then read off a probit curve in
// the square root of the trainees through all sizes looked at, the form that a normal
// test's power has, and that size is simulated in full.
func (f *File) Smallest(ctx context.Context, attempts int, target float64, least, most, studies int, w Work) (Smallest, error) {
	out := Smallest{Attempts: attempts, Target: target}
	if !(target > 0 && target < 1) || least < 2 || most < least {
		return out, refuse("a power of %v with %d to %d trainees", target, least, most)
	}
	if n, ok := f.Design.At(least, attempts).ByFormula(target, most); ok {
		out.ByFormula = n
	}
	s := &searching{File: f, ctx: ctx, w: w, attempts: attempts, target: target, studies: studies, sizes: map[int]int{}}
	if err := s.bracket(least, most); err != nil {
		return out, err
	}
	out.Looked = s.rows()
	for _, r := range out.Looked {
		out.Spent += r.Studies
	}
	if s.high > most {
		last := s.row(most)
		out.Why = fmt.Sprintf("no size up to %d trainees reaches it (with %d, %d of %d studies gave it); --most-trainees looks further", most, most, last.Gave, last.Studies)
		if last.Refused {
			out.Why = fmt.Sprintf("with %d trainees %d of %d studies failed", most, last.Failed, last.Studies)
		}
		return out, nil
	}
	n := s.high
	c, ok := probit(out.Looked)
	out.Lower, out.Upper = least, most
	if ok {
		root, lower, upper := c.reaches(target)
		out.Lower, out.Upper = clampInt(math.Ceil(lower-1e-9), least, most), clampInt(math.Ceil(upper-1e-9), least, most)
		if k := clampInt(math.Ceil(root-1e-9), least, most); k >= s.low/2 && k <= 2*s.high {
			n = k
		}
	}
	if err := s.look(n, true); err != nil {
		return out, err
	}
	out.Found, out.Row, out.Looked, out.Spent = true, s.row(n), s.rows(), 0
	for _, r := range out.Looked {
		out.Spent += r.Studies
	}
	if out.Row.Refused {
		out.Found, out.Why = false, fmt.Sprintf("with %d trainees %d of %d studies failed", n, out.Row.Failed, out.Row.Studies)
	}
	return out, nil
}

func clampInt(v float64, least, most int) int {
	switch {
	case !(v > float64(least)):
		return least
	case v > float64(most):
		return most
	}
	return int(v)
}

// A searching is one search under way.
type searching struct {
	*File
	ctx         context.Context
	w           Work
	attempts    int
	target      float64
	studies     int
	sizes       map[int]int // studies looked at, by trainees
	done, until int         // studies simulated, and those when the size looked at is done
	low, high   int         // does not reach the target; reaches it
}

// bracket closes in on the size at which the target is reached: by doubling, then halving
// the distance.
func (s *searching) bracket(least, most int) error {
	n := s.start(least, most)
	s.low, s.high = least-1, most+1
	for s.high-s.low > 1 {
		if err := s.look(n, false); err != nil {
			return err
		}
		if r := s.row(n); !r.Refused && r.Power >= s.target {
			s.high = n
		} else {
			s.low = n
		}
		switch {
		case s.high > most && s.low == most:
			return nil
		case s.high > most:
			n = min(2*s.low, most)
		case s.low < least:
			n = max(least, s.high/2)
		case s.near():
			return nil
		default:
			n = (s.low + s.high) / 2
		}
	}
	return nil
}

// near reports whether the ends are as close as the simulation can tell apart.
func (s *searching) near() bool {
	return float64(s.high-s.low) <= math.Max(1, 0.04*float64(s.high))
}

// start is where a closed form says the target is reached; without one a usual size.
func (s *searching) start(least, most int) int {
	d := s.Design.At(least, s.attempts)
	for n := least; n <= most; n += max(1, n/8) {
		q, err := d.At(n, s.attempts).ready()
		if err != nil {
			continue
		}
		f := q.formula()
		if f == nil || math.IsNaN(f.Power) && !(d.Width > 0) {
			break
		}
		if d.Width > 0 && f.Width <= d.Width || d.Width == 0 && f.Power >= s.target {
			return n
		}
	}
	return clampInt(24, least, most)
}

// look simulates a size until it is clear on which side of the target its power lies, or as
// many studies as are asked for are spent.
func (s *searching) look(n int, whole bool) error {
	for m := min(firstLook, s.studies); ; m = min(2*m, s.studies) {
		if whole {
			m = s.studies
		}
		m = max(m, s.sizes[n])
		s.until = s.done
		for _, run := range s.cell(n, s.attempts).missing(m) {
			s.until += run[1] - run[0]
		}
		if err := s.fill(s.ctx, Size{n, s.attempts}, m, s.w, s.tell); err != nil {
			return err
		}
		s.sizes[n] = m
		r := s.row(n)
		b := monitor.FixedTime(r.Gave, r.Studies, clearLevel)
		if m == s.studies || b.Upper < s.target || b.Lower > s.target && float64(r.Failed) <= MaxFailed/2*float64(r.Studies) || float64(r.Failed) > 4*MaxFailed*float64(r.Studies) {
			return nil
		}
	}
}

// tell shows how far the size that is looked at is done; how much is left of a search
// nobody knows.
func (s *searching) tell(n int) {
	if s.done += n; s.w.Progress != nil {
		s.w.Progress(s.done, max(s.done, s.until))
	}
}

func (s *searching) row(n int) Row { return s.Row(Size{n, s.attempts}, s.sizes[n]) }

// rows are the sizes looked at, by rising trainees.
func (s *searching) rows() []Row {
	var out []Row
	for _, n := range slices.Sorted(maps.Keys(s.sizes)) {
		out = append(out, s.row(n))
	}
	return out
}

// A probitCurve is a power of Φ(a + b·√trainees), with the covariance of a and b.
type probitCurve struct{ a, b, aa, ab, bb float64 }

// probit fits the curve to the shares of sizes by maximum likelihood (Finney, 1971, Probit
// Analysis, chapter 4). False where fewer than two sizes, or sizes all on one side, say
// nothing of the slope.
func probit(rows []Row) (probitCurve, bool) {
	var c probitCurve
	sizes := 0
	for _, r := range rows {
		if r.Refused || r.Studies == 0 {
			continue
		}
		sizes++
	}
	if sizes < 2 {
		return c, false
	}
	normal := distuv.UnitNormal
	c.a, c.b = -1.96, 0.5
	for range 200 {
		var ga, gb, haa, hab, hbb float64
		for _, r := range rows {
			if r.Refused || r.Studies == 0 {
				continue
			}
			x := math.Sqrt(float64(r.Trainees))
			eta := math.Max(-6, math.Min(6, c.a+c.b*x))
			p, density := normal.CDF(eta), normal.Prob(eta)
			weight := float64(r.Studies) * density * density / (p * (1 - p))
			score := float64(r.Studies) * (float64(r.Gave)/float64(r.Studies) - p) * density / (p * (1 - p))
			ga, gb = ga+score, gb+score*x
			haa, hab, hbb = haa+weight, hab+weight*x, hbb+weight*x*x
		}
		det := haa*hbb - hab*hab
		if !(det > 1e-9*haa*hbb) {
			return c, false
		}
		da, db := (hbb*ga-hab*gb)/det, (haa*gb-hab*ga)/det
		step := math.Min(1, 1/math.Max(math.Abs(da), math.Max(math.Abs(db)*4, 1e-300)))
		c.a, c.b = c.a+step*da, c.b+step*db
		c.aa, c.ab, c.bb = hbb/det, -hab/det, haa/det
		if math.Abs(da)+math.Abs(db) < 1e-9 {
			break
		}
	}
	return c, c.b > 0 && c.b/math.Sqrt(c.bb) > 2
}

// reaches is the number of trainees at which the curve reaches a target, with ends at 95 %
// by the delta method on the square root.
func (c probitCurve) reaches(target float64) (n, lower, upper float64) {
	x := (distuv.UnitNormal.Quantile(target) - c.a) / c.b
	se := math.Sqrt(math.Max(0, c.aa+2*x*c.ab+x*x*c.bb)) / c.b
	square := func(v float64) float64 { v = math.Max(0, v); return v * v }
	return square(x), square(x - zOf(simulationLevel)*se), square(x + zOf(simulationLevel)*se)
}
