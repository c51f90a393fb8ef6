package main

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"tyro/analysis/fit"
	"tyro/analysis/practice"
	"tyro/analysis/practice/ranges"
	"tyro/analysis/standard"
	"tyro/analysis/study"
	"tyro/analysis/survival"
	"tyro/datasets"
	"tyro/models"
)

// flagRanges are the ranges of the flags with numbers, by flag, or by command and flag
// where a name means different things. Every such flag has one.
func flagRanges() map[string]ranges.Range {
	return map[string]ranges.Range{
		"level": ranges.Level, "replicates": ranges.Replicates, "workers": ranges.Workers, "seed": ranges.Seed,
		"limit": ranges.Limit, "standard": ranges.Response, "horizon": ranges.Horizon, "quota horizon": ranges.ChanceHorizon,
		"width": ranges.FigureWidth, "interval-width": ranges.Width, "origin": ranges.Origin, "guess": ranges.PartOf, "lapse": ranges.PartOf, "hold": ranges.Value, "from": ranges.Value,
		"seen": ranges.Seen, "fading": ranges.PartOf, "ahead": ranges.Ahead,
		"pass-chance": ranges.Chance,
		"acceptable":  ranges.FailureRate, "unacceptable": ranges.FailureRate, "chart-limit": ranges.ChartLimit,

		"share": ranges.InnerShare, "target": ranges.InnerShare, "enough": ranges.InnerShare, "attempts": ranges.Scheduled, "trainees": ranges.Trainees, "fewer": ranges.Fewer, "budget": ranges.Scheduled,
		"lab-minutes": ranges.Amount, "examiner-minutes": ranges.Amount, "consumables": ranges.Amount,
		"lab-hour-price": ranges.Amount, "examiner-hour-price": ranges.Amount, "per-trainee": ranges.Amount,
		"proficient-at": ranges.InnerChance, "held-after": ranges.Held, "not-yet": ranges.InnerChance, "proficient": ranges.Chance,
		"rising-to": ranges.Chance, "halved-every": ranges.Halving,

		"false-share": ranges.InnerShare, "within": ranges.Within, "run-length": ranges.RunLength, "lambda": ranges.Weight,
		"alpha": ranges.InnerShare, "beta": ranges.InnerShare, "headstart": ranges.PartOf, "sd": ranges.Spread, "known": ranges.Known,

		"sds": ranges.SDs, "percentile": ranges.Percentile, "trim": ranges.Trim, "drop-sds": ranges.SDs, "drop-mads": ranges.SDs,
		"skip-runs": ranges.SkipRuns, "borderline": ranges.Response, "step": ranges.Step, "weight-step": ranges.InnerShare, "reliability": ranges.Reliability,
		"lowest-score": ranges.Response, "highest-score": ranges.Response, "value": ranges.Response,

		"at": ranges.Attempt, "refits": ranges.Replicates, "margin": ranges.Margin, "before": ranges.LevelBefore, "gap": ranges.Days,

		"cut": ranges.Response, "cost-performance": ranges.Amount, "cost-rating": ranges.Amount,
		"most-raters": ranges.MostRaters, "most-performances": ranges.MostPerformances,
		"expect": ranges.Coefficient, "rater-share": ranges.PartOf, "null": ranges.Coefficient, "power": ranges.InnerShare,
		"head-rows": ranges.HeadRows, "skip-rows": ranges.SkipRows, "smallest-cell": ranges.SmallestCell,
		"shards": ranges.Shards, "array-limit": ranges.ArrayLimit, "missing": ranges.Shards,
		"raters": ranges.Raters, "subjects": ranges.Planned, "shares": ranges.InnerShare,

		"plan trainees": ranges.PlannedTrainees, "plan attempts": ranges.PlannedAttempts, "most-trainees": ranges.PlannedTrainees, "allocation": ranges.Allocation,
		"plan interval-width": ranges.PlannedWidth, "difference": ranges.Value, "plan sd": ranges.SpreadOrNone, "hazard-ratio": ranges.HazardRatio, "met-share": ranges.InnerShare,
		"sample": ranges.Sample, "assume": ranges.Value, "trainee-sd": ranges.SpreadOrNone, "effect": ranges.Value, "drop-out": ranges.PartOf,
		"clusters": ranges.Clusters, "cluster-sd": ranges.SpreadOrNone, "retention-change": ranges.Value, "retention-sd": ranges.SpreadOrNone, "quota": ranges.InnerShare,
		"errors": ranges.MostErrors, "error-fall": ranges.Fall, "error-sd": ranges.SpreadOrNone, "error-limit": ranges.MostErrors,
		"randomise": ranges.Places, "blocks": ranges.Block, "arm-shares": ranges.ArmShare, "favour": ranges.Chance,
	}
}

