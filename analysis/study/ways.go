package study

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"tyro/analysis/practice"
	"tyro/analysis/proficiency"
	"tyro/analysis/resample"
	"tyro/analysis/stopping"
)

// The kinds of learners by whom ways to stop practice are judged.
const (
	LearnerNotYet     = "not-yet"    // a constant chance below the proficient one
	LearnerProficient = "proficient" // a constant chance from the proficient one on
	LearnerStated     = "stated"     // a chance that rises as stated
	LearnerTrainees   = "trainees"   // the mean over the study's trainees, each with the fitted chances
)

// WaysOptions are the choices of a comparison of ways to stop practice; the zero value
// of a field means its default.
type WaysOptions struct {
	First      stopping.Policy // nil: the rule of the task
	Against    []stopping.Policy
	Usual      bool         // compare with the usual ways too
	Bar        stopping.Bar // what counts as proficient and as held back
	NotYet     float64      // constant pass chance of a learner who is not yet proficient; 0 means 0.5
	Proficient float64      // of one who is; 0 means 0.9
	Horizon    int          // attempts looked ahead; 0: the study's, else 100
	Stated     []float64    // pass chances of a stated learner by attempt; nil for none
}

// MaxAhead bounds the horizon of a comparison, whose curves are all kept.
const MaxAhead = 2000

// DefaultWaysHorizon is the horizon of a comparison where neither the caller nor a study says.
const DefaultWaysHorizon = 100

// mostWays is how many ways a picture can tell apart.
const mostWays = 10

// WaysToStop is what each of several ways to stop practice lets through, holds back and
// costs, side by side.
type WaysToStop struct {
	Standard float64           // NaN where nobody's curve was looked at
	OwnRule  bool              // the way compared first is the study's own rule
	Bar      stopping.Bar      // what counts as proficient and as held back
	Horizon  int               // attempts looked ahead
	Level    float64           // of intervals
	Ways     []stopping.Policy // the one compared first leads
	Learners []WaysLearner
	Stops    [][]Stops           // by way, then by learner
	Quotas   []proficiency.Quota // attempts by which shares of the learners who judge have stopped under the first way
	Warnings Warnings
}

// A WaysLearner is whose pass chances a way to stop is judged by.
type WaysLearner struct {
	Kind       string
	Trainees   int         // 0 for a stated learner
	Proficient int         // how many reach the proficient chance within the horizon
	Each       [][]float64 // pass chances by attempt, a learner or trainee each
	Chances    []float64   // their mean, by attempt
}

// Stops is what one way does to one kind of learner: means over the trainees, with
// limits from a bootstrap of whole trainees where there are enough of them.
type Stops struct {
	Attempts, FalsePass, HeldBack proficiency.Estimate // limits are NaN for a stated learner, whose figures are exact
	Never                         float64              // chance of not having stopped by the horizon
	MetBy                         []float64            // chance of having stopped, by attempt
}

func (o WaysOptions) settled(s *Study) (WaysOptions, error) {
	o.Bar = o.Bar.OrDefaults()
	if o.NotYet == 0 {
		o.NotYet = 0.5
	}
	if o.Proficient == 0 {
		o.Proficient = 0.9
	}
	if o.Horizon == 0 {
		o.Horizon = DefaultWaysHorizon
		if h := s.Question.Horizon; h > 0 {
			o.Horizon = int(math.Min(h, MaxAhead+1))
		}
	}
	switch {
	case o.Horizon < 1 || o.Horizon > MaxAhead:
		return o, fmt.Errorf("a horizon of %d attempts: expected 1 to %d", o.Horizon, MaxAhead)
	case !(o.Bar.Level > 0 && o.Bar.Level < 1) || o.Bar.Held < 1:
		return o, fmt.Errorf("proficient from a pass chance of %v on, held back after %d attempts: expected a chance between 0 and 1 and at least one attempt", o.Bar.Level, o.Bar.Held)
	case o.Stated != nil && len(o.Stated) < o.Horizon:
		return o, fmt.Errorf("pass chances of %d attempts are stated, fewer than the horizon of %d", len(o.Stated), o.Horizon)
	}
	return o, nil
}

