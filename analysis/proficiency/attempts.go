// Package proficiency answers how many attempts until proficient, and how sure
// we are.
//
// # Definitions
//
// mean-crossing: the first attempt at which the fitted curve (mean, or median
// for multiplicative noise) meets the standard. pass-chance: the first attempt
// at which the chance that a single attempt meets the standard reaches p,
// noise, error limits and hard fails included. rule-met: the attempt by which a
// stated rule on passes is met with chance one half, from the exact distribution
// under the fitted pass chances; its observed counterpart is [Observe].
// chart-signal: the attempt by which a learning chart with stated failure rates
// (see [stopping.Chart]) has signalled with chance one half, exact in the same
// way; its observed counterpart is the chart of the trainee's own passes. The four
// differ on the same data and are never mixed.
//
// # Moving away
//
// A trainee may get worse. Let L be the last attempt made (the first, before any) and H
// the horizon. A definition has a level: for mean-crossing the curve at the standard, for
// pass-chance a pass chance of p, for rule-met and chart-signal a pass chance of one half,
// below which an attempt is more likely to miss than to pass. Its status is moving-away
//
//   - where the level is not met at L, is not met at any attempt from L to H, and the
//     curve (or the pass chance) is worse at H than at L. One that does not move between
//     them any more counts as leading where it came from, from attempt 1 to L. The
//     estimate and its limits are then not known, NaN, and NotReached is the share of
//     replicates that either do not get there or lead away likewise;
//   - where the level is met at L but not at some attempt after L, up to H. The estimate
//     is kept.
//
// [Answer.Leaves] is the attempt from which the level is not met. A flat curve never
// moves away, nor does one that gets worse but meets the level up to H: what is best by
// AICc decides whether anything moves at all. A curve chosen beforehand that meets the
// level at L leaves it later only where it is better, by AICc, than a level that stays;
// where it does not meet the level at L, its answer says so. So reached implies, for
// mean-crossing and pass-chance, that the level is met at L, and up to H by a curve that
// the attempts support.
//
// Of many equally likely curves, as those of a cohort, and of candidate curves with their
// weights, the answer moves away where more than half do, and Leaves is the attempt by
// which more than half have left.
//
// # Intervals
//
// Ends are expanded percentiles of a bootstrap of the trainee's own series
// (see [resample.ExpandedLevel]), or BCa on request, which covers less; a replicate that
// does not reach the standard counts as beyond every horizon rather than being dropped,
// which would make slow trainees look certain. Numbers of attempts are whole: the
// real-valued crossing is rounded up. For chart-signal the residual spread of a replicate is
// taken the other way round about the series' own, where noise is normal. What the intervals
// cover is in testdata/coverage/README.md.
//
// # Quotas
//
// A quota has two bases, never mixed: what was observed, all trainees counted, and what
// the cohort's curve expects of new trainees. Where some trainees are of a class apart
// that never gets there, one population cannot describe them, and what was observed is to
// be trusted. The attempts for a share are the smallest number by which it has met the
// rule, not the middle of a flat stretch: they are attempts to schedule.
package proficiency

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"tyro/analysis"
	"tyro/analysis/cohort"
	"tyro/analysis/fit"
	"tyro/analysis/practice"
	"tyro/analysis/resample"
	"tyro/analysis/stopping"
	"tyro/models"
)

// The names of the definitions.
const (
	MeanCrossing = "mean-crossing"
	PassChance   = "pass-chance"
	RuleMet      = "rule-met"
	ChartSignal  = "chart-signal"
)

// A Status says what an answer is.
type Status string

// The statuses.
const (
	Reached       Status = "reached"        // at or before the last attempt made
	Projected     Status = "projected"      // after it, within the horizon
	MovingAway    Status = "moving-away"    // not met, or not for long, and getting worse: see the package comment
	BeyondHorizon Status = "beyond-horizon" // not within the horizon, as far as the curve tells
	TooEarly      Status = "too-early"      // not enough attempts to say
)

// MinAttempts is the fewest usable attempts from which anything is projected.
const MinAttempts = 5

