package main

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"tyro/analysis/standard"
	"tyro/datasets"
	"tyro/reports"
)

// standardFlags are the question and the columns of the command standard.
type standardFlags struct {
	reports.StandardQuestion
	columns    reports.StandardColumns
	percentile float64
	crossing   string
	center     string
	measure    string
	better     string
}

func newStandard(a app) *cobra.Command {
	var common commonFlags
	var f standardFlags
	cmd := &cobra.Command{
		Use:   "standard STUDY --method METHOD",
		Short: "Set a proficiency standard from experts, groups of trainees, or judges",
		Long: `standard answers where the level to reach should be, and how sure that is. A study
folder gives its experts; every other method reads one table:

  expert-mean, expert-median, expert-percentile   one row an expert, or a run of one
  contrasting-groups                              a value, and competent or not, a trainee
  borderline-group, borderline-regression         a value and a rating a trainee
  angoff                                          one row a judge and one column an item
  ebel                                            one row a class of items of a judge
  hofstee                                         a value a trainee, and --judges FILE

The decision is for named people. With --decided-by, --decided-on and --data the answer
has the lines that keep it in the study file, which is never changed; without --method
and its rules, a study folder's standard is computed as its file says (computed:).`,
		Args: cobra.ExactArgs(1),
		RunE: failing(func(cmd *cobra.Command, args []string) error {
			if err := common.check(); err != nil {
				return err
			}
			if err := f.settle(); err != nil {
				return err
			}
			in, data, err := f.open(cmd, args[0], common, a.progress("bootstrap"))
			if err != nil {
				return err
			}
			d, err := reports.SetStandard(cmd.Context(), in, f.StandardQuestion, data)
			if err != nil {
				return err
			}
			return a.show(d, common)
		}),
	}
	common.register(cmd)
	f.register(cmd)
	return cmd
}

