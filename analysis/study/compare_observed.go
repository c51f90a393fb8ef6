package study

import (
	"context"
	"fmt"
	"math"
	"slices"

	"tyro/analysis/compare"
	"tyro/analysis/practice"
	"tyro/analysis/proficiency"
	"tyro/analysis/stopping"
	"tyro/analysis/survival"
)

// HazardMeasure is the name of the contrast of how fast arms meet the rule.
const HazardMeasure = "rule-met-hazard"

// hardFails is the name of the contrast of hard fails.
const hardFails = "hard-fails"

const medianMeasure = "rule-met-median"

// observed contrasts what was seen: attempts to the rule, errors and hard fails.
func (w *comparing) observed(ctx context.Context) error {
	if w.Question.Standard.Set() && w.Task.Rule != nil {
		if err := w.rule(ctx); err != nil {
			return err
		}
	}
	return w.counts(ctx)
}

// rule contrasts attempts to the rule, up to the last attempt that every arm has seen.
// Where trainees stopped before it without having met the rule, what was observed takes
// them to be like those who went on, which slow trainees are not: the main contrasts then
// take what the cohort's curve expects of them from their own attempts, and what was
// observed stands beside.
func (w *comparing) rule(ctx context.Context) error {
	observed := w.Observed(stopping.Rule{Rule: w.Task.Rule})
	w.tau = w.commonEnd(observed, w.c.Arms)
	mean := sample{measure: fmt.Sprintf("rule-met-mean-within-%g", w.tau), basis: BasisObserved, values: w.unknowns(), worse: 1}
	share := sample{measure: fmt.Sprintf("rule-met-share-by-%g", w.tau), basis: BasisObserved, values: w.unknowns(), share: true, worse: -1}
	by := map[string][]survival.Observation{}
	for _, arm := range w.c.Arms {
		var members []int
		var obs []proficiency.Observed
		for _, i := range w.members[arm] {
			if !math.IsNaN(observed[i].Attempt) {
				members, obs = append(members, i), append(obs, observed[i])
			}
		}
		by[arm] = proficiency.Survival(obs)
		if len(members) == 0 {
			continue
		}
		means, shares := compare.RestrictedMeans(by[arm], w.tau), compare.Shares(by[arm], w.tau)
		for k, i := range members {
			mean.values[i], share.values[i] = means[k], shares[k]
		}
	}
	expectedMean, expectedShare, stopped, err := w.expectRule(ctx, observed)
	if err != nil {
		return err
	}
	into, lead := &w.c.Contrasts, []sample{mean, share}
	caution := w.stoppedUnmet(stopped)
	asObserved := func(c compare.Contrast) compare.Contrast { // where people stopped, with the reason not to rely on it
		c.Caution = caution
		return c
	}
	if stopped > 0 && expectedMean.values != nil {
		into, lead = &w.c.Sensitivity, []sample{expectedMean, expectedShare}
		asObserved = func(c compare.Contrast) compare.Contrast {
			return compare.Doubted(c, caution+w.instead(c.Measure))
		}
		w.c.Warnings.Add("rule-expected", fmt.Sprintf("%s before attempt %g without having met the rule: how many attempts they would have needed is taken from the cohort's curve and their own attempts; what was observed alone stands beside", counted(stopped, "trainee stopped", "trainees stopped"), w.tau))
		for _, x := range []sample{mean, share} {
			cs, err := w.contrasts(ctx, x)
			if err != nil {
				return err
			}
			for _, c := range cs {
				w.c.Sensitivity = append(w.c.Sensitivity, asObserved(c))
			}
		}
	}
	w.seen = append(w.seen, lead...)
	for _, x := range lead {
		cs, err := w.contrasts(ctx, x)
		if err != nil {
			return err
		}
		for _, c := range cs {
			if x.basis == BasisObserved {
				c = asObserved(c)
			}
			w.c.Contrasts = append(w.c.Contrasts, c)
		}
	}
	if w.o.Cluster != nil {
		if w.wants(medianMeasure) || w.wants(HazardMeasure) {
			w.c.Warnings.Add("no-ratios-in-clusters", "ratios of medians and of hazards are not given with clusters, since they would take trainees of one cluster as unrelated; read the mean number of attempts and the share that met the rule")
		}
		return nil
	}
	return w.c.pairs(func(ref, arm string) error {
		if w.wants(medianMeasure) {
			m, err := compare.MedianRatio(ctx, medianMeasure, ref, arm, by[ref], by[arm], w.Options.Level, w.Sampling())
			if err != nil {
				return err
			}
			m.Basis = BasisObserved
			*into = append(*into, asObserved(m))
		}
		if !w.wants(HazardMeasure) {
			return nil
		}
		h, check := compare.Hazards(HazardMeasure, ref, arm, by[ref], by[arm], w.Options.Level)
		h.Basis = BasisObserved
		*into = append(*into, asObserved(h))
		w.c.Hazards = append(w.c.Hazards, check)
		if text, ok := notProportional(h, check); ok {
			w.c.Warnings.Add("hazards-not-proportional", text+"; read the restricted mean")
		}
		return nil
	})
}