// flagWords are the words that a flag knows, by flag or by command and flag.
func flagWords() map[string][]string {
	families := append([]string{"auto"}, models.Names()...)
	return map[string][]string{
		"format":  {"text", "json", "csv"},
		"measure": {"time", "score", "count", "pass-fail"}, "standard measure": {"time", "score", "count"},
		"better": {"lower", "higher"},
		"family": families, "simpler": models.Names(),
		"noise":          noiseNames(),
		"curve interval": names(fit.Methods()), "proficiency interval": {"percentile", "bca"},
		"cohort interval": names(study.CohortIntervals()),
		"cohort method":   {"laplace", "quadrature"}, "carryover": {"none", "whole", "part"},
		"standard method": study.StandardMethods(), "center": {"mean", "median"}, "summary": {"mean", "median", "best", "last"},
		"crossing":        {string(standard.Normal), "weighted", "logistic", "youden"},
		"chart":           study.MonitorCharts(),
		"on":              {"passes", "measure"},
		"band":            {string(survival.LogLog), string(survival.Log), string(survival.Linear), string(survival.Arcsine)},
		"agreement scale": {"nominal", "ordinal", "interval", "ratio"},
		"plan":            {"icc", "kappa"},
		"ratings":         {"icc", "kappa"},
		"analysis-family": families,
		"quota-basis":     {"observed", "curve"},
		"margin-kind":     {"equivalence", "non-inferiority"},
		"times":           datasets.TimeForms(), "dates": datasets.DateOrders(), "decimal": datasets.DecimalMarks(), "over-limit": {"timeout"},
		"encoding": datasets.Encodings(), "separator": datasets.Separators(), "sheets-are": datasets.SheetRoles(), "columns-are": {"trainee"},
	}
}

// noiseNames are the kinds of noise that --noise knows.
func noiseNames() []string {
	var out []string
	for _, n := range models.Noises() {
		out = append(out, n.Name())
	}
	return out
}

// names are words as the flags write them.
func names[W ~string](words []W) []string {
	var out []string
	for _, w := range words {
		out = append(out, string(w))
	}
	return out
}

// named is the entry for a command's flag.
func named[T any](table map[string]T, cmd *cobra.Command, flag string) (T, bool) {
	if v, ok := table[cmd.Name()+" "+flag]; ok {
		return v, true
	}
	v, ok := table[flag]
	return v, ok
}

// checkFlags looks at every flag given: numbers within their ranges, words among those
// known, rules that can be read.
func checkFlags(cmd *cobra.Command) error {
	ranges, words := flagRanges(), flagWords()
	var wrong []error
	cmd.Flags().Visit(func(f *pflag.Flag) {
		if r, ok := named(ranges, cmd, f.Name); ok {
			wrong = append(wrong, checkNumbers(f, r))
		}
		if known, ok := named(words, cmd, f.Name); ok {
			wrong = append(wrong, checkWords(f, known))
		}
	})
	wrong = append(wrong, checkRule(cmd))
	if err := errors.Join(wrong...); err != nil {
		return usageError{err}
	}
	return nil
}

// numericType reports whether a flag's type says that it holds numbers.
func numericType(kind string) bool {
	return slices.Contains([]string{"float64", "int", "uint64", "float64Slice", "intSlice"}, kind)
}

