package main

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"tyro/analysis/monitor"
	"tyro/analysis/practice"
	"tyro/analysis/study"
	"tyro/reports"
)

// monitorFlags choose the chart.
type monitorFlags struct {
	chart, on, after            string
	acceptable, unacceptable, h float64
	falseShare, runLength       float64
	within, known               int
	lambda, alpha, beta         float64
	headstart, sd               float64
	restarts                    []string
	fromData                    bool
}

func (f *monitorFlags) register(cmd *cobra.Command) {
	fs := cmd.Flags()
	fs.StringVar(&f.chart, "chart", study.ChartLearning, strings.Join(study.MonitorCharts(), ", "))
	fs.Float64Var(&f.acceptable, "acceptable", 0, "acceptable failure rate, such as 0.1 (default: the study's)")
	fs.Float64Var(&f.unacceptable, "unacceptable", 0, "unacceptable failure rate, such as 0.3 (default: the study's)")
	fs.Float64Var(&f.h, "chart-limit", 0, "limit of the chart, h: it signals when its value comes to h; for ewma, and on the measure, h counts standard deviations (default: chosen so that false signals are as rare as --false-share asks); --h means the same")
	fs.Float64Var(&f.falseShare, "false-share", 0.05, "wanted chance of a false signal within --within attempts, when h is chosen")
	fs.IntVar(&f.within, "within", 50, "attempts for which chances of a signal are given, and after which those who have not passed are due")
	fs.Float64Var(&f.runLength, "run-length", 0, "wanted mean attempts to a false signal, in place of --false-share")
	fs.Float64Var(&f.lambda, "lambda", 0.1, "weight of the newest attempt, for ewma")
	fs.Float64Var(&f.alpha, "alpha", 0.05, "sequential: chance of deciding for the unacceptable rate at the acceptable one")
	fs.Float64Var(&f.beta, "beta", 0.05, "sequential: chance of deciding for the acceptable rate at the unacceptable one")
	fs.Float64Var(&f.headstart, "headstart", 0, "where a sum starts, as a share of h (0.5 is usual for a fast first response)")
	fs.StringVar(&f.after, "after", "", "watch for relapse after: rule, signal, start, or an attempt number (default: the rule where there is one)")
	fs.StringArrayVar(&f.restarts, "start-anew", nil, "start charts anew at an attempt, such as after a device change: 41 for everyone, T03:41 for one trainee")
	fs.StringVar(&f.on, "on", "passes", "chart passes, or the measure (relapse and ewma)")
	fs.Float64Var(&f.sd, "sd", 0, "standard deviation of the measure from attempt to attempt, of natural logarithms for a time (default: estimated)")
	fs.BoolVar(&f.fromData, "limits-from-data", false, "say that the rates or h were chosen from these same attempts")
	fs.IntVar(&f.known, "known", 10, "with --chart projected: each trainee's first attempts that the projection may see")
}

// options checks the flags.
func (f *monitorFlags) options(cmd *cobra.Command) (study.MonitorOptions, error) {
	o := study.MonitorOptions{
		Chart: f.chart, Rates: monitor.Rates{Acceptable: f.acceptable, Unacceptable: f.unacceptable}, H: f.h,
		FalseShare: f.falseShare, RunLength: f.runLength, Within: f.within, Lambda: f.lambda, Alpha: f.alpha, Beta: f.beta,
		Headstart: f.headstart, After: f.after, LimitsFromData: f.fromData, OnMeasure: f.on == "measure", SD: f.sd, Known: f.known,
	}
	if err := o.Check(); err != nil {
		return o, usagef("--%v", err)
	}
	for _, r := range f.restarts {
		trainee, at := "", r
		if i := strings.LastIndex(r, ":"); i >= 0 {
			trainee, at = r[:i], r[i+1:]
		}
		n, err := strconv.ParseFloat(at, 64)
		if err != nil || math.IsNaN(n) || math.IsInf(n, 0) {
			return o, usagef("--start-anew %q: expected an attempt number, or TRAINEE:ATTEMPT", r)
		}
		o.Restarts = append(o.Restarts, study.MonitorRestart{Trainee: trainee, Attempt: n})
	}
	return o, nil
}

// checkRates refuses failure rates of the command line that no chart can tell apart,
// and none at all where the study states none.
func (f *monitorFlags) checkRates(cmd *cobra.Command, stated *practice.FailureRates, o study.MonitorOptions) error {
	acceptable, unacceptable := cmd.Flags().Changed("acceptable"), cmd.Flags().Changed("unacceptable")
	switch {
	case !acceptable && !unacceptable && stated != nil:
	case !unacceptable || !acceptable && f.chart != study.ChartObserved:
		return usagef("--acceptable and --unacceptable: give the failure rates the chart tells apart, such as 0.1 and 0.3, or state them in the study file; they are for the programme to decide, before looking at the attempts")
	case acceptable && o.Rates.Check() != nil:
		return usagef("%v", o.Rates.Check())
	}
	return nil
}

func newMonitor(a app) *cobra.Command {
	var common commonFlags
	var columns columnFlags
	var flags monitorFlags
	var bound bool
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
own first attempts (--known) had led to expect. With --bound there is no chart: it
bounds the chance to pass in a way that holds however often one looks.`,
		Example: `  tyro monitor tyro-demo --chart learning --acceptable 0.2 --unacceptable 0.4
  tyro monitor tyro-demo --chart relapse --start-anew 41 --out charts`,
		Args: cobra.ExactArgs(1),
		RunE: failing(func(cmd *cobra.Command, args []string) error {
			o, err := flags.options(cmd)
			if err != nil {
				return err
			}
			readAsFailures := columns.countsFailures()
			s, err := prepare(cmd, args[0], common, columns, curveFlags{none: o.Chart != study.ChartProjected}, nil)
			if err != nil {
				return err
			}
			if bound {
				answer, err := s.PassBounds(cmd.Context())
				if err != nil {
					return err
				}
				return a.show(reports.NewBounds(s, answer), common)
			}
			if err := flags.checkRates(cmd, s.Task.Rates, o); err != nil {
				return err
			}
			answer, err := s.Monitor(cmd.Context(), o)
			if err != nil {
				return err
			}
			d := reports.NewMonitor(s, answer)
			if readAsFailures {
				d.Warn("read-as-failures", fmt.Sprintf("column %s is read as 1 for a failed attempt, as its name says; --better higher reads 1 as a pass", columns.response))
			}
			return a.show(d, common)
		}),
	}
	common.register(cmd)
	common.part.register(cmd)
	columns.register(cmd)
	columns.registerWhen(cmd)
	flags.register(cmd)
	cmd.Flags().BoolVar(&bound, "bound", false, "instead of a chart, bound every trainee's chance to pass so that the bound holds however often one looks")
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
