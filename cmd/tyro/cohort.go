package main

import (
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"tyro/datasets"
	"tyro/reports"
)

// cohortFlags choose the hierarchical model.
type cohortFlags struct {
	random, armEffect, scale []string
	covariates, levels       []string
	trainees                 string
	uncorrelated             bool
	method                   string
	ahead                    int
	interval, carryover      string
	reml                     bool
	early, checks            bool
}

func (f *cohortFlags) register(cmd *cobra.Command) {
	fs := cmd.Flags()
	fs.StringSliceVar(&f.random, "random", nil, "parameters that differ between trainees (default: all of the curve); spread lets trainees differ in noise, session in the slowdown after a break")
	fs.BoolVar(&f.uncorrelated, "uncorrelated", false, "take trainees' deviations as independent of each other")
	fs.StringSliceVar(&f.scale, "scale", nil, "scale on which a parameter is normal over trainees: name=identity or name=log")
	fs.StringSliceVar(&f.armEffect, "arm-effect", nil, "parameters that differ between arms, or none (default: those that differ between trainees)")
	fs.StringArrayVar(&f.covariates, "covariate", nil, "attribute of trainees that shifts parameters, a column of the attempt log or of the trainees' table: name=parameter,parameter (default: the study's)")
	fs.StringSliceVar(&f.levels, "levels", nil, "covariates whose numbers are names, such as sites 1, 2 and 3")
	fs.StringVar(&f.trainees, "trainee-table", "", "table with one row a trainee, for covariates")
	fs.StringVar(&f.method, "method", "laplace", "laplace, or quadrature for up to three random parameters")
	fs.BoolVar(&f.reml, "reml", false, "restricted maximum likelihood, for curves linear in everything that moves them (such as inverse with normal noise)")
	fs.StringVar(&f.interval, "interval", "wald", "intervals of parameters: wald, profile, trainees (whole trainees drawn with replacement) or parametric (cohorts simulated from the fit)")
	fs.StringVar(&f.carryover, "carryover", "none", "what a residual carries over to the next attempt of the session: none, whole (autoregression), or part (a level that wanders)")
	fs.IntVar(&f.ahead, "ahead", reports.DefaultAhead, "attempts of each trainee to project")
	fs.BoolVar(&f.checks, "checks", false, "hold the fit against cohorts drawn from it, and leave out each trainee in turn (some seconds)")
	fs.BoolVar(&f.early, "early", false, "say when the rule is met of trainees with fewer than 5 attempts too; this rests on the cohort")
}

func (f *cohortFlags) options(cmd *cobra.Command) (reports.CohortOptions, error) {
	o := reports.CohortOptions{Bootstrap: cmd.Flags().Changed("replicates") && f.interval == reports.IntervalWald, Interval: f.interval, REML: f.reml, Carry: f.carryover, Uncorrelated: f.uncorrelated, Method: f.method, Ahead: f.ahead, Early: f.early, Scale: map[string]string{}}
	if f.checks {
		o.Checks = reports.CheckReplicates
	}
	switch {
	case f.method != "laplace" && f.method != "quadrature":
		return o, usagef("--method %q: expected laplace or quadrature", f.method)
	case !slices.Contains([]string{reports.IntervalWald, reports.IntervalProfile, reports.IntervalTrainees, reports.IntervalParametric}, f.interval):
		return o, usagef("--interval %q: expected wald, profile, trainees or parametric", f.interval)
	case !slices.Contains([]string{"none", "whole", "part"}, f.carryover):
		return o, usagef("--carryover %q: expected none, whole or part", f.carryover)
	case f.ahead < 1 || f.ahead > 1000:
		return o, usagef("--ahead %d: expected 1 to 1000 attempts", f.ahead)
	}
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
	for _, s := range f.covariates {
		name, on, ok := strings.Cut(s, "=")
		c := datasets.CovariateChoice{Name: strings.TrimSpace(name), On: trimmed(strings.Split(on, ","))}
		if !ok || c.Name == "" || len(c.On) == 0 {
			return o, usagef("--covariate %q: expected name=parameter,parameter, such as experience=rate", s)
		}
		c.Levels = slices.Contains(f.levels, c.Name)
		o.Covariates = append(o.Covariates, c)
	}
	for _, name := range f.levels {
		if !slices.ContainsFunc(o.Covariates, func(c datasets.CovariateChoice) bool { return c.Name == name }) {
			return o, usagef("--levels %s: no --covariate of this name", name)
		}
	}
	for _, s := range f.scale {
		name, scale, ok := strings.Cut(strings.TrimSpace(s), "=")
		if !ok || scale != "identity" && scale != "log" {
			return o, usagef("--scale %q: expected name=identity or name=log", s)
		}
		o.Scale[name] = scale
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

func newCohort(a app) *cobra.Command {
	var common commonFlags
	var columns columnFlags
	var curves curveFlags
	var flags cohortFlags
	cmd := &cobra.Command{
		Use:   "cohort STUDY",
		Short: "Fit one curve to all trainees together, and project each from their own attempts and the cohort's",
		Long: `cohort fits a hierarchical learning curve: every trainee has parameters of their own,
drawn from a population, so that few attempts borrow from the others. It says how
much trainees differ, how arms differ, what each trainee's next attempts are expected
to be, and, with a standard, which share of new trainees is proficient by when.

Where start is named (in --random, --scale, --arm-effect or --hold) the starting level
takes the place of gain. With --replicates whole trainees are drawn with replacement for
bootstrap intervals, too. With --session a slowdown after each break is estimated. With
--out it also draws the curves, the projections and how far each trainee is drawn to
the cohort.`,
		Args: cobra.ExactArgs(1),
		RunE: failing(func(cmd *cobra.Command, args []string) error {
			o, err := flags.options(cmd)
			if err != nil {
				return err
			}
			o.Sessions = columns.session != ""
			in, err := prepare(cmd, args[0], common, columns, curves, a.progress("projecting"))
			if err != nil {
				return err
			}
			if flags.trainees != "" {
				if err := in.Study.AddTrainees(cmd.Context(), flags.trainees, ""); err != nil {
					return err
				}
			}
			d, err := reports.FitCohort(cmd.Context(), in, o)
			if err != nil {
				return err
			}
			return a.show(d, common)
		}),
	}
	common.register(cmd)
	columns.register(cmd)
	curves.register(cmd)
	flags.register(cmd)
	cmd.Flags().StringVar(&columns.session, "session", "", "column with the session: estimates a slowdown after each break (a study folder: any value uses its own sessions)")
	return cmd
}
