package study

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"tyro/analysis"
	"tyro/analysis/cohort"
	"tyro/analysis/compare"
	"tyro/analysis/practice"
)

// CompareOptions are the choices of a comparison; the zero value of a field means its
// default.
type CompareOptions struct {
	Reference string            // "" means the first arm
	At        float64           // attempt at which levels are compared; 0: the last that half of every arm made
	Cluster   map[string]string // site or session group by trainee; nil: none
	Received  map[string]string // the arm as received by trainee; nil: not known
	// LikelihoodRatio also sets the cohort's fit against fits in which arms are alike.
	LikelihoodRatio bool
	Refits          int // cohorts of drawn trainees to fit for intervals beside; 0: none
	// Versions of the scoring rule or of the standard by trainee: more than one cannot be
	// compared; nil: one for all.
	Versions map[string]string
}

// The bases of contrasts.
const (
	BasisCohort   = "cohort's curve"
	BasisOwn      = "own curves"
	BasisObserved = "observed"
	BasisExpected = "observed, with the curve's expectation of those who stopped"
)

// A Comparison sets the study's arms against each other.
type Comparison struct {
	Arms      []string // the reference first
	At        float64  // attempt at which levels are compared
	Family    string   // of the curve on which all trainees are compared
	Cohort    bool     // the main contrasts are of the cohort's curve
	Lead      []FamilyLead
	Ratios    []compare.LikelihoodRatio
	Overall   *compare.Overall   // whether any of the curves differ; nil where not worked out
	Contrasts []compare.Contrast // every pair, later arms against earlier ones; adjusted together
	// Sensitivity are the same questions from every trainee's own curve, and methods for
	// one number a trainee on the level at attempt At.
	Sensitivity []compare.Contrast
	Slopes      []SlopeTest        // whether slopes on the first attempt differ between arms
	Course      []CoursePoint      // the level contrasted from attempt 1 to At
	Margin      *MarginAnswer      // nil where the study states none
	Received    []compare.Contrast // arms as received; nil where not known or the same
	Switched    int                // trainees who received another arm
	Departures  []compare.Departure
	Hazards     []compare.HazardCheck // by contrast, in the order of those named rule-met-hazard
	Trades      []Trade
	Followed    []ArmFollowed
	Warnings    Warnings
}

// An ArmFollowed says how far an arm's trainees were seen.
type ArmFollowed struct {
	Arm                 string
	Trainees            int
	Unseen              int     // without a usable attempt
	First, Median, Last float64 // of the trainees' last attempts: lowest, middle, highest
	StoppedMet          int     // whose last attempt lies before At, rule met
	StoppedNotMet       int     // the same, rule not met, or no rule stated
}

// A SlopeTest asks whether the slope of a level on the first attempt differs between two
// arms, which the adjusted contrast of that measure takes it not to.
type SlopeTest struct {
	Measure, Arm, Reference, Basis string
	compare.FTest
}

// A CoursePoint is the contrast of the level at one attempt; its interval is of that
// attempt alone.
type CoursePoint struct {
	Attempt float64
	compare.Contrast
}

// A MarginAnswer is the contrast of the measure that the study's margin is about.
type MarginAnswer struct {
	practice.Margin
	Contrasts []compare.Contrast
}

// A Trade is one pair of arms in which an arm is better on the level and worse on errors
// or hard fails, by the estimates.
type Trade struct {
	Arm, Reference  string // the arm that is better on the level
	Level, Errors   compare.Contrast
	LevelSure, Sure bool // the interval of the level, of the errors, excludes no change
}

// A FamilyLead is how much higher a family's AICc is, summed over trainees, than that
// of the family taken.
type FamilyLead struct {
	Family string
	Higher float64
}

