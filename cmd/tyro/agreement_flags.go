package main

import (
	"context"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"tyro/analysis/study"
	"tyro/datasets"
)

// Which flags belong together: ratingsFlags name what is in a table, answerFlags are
// about ratings however they are read, planFlagNames about a study to come.
var (
	ratingsFlags  = []string{"subject", "rater", "item", "score", "trainee", "occasion", "when", "scale", "wide", "counts"}
	answerFlags   = []string{"task", "weights", "cut", "better", "enough", "cost-performance", "cost-rating", "most-raters", "most-performances"}
	planFlagNames = []string{"expect", "interval-width", "raters", "subjects", "shares", "rater-share", "null", "power"}
)

// settle checks the flags and turns them into the question.
func (f *agreementFlags) settle(cmd *cobra.Command, args []string) error {
	changed := cmd.Flags().Changed
	if f.plan.what == "" {
		return f.settleRatings(changed, args)
	}
	return f.settlePlan(changed, args)
}

// firstOf is the first of the flags that was given; blank for none.
func firstOf(flags []string, changed func(string) bool) string {
	if i := slices.IndexFunc(flags, changed); i >= 0 {
		return flags[i]
	}
	return ""
}

// settleRatings makes the question about ratings.
func (f *agreementFlags) settleRatings(changed func(string) bool, args []string) error {
	if flag := firstOf(planFlagNames, changed); flag != "" {
		return usagef("--%s goes with --plan icc or --plan kappa", flag)
	}
	switch {
	case len(args) == 0:
		return usagef("expected a study folder or a table of ratings, or --plan icc|kappa")
	case f.file.Wide && f.file.Counts:
		return usagef("--wide and --counts exclude each other")
	}
	f.more.LowerBetter = f.better == "lower"
	if changed("cut") {
		f.more.Cut = &f.cut
	}
	if changed("cost-performance") || changed("cost-rating") {
		f.more.Costs = &f.costs
	}
	return nil
}

// settleWeights reads the table of custom weights.
func (f *agreementFlags) settleWeights(ctx context.Context) error {
	if f.weights == "" {
		return nil
	}
	w, err := datasets.OpenCategoryWeights(ctx, f.weights)
	f.more.Weights = &w
	return err
}

// settlePlan makes the question about a study to come.
func (f *agreementFlags) settlePlan(changed func(string) bool, args []string) error {
	p := f.plan
	other := map[string][]string{"icc": {"shares", "null", "power"}, "kappa": {"rater-share"}}[p.what]
	switch {
	case len(args) > 0:
		return usagef("--plan needs no study; leave %s out", args[0])
	case firstOf(slices.Concat(ratingsFlags, tableFlagNames(), answerFlags), changed) != "":
		return usagef("--%s is about ratings, and --plan looks at none", firstOf(slices.Concat(ratingsFlags, tableFlagNames(), answerFlags), changed))
	case firstOf(other, changed) != "":
		return usagef("--%s is not for --plan %s", firstOf(other, changed), p.what)
	case !changed("expect"):
		return usagef("--plan needs --expect, the coefficient expected")
	case p.expect < 0:
		return usagef("--expect %v: expected a coefficient from 0 to below 1", p.expect)
	case changed("null") && p.null == p.expect:
		return usagef("--null %v: expected another kappa than --expect", p.null)
	case changed("power") && !changed("null"):
		return usagef("--power goes with --null, the kappa to test against")
	}
	q := study.AgreementPlan{What: p.what, Expect: p.expect, Width: p.width, RaterShare: p.raterShare, Power: p.power}
	var err error
	if q.Raters, err = wholeNumbers("raters", p.raters, 2); err != nil {
		return err
	}
	if q.Subjects, err = wholeNumbers("subjects", p.subjects, 3); err != nil {
		return err
	}
	if q.Shares, err = shares(p.shares); err != nil {
		return err
	}
	if changed("null") {
		q.Null = &f.plan.null
	}
	f.plan.question = q
	return nil
}

// numbers reads a comma-separated list.
func numbers(flag, text string) ([]float64, error) {
	var out []float64
	for part := range strings.SplitSeq(text, ",") {
		v, err := strconv.ParseFloat(strings.TrimSpace(part), 64)
		if err != nil || !finite(v) {
			return nil, usagef("--%s %q: expected numbers with commas between", flag, text)
		}
		out = append(out, v)
	}
	return out, nil
}

// wholeNumbers reads a list of counts; nil for a blank one.
func wholeNumbers(flag, text string, least int) ([]int, error) {
	if text == "" {
		return nil, nil
	}
	vs, err := numbers(flag, text)
	if err != nil {
		return nil, err
	}
	var out []int
	for _, v := range vs {
		if v != math.Trunc(v) || v < float64(least) || v > 1e6 {
			return nil, usagef("--%s %q: expected whole numbers from %d", flag, text, least)
		}
		out = append(out, int(v))
	}
	return out, nil
}

// shares reads the shares of the categories.
func shares(text string) ([]float64, error) {
	out, err := numbers("shares", text)
	if err != nil {
		return nil, err
	}
	sum := 0.0
	for _, v := range out {
		sum += v
	}
	if len(out) < 2 || slices.Min(out) <= 0 || math.Abs(sum-1) > 1e-6 {
		return nil, usagef("--shares %q: expected shares of 2 or more categories that sum to 1", text)
	}
	return out, nil
}