// WaysToStop sets ways to stop practice side by side: for learners with constant
// chances, for the stated learner, and for the trainees of the study, where there are
// any, each with the pass chances of the fitted curve.
func (s *Study) WaysToStop(ctx context.Context, o WaysOptions) (*WaysToStop, error) {
	o, err := o.settled(s)
	if err != nil {
		return nil, err
	}
	d := &WaysToStop{Standard: math.NaN(), Bar: o.Bar, Horizon: o.Horizon, Level: s.Options.Level}
	if o.First == nil && s.Question.Rule != nil {
		o.First, d.OwnRule = stopping.Rule{Rule: s.Question.Rule}, !s.Task.RuleGiven
	}
	if err := d.learners(ctx, s, o); err != nil {
		return nil, err
	}
	if err := d.choose(s.Question.Chart, o); err != nil {
		return nil, err
	}
	for _, way := range d.Ways {
		p, err := stopping.Ready(way, d.Horizon)
		if err != nil {
			return nil, err
		}
		var row []Stops
		for _, l := range d.Learners {
			one, err := s.stops(ctx, p, l, o.Bar)
			if err != nil {
				return nil, err
			}
			row = append(row, one)
		}
		d.Stops = append(d.Stops, row)
	}
	return d, s.stoppedBy(ctx, d)
}

// PassChances lists every trainee's pass chances up to the horizon by the curve that
// fits best; nil for a trainee with too few attempts.
func (s *Study) PassChances(ctx context.Context, horizon int) ([][]float64, error) {
	if !s.Question.Standard.Set() && s.Task.Measure != practice.PassFail {
		return nil, s.needStandard("pass chances need")
	}
	if horizon < 1 || horizon > MaxAhead {
		return nil, fmt.Errorf("pass chances of %d attempts: expected 1 to %d", horizon, MaxAhead)
	}
	learners, err := s.Learners(ctx)
	if err != nil {
		return nil, err
	}
	q := s.Question
	q.Horizon = float64(horizon)
	out := make([][]float64, len(learners.Each))
	for i, l := range learners.Each {
		out[i] = l.Chances(q)
	}
	return out, nil
}

// learners lists whose chances are looked at.
func (d *WaysToStop) learners(ctx context.Context, s *Study, o WaysOptions) error {
	constant := func(kind string, chance float64) WaysLearner {
		return WaysLearner{Kind: kind, Each: [][]float64{stopping.Constant(chance, d.Horizon)}}
	}
	d.Learners = []WaysLearner{constant(LearnerNotYet, o.NotYet), constant(LearnerProficient, o.Proficient)}
	if o.Stated != nil {
		d.Learners = append(d.Learners, WaysLearner{Kind: LearnerStated, Each: [][]float64{o.Stated[:d.Horizon]}})
	}
	if len(s.Trainees) > 0 {
		if err := d.trainees(ctx, s); err != nil {
			return err
		}
	}
	for i := range d.Learners {
		l := &d.Learners[i]
		l.Chances = make([]float64, d.Horizon)
		for _, c := range l.Each {
			if slices.ContainsFunc(c, func(p float64) bool { return p >= o.Bar.Level }) {
				l.Proficient++
			}
			for n, p := range c {
				l.Chances[n] += p
			}
		}
		for n := range l.Chances {
			l.Chances[n] /= float64(len(l.Each))
		}
	}
	return nil
}

