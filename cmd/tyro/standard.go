package main

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"tyro/analysis/practice"
	"tyro/analysis/standard"
	"tyro/analysis/study"
	"tyro/datasets"
	"tyro/datasets/problem"
	"tyro/reports"
)

// standardFlags are the rule and the columns of the command standard.
type standardFlags struct {
	rule       study.StandardRule
	table      datasets.StandardTable
	decided    study.Decided
	value      float64
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
		Example: `  tyro standard tyro-demo
  tyro standard experts.csv --method expert-median --sds 1 --measure time --response seconds
  tyro standard groups.csv --method contrasting-groups --response seconds --measure time`,
		Args: cobra.ExactArgs(1),
		RunE: failing(func(cmd *cobra.Command, args []string) error {
			if err := f.settle(cmd); err != nil {
				return err
			}
			p, err := f.open(cmd, args[0], common)
			if err != nil {
				return err
			}
			s, err := study.New(p, common.ofStudy(a.progress("bootstrap")))
			if err != nil {
				return err
			}
			answer, err := s.Standard(cmd.Context(), f.rule)
			if err != nil {
				return err
			}
			d := reports.NewStandard(s, answer)
			if d.Decision != nil {
				if d.StudyBlock, err = datasets.Block(*d.Decision); err != nil {
					return err
				}
			}
			return a.show(d, common)
		}),
	}
	common.register(cmd)
	common.part.register(cmd)
	f.register(cmd)
	return cmd
}

