package main

import (
	"context"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"tyro/analysis/practice"
	"tyro/analysis/study"
	"tyro/datasets"
	"tyro/reports"
)

// agreementFlags are the choices of the command agreement.
type agreementFlags struct {
	common  commonFlags
	file    datasets.RatingsFile
	better  string
	weights string
	cut     float64
	costs   study.MeasuringCosts
	more    study.AgreementQuestion
	plan    planFlags
}

// planFlags ask for a study to come, without a file.
type planFlags struct {
	what          string
	expect, width float64
	raters        string
	subjects      string
	shares        string
	raterShare    float64
	null, power   float64
}

func newAgreement(a app) *cobra.Command {
	var f agreementFlags
	cmd := &cobra.Command{
		Use:   "agreement STUDY",
		Short: "Do the raters agree?",
		Long: `agreement reads a study's ratings, or one table of ratings: long (one row a rating,
columns named by flags), wide (one row a subject, one column a rater) or two raters'
square table of counts (--counts). It says how far raters agree, who is strict, which
pass/fail decisions change with the examiner, and how many raters and performances
are enough. With --plan it needs no file: it says how many subjects a study needs.`,
		Args: cobra.MaximumNArgs(1),
		RunE: failing(func(cmd *cobra.Command, args []string) error {
			if err := f.check(cmd, args); err != nil {
				return err
			}
			if f.plan.what != "" {
				return f.planned(cmd, a)
			}
			p, err := openRatings(cmd.Context(), args[0], f.common.task, f.file)
			if err != nil {
				return err
			}
			s, err := f.study(p, a.progress("bootstrap"))
			if err != nil {
				return err
			}
			answer, err := s.Agreement(cmd.Context(), f.more)
			if err != nil {
				return err
			}
			return a.show(reports.NewAgreement(s, answer), f.common)
		}),
	}
	f.common.register(cmd)
	fs := cmd.Flags()
	fs.StringVar(&f.file.Subject, "subject", "", "column with the rated subject (performance)")
	fs.StringVar(&f.file.Rater, "rater", "", "column with the rater")
	fs.StringVar(&f.file.Item, "item", "", "column with the rated item")
	fs.StringVar(&f.file.Score, "score", "", "column with the score")
	fs.StringVar(&f.file.Trainee, "trainee", "", "column with the trainee, where trainees gave several performances")
	fs.StringVar(&f.file.Occasion, "occasion", "", "column that tells a rater's repeated ratings apart: first and second look, live and video")
	fs.StringVar(&f.file.When, "when", "", "column with the date or running number of the rating, for drift")
	fs.StringVar(&f.file.Scale, "scale", "", "nominal, ordinal, interval or ratio (default: nominal for words, interval for numbers)")
	fs.BoolVar(&f.file.Wide, "wide", false, "one column a rater")
	fs.BoolVar(&f.file.Counts, "counts", false, "the file is two raters' square table of counts")
	fs.StringVar(&f.weights, "weights", "", `custom agreement weights, row by row: "1,0.5,0;0.5,1,0.5;0,0.5,1"`)
	fs.Float64Var(&f.cut, "cut", math.NaN(), "score that divides pass from fail, for decisions that differ between raters")
	fs.StringVar(&f.better, "better", "higher", "lower or higher scores are better")
	fs.Float64Var(&f.more.Target, "target", 0.8, "coefficient the decision table aims at")
	fs.Float64Var(&f.costs.Performance, "cost-performance", 0, "cost of one more performance (or item) of a trainee")
	fs.Float64Var(&f.costs.Rating, "cost-rating", 0, "cost of one more rating of a performance")
	fs.IntVar(&f.more.MostRaters, "most-raters", 6, "raters at most in the decision table")
	fs.IntVar(&f.more.MostOthers, "most-performances", 12, "performances (or items) at most in the decision table")
	fs.StringVar(&f.plan.what, "plan", "", "plan a study instead: icc or kappa")
	fs.Float64Var(&f.plan.expect, "expect", 0, "with --plan: the coefficient expected")
	fs.Float64Var(&f.plan.width, "width", 0.2, "with --plan: how wide the interval may be")
	fs.StringVar(&f.plan.raters, "raters", "2,3,4", "with --plan: numbers of raters")
	fs.StringVar(&f.plan.subjects, "subjects", "", "with --plan: numbers of subjects to simulate (default: round the formula's)")
	fs.StringVar(&f.plan.shares, "shares", "0.5,0.5", "with --plan kappa: shares of the categories")
	fs.Float64Var(&f.plan.raterShare, "rater-share", 0, "with --plan icc: part of the variance within subjects that lies between raters")
	fs.Float64Var(&f.plan.null, "null", 0, "with --plan kappa: also the subjects for a test against this kappa")
	fs.Float64Var(&f.plan.power, "power", 0.8, "with --null: power of the test")
	fs.Lookup("cut").DefValue = "0" // hidden: there is none
	return cmd
}