// stoppedUnmet says why what was observed of the rule is not to be relied on; "" where nobody
// stopped before it was met.
func (w *comparing) stoppedUnmet(stopped int) string {
	if stopped == 0 {
		return ""
	}
	return fmt.Sprintf("%s before attempt %g without having met the rule, and what was observed alone takes them to be like those who went on: where the slow stop sooner in one arm, that arm looks better than it is", counted(stopped, "trainee stopped", "trainees stopped"), w.tau)
}

// instead says what to read in place of a measure as observed.
func (w *comparing) instead(measure string) string {
	if measure == medianMeasure || measure == HazardMeasure {
		return fmt.Sprintf("; there is no p, and the interval is no test: read rule-met-mean-within-%g of the main contrasts in its place", w.tau)
	}
	return "; there is no p, and the interval is no test: read the same measure of the main contrasts, which expects of them what the curve and their own attempts say"
}

// stoppedBefore says of what was observed of a trainee whether it ended before an attempt
// without the rule being met.
func stoppedBefore(end float64) func(proficiency.Observed) bool {
	return func(o proficiency.Observed) bool {
		return !math.IsNaN(o.Attempt) && !o.Met && o.Attempt < end
	}
}

// expectRule gives every trainee the attempts to the rule, up to tau, and the chance of
// having met it by then: as observed, and for those who stopped before as the cohort's
// curve expects of them. Samples without values: there is no such curve.
func (w *comparing) expectRule(ctx context.Context, observed []proficiency.Observed) (mean, share sample, stopped int, err error) {
	mean = sample{measure: fmt.Sprintf("rule-met-mean-within-%g", w.tau), basis: BasisExpected, worse: 1}
	share = sample{measure: fmt.Sprintf("rule-met-share-by-%g", w.tau), basis: BasisExpected, share: true, worse: -1}
	early := map[string]bool{}
	for i, o := range observed {
		if stoppedBefore(w.tau)(o) {
			early[w.Trainees[i].ID] = true
		}
	}
	if stopped = len(early); stopped == 0 {
		return mean, share, stopped, nil
	}
	if w.fit == nil {
		return mean, share, stopped, w.notExpected(ctx, ErrNoCohort)
	}
	pooled, err := w.Pool(ctx, w.fit)
	if err != nil {
		return mean, share, stopped, w.notExpected(ctx, err)
	}
	var people []practice.Trainee
	for _, t := range w.fit.People {
		if early[t.ID] {
			people = append(people, t)
		}
	}
	byCard, err := pooled.MetByCard(ctx, people, int(w.tau), w.Sampling())
	if err != nil {
		return mean, share, stopped, w.notExpected(ctx, err)
	}
	mean.values, share.values = w.unknowns(), w.unknowns()
	for i, o := range observed {
		switch {
		case math.IsNaN(o.Attempt) || early[w.Trainees[i].ID]:
		case o.Met && o.Attempt <= w.tau:
			mean.values[i], share.values[i] = o.Attempt, 1
		default:
			mean.values[i], share.values[i] = w.tau, 0
		}
	}
	means, shares := map[string][]float64{}, map[string][]float64{} // by arm and card, sums over those expected
	for k, t := range people {
		i := slices.IndexFunc(w.Trainees, func(o practice.Trainee) bool { return o.ID == t.ID })
		e := expectedOf(byCard[k], t.Last(), w.tau)
		mean.values[i], share.values[i] = e.mean, e.share
		if means[t.Arm] == nil {
			means[t.Arm], shares[t.Arm] = make([]float64, len(e.means)), make([]float64, len(e.means))
		}
		for c := range e.means {
			means[t.Arm][c] += e.means[c]
			shares[t.Arm][c] += e.shares[c]
		}
	}
	w.lean(&mean, means)
	w.lean(&share, shares)
	return mean, share, stopped, nil
}

