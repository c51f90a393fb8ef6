// Package retention says what is kept of a skill after a break: how much worse the first
// attempt after it is than the level before, how soon that is made good, how it grows
// with the length of the break, and when to refresh.
//
// # Method
//
// The trainee is the unit: every trainee gives one loss a kind of break, the first attempt
// after it less the mean of the last attempts of the session before it, and a trainee who had several
// such breaks gives their mean. Means have t intervals (trainees as random effects, with
// one number each); shares of a gain are ratios of means with a bootstrap of trainees.
// Only the first attempt after a break is retention: later ones are relearning, and are
// told apart (savings; Ebbinghaus, 1885, Über das Gedächtnis, chapter 4).
//
// With breaks of two lengths or more the share of the gain that is kept is described as
// falling exponentially, e^(−rate·days), or as a power, (1 + days)^(−rate) (Wickelgren,
// 1974, Memory and Cognition 2, 775-780; Rubin and Wenzel, 1996, Psychological Review
// 103, 734-760). One length tells neither from the other, nor a half-life.
//
// One curve over the calendar (Course) ties learning within sessions, loss between them and
// regaining together.
//
// # Units
//
// Values are on the scale on which they are compared: logarithms of times. Days are
// calendar days.
//
// # Limits
//
// Nothing is known of practice between sessions: the numbers hold for trainees as they
// lived. What intervals cover is in testdata/coverage/retention.
package retention

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"tyro/analysis"
	"tyro/analysis/resample"
)

// ErrRetention is wrapped by every error of data that say nothing about retention.
var ErrRetention = errors.New("retention cannot be worked out")

// An Attempt is one attempt of a session.
type Attempt struct {
	Value  float64 // on the scale of comparison; NaN for a hard fail
	Passes bool    // meets the standard; false without one
	Capped bool    // a timeout: Value is the limit, and the true one is worse
}

// A Session is what a trainee did without a break.
type Session struct {
	Gap      float64 // days since the session before; NaN in the first, and where not known
	Attempts []Attempt
}

// A Trainee is one person's sessions in order.
type Trainee struct {
	ID, Arm  string
	Sessions []Session
}

// Options are the choices; the zero value of a field means its default.
type Options struct {
	Before   int     // last attempts before the break whose mean is the level; 0 means 5
	Lower    bool    // smaller values are better
	Standard bool    // attempts were judged against a standard
	Level    float64 // of intervals; 0 means 0.95
	Sampling resample.Sampling
}

// DefaultBefore is how many attempts make up the level before a break.
const DefaultBefore = 5

// A Mean is a mean over trainees with its interval by t.
type Mean struct {
	N                          int
	Estimate, SE, Lower, Upper float64
	SD                         float64 // between trainees, noise of attempts included
}

// Ends are an estimate with an interval from a bootstrap of trainees, or of a share.
type Ends struct{ Estimate, Lower, Upper float64 }

// A Gap is one kind of break: of those at most a quarter longer than the shortest.
type Gap struct {
	Days     float64 // the middle one
	Shortest float64
	Longest  float64
	Trainees int
	Loss     Mean   // first attempt after the break less the level before
	Later    []Mean // the same of the second attempt after the break, the third and so on
	Kept     Ends   // share of the gain (from the very first attempt to the level before) that the first attempt after shows
	Still    Ends   // share of those who passed at the end before, whose first attempt after passes
	StillOf  int    // how many passed at the end before
	Regained Mean   // attempts after the break until one is at the level before
	NotYet   int    // breaks after which that session did not come back to it
	Savings  Ends   // 1 − attempts to regain / attempts it took at first
	// Bounds says that some of those in Regained had not come back when their session ended, and
	// count with its attempts: Regained is more than its estimate and Savings at most its own,
	// both without an interval.
	Bounds bool
	// Slope is how much values moved from attempt to attempt over those that make up the
	// level before: where they were still getting better, that level lies behind, and the
	// loss looks smaller than it is.
	Slope     Mean
	CappedFew int  // trainees whose first attempt after was stopped at the limit: their loss is larger
	FailedFew int  // first attempts after that were hard fails: they have no measure and are in no loss
	Gain      Mean // from the very first attempt to the level before
}

// rounding is what numbers differ by that are the same but for the last digits.
const rounding = 1e-12

