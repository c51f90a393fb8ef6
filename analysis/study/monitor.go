package study

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"

	"tyro/analysis/monitor"
	"tyro/analysis/practice"
	"tyro/analysis/survival"
)

// A Monitoring is everybody followed attempt by attempt with a chart, and how often
// that chart signals rightly and wrongly.
type Monitoring struct {
	Options MonitorOptions // settled: with defaults, limit and rates in place
	Design  MonitorDesign
	Watched []Watched // those with attempts that count, in the study's order

	RunLength ByRate // mean attempts to a signal; +Inf where infinite, NaN where not known
	Within    ByRate // chance of a signal within Options.Within attempts
	// FalseSignal and TrueSignal are the same chances where there should be no signal,
	// and where there should be one.
	FalseSignal, TrueSignal float64

	Settings []MonitorSetting // the chosen one first
	Warnings Warnings
}

// ByRate is a figure at each of the two failure rates.
type ByRate struct{ Acceptable, Unacceptable float64 }

// A MonitorDesign says how the limits came about.
type MonitorDesign struct {
	Chosen       string  // ChosenByHand, ChosenByShare or ChosenByRunLength
	Limit        float64 // chart value of a signal; NaN for the sequential test
	Lower, Upper float64 // boundaries of the sequential test; NaN for other charts
	LearningH    float64 // limits of the charts behind the standings
	RelapseH     float64
}

// How a limit was chosen.
const (
	ChosenByHand      = "given"
	ChosenByShare     = "false-share"
	ChosenByRunLength = "run-length"
)

// A Watched is one trainee's attempts with the chart, and where the trainee stands.
// Positions count from 0 within Attempts; -1 is none.
type Watched struct {
	ID, Arm  string
	Attempts []practice.Attempt // those that count
	Failed   []bool             // which of them do not pass

	From     int                // first attempt charted; len(Attempts) when there is none
	Path     monitor.Path       // of the attempts from there on
	Decision []monitor.Decision // of the sequential test after each of these; nil for other charts
	Signals  []int              // first signal under each of the settings

	Shown    int  // first signal of the learning chart
	HasPass  bool // relapse is watched
	Passed   int  // the attempt after which it is; -1 also for the start
	Next     int  // the first attempt after it; len(Attempts) when there is none
	Relapsed int  // first signal of the relapse chart from there on
	Due      Due
}

// Due is why a person should look at a trainee now.
type Due string

// The reasons.
const (
	DueNothing Due = ""
	DueRelapse Due = "relapse" // the relapse chart has signalled
	DueNoPass  Due = "no-pass" // as many attempts as Options.Within, and what is waited for has not come
)

// A MonitorSetting is what a chart does under one setting.
type MonitorSetting struct {
	monitor.Setting
	Mean, Within ByRate // at the rates of the setting
	Signalled    int    // of the trainees charted
	Charted      int
	MedianSignal float64 // attempts charted until half had signalled; +Inf where fewer did
}

// watching is a monitoring while it is worked out.
type watching struct {
	*Monitoring
	study    *Study
	standard practice.Standard
	settings []monitor.Setting
	charts   []chart // one a setting
	learning chart   // behind the standings
	relapse  chart
}

// Monitor makes everyone's chart with its error rates. Everything it needs but the
// chart against projections comes from the attempts alone, without a curve.
func (s *Study) Monitor(ctx context.Context, o MonitorOptions) (*Monitoring, error) {
	if err := o.Check(); err != nil {
		return nil, err
	}
	w := &watching{Monitoring: &Monitoring{Options: o.orDefaults()}, study: s, standard: s.Question.Standard}
	for _, step := range []func(context.Context) error{w.settle, w.choose, w.behindStandings, w.follow} {
		if err := step(ctx); err != nil {
			return nil, err
		}
	}
	w.errorRates()
	return w.Monitoring, nil
}

// settle reads the attempts and completes the choices.
func (w *watching) settle(ctx context.Context) error {
	if !w.standard.Set() && !w.standard.PassFail {
		return errors.New("a chart needs to know which attempts pass: give --standard, set it in the study file, or say --measure pass-fail")
	}
	w.look()
	if len(w.Watched) == 0 {
		return errors.New("there are no attempts to chart")
	}
	for _, step := range []func() error{w.settleRates, w.settleAfter, w.settleMeasure} {
		if err := step(); err != nil {
			return err
		}
	}
	return w.settleChances(ctx)
}

