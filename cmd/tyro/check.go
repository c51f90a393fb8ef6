package main

import (
	"bytes"
	"os"
	"runtime/debug"

	"github.com/spf13/cobra"

	"tyro/analysis/study"
	"tyro/datasets"
	"tyro/reports"
)

// A large log is read with memory given back more often: check takes little time, and what
// it needs should be known by the size of the log.
const (
	large        = 8 << 20
	largePercent = 30
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
			if info, err := os.Stat(args[0]); err == nil && info.Size() > large {
				defer debug.SetGCPercent(debug.SetGCPercent(largePercent))
			}
			file, err := read(cmd, args[0], common, columns)
			if err != nil {
				return err
			}
			d, err := checked(file, common)
			if err != nil {
				return err
			}
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

// checked counts what is in a study, one trainee after the other: a large log is not
// copied whole. Covariates are looked at with all trainees at hand.
func checked(file *datasets.Study, common commonFlags) (*reports.Check, error) {
	if len(file.Covariates) > 0 || len(file.Tasks) == 0 {
		s, err := ready(file, common, study.Options{NoCurves: true}, nil)
		if err != nil {
			return nil, err
		}
		return reports.NewCheck(s), nil
	}
	if _, err := file.TaskNamed(common.task); err != nil {
		return nil, usageError{err}
	}
	file.LetGo()
	p, err := file.Outline(common.task)
	if err != nil {
		return nil, err
	}
	tally := study.NewTally(p.Task.Lower)
	if err := file.Each(common.task, tally.Add); err != nil {
		return nil, err
	}
	o := study.Options{NoCurves: true}
	common.settle(&o, nil)
	s, err := study.New(p, o)
	if err != nil {
		return nil, usageError{err}
	}
	arms, warnings := tally.Counts(file.Arms)
	return reports.NewCheckOf(s, arms, warnings), nil
}