// A Question is what is asked of a series.
type Question struct {
	Standard practice.Standard
	Horizon  float64         // attempts looked ahead at most; 0 means 200
	Chance   float64         // pass chance asked for; 0 means 0.8
	Rule     practice.Rule   // when proficient; nil for none
	Chart    *stopping.Chart // that shows adequate performance; nil for none
	Average  bool            // average the estimate over the candidate curves by AICc weight
	Level    float64         // of intervals; 0 means 0.95
	// Interval is [resample.Percentile], expanded, unless it is [resample.BCa],
	// whose acceleration comes from leaving out each attempt of the series in turn.
	// What each covers is in testdata/coverage/trainee.
	Interval resample.Method
	// Watch is told of every cohort fitted for the question, see [cohort.Spec]; nil:
	// nobody is.
	Watch func(cohort.Work, cohort.Spec, []cohort.Trainee)

	ready  bool    // stops are listed
	stops  []stop  // the definitions answered by a chain
	tables *tables // of the attempts up to the horizon
}

// DefaultHorizon is used where a question does not say.
const DefaultHorizon = 200

func (q Question) orDefaults() Question {
	if q.Horizon == 0 {
		q.Horizon = DefaultHorizon
	}
	if q.Chance == 0 {
		q.Chance = 0.8
	}
	if q.Level == 0 {
		q.Level = analysis.DefaultLevel
	}
	if q.Interval == "" {
		q.Interval = resample.Percentile
	}
	return q
}

// Ready is the question with what serves every trainee worked out. A question that is asked
// of many should be made ready once.
func (q Question) Ready() (Question, error) {
	if q.ready {
		return q, nil
	}
	q = q.orDefaults()
	var err error
	q.stops, err = q.newStops()
	q.tables = newTables(int(q.Horizon))
	q.ready = err == nil
	return q, err
}

// check reports a question whose intervals have no level.
func (q Question) check() error {
	_, err := analysis.Level(q.Level)
	return err
}

// An Answer is a number of attempts with its interval. +Inf means beyond the
// horizon; NaN means not known.
type Answer struct {
	Definition   string
	Estimate     float64 // whole attempts
	Lower, Upper float64
	Crossing     resample.Interval // real-valued, before rounding up
	At           float64           // real-valued estimate
	NotReached   float64           // share of replicates that do not reach the standard within the horizon
	Level        float64
	Method       string
	Replicates   int
	Failed       int
	Status       Status
	Leaves       float64 // attempt from which the level is not met, where it moves away; NaN else
	Warnings     []analysis.Warning
}

// maxFollowed bounds the rules answered in every bootstrap replicate.
const maxFollowed = 3000

// A Learner is a trainee with what was fitted to their attempts: the curve of the
// measure, the share of hard fails, and the chance to keep within error limits.
type Learner struct {
	Trainee practice.Trainee
	Series  fit.Series // the attempts that the curve was fitted to
	Specs   []fit.Spec // the curves tried
	Choice  fit.Choice // by AICc where there are several

	fails failShare
	clean *cleanChance // nil without error limits
}

// Learn fits the specs to a trainee's attempts.
func Learn(t practice.Trainee, specs []fit.Spec) (Learner, error) {
	l := Learner{Trainee: t, Series: fit.SeriesOf(t), Specs: specs, fails: newFailShare(t), clean: newCleanChance(t)}
	var err error
	l.Choice, err = fit.Choose(l.Series, specs)
	return l, err
}

// Of is the fit of one of the specs, by its position; false where it could not be made.
func (l Learner) Of(spec int) (fit.Fit, bool) {
	if spec >= len(l.Choice.All) || l.Choice.All[spec].Status == fit.NotRun {
		return fit.Fit{}, false
	}
	return l.Choice.All[spec], true
}