// GainKnown reports whether there was a gain before the break to lose: its interval, where
// there is one, lies on the better side. Without a gain, shares of it mean nothing.
func (g Gap) GainKnown(lower bool) bool {
	if math.IsNaN(g.Gain.Lower) {
		return lower && g.Gain.Estimate < 0 || !lower && g.Gain.Estimate > 0
	}
	return lower && g.Gain.Upper < 0 || !lower && g.Gain.Lower > 0
}

// A losing is one trainee's numbers of one kind of break.
type losing struct {
	before, start  float64   // levels
	slope          float64   // over the attempts of the level before; NaN with one
	after          []float64 // value of each attempt after the break, NaN where not seen
	passed, still  bool      // at the end before; at the first attempt after
	regained       float64   // attempts until at the level again
	notYet, capped bool
	first          float64 // attempts it took at first
	days           float64
}

// Gaps describes every kind of break.
func Gaps(ctx context.Context, trainees []Trainee, o Options) ([]Gap, error) {
	kinds, err := o.kinds(trainees)
	if err != nil {
		return nil, err
	}
	var out []Gap
	for _, k := range kinds {
		g, err := o.describe(ctx, k)
		if err != nil {
			return nil, err
		}
		out = append(out, g)
	}
	return out, nil
}

func (o Options) before() int {
	if o.Before == 0 {
		return DefaultBefore
	}
	return o.Before
}

// kind gathers the breaks of about one length, by trainee.
type kind struct {
	days   []float64
	losses [][]losing // by trainee
}

// alike is how much longer than the shortest of its kind a break may be.
const alike = 1.25

// kinds sorts the breaks by length: a new kind begins where a break is more than a quarter
// longer than the shortest of the kind, not than the one before it in order, by which breaks of
// all lengths would come together where there are many between.
func (o Options) kinds(trainees []Trainee) ([]kind, error) {
	type seen struct {
		trainee int
		losing
	}
	var all []seen
	for i, t := range trainees {
		for s := 1; s < len(t.Sessions); s++ {
			if l, ok := o.losing(t, s); ok {
				all = append(all, seen{i, l})
			}
		}
	}
	if len(all) == 0 {
		return nil, fmt.Errorf("%w: no trainee has attempts after a break of known length (name the dates, or the sessions with their gaps)", ErrRetention)
	}
	slices.SortStableFunc(all, func(a, b seen) int { return cmp.Compare(a.days, b.days) })
	var out []kind
	for k, l := range all {
		if k == 0 || l.days > alike*out[len(out)-1].days[0] {
			out = append(out, kind{losses: make([][]losing, len(trainees))})
		}
		now := &out[len(out)-1]
		now.days = append(now.days, l.days)
		now.losses[l.trainee] = append(now.losses[l.trainee], l.losing)
	}
	return out, nil
}

// losing reads one break; false where its length, a level before or the first attempt
// after is not known.
func (o Options) losing(t Trainee, s int) (losing, bool) {
	gap := t.Sessions[s].Gap
	if !(gap > 0) || len(t.Sessions[s].Attempts) == 0 {
		return losing{}, false
	}
	l := losing{days: gap, start: math.NaN()}
	var sofar []Attempt
	for _, session := range t.Sessions[:s] {
		sofar = append(sofar, session.Attempts...)
	}
	last := o.lastOf(t.Sessions[s-1])
	if len(last) == 0 {
		return losing{}, false
	}
	l.before, l.slope = average(last), slopeOf(last)
	for _, a := range sofar {
		if !math.IsNaN(a.Value) {
			l.start = a.Value
			break
		}
	}
	l.passed = sofar[len(sofar)-1].Passes
	slack := rounding * math.Abs(l.before)
	reached := func(v float64) bool { return o.Lower && v <= l.before+slack || !o.Lower && v >= l.before-slack }
	l.first = math.NaN()
	for k, a := range sofar {
		if reached(a.Value) {
			l.first = float64(k + 1)
			break
		}
	}
	now := t.Sessions[s].Attempts
	l.still, l.capped = now[0].Passes, now[0].Capped
	l.regained, l.notYet = float64(len(now)), true
	for k, a := range now {
		l.after = append(l.after, a.Value)
		if l.notYet && reached(a.Value) {
			l.regained, l.notYet = float64(k+1), false
		}
	}
	return l, true
}

// lastOf are the values of a session's last attempts. The first one after a break of its
// own shows what was lost in that break, and is left out where there are others.
func (o Options) lastOf(s Session) []float64 {
	attempts := s.Attempts
	if s.Gap > 0 && len(attempts) > 1 {
		attempts = attempts[1:]
	}
	var last []float64
	for k := len(attempts) - 1; k >= 0 && len(last) < o.before(); k-- {
		if v := attempts[k].Value; !math.IsNaN(v) {
			last = append(last, v)
		}
	}
	return last
}