// look lists the attempts that count, and which of them fail.
func (w *watching) look() {
	for _, t := range w.study.Trainees {
		one := Watched{ID: t.ID, Arm: t.Arm, Attempts: t.Counted()}
		if len(one.Attempts) == 0 {
			continue
		}
		one.Failed = make([]bool, len(one.Attempts))
		for i, a := range one.Attempts {
			one.Failed[i] = !a.Passes(w.standard)
		}
		w.Watched = append(w.Watched, one)
	}
}

// settleRates completes the failure rates: the task's own where none are given, and
// for observed less expected failures everybody's together where only the
// unacceptable one is.
func (w *watching) settleRates() error {
	o := &w.Options
	if o.Rates == (monitor.Rates{}) && w.study.Task.Rates != nil {
		o.Rates = monitor.Rates(*w.study.Task.Rates)
	}
	if o.Rates.Acceptable == 0 && o.Rates.Unacceptable != 0 && o.Chart == ChartObserved {
		o.Rates.Acceptable = pooledRate(w.Watched)
		w.Warnings.Add("limits-from-same-data", fmt.Sprintf("the failure rate expected, %s %%, is that of these same attempts, so the chart shows who differs from the group and not who is good enough", strconv.FormatFloat(100*o.Rates.Acceptable, 'g', 3, 64)))
	}
	if o.Rates.Acceptable == 0 || o.Rates.Unacceptable == 0 {
		return errors.New("a chart needs the failure rates it tells apart: give --acceptable and --unacceptable, decided before looking at the attempts")
	}
	if err := o.Rates.Check(); err != nil {
		return err
	}
	if o.Chart == ChartSequential {
		if err := w.sequential(o.Rates).Check(); err != nil {
			return err
		}
	}
	if o.LimitsFromData {
		w.Warnings.Add("limits-from-same-data", "the rates or the limit were chosen from these same attempts, so the error rates printed do not hold for them; they hold for trainees to come")
	}
	return nil
}

// pooledRate is the share of failures among all attempts.
func pooledRate(people []Watched) float64 {
	failed, n := 0.0, 0.0
	for _, p := range people {
		for _, f := range p.Failed {
			if f {
				failed++
			}
			n++
		}
	}
	return failed / n
}

// settleAfter decides where relapse is watched from.
func (w *watching) settleAfter() error {
	o, rule := &w.Options, w.study.Question.Rule
	switch {
	case o.After != "":
	case rule != nil:
		o.After = AfterRule
	case o.Chart == ChartLearning:
		o.After = AfterSignal
	default:
		o.After = AfterStart
	}
	if o.After == AfterRule && rule == nil {
		return errors.New("watching after the rule needs a rule: give --rule, or set it in the study file")
	}
	if n, err := strconv.ParseFloat(o.After, 64); !slices.Contains([]string{AfterRule, AfterSignal, AfterStart}, o.After) && (err != nil || !(n >= 0)) {
		return fmt.Errorf("watch from %q: expected rule, signal, start or an attempt number", o.After)
	}
	return nil
}

// settleMeasure readies a chart on the measure.
func (w *watching) settleMeasure() error {
	o, task := &w.Options, w.study.Task
	if !o.OnMeasure {
		o.SD = math.NaN()
		return nil
	}
	if o.Chart != ChartRelapse && o.Chart != ChartEWMA {
		return fmt.Errorf("the chart %s is kept on passes; relapse and ewma can be kept on the measure", o.Chart)
	}
	if task.Measure != practice.Time && task.Measure != practice.Score {
		return fmt.Errorf("a chart on the measure needs a time or a score, not %s", task.Measure)
	}
	if len(task.AtMost) > 0 {
		w.Warnings.Add("errors-not-charted", "a pass also asks for few errors, which a chart on the measure does not see")
	}
	if o.SD == 0 {
		o.SD = w.scatter()
		w.Warnings.Add("limits-from-same-data", fmt.Sprintf("the standard deviation from attempt to attempt, %s, was estimated from these same attempts, so the error rates are approximate; give --sd from other data", significant(o.SD, 3)))
	}
	unknown, hard, limited := 0, 0, 0
	for _, p := range w.Watched {
		for _, a := range p.Attempts {
			if math.IsNaN(a.Response) {
				unknown++
			}
			if a.Outcome == practice.Failed {
				hard++
			}
			if a.Outcome == practice.Timeout {
				limited++
			}
		}
	}
	if unknown > 0 {
		w.Warnings.Add("hard-fails-not-charted", fmt.Sprintf("attempts without a comparable measure do not move a chart on the measure: %d, of which %d hard fails", unknown, hard))
	}
	if limited > 0 {
		w.Warnings.Add("timeouts-at-limit", fmt.Sprintf("timeouts are charted at the limit, so they count for less than they should: %d", limited))
	}
	return w.model().Check()
}

