package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"tyro/analysis/cohort"
	"tyro/analysis/study"
	"tyro/datasets"
	"tyro/models"
	"tyro/reports"
)

// cohortFlags choose the hierarchical model.
type cohortFlags struct {
	random, armEffect, scale []string
	uncorrelated             bool
	method                   string
	ahead                    int
	interval, carryover      string
	reml, bootstrap          bool
	early, checks, oneModel  bool
	save, from               string
}

func (f *cohortFlags) register(cmd *cobra.Command) {
	fs := cmd.Flags()
	fs.StringSliceVar(&f.random, "random", nil, "parameters that differ between trainees (default: all of the curve); spread lets trainees differ in noise, session in the restart")
	fs.BoolVar(&f.uncorrelated, "uncorrelated", false, "take no notice of how trainees' parameters go together, such as a slow start with a fast gain")
	fs.StringSliceVar(&f.scale, "scale", nil, "scale on which a parameter is normal over trainees: name=identity or name=log")
	fs.StringSliceVar(&f.armEffect, "arm-effect", nil, "parameters that differ between arms, or none (default: those that differ between trainees)")
	fs.StringVar(&f.method, "method", "laplace", "laplace, or quadrature for up to three random parameters")
	fs.BoolVar(&f.reml, "reml", false, "restricted maximum likelihood, so that few trainees do not make their spread look too small; for curves linear in everything that moves them (such as inverse with normal noise)")
	fs.StringVar(&f.interval, "interval", string(study.ByWald), "intervals of parameters: wald (from the standard error), profile (what a likelihood ratio test does not reject), trainees (bootstrap of whole trainees, drawn with replacement), parametric (bootstrap of cohorts simulated from the fit); the two bootstraps make --replicates refits")
	fs.BoolVar(&f.bootstrap, "bootstrap", false, "add a table of intervals from a bootstrap of whole trainees, --replicates refits, beside those of --interval")
	fs.StringVar(&f.carryover, "carryover", "none", "whether a good or bad attempt carries over to the next of the session: none, whole (first-order autoregression), or part (the same, and scatter of its own)")
	fs.IntVar(&f.ahead, "ahead", study.DefaultAhead, "attempts of each trainee to project")
	fs.BoolVar(&f.checks, "checks", false, "compare the fit with cohorts simulated from it, and leave out each trainee in turn (some seconds)")
	fs.BoolVar(&f.oneModel, "one-model", false, "fit one model, as the flags say and with the usual settings for the rest, and try no others: quicker, and for comparing with another program's fit")
	fs.StringVar(&f.save, "save", "", "keep the fit in this new `file`, for --from here and in plan; it names no trainee and holds no attempt; models that foretell together are kept together")
	fs.StringVar(&f.from, "from", "", "take the fit from this `file` that --save made, and fit nothing: the trainees here, who need not be those of the fit, are projected by it and their own attempts")
	fs.BoolVar(&f.early, "early", false, "say when the rule is met of trainees with fewer than 5 attempts too; this rests on the cohort")
}

func (f *cohortFlags) options(cmd *cobra.Command) (study.CohortOptions, error) {
	o := study.CohortOptions{
		CohortSpec: study.CohortSpec{Uncorrelated: f.uncorrelated, Method: cohort.Method(f.method), REML: f.reml, Scale: map[string]cohort.Scale{}},
		Interval:   study.CohortInterval(f.interval), Bootstrap: f.bootstrap, Ahead: f.ahead, Early: f.early,
	}
	given := cmd.Flags().Changed
	o.Weigh = !f.oneModel && !f.reml && o.Method == cohort.Laplace
	o.OneModel = !o.Weigh
	o.Settled = cohort.Settled{
		Random: given("random") || given("scale"), Correlations: given("uncorrelated"), Carry: given("carryover"), Effects: given("arm-effect"),
	}
	if !o.Weigh {
		o.Settled = cohort.Settled{}
	}
	if f.from != "" {
		return o, f.readFrom(cmd, &o)
	}
	if f.checks {
		o.Checks = study.DefaultChecks
	}
	o.Carry = map[string]cohort.Carry{"none": cohort.CarryNone, "whole": cohort.CarryWhole, "part": cohort.CarryPart}[f.carryover]
	if cmd.Flags().Changed("random") {
		if o.Random = trimmed(f.random); len(o.Random) == 0 {
			return o, usagef("--random: name at least one parameter, such as plateau")
		}
	}
	if cmd.Flags().Changed("arm-effect") {
		if o.ArmEffect = trimmed(f.armEffect); slices.Equal(o.ArmEffect, []string{"none"}) || len(o.ArmEffect) == 0 {
			o.ArmEffect = []string{}
		}
	}
	for _, s := range f.scale {
		name, scale, ok := strings.Cut(strings.TrimSpace(s), "=")
		if to := cohort.Scale(scale); !ok || to != cohort.Identity && to != cohort.Log {
			return o, usagef("--scale %q: expected name=identity or name=log", s)
		}
		o.Scale[name] = cohort.Scale(scale)
	}
	return o, nil
}

