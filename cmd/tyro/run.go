package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"tyro/analysis/resample"
	"tyro/analysis/shard"
	"tyro/analysis/study"
	"tyro/datasets"
	"tyro/reports"
)

// The exit statuses.
const (
	exitDone        = 0
	exitData        = 1
	exitUsage       = 2
	exitInterrupted = 130 // 128 and the number of the interrupt, as shells have it
)

const interruptedLine = "tyro: interrupted"

// A dataError is a failure of data or a fit, as opposed to a wrong command
// line.
type dataError struct{ error }

func (e dataError) Unwrap() error { return e.error }

// run is the whole program as a function of its arguments and outputs.
func run(ctx context.Context, args []string, out, errw io.Writer) (status int) {
	defer func() {
		if p := recover(); p != nil {
			status = brokeDown(errw, p)
		}
	}()
	ctx, reads := datasets.Recording(ctx)
	var prof profiling
	root := newRoot(app{out: out, errw: errw, ctx: ctx, reads: reads}, &prof)
	root.SetArgs(args)
	root.SetOut(out)
	root.SetErr(errw)
	err := root.ExecuteContext(ctx)
	return statusOf(ctx, errors.Join(err, prof.stop()), errw)
}

// statusOf tells what went wrong and gives the exit status.
func statusOf(ctx context.Context, err error, errw io.Writer) int {
	var data dataError
	var panicked resample.Panic
	switch {
	case err == nil:
		return exitDone
	case ctx.Err() != nil:
		fmt.Fprintln(errw, interruptedLine)
		return exitInterrupted
	case errors.As(err, &panicked):
		return brokeDown(errw, panicked.Value)
	case errors.As(err, &data):
		for line := range strings.SplitSeq(err.Error(), "\n") {
			fmt.Fprintf(errw, "tyro: %s\n", reports.Printable(line))
		}
		return exitData
	}
	for line := range strings.SplitSeq(err.Error(), "\n") {
		fmt.Fprintf(errw, "tyro: %s\n", reports.Printable(line))
	}
	fmt.Fprintln(errw, `Run "tyro help" for the commands and "tyro COMMAND --help" for flags.`)
	return exitUsage
}

// brokeDown says that tyro itself is at fault.
func brokeDown(errw io.Writer, cause any) int {
	fmt.Fprintf(errw, "tyro: no answer, because of a mistake inside tyro and not in your data; nothing was written (%s)\n", reports.Printable(fmt.Sprint(cause)))
	return exitData
}

func newRoot(a app, prof *profiling) *cobra.Command {
	a.quiet = new(bool)
	root := &cobra.Command{
		Use:   "tyro COMMAND STUDY [flags]",
		Short: "How many attempts until proficient, and how sure are we?",
		Long: `tyro reads a log of timed practice attempts, fits learning curves, and answers how
many attempts until a trainee, a cohort or a curriculum is proficient, with
confidence intervals. STUDY is a folder with a study.yaml, or one table (CSV, TSV,
XLSX, ODS or Parquet) whose columns are named by flags.

With --out all files of a run appear in the folder together or not at all. Its
manifest.json lists them; a file that tyro did not write, or that was changed
since, is never replaced. In CSV files a text that a spreadsheet program would run
as a formula has an apostrophe before it, which tyro takes away when it reads one.`,
		Example: `  tyro demo
  tyro check mystudy
  tyro proficiency log.csv --trainee id --attempt n --response seconds --measure time --standard 60 --rule "2 in a row"`,
		Version:           reports.Version,
		SilenceErrors:     true,
		SilenceUsage:      true,
		PersistentPreRunE: func(cmd *cobra.Command, _ []string) error { return prof.begin(checkFlags(cmd)) },
		RunE:              func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
	}
	prof.register(root)
	root.PersistentFlags().BoolVar(a.quiet, "quiet", false, "say nothing beside the result and errors: no progress, no list of what was written")
	root.CompletionOptions.DisableDefaultCmd = true
	root.SetGlobalNormalizationFunc(otherNames)
	root.SetFlagErrorFunc(plainFlagError)
	root.SetUsageFunc(help)
	root.Args = func(_ *cobra.Command, args []string) error { return unknownCommand(root, args) }
	for _, c := range []func(app) *cobra.Command{newDemo, newCheck, newScore, newCurve, newCohort, newStandard, newProficiency, newQuota, newAgreement, newCompare, newRetention, newMonitor, newPlan, newReport, newDiff, newMerge, newVersion, newCompletion} {
		cmd := c(a)
		cmd.Args = plainArgs(cmd.Args)
		completeWords(cmd)
		root.AddCommand(cmd)
	}
	return root
}

// app is where a command writes, and what belongs to one run of the program.
type app struct {
	out, errw io.Writer
	quiet     *bool // nothing is said on errw beside errors
	ctx       context.Context
	reads     *datasets.Reads // files read so far, which are never written over

	merged     *shard.Ledger // what the parts hold that are merged; nil where none are
	mergedHead *shard.Head   // and what they are parts of
}

// talk is where is said what a run did.
func (a app) talk() io.Writer {
	if *a.quiet {
		return io.Discard
	}
	return a.errw
}

// failing marks what a command returns as a failure of data rather than usage.
func failing(run func(cmd *cobra.Command, args []string) error) func(*cobra.Command, []string) error {
	return func(cmd *cobra.Command, args []string) error {
		err := run(cmd, args)
		var usage usageError
		var unknown study.UnknownError
		if errors.As(err, &unknown) {
			return usageError{fmt.Errorf("%w%s", err, datasets.DidYouMean(unknown.Name, unknown.Known))}
		}
		if err == nil || errors.As(err, &usage) {
			return err
		}
		return dataError{err}
	}
}

// A usageError is a wrong command line found inside a command.
type usageError struct{ error }

func (e usageError) Unwrap() error { return e.error }

func usagef(format string, args ...any) error { return usageError{fmt.Errorf(format, args...)} }