// checkNumbers checks every number of a flag; names before an equals sign, as in
// plateau=40, are not looked at.
func checkNumbers(f *pflag.Flag, r ranges.Range) error {
	for _, text := range texts(f) {
		if i := strings.LastIndex(text, "="); i >= 0 {
			text = text[i+1:]
		}
		v, err := strconv.ParseFloat(strings.TrimSpace(text), 64)
		if err != nil && numericType(f.Value.Type()) && !math.IsInf(v, 0) {
			return fmt.Errorf("--%s %s: expected %s", f.Name, text, r)
		}
		if err != nil && !math.IsInf(v, 0) {
			return nil // what is no number is found where the text is read
		}
		if f.Value.Type() == "float64Slice" { // whose text has six digits after the point
			text = strconv.FormatFloat(v, 'g', -1, 64)
		}
		if r.Check(v) != nil {
			return fmt.Errorf("--%s %s: expected %s", f.Name, text, r)
		}
	}
	return nil
}

// texts are the values of a flag, one by one.
func texts(f *pflag.Flag) []string {
	if list, ok := f.Value.(pflag.SliceValue); ok {
		var out []string
		for _, s := range list.GetSlice() {
			out = append(out, strings.Split(s, ",")...)
		}
		return out
	}
	if f.Value.Type() == "string" {
		return strings.FieldsFunc(f.Value.String(), func(r rune) bool { return r == ',' || r == ';' })
	}
	return []string{f.Value.String()}
}

func checkWords(f *pflag.Flag, known []string) error {
	if v := f.Value.String(); !slices.Contains(known, v) {
		return fmt.Errorf("--%s %q: expected %s%s", f.Name, v, listed(known), datasets.DidYouMean(v, known))
	}
	return nil
}

// checkRule reads the rule, which for quota --against may be another way to stop.
func checkRule(cmd *cobra.Command) error {
	f := cmd.Flags().Lookup("rule")
	if f == nil || !f.Changed || cmd.Flags().Changed("against") {
		return nil
	}
	if _, err := practice.ParseRule(f.Value.String()); err != nil {
		return fmt.Errorf("--rule: %w", err)
	}
	return nil
}

// listed joins words as in a sentence: a, b or c.
func listed(words []string) string {
	if len(words) == 1 {
		return words[0]
	}
	return strings.Join(words[:len(words)-1], ", ") + " or " + words[len(words)-1]
}

// plainFlagError says in our words what is wrong with a flag.
func plainFlagError(cmd *cobra.Command, err error) error {
	var (
		unknown *pflag.NotExistError
		missing *pflag.ValueRequiredError
		invalid *pflag.InvalidValueError
		syntax  *pflag.InvalidSyntaxError
	)
	switch {
	case errors.Is(err, pflag.ErrHelp):
		return err
	case errors.As(err, &unknown):
		var known []string
		cmd.Flags().VisitAll(func(f *pflag.Flag) { known = append(known, f.Name) })
		name := unknown.GetSpecifiedName()
		if unknown.GetSpecifiedShortnames() != "" {
			return usagef("unknown flag -%s", name)
		}
		return usagef("unknown flag --%s%s", name, strings.Replace(datasets.DidYouMean(name, known), "mean ", "mean --", 1))
	case errors.As(err, &missing):
		return usagef("--%s needs a value", missing.GetSpecifiedName())
	case errors.As(err, &invalid):
		return usagef("--%s %q: expected %s", invalid.GetFlag().Name, invalid.GetValue(), expectation(cmd, invalid.GetFlag()))
	case errors.As(err, &syntax):
		return usagef("%q is not a flag", syntax.GetSpecifiedFlag())
	}
	return usagef("the flags cannot be read; see tyro %s --help", cmd.Name())
}

// expectation says what kind of value a flag takes.
func expectation(cmd *cobra.Command, f *pflag.Flag) string {
	if r, ok := named(flagRanges(), cmd, f.Name); ok {
		return r.String()
	}
	if f.Value.Type() == "bool" {
		return "true or false"
	}
	return "another kind of value"
}

// plainArgs says in our words that there are too many names on the command line, or
// too few.
func plainArgs(check cobra.PositionalArgs) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if check == nil || check(cmd, args) == nil {
			return nil
		}
		if len(args) == 0 {
			return usagef("expected tyro %s", cmd.Use)
		}
		return usagef("expected tyro %s; there are too many names: %s", cmd.Use, strings.Join(args, ", "))
	}
}

// unknownCommand names the command that was probably meant.
func unknownCommand(root *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	var known []string
	for _, c := range root.Commands() {
		known = append(known, c.Name())
	}
	return usagef("unknown command %q%s", args[0], datasets.DidYouMean(args[0], known))
}
