package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
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
	largePercent = 25
)

func newCheck(a app) *cobra.Command {
	var common commonFlags
	var columns columnFlags
	var template, parquet bool
	var keyFile string
	cmd := &cobra.Command{
		Use:   "check STUDY",
		Short: "Read a study, report every problem, and count what is in it",
		Long: `check reads a study and reports every problem with file, row, column, value and what
was expected. It shows how every file was read, before any number: sheet, encoding,
separator, decimal mark and shape, how each column was understood with cells before and
after, the columns and sheets not used, and the rows left out with the reason. What could
be two things is asked for, never guessed.

With --out it also writes the logs, the ratings and the trainees' covariates in the
canonical form, with a dictionary of the log's columns; read again they are the same. With
--parquet the logs are there as Parquet too.`,
		Example: `  tyro check tyro-demo
  tyro check log.csv --trainee id --attempt n --response seconds --measure time --limit 180
  tyro check tyro-demo --shareable --out for-others`,
		Args: cobra.ExactArgs(1),
		RunE: failing(func(cmd *cobra.Command, args []string) error {
			if parquet && (common.outDir == "" || common.share.asked) {
				return usagef("--parquet needs --out FOLDER, into which the attempts are written, and is not for --shareable")
			}
			if template {
				return a.template(cmd, args[0], common.outDir)
			}
			if info, err := os.Stat(args[0]); err == nil && info.Size() > large {
				defer debug.SetGCPercent(debug.SetGCPercent(largePercent))
			}
			file, err := read(cmd, args[0], common, columns)
			if err != nil {
				return err
			}
			if keyFile != "" {
				if err := pseudonymised(cmd.Context(), file, keyFile, common.outDir); err != nil {
					return err
				}
			}
			d, err := checked(file, common)
			if err != nil {
				return err
			}
			if common.outDir == "" || common.share.asked {
				return a.show(d, common)
			}
			reports.Narrow(d)
			files, err := rendered(d)
			if err != nil {
				return err
			}
			var log bytes.Buffer
			if err := datasets.WriteLog(&log, common.part.of(file.Attempts)); err != nil {
				return err
			}
			files["attempts.csv"] = log.Bytes()
			if parquet {
				var log bytes.Buffer
				if err := datasets.WriteParquet(&log, common.part.of(file.Attempts)); err != nil {
					return err
				}
				files["attempts.parquet"] = log.Bytes()
			}
			if !common.part.asked() {
				if err := canonicalFiles(file, files, parquet); err != nil {
					return err
				}
			}
			return a.writeFiles(d.Head().Command, common.outDir, files)
		}),
	}
	common.register(cmd)
	common.part.register(cmd)
	columns.register(cmd)
	columns.registerWhen(cmd)
	cmd.Flags().StringVar(&keyFile, "pseudonyms", "", "put codes in the place of trainees, experts and raters; this `file` is the key, made if it is not there, reused if it is; keep it apart from the data")
	common.share.register(cmd)
	cmd.Flags().BoolVar(&parquet, "parquet", false, "with --out: write the logs as Parquet too")
	cmd.Flags().BoolVar(&template, "template", false, "write entry.xlsx, a sheet to type attempts into that takes only what can be read, for the tasks of a study folder; needs --out")
	return cmd
}

// canonicalFiles adds the study's other tables in their canonical form, with what the
// columns of the log mean.
func canonicalFiles(file *datasets.Study, files map[string][]byte, parquet bool) error {
	add := func(name string, write func(w io.Writer) error) error {
		var b bytes.Buffer
		if err := write(&b); err != nil {
			return err
		}
		files[name] = b.Bytes()
		return nil
	}
	var err error
	if len(file.Tasks) > 0 {
		err = add("dictionary.csv", file.WriteDictionary)
	}
	if len(file.Covariates) > 0 {
		err = errors.Join(err, add("trainees.csv", file.WriteTrainees))
	}
	if file.ExpertFile != nil {
		err = errors.Join(err, add("experts.csv", func(w io.Writer) error { return datasets.WriteLog(w, file.Experts) }))
	}
	if file.ExpertFile != nil && parquet {
		err = errors.Join(err, add("experts.parquet", func(w io.Writer) error { return datasets.WriteParquet(w, file.Experts) }))
	}
	if file.Ratings != nil {
		err = errors.Join(err, add("ratings.csv", func(w io.Writer) error { return datasets.WriteRatings(w, *file.Ratings) }))
	}
	return err
}

// template writes an empty entry sheet for a study whose log need not be there yet.
func (a app) template(cmd *cobra.Command, dir, to string) error {
	if to == "" {
		return usagef("--template needs --out FOLDER, into which the sheet is written")
	}
	s, err := datasets.Plan(cmd.Context(), dir)
	if err != nil {
		return err
	}
	sheet, err := s.Template()
	if err != nil {
		return err
	}
	return a.writeFiles("check", to, map[string][]byte{"entry.xlsx": sheet})
}

// pseudonymised puts codes into a study and keeps the key, never in the folder that is
// written. No other run uses the key meanwhile, which would lose its codes.
func pseudonymised(ctx context.Context, file *datasets.Study, keyFile, out string) error {
	if out != "" {
		folder, err1 := filepath.Abs(out)
		key, err2 := filepath.Abs(keyFile)
		if rel, err := filepath.Rel(folder, key); err1 == nil && err2 == nil && err == nil && filepath.IsLocal(rel) {
			return usagef("--pseudonyms %s lies in the folder that is written; keep the key apart from the data", keyFile)
		}
	}
	unlock, busy, err := lock(ctx, keyFile+".lock")
	switch {
	case busy:
		return fmt.Errorf("another run of tyro is using the key %s", keyFile)
	case errors.Is(err, fs.ErrNotExist):
		return fmt.Errorf("the key %s cannot be kept: its folder is not there", keyFile)
	case err != nil:
		return err
	}
	defer unlock()
	k, err := datasets.OpenKey(keyFile)
	if err != nil {
		return err
	}
	if err := file.Pseudonymise(k); err != nil {
		return err
	}
	return k.Write(keyFile)
}

// checked counts what is in a study, one trainee after the other: a large log is not
// copied whole. Covariates are looked at with all trainees at hand.
func checked(file *datasets.Study, common commonFlags) (*reports.Check, error) {
	if len(file.Covariates) > 0 || common.part.asked() || len(file.Tasks) == 0 {
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
