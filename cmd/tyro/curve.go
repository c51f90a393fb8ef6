package main

import (
	"slices"

	"github.com/spf13/cobra"

	"tyro/analysis/fit"
	"tyro/reports"
)

func newCurve(a app) *cobra.Command {
	var common commonFlags
	var columns columnFlags
	var curves curveFlags
	var interval string
	cmd := &cobra.Command{
		Use:   "curve STUDY",
		Short: "Fit a learning curve to every trainee",
		Args:  cobra.ExactArgs(1),
		RunE: failing(func(cmd *cobra.Command, args []string) error {
			in, err := prepare(cmd, args[0], common, columns, curves, a.progress("fitting"))
			if err != nil {
				return err
			}
			if !slices.Contains(fit.Methods(), fit.Method(interval)) {
				return usagef("--interval %q: expected profile, wald, percentile, basic or bca", interval)
			}
			in.Options.Interval = fit.Method(interval)
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
	cmd.Flags().StringVar(&interval, "interval", string(fit.ByProfile), "intervals: profile, wald, percentile, basic or bca (the last three from a bootstrap)")
	return cmd
}
