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
			if err := a.show(reports.NewCheck(in.Study), common); err != nil || common.outDir == "" {
				return err
			}
			files := map[string][]byte{}
			var log bytes.Buffer
			if err := datasets.WriteLog(&log, in.File.Attempts); err != nil {
				return err
			}
			files["attempts.csv"] = log.Bytes()
			if in.File.Ratings != nil {
				var ratings bytes.Buffer
				if err := datasets.WriteRatings(&ratings, *in.File.Ratings); err != nil {
					return err
				}
				files["ratings.csv"] = ratings.Bytes()
			}
			return a.writeFiles(common.outDir, files)
		}),
	}
	common.register(cmd)
	columns.register(cmd)
	columns.registerWhen(cmd)
	return cmd
}
