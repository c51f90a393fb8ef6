package main

import (
	"errors"
	"fmt"
	"math"

	"github.com/spf13/cobra"

	"tyro/analysis/practice"
	"tyro/analysis/proficiency"
	"tyro/analysis/study"
	"tyro/datasets"
	"tyro/reports"
)

func newQuota(a app) *cobra.Command {
	var common commonFlags
	var columns columnFlags
	var curves curveFlags
	var until datasets.UntilColumns
	var chance float64
	var schedule scheduleFlags
	var against againstFlags
	cmd := &cobra.Command{
		Use:   "quota STUDY | quota TABLE --until COL --met COL | quota --pass-chance P --rule TEXT | quota [STUDY] --against TEXT",
		Short: "Attempts to schedule so that a share of trainees is proficient, and their cost",
		Long: `quota gives the attempts by which 50, 80 and 90 % of trainees have met the rule, as
observed and by the cohort's curve for new trainees, with intervals; what the attempts
for 90 % bring and cost; and what 20 fewer would change. Costs come from the study
file or from flags. A table with one row a trainee is answered as observed. Limits by
the curve rest on as many draws as --replicates says, or on 400 where it does not.
Where some trainees clearly learn unlike the others, the curve is of two groups, and
a note says so.

With --pass-chance no file is read: it gives the exact chance of having met a rule by
every attempt when every attempt passes with the chance stated, which is what a rule
lets through before any data are collected.

With --against it sets several ways to stop practice side by side: rules, a fixed
number of attempts, a chart, a pass chance shown with confidence. For a study their
false passes and mean attempts are those of its trainees by their fitted curves;
without one, those of the learner stated. --out writes the picture.`,
		Example: `  tyro quota tyro-demo --trainees 24 --lab-hour-price 40
  tyro quota --pass-chance 0.5 --rule "2 in a row" --horizon 10
  tyro quota tyro-demo --against usual`,
		Args: cobra.MaximumNArgs(1),
		RunE: failing(func(cmd *cobra.Command, args []string) error {
			switch {
			case against.asked():
				return a.waysToStop(cmd, args, against, chance, common, columns, curves)
			case cmd.Flags().Changed("pass-chance"):
				return a.constantQuota(cmd, args, common, columns, chance)
			case len(args) == 0:
				return usagef("quota needs a study, or --pass-chance P with --rule TEXT")
			case until.Until != "" || until.Met != "":
				until.Arm = columns.arm
				return a.untilQuota(cmd, args[0], until, common, schedule)
			}
			return a.studyQuota(cmd, args[0], common, columns, curves, schedule)
		}),
	}
	common.register(cmd)
	common.part.register(cmd)
	columns.register(cmd)
	curves.register(cmd)
	curves.registerWeigh(cmd)
	schedule.register(cmd)
	against.register(cmd)
	fs := cmd.Flags()
	fs.Float64Var(&chance, "pass-chance", math.NaN(), "without a file: the chance that one attempt passes")
	fs.StringVar(&until.Until, "until", "", "in a table with one row a trainee: `column` with attempts until met, or last seen")
	fs.StringVar(&until.Met, "met", "", "`column` with 1 where the rule was met and 0 where not; goes with --until")
	fs.Lookup("pass-chance").DefValue = "0" // hidden: there is none
	return cmd
}

// scheduleFlags are what is scheduled, for whom, and what it costs.
type scheduleFlags struct {
	options study.QuotaOptions
	costs   practice.Costs
}

// costFlags name the costs on the command line.
var costFlags = []string{"lab-minutes", "examiner-minutes", "consumables", "lab-hour-price", "examiner-hour-price", "per-trainee", "cost-unit"}

func (f *scheduleFlags) register(cmd *cobra.Command) {
	fs, o := cmd.Flags(), &f.options
	fs.Float64SliceVar(&o.Shares, "share", nil, "shares of trainees beside 0.5, 0.8 and 0.9, such as 0.7,0.95")
	fs.Float64Var(&o.Target, "target", study.DefaultTarget, "share of trainees that the schedule is for")
	fs.IntVar(&o.Attempts, "attempts", 0, "attempts scheduled (default: what the target takes)")
	fs.IntVar(&o.Trainees, "trainees", 0, "trainees to schedule for (default: as many as were studied)")
	fs.IntVar(&o.Fewer, "fewer", study.DefaultFewer, "attempts fewer, to see what they change")
	registerCosts(cmd, &f.costs)
}

// registerCosts adds the flags of what practice costs.
func registerCosts(cmd *cobra.Command, c *practice.Costs) {
	fs := cmd.Flags()
	fs.Float64Var(&c.LabMinutes, "lab-minutes", 0, "minutes of lab time an attempt takes")
	fs.Float64Var(&c.ExaminerMinutes, "examiner-minutes", 0, "minutes of an examiner's time an attempt takes")
	fs.Float64Var(&c.Consumables, "consumables", 0, "cost of what an attempt uses up")
	fs.Float64Var(&c.LabHourPrice, "lab-hour-price", 0, "price of an hour of lab time")
	fs.Float64Var(&c.ExaminerHourPrice, "examiner-hour-price", 0, "price of an hour of an examiner's time")
	fs.Float64Var(&c.PerTrainee, "per-trainee", 0, "cost of a trainee, whatever the attempts")
	fs.StringVar(&c.Unit, "cost-unit", "", "currency, or another word for the unit of cost")
}