// Compare contrasts every pair of the study's arms.
func (s *Study) Compare(ctx context.Context, o CompareOptions) (*Comparison, error) {
	w, err := s.comparing(o)
	if err != nil {
		return nil, err
	}
	for _, part := range []func(context.Context) error{
		w.ownCurves, w.curves, w.likelihood, w.refits, w.observed, w.margin, w.departures, w.received,
	} {
		if err := part(ctx); err != nil {
			return nil, err
		}
	}
	if w.nothing != nil && !slices.ContainsFunc(w.c.Contrasts, saysSomething) {
		return nil, w.nothing
	}
	w.cautionUnequal()
	w.cautionOwn()
	w.cautionVast()
	w.c.trades(s.Task.Lower)
	compare.AdjustWithin(w.c.Contrasts, func(compare.Contrast) string { return "" })
	compare.AdjustWithin(w.c.Received, func(compare.Contrast) string { return "" })
	w.remarks()
	return w.c, nil
}

// saysSomething reports whether a contrast has an interval, or is of arms in which somebody met
// the rule.
func saysSomething(c compare.Contrast) bool {
	return c.Known() || strings.HasPrefix(c.Measure, "rule-met-share") && (c.ArmValue > 0 || c.RefValue > 0)
}

// A comparing makes the answer, part by part.
type comparing struct {
	*Study
	o       CompareOptions
	c       *Comparison
	members map[string][]int // positions of trainees by arm
	ratio   bool             // measures of the curve are compared as ratios

	samples       []sample              // numbers a trainee behind the main contrasts of curves
	owns          []sample              // the same of the trainees' own curves
	seen          []sample              // of what was observed
	fit           *CohortFit            // nil without a curve of all trainees together
	contributions *cohort.Contributions // of its members
	only          string                // measure that alone is asked for; "": all
	noOwn         error                 // why trainees have no curves of their own
	nothing       error                 // why there are no contrasts of curves at all
	tau           float64               // attempt up to which arms are compared on the rule
}

// A sample is one measure with a number for every trainee of the study; NaN where there
// is none.
type sample struct {
	measure string
	basis   string
	values  []float64 // logarithms where ratio
	ratio   bool
	share   bool      // numbers are 0 and 1, or stand for them
	weight  []float64 // by trainee, the share of what is known of the number; nil: all alike
	worse   float64   // +1 where larger values are worse, −1 where smaller are, 0 where neither
}

// comparing settles the choices.
func (s *Study) comparing(o CompareOptions) (*comparing, error) {
	w := &comparing{Study: s, o: o, members: map[string][]int{}, c: &Comparison{}}
	arms, err := w.comparable()
	if err != nil {
		return nil, err
	}
	if err := oneVersion(s.Trainees, o.Versions); err != nil {
		return nil, err
	}
	if err := s.inTime(s.Task.Margin); err != nil {
		return nil, err
	}
	if o.Reference != "" {
		k := slices.Index(arms, o.Reference)
		if k < 0 {
			return nil, fmt.Errorf("reference %q is no arm of the data; they are %s", o.Reference, strings.Join(arms, ", "))
		}
		arms = slices.Insert(slices.Delete(arms, k, k+1), 0, o.Reference)
	}
	w.c.Arms = arms
	w.ratio = s.comparesRatios()
	for _, a := range arms {
		w.members[a] = s.Members(a)
	}
	if w.c.At = o.At; w.c.At == 0 {
		w.c.At = s.sharedAttempt(arms)
	}
	w.follow()
	return w, nil
}

// comparesRatios reports whether measures of curves are compared as ratios.
func (s *Study) comparesRatios() bool {
	return s.Task.Measure == practice.Time || s.Task.Measure == practice.Count
}

