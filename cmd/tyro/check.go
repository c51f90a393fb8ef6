package main

import (
	"bytes"

	"github.com/spf13/cobra"

	"tyro/datasets"
	"tyro/reports"
)

func newCheck(a app) *cobra.Command {
	var common commonFlags
	var columns columnFlags
	cmd := &cobra.Command{
		Use:   "check STUDY",
		Short: "Read a study, report every problem, and count what is in it",
		Long: `check reads a study and reports every problem with file, row, column, value and what
was expected. With --out it also writes the log in the canonical form.`,
		Args: cobra.ExactArgs(1),
		RunE: failing(func(cmd *cobra.Command, args []string) error {
			in, err := prepare(cmd, args[0], common, columns, curveFlags{none: true}, nil)
			if err != nil {
				return err
			}
			d := reports.CheckStudy(in)
			if common.outDir == "" {
				return a.show(d, common)
			}
			files, err := rendered(d)
			if err != nil {
				return err
			}
			var log bytes.Buffer
			if err := datasets.WriteLog(&log, in.Study.Attempts); err != nil {
				return err
			}
			files["attempts.csv"] = log.Bytes()
			if in.Study.Ratings != nil {
				var ratings bytes.Buffer
				if err := datasets.WriteRatings(&ratings, *in.Study.Ratings); err != nil {
					return err
				}
				files["ratings.csv"] = ratings.Bytes()
			}
			return a.writeFiles(d.Head().Command, common.outDir, files)
		}),
	}
	common.register(cmd)
	columns.register(cmd)
	columns.registerWhen(cmd)
	return cmd
}