func (f *standardFlags) register(cmd *cobra.Command) {
	fs := cmd.Flags()
	fs.StringVar(&f.rule.Method, "method", study.ExpertMean, strings.Join(study.StandardMethods(), ", "))
	fs.StringVar(&f.table.Response, "response", "", "`column` with the measure (default: score)")
	fs.StringVar(&f.measure, "measure", "score", "what the response is: time, score or count")
	fs.StringVar(&f.better, "better", "", "lower or higher (default: lower for a time or count)")

	fs.Float64Var(&f.rule.SDs, "sds", 0, "expert-mean, expert-median: standard deviations (for a median: scaled median distances) added on the lenient side")
	fs.Float64Var(&f.percentile, "percentile", 50, "expert-percentile: which, from 0 to 100")
	fs.Float64Var(&f.rule.Drop.Trim, "trim", 0, "experts: share cut off at each end, such as 0.1")
	fs.Float64Var(&f.rule.Drop.SDs, "drop-sds", 0, "experts: drop those further than this many standard deviations from the mean")
	fs.Float64Var(&f.rule.Drop.MADs, "drop-mads", 0, "experts: drop those further from the median than this many median absolute deviations, scaled to count as standard deviations")
	fs.BoolVar(&f.rule.Log, "log-scale", false, "expert-mean: means and SD of logarithms, for times whose distribution is skewed")
	fs.StringVar(&f.table.Expert, "expert", "", "`column` with the expert (default: expert; without one, a row is an expert)")
	fs.StringVar(&f.table.Run, "run", "", "`column` with an expert's run (default: run, else file order)")
	fs.StringVar(&f.rule.Summary, "summary", "mean", "an expert's runs as one value: mean, median, best or last")
	fs.IntVar(&f.rule.SkipRuns, "skip-runs", 0, "leave out an expert's first runs, as familiarisation")

	fs.StringVar(&f.table.Competent, "competent", "", "contrasting-groups: `column` with 1 for competent, 0 for not yet (default: competent)")
	fs.StringVar(&f.crossing, "crossing", string(standard.Normal), "contrasting-groups: normal, weighted, logistic or youden")
	fs.StringVar(&f.table.Rating, "rating", "", "borderline methods: `column` with the rating (default: rating)")
	fs.Float64Var(&f.rule.Borderline, "borderline", 0, "borderline methods: the rating that means borderline")
	fs.StringVar(&f.center, "center", "mean", "borderline-group: mean or median")

	fs.StringVar(&f.table.Judge, "judge", "", "angoff, ebel: `column` with the judge (default: judge)")
	fs.StringVar(&f.table.Round, "round", "", "angoff: `column` with the round; the last one sets the standard (default: round)")
	fs.StringVar(&f.table.Item, "item", "", "angoff, one row a judgement: `column` with the item (default: item)")
	fs.StringVar(&f.table.Judgement, "judgement", "", "angoff, one row a judgement, and ebel: `column` with the chance (default: chance; for ebel share)")
	fs.StringVar(&f.table.Class, "class", "", "ebel: `column` with the class of items (default: class)")
	fs.StringVar(&f.table.Count, "count", "", "ebel: `column` with the number of items in the class (default: items)")
	fs.StringVar(&f.table.Bounds, "judges", "", "hofstee: `file` with a table of one row a judge")
	fs.StringVar(&f.table.MinCut, "min-cut", "", "hofstee: `column` with the lowest standard a judge accepts (default: min_cut)")
	fs.StringVar(&f.table.MaxCut, "max-cut", "", "hofstee: `column` with the highest (default: max_cut)")
	fs.StringVar(&f.table.MinFail, "min-fail", "", "hofstee: `column` with the lowest percentage failing (default: min_fail)")
	fs.StringVar(&f.table.MaxFail, "max-fail", "", "hofstee: `column` with the highest (default: max_fail)")
	fs.Float64Var(&f.rule.Step, "step", 1, "hofstee: distance between possible standards")

	fs.StringVar(&f.table.Trainees, "trainee-table", "", "standards from experts or judges: `file` with the response of every trainee, to count whom the interval leaves in doubt")
	fs.Float64Var(&f.rule.Reliability, "reliability", 0, "of the trainees' score: adds accuracy and consistency of pass and fail")
	fs.StringSliceVar(&f.table.Items, "item-columns", nil, "`columns` of the trainees' table whose sum is the score, for its reliability by Cronbach's alpha")
	fs.StringSliceVar(&f.table.Raters, "rater-columns", nil, "`columns` of the trainees' table whose mean is the score, one a rater, for its reliability by icc(a,k)")
	fs.Float64Var(&f.rule.Lowest, "lowest-score", 0, "with a reliability: lowest possible score")
	fs.Float64Var(&f.rule.Highest, "highest-score", 100, "with a reliability: highest possible score")

	fs.Float64Var(&f.value, "value", 0, "the value decided on, where it is not the estimate, such as a rounded one")
	fs.StringVar(&f.decided.By, "decided-by", "", "who decided: adds the lines for the study file")
	fs.StringVar(&f.decided.On, "decided-on", "", "when, as 2026-02-28")
	fs.StringVar(&f.decided.Data, "data", "", "on which data (default: the table)")
}

// open reads a study folder's experts, or a table.
func (f *standardFlags) open(cmd *cobra.Command, path string, common commonFlags) (practice.Practice, error) {
	var none practice.Practice
	info, err := os.Stat(path)
	if err != nil {
		return none, fmt.Errorf("no study at %s: expected a folder with %s, or a table", path, datasets.StudyFile)
	}
	var p practice.Practice
	if info.IsDir() {
		p, err = f.openFolder(cmd, path, common)
	} else {
		if err := common.part.undated(path); err != nil {
			return none, err
		}
		p, err = f.openTable(cmd, path)
	}
	if err != nil {
		return none, err
	}
	if f.rule.Decided != nil && f.rule.Decided.Value != nil {
		return p, valueFits(*f.rule.Decided.Value, p.Task)
	}
	return p, nil
}

func (f *standardFlags) openTable(cmd *cobra.Command, path string) (practice.Practice, error) {
	if cmd.Flags().Changed("task") {
		return practice.Practice{}, usagef("--task is for study folders, and %s is a table", path)
	}
	f.table.Rows = map[string]datasets.StandardRows{
		study.ContrastingGroups: datasets.GroupRows, study.BorderlineGroup: datasets.RatingRows, study.BorderlineRegression: datasets.RatingRows,
		study.Angoff: datasets.JudgementRows, study.Ebel: datasets.ClassRows, study.Hofstee: datasets.ValueRows,
	}[f.rule.Method]
	if study.FromExperts(f.rule.Method) {
		f.table.Rows = datasets.ExpertRows
	}
	if f.rule.Decided != nil && f.decided.Data == "" {
		f.decided.Data = filepath.Base(path)
	}
	p, err := datasets.OpenStandardTable(cmd.Context(), path, f.table)
	return p, f.hint(err)
}