// trainees adds the study's trainees as learners.
func (d *WaysToStop) trainees(ctx context.Context, s *Study) error {
	chances, err := s.PassChances(ctx, d.Horizon)
	if err != nil {
		return err
	}
	fitted, err := s.Learners(ctx)
	if err != nil {
		return err
	}
	d.Warnings.With(fitted.Warnings)
	d.Standard = s.Question.Standard.Value
	known := slices.DeleteFunc(slices.Clone(chances), func(c []float64) bool { return c == nil })
	if left := len(chances) - len(known); left > 0 {
		d.Warnings.Add("left-out", fmt.Sprintf("%d of %d trainees are left out: nothing can be projected from their attempts", left, len(chances)))
	}
	if len(known) > 0 {
		d.Learners = append(d.Learners, WaysLearner{Kind: LearnerTrainees, Trainees: len(known), Each: known})
	}
	return nil
}

// Judge is the place of the learner by whom ways are compared, the study's trainees or
// the stated learner; -1 without either.
func (d *WaysToStop) Judge() int {
	for _, kind := range []string{LearnerTrainees, LearnerStated} {
		if i := slices.IndexFunc(d.Learners, func(l WaysLearner) bool { return l.Kind == kind }); i >= 0 {
			return i
		}
	}
	return -1
}

// choose settles the ways compared.
func (d *WaysToStop) choose(chart *stopping.Chart, o WaysOptions) error {
	var all []stopping.Policy
	if o.First != nil {
		all = append(all, o.First)
	}
	all = append(all, o.Against...)
	if o.Usual {
		usual, err := d.usual(chart, o)
		if err != nil {
			return err
		}
		all = append(all, usual...)
	}
	seen := map[string]bool{}
	for _, p := range all {
		if text := p.String(); !seen[text] {
			seen[text] = true
			d.Ways = append(d.Ways, p)
		}
	}
	switch n := len(d.Ways); {
	case n == 0:
		return errors.New("nothing to compare: give --rule, or set the rule in the study file")
	case n > mostWays:
		return fmt.Errorf("%d ways to stop practice are too many for one picture: expected at most %d", n, mostWays)
	}
	return nil
}

// usual lists ways that programmes take: a fixed number of attempts as large as the
// first way costs on average, longer runs, a share of a window, a chart and an
// estimate.
func (d *WaysToStop) usual(chart *stopping.Chart, o WaysOptions) ([]stopping.Policy, error) {
	fixed := 20.0
	if j := d.Judge(); j >= 0 && o.First != nil {
		fixed = 0
		for _, c := range d.Learners[j].Each {
			s, err := stopping.Stop(o.First, c, o.Bar)
			if err != nil {
				return nil, err
			}
			fixed += s.Mean
		}
		fixed /= float64(len(d.Learners[j].Each))
	}
	out := []stopping.Policy{stopping.FixedQuota(max(1, int(math.Round(fixed))))}
	if chart == nil {
		fail := 1 - o.Bar.Level
		c, err := stopping.ParsePolicy(fmt.Sprintf("chart %.4g/%.4g", fail, math.Min(2*fail, (1+fail)/2)))
		if err != nil {
			return nil, err
		}
		chart = c.(*stopping.Chart)
	}
	for _, text := range []string{"3 in a row", "5 in a row", "8 of last 10", "2 in a row and 10 in all", chart.String(), fmt.Sprintf("chance %.4g with confidence 0.9 over last 12", o.Bar.Level)} {
		p, err := stopping.ParsePolicy(text)
		if err != nil { // a level so high that twelve passes do not show it
			continue
		}
		out = append(out, p)
	}
	return out, nil
}

// stops works out one way to stop for one kind of learner.
func (s *Study) stops(ctx context.Context, p stopping.Policy, l WaysLearner, bar stopping.Bar) (Stops, error) {
	var all []stopping.Stopping
	for _, chance := range l.Each {
		one, err := stopping.Stop(p, chance, bar)
		if err != nil {
			return Stops{}, err
		}
		all = append(all, one)
	}
	var out Stops
	var err error
	estimate := func(of func(stopping.Stopping) float64) proficiency.Estimate {
		e, failed := s.meanOver(ctx, all, of)
		err = errors.Join(err, failed)
		return e
	}
	out.Attempts = estimate(func(x stopping.Stopping) float64 { return x.Mean })
	out.FalsePass = estimate(func(x stopping.Stopping) float64 { return x.FalsePass })
	out.HeldBack = estimate(func(x stopping.Stopping) float64 { return x.HeldBack })
	if err != nil {
		return out, err
	}
	out.MetBy = make([]float64, len(all[0].MetBy))
	for _, x := range all {
		out.Never += x.Never
		for n, v := range x.MetBy {
			out.MetBy[n] += v
		}
	}
	out.Never /= float64(len(all))
	for n := range out.MetBy {
		out.MetBy[n] /= float64(len(all))
	}
	return out, nil
}