// settle checks the choices and takes the costs from the study where no flag says
// otherwise.
func (f *scheduleFlags) settle(cmd *cobra.Command, stated *practice.Costs) (study.QuotaOptions, error) {
	o := f.options
	var err error
	o.Costs, err = settleCosts(cmd, f.costs, stated)
	return o, err
}

// settleCosts takes the costs from the study where no flag says otherwise; nil where
// neither says any.
func settleCosts(cmd *cobra.Command, flags practice.Costs, stated *practice.Costs) (*practice.Costs, error) {
	c := practice.Costs{}
	if stated != nil {
		c = *stated
	}
	given := false
	for _, name := range costFlags {
		if cmd.Flags().Changed(name) {
			given = true
			overrideCost(name, flags, &c)
		}
	}
	if !given {
		return stated, nil
	}
	return &c, costUsage(datasets.CheckCosts(c))
}

// overrideCost takes one cost from its flag.
func overrideCost(name string, flags practice.Costs, c *practice.Costs) {
	switch name {
	case "lab-minutes":
		c.LabMinutes = flags.LabMinutes
	case "examiner-minutes":
		c.ExaminerMinutes = flags.ExaminerMinutes
	case "consumables":
		c.Consumables = flags.Consumables
	case "lab-hour-price":
		c.LabHourPrice = flags.LabHourPrice
	case "examiner-hour-price":
		c.ExaminerHourPrice = flags.ExaminerHourPrice
	case "per-trainee":
		c.PerTrainee = flags.PerTrainee
	case "cost-unit":
		c.Unit = flags.Unit
	}
}

// costUsage turns what is wrong with costs into what is wrong with flags.
func costUsage(err error) error {
	var ps datasets.Problems
	if !errors.As(err, &ps) {
		return err
	}
	text := "costs by flags:"
	for _, p := range ps {
		text += fmt.Sprintf("\n  %s %s: expected %s", p.Column, p.Value, p.Expect)
	}
	return usagef("%s", text)
}

// studyQuota answers for a study.
func (a app) studyQuota(cmd *cobra.Command, path string, common commonFlags, columns columnFlags, curves curveFlags, schedule scheduleFlags) error {
	s, err := prepare(cmd, path, common, columns, curves, a.progress("bootstrap"))
	if err != nil {
		return err
	}
	return a.quota(cmd, s, common, schedule)
}

// untilQuota answers from a table that says for each trainee when the rule was met.
func (a app) untilQuota(cmd *cobra.Command, path string, c datasets.UntilColumns, common commonFlags, schedule scheduleFlags) error {
	if c.Until == "" || c.Met == "" {
		return usagef("--until and --met go together")
	}
	if err := common.part.undated(path); err != nil {
		return err
	}
	if _, err := schedule.settle(cmd, nil); err != nil {
		return err
	}
	p, err := datasets.OpenUntil(cmd.Context(), path, c)
	if err != nil {
		return err
	}
	s, err := study.New(p, common.ofStudy(a.progress("bootstrap")))
	if err != nil {
		return err
	}
	return a.quota(cmd, s, common, schedule)
}

// quota answers for what was seen, whatever kind of file it came from.
func (a app) quota(cmd *cobra.Command, s *study.Study, common commonFlags, schedule scheduleFlags) error {
	o, err := schedule.settle(cmd, s.Task.Costs)
	if err != nil {
		return err
	}
	answer, err := s.Quota(cmd.Context(), o)
	if err != nil {
		return err
	}
	return a.show(reports.NewQuota(s, answer), common)
}

// constantQuota answers for a pass chance, without a file.
func (a app) constantQuota(cmd *cobra.Command, args []string, common commonFlags, columns columnFlags, chance float64) error {
	if err := common.part.undated("a pass chance"); err != nil {
		return err
	}
	horizon := columns.horizon
	if !cmd.Flags().Changed("horizon") {
		horizon = proficiency.DefaultHorizon
	}
	switch {
	case len(args) > 0:
		return usagef("quota with --pass-chance reads no study; it was given %q", args[0])
	case columns.rule == "":
		return usagef(`quota needs --rule TEXT, such as "2 in a row and 12 in all"`)
	}
	rule, err := practice.ParseRule(columns.rule)
	if err != nil {
		return usageError{err}
	}
	s, err := study.New(practice.Practice{}, common.ofStudy(nil))
	if err != nil {
		return err
	}
	curve, err := study.Operating(rule, chance, int(horizon))
	if err != nil {
		return err
	}
	return a.show(reports.NewOperatingCurve(s, curve), common)
}
