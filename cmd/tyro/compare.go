package main

import (
	"github.com/spf13/cobra"

	"tyro/analysis/study"
	"tyro/reports"
)

func newCompare(a app) *cobra.Command {
	var common commonFlags
	var columns columnFlags
	var curves curveFlags
	cmd := &cobra.Command{
		Use:   "compare STUDY",
		Short: "Compare arms (curricula): level, plateau, rate, attempts to proficiency",
		Long: `compare sets two or more arms side by side: the levels that their trainees' curves start
from and lead to, how fast they get there, and, with a standard, attempts to
proficiency. It gives differences with intervals and tests, and says who was left out.
An arm is the curriculum a trainee was assigned to, whatever was done after.`,
		Args: cobra.ExactArgs(1),
		RunE: failing(func(cmd *cobra.Command, args []string) error {
			s, err := prepare(cmd, args[0], common, columns, curves, a.progress("comparing"))
			if err != nil {
				return err
			}
			answer, err := s.Compare(cmd.Context(), study.CompareOptions{})
			if err != nil {
				return err
			}
			return a.show(reports.NewComparison(s, answer), common)
		}),
	}
	common.register(cmd)
	columns.register(cmd)
	curves.register(cmd)
	return cmd
}
