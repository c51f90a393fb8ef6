package main

import (
	"github.com/spf13/cobra"

	"tyro/analysis/study"
	"tyro/reports"
)

func newDiff(a app) *cobra.Command {
	var common commonFlags
	var columns columnFlags
	var curves curveFlags
	var earlier string
	cmd := &cobra.Command{
		Use:   "diff A B | diff STUDY --earlier DAY",
		Short: "Two studies, or one study at two dates, side by side: quota, level, cost, who moved",
		Long: `diff sets two studies side by side, or one study at two dates: the attempts by which
50, 80 and 90 % have met the rule, the level at the last attempts, the cost of each
proficient trainee, all with intervals, and whose status moved and why. Trainees are
matched by their codes.

Studies whose standard, rule, scoring version, measure or limits differ do not mean the
same by proficient and are refused, with what differs; --standard and --rule set those of
both. With --up-to both studies are taken as of that day, of one study at two dates the
later one.`,
		Example: `  tyro diff spring autumn
  tyro diff tyro-demo --earlier 2026-02-28
  tyro diff tyro-demo --earlier 2026-02-15 --up-to 2026-02-28`,
		Args: cobra.RangeArgs(1, 2),
		RunE: failing(func(cmd *cobra.Command, args []string) error {
			one := len(args) == 1
			switch {
			case one && earlier == "":
				return usagef("diff needs a second study, or --earlier DAY")
			case !one && earlier != "":
				return usagef("--earlier is of one study at two dates; there are two studies")
			case earlier != "" && !isDay(earlier):
				return usagef("--earlier %q: expected a day, as 2026-03-31", earlier)
			case earlier != "" && common.part.upTo != "" && earlier >= common.part.upTo:
				return usagef("--earlier %s: expected a day before that of --up-to, %s", earlier, common.part.upTo)
			}
			names, dates := [2]string{args[0], args[len(args)-1]}, [2]string{"", common.part.upTo}
			first := common
			if one {
				dates[0], first.part.upTo = earlier, earlier
			} else {
				dates[0] = common.part.upTo
			}
			// Who is asked for may be on one side alone: the second is looked up.
			first.part.only, first.part.arm = nil, ""
			before, err := prepare(cmd, names[0], first, columns, curves, a.progress("first"))
			if err != nil {
				return err
			}
			after, err := prepare(cmd, names[1], common, columns, curves, a.progress("second"))
			if err != nil {
				return err
			}
			d, err := study.Differ(cmd.Context(), before, after)
			if err != nil {
				return err
			}
			return a.show(reports.NewDiff(d, names, dates), common)
		}),
	}
	common.register(cmd)
	common.part.register(cmd)
	columns.register(cmd)
	curves.register(cmd)
	cmd.Flags().StringVar(&earlier, "earlier", "", "set the study as of this day, such as 2026-02-28, against the study as it is")
	return cmd
}