// comparable are the arms that can be compared: named, and with attempts that count. The
// others are told.
func (w *comparing) comparable() ([]string, error) {
	var arms, empty []string
	for _, arm := range w.Arms {
		members := w.Members(arm)
		switch {
		case arm == "":
			w.c.Warnings.Add("no-arm", fmt.Sprintf("%s no arm and %s in no contrast; give them an arm in the data to compare them", counted(len(members), "trainee has", "trainees have"), isAre(len(members))))
		case !slices.ContainsFunc(members, func(i int) bool { return len(w.Trainees[i].Counted()) > 0 }):
			empty = append(empty, arm)
			w.c.Warnings.Add("arm-without-attempts", fmt.Sprintf("arm %s is in no contrast: none of its trainees has an attempt that counts (all are void or blank)", arm))
		default:
			arms = append(arms, arm)
		}
	}
	switch {
	case len(arms) >= 2:
		return arms, nil
	case len(empty) > 0:
		return nil, fmt.Errorf("comparing needs at least two arms with attempts that count; arm %s has none (all are void or blank)", strings.Join(empty, ", "))
	case len(w.c.Warnings) > 0:
		return nil, fmt.Errorf("comparing needs at least two arms; the data name %d (%s)", len(arms), w.c.Warnings[0].Text)
	}
	return nil, fmt.Errorf("comparing needs at least two arms; the data have %d (name the column with --arm)", len(arms))
}

// oneVersion refuses trainees whose attempts were judged by different rules.
func oneVersion(ts []practice.Trainee, versions map[string]string) error {
	var seen []string
	for _, t := range ts {
		if v, ok := versions[t.ID]; ok && !slices.Contains(seen, v) {
			seen = append(seen, v)
		}
	}
	if len(seen) > 1 {
		return fmt.Errorf("the attempts were judged by %d versions of the scoring rule or standard (%s), which cannot be compared: score all of them by one version, or leave the others out", len(seen), strings.Join(seen, ", "))
	}
	return nil
}

// lastMeasured is the number of a trainee's last usable attempt; 0 without one.
func lastMeasured(t practice.Trainee) float64 {
	last := 0.0
	for _, a := range t.Attempts {
		if a.Measured() {
			last = math.Max(last, a.Number)
		}
	}
	return last
}

// sharedAttempt is the last attempt that at least half of every arm's trainees made.
func (s *Study) sharedAttempt(arms []string) float64 {
	shared := math.Inf(1)
	for _, arm := range arms {
		var lasts []float64
		for _, i := range s.Members(arm) {
			lasts = append(lasts, lastMeasured(s.Trainees[i]))
		}
		if slices.Sort(lasts); lasts[len(lasts)-1] > 0 { // an arm of hard fails alone has no level anywhere
			shared = math.Min(shared, lasts[len(lasts)/2])
		}
	}
	return math.Max(1, shared)
}

// follow says how far every arm was seen.
func (w *comparing) follow() {
	for _, arm := range w.c.Arms {
		f := ArmFollowed{Arm: arm, First: math.NaN(), Median: math.NaN(), Last: math.NaN()}
		var lasts []float64
		for _, i := range w.members[arm] {
			t := w.Trainees[i]
			f.Trainees++
			last := lastMeasured(t)
			if last == 0 {
				f.Unseen++
				continue
			}
			lasts = append(lasts, last)
			switch {
			case last >= w.c.At:
			case w.Task.Rule != nil && w.Task.Rule.FirstMet(t.Passes(w.Question.Standard)) > 0:
				f.StoppedMet++
			default:
				f.StoppedNotMet++
			}
		}
		if n := len(lasts); n > 0 {
			slices.Sort(lasts)
			f.First, f.Median, f.Last = lasts[0], lasts[n/2], lasts[n-1]
		}
		w.c.Followed = append(w.c.Followed, f)
	}
}

// pairs lists every pair of arms, the earlier one as the reference.
func (c *Comparison) pairs(visit func(ref, arm string) error) error {
	for k, arm := range c.Arms {
		for _, ref := range c.Arms[:k] {
			if err := visit(ref, arm); err != nil {
				return err
			}
		}
	}
	return nil
}