func trimmed(list []string) []string {
	var out []string
	for _, s := range list {
		if s = strings.TrimSpace(s); s != "" {
			out = append(out, s)
		}
	}
	return out
}

// fixedBySaved are flags that choose what a saved fit has settled, or need a fit.
var fixedBySaved = []string{
	"family", "noise", "hold", "origin", "guess", "lapse", "random", "uncorrelated", "scale", "arm-effect", "method", "reml", "carryover", "covariate", "levels",
	"interval", "bootstrap", "replicates", "checks", "one-model", "save", "shard", "slurm", "shareable", "smallest-cell",
}

// readFrom takes the fit from its file.
func (f *cohortFlags) readFrom(cmd *cobra.Command, o *study.CohortOptions) error {
	for _, name := range fixedBySaved {
		if cmd.Flags().Changed(name) {
			return usagef("--from takes the fit as it was saved, and fits nothing: leave out --%s", name)
		}
	}
	saved, err := readFit(f.from)
	if err != nil {
		return err
	}
	if level := saved.Cohort.Level; cmd.Flags().Changed("level") && fmt.Sprint(level) != cmd.Flag("level").Value.String() {
		return usagef("--level: the saved fit has intervals of %g %%, and so have its projections: leave out --level", 100*level)
	}
	if cmd.Flags().Changed("session") && !saved.Sessions() {
		return usagef("--session: the saved fit has no restart after breaks, so that sessions would change nothing: leave it out")
	}
	o.From = saved
	return nil
}

// readFit reads a fit that was saved.
func readFit(path string) (*study.SavedFit, error) {
	if info, err := os.Stat(path); err == nil && info.IsDir() {
		return nil, fmt.Errorf("no fit at %s: it is a folder, and a fit is one file, which cohort --save makes", path)
	}
	r, err := os.Open(path)
	if err != nil {
		return nil, fmt.Errorf("no fit at %s: %w", path, plainPathError(err))
	}
	defer r.Close()
	return study.ReadFit(r, path)
}

// saveFit keeps a fit in a file that is not there yet.
func saveFit(ctx context.Context, path string, s *study.Study, c *study.Cohort) error {
	var b bytes.Buffer
	if err := s.SaveFit(ctx, c.Fit, &b); err != nil {
		return err
	}
	return writeFresh(path, b.Bytes())
}

// writeFresh writes a file that is not there yet.
func writeFresh(path string, data []byte) error {
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if errors.Is(err, fs.ErrExist) {
		return fmt.Errorf("%s is there already and stays as it is: name another file", path)
	}
	if err != nil {
		return cannotWrite(path, err)
	}
	_, err = f.Write(data)
	if err = errors.Join(err, f.Close()); err != nil {
		os.Remove(path)
		return cannotWrite(path, err)
	}
	return nil
}

