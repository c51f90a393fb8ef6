package main

import (
	"bytes"
	"fmt"
	"slices"

	"github.com/spf13/cobra"

	"tyro/analysis/plan"
	"tyro/analysis/practice"
	"tyro/analysis/shard"
	"tyro/analysis/study"
	"tyro/reports"
)

// planStudyFlags are the choices of the command plan.
type planStudyFlags struct {
	common  commonFlags
	columns columnFlags
	curves  curveFlags
	costs   practice.Costs

	trainees, attempts []int
	allocation         float64
	width, power       float64
	margin             float64
	marginKind         string
	most               int

	tTest          bool
	difference, sd float64

	logRank     bool
	hazardRatio float64
	metShare    float64

	ratings            string
	expect, raterShare float64
	raters             int
	shares             string

	course courseFlags
	check  string
	sample int
	list   listFlags
}

func newPlan(a app) *cobra.Command {
	var f planStudyFlags
	cmd := &cobra.Command{
		Use:   "plan STUDY | --from FIT | --assume NAME=VALUE | --t-test | --log-rank | --ratings KIND",
		Short: "How many trainees and attempts a study needs, by simulating it with its analysis",
		Long: `plan says before any data are collected what a study will be able to tell. It simulates
the whole study, 1,000 times or as often as --replicates says, each time with the analysis
that compare or quota will make of it, and counts how often the arms are told apart, or
shown to lie within a margin (--margin), or the interval is narrow enough
(--interval-width). Studies whose fit fails are counted, by stage; where more than 5 %
fail no power is given.

Trainees are like those of a STUDY, of a fit that cohort --save kept (--from), or as
stated (--assume plateau=45,start=175,rate=0.2,spread=0.2 with --trainee-sd plateau=0.2 and
--family exponential). The other arm is like the reference arm but for --effect,
or is an arm of the study itself. Errors and hard fails befall attempts as they did in
the STUDY, or as stated (--errors). With --power it looks for the smallest number of
trainees. Several --trainees and several --attempts give a table of power over both, and
with --out a picture with lines of equal cost.

With --out FILE.json the studies are kept. The same command with more --replicates, sizes
or a later target simulates only those that are missing; an interrupted one goes on where
it was. --check FILE simulates some of the kept studies again and says whether they come
out the same.

With --t-test, --log-rank and --ratings the closed form stands beside the simulation.
--randomise makes an allocation list instead: see its flags.`,
		Example: `  tyro plan tyro-demo --contrast plateau --effect plateau=0.85 --trainees 20,30,40 --attempts 15,25
  tyro plan --from fit.json --contrast level --effect level=0.85 --attempts 20 --power 0.8
  tyro plan --t-test --difference 5 --sd 10 --trainees 32,64
  tyro plan --check plan.json
  tyro plan --randomise 60 --arms usual,new --blocks 4,6 --seed 3141592653589793 --out list`,
		Args: cobra.MaximumNArgs(1),
		RunE: failing(func(cmd *cobra.Command, args []string) error {
			kind, err := f.kind(cmd, args)
			if err != nil {
				return err
			}
			if err := f.common.shard.check(cmd); err != nil {
				return err
			}
			if f.common.shard.asked() && (kind == "check" || kind == "randomise" || cmd.Flags().Changed("power")) {
				return usagef("--shard and --slurm cut the studies of given --trainees: --power looks at one size after the other, and is not cut; nor is --check or --randomise")
			}
			switch kind {
			case "check":
				return a.checkPlan(cmd, &f)
			case "randomise":
				return a.randomise(cmd, &f)
			}
			return a.plan(cmd, args, kind, &f)
		}),
	}
	f.common.register(cmd)
	f.common.shard.register(cmd, a)
	f.columns.register(cmd)
	f.curves.register(cmd)
	registerCosts(cmd, &f.costs)
	f.course.register(cmd)
	f.list.register(cmd)
	fs := cmd.Flags()
	fs.Lookup("out").Usage = "write files into this `folder` instead of standard output, or, where it ends in .json, keep the simulated studies in this file"
	fs.Lookup("replicates").Usage = "studies simulated of every size (default 1000)"
	fs.IntSliceVar(&f.trainees, "trainees", nil, "numbers of trainees in the reference arm (subjects with --ratings), such as 20,30,40")
	fs.IntSliceVar(&f.attempts, "attempts", nil, "numbers of attempts that a trainee makes at most, such as 10,20")
	fs.Float64Var(&f.allocation, "allocation", 1, "trainees of every other arm for each of the reference arm")
	fs.Float64Var(&f.width, "interval-width", 0, "ask for an interval no wider than this (of a ratio: the upper end over the lower), in place of arms told apart")
	fs.Float64Var(&f.margin, "margin", 0, "ask whether the other arm is shown to lie within this margin of the reference, in place of arms told apart: a ratio such as 1.1 where arms are compared as a ratio, otherwise a difference")
	fs.StringVar(&f.marginKind, "margin-kind", practice.Equivalence, "what the margin is for: equivalence or non-inferiority")
	fs.Float64Var(&f.power, "power", 0.8, "look for the smallest number of trainees with this power, such as 0.8")
	fs.Lookup("power").DefValue = "0" // hidden: there is none
	fs.IntVar(&f.most, "most-trainees", plan.DefaultMost, "with --power: trainees looked at in the reference arm at most")
	fs.BoolVar(&f.tTest, "t-test", false, "one number a trainee, compared by Student's t test")
	fs.Float64Var(&f.difference, "difference", 0, "with --t-test: difference of the means")
	fs.Float64Var(&f.sd, "sd", 0, "with --t-test: standard deviation between trainees of an arm")
	fs.BoolVar(&f.logRank, "log-rank", false, "time to an event, compared by the log-rank test")
	fs.Float64Var(&f.hazardRatio, "hazard-ratio", 0, "with --log-rank: hazard of the other arm over that of the reference arm")
	fs.Float64Var(&f.metShare, "met-share", 0, "with --log-rank: share of the reference arm that has the event by the end")
	fs.StringVar(&f.ratings, "ratings", "", "subjects rated by several raters: icc or kappa")
	fs.Float64Var(&f.expect, "expect", 0, "with --ratings: the coefficient expected")
	fs.IntVar(&f.raters, "raters", 2, "with --ratings: number of raters")
	fs.Float64Var(&f.raterShare, "rater-share", 0, "with --ratings icc: part of the variance within subjects that lies between raters")
	fs.StringVar(&f.shares, "shares", "0.5,0.5", "with --ratings kappa: shares of the categories")
	fs.StringVar(&f.check, "check", "", "simulate some studies of this plan's `file` again, and say whether they come out the same")
	fs.IntVar(&f.sample, "sample", 20, "with --check: studies simulated again")
	return cmd
}