// Attempts answers mean-crossing, pass-chance and, where a rule or a chart is set,
// rule-met and chart-signal, with intervals from a bootstrap of the series. The purpose
// names the random streams: use the trainee's position.
func (l Learner) Attempts(ctx context.Context, q Question, sampling resample.Sampling, purpose string) ([]Answer, error) {
	q = q.orDefaults()
	if err := q.check(); err != nil {
		return nil, err
	}
	q, err := q.Ready()
	if err != nil {
		return nil, err
	}
	names := definitionNames(q.stops)
	if why := l.tooLittle(); why != (analysis.Warning{}) {
		return tooEarly(names, q, why), nil
	}
	f, now := l.Choice.Fit, l.passing()
	at, leaves := q.newCounter().crossings(now), q.leavings(now)
	if q.Average && len(l.Choice.Fits) > 1 {
		at, leaves = q.averaged(now, l.Choice)
	}
	if _, parted := l.step(); parted {
		return l.fromStep(q, names, at, leaves), nil
	}
	drawn, err := l.redraw(ctx, q, leaves, sampling, purpose)
	if err != nil {
		return nil, err
	}
	var left [][]float64
	if q.Interval == resample.BCa {
		left = q.leftOut(l.Series, l.Specs[l.Choice.Index], now)
	}
	var out []Answer
	shown := l.moves()
	for k, name := range names {
		iv := resample.PercentileInterval(drawn[k].attempts, resample.ExpandedLevel(q.Level, float64(f.DF), 1))
		if q.Interval == resample.BCa {
			iv = resample.BCaInterval(at[k], resample.Acceleration(left[k]), drawn[k].attempts, q.Level)
		}
		a := q.answer(name, at[k], iv, f, fit.DefaultKind(l.Series, f.Noise))
		q.moveAway(&a, leaves[k], now, shown)
		if a.Status == MovingAway && math.IsNaN(a.Estimate) {
			a.NotReached = drawn[k].notThere()
		}
		q.warnInterval(&a, iv)
		a.Warnings = append(a.Warnings, l.beside(q, a)...)
		out = append(out, a)
	}
	return out, nil
}

// fromStep are the answers of a step from fail to pass, or back: it has no interval, since
// attempts that do not mix say nothing of how steep it is.
func (l Learner) fromStep(q Question, names []string, at, leaves []float64) []Answer {
	nan, now := math.NaN(), l.passing()
	var out []Answer
	for k, name := range names {
		a := q.answer(name, at[k], resample.Interval{Lower: nan, Upper: nan, Infinite: nan}, l.Choice.Fit, "")
		a.Method = "step"
		q.moveAway(&a, leaves[k], now, true)
		a.Warnings = append(a.Warnings, l.beside(q, a)...)
		out = append(out, a)
	}
	return out
}

// A drawn holds what the replicates say under one definition.
type drawn struct {
	attempts []float64 // NaN where a refit failed
	away     []bool    // the replicate leads away from the level; nil where that is not asked
}

// redraw answers every definition from every replicate: of the curve, of the share of hard
// fails and of the chance to keep within error limits.
func (l Learner) redraw(ctx context.Context, q Question, leaves []float64, sampling resample.Sampling, purpose string) ([]drawn, error) {
	out := make([]drawn, len(leaves))
	followAway := false
	for k := range out {
		out[k].attempts = make([]float64, sampling.Count())
		if !math.IsInf(leaves[k], 1) {
			out[k].away, followAway = make([]bool, sampling.Count()), true
		}
	}
	now, kind := l.passing(), fit.DefaultKind(l.Series, l.Choice.Fit.Noise)
	chart := q.turnsSpread(now.noise)
	err := fit.EachReplicate(ctx, l.Series, l.Specs, l.Choice, kind, sampling, purpose, func() func(int, fit.Replicate) {
		count, clean := q.newCounter(), l.clean.newDraw()
		return func(i int, r fit.Replicate) {
			if !r.OK {
				for k := range out {
					out[k].attempts[i] = math.NaN()
				}
				return
			}
			p := passing{curve: r.Curve, noise: now.noise, scale: r.Scale, last: now.last, fails: l.fails.draw(sampling.Seed, purpose, i)}
			if clean != nil {
				p.clean = clean.draw(sampling.Seed, purpose, i)
			}
			for k, v := range count.crossingsBut(p, chart, turned(p.scale, now.scale)) {
				out[k].attempts[i] = v
			}
			if !followAway {
				return
			}
			for k, n := range q.leavings(p) {
				if out[k].away != nil {
					out[k].away[i] = n <= p.last
				}
			}
		}
	})
	return out, err
}

// turnsSpread is the position among the stops of a chart's signal where percentiles take the
// spread of each replicate the other way round, see turned; -1 for none. Long after the
// attempts it is the spread that decides how often a trainee passes, and with percentiles of
// the spread as it is the intervals of chart-signal ended too early
// (testdata/coverage/chartsignal); those of the other definitions cover as they are.
func (q Question) turnsSpread(noise models.Noise) int {
	if _, normal := models.NormalOn(noise); !normal || q.Interval == resample.BCa {
		return -1
	}
	return slices.IndexFunc(q.stops, func(s stop) bool { return s.definition == ChartSignal })
}