func (f *standardFlags) register(cmd *cobra.Command) {
	fs := cmd.Flags()
	fs.StringVar(&f.Method, "method", reports.ExpertMean, strings.Join(reports.StandardMethods(), ", "))
	fs.StringVar(&f.columns.Response, "response", "", "column with the measure (default: score)")
	fs.StringVar(&f.measure, "measure", "score", "what the response is: time, score or count")
	fs.StringVar(&f.better, "better", "", "lower or higher (default: lower for a time or count)")

	fs.Float64Var(&f.SDs, "sds", 0, "experts: standard deviations (for a median: scaled median distances) added on the lenient side")
	fs.Float64Var(&f.percentile, "percentile", 50, "expert-percentile: which, from 0 to 100")
	fs.Float64Var(&f.Drop.Trim, "trim", 0, "experts: share cut off at each end, such as 0.1")
	fs.Float64Var(&f.Drop.SDs, "drop-sds", 0, "experts: drop those further than this many SD from the mean")
	fs.Float64Var(&f.Drop.MADs, "drop-mads", 0, "experts: drop those further than this many scaled MAD from the median")
	fs.BoolVar(&f.Log, "log-scale", false, "expert-mean: means and SD of logarithms, for times whose distribution is skewed")
	fs.StringVar(&f.columns.Expert, "expert", "", "column with the expert (default: expert; without one, a row is an expert)")
	fs.StringVar(&f.columns.Run, "run", "", "column with an expert's run (default: run, else file order)")
	fs.StringVar(&f.columns.Summary, "summary", "mean", "an expert's runs as one value: mean, median, best or last")
	fs.IntVar(&f.columns.SkipRuns, "skip-runs", 0, "leave out an expert's first runs, as familiarisation")

	fs.StringVar(&f.columns.Competent, "competent", "", "contrasting-groups: column with 1 for competent, 0 for not yet (default: competent)")
	fs.StringVar(&f.crossing, "crossing", string(standard.Normal), "contrasting-groups: normal, weighted, logistic or youden")
	fs.StringVar(&f.columns.Rating, "rating", "", "borderline methods: column with the rating (default: rating)")
	fs.Float64Var(&f.Borderline, "borderline", math.NaN(), "borderline methods: the rating that means borderline")
	fs.StringVar(&f.center, "center", "mean", "borderline-group: mean or median")

	fs.StringVar(&f.columns.Judge, "judge", "", "angoff, ebel: column with the judge (default: judge)")
	fs.StringVar(&f.columns.Round, "round", "", "angoff: column with the round; the last one sets the standard (default: round)")
	fs.StringVar(&f.columns.Item, "item", "", "angoff, one row a judgement: column with the item (default: item)")
	fs.StringVar(&f.columns.Judgement, "judgement", "", "angoff, one row a judgement, and ebel: column with the chance (default: chance; for ebel share)")
	fs.StringVar(&f.columns.Class, "class", "", "ebel: column with the class of items (default: class)")
	fs.StringVar(&f.columns.Count, "count", "", "ebel: column with the number of items in the class (default: items)")
	fs.StringVar(&f.columns.JudgeFile, "judges", "", "hofstee: table with one row a judge")
	fs.StringVar(&f.columns.MinCut, "min-cut", "", "hofstee: column with the lowest standard a judge accepts (default: min_cut)")
	fs.StringVar(&f.columns.MaxCut, "max-cut", "", "hofstee: column with the highest (default: max_cut)")
	fs.StringVar(&f.columns.MinFail, "min-fail", "", "hofstee: column with the lowest percentage failing (default: min_fail)")
	fs.StringVar(&f.columns.MaxFail, "max-fail", "", "hofstee: column with the highest (default: max_fail)")
	fs.Float64Var(&f.Step, "step", 1, "hofstee: distance between possible standards")

	fs.StringVar(&f.columns.TraineeFile, "trainees", "", "standards from experts or judges: table with the response of every trainee, to count whom the interval leaves in doubt")
	fs.Float64Var(&f.Reliability, "reliability", 0, "of the trainees' score: adds accuracy and consistency of pass and fail")
	fs.StringSliceVar(&f.columns.Items, "items", nil, "columns of the trainees' table whose sum is the score, for its reliability by Cronbach's alpha")
	fs.StringSliceVar(&f.columns.Raters, "raters", nil, "columns of the trainees' table whose mean is the score, one a rater, for its reliability by icc(a,k)")
	fs.Float64Var(&f.Lowest, "lowest-score", 0, "with a reliability: lowest possible score")
	fs.Float64Var(&f.Highest, "highest-score", 100, "with a reliability: highest possible score")

	fs.Float64Var(&f.Decision.Value, "value", math.NaN(), "the value decided on, where it is not the estimate, such as a rounded one")
	fs.StringVar(&f.Decision.By, "decided-by", "", "who decided: adds the lines for the study file")
	fs.StringVar(&f.Decision.On, "decided-on", "", "when, as 2026-02-28")
	fs.StringVar(&f.Decision.Data, "data", "", "on which data (default: the table)")
	for _, name := range []string{"borderline", "value"} {
		fs.Lookup(name).DefValue = "0" // hidden: there is none
	}
}

