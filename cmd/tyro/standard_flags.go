package main

import (
	"maps"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"tyro/analysis/standard"
	"tyro/analysis/study"
	"tyro/datasets"
)

// expertRuleFlags are the flags that say how a standard follows from experts; with
// any of them, a study folder's own rule (computed:) is set aside.
var expertRuleFlags = []string{"method", "sds", "percentile", "trim", "drop-sds", "drop-mads", "log-scale", "summary", "skip-runs"}

// standardFlagsOf lists the methods that a flag is for; flags that are not named here
// are for all.
func standardFlagsOf() map[string][]string {
	experts := []string{study.ExpertMean, study.ExpertMedian, study.ExpertPercentile}
	judges := []string{study.Angoff, study.Ebel}
	borderline := []string{study.BorderlineGroup, study.BorderlineRegression}
	hofstee := []string{study.Hofstee}
	measured := slices.Concat(experts, []string{study.ContrastingGroups}, borderline, hofstee)
	return map[string][]string{
		"measure": measured, "better": measured,
		"sds": {study.ExpertMean, study.ExpertMedian}, "percentile": {study.ExpertPercentile}, "log-scale": {study.ExpertMean},
		"trim": experts, "drop-sds": experts, "drop-mads": experts, "expert": experts, "run": experts, "summary": experts, "skip-runs": experts,
		"competent": {study.ContrastingGroups}, "crossing": {study.ContrastingGroups},
		"rating": borderline, "borderline": borderline, "center": {study.BorderlineGroup},
		"judge": judges, "judgement": judges, "round": {study.Angoff}, "item": {study.Angoff}, "class": {study.Ebel}, "count": {study.Ebel},
		"judges": hofstee, "min-cut": hofstee, "max-cut": hofstee, "min-fail": hofstee, "max-fail": hofstee, "step": hofstee,
		"trainee-table": slices.Concat(experts, judges),
	}
}

// settle checks the flags and turns them into the rule.
func (f *standardFlags) settle(cmd *cobra.Command) error {
	changed := cmd.Flags().Changed
	for _, err := range []error{
		f.forMethod(changed), f.checkDrops(), f.checkDecision(), f.checkTrainees(changed),
	} {
		if err != nil {
			return err
		}
	}
	f.rule.Share, f.rule.Crossing, f.rule.UseMedian = f.percentile/100, standard.Crossing(f.crossing), f.center == "median"
	f.table.Measure = datasets.Measure(f.measure)
	f.table.Lower = f.better == "lower" || f.better == "" && f.measure != "score"
	if slices.ContainsFunc([]string{"value", "decided-by", "decided-on", "data"}, changed) {
		f.rule.Decided = &f.decided
	}
	if changed("value") {
		f.decided.Value = &f.value
	}
	return nil
}

// forMethod refuses flags that the method would not look at, and asks for those that
// it cannot do without.
func (f *standardFlags) forMethod(changed func(string) bool) error {
	of := standardFlagsOf()
	for _, flag := range slices.Sorted(maps.Keys(of)) {
		if changed(flag) && !slices.Contains(of[flag], f.rule.Method) {
			return usagef("--%s is for %s, and the method is %s", flag, allOf(of[flag]), f.rule.Method)
		}
	}
	switch f.rule.Method {
	case study.BorderlineGroup, study.BorderlineRegression:
		if !changed("borderline") {
			return usagef("%s needs --borderline X, the rating that means borderline", f.rule.Method)
		}
	case study.Hofstee:
		if f.table.Bounds == "" {
			return usagef("hofstee needs --judges FILE, the judges' bounds")
		}
	}
	return nil
}

// checkDrops looks at the rules that leave out experts.
func (f *standardFlags) checkDrops() error {
	d, dropping := f.rule.Drop, 0
	for _, v := range []float64{d.Trim, d.SDs, d.MADs} {
		if v != 0 {
			dropping++
		}
	}
	if dropping > 1 {
		return usagef("give one of --trim, --drop-sds and --drop-mads")
	}
	return nil
}

// checkDecision looks at the day of the decision.
func (f *standardFlags) checkDecision() error {
	if f.decided.On != "" && !isDay(f.decided.On) {
		return usagef("--decided-on %q: expected a day, as 2026-02-28", f.decided.On)
	}
	return nil
}

// checkTrainees looks at what is said of the trainees' values.
func (f *standardFlags) checkTrainees(changed func(string) bool) error {
	r, parts := f.rule, len(f.table.Items)+len(f.table.Raters)
	switch {
	case len(f.table.Items) > 0 && len(f.table.Raters) > 0:
		return usagef("give one of --item-columns and --rater-columns")
	case !(r.Highest > r.Lowest):
		return usagef("--highest-score %v: expected one above --lowest-score %v", r.Highest, r.Lowest)
	}
	for _, flag := range []string{"lowest-score", "highest-score"} {
		if changed(flag) && r.Reliability == 0 && parts == 0 {
			return usagef("--%s goes with --reliability, --item-columns or --rater-columns", flag)
		}
	}
	if f.table.Trainees != "" {
		return nil
	}
	fromJudges := r.Method == study.Angoff || r.Method == study.Ebel
	for _, flag := range []string{"reliability", "item-columns", "rater-columns"} {
		if changed(flag) && (fromJudges || study.FromExperts(r.Method)) {
			return usagef("--%s is about the trainees' scores: with %s give their table by --trainee-table FILE", flag, r.Method)
		}
	}
	if changed("response") && fromJudges {
		return usagef("--response is a column of the trainees' table: with %s give that table by --trainee-table FILE", r.Method)
	}
	return nil
}

// allOf is a list in a sentence: a, b and c.
func allOf(words []string) string {
	if len(words) == 1 {
		return words[0]
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}
