package main

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"tyro/analysis/monitor"
	"tyro/datasets"
	"tyro/reports"
)

// monitorFlags choose the chart.
type monitorFlags struct {
	chart, on, after            string
	acceptable, unacceptable, h float64
	falseShare, runLength       float64
	within                      int
	lambda, alpha, beta         float64
	headstart, sd               float64
	restarts                    []string
	fromData                    bool
}

func (f *monitorFlags) register(cmd *cobra.Command) {
	fs := cmd.Flags()
	nan := math.NaN()
	fs.StringVar(&f.chart, "chart", reports.ChartLearning, strings.Join(reports.MonitorCharts(), ", "))
	fs.Float64Var(&f.acceptable, "acceptable", nan, "acceptable failure rate, such as 0.1 (default: the study's)")
	fs.Float64Var(&f.unacceptable, "unacceptable", nan, "unacceptable failure rate, such as 0.3 (default: the study's)")
	fs.Float64Var(&f.h, "h", nan, "limit of the chart (default: chosen for the error rates wanted)")
	fs.Float64Var(&f.falseShare, "false-share", 0.05, "wanted chance of a false signal within --within attempts, when h is chosen")
	fs.IntVar(&f.within, "within", 50, "attempts for which chances of a signal are given, and after which those without a pass are due")
	fs.Float64Var(&f.runLength, "run-length", 0, "wanted mean attempts to a false signal, in place of --false-share")
	fs.Float64Var(&f.lambda, "lambda", 0.1, "weight of the newest attempt, for ewma")
	fs.Float64Var(&f.alpha, "alpha", 0.05, "sequential: chance of deciding for the unacceptable rate at the acceptable one")
	fs.Float64Var(&f.beta, "beta", 0.05, "sequential: chance of deciding for the acceptable rate at the unacceptable one")
	fs.Float64Var(&f.headstart, "headstart", 0, "where a sum starts, as a share of h (0.5 is usual for a fast first response)")
	fs.StringVar(&f.after, "after", "", "watch for relapse after: rule, signal, start, or an attempt number (default: the rule where there is one)")
	fs.StringArrayVar(&f.restarts, "restart", nil, "start charts anew at an attempt, such as after a device change: 41 for everyone, T03:41 for one trainee")
	fs.StringVar(&f.on, "on", "passes", "chart passes, or the measure (relapse and ewma)")
	fs.Float64Var(&f.sd, "sd", nan, "standard deviation of the measure from attempt to attempt, of natural logarithms for a time (default: estimated)")
	fs.BoolVar(&f.fromData, "limits-from-data", false, "say that the rates or h were chosen from these same attempts")
	for _, name := range []string{"acceptable", "unacceptable", "h", "sd"} {
		fs.Lookup(name).DefValue = "0" // hidden: there is none
	}
}

// options checks the flags.
func (f *monitorFlags) options(cmd *cobra.Command) (reports.MonitorOptions, error) {
	o := reports.MonitorOptions{
		Chart: f.chart, Rates: monitor.Rates{Acceptable: f.acceptable, Unacceptable: f.unacceptable}, H: f.h,
		FalseShare: f.falseShare, RunLength: f.runLength, Within: f.within, Lambda: f.lambda, Alpha: f.alpha, Beta: f.beta,
		Headstart: f.headstart, After: f.after, LimitsFromData: f.fromData, OnMeasure: f.on == "measure", SD: f.sd,
	}
	changed := cmd.Flags().Changed
	switch {
	case !slices.Contains(reports.MonitorCharts(), f.chart):
		return o, usagef("--chart %q: expected %s", f.chart, strings.Join(reports.MonitorCharts(), ", "))
	case changed("h") && !(f.h > 0 && f.h <= 1000):
		return o, usagef("--h %v: expected a number above 0 and at most 1000", f.h)
	case f.within < 1 || f.within > 10000:
		return o, usagef("--within %d: expected 1 to 10000 attempts", f.within)
	case !(f.falseShare > 0 && f.falseShare < 1):
		return o, usagef("--false-share %v: expected a number between 0 and 1", f.falseShare)
	case changed("run-length") && !(f.runLength > 1 && f.runLength <= 1e6):
		return o, usagef("--run-length %v: expected a number above 1 and at most 1000000", f.runLength)
	case !(f.lambda > 0 && f.lambda <= 1):
		return o, usagef("--lambda %v: expected a number above 0 and at most 1", f.lambda)
	case !(f.headstart >= 0 && f.headstart < 1):
		return o, usagef("--headstart %v: expected a share of h from 0, below 1", f.headstart)
	case f.on != "passes" && f.on != "measure":
		return o, usagef("--on %q: expected passes or measure", f.on)
	case changed("sd") && !(f.sd > 0):
		return o, usagef("--sd %v: expected a number above 0", f.sd)
	}
	for _, r := range f.restarts {
		trainee, at := "", r
		if i := strings.LastIndex(r, ":"); i >= 0 {
			trainee, at = r[:i], r[i+1:]
		}
		n, err := strconv.ParseFloat(at, 64)
		if err != nil || math.IsNaN(n) || math.IsInf(n, 0) {
			return o, usagef("--restart %q: expected an attempt number, or TRAINEE:ATTEMPT", r)
		}
		o.Restarts = append(o.Restarts, reports.MonitorRestart{Trainee: trainee, Attempt: n})
	}
	return o, nil
}