// settle checks the flags and turns them into the question.
func (f *standardFlags) settle() error {
	if !slices.Contains(reports.StandardMethods(), f.Method) {
		return usagef("--method %q: expected one of %s", f.Method, strings.Join(reports.StandardMethods(), ", "))
	}
	oneOf := func(flag, value string, allowed ...string) error {
		if !slices.Contains(allowed, value) {
			return usagef("--%s %q: expected one of %s", flag, value, strings.Join(allowed, ", "))
		}
		return nil
	}
	dropping := 0
	for _, v := range []float64{f.Drop.Trim, f.Drop.SDs, f.Drop.MADs} {
		if v != 0 {
			dropping++
		}
		if !(v >= 0) {
			return usagef("--trim, --drop-sds and --drop-mads must be above 0")
		}
	}
	switch {
	case !(f.SDs >= 0):
		return usagef("--sds %v: expected 0 or more; they are added on the lenient side", f.SDs)
	case !(f.percentile > 0 && f.percentile < 100):
		return usagef("--percentile %v: expected a number between 0 and 100", f.percentile)
	case dropping > 1:
		return usagef("give one of --trim, --drop-sds and --drop-mads")
	case f.Drop.Trim >= 0.5:
		return usagef("--trim %v: expected a share below 0.5", f.Drop.Trim)
	case f.columns.SkipRuns < 0:
		return usagef("--skip-runs %d: expected 0 or more", f.columns.SkipRuns)
	case !(f.Step > 0):
		return usagef("--step %v: expected a distance above 0", f.Step)
	case len(f.columns.Items) > 0 && len(f.columns.Raters) > 0:
		return usagef("give one of --items and --raters")
	case !(f.Highest > f.Lowest):
		return usagef("--highest-score %v: expected one above --lowest-score %v", f.Highest, f.Lowest)
	case f.Decision.On != "" && !isDay(f.Decision.On):
		return usagef("--decided-on %q: expected a day, as 2026-02-28", f.Decision.On)
	case !(f.Reliability >= 0 && f.Reliability < 1):
		return usagef("--reliability %v: expected a number between 0 and 1", f.Reliability)
	case math.IsNaN(f.Borderline) && (f.Method == reports.BorderlineGroup || f.Method == reports.BorderlineRegression):
		return usagef("%s needs --borderline X, the rating that means borderline", f.Method)
	case f.Method == reports.HofsteeMethod && f.columns.JudgeFile == "":
		return usagef("hofstee needs --judges FILE, the judges' bounds")
	}
	for _, err := range []error{
		oneOf("crossing", f.crossing, "normal", "weighted", "logistic", "youden"),
		oneOf("center", f.center, "mean", "median"),
		oneOf("summary", f.columns.Summary, "mean", "median", "best", "last"),
		oneOf("measure", f.measure, "time", "score", "count"),
		oneOf("better", f.better, "", "lower", "higher"),
	} {
		if err != nil {
			return err
		}
	}
	f.Share, f.Crossing, f.UseMedian = f.percentile/100, standard.Crossing(f.crossing), f.center == "median"
	f.columns.Time = f.measure == "time"
	f.Lower = f.better == "lower" || f.better == "" && f.measure != "score"
	return nil
}

// open reads a study folder's experts, or a table.
func (f *standardFlags) open(cmd *cobra.Command, path string, common commonFlags, progress func(done, total int)) (*reports.Input, reports.StandardData, error) {
	var none reports.StandardData
	info, err := os.Stat(path)
	if err != nil {
		return nil, none, fmt.Errorf("no study at %s: expected a folder with %s, or a table", path, datasets.StudyFile)
	}
	for _, name := range []string{"value", "decided-by", "decided-on", "data"} {
		f.Decision.Wanted = f.Decision.Wanted || cmd.Flags().Changed(name)
	}
	if !info.IsDir() {
		if f.Decision.Data == "" {
			f.Decision.Data = filepath.Base(path)
		}
		study, data, err := reports.ReadStandard(cmd.Context(), path, f.Method, f.Lower, f.columns)
		if err != nil {
			return nil, none, err
		}
		in, err := ready(study, common.options(progress))
		return in, data, err
	}
	if !reports.FromExperts(f.Method) {
		return nil, none, usagef("%s reads a table, and %s is a study folder, which gives its experts", f.Method, path)
	}
	for _, name := range []string{"response", "measure", "better", "expert", "run", "trainees", "items", "raters"} {
		if cmd.Flags().Changed(name) {
			return nil, none, usagef("--%s is for single tables; %s is a study folder, whose %s says this", name, path, datasets.StudyFile)
		}
	}
	study, err := datasets.Open(cmd.Context(), path)
	if err != nil {
		return nil, none, err
	}
	in, err := ready(study, common.options(progress))
	if err != nil {
		return nil, none, err
	}
	f.asDecided(cmd, in)
	f.Lower = in.Task.LowerIsBetter()
	if f.Decision.Data == "" && study.ExpertFile != nil {
		f.Decision.Data = study.ExpertFile.File
	}
	data, err := reports.StudyExperts(in, f.StandardQuestion, f.columns)
	return in, data, err
}

// asDecided takes the question from the study file where it says how its standard
// was computed and the command line says nothing else.
func (f *standardFlags) asDecided(cmd *cobra.Command, in *reports.Input) {
	s := in.Task.Standard
	if s == nil || s.Computed == nil {
		return
	}
	for _, name := range []string{"method", "sds", "percentile", "trim", "drop-sds", "drop-mads", "log-scale", "summary", "skip-runs"} {
		if cmd.Flags().Changed(name) {
			return
		}
	}
	decision := f.Decision
	f.StandardQuestion, f.columns = reports.QuestionFrom(*s.Computed)
	f.Decision = decision
}

func isDay(s string) bool {
	_, err := time.Parse(time.DateOnly, s)
	return err == nil
}