// kind is what is planned for, from the flags that name it; usage where they name none or
// several.
func (f *planStudyFlags) kind(cmd *cobra.Command, args []string) (string, error) {
	changed := cmd.Flags().Changed
	var kinds []string
	for kind, given := range map[string]bool{
		"t-test": f.tTest, "log-rank": f.logRank, "ratings": f.ratings != "", "check": f.check != "", "randomise": changed("randomise") || changed("minimise"),
		"from": f.course.from != "", "assume": changed("assume"), "study": len(args) > 0,
	} {
		if given {
			kinds = append(kinds, kind)
		}
	}
	slices.Sort(kinds)
	if len(kinds) != 1 {
		return "", usagef("plan needs one of: a study, --from FIT, --assume NAME=VALUE, --t-test, --log-rank, --ratings icc|kappa, --check FILE, --randomise N, --minimise TABLE; it was given %d", len(kinds))
	}
	return kinds[0], f.belongs(changed, kinds[0])
}

// belongs refuses flags of another kind of plan.
func (f *planStudyFlags) belongs(changed func(string) bool, kind string) error {
	of := map[string][]string{
		"t-test":    {"difference", "sd"},
		"log-rank":  {"hazard-ratio", "met-share"},
		"ratings":   {"expect", "raters", "rater-share", "shares"},
		"check":     {"sample"},
		"randomise": listFlagNames,
		"course":    courseFlagNames,
	}
	own := kind
	if kind == "study" || kind == "from" || kind == "assume" {
		own = "course"
	}
	for _, k := range []string{"t-test", "log-rank", "ratings", "check", "randomise", "course"} {
		if k == own {
			continue
		}
		for _, flag := range of[k] {
			if changed(flag) && !slices.Contains(of[own], flag) {
				return usagef("--%s is for another kind of plan; it says nothing here", flag)
			}
		}
	}
	if kind == "check" || kind == "randomise" {
		return nil
	}
	switch {
	case own != "course" && changed("attempts"):
		return usagef("--attempts is for plans of practice; here every trainee has one number")
	case own == "course" && len(f.attempts) == 0:
		return usagef("plan needs --attempts, such as --attempts 10,20")
	case len(f.trainees) == 0 && !changed("power"):
		return usagef("plan needs --trainees, such as --trainees 20,30, or --power to look for the smallest number")
	}
	return nil
}

