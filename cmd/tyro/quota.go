package main

import (
	"math"

	"github.com/spf13/cobra"

	"tyro/analysis/proficiency"
	"tyro/datasets"
	"tyro/reports"
)

// maxQuotaHorizon keeps the operating curve of a typing slip from filling the
// memory.
const maxQuotaHorizon = 1_000_000

func newQuota(a app) *cobra.Command {
	var common commonFlags
	var chance float64
	var columns columnFlags
	var curves curveFlags
	var against againstFlags
	cmd := &cobra.Command{
		Use:   "quota [STUDY] [--pass-chance P] [--rule TEXT] [--against TEXT]",
		Short: "Attempts to schedule so that a share of trainees meets a rule",
		Long: `quota gives the exact chance of having met a rule by every attempt, and the attempts
by which 50, 80 and 90 % of trainees have met it, when every attempt passes with the
chance stated: what a rule lets through before any data are collected. No file is read.

With --against it sets several ways to stop practice side by side: rules, a fixed
number of attempts, a chart, a pass chance shown with confidence. For a study their
false passes and mean attempts are those of its trainees by their fitted curves;
without one, those of the learner stated. --out writes the picture.`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) > 1 {
				return usagef("quota reads one study; it was given %q", args)
			}
			if len(args) > 0 && !against.asked() {
				return usagef("quota answers for a pass chance and reads no study; it was given %q", args[0])
			}
			return nil
		},
		RunE: failing(func(cmd *cobra.Command, args []string) error {
			if against.asked() {
				return a.compareRules(cmd, args, against, chance, common, columns, curves)
			}
			if err := common.check(); err != nil {
				return err
			}
			text, horizon := columns.rule, columns.horizon
			if !cmd.Flags().Changed("horizon") {
				horizon = proficiency.DefaultHorizon
			}
			if !(chance >= 0 && chance <= 1) {
				return usagef("quota needs --pass-chance P, the chance that one attempt passes, from 0 to 1")
			}
			if text == "" {
				return usagef(`quota needs --rule TEXT, such as "2 in a row and 12 in all"`)
			}
			if horizon < 1 || horizon > maxQuotaHorizon || horizon != math.Trunc(horizon) {
				return usagef("--horizon %v: expected a whole number of attempts from 1 to %d", horizon, maxQuotaHorizon)
			}
			rule, err := proficiency.ParseRule(text)
			if err != nil {
				return usageError{err}
			}
			in, err := reports.Prepare(&datasets.Study{}, common.options(nil))
			if err != nil {
				return err
			}
			d, err := reports.ConstantChanceQuota(in, rule, chance, int(horizon))
			if err != nil {
				return err
			}
			return a.show(d, common)
		}),
	}
	common.register(cmd)
	columns.register(cmd)
	curves.register(cmd)
	against.register(cmd)
	fs := cmd.Flags()
	fs.Float64Var(&chance, "pass-chance", math.NaN(), "chance that one attempt passes")
	fs.Lookup("pass-chance").DefValue = "0" // hidden: there is none
	return cmd
}