// check settles the flags or says what is wrong with them.
func (f *agreementFlags) check(cmd *cobra.Command, args []string) error {
	if err := f.common.check(); err != nil {
		return err
	}
	switch {
	case f.plan.what == "" && len(args) == 0:
		return usagef("expected a study folder or a table of ratings, or --plan icc|kappa")
	case f.plan.what != "" && len(args) > 0:
		return usagef("--plan needs no study; leave %s out", args[0])
	case f.plan.what != "" && f.plan.what != "icc" && f.plan.what != "kappa":
		return usagef("--plan %q: expected icc or kappa", f.plan.what)
	case f.file.Scale != "" && !slices.Contains([]string{"nominal", "ordinal", "interval", "ratio"}, f.file.Scale):
		return usagef("--scale %q: expected nominal, ordinal, interval or ratio", f.file.Scale)
	case f.file.Wide && f.file.Counts:
		return usagef("--wide and --counts exclude each other")
	case f.better != "lower" && f.better != "higher":
		return usagef("--better %q: expected lower or higher", f.better)
	case !(f.more.Target > 0 && f.more.Target < 1):
		return usagef("--target %v: expected a number between 0 and 1", f.more.Target)
	case f.costs.Performance < 0 || f.costs.Rating < 0:
		return usagef("--cost-performance and --cost-rating must not be below 0")
	case f.more.MostRaters < 1 || f.more.MostOthers < 1 || f.more.MostRaters > 100 || f.more.MostOthers > 500:
		return usagef("--most-raters must be 1 to 100 and --most-performances 1 to 500")
	}
	f.more.LowerBetter = f.better == "lower"
	if cmd.Flags().Changed("cut") {
		f.more.Cut = &f.cut
	}
	if cmd.Flags().Changed("cost-performance") || cmd.Flags().Changed("cost-rating") {
		f.more.Costs = &f.costs
	}
	if f.weights != "" {
		for row := range strings.SplitSeq(f.weights, ";") {
			vs, err := numbers("weights", row)
			if err != nil {
				return err
			}
			f.more.Weights = append(f.more.Weights, vs)
		}
		for _, row := range f.more.Weights {
			if len(row) != len(f.more.Weights) {
				return usagef("--weights: expected as many numbers in every row as rows (%d)", len(f.more.Weights))
			}
		}
	}
	return nil
}

// numbers reads a comma-separated list.
func numbers(flag, text string) ([]float64, error) {
	var out []float64
	for part := range strings.SplitSeq(text, ",") {
		v, err := strconv.ParseFloat(strings.TrimSpace(part), 64)
		if err != nil {
			return nil, usagef("--%s %q: expected numbers with commas between", flag, text)
		}
		out = append(out, v)
	}
	return out, nil
}

// planned answers --plan.
func (f *agreementFlags) planned(cmd *cobra.Command, a app) error {
	p := study.AgreementPlan{What: f.plan.what, Expect: f.plan.expect, Width: f.plan.width, RaterShare: f.plan.raterShare, Power: f.plan.power}
	if !cmd.Flags().Changed("expect") {
		return usagef("--plan needs --expect, the coefficient expected")
	}
	for _, l := range []struct {
		flag, text string
		to         *[]int
	}{{"raters", f.plan.raters, &p.Raters}, {"subjects", f.plan.subjects, &p.Subjects}} {
		if l.text == "" {
			continue
		}
		vs, err := numbers(l.flag, l.text)
		if err != nil {
			return err
		}
		for _, v := range vs {
			*l.to = append(*l.to, int(v))
		}
	}
	var err error
	if p.Shares, err = numbers("shares", f.plan.shares); err != nil {
		return err
	}
	if cmd.Flags().Changed("null") {
		p.Null = &f.plan.null
	}
	s, err := f.study(practice.Practice{}, a.progress("simulating"))
	if err != nil {
		return err
	}
	answer, err := s.PlanAgreement(cmd.Context(), p)
	if err != nil {
		return err
	}
	return a.show(reports.NewPlannedAgreement(s, answer), f.common)
}

// study settles the choices that all commands share. Ratings need no curves.
func (f *agreementFlags) study(p practice.Practice, progress func(done, total int)) (*study.Study, error) {
	return study.New(p, f.common.ofStudy(progress))
}

// openRatings reads a study folder, or one table of ratings.
func openRatings(ctx context.Context, path, task string, rf datasets.RatingsFile) (practice.Practice, error) {
	var file *datasets.Study
	var err error
	if info, statErr := os.Stat(path); statErr == nil && info.IsDir() {
		file, err = datasets.Open(ctx, path)
	} else {
		file, err = datasets.OpenRatings(ctx, path, rf)
	}
	if err != nil {
		return practice.Practice{}, err
	}
	return file.Practice(task)
}
