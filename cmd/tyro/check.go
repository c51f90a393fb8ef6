package main

import (
	"bytes"

	"github.com/spf13/cobra"

	"tyro/analysis/study"
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
			file, err := read(cmd, args[0], common, columns)
			if err != nil {
				return err
			}
			s, err := ready(file, common, study.Options{NoCurves: true}, nil)
			if err != nil {
				return err
			}
			d := reports.NewCheck(s)
			if common.outDir == "" {
				return a.show(d, common)
			}
			files, err := rendered(d)
			if err != nil {
				return err
			}
			var log bytes.Buffer
			if err := datasets.WriteLog(&log, file.Attempts); err != nil {
				return err
			}
			files["attempts.csv"] = log.Bytes()
			if file.Ratings != nil {
				var ratings bytes.Buffer
				if err := datasets.WriteRatings(&ratings, *file.Ratings); err != nil {
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
