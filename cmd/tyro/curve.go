package main

import (
	"github.com/spf13/cobra"

	"tyro/analysis/fit"
	"tyro/analysis/study"
	"tyro/models"
	"tyro/reports"
)

func newCurve(a app) *cobra.Command {
	var common commonFlags
	var columns columnFlags
	var curves curveFlags
	var terms termFlags
	var interval, simpler string
	var seen int
	var changes bool
	cmd := &cobra.Command{
		Use:   "curve STUDY",
		Short: "Fit a learning curve to every trainee",
		Long: `curve fits a learning curve to each trainee's own attempts, chosen among several kinds
of curve, and gives its parameters with intervals, how well it describes the attempts,
and what the next attempts are expected to be. What the attempts cannot tell, such as a
plateau far away, is said and not given as a number. With --out it also draws them.`,
		Example: `  tyro curve tyro-demo
  tyro curve tyro-demo --only T01,T05 --out curves
  tyro curve log.csv --attempt n --response seconds --measure time --family exponential`,
		Args: cobra.ExactArgs(1),
		RunE: failing(func(cmd *cobra.Command, args []string) error {
			o, err := curves.options(cmd)
			if err != nil {
				return err
			}
			if err := terms.apply(&o); err != nil {
				return err
			}
			file, err := read(cmd, args[0], common, columns)
			if err != nil {
				return err
			}
			if o.Noise, err = curves.noiseOf(file, common.task); err != nil {
				return err
			}
			s, err := ready(file, common, o, a.progress("fitting"))
			if err != nil {
				return err
			}
			if changes {
				answer, err := s.Changes(cmd.Context())
				if err != nil {
					return err
				}
				return a.show(reports.NewChanges(s, answer), common)
			}
			q := study.CurveQuestion{Interval: fit.Method(interval), Seen: seen}
			if simpler != "" {
				smaller, err := models.ByName(simpler, s.Specs[0].Family.Origin())
				if err != nil {
					return usageError{err}
				}
				q.Against = &smaller
			}
			answer, err := s.Curves(cmd.Context(), q)
			if err != nil {
				return err
			}
			return a.show(reports.NewCurves(s, answer), common)
		}),
	}
	common.register(cmd)
	common.part.register(cmd)
	columns.register(cmd)
	columns.registerWhen(cmd)
	curves.register(cmd)
	terms.register(cmd)
	fs := cmd.Flags()
	fs.StringVar(&interval, "interval", string(fit.ByProfile), "intervals: profile (what a likelihood ratio test does not reject), wald (from the standard error), or from a bootstrap of the series: percentile (quantiles of refits), basic (these reflected about the estimate), bca (percentiles corrected for bias and skewness), studentised (from refits' errors divided by their standard errors)")
	fs.IntVar(&seen, "seen", 0, "also fit the first so many attempts only, and tell how the rest were predicted")
	fs.BoolVar(&changes, "changes", false, "instead, look in every series for a change of method: an attempt after which the level jumps or the slope is new, with its rate of false alarms")
	fs.StringVar(&simpler, "simpler", "", "also test every curve against this simpler family inside it, such as constant or wright")
	return cmd
}

// termFlags add terms beside the curve, and say where its search begins.
type termFlags struct {
	restart, correlated bool
	fading              float64
	from                []string
}

func (f *termFlags) register(cmd *cobra.Command) {
	fs := cmd.Flags()
	fs.BoolVar(&f.restart, "restart", false, "add a restart: a shift of the first attempt after a break between sessions against the curve")
	fs.Float64Var(&f.fading, "fading", 0, "share of that shift left at each further attempt, from 0 to below 1")
	fs.BoolVar(&f.correlated, "correlated", false, "let neighbouring attempts of a session be alike beyond the curve (first-order autoregression)")
	fs.StringArrayVar(&f.from, "from", nil, "begin the search at name=value for every shape parameter, rather than look everywhere")
}

// apply puts the terms among the choices of curves.
func (f *termFlags) apply(o *study.Options) error {
	o.Restart, o.Fading, o.Correlated = f.restart, f.fading, f.correlated
	var err error
	o.From, err = nameValues("from", f.from)
	return err
}
