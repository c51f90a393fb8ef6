package proficiency

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"tyro/analysis"
	"tyro/analysis/cohort"
	"tyro/analysis/practice"
	"tyro/analysis/resample"
	"tyro/analysis/stopping"
	"tyro/models"
)

// A Pooled answers for single trainees from their own attempts and those of all
// others: a fitted cohort of the measure, and of what else makes an attempt pass.
// It works from no attempts, where the cohort alone speaks, up. Attempts to come are
// independent given the trainee's curve and what is carried over between them, and made without
// a break.
type Pooled struct {
	question Question
	rec      *stopping.Recursion
	measure  Source
	sessions bool         // the measure has a restart after breaks
	clean    pooledChance // to keep within error limits
	sound    pooledChance // not to be a hard fail
}

// A Source says what a fitted cohort and their own attempts tell about trainees:
// a [cohort.Cohort], a [cohort.Blend] of several, or a [cohort.Keeper] that shares what is
// known with other questions.
type Source interface {
	Posteriors(ctx context.Context, ts []cohort.Trainee, sampling resample.Sampling) ([]cohort.Posterior, error)
}

// Pool makes a fitted cohort ready for a question; without a rule in it only
// pass chances are answered. From the trainees of the cohort
// the chances to keep within error
// limits and not to fail hard are learnt, partially pooled as the measure is.
func Pool(ctx context.Context, measure Source, sessions bool, trainees []practice.Trainee, q Question) (*Pooled, error) {
	p, err := newPooled(measure, sessions, q)
	if err != nil {
		return nil, err
	}
	clean, sound := make([]cohort.Trainee, len(trainees)), make([]cohort.Trainee, len(trainees))
	for i, r := range trainees {
		clean[i], sound[i] = cleanSeries(r), soundSeries(r)
	}
	if p.clean, err = learnChance(ctx, clean, models.Logarithmic(), q.Watch); err != nil {
		return nil, err
	}
	p.sound, err = learnChance(ctx, sound, models.Constant(), q.Watch)
	return p, err
}

// newPooled is one whose chances are still to be told.
func newPooled(measure Source, sessions bool, q Question) (*Pooled, error) {
	p := &Pooled{question: q.orDefaults(), measure: measure, sessions: sessions}
	if err := p.question.check(); err != nil {
		return nil, err
	}
	var err error
	if q.Rule != nil {
		if p.rec, err = stopping.NewRecursion(q.Rule); err != nil {
			return nil, err
		}
		if p.rec.States() > maxFollowed {
			return nil, fmt.Errorf("rule %q has too many states to follow in every draw", q.Rule)
		}
	}
	return p, nil
}

// Warnings are those of the fits of the chances to keep within error limits and not to
// fail hard; those of the measure stand with its cohort.
func (p *Pooled) Warnings() []analysis.Warning {
	var out []analysis.Warning
	for _, part := range []struct {
		what string
		pooledChance
	}{{"the chance to keep within error limits", p.clean}, {"the chance not to fail hard", p.sound}} {
		for _, w := range part.warnings {
			out = append(out, analysis.Warning{Code: w.Code, Text: part.what + ": " + w.Text})
		}
	}
	return out
}

// cleanSeries is 1 where a measured attempt kept within error limits; empty where
// none are set.
func cleanSeries(t practice.Trainee) cohort.Trainee {
	out := cohort.Trainee{ID: t.ID, Arm: t.Arm}
	for _, a := range t.Attempts {
		if t.ErrorLimits && a.Measured() {
			out.Attempt, out.Response = append(out.Attempt, a.Number), append(out.Response, zeroOne(a.Clean))
		}
	}
	return out
}

// soundSeries is 0 for a hard fail and 1 for a measured attempt.
func soundSeries(t practice.Trainee) cohort.Trainee {
	out := cohort.Trainee{ID: t.ID, Arm: t.Arm}
	for _, a := range t.Attempts {
		if hardFail(a) || a.Measured() {
			out.Attempt, out.Response = append(out.Attempt, a.Number), append(out.Response, zeroOne(!hardFail(a)))
		}
	}
	return out
}