func (f *standardFlags) openFolder(cmd *cobra.Command, path string, common commonFlags) (practice.Practice, error) {
	var none practice.Practice
	if !study.FromExperts(f.rule.Method) {
		return none, usagef("%s reads a table, and %s is a study folder, which gives its experts", f.rule.Method, path)
	}
	for _, name := range []string{"response", "measure", "better", "expert", "run", "trainee-table", "item-columns", "rater-columns", "reliability", "lowest-score", "highest-score"} {
		if cmd.Flags().Changed(name) {
			return none, usagef("--%s is for single tables, and %s is a study folder", name, path)
		}
	}
	file, err := openUpTo(cmd.Context(), path, common.part.upTo)
	if err != nil {
		return none, err
	}
	p, err := file.Practice(common.task)
	if err != nil {
		return none, err
	}
	f.asDecided(cmd, p.Task.Standard)
	if f.rule.Decided != nil && f.decided.Data == "" && file.ExpertFile != nil {
		f.decided.Data = file.ExpertFile.File
	}
	return p, nil
}

// asDecided takes the rule from the study file where it says how its standard was
// computed and the command line says nothing else.
func (f *standardFlags) asDecided(cmd *cobra.Command, d *practice.Decision) {
	if d == nil || d.Computed == nil || slices.ContainsFunc(expertRuleFlags, cmd.Flags().Changed) {
		return
	}
	decided := f.rule.Decided
	f.rule = study.RuleOf(*d.Computed)
	f.rule.Decided = decided
}

// valueFits refuses a value that the study file could not hold for this task.
func valueFits(v float64, t practice.Task) error {
	switch {
	case t.Measure == practice.Time && v <= 0:
		return usagef("--value %v: expected a time above 0", v)
	case t.Measure == practice.Time && t.Limit > 0 && v >= t.Limit:
		return usagef("--value %v: expected a time below the limit of %v", v, t.Limit)
	case t.Measure == practice.Count && v < 0:
		return usagef("--value %v: expected a count, from 0", v)
	case t.Measure == practice.PassFail && !(v > 0 && v < 1):
		return usagef("--value %v: expected a chance to pass between 0 and 1", v)
	}
	return nil
}

// hint adds to a missing column the flag that names it.
func (f *standardFlags) hint(err error) error {
	var p datasets.Problem
	if !errors.As(err, &p) || !errors.Is(err, problem.ErrMissing) || p.Line != 1 {
		return err
	}
	t := f.table
	judgement := "chance"
	if f.rule.Method == study.Ebel {
		judgement = "share"
	}
	for _, c := range []struct{ flag, name, canonical string }{
		{"response", t.Response, "score"}, {"expert", t.Expert, "expert"}, {"run", t.Run, "run"}, {"competent", t.Competent, "competent"},
		{"rating", t.Rating, "rating"}, {"judge", t.Judge, "judge"}, {"round", t.Round, "round"}, {"item", t.Item, "item"}, {"judgement", t.Judgement, judgement},
		{"class", t.Class, "class"}, {"count", t.Count, "items"},
		{"min-cut", t.MinCut, "min_cut"}, {"max-cut", t.MaxCut, "max_cut"}, {"min-fail", t.MinFail, "min_fail"}, {"max-fail", t.MaxFail, "max_fail"},
	} {
		if p.Column == cmp.Or(c.name, c.canonical) {
			return fmt.Errorf("%w (name it with --%s)", err, c.flag)
		}
	}
	return err
}

func isDay(s string) bool {
	_, err := time.Parse(time.DateOnly, s)
	return err == nil
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
