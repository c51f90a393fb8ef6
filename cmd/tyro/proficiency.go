package main

import (
	"math"

	"github.com/spf13/cobra"

	"tyro/analysis/monitor"
	"tyro/analysis/resample"
	"tyro/analysis/stopping"
	"tyro/analysis/study"
	"tyro/analysis/survival"
	"tyro/datasets"
	"tyro/reports"
)

func newProficiency(a app) *cobra.Command {
	var common commonFlags
	var columns columnFlags
	var curves curveFlags
	var chance float64
	var average bool
	var interval string
	var chart chartFlags
	var until datasets.UntilColumns
	var band string
	cmd := &cobra.Command{
		Use:   "proficiency STUDY",
		Short: "Attempts until every trainee and arm is proficient, with confidence",
		Long: `proficiency says for every trainee after how many attempts they are proficient, with
limits, and for every arm by when which share of its trainees is. It asks this in up to
four ways, its definitions:

  mean-crossing   the attempt at which the trainee's curve comes to the standard
  pass-chance     the first attempt that passes with the chance of --proficient-at
  rule-met        the attempt at which the rule is met, such as 2 passes in a row
  chart-signal    the attempt at which a chart of passes shows adequate performance

It needs a standard, and for rule-met a rule: the study file's, or those of the flags.
A table with one row a trainee, which says when each met the rule, is answered by --until
and --met. With --out it also draws every trainee's projection and the shares.`,
		Example: `  tyro proficiency tyro-demo
  tyro proficiency tyro-demo --standard 60 --rule "3 in a row" --proficient-at 0.9
  tyro proficiency met.csv --until attempts --met met --arm curriculum`,
		Args: cobra.ExactArgs(1),
		RunE: failing(func(cmd *cobra.Command, args []string) error {
			if err := common.shard.check(cmd); err != nil {
				return err
			}
			if until.Until != "" || until.Met != "" {
				if common.shard.asked() {
					return usagef("--shard and --slurm are for an attempt log: a table with one row a trainee is answered at once")
				}
				until.Arm = columns.arm
				return a.observedUntil(cmd, args[0], until, survival.Band(band), common)
			}
			columns.whom = common.shard.whom()
			s, err := prepare(cmd, args[0], common, columns, curves, a.progress("bootstrap"))
			if err != nil {
				return err
			}
			s.Question.Chance, s.Question.Average, s.Question.Interval = chance, average, resample.Method(interval)
			if s.Question.Chart, err = chart.given(cmd, s.Question.Chart); err != nil {
				return err
			}
			return a.answer(s, common, func() (reports.Document, error) {
				answer, err := s.Proficiency(cmd.Context())
				if err != nil {
					return nil, err
				}
				return reports.NewProficiency(s, answer), nil
			})
		}),
	}
	common.register(cmd)
	common.part.register(cmd)
	common.shard.register(cmd, a)
	columns.register(cmd)
	curves.register(cmd)
	curves.registerWeigh(cmd)
	cmd.Flags().Float64Var(&chance, "proficient-at", 0.8, "pass chance from which a trainee counts as proficient, for the definition pass-chance")
	cmd.Flags().BoolVar(&average, "average", false, "average the estimate over all curves tried, the better ones counting more (by AICc weight), rather than use the best one's")
	cmd.Flags().StringVar(&interval, "interval", string(resample.Percentile), "how limits come from the bootstrap: percentile (made somewhat wider, so that few attempts are covered too) or bca (corrected for bias and skewness; with few attempts it misses the truth more often than it claims)")
	chart.register(cmd)
	common.share.register(cmd)
	cmd.Flags().StringVar(&until.Until, "until", "", "in a table with one row a trainee: `column` with attempts until met, or last seen")
	cmd.Flags().StringVar(&until.Met, "met", "", "`column` with 1 where the rule was met and 0 where not; goes with --until")
	cmd.Flags().StringVar(&until.Since, "since", "", "`column` with the last attempt known not to have met it, where assessments are every few attempts")
	cmd.Flags().StringVar(&band, "band", string(survival.LogLog), "how limits of the shares are computed, with --until: log-log, log, linear or arcsine")
	return cmd
}

// observedUntil answers from a table that says for each trainee when the rule was
// met.
func (a app) observedUntil(cmd *cobra.Command, path string, c datasets.UntilColumns, band survival.Band, common commonFlags) error {
	if c.Until == "" || c.Met == "" {
		return usagef("--until and --met go together")
	}
	if err := common.part.undated(path); err != nil {
		return err
	}
	table, err := datasets.OpenUntil(cmd.Context(), path, c)
	if err != nil {
		return err
	}
	s, err := study.New(table, common.ofStudy(a.progress("bootstrap")))
	if err != nil {
		return err
	}
	answer, err := s.UntilProficient(cmd.Context(), study.UntilOptions{Band: band})
	if err != nil {
		return err
	}
	return a.show(reports.NewUntilProficient(s, answer), common)
}

// chartFlags state the learning chart of the definition chart-signal.
type chartFlags struct{ acceptable, unacceptable, h float64 }

func (f *chartFlags) register(cmd *cobra.Command) {
	fs := cmd.Flags()
	fs.Float64Var(&f.acceptable, "acceptable", math.NaN(), "acceptable failure rate of the chart, for the definition chart-signal (default: the study's)")
	fs.Float64Var(&f.unacceptable, "unacceptable", math.NaN(), "unacceptable failure rate of the chart (default: the study's)")
	fs.Float64Var(&f.h, "chart-limit", math.NaN(), "limit of the chart, h (default: chosen from the rates, as in monitor)")
	for _, name := range []string{"acceptable", "unacceptable", "chart-limit"} {
		fs.Lookup(name).DefValue = "0" // hidden: there is none
	}
}

// given is the chart of the flags, or the study's where there are none.
func (f *chartFlags) given(cmd *cobra.Command, study *stopping.Chart) (*stopping.Chart, error) {
	changed := cmd.Flags().Changed
	if !changed("acceptable") && !changed("unacceptable") {
		if changed("chart-limit") && study == nil {
			return nil, usagef("--chart-limit is the limit of a chart: give --acceptable and --unacceptable too")
		}
		if study != nil {
			f.acceptable, f.unacceptable = study.Rates.Acceptable, study.Rates.Unacceptable
		}
	}
	rates := monitor.Rates{Acceptable: f.acceptable, Unacceptable: f.unacceptable}
	switch {
	case study == nil && !changed("acceptable") && !changed("unacceptable"):
		return nil, nil
	case rates.Check() != nil:
		return nil, usagef("--acceptable and --unacceptable go together: %v", rates.Check())
	case !changed("chart-limit"):
		return stopping.NewChart(rates)
	}
	return &stopping.Chart{Rates: rates, H: f.h}, nil
}
