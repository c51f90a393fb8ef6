package study

import (
	"fmt"
	"math"

	"tyro/analysis/practice"
)

// RuleOf is the rule that a study file's standard was computed by.
func RuleOf(c practice.Computed) StandardRule {
	r := StandardRule{Method: c.Method, SDs: c.SDs, Share: c.Percentile / 100, Log: c.LogScale, Summary: c.Summary, SkipRuns: c.SkipRuns}
	r.Drop.Trim, r.Drop.SDs, r.Drop.MADs = c.Trim, c.DropSDs, c.DropMADs
	return r
}

// computed is the rule as a study file says it.
func (r StandardRule) computed() *practice.Computed {
	out := &practice.Computed{
		Method: r.Method, SDs: r.SDs, Trim: r.Drop.Trim, DropSDs: r.Drop.SDs, DropMADs: r.Drop.MADs, LogScale: r.Log, Summary: r.Summary, SkipRuns: r.SkipRuns,
	}
	if r.Method == ExpertPercentile {
		out.Percentile, out.SDs = 100*r.Share, 0
	}
	return out
}

// decide makes the standard as the study file would hold it.
func (a *Standard) decide(s *Study) {
	d, e := a.Rule.Decided, a.Estimate
	if d == nil {
		return
	}
	value := e.Value
	if d.Value != nil {
		value = *d.Value
	}
	if math.IsNaN(value) {
		return // no standard came out, and warnings say why
	}
	out := &practice.Decision{Value: value, Level: e.Level, DecidedBy: d.By, DecidedOn: d.On, Data: d.Data}
	if s.Evidence != nil {
		out.DataHash = s.SHA256
	} else { // the study's own hash would hold the block itself
		out.Computed = a.Rule.computed()
	}
	if !math.IsNaN(e.Lower) && !math.IsNaN(e.Upper) {
		out.Interval = []float64{e.Lower, e.Upper}
		if value < e.Lower || value > e.Upper {
			a.Warnings.Add("decided-outside-interval", fmt.Sprintf("the value decided on, %.4g, lies outside the %g %% interval of the standard computed, %.4g to %.4g", value, 100*e.Level, e.Lower, e.Upper))
		}
	}
	if a.Groups != nil {
		pass, fail := groupErrors(*s.Evidence, practice.Standard{Value: value, Lower: a.Lower})
		out.FalsePass, out.FalseFail = &pass, &fail
	}
	if d.By == "" || d.On == "" || d.Data == "" {
		a.Warnings.Add("decision-incomplete", "the block for the study file leaves blank who decided, when, or on which data (--decided-by, --decided-on, --data)")
	}
	a.Decision = out
}