// plan simulates and answers.
func (a app) plan(cmd *cobra.Command, args []string, kind string, f *planStudyFlags) error {
	base, s, err := f.design(cmd, args, kind, a)
	if err != nil {
		return err
	}
	base.Form, base.Level, base.Allocation, base.Width = plan.Form, f.common.level, f.allocation, f.width
	if cmd.Flags().Changed("margin") {
		base.Margin = &plan.Margin{Value: f.margin, NonInferior: f.marginKind == practice.NonInferiority}
	} else if cmd.Flags().Changed("margin-kind") {
		return usagef("--margin-kind goes with --margin")
	}
	ask := plan.Ask{Trainees: f.trainees, Attempts: f.attempts, Studies: f.common.replicates, Most: f.most}
	if kind != "study" && kind != "from" && kind != "assume" {
		ask.Attempts = []int{1}
	}
	if cmd.Flags().Changed("power") {
		ask.Power = f.power
	}
	if ask.Costs, err = settleCosts(cmd, f.costs, s.Task.Costs); err != nil {
		return err
	}
	first := 24
	if len(f.trainees) > 0 {
		first = f.trainees[0]
	}
	base = base.At(first, ask.Attempts[0])
	if base, err = f.course.apply(base); err != nil {
		return usageError{err}
	}
	if err := f.sensible(base, ask); err != nil {
		return err
	}
	file := plan.NewFile(base, reports.Version, s.Options.Seed, s.SHA256)
	run, err := planRun(f.common.runOf(s), file)
	if err != nil {
		return err
	}
	return a.answerRun(run, f.common, func() (reports.Document, error) {
		out := f.common.outDir
		if f.common.shard.cut != "" {
			out = "" // is for the part
		}
		keep, err := a.planKeeper(out, &file)
		if err != nil {
			return nil, err
		}
		answer, err := file.Answer(cmd.Context(), ask, plan.Work{Workers: f.common.workers, Progress: a.progress("simulating"), Keep: keep.now, Ledger: f.common.shard.ledger})
		if end := keep.end(file); end != nil && err == nil {
			err = end
		}
		if err != nil {
			return nil, err
		}
		return reports.NewPlan(s, answer), nil
	}, func(d reports.Document) error { return a.showPlan(d.(*reports.Plan), file, f.common) })
}

// planRun is a run whose data are the whole design, so that parts of plans from two fits are
// not taken for one.
func planRun(run shard.Run, file *plan.File) (shard.Run, error) {
	var b bytes.Buffer
	err := file.Write(&b)
	run.Data = hashOf(b.Bytes())
	return run, err
}

// sensible refuses sizes and questions that the flags make impossible.
func (f *planStudyFlags) sensible(d plan.Design, ask plan.Ask) error {
	needsWidth := d.Ratings != nil || d.Course != nil && d.Course.Quota != nil
	if needsWidth && d.Width == 0 && ask.Power > 0 {
		return usagef("--power needs --interval-width here: how wide the interval may be")
	}
	trainees := ask.Trainees
	if len(trainees) == 0 {
		trainees = []int{d.Trainees}
	}
	for _, k := range ask.Attempts {
		for _, n := range trainees {
			if err := d.At(n, k).Check(); err != nil {
				return usageError{err}
			}
		}
	}
	return nil
}

// design makes the design that the flags state, and the study that the assumptions come
// from.
func (f *planStudyFlags) design(cmd *cobra.Command, args []string, kind string, a app) (plan.Design, *study.Study, error) {
	var d plan.Design
	changed := cmd.Flags().Changed
	switch kind {
	case "t-test":
		if !changed("difference") || !changed("sd") {
			return d, nil, usagef("--t-test needs --difference and --sd")
		}
		if changed("margin") && f.marginKind == practice.NonInferiority && f.columns.better == "" {
			return d, nil, usagef("--margin-kind non-inferiority needs --better lower or --better higher: which numbers are better says on which side the other arm is worse")
		}
		d.TTest = &plan.TTest{Difference: f.difference, SD: f.sd, Lower: f.columns.better == "lower"}
	case "log-rank":
		if !changed("hazard-ratio") || !changed("met-share") {
			return d, nil, usagef("--log-rank needs --hazard-ratio and --met-share")
		}
		d.LogRank = &plan.LogRank{HazardRatio: f.hazardRatio, Met: f.metShare}
	case "ratings":
		if !changed("expect") {
			return d, nil, usagef("--ratings needs --expect, the coefficient expected")
		}
		d.Ratings = &plan.Ratings{Expect: f.expect, Raters: f.raters, RaterShare: f.raterShare}
		if f.ratings == "kappa" {
			var err error
			if d.Ratings.Shares, err = shares(f.shares); err != nil {
				return d, nil, err
			}
		}
	default:
		return f.courseDesign(cmd, args, kind, a)
	}
	s, err := study.New(practice.Practice{}, f.common.ofStudy(nil))
	return d, s, err
}

// showPlan writes a plan's document; a folder also gets the studies.
func (a app) showPlan(d *reports.Plan, file *plan.File, common commonFlags) error {
	if isPlanFile(common.outDir) {
		common.outDir = ""
		return a.show(d, common)
	}
	if common.outDir == "" {
		return a.show(d, common)
	}
	files, err := rendered(d)
	if err != nil {
		return err
	}
	if files["studies.json"], err = fileText(file); err != nil {
		return err
	}
	return a.writeFiles("plan", common.outDir, files)
}

// checkPlan answers --check.
func (a app) checkPlan(cmd *cobra.Command, f *planStudyFlags) error {
	file, err := openPlan(f.check)
	if err != nil {
		return err
	}
	s, err := study.New(practice.Practice{}, f.common.ofStudy(nil))
	if err != nil {
		return err
	}
	r, err := file.Check(cmd.Context(), f.sample, plan.Work{Workers: f.common.workers, Progress: a.progress("simulating again")})
	if err != nil {
		return err
	}
	if err := a.show(reports.NewPlanCheck(s, file, r), f.common); err != nil {
		return err
	}
	if len(r.Differ) > 0 {
		return fmt.Errorf("%d of %d studies simulated again differ from the file", len(r.Differ), r.Studies)
	}
	return nil
}
