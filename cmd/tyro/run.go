package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"tyro/reports"
)

// The exit statuses.
const (
	exitDone  = 0
	exitData  = 1
	exitUsage = 2
)

// A dataError is a failure of data or a fit, as opposed to a wrong command
// line.
type dataError struct{ error }

func (e dataError) Unwrap() error { return e.error }

// run is the whole program as a function of its arguments and outputs.
func run(ctx context.Context, args []string, out, errw io.Writer) int {
	root := newRoot(out, errw)
	root.SetArgs(args)
	root.SetOut(out)
	root.SetErr(errw)
	err := root.ExecuteContext(ctx)
	var data dataError
	switch {
	case err == nil:
		return exitDone
	case errors.As(err, &data):
		for line := range strings.SplitSeq(err.Error(), "\n") {
			fmt.Fprintf(errw, "tyro: %s\n", line)
		}
		return exitData
	}
	fmt.Fprintf(errw, "tyro: %v\nRun \"tyro help\" for the commands and \"tyro COMMAND --help\" for flags.\n", err)
	return exitUsage
}

func newRoot(out, errw io.Writer) *cobra.Command {
	root := &cobra.Command{
		Use:   "tyro COMMAND STUDY [flags]",
		Short: "How many attempts until proficient, and how sure are we?",
		Long: `tyro reads a log of timed practice attempts, fits learning curves, and answers how
many attempts until a trainee, a cohort or a curriculum is proficient, with
confidence intervals. STUDY is a folder with a study.yaml, or one CSV, TSV or XLSX
table whose columns are named by flags.`,
		Version:       reports.Version,
		SilenceErrors: true,
		SilenceUsage:  true,
		Args:          cobra.NoArgs,
		RunE:          func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
	}
	root.CompletionOptions.DisableDefaultCmd = true
	for _, c := range []func(app) *cobra.Command{newDemo, newCheck, newCurve, newCohort, newStandard, newProficiency, newQuota, newAgreement, newCompare, newMonitor, newReport} {
		root.AddCommand(c(app{out, errw}))
	}
	return root
}

// app is where a command writes.
type app struct{ out, errw io.Writer }

// failing marks what a command returns as a failure of data rather than usage.
func failing(run func(cmd *cobra.Command, args []string) error) func(*cobra.Command, []string) error {
	return func(cmd *cobra.Command, args []string) error {
		err := run(cmd, args)
		var usage usageError
		if err == nil || errors.As(err, &usage) {
			return err
		}
		return dataError{err}
	}
}

// A usageError is a wrong command line found inside a command.
type usageError struct{ error }

func usagef(format string, args ...any) error { return usageError{fmt.Errorf(format, args...)} }
