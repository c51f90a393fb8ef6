package study

import (
	"context"
	"errors"
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
	return nil
}

// expertStandard is the standard from experts' values by one rule.
func (s *Study) expertStandard(ctx context.Context, r StandardRule, values []float64) (standard.Expert, error) {
	rule := standard.ExpertRule{Lower: s.Task.Lower, SDs: r.SDs, Drop: r.Drop, Log: r.Log, Level: s.Options.Level}
	switch r.Method {
	case ExpertMedian:
		return standard.ExpertMedian(ctx, values, rule, s.Plan())
	case ExpertPercentile:
		return standard.ExpertPercentile(values, r.Share, rule)
	}
	return standard.ExpertMean(values, rule)
}