// armOf is an arm's trainees with a sample's numbers.
func (w *comparing) armOf(name string, members []int, values []float64) compare.Arm {
	a := compare.Arm{Name: name}
	for _, i := range members {
		a.Values = append(a.Values, values[i])
		if w.o.Cluster != nil {
			a.Cluster = append(a.Cluster, w.o.Cluster[w.Trainees[i].ID])
		}
	}
	return a
}

// contrasts compares every pair of arms on a sample.
func (w *comparing) contrasts(ctx context.Context, x sample) ([]compare.Contrast, error) {
	if !w.wants(x.measure) {
		return nil, nil
	}
	var out []compare.Contrast
	if x.basis == BasisCohort || x.basis == BasisOwn {
		w.settle(x)
	}
	err := w.c.pairs(func(ref, arm string) error {
		c, err := w.means(x, ref, arm)(ctx, w.armOf(ref, w.members[ref], x.values), w.armOf(arm, w.members[arm], x.values))
		if err != nil {
			return err
		}
		out = append(out, finished(c, x))
		return nil
	})
	return out, err
}

// searched is to how much of themselves numbers of a fitted curve are known: differences
// below it are the search's, not the trainees'.
const searched = 1e-5

// settle makes numbers of curves the same that differ by no more than the search does.
func (w *comparing) settle(x sample) {
	lowest, highest := math.Inf(1), math.Inf(-1)
	for _, v := range x.values {
		if !math.IsNaN(v) {
			lowest, highest = math.Min(lowest, v), math.Max(highest, v)
		}
	}
	size := math.Max(math.Abs(lowest), math.Abs(highest))
	if x.ratio {
		size = 1
	}
	if !(highest-lowest <= searched*size) {
		return
	}
	for i, v := range x.values {
		if !math.IsNaN(v) {
			x.values[i] = (lowest + highest) / 2
		}
	}
}

// unequal is from which share of its trainees on an arm's are taken to be worth the same.
const unequal = 0.8

// means is the method that compares a sample's means. Where few trainees of an arm hold most
// of what is known, or shares are partly expected, t with the degrees of freedom of those few
// takes the place of dealing out: a deal takes each for as good as the other.
func (w *comparing) means(x sample, ref, arm string) compare.Means {
	refWorth, armWorth, leans := w.leaning(x, ref, arm)
	return func(ctx context.Context, r, a compare.Arm) (compare.Contrast, error) {
		r.Share, a.Share = x.share, x.share
		if leans {
			c := compare.Leaning(x.measure, r, a, refWorth, armWorth, w.Options.Level)
			if x.measure == "plateau" {
				c.Warnings = append(c.Warnings, analysis.Warning{Code: "plateau-beyond", Text: plateauBeyond})
			}
			return c, nil
		}
		return compare.Shift(ctx, x.measure, r, a, w.Options.Level, w.Sampling())
	}
}

// plateauBeyond is said of plateaus to which few trainees practised.
const plateauBeyond = "many trainees stopped well before their plateau, so that few hold most of what is known of it and the curve is followed beyond the attempts of the others: there an estimate that is far out has a large standard error, and the test errs on the safe side (of simulated studies without a difference in which practice stopped at the rule it rejected in about half as many as it may)"

// leaning is how many trainees those of two arms are worth, and whether that is to be minded.
func (w *comparing) leaning(x sample, ref, arm string) (refWorth, armWorth float64, leans bool) {
	worth := func(name string) (float64, bool) {
		var ws []float64
		for _, i := range w.members[name] {
			if !math.IsNaN(x.values[i]) {
				ws = append(ws, 1)
				if x.weight != nil {
					ws[len(ws)-1] = x.weight[i]
				}
			}
		}
		n := compare.Worth(ws)
		return n, n < unequal*float64(len(ws))
	}
	refWorth, refLeans := worth(ref)
	armWorth, armLeans := worth(arm)
	return refWorth, armWorth, w.o.Cluster == nil && (refLeans || armLeans || x.share && x.basis == BasisExpected)
}

// finished is a contrast of a sample in the measure's unit.
func finished(c compare.Contrast, x sample) compare.Contrast {
	c.Basis = x.basis
	if x.ratio {
		return compare.AsRatio(c)
	}
	return c
}

