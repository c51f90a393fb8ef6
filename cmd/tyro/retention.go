package main

import (
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"tyro/analysis/practice/ranges"
	"tyro/analysis/study"
	"tyro/reports"
)

func newRetention(a app) *cobra.Command {
	var common commonFlags
	var columns columnFlags
	var o study.RetentionOptions
	var gaps []string
	cmd := &cobra.Command{
		Use:   "retention STUDY",
		Short: "What is kept after a break, how soon it is regained, when to refresh",
		Long: `retention looks at breaks between sessions: how much worse the first attempt after a
break is than the level before it, what share of the gain it still shows, how many still
pass, and how many attempts bring the level back. Breaks are read from the dates of
attempts, or named: --session COL --gap SESSION=DAYS.

With breaks of two lengths or more it says how forgetting goes on, in two shapes, and,
with a standard, when to refresh. One length tells no half-life.

One curve over the calendar ties it together: what every attempt learns of what is left,
what breaks take of what is mastered, and what every attempt after them brings back.`,
		Example: `  tyro retention tyro-demo
  tyro retention log.csv --trainee id --attempt n --response seconds --measure time --date day`,
		Args: cobra.ExactArgs(1),
		RunE: failing(func(cmd *cobra.Command, args []string) error {
			var err error
			if o.Gaps, err = gapsOf(gaps); err != nil {
				return err
			}
			s, err := prepare(cmd, args[0], common, columns, curveFlags{none: true}, a.progress("breaks"))
			if err != nil {
				return err
			}
			answer, err := s.Retention(cmd.Context(), o)
			if err != nil {
				return err
			}
			return a.show(reports.NewRetention(s, answer), common)
		}),
	}
	common.register(cmd)
	common.part.register(cmd)
	columns.register(cmd)
	columns.registerWhen(cmd)
	fs := cmd.Flags()
	fs.StringArrayVar(&gaps, "gap", nil, "days before a session: SESSION=DAYS, once for each session after a break")
	fs.IntVar(&o.Before, "before", 5, "last attempts of the session before a break whose mean is the level before it")
	fs.Float64Var(&o.Share, "share", 0.8, "share of trainees who are to meet the standard still when they refresh")
	return cmd
}

// gapsOf reads SESSION=DAYS pairs; nil without any.
func gapsOf(pairs []string) (map[string]float64, error) {
	if len(pairs) == 0 {
		return nil, nil
	}
	out := map[string]float64{}
	for _, p := range pairs {
		k := strings.LastIndex(p, "=")
		if k < 1 {
			return nil, usagef("--gap %q: expected SESSION=DAYS, such as 3=30", p)
		}
		days, err := strconv.ParseFloat(p[k+1:], 64)
		if err != nil || ranges.Days.Check(days) != nil {
			return nil, usagef("--gap %q: expected %s", p, ranges.Days)
		}
		out[p[:k]] = days
	}
	return out, nil
}