func newCohort(a app) *cobra.Command {
	var common commonFlags
	var columns columnFlags
	var curves curveFlags
	var flags cohortFlags
	cmd := &cobra.Command{
		Use:   "cohort STUDY",
		Short: "Fit one curve to all trainees together, and project each from their own attempts and the cohort's",
		Long: `cohort fits one learning curve to all trainees together (a hierarchical model): every
trainee has parameters of their own, drawn from a population, so that a trainee with few
attempts borrows from the others. It says how much trainees differ, how arms differ,
what each trainee's next attempts are expected to be, and, with a standard, which share
of new trainees is proficient by when.

Several models are tried: every curve first, then one setting changed at a time (noise,
carryover, what differs between trainees), and an S-shaped curve at the end. A model is good
where it foretells a trainee's later attempts from the first ones, without that trainee in
the fit; of those that do so equally well the one with the lowest AIC is chosen. The best
few foretell together, each with a weight, and their ranges are made wider or narrower until they fit
what trainees really did. Where some trainees clearly learn unlike the others, two groups
are fitted besides, and a note says so. What you name by a flag is kept as it is. With
--one-model, --reml or --method quadrature one model is fitted, and no other is tried.

Where start is named (in --random, --scale, --arm-effect or --hold) the starting level
takes the place of gain. With --session the restart is estimated too: a shift of the
first attempts after a break between sessions against the curve. With --bootstrap, or
--interval trainees or parametric, the cohort is fitted again to --replicates drawn
cohorts. With --out it also draws the curves, the projections and how far each trainee
is drawn to the cohort.

--save keeps the fit in a file, and --from projects from it later: the same trainees after
more attempts, or other people who practise the same task, at once and with no fit made.
Whose attempts lie far from what the fit expects is said by name.`,
		Example: `  tyro cohort tyro-demo
  tyro cohort tyro-demo --family exponential --random plateau,rate --ahead 10 --out cohort
  tyro cohort tyro-demo --save fit.json
  tyro cohort newcomers.csv --from fit.json --trainee id --attempt n --response seconds --measure time --arm arm`,
		Args: cobra.ExactArgs(1),
		RunE: failing(func(cmd *cobra.Command, args []string) error {
			if err := common.shard.check(cmd); err != nil {
				return err
			}
			o, err := flags.options(cmd)
			if err != nil {
				return err
			}
			if err := columns.people.read(); err != nil {
				return err
			}
			if way := o.Interval; common.shard.asked() && (o.Bootstrap && way == study.ByParametric || !o.Bootstrap && way != study.ByParametric && way != study.ByTrainees) {
				return usagef("--shard and --slurm cut one bootstrap: give --interval trainees, --interval parametric, or --bootstrap")
			}
			if common.shard.asked() && flags.save != "" {
				return usagef("--save keeps the fit of a run that is not cut: give it without --shard and --slurm")
			}
			o.Sessions, o.Own = columns.session != "", common.outDir != "" && o.From == nil
			s, err := prepareCohort(cmd, args[0], common, columns, curves, o.From, a.progress("projecting"))
			if err != nil {
				return err
			}
			return a.answer(s, common, func() (reports.Document, error) {
				c, err := s.DescribeCohort(cmd.Context(), o)
				if err != nil {
					return nil, err
				}
				if flags.save != "" {
					if err := saveFit(cmd.Context(), flags.save, s, c); err != nil {
						return nil, err
					}
				}
				return reports.NewCohort(s, c), nil
			})
		}),
	}
	common.register(cmd)
	common.part.register(cmd)
	common.shard.register(cmd, a)
	columns.register(cmd)
	curves.register(cmd)
	columns.people.register(cmd)
	flags.register(cmd)
	common.share.register(cmd)
	cmd.Flags().StringVar(&columns.session, "session", "", "`column` with the session: estimates the restart after each break between sessions (a study folder: any value uses its own sessions)")
	return cmd
}

// prepareCohort is prepare, for a fit to be made or, where it is not nil, the saved one.
func prepareCohort(cmd *cobra.Command, path string, common commonFlags, columns columnFlags, curves curveFlags, from *study.SavedFit, progress func(done, total int)) (*study.Study, error) {
	if from == nil {
		return prepare(cmd, path, common, columns, curves, progress)
	}
	common.level = from.Cohort.Level
	for _, c := range from.Covariates() {
		columns.people.chosen = append(columns.people.chosen, datasets.CovariateChoice{Name: c.Name, On: c.On, Levels: c.Levels != nil})
	}
	file, err := read(cmd, path, common, columns)
	if err != nil {
		return nil, err
	}
	return ready(file, common, study.Options{Families: []models.Family{from.Cohort.Model.Family}, Noise: from.Cohort.Model.Noise}, progress)
}