// cautionOwn says of contrasts of own curves, where those of the cohort's curve lead, why not to
// rely on them when trainees of the two arms stopped before the attempt that levels are compared at. Where some had
// not met the standard then, as when the slow are sent away, they have no test: it tells a difference where none is.
func (w *comparing) cautionOwn() {
	if !w.c.Cohort {
		return
	}
	for k, c := range w.c.Sensitivity {
		if c.Caution != "" || c.Basis != BasisOwn && c.Basis != w.ownLevel() {
			continue
		}
		stopped, unmet := 0, 0
		for _, f := range w.c.Followed {
			if f.Arm == c.Arm || f.Arm == c.Reference {
				stopped, unmet = stopped+f.StoppedMet+f.StoppedNotMet, unmet+f.StoppedNotMet
			}
		}
		if stopped == 0 {
			continue
		}
		c.Caution = fmt.Sprintf("%s last seen before attempt %g: their own curves are short and may lead where they would not have gone, and where the slow, or the quick, stop sooner in one arm, that alone sets the arms apart: read the main contrasts, of the cohort's curve", counted(stopped, "trainee was", "trainees were"), w.c.At)
		if unmet > 0 {
			c = compare.Doubted(c, c.Caution)
		}
		w.c.Sensitivity[k] = c
	}
}

// remarks turns what was noticed into warnings.
func (w *comparing) remarks() {
	w.remarkGoal()
	w.remarkOppositeWays()
	w.remarkContrasts()
	w.remarkReplicates()
	w.remarkPlaces()
	for _, f := range w.c.Followed {
		if f.Unseen > 0 {
			w.c.Warnings.Add("trainees-unseen", fmt.Sprintf("arm %s: %s no usable attempt and %s in no contrast", ArmName(f.Arm), counted(f.Unseen, "trainee has", "trainees have"), isAre(f.Unseen)))
		}
		if n := f.StoppedMet + f.StoppedNotMet; n > 0 {
			w.c.Warnings.Add("stopped-early", fmt.Sprintf("arm %s: %d of %d trainees were last seen before attempt %g, %d of them without having met the rule; what they would have done after is taken from the curve, and the tipping points say how much worse they must have been to change an answer",
				ArmName(f.Arm), n, f.Trainees, w.c.At, f.StoppedNotMet))
		}
	}
}

// remarkGoal tells a rule or a standard that is of no use here, since the other is missing.
func (w *comparing) remarkGoal() {
	switch standard := w.Question.Standard.Set(); {
	case w.Task.Rule != nil && !standard:
		why := "nobody's passes are known and the attempts to the rule are not compared; give --standard, or set it in the study file"
		if w.Task.Measure == practice.PassFail {
			why = "the attempts to the rule are not compared; of passes and fails the standard is the chance to pass that is asked for: give --standard, such as 0.8, or set it in the study file"
		}
		w.c.Warnings.Add("rule-without-standard", "a rule is stated but no standard, so "+why)
	case w.Task.Rule == nil && standard:
		w.c.Warnings.Add("standard-without-rule", `a standard is stated but no rule, so the attempts to the rule are not compared; give --rule, such as "2 in a row", or set it in the study file`)
	}
}

// remarkContrasts tells the warnings of contrasts, each once a pair of arms with all the
// measures that it is about.
func (w *comparing) remarkContrasts() {
	type remark struct{ pair, code, text string }
	var order []remark
	about := map[remark][]string{}
	note := func(c compare.Contrast, code, text string) {
		r := remark{fmt.Sprintf("%s against %s", ArmName(c.Arm), ArmName(c.Reference)), code, text}
		if about[r] == nil {
			order = append(order, r)
		}
		about[r] = append(about[r], c.Measure)
	}
	for _, c := range slices.Concat(w.c.Contrasts, w.c.Received) {
		for _, m := range c.Warnings {
			note(c, m.Code, m.Text)
		}
		if math.IsNaN(c.Estimate) && len(c.Warnings) == 0 {
			note(c, "no-contrast", "an arm has no number, so there is no contrast")
		}
	}
	for _, r := range order {
		w.c.Warnings.Add(r.code, fmt.Sprintf("%s, %s: %s", r.pair, strings.Join(about[r], ", "), r.text))
	}
}

