package reports

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"tyro/analysis/monitor"
	"tyro/analysis/stopping"
	"tyro/analysis/survival"
	"tyro/datasets"
)

// The charts of the command monitor.
const (
	ChartLearning   = "learning"
	ChartRelapse    = "relapse"
	ChartSequential = "sequential"
	ChartObserved   = "observed-expected"
	ChartEWMA       = "ewma"
	ChartProjected  = "projected"
)

// MonitorCharts lists the charts that need nothing but attempts.
func MonitorCharts() []string {
	return []string{ChartLearning, ChartRelapse, ChartEWMA, ChartObserved, ChartSequential, ChartProjected}
}

// MonitorOptions are the choices of a chart. Rates are failure rates.
type MonitorOptions struct {
	Chart      string
	Rates      monitor.Rates // NaN where not given
	H          float64       // NaN: chosen for FalseShare, or for RunLength
	FalseShare float64       // wanted chance of a false signal within Within attempts
	RunLength  float64       // above 0: wanted mean attempts to a false signal instead
	Within     int
	Lambda     float64 // weight of the newest attempt, for ewma
	Alpha      float64 // error chances of the sequential test
	Beta       float64
	Headstart  float64 // where a sum starts, as a share of h

	After          string // where relapse is watched from: rule, signal, start or an attempt; "" for the default
	Restarts       []MonitorRestart
	LimitsFromData bool // the rates or h were chosen from these same attempts

	OnMeasure bool    // chart the measure rather than passes
	SD        float64 // of the measure from attempt to attempt; NaN: estimated

	// Chances are each trainee's projected pass chances, by code, for the chart
	// projected: one for every attempt but void ones, in order; more may follow.
	Chances map[string][]float64
}

// WatchFor is the options of a chart with the defaults for everything but the
// failure rates, so that the limit is chosen from these and from nothing else.
func WatchFor(chart string, rates monitor.Rates) MonitorOptions {
	return MonitorOptions{
		Chart: chart, Rates: rates, H: math.NaN(), FalseShare: stopping.ChartFalse, Within: stopping.ChartWithin,
		Lambda: 0.1, Alpha: 0.05, Beta: 0.05, SD: math.NaN(),
	}
}

// A MonitorRestart starts charts anew at an attempt, such as the first on a
// changed device.
type MonitorRestart struct {
	Trainee string // "" for everyone
	Attempt float64
}

// Monitor is the answer of the command monitor.
type Monitor struct {
	Header
	Chart       string               `json:"chart"`
	Design      MonitorDesign        `json:"design"`
	Charts      []TraineeChart       `json:"charts"`
	RunLength   MonitorRates         `json:"run_length"`
	Within      MonitorWithin        `json:"signal_within"`
	Sensitivity []MonitorSensitivity `json:"sensitivity"`
	Cohort      []MonitorCohort      `json:"cohort"`
	Caution     string               `json:"caution"`

	in      *Input
	Options MonitorOptions `json:"-"`
	Records []record       `json:"-"`
	now     monitorChart
	watch   [2]monitorChart // the learning and relapse charts of the cohort table
}

// A MonitorDesign says how the limit came about.
type MonitorDesign struct {
	Acceptable   Number `json:"acceptable"`
	Unacceptable Number `json:"unacceptable"`
	H            Number `json:"h"`
	Chosen       string `json:"chosen"` // given, false-share or run-length
	FalseShare   Number `json:"false_share"`
	Lower        Number `json:"lower_boundary"`
	Upper        Number `json:"upper_boundary"`
	SD           Number `json:"sd"`
	LearningH    Number `json:"learning_h"` // of the charts behind the cohort table
	RelapseH     Number `json:"relapse_h"`
	From         string `json:"watched_from"`
}

// MonitorRates is a figure at each of the two rates.
type MonitorRates struct {
	Acceptable   Number `json:"acceptable"`
	Unacceptable Number `json:"unacceptable"`
}

// MonitorWithin is the chance of a signal within a number of attempts.
type MonitorWithin struct {
	Attempts int `json:"attempts"`
	MonitorRates
}