// lean adds to every trainee's number what the trainee adds to those expected of others,
// through the cohort's curve that they were read off: sums has, by arm and draw of the
// cohort's parameters, the sum of the numbers expected.
func (w *comparing) lean(x *sample, sums map[string][]float64) {
	for arm, sum := range sums {
		added := w.contributions.Through(sum, w.Sampling().Seed)
		var own []int // of the arm's numbers, the positions
		var moves []float64
		for k, m := range w.fit.Members {
			i := slices.IndexFunc(w.Trainees, func(o practice.Trainee) bool { return o.ID == m.ID })
			if m.Arm == arm && !math.IsNaN(x.values[i]) {
				own, moves = append(own, i), append(moves, added[k])
			}
		}
		centre := 0.0
		for _, v := range moves {
			centre += v / float64(len(moves))
		}
		for k, i := range own {
			x.values[i] += moves[k] - centre
		}
	}
}

// An expectation is what is expected of a trainee who stopped: attempts to the rule, up to
// tau, and the chance of having met it by then.
type expectation struct {
	mean, share   float64   // over all cards
	means, shares []float64 // by card
}

// expectedOf works it out from the chances to have met the rule by each attempt after last,
// under each card; a card that is not possible counts as the average one.
func expectedOf(byCard [][]float64, last, tau float64) expectation {
	e := expectation{means: make([]float64, len(byCard)), shares: make([]float64, len(byCard))}
	n := 0.0
	for c, met := range byCard {
		if met == nil {
			e.means[c], e.shares[c] = math.NaN(), math.NaN()
			continue
		}
		// The mean is the sum of the chances not to have met it by 0, 1, …, tau − 1.
		sum := last
		for k := last; k < tau; k++ {
			by := 0.0
			if k > last {
				by = met[int(k-last)-1]
			}
			sum += 1 - by
		}
		e.means[c], e.shares[c] = sum, met[len(met)-1]
		n, e.mean, e.share = n+1, e.mean+sum, e.share+met[len(met)-1]
	}
	e.mean, e.share = e.mean/n, e.share/n
	for c := range e.means {
		if math.IsNaN(e.means[c]) {
			e.means[c], e.shares[c] = e.mean, e.share
		}
	}
	return e
}

// notExpected lets what was observed lead where nothing can be expected.
func (w *comparing) notExpected(ctx context.Context, err error) error {
	if ctx.Err() != nil {
		return err
	}
	w.c.Warnings.Add("rule-not-expected", fmt.Sprintf("trainees stopped before meeting the rule, and what they would have needed cannot be told: %v; the contrasts of the rule take them to be like those who went on", err))
	return nil
}

// commonEnd is the last attempt up to which every arm has been followed. Who has met the
// rule has met it for good: an arm in which everybody has is known at every later attempt,
// and ends nothing. (To end at its last attempt would compare arms just where one of them is
// complete.)
func (s *Study) commonEnd(observed []proficiency.Observed, arms []string) float64 {
	end, latest := math.Inf(1), 0.0
	for _, arm := range arms {
		last, open := 0.0, false
		for _, i := range s.Members(arm) {
			if o := observed[i]; !math.IsNaN(o.Attempt) {
				last = math.Max(last, o.Attempt)
				open = open || !o.Met
			}
		}
		if open {
			end = math.Min(end, last)
		}
		latest = math.Max(latest, last)
	}
	return math.Min(end, latest)
}

func (w *comparing) unknowns() []float64 {
	out := make([]float64, len(w.Trainees))
	for i := range out {
		out[i] = math.NaN()
	}
	return out
}