func zeroOne(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

// A Projection is the attempt at which a trainee's rule is met, as a predictive
// distribution: it holds what is not known about the trainee's curve and the
// luck of the attempts to come.
type Projection struct {
	Trainee  string
	Seen     int     // attempts counted
	Usable   int     // of them with a measure
	Last     float64 // the last attempt counted; 0 before the first
	Met      bool    // whether the rule has been met by then; Estimate is the attempt
	Estimate float64 // median; +Inf beyond the horizon
	// Lower and Upper are the first attempts by which the rule is met with at
	// least the chances (1 ∓ level)/2, so that the interval holds at least the
	// level.
	Lower, Upper float64
	NotReached   float64   // chance that the rule is not met within the horizon
	MetBy        []float64 // chance that it is met by attempt Last+1, Last+2, … up to the horizon
	// PassChance holds median, lower and upper end of the attempt from which a
	// single attempt passes with the chance asked for; PassNever the chance of
	// none within the horizon.
	PassChance [3]float64
	PassNever  float64
	Level      float64
	Status     Status

	leaves [3]float64 // see MovingAway; 0 for none
}

// MovingAway reports whether a trainee with enough attempts leads away from the level of
// mean-crossing, pass-chance or rule-met, as more than half of the possible truths say
// (see the package comment), and from which attempt on these do not meet it. One
// at or before the last attempt counted says that it is not met now: a number of
// attempts is then not known, except for a rule that has been met.
func (o Projection) MovingAway(definition string) (leaves float64, away bool) {
	k := slices.Index([]string{MeanCrossing, PassChance, RuleMet}, definition)
	if k < 0 || o.Usable < MinAttempts || o.leaves[k] == 0 {
		return math.NaN(), false
	}
	return o.leaves[k], true
}

// The numbers of draws followed for each record, and the work they may cost.
const (
	mostFollowed  = 256
	leastFollowed = 96
	followedWork  = 20_000_000
	// atOnce bounds how many records' draws are in memory.
	atOnce = 64
)

// Project projects every record given, of members of the cohort or not.
func (p *Pooled) Project(ctx context.Context, records []practice.Trainee, sampling resample.Sampling) ([]Projection, error) {
	out := make([]Projection, len(records))
	for from := 0; from < len(records); from += atOnce {
		to := min(from+atOnce, len(records))
		if err := p.project(ctx, records[from:to], out[from:to], sampling); err != nil {
			return nil, err
		}
	}
	return out, nil
}

func (p *Pooled) project(ctx context.Context, records []practice.Trainee, out []Projection, sampling resample.Sampling) error {
	sampling.Progress = nil
	known, err := p.posteriors(ctx, records, sampling)
	if err != nil {
		return err
	}
	draws := p.followed()
	return resample.Each(ctx, len(records), sampling, func() func(int) error {
		return func(i int) error {
			var err error
			out[i], err = p.answer(records[i], p.ways(records, known, i, draws, sampling.Seed))
			return err
		}
	})
}

// followed is how many draws of a trainee are followed.
func (p *Pooled) followed() int {
	if p.rec == nil {
		return mostFollowed
	}
	return max(leastFollowed, min(mostFollowed, followedWork/(p.rec.States()*max(1, int(p.question.Horizon)))))
}

// knowledge is what a cohort and their own attempts say about trainees: of the measure,
// and of the chances to keep within error limits and not to fail hard.
type knowledge struct{ measure, clean, sound []cohort.Posterior }

func (p *Pooled) posteriors(ctx context.Context, records []practice.Trainee, sampling resample.Sampling) (knowledge, error) {
	var k knowledge
	var err error
	series := make([]cohort.Trainee, len(records))
	for i, r := range records {
		series[i] = cohort.Of(r, p.sessions)
	}
	if k.measure, err = p.measure.Posteriors(ctx, series, sampling); err != nil {
		return k, err
	}
	for i, r := range records {
		series[i] = cleanSeries(r)
	}
	if k.clean, err = p.clean.posteriors(ctx, series, sampling); err != nil {
		return k, err
	}
	for i, r := range records {
		series[i] = soundSeries(r)
	}
	k.sound, err = p.sound.posteriors(ctx, series, sampling)
	return k, err
}

// ways deals equally likely truths about record i.
func (p *Pooled) ways(records []practice.Trainee, known knowledge, i, draws int, seed uint64) []way {
	r := resample.Stream(seed, "pooled "+records[i].ID, len(records[i].Counted()))
	ways := make([]way, draws)
	last := 0.0
	if n := records[i].Numbers(); len(n) > 0 {
		last = n[len(n)-1]
	}
	for j, d := range deal(known.measure[i].Draws, draws, r) {
		ways[j] = way{measure: passing{curve: d.Curve, noise: d.Noise(), scale: d.Spread}, share: 1}
		if d.Carries() && p.rec != nil {
			ways[j].carried = make([]float64, max(0, int(p.question.Horizon-last)))
			d.Carried(r, last+1, ways[j].carried)
			ways[j].of, ways[j].from = &d, last+1
		}
	}
	p.clean.attach(ways, known.clean, i, r)
	p.sound.attach(ways, known.sound, i, r)
	return ways
}

// deal lists n draws in proportion to their weights (systematic resampling), in
// an order without meaning.
func deal(draws []cohort.Draw, n int, r *rand.Rand) []cohort.Draw {
	out := make([]cohort.Draw, 0, n)
	at, sum := r.Float64()/float64(n), draws[0].Weight
	for i := 0; len(out) < n; at += 1 / float64(n) {
		for sum < at && i+1 < len(draws) {
			i++
			sum += draws[i].Weight
		}
		out = append(out, draws[i])
	}
	r.Shuffle(n, func(a, b int) { out[a], out[b] = out[b], out[a] })
	return out
}

// A way is one possible truth about what makes a trainee's attempts pass.
type way struct {
	measure passing
	// Further chances, independent of the measure given the attempt: one that
	// stays the same, and curves on the logit scale.
	share float64
	also  []models.Curve
	// What the residuals of a draw carry over to the attempt from and those after it; nil: nothing.
	of      *cohort.Draw
	from    float64
	carried []float64
}

// chance is that of passing attempt n, looked at alone.
func (w way) chance(q Question, n float64) float64 {
	return w.beside(n) * q.single(w.measure.noise, w.measure.curve.At(n), w.measure.scale)
}

// beside is the chance of all that passing asks for beside the measure.
func (w way) beside(n float64) float64 {
	c := w.share
	for _, curve := range w.also {
		c *= models.Bernoulli{}.Mean(curve.At(n))
	}
	return c
}

// given is the chance of passing attempt n given what is carried over to it.
func (w way) given(q Question, n float64) float64 {
	m := w.measure.curve.At(n)
	if m <= 0 && models.NeedsPositive(w.measure.noise) {
		return w.beside(n) * zeroOne(q.Standard.Lower)
	}
	return w.beside(n) * q.single(w.measure.noise, w.of.Shifted(m, w.carried[int(n-w.from)]), w.of.Fresh())
}

// answer mixes the rule's exact distribution over equally likely ways of
// passing.
func (p *Pooled) answer(t practice.Trainee, ways []way) (Projection, error) {
	q, nan := p.question, math.NaN()
	attempts, passes := t.Numbers(), t.Passes(q.Standard)
	o := Projection{Trainee: t.ID, Seen: len(attempts), Usable: t.Number(practice.Attempt.Measured), Level: q.Level,
		Estimate: nan, Lower: nan, Upper: nan, NotReached: nan}
	if o.Seen > 0 {
		o.Last = attempts[o.Seen-1]
	}
	horizon := int(q.Horizon)
	left := max(0, horizon-int(o.Last))
	if p.rec != nil {
		o.MetBy = make([]float64, left)
	}
	crossings := make([]float64, len(ways))
	var leaves [3][]float64
	var ahead *stopping.Walk
	var seen stopping.Walk
	if p.rec != nil {
		ahead, seen = p.rec.Begin(), *p.rec.Begin()
		for _, passed := range passes { // an attempt already made passed with chance 0 or 1
			seen.Step(zeroOne(passed))
		}
	}
	c := q.newOutlook()
	for j, w := range ways {
		c.under(w)
		crossings[j] = c.crossing()
		for k, n := range q.wayLeavings(c, 1, o.Last) {
			leaves[k] = append(leaves[k], n)
		}
		if p.rec == nil {
			continue
		}
		ahead.Resume(&seen)
		if err := c.metBy(ahead, o.MetBy, horizon, 1/float64(len(ways))); err != nil {
			return o, err
		}
	}
	o.PassChance, o.PassNever = quartet(crossings, q.Level)
	for k := range leaves {
		if n := mostLeave(leaves[k]); !math.IsInf(n, 1) {
			o.leaves[k] = n
		}
	}
	if p.rec == nil {
		return o, nil
	}
	tail := (1 - q.Level) / 2
	o.Estimate, o.Lower, o.Upper = firstAtLeast(o.MetBy, o.Last+1, 0.5), firstAtLeast(o.MetBy, o.Last+1, tail), firstAtLeast(o.MetBy, o.Last+1, 1-tail)
	o.NotReached = 1
	if left > 0 {
		o.NotReached = math.Max(0, 1-o.MetBy[left-1])
	}
	if k := q.Rule.FirstMet(passes); k > 0 {
		at := attempts[k-1]
		o.Met, o.Estimate, o.Lower, o.Upper, o.NotReached = true, at, at, at, 0
	}
	o.Status = o.status()
	if o.Status == MovingAway && !o.Met && (o.leaves[2] <= o.Last || math.IsInf(o.Estimate, 1)) {
		o.Estimate, o.Lower, o.Upper = nan, nan, nan
	}
	return o, nil
}

// status applies the least number of attempts, and the rule that a range which
// includes not getting there tells nothing yet.
func (o Projection) status() Status {
	_, away := o.MovingAway(RuleMet)
	switch {
	case away:
		return MovingAway
	case o.Met:
		return Reached
	case o.Usable < MinAttempts:
		return TooEarly
	case math.IsInf(o.Lower, 1):
		return BeyondHorizon
	case math.IsInf(o.Upper, 1):
		return TooEarly
	}
	return Projected
}

// firstAtLeast is the first attempt, counted from the given one, whose value
// reaches the level; +Inf where none does.
func firstAtLeast(values []float64, from, level float64) float64 {
	for i, v := range values {
		if v >= level-1e-12 {
			return from + float64(i)
		}
	}
	return math.Inf(1)
}
