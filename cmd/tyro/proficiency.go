package main

import (
	"github.com/spf13/cobra"

	"tyro/reports"
)

func newProficiency(a app) *cobra.Command {
	var common commonFlags
	var columns columnFlags
	var curves curveFlags
	var chance float64
	cmd := &cobra.Command{
		Use:   "proficiency STUDY",
		Short: "Attempts until every trainee and arm is proficient, with confidence",
		Args:  cobra.ExactArgs(1),
		RunE: failing(func(cmd *cobra.Command, args []string) error {
			in, err := prepare(cmd, args[0], common, columns, curves, a.progress("bootstrap"))
			if err != nil {
				return err
			}
			if !(chance > 0 && chance < 1) {
				return usagef("--pass-chance %v: expected a number between 0 and 1", chance)
			}
			in.Question.Chance = chance
			d, err := reports.AttemptsToProficiency(cmd.Context(), in)
			if err != nil {
				return err
			}
			return a.show(d, common)
		}),
	}
	common.register(cmd)
	columns.register(cmd)
	curves.register(cmd)
	cmd.Flags().Float64Var(&chance, "pass-chance", 0.8, "chance that one attempt meets the standard, for the definition pass-chance")
	return cmd
}