// turned is a replicate's spread s* the other way round about the series' own s: s²/s*.
// With normal noise (n − p)s²/σ² is chi-squared, as (n − p)s*²/s² is in replicates, so that
// percentiles of s²/s* are the exact limits of σ, while those of s* lean to small values.
func turned(spread, own float64) float64 {
	if spread > 0 {
		return own * own / spread
	}
	return spread
}

// notThere is the share of the replicates that do not get there, or lead away from the
// level.
func (d drawn) notThere() float64 {
	not, usable := 0, 0
	for i, v := range d.attempts {
		if math.IsNaN(v) {
			continue
		}
		usable++
		if math.IsInf(v, 1) || d.away[i] {
			not++
		}
	}
	return float64(not) / float64(usable)
}

// Chances lists the chance to pass attempts 1, 2, … up to the horizon by the curve that
// fits best, noise, error limits and hard fails included; nil where there are too few
// attempts for a projection.
func (l Learner) Chances(q Question) []float64 {
	q = q.orDefaults()
	p := l.passing()
	if l.tooLittle() != (analysis.Warning{}) || p.noise.HasScale() && math.IsNaN(p.scale) {
		return nil
	}
	out := make([]float64, int(q.Horizon))
	for i := range out {
		out[i] = q.chance(p, float64(i+1))
	}
	return out
}

// tooLittle says why nothing is projected from a series; blank where something is.
func (l Learner) tooLittle() analysis.Warning {
	early := func(why string) analysis.Warning {
		return analysis.Warning{Code: "too-early", Text: "too early to tell: " + why}
	}
	switch n, f := len(l.Series.Attempt), l.Choice.Fit; {
	case f.Status == fit.Unsuited && len(f.Warnings) > 0:
		return analysis.Warning{Code: "not-fitted", Text: "no curve can be fitted to these attempts: " + f.Warnings[0].Text}
	case n < MinAttempts:
		return early(fmt.Sprintf("%d usable attempts are fewer than the %d needed for a projection", n, MinAttempts))
	case f.Status.Usable():
		return analysis.Warning{}
	case len(f.Warnings) > 0:
		return early(f.Warnings[0].Text)
	default:
		return early(fmt.Sprintf("no curve can be fitted to the %d usable attempts", n))
	}
}

func definitionNames(stops []stop) []string {
	names := []string{MeanCrossing, PassChance}
	for _, s := range stops {
		names = append(names, s.definition)
	}
	return names
}

// leftOut lists, by definition, the attempts that the series without each of its
// attempts gives. The chances of a hard fail and of too many errors stay as they are.
func (q Question) leftOut(s fit.Series, spec fit.Spec, now passing) [][]float64 {
	out := make([][]float64, 2+len(q.stops))
	count := q.newCounter()
	for _, f := range fit.LeaveOneOut(s, spec) {
		p := now
		p.curve, p.scale = f.Curve, f.Scale
		for k, v := range count.crossings(p) {
			out[k] = append(out[k], v)
		}
	}
	return out
}

// averaged is, under each definition, the weighted median over the candidate curves
// with their AICc weights: the attempt by which half of the weight is there, and the one
// from which half of it has left. A median rather than a mean, since a candidate may
// never get there. The interval needs no more: its replicates choose the family anew.
func (q Question) averaged(now passing, choice fit.Choice) (at, leaves []float64) {
	values, left := make([][]float64, 2+len(q.stops)), make([][]float64, 2+len(q.stops))
	count := q.newCounter()
	for _, f := range choice.Fits {
		p := now
		p.curve, p.scale = f.Curve, f.Scale
		crossings, leavings := count.crossings(p), q.leavings(p)
		for k := range values {
			values[k], left[k] = append(values[k], crossings[k]), append(left[k], leavings[k])
		}
	}
	weight := func(i int) float64 { return choice.Candidates[i].Weight }
	for k := range values {
		at, leaves = append(at, weighted(values[k], weight)), append(leaves, weighted(left[k], weight))
	}
	return at, leaves
}

