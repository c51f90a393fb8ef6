package reports

import (
	"math"
	"strconv"

	"tyro/analysis/monitor"
	"tyro/analysis/practice"
	"tyro/analysis/study"
)

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

	Answer *study.Monitoring `json:"-"`
	rule   practice.Rule
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

	passed bool // the attempt from which on the trainee is watched has come
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

// NewMonitor is the document of charts kept on a study.
func NewMonitor(s *study.Study, a *study.Monitoring) *Monitor {
	o := a.Options
	d := &Monitor{
		Header: headerOf("monitor", s), Chart: o.Chart, Caution: Caution, Answer: a, rule: s.Question.Rule,
		Charts: []TraineeChart{}, Sensitivity: []MonitorSensitivity{}, Cohort: []MonitorCohort{},
		RunLength: ratesOf(a.RunLength), Within: MonitorWithin{o.Within, ratesOf(a.Within)},
		Design: MonitorDesign{
			Acceptable: Number(o.Rates.Acceptable), Unacceptable: Number(o.Rates.Unacceptable), H: Number(o.H), Chosen: a.Design.Chosen,
			FalseShare: Number(math.NaN()), Lower: Number(a.Design.Lower), Upper: Number(a.Design.Upper), SD: Number(o.SD),
			LearningH: Number(a.Design.LearningH), RelapseH: Number(a.Design.RelapseH), From: o.After,
		},
	}
	if a.Design.Chosen == study.ChosenByShare {
		d.Design.FalseShare = Number(o.FalseShare)
	}
	for _, w := range a.Warnings {
		d.Warn(w.Code, w.Text)
	}
	for _, t := range a.Watched {
		d.Charts = append(d.Charts, d.chartOf(t))
		d.Cohort = append(d.Cohort, d.standing(t))
	}
	for k, s := range a.Settings {
		d.Sensitivity = append(d.Sensitivity, MonitorSensitivity{
			Acceptable: Number(s.Rates.Acceptable), Unacceptable: Number(s.Rates.Unacceptable), H: Number(s.H), Chosen: k == 0,
			MeanAcceptable: Number(s.Mean.Acceptable), MeanUnacceptable: Number(s.Mean.Unacceptable),
			WithinAcceptable: Number(s.Within.Acceptable), WithinUnacceptable: Number(s.Within.Unacceptable),
			Signalled: s.Signalled, Trainees: s.Charted, MedianSignal: Number(s.MedianSignal),
		})
	}
	return d
}

func ratesOf(r study.ByRate) MonitorRates {
	return MonitorRates{Number(r.Acceptable), Number(r.Unacceptable)}
}

// A place is where in the log something happened.
type place struct {
	attempt       Number
	session, date string
}

// placeOf is the place of a trainee's attempt; nowhere for -1.
func placeOf(t study.Watched, position int) place {
	if position < 0 {
		return place{attempt: Number(math.NaN())}
	}
	a := t.Attempts[position]
	return place{Number(a.Number), a.Session, a.Date}
}

// chartOf is one trainee's chart.
func (d *Monitor) chartOf(t study.Watched) TraineeChart {
	o := d.Answer.Options
	signal := placeOf(t, t.Signals[0])
	c := TraineeChart{
		Trainee: t.ID, Arm: t.Arm, Chart: o.Chart, Acceptable: Number(o.Rates.Acceptable), Unacceptable: Number(o.Rates.Unacceptable), H: Number(o.H),
		From: Number(math.NaN()), Points: make([]MonitorPoint, 0, len(t.Path.Steps)), Signals: []Number{},
		SignalAttempt: signal.attempt, SignalSession: signal.session, SignalDate: signal.date,
		Settings: make([]SettingOutcome, 0, len(t.Signals)), passed: t.HasPass,
	}
	if t.From < len(t.Attempts) {
		c.From = Number(t.Attempts[t.From].Number)
	}
	for j, step := range t.Path.Steps {
		c.Points = append(c.Points, pointOf(t, t.From+j, step))
		if step.Signal {
			c.Signals = append(c.Signals, Number(t.Attempts[t.From+j].Number))
		}
	}
	if n := len(t.Decision); n > 0 {
		c.Decision = t.Decision[n-1].String()
	}
	for k, s := range d.Answer.Settings {
		c.Settings = append(c.Settings, SettingOutcome{
			Acceptable: Number(s.Rates.Acceptable), Unacceptable: Number(s.Rates.Unacceptable), H: Number(s.H),
			SignalAttempt: placeOf(t, t.Signals[k]).attempt,
		})
	}
	return c
}

func pointOf(t study.Watched, position int, s monitor.Step) MonitorPoint {
	a := &t.Attempts[position]
	p := MonitorPoint{Attempt: Number(a.Number), Session: a.Session, Date: a.Date, Measure: Number(a.Response), Value: Number(s.Value), Signal: s.Signal, Restart: s.Restart}
	if t.Failed[position] {
		p.Outcome = 1
	}
	return p
}

// RateText is a rate in percent, to three digits at most.
func RateText(v float64) string { return ShortNumber(100*v, 3) + " %" }

// ShortNumber is a number of everyday size without trailing zeros.
func ShortNumber(v float64, digits int) string {
	if math.IsNaN(v) {
		return "–"
	}
	return strconv.FormatFloat(v, 'g', digits, 64)
}