// slopeOf is the least squares slope of values given last first.
func slopeOf(last []float64) float64 {
	n, centre, xy, xx := float64(len(last)), average(last), 0.0, 0.0
	for k, v := range last {
		x := (n-1)/2 - float64(k)
		xy, xx = xy+x*(v-centre), xx+x*x
	}
	return xy / xx
}

func average(vs []float64) float64 {
	sum := 0.0
	for _, v := range vs {
		sum += v
	}
	return sum / float64(len(vs))
}

// person is one trainee's means over breaks of a kind.
type person struct{ loss, gain, regained, first float64 }

// describe works out one kind.
func (o Options) describe(ctx context.Context, k kind) (Gap, error) {
	level, err := analysis.Level(o.Level)
	if err != nil {
		return Gap{}, err
	}
	slices.Sort(k.days)
	g := Gap{Days: k.days[len(k.days)/2], Shortest: k.days[0], Longest: k.days[len(k.days)-1]}
	longest := 0
	var people []person
	passed, still := 0, 0
	for _, ls := range k.losses {
		if len(ls) == 0 {
			continue
		}
		g.Trainees++
		var p person
		var n float64
		for _, l := range ls {
			longest = max(longest, len(l.after))
			if l.passed {
				passed++
				if l.still {
					still++
				}
			}
			if l.notYet {
				g.NotYet++
			}
			if l.capped {
				g.CappedFew++
			}
			if math.IsNaN(l.after[0]) {
				g.FailedFew++
			}
			if v := settled(l.after[0]-l.before, l.before); !math.IsNaN(v) {
				g.Bounds = g.Bounds || l.notYet
				p.loss, p.gain, p.regained, p.first, n = p.loss+v, p.gain+settled(l.before-l.start, l.before), p.regained+l.regained, p.first+l.first, n+1
			}
		}
		if n > 0 {
			people = append(people, person{p.loss / n, p.gain / n, p.regained / n, p.first / n})
		}
	}
	g.Loss, g.Slope = meanOf(laterLosses(k, 0), level), meanOf(slopes(k), level)
	for j := 1; j < min(longest, 10); j++ {
		if m := meanOf(laterLosses(k, j), level); m.N > 1 {
			g.Later = append(g.Later, m)
		}
	}
	var regained, gains []float64
	for _, p := range people {
		regained, gains = append(regained, p.regained), append(gains, p.gain)
	}
	g.Regained, g.Gain = meanOf(regained, level), meanOf(gains, level)
	nan := math.NaN()
	if g.Bounds {
		g.Regained.SE, g.Regained.Lower, g.Regained.Upper, g.Regained.SD = nan, nan, nan, nan
	}
	if !g.GainKnown(o.Lower) {
		g.Kept, g.Savings = Ends{nan, nan, nan}, Ends{nan, nan, nan}
		return o.still(g, k, passed, still, level), nil
	}
	g.Kept, err = o.ratio(ctx, fmt.Sprintf("retention/kept/%g", g.Days), people, level, func(p person) (float64, float64) { return p.gain + p.loss, p.gain })
	if err != nil {
		return g, err
	}
	g.Savings, err = o.ratio(ctx, fmt.Sprintf("retention/savings/%g", g.Days), people, level, func(p person) (float64, float64) { return p.first - p.regained, p.first })
	if err != nil {
		return g, err
	}
	if g.Bounds {
		g.Savings.Lower, g.Savings.Upper = nan, nan
	}
	return o.still(g, k, passed, still, level), nil
}

// still adds the share of those who passed at the end before that pass at first after.
func (o Options) still(g Gap, k kind, passed, still int, level float64) Gap {
	g.StillOf, g.Still = passed, Ends{math.NaN(), math.NaN(), math.NaN()}
	if o.Standard && passed > 0 {
		g.Still = wilson(float64(still)/float64(passed), worth(k), level)
	}
	return g
}