// A TraineeChart is one trainee's chart.
type TraineeChart struct {
	Trainee       string           `json:"trainee"`
	Arm           string           `json:"arm"`
	Chart         string           `json:"chart"`
	Acceptable    Number           `json:"acceptable"`
	Unacceptable  Number           `json:"unacceptable"`
	H             Number           `json:"h"`
	From          Number           `json:"from_attempt"` // null when not watched yet
	Points        []MonitorPoint   `json:"points"`
	SignalAttempt Number           `json:"signal_attempt"`
	SignalSession string           `json:"signal_session"`
	SignalDate    string           `json:"signal_date"`
	Signals       []Number         `json:"signals"`
	Decision      string           `json:"decision,omitempty"`
	Settings      []SettingOutcome `json:"settings"`
}

// A MonitorPoint is the chart after one attempt; outcome 1 is a failed attempt.
type MonitorPoint struct {
	Attempt Number `json:"attempt"`
	Session string `json:"session"`
	Date    string `json:"date"`
	Outcome int    `json:"outcome"`
	Measure Number `json:"measure"`
	Value   Number `json:"value"`
	Signal  bool   `json:"signal"`
	Restart bool   `json:"restart"`
}

// A SettingOutcome is when a trainee's chart signals under other settings.
type SettingOutcome struct {
	Acceptable    Number `json:"acceptable"`
	Unacceptable  Number `json:"unacceptable"`
	H             Number `json:"h"`
	SignalAttempt Number `json:"signal_attempt"`
}

// A MonitorSensitivity is one setting of the sensitivity table.
type MonitorSensitivity struct {
	Acceptable         Number `json:"acceptable"`
	Unacceptable       Number `json:"unacceptable"`
	H                  Number `json:"h"`
	Chosen             bool   `json:"chosen"`
	MeanAcceptable     Number `json:"mean_acceptable"`
	MeanUnacceptable   Number `json:"mean_unacceptable"`
	WithinAcceptable   Number `json:"within_acceptable"`
	WithinUnacceptable Number `json:"within_unacceptable"`
	Signalled          int    `json:"signalled"`
	Trainees           int    `json:"trainees"`
	MedianSignal       Number `json:"median_signal"`
}

// MonitorAttempts makes everyone's chart with its error rates.
func MonitorAttempts(in *Input, o MonitorOptions) (*Monitor, error) {
	d := &Monitor{Header: newHeader("monitor", in), Chart: o.Chart, in: in, Options: o, Caution: Caution, Charts: []TraineeChart{}, Sensitivity: []MonitorSensitivity{}, Cohort: []MonitorCohort{}}
	if err := d.settle(); err != nil {
		return nil, err
	}
	if err := d.choose(); err != nil {
		return nil, err
	}
	if err := d.watchCharts(); err != nil {
		return nil, err
	}
	settings := d.settings()
	charts := make([]monitorChart, len(settings))
	for k, s := range settings {
		charts[k] = d.chart(o.Chart, s)
	}
	d.now = charts[0]
	first := make([][]survival.Observation, len(settings))
	for i := range d.Records {
		d.Charts = append(d.Charts, d.traineeChart(i, settings, charts, first))
	}
	d.runLengths()
	for k, s := range settings {
		d.Sensitivity = append(d.Sensitivity, d.sensitivity(s, charts[k], first[k], k == 0))
	}
	for i := range d.Records {
		d.Cohort = append(d.Cohort, d.standing(i))
	}
	d.caution()
	return d, nil
}

// settle reads the records and checks the choices.
func (d *Monitor) settle() error {
	o, in := &d.Options, d.in
	standard := in.Question.Standard.Value
	if math.IsNaN(standard) && in.Task.Measure == datasets.PassFail {
		standard = 0.5 // of 0 and 1
	}
	if math.IsNaN(standard) {
		return fmt.Errorf("a chart needs to know which attempts pass: give --standard, set it in the study file, or say --measure pass-fail")
	}
	d.Records = recordsOf(in)
	if len(d.Records) == 0 {
		return fmt.Errorf("there are no attempts to chart")
	}
	if math.IsNaN(o.Rates.Acceptable) && o.Chart == ChartObserved {
		o.Rates.Acceptable = pooledRate(d.Records)
		d.Warn("limits-from-same-data", fmt.Sprintf("the failure rate expected, %s, is that of these same attempts, so the chart shows who differs from the group and not who is good enough", RateText(o.Rates.Acceptable)))
	}
	if math.IsNaN(o.Rates.Acceptable) || math.IsNaN(o.Rates.Unacceptable) {
		return fmt.Errorf("a chart needs the failure rates it tells apart: give --acceptable and --unacceptable, decided before looking at the attempts")
	}
	if err := o.Rates.Check(); err != nil {
		return err
	}
	if o.Chart == ChartSequential {
		if err := (monitor.Sequential{Rates: o.Rates, Alpha: o.Alpha, Beta: o.Beta}).Check(); err != nil {
			return err
		}
	}
	if o.LimitsFromData {
		d.Warn("limits-from-same-data", "the rates or the limit were chosen from these same attempts, so the error rates printed do not hold for them; they hold for trainees to come")
	}
	for _, r := range d.Records {
		if n := len(o.Chances[r.Id]); o.Chart == ChartProjected && n < len(r.Attempt) {
			return fmt.Errorf("the projected chart needs a pass chance for every attempt: trainee %s has %d for %d", r.Id, n, len(r.Attempt))
		}
	}
	if err := d.settleFrom(); err != nil {
		return err
	}
	return d.settleMeasure(standard)
}

