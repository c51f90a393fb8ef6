package main

import (
	"os"
	"slices"

	"github.com/spf13/cobra"

	"tyro/datasets"
	"tyro/reports"
)

func newAgreement(a app) *cobra.Command {
	var common commonFlags
	var rf datasets.RatingsFile
	cmd := &cobra.Command{
		Use:   "agreement STUDY",
		Short: "Do the raters agree?",
		Long: `agreement reads a study's ratings, or one table of ratings: long (one row a rating,
columns named by flags) or wide (one row a subject, one column a rater).`,
		Args: cobra.ExactArgs(1),
		RunE: failing(func(cmd *cobra.Command, args []string) error {
			if err := common.check(); err != nil {
				return err
			}
			if rf.Scale != "" && !slices.Contains([]string{"nominal", "ordinal", "interval", "ratio"}, rf.Scale) {
				return usagef("--scale %q: expected nominal, ordinal, interval or ratio", rf.Scale)
			}
			study, err := openRatings(args[0], rf)
			if err != nil {
				return err
			}
			in, err := reports.Prepare(study, common.options(a.progress("bootstrap")))
			if err != nil {
				return err
			}
			d, err := reports.RaterAgreement(cmd.Context(), in)
			if err != nil {
				return err
			}
			return a.show(d, common)
		}),
	}
	common.register(cmd)
	fs := cmd.Flags()
	fs.StringVar(&rf.Subject, "subject", "", "column with the rated subject")
	fs.StringVar(&rf.Rater, "rater", "", "column with the rater")
	fs.StringVar(&rf.Item, "item", "", "column with the rated item")
	fs.StringVar(&rf.Score, "score", "", "column with the score")
	fs.StringVar(&rf.Scale, "scale", "", "nominal, ordinal, interval or ratio (default: nominal for words, interval for numbers)")
	fs.BoolVar(&rf.Wide, "wide", false, "one column a rater")
	return cmd
}

func openRatings(path string, rf datasets.RatingsFile) (*datasets.Study, error) {
	if info, err := os.Stat(path); err == nil && info.IsDir() {
		return datasets.Open(path)
	}
	return datasets.OpenRatings(path, rf)
}
