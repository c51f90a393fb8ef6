package study

import (
	"context"
	"fmt"
	"math"

	"tyro/analysis/compare"
	"tyro/analysis/practice"
	"tyro/analysis/proficiency"
	"tyro/analysis/stopping"
	"tyro/analysis/survival"
)

// HazardMeasure is the name of the contrast of how fast arms meet the rule.
const HazardMeasure = "rule-met-hazard"

// observed contrasts what was seen: attempts to the rule, errors and hard fails.
func (w *comparing) observed(ctx context.Context) error {
	if w.Question.Standard.Set() && w.Task.Rule != nil {
		if err := w.rule(ctx); err != nil {
			return err
		}
	}
	return w.counts(ctx)
}

// rule contrasts observed attempts to the rule, up to the last attempt that every arm
// has seen.
func (w *comparing) rule(ctx context.Context) error {
	observed := w.Observed(stopping.Rule{Rule: w.Task.Rule})
	tau := w.commonEnd(observed)
	w.tau = tau
	mean := sample{fmt.Sprintf("rule-met-mean-within-%g", tau), BasisObserved, w.unknowns(), false, 1}
	share := sample{fmt.Sprintf("rule-met-share-by-%g", tau), BasisObserved, w.unknowns(), false, -1}
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
		if len(members) < 2 {
			continue
		}
		means, shares := compare.RestrictedMeans(by[arm], tau), compare.Shares(by[arm], tau)
		for k, i := range members {
			mean.values[i], share.values[i] = means[k], shares[k]
		}
	}
	w.seen = append(w.seen, mean, share)
	for _, x := range []sample{mean, share} {
		cs, err := w.contrasts(ctx, x)
		if err != nil {
			return err
		}
		w.c.Contrasts = append(w.c.Contrasts, cs...)
	}
	if w.o.Cluster != nil {
		return nil // medians and hazards take trainees as independent
	}
	return w.c.pairs(func(ref, arm string) error {
		m, err := compare.MedianRatio(ctx, "rule-met-median", ref, arm, by[ref], by[arm], w.Options.Level, w.Sampling())
		if err != nil {
			return err
		}
		m.Basis = BasisObserved
		w.c.Contrasts = append(w.c.Contrasts, m)
		h, check := compare.Hazards(HazardMeasure, ref, arm, by[ref], by[arm], w.Options.Level)
		h.Basis = BasisObserved
		w.c.Contrasts, w.c.Hazards = append(w.c.Contrasts, h), append(w.c.Hazards, check)
		if check.P < 0.05 {
			w.c.Warnings.Add("hazards-not-proportional", fmt.Sprintf("%s against %s: the ratio of hazards changes over the attempts (χ² = %.3g, p = %.2g), so one ratio describes them badly; read the restricted mean", ArmName(arm), ArmName(ref), check.ChiSquare, check.P))
		}
		return nil
	})
}

// commonEnd is the last attempt up to which every arm has been followed.
func (s *Study) commonEnd(observed []proficiency.Observed) float64 {
	end := math.Inf(1)
	for _, arm := range s.Arms {
		last := 0.0
		for _, i := range s.Members(arm) {
			if v := observed[i].Attempt; !math.IsNaN(v) {
				last = math.Max(last, v)
			}
		}
		end = math.Min(end, last)
	}
	return end
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
		if last := t.Last(); last > 0 {
			window = math.Min(window, last)
		}
	}
	for k, name := range w.Task.Counts {
		err := w.rates(ctx, fmt.Sprintf("%s-to-attempt-%g", name, window), window, func(a practice.Attempt) float64 { return a.Errors[k] })
		if err != nil {
			return err
		}
	}
	if w.Attempts(func(a practice.Attempt) bool { return a.Outcome == practice.Failed }) == 0 {
		return nil
	}
	return w.rates(ctx, fmt.Sprintf("hard-fails-to-attempt-%g", window), window, func(a practice.Attempt) float64 {
		if a.Outcome == practice.Failed {
			return 1
		}
		return 0
	})
}

// rates contrasts events per attempt as a ratio, or as a difference where an arm had
// none.
func (w *comparing) rates(ctx context.Context, name string, window float64, of func(practice.Attempt) float64) error {
	log, plain := sample{name, BasisObserved, w.unknowns(), true, 1}, sample{name, BasisObserved, w.unknowns(), false, 1}
	some := true
	for _, arm := range w.c.Arms {
		var members []int
		var events, attempts []float64
		for _, i := range w.members[arm] {
			e, n := 0.0, 0.0
			for _, a := range w.Trainees[i].Counted() {
				if v := of(a); a.Number <= window && !math.IsNaN(v) {
					e, n = e+v, n+1
				}
			}
			if n > 0 {
				members, events, attempts = append(members, i), append(events, e), append(attempts, n)
			}
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
	}
	x := log
	if !some {
		x = plain
	}
	w.seen = append(w.seen, x)
	cs, err := w.contrasts(ctx, x)
	w.c.Contrasts = append(w.c.Contrasts, cs...)
	return err
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