// settleFrom decides where relapse is watched from.
func (d *Monitor) settleFrom() error {
	o := &d.Options
	if o.After == "" {
		switch {
		case d.in.Rule != nil:
			o.After = "rule"
		case o.Chart == ChartLearning:
			o.After = "signal"
		default:
			o.After = "start"
		}
	}
	if o.After == "rule" && d.in.Rule == nil {
		return fmt.Errorf("watching after the rule needs a rule: give --rule, or set it in the study file")
	}
	if n, err := strconv.ParseFloat(o.After, 64); !slices.Contains([]string{"rule", "signal", "start"}, o.After) && (err != nil || !(n >= 0)) {
		return fmt.Errorf("watch from %q: expected rule, signal, start or an attempt number", o.After)
	}
	d.Design.From = o.After
	return nil
}

// settleMeasure readies a chart on the measure.
func (d *Monitor) settleMeasure(standard float64) error {
	o, task := &d.Options, d.in.Task
	if !o.OnMeasure {
		o.SD = math.NaN()
		return nil
	}
	if o.Chart != ChartRelapse && o.Chart != ChartEWMA {
		return fmt.Errorf("the chart %s is kept on passes; relapse and ewma can be kept on the measure", o.Chart)
	}
	if task.Measure != datasets.Time && task.Measure != datasets.Score {
		return fmt.Errorf("a chart on the measure needs a time or a score, not %s", task.Measure)
	}
	if len(task.AtMost) > 0 {
		d.Warn("errors-not-charted", "a pass also asks for few errors, which a chart on the measure does not see")
	}
	if math.IsNaN(o.SD) {
		var series [][]float64
		for _, r := range d.Records {
			s := slices.Clone(r.measure)
			if task.Measure == datasets.Time {
				for i := range s {
					s[i] = math.Log(s[i])
				}
			}
			series = append(series, s)
		}
		o.SD = monitor.SuccessiveSD(series)
		d.Warn("limits-from-same-data", fmt.Sprintf("the standard deviation from attempt to attempt, %s, was estimated from these same attempts, so the error rates are approximate; give --sd from other data", Significant(o.SD, 3)))
	}
	hard, limited := 0, 0
	for _, r := range d.Records {
		for i, v := range r.measure {
			if math.IsNaN(v) {
				hard++
			}
			if r.timeout[i] {
				limited++
			}
		}
	}
	if hard > 0 {
		d.Warn("hard-fails-not-charted", fmt.Sprintf("%d attempts without a comparable measure, hard fails among them, do not move a chart on the measure", hard))
	}
	if limited > 0 {
		d.Warn("timeouts-at-limit", fmt.Sprintf("%d timeouts are charted at the limit, so they count for less than they should", limited))
	}
	return d.model(standard).Check()
}

func (d *Monitor) model(standard float64) monitor.MeasureModel {
	return monitor.MeasureModel{Standard: standard, SD: d.Options.SD, Lower: d.in.Task.LowerIsBetter(), Log: d.in.Task.Measure == datasets.Time}
}