// scatter is the standard deviation of the measure from attempt to attempt, of its
// natural logarithm for a time.
func (w *watching) scatter() float64 {
	var series [][]float64
	for _, p := range w.Watched {
		var s []float64
		for _, a := range p.Attempts {
			v := a.Response
			if w.study.Task.Measure == practice.Time {
				v = math.Log(v)
			}
			s = append(s, v)
		}
		series = append(series, s)
	}
	return monitor.SuccessiveSD(series)
}

// choose settles the limit of the chart asked for.
func (w *watching) choose(context.Context) error {
	o, d, nan := &w.Options, &w.Design, math.NaN()
	d.Chosen, d.Lower, d.Upper = ChosenByHand, nan, nan
	switch {
	case o.Chart == ChartSequential: // has no limit of its own
		o.H = nan
		d.Lower, d.Upper = w.sequential(o.Rates).Boundaries()
	case o.H == 0:
		if o.RunLength > 0 && (o.Chart == ChartObserved || o.Chart == ChartProjected) {
			return fmt.Errorf("the mean number of attempts to a false signal of the %s chart is infinite or not known, so it cannot choose the limit: give --false-share or --chart-limit", o.Chart)
		}
		h, err := w.design(o.Chart, o.OnMeasure)
		if err != nil {
			return err
		}
		o.H, d.Chosen = h, ChosenByShare
		if o.RunLength > 0 {
			d.Chosen = ChosenByRunLength
		}
	}
	w.settings = w.around()
	for _, s := range w.settings {
		w.charts = append(w.charts, w.chart(o.Chart, o.OnMeasure, s))
	}
	d.Limit = w.limit()
	return nil
}

// design chooses the limit of a kind of chart from the wanted error rates.
func (w *watching) design(kind string, onMeasure bool) (float64, error) {
	o := w.Options
	at := func(h float64) monitor.RunLengths {
		return w.chart(kind, onMeasure, monitor.Setting{Rates: o.Rates, H: h})
	}
	falseRate, trueRate := o.Rates.Acceptable, o.Rates.Unacceptable
	if kind == ChartLearning {
		falseRate, trueRate = trueRate, falseRate
	}
	var got monitor.Design
	if o.RunLength > 0 {
		got = monitor.ByRunLength(at, falseRate, trueRate, o.RunLength, o.Within)
	} else {
		got = monitor.ByShares(at, falseRate, trueRate, o.FalseShare, o.Within)
	}
	if math.IsNaN(got.H) {
		return 0, fmt.Errorf("no limit of the %s chart gives the error rates wanted", kind)
	}
	return got.H, nil
}

// around are the settings of the sensitivity table, the chosen one first.
func (w *watching) around() []monitor.Setting {
	rates := w.Options.Rates
	s := monitor.Around(monitor.Setting{Rates: rates, H: w.Options.H})
	if w.Options.Chart == ChartSequential { // has no h
		s = slices.DeleteFunc(s[1:], func(s monitor.Setting) bool { return s.Rates == rates })
		s = append([]monitor.Setting{{Rates: rates, H: math.NaN()}}, s...)
	}
	return s
}