// worth is how many independent breaks those of a kind are worth for the share still
// passing, where trainees had several: from the spread of trainees' own shares (Kish, 1965,
// Survey Sampling, section 8.2), at least as many as trainees, at most as many as breaks.
func worth(k kind) float64 {
	var hits, of []float64
	all, n := 0.0, 0.0
	for _, ls := range k.losses {
		h, m := 0.0, 0.0
		for _, l := range ls {
			if l.passed {
				if m++; l.still {
					h++
				}
			}
		}
		if m > 0 {
			hits, of, all, n = append(hits, h), append(of, m), all+h, n+m
		}
	}
	trainees := float64(len(of))
	p, sum := all/n, 0.0
	for i := range of {
		sum += (hits[i] - p*of[i]) * (hits[i] - p*of[i])
	}
	if trainees == n || !(sum > 0) || trainees < 2 {
		return trainees
	}
	v := trainees / (trainees - 1) * sum / (n * n)
	return math.Max(trainees, math.Min(n, p*(1-p)/v))
}

// laterLosses are every trainee's mean difference of the attempt j after a break, from 0,
// to the level before.
func laterLosses(k kind, j int) []float64 {
	var out []float64
	for _, ls := range k.losses {
		sum, n := 0.0, 0.0
		for _, l := range ls {
			if j < len(l.after) && !math.IsNaN(l.after[j]) {
				sum, n = sum+settled(l.after[j]-l.before, l.before), n+1
			}
		}
		if n > 0 {
			out = append(out, sum/n)
		}
	}
	return out
}

// settled is a difference of numbers of a size, 0 where it is rounding.
func settled(v, size float64) float64 {
	if math.Abs(v) <= rounding*math.Abs(size) {
		return 0
	}
	return v
}

// slopes are every trainee's mean slope before a break.
func slopes(k kind) []float64 {
	var out []float64
	for _, ls := range k.losses {
		sum, n := 0.0, 0.0
		for _, l := range ls {
			if !math.IsNaN(l.slope) {
				sum, n = sum+l.slope, n+1
			}
		}
		if n > 0 {
			out = append(out, sum/n)
		}
	}
	return out
}

// meanOf is a mean with its interval by t; NaN where there are fewer than two.
func meanOf(vs []float64, level float64) Mean {
	nan := math.NaN()
	m := Mean{N: len(vs), Estimate: nan, SE: nan, Lower: nan, Upper: nan, SD: nan}
	if len(vs) == 0 {
		return m
	}
	m.Estimate = average(vs)
	if len(vs) < 2 {
		return m
	}
	sum, size := 0.0, 0.0
	for _, v := range vs {
		size = math.Max(size, math.Abs(v))
	}
	for _, v := range vs {
		sum += (v - m.Estimate) * (v - m.Estimate)
	}
	n := float64(len(vs))
	if m.SD = math.Sqrt(sum / (n - 1)); m.SD <= rounding*size {
		m.SD = 0
		return m // all alike: no spread to judge by
	}
	m.SE = m.SD / math.Sqrt(n)
	half := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: n - 1}.Quantile((1+level)/2) * m.SE
	m.Lower, m.Upper = m.Estimate-half, m.Estimate+half
	return m
}

// ratio is a ratio of means over people, with expanded percentiles of a bootstrap of
// people.
func (o Options) ratio(ctx context.Context, purpose string, people []person, level float64, of func(person) (above, below float64)) (Ends, error) {
	value := func(members []int) float64 {
		var a, b float64
		for _, i := range members {
			x, y := of(people[i])
			a, b = a+x, b+y
		}
		return a / b
	}
	all := make([]int, len(people))
	for i := range all {
		all[i] = i
	}
	out := Ends{value(all), math.NaN(), math.NaN()}
	n := float64(len(people))
	if n < 3 || math.IsNaN(out.Estimate) {
		return out, nil
	}
	sampling := o.Sampling
	sampling.Progress = nil
	draws, err := resample.Replicate(ctx, sampling, purpose, func() func(*rand.Rand) float64 {
		members := make([]int, len(people))
		return func(r *rand.Rand) float64 { return value(resample.Indices(r, members, len(people))) }
	})
	if err != nil {
		return out, err
	}
	iv := resample.PercentileInterval(draws, resample.ExpandedLevel(level, n-1, math.Sqrt(n/(n-1))))
	if !iv.Refused() {
		out.Lower, out.Upper = iv.Lower, iv.Upper
	}
	return out, nil
}

// wilson is a share of m with its score interval (Wilson, 1927, Journal of the American
// Statistical Association 22, 209-212).
func wilson(p, m, level float64) Ends {
	z := distuv.UnitNormal.Quantile((1 + level) / 2)
	centre := (p + z*z/(2*m)) / (1 + z*z/m)
	half := z / (1 + z*z/m) * math.Sqrt(p*(1-p)/m+z*z/(4*m*m))
	return Ends{p, math.Max(0, centre-half), math.Min(1, centre+half)}
}