// weighted is the value by which half of the weight is reached, in the order of values.
func weighted(values []float64, weight func(i int) float64) float64 {
	order := make([]int, len(values))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(values[a], values[b]) })
	sum, at := 0.0, math.NaN()
	for _, i := range order {
		at = values[i]
		if sum += weight(i); sum >= 0.5 {
			break
		}
	}
	return at
}

// tooEarly is the answer where nothing can be said yet.
func tooEarly(names []string, q Question, why analysis.Warning) []Answer {
	var out []Answer
	for _, name := range names {
		nan := math.NaN()
		out = append(out, Answer{
			Definition: name, Estimate: nan, Lower: nan, Upper: nan, At: nan, NotReached: nan, Level: q.Level,
			Crossing: resample.Interval{Lower: nan, Upper: nan}, Status: TooEarly, Leaves: nan,
			Warnings: []analysis.Warning{why},
		})
	}
	return out
}

// meanCrossing is the real-valued attempt at which the curve meets the standard; +Inf
// beyond the horizon.
func (q Question) meanCrossing(p passing) float64 {
	return q.crossing(p, q.Standard.Curve(p.noise))
}

// crossing is where the curve first stands at the level or better; +Inf beyond the
// horizon, and where it has left the level again by the last attempt made.
func (q Question) crossing(p passing, level float64) float64 {
	at := q.within(p.curve.Crossing(level, 1, q.Standard.Lower))
	if at < p.last && !q.Standard.Beyond(p.curve.At(p.last), level) {
		return math.Inf(1)
	}
	return at
}

func (q Question) within(n float64) float64 {
	if math.Ceil(n) > q.Horizon {
		return math.Inf(1)
	}
	return n
}

// answer turns an estimate and its interval into whole attempts with a status.
func (q Question) answer(name string, at float64, iv resample.Interval, f fit.Fit, kind fit.Kind) Answer {
	a := Answer{
		Definition: name, At: at, Estimate: wholeAttempts(at), Level: q.Level, Crossing: iv,
		Method:     fmt.Sprintf("%s, %s bootstrap", q.intervalName(), kind),
		Lower:      wholeAttempts(iv.Lower),
		Upper:      wholeAttempts(iv.Upper),
		NotReached: iv.Infinite, Replicates: iv.Replicates + iv.Failed, Failed: iv.Failed, Leaves: math.NaN(),
	}
	a.Crossing.Level = q.Level
	switch {
	case math.IsNaN(at):
		a.Status = TooEarly
	case math.IsInf(at, 1):
		a.Status = BeyondHorizon
	case a.Estimate <= f.Last:
		a.Status = Reached
	default:
		a.Status = Projected
	}
	return a
}

// warnInterval says what an interval cannot say.
func (q Question) warnInterval(a *Answer, iv resample.Interval) {
	if least := math.Ceil(2/(1-q.Level) - 1e-9); q.Level > analysis.DefaultLevel && float64(a.Replicates) < least {
		a.Warnings = append(a.Warnings, analysis.Warning{Code: "few-replicates", Text: fmt.Sprintf("an interval of %g %% takes at least %.0f replicates; with %d it is narrower than it says", 100*q.Level, least, a.Replicates)})
	}
	if iv.Refused() {
		a.Warnings = append(a.Warnings, analysis.Warning{Code: "bootstrap-refused", Text: fmt.Sprintf("%d of %d bootstrap refits failed, too many for an interval", iv.Failed, a.Replicates)})
	} else if math.IsInf(a.Upper, 1) {
		a.Warnings = append(a.Warnings, analysis.Warning{Code: "upper-beyond-horizon", Text: fmt.Sprintf("the interval reaches beyond the horizon of %g attempts; %.0f %% of replicates do not reach the standard within it", q.Horizon, 100*a.NotReached)})
	}
}

func (q Question) intervalName() string {
	if q.Interval == resample.BCa {
		return "BCa"
	}
	return "expanded percentile"
}

// wholeAttempts rounds a crossing up to the attempt at which the standard is
// met, forgiving the rounding of the computation.
func wholeAttempts(n float64) float64 {
	if math.IsInf(n, 0) || math.IsNaN(n) {
		return n
	}
	return math.Ceil(n - 1e-9)
}
