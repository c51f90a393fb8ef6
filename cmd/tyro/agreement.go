package main

import (
	"math"
	"os"
	"slices"

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
	table   tableFlags
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
	question      study.AgreementPlan
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
		Example: `  tyro agreement tyro-demo
  tyro agreement ratings.csv --subject video --rater examiner --score mark --scale ordinal
  tyro agreement --plan icc --expect 0.8 --raters 2,3`,
		Args: cobra.MaximumNArgs(1),
		RunE: failing(func(cmd *cobra.Command, args []string) error {
			if err := f.settle(cmd, args); err != nil {
				return err
			}
			if f.plan.what != "" {
				return f.planned(cmd, a)
			}
			if err := f.settleWeights(cmd.Context()); err != nil {
				return err
			}
			p, err := f.open(cmd, args[0])
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
	f.common.part.register(cmd)
	f.table.register(cmd)
	f.common.share.register(cmd)
	fs := cmd.Flags()
	fs.StringVar(&f.file.Subject, "subject", "", "`column` with the rated subject (performance)")
	fs.StringVar(&f.file.Rater, "rater", "", "`column` with the rater")
	fs.StringVar(&f.file.Item, "item", "", "`column` with the rated item")
	fs.StringVar(&f.file.Score, "score", "", "`column` with the score")
	fs.StringVar(&f.file.Trainee, "trainee", "", "`column` with the trainee, where trainees gave several performances")
	fs.StringVar(&f.file.Occasion, "occasion", "", "`column` that tells a rater's repeated ratings apart: first and second look, live and video")
	fs.StringVar(&f.file.When, "when", "", "`column` with the date or running number of the rating, for drift")
	fs.StringVar(&f.file.Scale, "scale", "", "nominal, ordinal, interval or ratio (default: nominal for words, interval for numbers)")
	fs.BoolVar(&f.file.Wide, "wide", false, "one column a rater")
	fs.BoolVar(&f.file.Counts, "counts", false, "the file is two raters' square table of counts")
	fs.StringVar(&f.weights, "weights", "", "`file` with custom agreement weights: a table whose first column and whose heads are the categories, with 1 for full agreement, down to 0 for none")
	fs.Float64Var(&f.cut, "cut", math.NaN(), "score that divides pass from fail, for decisions that differ between raters")
	fs.StringVar(&f.better, "better", "higher", "lower or higher scores are better")
	fs.Float64Var(&f.more.Target, "enough", 0.8, "coefficient that is enough, for the decision table")
	fs.Float64Var(&f.costs.Performance, "cost-performance", 0, "cost of one more performance (or item) of a trainee")
	fs.Float64Var(&f.costs.Rating, "cost-rating", 0, "cost of one more rating of a performance")
	fs.IntVar(&f.more.MostRaters, "most-raters", 6, "raters at most in the decision table")
	fs.IntVar(&f.more.MostOthers, "most-performances", 12, "performances (or items) at most in the decision table")
	fs.StringVar(&f.plan.what, "plan", "", "plan a study instead: icc or kappa")
	fs.Float64Var(&f.plan.expect, "expect", 0, "with --plan: the coefficient expected")
	fs.Float64Var(&f.plan.width, "interval-width", 0.2, "with --plan: how wide the interval may be")
	fs.StringVar(&f.plan.raters, "raters", "2,3,4", "with --plan: numbers of raters")
	fs.StringVar(&f.plan.subjects, "subjects", "", "with --plan: numbers of subjects to simulate (default: round the formula's)")
	fs.StringVar(&f.plan.shares, "shares", "0.5,0.5", "with --plan kappa: shares of the categories")
	fs.Float64Var(&f.plan.raterShare, "rater-share", 0, "with --plan icc: part of the variance within subjects that lies between raters")
	fs.Float64Var(&f.plan.null, "null", 0, "with --plan kappa: also say how many subjects a test against this kappa needs")
	fs.Float64Var(&f.plan.power, "power", 0.8, "with --null: power of the test")
	fs.Lookup("cut").DefValue = "0" // hidden: there is none
	return cmd
}

// planned answers --plan.
func (f *agreementFlags) planned(cmd *cobra.Command, a app) error {
	if err := f.common.part.undated("a plan"); err != nil {
		return err
	}
	s, err := f.study(practice.Practice{}, a.progress("simulating"))
	if err != nil {
		return err
	}
	answer, err := s.PlanAgreement(cmd.Context(), f.plan.question)
	if err != nil {
		return err
	}
	return a.show(reports.NewPlannedAgreement(s, answer), f.common)
}

// study settles the choices that all commands share. Ratings need no curves.
func (f *agreementFlags) study(p practice.Practice, progress func(done, total int)) (*study.Study, error) {
	return study.New(p, f.common.ofStudy(progress))
}

// open reads a study folder, or one table of ratings.
func (f *agreementFlags) open(cmd *cobra.Command, path string) (practice.Practice, error) {
	var none practice.Practice
	info, err := os.Stat(path)
	folder := err == nil && info.IsDir()
	for _, name := range slices.Concat(ratingsFlags, tableFlagNames()) {
		if folder && cmd.Flags().Changed(name) {
			return none, usagef("--%s is for single tables; %s is a study folder, whose %s says this", name, path, datasets.StudyFile)
		}
	}
	if !folder && cmd.Flags().Changed("task") {
		return none, usagef("--task is for study folders, and %s is a table", path)
	}
	var file *datasets.Study
	if folder {
		file, err = openUpTo(cmd.Context(), path, f.common.part.upTo)
	} else {
		if f.file.Layout, err = f.table.settle(); err != nil {
			return none, err
		}
		if file, err = datasets.OpenRatings(cmd.Context(), path, f.file); err == nil && f.common.part.upTo != "" {
			if !file.RatingsDated() {
				return none, usagef("--up-to is for ratings with dates (--when), and %s has none", path)
			}
			err = upTo(file, f.common.part.upTo)
		}
	}
	if err != nil {
		return none, err
	}
	return file.Practice(f.common.task)
}