// choose settles h.
func (d *Monitor) choose() error {
	o := &d.Options
	d.Design.Acceptable, d.Design.Unacceptable = Number(o.Rates.Acceptable), Number(o.Rates.Unacceptable)
	d.Design.Chosen, d.Design.FalseShare, d.Design.SD = "given", Number(math.NaN()), Number(o.SD)
	d.Design.Lower, d.Design.Upper = Number(math.NaN()), Number(math.NaN())
	if o.Chart == ChartSequential {
		o.H = math.NaN()
		lower, upper := monitor.Sequential{Rates: o.Rates, Alpha: o.Alpha, Beta: o.Beta}.Boundaries()
		d.Design.Lower, d.Design.Upper = Number(lower), Number(upper)
	} else if math.IsNaN(o.H) {
		h, err := d.design(o.Chart)
		if err != nil {
			return err
		}
		o.H = h
		d.Design.Chosen, d.Design.FalseShare = "false-share", Number(o.FalseShare)
		if o.RunLength > 0 {
			d.Design.Chosen, d.Design.FalseShare = "run-length", Number(math.NaN())
		}
	}
	d.Design.H = Number(o.H)
	return nil
}

// design chooses h for a chart from the wanted error rates.
func (d *Monitor) design(kind string) (float64, error) {
	o := d.Options
	at := func(h float64) monitor.RunLengths { return d.chart(kind, monitor.Setting{Rates: o.Rates, H: h}) }
	falseRate, trueRate := o.Rates.Acceptable, o.Rates.Unacceptable
	if kind == ChartLearning {
		falseRate, trueRate = trueRate, falseRate
	}
	var got monitor.Design
	if o.RunLength > 0 && kind != ChartObserved && kind != ChartProjected {
		got = monitor.ByRunLength(at, falseRate, trueRate, o.RunLength, o.Within)
	} else {
		got = monitor.ByShares(at, falseRate, trueRate, o.FalseShare, o.Within)
	}
	if math.IsNaN(got.H) {
		return 0, fmt.Errorf("no limit of the %s chart gives the error rates wanted", kind)
	}
	return got.H, nil
}

// settings are those of the sensitivity table, the chosen one first.
func (d *Monitor) settings() []monitor.Setting {
	s := monitor.Around(monitor.Setting{Rates: d.Options.Rates, H: d.Options.H})
	if d.Options.Chart == ChartSequential { // has no h
		s = slices.DeleteFunc(s[1:], func(s monitor.Setting) bool { return s.Rates == d.Options.Rates })
		s = append([]monitor.Setting{{Rates: d.Options.Rates, H: math.NaN()}}, s...)
	}
	return s
}

// traineeChart follows one trainee under every setting.
func (d *Monitor) traineeChart(i int, settings []monitor.Setting, charts []monitorChart, first [][]survival.Observation) TraineeChart {
	r, o := d.Records[i], d.Options
	nan := Number(math.NaN())
	t := TraineeChart{
		Trainee: r.Id, Arm: r.arm, Chart: o.Chart, Acceptable: Number(o.Rates.Acceptable), Unacceptable: Number(o.Rates.Unacceptable), H: Number(o.H),
		From: nan, SignalAttempt: nan, Points: []MonitorPoint{}, Signals: []Number{}, Settings: make([]SettingOutcome, 0, len(settings)),
	}
	from, ok := d.from(i, o.Chart)
	if ok && from < len(r.Attempt) {
		t.From = Number(r.Attempt[from])
	}
	for k, s := range settings {
		out := SettingOutcome{Number(s.Rates.Acceptable), Number(s.Rates.Unacceptable), Number(s.H), nan}
		if ok && from < len(r.Attempt) {
			p := charts[k].follow(d, i, from)
			if p.First >= 0 {
				out.SignalAttempt = Number(r.Attempt[from+p.First])
			}
			if k == 0 {
				d.fill(&t, r, from, p)
			}
			obs := survival.Observation{Time: float64(len(p.Steps))}
			if p.First >= 0 {
				obs = survival.Observation{Time: float64(p.First + 1), Event: true}
			}
			first[k] = append(first[k], obs)
		}
		t.Settings = append(t.Settings, out)
	}
	return t
}

// fill puts a path into a trainee's chart.
func (d *Monitor) fill(t *TraineeChart, r record, from int, p monitor.Path) {
	t.Points = make([]MonitorPoint, 0, len(p.Steps))
	for j, st := range p.Steps {
		i := from + j
		outcome := 0
		if r.Failed[i] {
			outcome = 1
		}
		t.Points = append(t.Points, MonitorPoint{Number(r.Attempt[i]), r.session[i], r.date[i], outcome, Number(r.measure[i]), Number(st.Value), st.Signal, st.Restart})
		if st.Signal {
			t.Signals = append(t.Signals, Number(r.Attempt[i]))
		}
	}
	if p.First >= 0 {
		t.SignalAttempt, t.SignalSession, t.SignalDate = r.place(from + p.First)
	}
	if d.Options.Chart == ChartSequential {
		_, decisions := d.now.chart.(monitor.Sequential).Decide(r.Failed[from:], d.restarts(r, from))
		t.Decision = decisions[len(decisions)-1].String()
	}
}

