package study

import (
	"context"
	"errors"
	"fmt"
	"math"

	"tyro/analysis/practice"
	"tyro/analysis/standard"
)

// An ExpertPanel is who a standard came from.
type ExpertPanel struct {
	standard.Expert
	Names   []string    // in the order first seen; nil where rows are experts
	Runs    [][]float64 // of each, void ones apart; NaN where a run was not done
	Values  []float64   // one an expert, by the rule's summary; NaN without a usable run
	Several bool        // somebody has more than one run

	Known, Meeting int // experts with a value, left out by the rule or not, and those of them who meet the standard
}

// expertRuns lists every expert's runs that count, in order. Only a run that was done
// has a value.
func (s *Study) expertRuns() *ExpertPanel {
	p := &ExpertPanel{Runs: make([][]float64, len(s.Experts))}
	named := false
	for i, e := range s.Experts {
		p.Names, named = append(p.Names, e.ID), named || e.ID != ""
		for _, a := range e.Counted() {
			v := math.NaN()
			if a.Outcome == practice.Done {
				v = a.Response
			}
			p.Runs[i] = append(p.Runs[i], v)
		}
		p.Several = p.Several || len(p.Runs[i]) > 1
	}
	if !named {
		p.Names = nil
	}
	return p
}

// fromExperts answers from the experts, and beside it by the other ways of summing up
// the same people.
func (a *Standard) fromExperts(ctx context.Context, s *Study) error {
	if len(s.Experts) == 0 {
		return errors.New("the study has no experts; name their log in the study file (experts:)")
	}
	p := s.expertRuns()
	var err error
	if p.Values, err = standard.Summaries(p.Runs, a.Rule.Summary, a.Rule.SkipRuns, a.Lower); err != nil {
		return err
	}
	if p.Expert, err = s.expertStandard(ctx, a.Rule, p.Values); err != nil {
		return err
	}
	a.Experts, a.Estimate = p, p.Estimate
	a.runsNotDone(p)
	level := practice.Standard{Value: p.Value, Lower: a.Lower}
	for _, v := range p.Values {
		if !math.IsNaN(v) {
			p.Known++
			if level.Meets(v) {
				p.Meeting++
			}
		}
	}
	for _, other := range []StandardRule{
		{Method: ExpertMean}, {Method: ExpertMean, Drop: standard.Drop{Trim: 0.1}}, {Method: ExpertMean, Drop: standard.Drop{SDs: 2}},
		{Method: ExpertMean, Drop: standard.Drop{MADs: 3.5}}, {Method: ExpertMean, Log: true}, {Method: ExpertMedian},
	} {
		other.SDs = a.Rule.SDs
		e, err := s.expertStandard(ctx, other, p.Values)
		switch {
		case ctx.Err() != nil:
			return ctx.Err()
		case err != nil: // nobody is left, or a value has no logarithm
			continue
		}
		a.Alternatives = append(a.Alternatives, StandardAlternative{Rule: other, Estimate: e.Estimate})
	}
	if math.IsNaN(p.SE) {
		a.Warnings.Add("no-standard-error", "one expert gives no standard error")
	}
	a.remarkBetter(p.Values, s.evidence().Values)
	return nil
}

// remarkBetter says where most of a table's trainees are better than every expert, as where the two
// tables are in different units, or the measure is turned round.
func (a *Standard) remarkBetter(experts, trainees []float64) {
	best := math.NaN()
	for _, v := range experts {
		if !math.IsNaN(v) && !(best == v || standard.Passes(best, v, a.Lower)) {
			best = v
		}
	}
	if math.IsNaN(best) {
		return
	}
	all, better := 0, 0
	for _, v := range trainees {
		if math.IsNaN(v) {
			continue
		}
		if all++; v != best && standard.Passes(v, best, a.Lower) {
			better++
		}
	}
	if 2*better > all {
		a.Warnings.Add("trainees-better", fmt.Sprintf("%d of %d trainees are better than every expert (the best has %.4g); look at the units of both tables, and at the direction of the measure", better, all, best))
	}
}

// runsNotDone says how many of the experts' runs, familiarisation apart, have no value.
func (a *Standard) runsNotDone(p *ExpertPanel) {
	all, without, nobody := 0, 0, 0
	for i, runs := range p.Runs {
		for _, v := range runs[min(a.Rule.SkipRuns, len(runs)):] {
			if all++; math.IsNaN(v) {
				without++
			}
		}
		if math.IsNaN(p.Values[i]) {
			nobody++
		}
	}
	if without > 0 {
		were, they := "were", "they are"
		if without == 1 {
			were, they = "was", "it is"
		}
		a.Warnings.Add("runs-not-done", fmt.Sprintf("%d of the experts' %d runs %s not done (stopped by the time limit, failed, or without a measure); %s left out of the standard, so that the experts look better than they were",
			without, all, were, they))
	}
	if nobody > 0 && p.Names != nil {
		a.Warnings.Add("experts-without-value", counted(nobody, "expert has no run that counts and is", "experts have no run that counts and are")+" left out of the standard")
	}
}

// expertStandard is the standard from experts' values by one rule.
func (s *Study) expertStandard(ctx context.Context, r StandardRule, values []float64) (standard.Expert, error) {
	return s.expertStandardFor(ctx, r, values, s.Task.Lower)
}

// expertStandardFor is it for values of which smaller ones are better, or larger ones.
func (s *Study) expertStandardFor(ctx context.Context, r StandardRule, values []float64, lower bool) (standard.Expert, error) {
	rule := standard.ExpertRule{Lower: lower, SDs: r.SDs, Drop: r.Drop, Log: r.Log, Level: s.Options.Level}
	switch r.Method {
	case ExpertMedian:
		return standard.ExpertMedian(ctx, values, rule, s.Sampling())
	case ExpertPercentile:
		return standard.ExpertPercentile(values, r.Share, rule)
	}
	return standard.ExpertMean(values, rule)
}