// waysPurpose names the streams of the comparison's bootstrap: every figure sees the
// same trainees in a replicate.
const waysPurpose = "rules compared"

// meanOver is the mean over trainees of whom the figure is known, with limits from
// [proficiency.MinGroup] trainees on.
func (s *Study) meanOver(ctx context.Context, all []stopping.Stopping, of func(stopping.Stopping) float64) (proficiency.Estimate, error) {
	values := make([]float64, len(all))
	for i, x := range all {
		values[i] = of(x)
	}
	out := proficiency.Estimate{Value: knownMean(values), Lower: math.NaN(), Upper: math.NaN()}
	if len(all) < proficiency.MinGroup {
		return out, nil
	}
	iv, err := s.overTrainees(ctx, len(all), func(members []int) float64 {
		drawn := make([]float64, len(members))
		for i, j := range members {
			drawn[i] = values[j]
		}
		return knownMean(drawn)
	})
	out.Lower, out.Upper = iv.Lower, iv.Upper
	return out, err
}

// overTrainees is the interval, by expanded percentiles, of a figure of n trainees drawn
// with replacement.
func (s *Study) overTrainees(ctx context.Context, n int, of func(members []int) float64) (resample.Interval, error) {
	reps, err := resample.Replicate(ctx, s.Sampling(), waysPurpose, func() func(*rand.Rand) float64 {
		index := make([]int, n)
		return func(r *rand.Rand) float64 { return of(resample.Indices(r, index, n)) }
	})
	if err != nil {
		return resample.Interval{}, err
	}
	return resample.PercentileInterval(reps, resample.ExpandedLevel(s.Options.Level, float64(n-1), math.Sqrt(float64(n)/float64(n-1)))), nil
}

// knownMean is the mean of the values that are numbers; NaN without one.
func knownMean(values []float64) float64 {
	sum, n := 0.0, 0
	for _, v := range values {
		if !math.IsNaN(v) {
			sum += v
			n++
		}
	}
	return sum / float64(n)
}

// stoppedBy gives the attempts by which shares of learners have stopped under the way
// compared first.
func (s *Study) stoppedBy(ctx context.Context, d *WaysToStop) error {
	l := d.Learners[max(0, d.Judge())]
	var each [][]float64
	for _, chance := range l.Each {
		by, err := d.Ways[0].MetBy(chance)
		if err != nil {
			return err
		}
		each = append(each, by)
	}
	all := make([]int, len(each))
	for i := range all {
		all[i] = i
	}
	for _, share := range proficiency.QuotaShares() {
		q := proficiency.Quota{Share: share, Attempts: firstShare(each, all, share), Lower: math.NaN(), Upper: math.NaN()}
		if len(each) >= proficiency.MinGroup {
			iv, err := s.overTrainees(ctx, len(each), func(members []int) float64 { return firstShare(each, members, share) })
			if err != nil {
				return err
			}
			q.Lower, q.Upper = iv.Lower, iv.Upper
		}
		d.Quotas = append(d.Quotas, q)
	}
	return nil
}

// firstShare is the first attempt by which the share of the members has stopped;
// +Inf where it does not within the horizon.
func firstShare(each [][]float64, members []int, share float64) float64 {
	for n := range each[0] {
		sum := 0.0
		for _, i := range members {
			sum += each[i][n]
		}
		if sum >= share*float64(len(members)) {
			return float64(n + 1)
		}
	}
	return math.Inf(1)
}
