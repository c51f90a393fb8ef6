package main

import (
	"github.com/spf13/cobra"

	"tyro/reports"
)

func newCurve(a app) *cobra.Command {
	var common commonFlags
	var columns columnFlags
	var curves curveFlags
	cmd := &cobra.Command{
		Use:   "curve STUDY",
		Short: "Fit a learning curve to every trainee",
		Args:  cobra.ExactArgs(1),
		RunE: failing(func(cmd *cobra.Command, args []string) error {
			in, err := prepare(cmd, args[0], common, columns, curves, a.progress("fitting"))
			if err != nil {
				return err
			}
			d, err := reports.FitCurves(cmd.Context(), in)
			if err != nil {
				return err
			}
			return a.show(d, common)
		}),
	}
	common.register(cmd)
	columns.register(cmd)
	curves.register(cmd)
	return cmd
}