// runLengths fills the error rates of the chosen setting.
func (d *Monitor) runLengths() {
	o := d.Options
	d.Within.Attempts = o.Within
	d.RunLength = MonitorRates{Number(d.now.Mean(o.Rates.Acceptable)), Number(d.now.Mean(o.Rates.Unacceptable))}
	d.Within.MonitorRates = MonitorRates{Number(d.now.SignalBy(o.Rates.Acceptable, o.Within)[o.Within-1]), Number(d.now.SignalBy(o.Rates.Unacceptable, o.Within)[o.Within-1])}
	for _, v := range []struct {
		at   string
		mean Number
	}{{"acceptable", d.RunLength.Acceptable}, {"unacceptable", d.RunLength.Unacceptable}} {
		switch m := float64(v.mean); {
		case math.IsInf(m, 1):
			d.Warn("run-length-infinite", fmt.Sprintf("at the %s rate the mean number of attempts to a signal is infinite; read the chance of a signal within %d attempts", v.at, o.Within))
		case math.IsNaN(m) && d.Chart == ChartProjected:
			d.Warn("run-length-unknown", fmt.Sprintf("at the %s rate a mean number of attempts to a signal is not known, since the chances end with the projection; read the chance of a signal within it", v.at))
		case math.IsNaN(m):
			d.Warn("run-length-unknown", fmt.Sprintf("at the %s rate the mean number of attempts to a signal is too large to be worked out; the rates are too close or the limit too high", v.at))
		}
	}
	_, trueShare := d.Shares()
	if trueShare < 0.5 {
		d.Warn("chart-weak", fmt.Sprintf("the chart signals within %d attempts in fewer than half of those it should find (%s): the rates are too close, or the error rates too strict, for so few attempts", o.Within, Percent(trueShare)))
	}
}

// shares are the chances of a false and a true signal within the attempts.
func (d *Monitor) Shares() (falseShare, trueShare float64) {
	a, u := float64(d.Within.Acceptable), float64(d.Within.Unacceptable)
	if d.Chart == ChartLearning {
		return u, a
	}
	return a, u
}

func (d *Monitor) sensitivity(s monitor.Setting, c monitorChart, first []survival.Observation, chosen bool) MonitorSensitivity {
	a, u, n := s.Rates.Acceptable, s.Rates.Unacceptable, d.Options.Within
	out := MonitorSensitivity{
		Acceptable: Number(a), Unacceptable: Number(u), H: Number(s.H), Chosen: chosen,
		MeanAcceptable: Number(c.Mean(a)), MeanUnacceptable: Number(c.Mean(u)),
		WithinAcceptable: Number(c.SignalBy(a, n)[n-1]), WithinUnacceptable: Number(c.SignalBy(u, n)[n-1]),
		Trainees: len(first), MedianSignal: Number(math.NaN()),
	}
	if len(first) > 0 {
		k := survival.KaplanMeier(first, survival.LogLog, d.in.Options.Level)
		out.Signalled, out.MedianSignal = k.Events, Number(k.Quantile(0.5).Estimate)
	}
	return out
}

// caution adds what every reader should know.
func (d *Monitor) caution() {
	if d.Chart == ChartSequential {
		return
	}
	if n := len(d.Records); n > 1 {
		falseShare, _ := d.Shares()
		if expected := falseShare * float64(n); expected >= 0.5 {
			d.Warn("many-charts", fmt.Sprintf("with %d charts, about %s would signal falsely within %d attempts if nobody should", n, Significant(expected, 2), d.Options.Within))
		}
	}
}

// rateText is a rate in percent, to three digits at most.
func RateText(v float64) string { return ShortNumber(100*v, 3) + " %" }

// shortNumber is a number of everyday size without trailing zeros.
func ShortNumber(v float64, digits int) string {
	if math.IsNaN(v) {
		return "–"
	}
	return strconv.FormatFloat(v, 'g', digits, 64)
}