// counts contrasts errors and hard fails per attempt, over the first attempts that every
// trainee made: later ones are of those who were still practising.
func (w *comparing) counts(ctx context.Context) error {
	window := math.Inf(1)
	for _, t := range w.Trainees {
		if last := t.Last(); last > 0 && slices.Contains(w.c.Arms, t.Arm) {
			window = math.Min(window, last)
		}
	}
	for k, name := range w.Task.Counts {
		if !w.wants(name) {
			continue
		}
		err := w.rates(ctx, fmt.Sprintf("%s-to-attempt-%g", name, window), window, func(a practice.Attempt) float64 { return a.Errors[k] })
		if err != nil {
			return err
		}
	}
	if !w.wants(hardFails) || w.Attempts(func(a practice.Attempt) bool { return a.Outcome == practice.Failed }) == 0 {
		return nil
	}
	return w.rates(ctx, fmt.Sprintf("%s-to-attempt-%g", hardFails, window), window, func(a practice.Attempt) float64 {
		if a.Outcome == practice.Failed {
			return 1
		}
		return 0
	})
}

// rates contrasts events per attempt as a ratio, or as a difference where an arm had
// none.
func (w *comparing) rates(ctx context.Context, name string, window float64, of func(practice.Attempt) float64) error {
	log := sample{measure: name, basis: BasisObserved, values: w.unknowns(), ratio: true, worse: 1}
	plain := sample{measure: name, basis: BasisObserved, values: w.unknowns(), worse: 1}
	some, counts := true, map[string]compare.Counts{}
	for _, arm := range w.c.Arms {
		var members []int
		var events, attempts []float64
		blank, all := 0, 0
		for _, i := range w.members[arm] {
			e, n := 0.0, 0.0
			for _, a := range w.Trainees[i].Counted() {
				if a.Number > window {
					continue
				}
				all++
				if v := of(a); math.IsNaN(v) {
					blank++
				} else {
					e, n = e+v, n+1
				}
			}
			if n > 0 {
				members, events, attempts = append(members, i), append(events, e), append(attempts, n)
			}
		}
		if blank > 0 {
			w.c.Warnings.Add("counts-missing", fmt.Sprintf("arm %s: %s blank in %d of %d attempts, which are left out; where errors went unnoted the arm looks better than it is", ArmName(arm), name, blank, all))
		}
		if len(members) == 0 {
			return nil
		}
		total := 0.0
		logs := compare.LogRates(events, attempts)
		for k, i := range members {
			log.values[i], plain.values[i] = logs[k], events[k]/attempts[k]
			total += events[k]
		}
		some = some && total > 0
		counts[arm] = compare.Counts{Name: arm, Events: events, Attempts: attempts, Cluster: w.armOf(arm, members, log.values).Cluster}
	}
	if !some {
		w.seen = append(w.seen, plain)
		cs, err := w.contrasts(ctx, plain)
		w.c.Contrasts = append(w.c.Contrasts, cs...)
		return err
	}
	w.seen = append(w.seen, log)
	return w.c.pairs(func(ref, arm string) error {
		c, err := compare.RateRatio(ctx, name, counts[ref], counts[arm], w.Options.Level, w.Sampling())
		w.c.Contrasts = append(w.c.Contrasts, finished(c, log))
		return err
	})
}

// trades names pairs in which what is better on the level is worse on errors.
func (c *Comparison) trades(lower bool) {
	level := fmt.Sprintf("level-at-attempt-%g", c.At)
	for _, l := range c.Contrasts {
		if l.Measure != level {
			continue
		}
		for _, e := range c.Contrasts {
			if e.Arm != l.Arm || e.Reference != l.Reference || e.Basis != BasisObserved || !errorMeasure(e.Measure) || math.IsNaN(e.Estimate) || math.IsNaN(l.Estimate) {
				continue
			}
			armBetter := l.Estimate > l.None()
			if lower {
				armBetter = l.Estimate < l.None()
			}
			t := Trade{Arm: l.Arm, Reference: l.Reference, Level: l, Errors: e, LevelSure: l.Known() && !l.Open(), Sure: e.Known() && !e.Open()}
			if !armBetter {
				t.Arm, t.Reference = l.Reference, l.Arm
			}
			if armBetter == (e.Estimate > e.None()) && e.Estimate != e.None() && l.Estimate != l.None() {
				c.Trades = append(c.Trades, t)
			}
		}
	}
}