// rates fills in the study's failure rates where neither was given, and checks
// those of the command line.
func (f *monitorFlags) rates(cmd *cobra.Command, task datasets.Task, o *reports.MonitorOptions) error {
	changed := cmd.Flags().Changed
	given := changed("acceptable") || changed("unacceptable")
	switch {
	case !given && task.Monitor != nil:
		o.Rates = monitor.Rates{Acceptable: task.Monitor.Acceptable, Unacceptable: task.Monitor.Unacceptable}
	case !changed("unacceptable") || !changed("acceptable") && f.chart != reports.ChartObserved:
		return usagef("--acceptable and --unacceptable: give the failure rates the chart tells apart, such as 0.1 and 0.3, or state them in the study file; they are for the programme to decide, before looking at the attempts")
	case changed("acceptable") && o.Rates.Check() != nil:
		return usagef("%v", o.Rates.Check())
	}
	return nil
}

func newMonitor(a app) *cobra.Command {
	var common commonFlags
	var columns columnFlags
	var flags monitorFlags
	var known int
	cmd := &cobra.Command{
		Use:   "monitor STUDY",
		Short: "Watch trainees attempt by attempt: learning and relapse charts with known error rates",
		Long: `monitor follows every trainee's passes and failures with a chart that signals at a
limit, and says how often it does so rightly and wrongly. --acceptable and
--unacceptable are failure rates, decided before looking at the attempts; a study
file may state them (monitor: {acceptable: 0.2, unacceptable: 0.4}, in the task).
With --out it draws every chart.

learning signals when adequate performance is shown. relapse, after the pass, when
performance gets worse. sequential decides between the two rates. observed-expected
counts failures above those expected. ewma is a recent failure rate with a limit.
projected holds each later attempt against what the cohort's curve and the trainee's
own first attempts (--known) had led to expect.`,
		Args: cobra.ExactArgs(1),
		RunE: failing(func(cmd *cobra.Command, args []string) error {
			o, err := flags.options(cmd)
			if err != nil {
				return err
			}
			readAsFailures := columns.countsFailures()
			projected := o.Chart == reports.ChartProjected
			in, err := prepare(cmd, args[0], common, columns, curveFlags{none: !projected}, nil)
			if err != nil {
				return err
			}
			if err := flags.rates(cmd, in.Task, &o); err != nil {
				return err
			}
			if projected {
				if known < 1 {
					return usagef("--known %d: expected at least 1 attempt", known)
				}
				if o.Chances, err = reports.ProjectedChances(cmd.Context(), in, known); err != nil {
					return err
				}
			}
			d, err := reports.MonitorAttempts(in, o)
			if err != nil {
				return err
			}
			if projected {
				d.Warnings = append(d.Warnings, reports.Warning{Code: "projected-from-cohort", Text: fmt.Sprintf("the projection knows each trainee's first %d attempts and the cohort's curve, which was fitted to everybody's attempts, these included", known)})
			}
			if readAsFailures {
				d.Warnings = append(d.Warnings, reports.Warning{Code: "read-as-failures", Text: fmt.Sprintf("column %s is read as 1 for a failed attempt, as its name says; --better higher reads 1 as a pass", columns.response)})
			}
			return a.show(d, common)
		}),
	}
	common.register(cmd)
	columns.register(cmd)
	columns.registerWhen(cmd)
	flags.register(cmd)
	cmd.Flags().IntVar(&known, "known", 10, "with --chart projected: each trainee's first attempts that the projection may see")
	return cmd
}

// failureName is a column name that says 1 is a failure.
var failureName = regexp.MustCompile(`(?i)^(is[ _-]?)?fail(s|ed|ure|ures)?$`)

// countsFailures turns a pass-fail column round whose name says that it holds
// failures, unless the direction was given.
func (f *columnFlags) countsFailures() bool {
	if f.measure != "pass-fail" || f.better != "" || !failureName.MatchString(f.response) {
		return false
	}
	f.better = "lower"
	return true
}