// behindStandings makes the learning and relapse charts behind the standings: the
// chart asked for where it is one of them and kept on passes, else one whose limit is
// chosen for the same error share.
func (w *watching) behindStandings(context.Context) error {
	o := w.Options
	for _, c := range []struct {
		kind string
		h    *float64
		into *chart
	}{{ChartLearning, &w.Design.LearningH, &w.learning}, {ChartRelapse, &w.Design.RelapseH, &w.relapse}} {
		h := o.H
		if o.Chart != c.kind || o.OnMeasure {
			var err error
			if h, err = w.design(c.kind, false); err != nil {
				return err
			}
		}
		*c.h, *c.into = h, w.chart(c.kind, false, monitor.Setting{Rates: o.Rates, H: h})
	}
	return nil
}

// errorRates fills in how often the chart signals, under every setting.
func (w *watching) errorRates() {
	n := w.Options.Within
	for k, s := range w.settings {
		c := w.charts[k]
		one := MonitorSetting{Setting: s, MedianSignal: math.NaN()}
		one.Mean = ByRate{c.Mean(s.Rates.Acceptable), c.Mean(s.Rates.Unacceptable)}
		one.Within = ByRate{c.SignalBy(s.Rates.Acceptable, n)[n-1], c.SignalBy(s.Rates.Unacceptable, n)[n-1]}
		if first := w.firstSignals(k); len(first) > 0 {
			km := survival.KaplanMeier(first, survival.LogLog, w.study.Options.Level)
			one.Charted, one.Signalled, one.MedianSignal = len(first), km.Events, km.Quantile(0.5).Estimate
		}
		w.Settings = append(w.Settings, one)
	}
	w.RunLength, w.Within = w.Settings[0].Mean, w.Settings[0].Within
	w.FalseSignal, w.TrueSignal = w.Within.Acceptable, w.Within.Unacceptable
	if w.Options.Chart == ChartLearning {
		w.FalseSignal, w.TrueSignal = w.TrueSignal, w.FalseSignal
	}
	w.warn()
}

// firstSignals are the attempts charted until the first signal under a setting, of
// those charted at all.
func (w *watching) firstSignals(setting int) []survival.Observation {
	var out []survival.Observation
	for _, p := range w.Watched {
		if p.From == len(p.Attempts) {
			continue
		}
		o := survival.Observation{Time: float64(len(p.Attempts) - p.From)}
		if at := p.Signals[setting]; at >= 0 {
			o = survival.Observation{Time: float64(at - p.From + 1), Event: true}
		}
		out = append(out, o)
	}
	return out
}

// warn adds what every reader of the error rates should know.
func (w *watching) warn() {
	n := w.Options.Within
	for _, v := range []struct {
		at   string
		mean float64
	}{{"acceptable", w.RunLength.Acceptable}, {"unacceptable", w.RunLength.Unacceptable}} {
		switch {
		case math.IsInf(v.mean, 1):
			w.Warnings.Add("run-length-infinite", fmt.Sprintf("at the %s rate the mean number of attempts to a signal is infinite; read the chance of a signal within %d attempts", v.at, n))
		case math.IsNaN(v.mean) && w.Options.Chart == ChartProjected:
			w.Warnings.Add("run-length-unknown", fmt.Sprintf("at the %s rate a mean number of attempts to a signal is not known, since the chances end with the projection; read the chance of a signal within it", v.at))
		case math.IsNaN(v.mean):
			w.Warnings.Add("run-length-unknown", fmt.Sprintf("at the %s rate the mean number of attempts to a signal is too large to be worked out; the rates are too close or the limit too high", v.at))
		}
	}
	if w.TrueSignal < 0.5 {
		w.Warnings.Add("chart-weak", fmt.Sprintf("the chart signals within %d attempts in fewer than half of those it should find (%.0f %%): the rates are too close, or the error rates too strict, for so few attempts", n, 100*w.TrueSignal))
	}
	charts := w.Settings[0].Charted
	if expected := w.FalseSignal * float64(charts); w.Options.Chart != ChartSequential && charts > 1 && expected >= 0.5 {
		w.Warnings.Add("many-charts", fmt.Sprintf("with %d charts, about %s would signal falsely within %d attempts if nobody should", charts, significant(expected, 2), n))
	}
}

// significant writes a number of everyday size with so many digits and no exponent.
func significant(v float64, digits int) string {
	if !(v > 0) {
		return strconv.FormatFloat(v, 'g', digits, 64)
	}
	return strconv.FormatFloat(v, 'f', max(0, digits-1-int(math.Floor(math.Log10(v)))), 64)
}