// fewTrainees is below which an arm's spread is hardly known.
const fewTrainees = 5

// remarkPlaces says where numbers of curves lie outside what was seen of an arm, and which
// arms are hardly known.
func (w *comparing) remarkPlaces() {
	for _, f := range w.c.Followed {
		first, capped, attempts := math.Inf(1), 0, 0
		for _, i := range w.members[f.Arm] {
			for _, a := range w.Trainees[i].Attempts {
				if a.Measured() {
					first, attempts = math.Min(first, a.Number), attempts+1
					if a.Censored {
						capped++
					}
				}
			}
		}
		name := ArmName(f.Arm)
		if attempts == 0 {
			w.c.Warnings.Add("no-measure", fmt.Sprintf("arm %s: no attempt has a measure (all are hard fails), so its curve is not known and not compared", name))
			continue
		}
		if first > 1 && !math.IsInf(first, 1) {
			w.c.Warnings.Add("before-attempts", fmt.Sprintf("arm %s was first seen at attempt %g: its starting level and its mean level are read off the curve before anything was seen, and a contrast of them may be due to that alone", name, first))
		}
		if f.Last < w.c.At {
			w.c.Warnings.Add("beyond-attempts", fmt.Sprintf("arm %s was last seen at attempt %g: its level at attempt %g is what the curve says beyond anything seen", name, f.Last, w.c.At))
		}
		if capped == attempts && attempts > 0 {
			w.c.Warnings.Add("all-at-limit", fmt.Sprintf("arm %s: every attempt ran into the limit, so of its curve only that it lies beyond the limit is known, and curves cannot be compared with it; the rule can", name))
		}
		if n := f.Trainees - f.Unseen; n > 0 && n < fewTrainees {
			w.c.Warnings.Add("few-in-arm", fmt.Sprintf("arm %s has %s with attempts: how much its trainees differ is hardly known, and intervals and tests lean on that", name, counted(n, "trainee", "trainees")))
		}
	}
}

// remarkReplicates says where so few replicates were drawn that no contrast could count once
// all are judged together: the lowest p of a permutation is one over replicates plus one.
func (w *comparing) remarkReplicates() {
	tests, coarse, exact := 0, 0, false
	for _, c := range w.c.Contrasts {
		if math.IsNaN(c.P) {
			continue
		}
		tests++
		if c.Replicates > 0 && (coarse == 0 || c.Replicates < coarse) {
			coarse, exact = c.Replicates, c.Exact
		}
	}
	level, err := analysis.Level(w.Options.Level)
	for _, c := range w.c.Contrasts {
		if c.P < 1/float64(coarse+1) {
			tests-- // judged before the first of a permutation
		}
	}
	if err != nil || coarse == 0 || float64(tests) <= (1-level)*float64(coarse+1) {
		return
	}
	if exact {
		w.c.Warnings.Add("few-deals", fmt.Sprintf("there are only %d ways to deal these trainees out to two arms, so no p of a permutation is below %.2g: of %d contrasts judged together none could count, whatever the attempts; read the intervals", coarse, 1/float64(coarse), tests))
		return
	}
	w.c.Warnings.Add("few-replicates", fmt.Sprintf("with %d replicates no p of a permutation is below %.2g, so that of %d contrasts judged together none could count; ask for at least %.0f replicates", coarse, 1/float64(coarse+1), tests, math.Ceil(float64(tests)/(1-level)-1e-9)))
}

func isAre(n int) string {
	if n == 1 {
		return "is"
	}
	return "are"
}
