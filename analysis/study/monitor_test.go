package study_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"tyro/analysis"
	"tyro/analysis/monitor"
	"tyro/analysis/practice"
	"tyro/analysis/study"
)

// passFail is somebody's attempts, x for a failed one, with a session for every ten.
func passFail(id, attempts string) practice.Trainee {
	t := practice.Trainee{ID: id}
	for i, c := range attempts {
		a := practice.Attempt{Number: float64(i + 1), Session: fmt.Sprintf("S%d", i/10+1), Clean: true}
		if c == 'x' {
			a.Response = 1
		}
		t.Attempts = append(t.Attempts, a)
	}
	return t
}

// failureStudy is a study whose response is 1 for a failed attempt.
func failureStudy(t testing.TB, rule string, people ...practice.Trainee) *study.Study {
	t.Helper()
	p := practice.Practice{Task: practice.Task{Name: "cannulation", Measure: practice.PassFail, Response: "failure", Lower: true}, Trainees: people}
	if rule != "" {
		var err error
		if p.Task.Rule, err = practice.ParseRule(rule); err != nil {
			t.Fatal(err)
		}
	}
	s, err := study.New(p, study.Options{NoCurves: true})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// charting is a kind of chart at 10 against 30 % failures; h 0 has the limit chosen.
func charting(kind string, h float64) study.MonitorOptions {
	return study.MonitorOptions{Chart: kind, Rates: monitor.Rates{Acceptable: 0.1, Unacceptable: 0.3}, H: h}
}

func monitored(t testing.TB, s *study.Study, o study.MonitorOptions) *study.Monitoring {
	t.Helper()
	a, err := s.Monitor(t.Context(), o)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func warns(a *study.Monitoring, code string) bool {
	for _, w := range a.Warnings {
		if w.Code == code {
			return true
		}
	}
	return false
}

// After the pass (2 in a row, at attempt 4) one trainee fails six times running;
// each failure adds ln 3, so h = 3 is reached at the third, attempt 13 in session
// S2. The other never passes.
func TestRelapseAfterThePass(t *testing.T) {
	s := failureStudy(t, "2 in a row", passFail("A", "xx........xxxxxx"), passFail("B", strings.Repeat("x.", 26)))
	m := monitored(t, s, charting(study.ChartRelapse, 3))
	a, b := m.Watched[0], m.Watched[1]
	if !a.HasPass || a.Passed != 3 || a.Next != 4 || a.Relapsed != 12 || a.Due != study.DueRelapse {
		t.Errorf("A: %+v", a)
	}
	if b.HasPass || b.Due != study.DueNoPass || b.Relapsed != -1 {
		t.Errorf("B: %+v", b)
	}
	if a.From != 4 || len(a.Path.Steps) != 12 || a.Signals[0] != 12 || len(a.Path.Signals()) != 2 {
		t.Errorf("chart of A: from %v, %d steps, signals %v", a.From, len(a.Path.Steps), a.Path.Signals())
	}
	if p := a.Path.Steps[9]; !p.Restart || math.Abs(p.Value-math.Log(3)) > 1e-12 {
		t.Errorf("after the signal the chart starts anew: %+v", p)
	}
	if len(b.Path.Steps) != 0 || b.From != len(b.Attempts) || b.Signals[0] != -1 {
		t.Error("B has not passed, so relapse is not watched")
	}
	// One chart of two is kept, so nothing is said of many.
	if m.Settings[0].Charted != 1 || warns(m, "many-charts") {
		t.Errorf("%d charts, %v", m.Settings[0].Charted, m.Warnings)
	}
}

func TestWatchFrom(t *testing.T) {
	s := failureStudy(t, "2 in a row", passFail("A", "xx........xxxxxx"))
	for after, from := range map[string]int{"start": 0, "8": 8, "rule": 4, "16": 16} {
		o := charting(study.ChartRelapse, 3)
		o.After = after
		if m := monitored(t, s, o); m.Watched[0].From != from {
			t.Errorf("after %s: from %v, want %v", after, m.Watched[0].From, from)
		}
	}
	// By hand: the learning chart at h = 1 signals at the fourth pass in a row,
	// attempt 6; for the standings its limit is chosen, which here it never meets.
	o := charting(study.ChartLearning, 1)
	o.After = "signal"
	if w := monitored(t, s, o).Watched[0]; w.Signals[0] != 5 || w.Passed != 5 || len(w.Attempts)-w.Next != 10 {
		t.Errorf("signal at %v, %+v", w.Signals[0], w)
	}
	o.After = "Tuesday"
	if _, err := s.Monitor(t.Context(), o); err == nil {
		t.Error("an unknown start passes")
	}
}

// Who waits for an attempt number has nothing to reach, and is not due for want of it.
func TestNobodyIsDueForAnAttemptNumber(t *testing.T) {
	s := failureStudy(t, "2 in a row", passFail("A", strings.Repeat("x.", 30)))
	o := charting(study.ChartRelapse, 3)
	if w := monitored(t, s, o).Watched[0]; w.Due != study.DueNoPass {
		t.Errorf("60 attempts without meeting the rule: due %q", w.Due)
	}
	o.After = "80"
	if w := monitored(t, s, o).Watched[0]; w.HasPass || w.Due != study.DueNothing {
		t.Errorf("waiting for attempt 80: %+v", w)
	}
}

// A restart before attempt 4 empties the sum of three failures.
func TestRestartAfterADeviceChange(t *testing.T) {
	s := failureStudy(t, "", passFail("A", "xx.x"), passFail("B", "xx.x"))
	o := charting(study.ChartRelapse, 9)
	o.Restarts = []study.MonitorRestart{{Trainee: "B", Attempt: 4}}
	m := monitored(t, s, o)
	a, b := m.Watched[0].Path.Steps[3], m.Watched[1].Path.Steps[3]
	if a.Restart || !b.Restart || math.Abs(b.Value-math.Log(3)) > 1e-12 || !(a.Value > 2*b.Value) {
		t.Errorf("A %+v, B %+v", a, b)
	}
}

// Void attempts are not charted.
func TestVoidAttemptsAreNotCharted(t *testing.T) {
	who := passFail("A", "x.xx")
	who.Attempts[2].Outcome = practice.Void
	if w := monitored(t, failureStudy(t, "", who), charting(study.ChartRelapse, 3)).Watched[0]; len(w.Path.Steps) != 3 || w.Attempts[2].Number != 4 {
		t.Errorf("%d steps", len(w.Path.Steps))
	}
}

func TestLimitsFromTheSameData(t *testing.T) {
	s := failureStudy(t, "", passFail("A", "x...x..x...x...."), passFail("B", ".....x.x........"))
	if m := monitored(t, s, charting(study.ChartLearning, 2)); warns(m, "limits-from-same-data") {
		t.Error("a warning without cause")
	}
	o := charting(study.ChartLearning, 2)
	o.LimitsFromData = true
	if m := monitored(t, s, o); !warns(m, "limits-from-same-data") {
		t.Error("said so, but no warning")
	}
	o = charting(study.ChartObserved, 3)
	o.Rates = monitor.Rates{Unacceptable: 0.5}
	m := monitored(t, s, o)
	if !warns(m, "limits-from-same-data") || m.Options.Rates.Acceptable != 6.0/32 {
		t.Errorf("the group's own rate: acceptable %v", m.Options.Rates.Acceptable)
	}
	if !warns(m, "run-length-infinite") {
		t.Error("an infinite run length without a warning")
	}
}

// Rates that are not given are the task's own.
func TestRatesOfTheTask(t *testing.T) {
	s := failureStudy(t, "", passFail("A", "x..."))
	s.Task.Rates = &practice.FailureRates{Acceptable: 0.2, Unacceptable: 0.4}
	if m := monitored(t, s, study.MonitorOptions{}); m.Options.Rates != (monitor.Rates{Acceptable: 0.2, Unacceptable: 0.4}) || m.Options.Chart != study.ChartLearning {
		t.Errorf("%+v", m.Options)
	}
}

// A chart against projections that say 0.9 throughout is the relapse chart.
func TestProjectedChart(t *testing.T) {
	s := failureStudy(t, "", passFail("A", "....x..xx...x.xx.x."))
	o := charting(study.ChartProjected, 2.5)
	if _, err := s.Monitor(t.Context(), o); err == nil {
		t.Error("no projections, no error")
	}
	o.Chances = map[string][]float64{"A": slices.Repeat([]float64{0.9}, 19)}
	got, want := monitored(t, s, o).Watched[0].Path, monitored(t, s, charting(study.ChartRelapse, 2.5)).Watched[0].Path
	for i, w := range want.Steps {
		if g := got.Steps[i]; math.Abs(g.Value-w.Value) > 1e-12 || g.Signal != w.Signal {
			t.Errorf("attempt %v: %v, want %v", i+1, g.Value, w.Value)
		}
	}
	if len(want.Signals()) == 0 {
		t.Error("the example never signals")
	}
	o.H = 0
	if m := monitored(t, s, o); !(m.Within.Acceptable <= 0.05) || !warns(m, "run-length-unknown") {
		t.Errorf("designed: false share %v", m.Within.Acceptable)
	}
}

// On the measure: a time with standard 60 and log SD 0.3, charted at levels for
// 15.87 % and 50 % failures, which are one SD apart. Times at the acceptable
// level leave the sum at 0; times of 60 add half an SD each.
func TestRelapseOnTheMeasure(t *testing.T) {
	who := practice.Trainee{ID: "A"}
	for i := 1; i <= 12; i++ {
		a := practice.Attempt{Number: float64(i), Response: 60 * math.Exp(-0.3), Clean: true}
		if i > 4 {
			a.Response = 60
		}
		if i == 6 {
			a.Outcome, a.Response = practice.Failed, math.NaN()
		}
		who.Attempts = append(who.Attempts, a)
	}
	p := practice.Practice{Task: practice.Task{Name: "cannulation", Measure: practice.Time, Lower: true, Standard: &practice.Decision{Value: 60}}, Trainees: []practice.Trainee{who}}
	s, err := study.New(p, study.Options{NoCurves: true})
	if err != nil {
		t.Fatal(err)
	}
	o := charting(study.ChartRelapse, 3)
	o.Rates, o.OnMeasure, o.SD = monitor.Rates{Acceptable: 0.15865525393145707, Unacceptable: 0.5}, true, 0.3
	m := monitored(t, s, o)
	for i, want := range []float64{0, 0, 0, 0, 0.5, 0.5, 1, 1.5, 2, 2.5, 3, 0.5} {
		if got := m.Watched[0].Path.Steps[i].Value; math.Abs(got-want) > 1e-9 {
			t.Errorf("attempt %d: %v, want %v", i+1, got, want)
		}
	}
	if m.Watched[0].Signals[0] != 10 || !warns(m, "hard-fails-not-charted") || warns(m, "limits-from-same-data") {
		t.Errorf("signal %v, warnings %v", m.Watched[0].Signals[0], m.Warnings)
	}
	if !slices.ContainsFunc(m.Warnings, func(w analysis.Warning) bool { return strings.HasSuffix(w.Text, ": 1, of which 1 hard fails") }) {
		t.Errorf("one hard fail: %v", m.Warnings)
	}
	o.SD = 0
	if m := monitored(t, s, o); !warns(m, "limits-from-same-data") {
		t.Error("the SD was estimated from these attempts: no warning")
	}
	o.Chart = study.ChartLearning
	if _, err := s.Monitor(t.Context(), o); err == nil {
		t.Error("the learning chart is kept on passes")
	}
}

// What a false share is asked for is what the exact recursion gives.
func TestDesignedLimitKeepsItsShare(t *testing.T) {
	s := failureStudy(t, "", passFail("A", "x........."))
	for _, kind := range []string{study.ChartLearning, study.ChartRelapse, study.ChartEWMA, study.ChartObserved} {
		m := monitored(t, s, charting(kind, 0))
		if !(m.FalseSignal <= 0.05 && m.FalseSignal > 0.03 && m.TrueSignal > 0.8) {
			t.Errorf("%s: false %v, true %v", kind, m.FalseSignal, m.TrueSignal)
		}
	}
	o := charting(study.ChartRelapse, 0)
	o.RunLength = 500
	if m := monitored(t, s, o); m.Design.Chosen != study.ChosenByRunLength || !(m.RunLength.Acceptable >= 500 && m.RunLength.Acceptable < 600) {
		t.Errorf("%+v, %+v", m.Design, m.RunLength)
	}
	// A chart whose mean is infinite cannot have its limit from a mean.
	o.Chart = study.ChartObserved
	if _, err := s.Monitor(t.Context(), o); err == nil || !strings.Contains(err.Error(), "--false-share") {
		t.Errorf("a run length of the observed-expected chart: %v", err)
	}
}

func TestMonitorRefuses(t *testing.T) {
	s := failureStudy(t, "", passFail("A", "x..."))
	with := func(change func(*study.MonitorOptions)) study.MonitorOptions {
		o := charting(study.ChartRelapse, 2)
		change(&o)
		return o
	}
	sequential := func(o *study.MonitorOptions) { o.Chart, o.Alpha, o.Beta = study.ChartSequential, 0.6, 0.4 }
	for name, o := range map[string]study.MonitorOptions{
		"no rates":          with(func(o *study.MonitorOptions) { o.Rates = monitor.Rates{} }),
		"one rate":          with(func(o *study.MonitorOptions) { o.Rates.Acceptable = 0 }),
		"rates swapped":     with(func(o *study.MonitorOptions) { o.Rates = monitor.Rates{Acceptable: 0.3, Unacceptable: 0.1} }),
		"a rate of 1":       with(func(o *study.MonitorOptions) { o.Rates.Unacceptable = 1 }),
		"a rate unknown":    with(func(o *study.MonitorOptions) { o.Rates.Unacceptable = math.NaN() }),
		"error chances":     with(sequential),
		"no rule":           with(func(o *study.MonitorOptions) { o.After = "rule" }),
		"no such chart":     with(func(o *study.MonitorOptions) { o.Chart = "zigzag" }),
		"h of a billion":    with(func(o *study.MonitorOptions) { o.H = 1e9 }),
		"h below 0":         with(func(o *study.MonitorOptions) { o.H = -1 }),
		"h unknown":         with(func(o *study.MonitorOptions) { o.H = math.NaN() }),
		"within a billion":  with(func(o *study.MonitorOptions) { o.Within = 1e9 }),
		"within less":       with(func(o *study.MonitorOptions) { o.Within = -1 }),
		"a long run":        with(func(o *study.MonitorOptions) { o.H, o.RunLength = 0, 1e12 }),
		"a short run":       with(func(o *study.MonitorOptions) { o.H, o.RunLength = 0, 1 }),
		"all false":         with(func(o *study.MonitorOptions) { o.FalseShare = 1 }),
		"no forgetting":     with(func(o *study.MonitorOptions) { o.Chart, o.Lambda = study.ChartEWMA, 1e-9 }),
		"a whole headstart": with(func(o *study.MonitorOptions) { o.Headstart = 1 }),
		"no scatter":        with(func(o *study.MonitorOptions) { o.SD = -1 }),
		"nothing known":     with(func(o *study.MonitorOptions) { o.Known = -1 }),
		"h of the measure":  with(func(o *study.MonitorOptions) { o.OnMeasure, o.H = true, 51 }),
		// A sum that starts at its limit signals at once, whatever the limit.
		"no limit will do": with(func(o *study.MonitorOptions) { o.H, o.Headstart = 0, 1-1e-12 }),
	} {
		start := time.Now()
		if _, err := s.Monitor(t.Context(), o); err == nil || strings.Contains(err.Error(), "panic") {
			t.Errorf("%s: error %v", name, err)
		}
		if d := time.Since(start); d > time.Minute {
			t.Errorf("%s took %v", name, d)
		}
	}
}

// The largest choices allowed, and the rates that are hardest to tell apart, end in
// time as well.
func TestMonitorAtItsBounds(t *testing.T) {
	if testing.Short() {
		t.Skip("takes seconds")
	}
	s := failureStudy(t, "", passFail("A", "x...x..x.."), passFail("B", "xxx......."))
	start := time.Now()
	for _, kind := range []string{study.ChartLearning, study.ChartRelapse, study.ChartObserved} {
		m := monitored(t, s, charting(kind, 1000))
		if !(m.FalseSignal >= 0 && m.TrueSignal < 1e-9) || m.Watched[1].Signals[0] != -1 {
			t.Errorf("%s at h 1000 signals: %v, %v", kind, m.FalseSignal, m.TrueSignal)
		}
	}
	o := charting(study.ChartSequential, 0)
	o.Rates, o.Alpha, o.Beta = monitor.Rates{Acceptable: 0.2, Unacceptable: 0.2001}, 1e-12, 1e-12
	if m := monitored(t, s, o); len(m.Watched[0].Decision) != 10 || m.Watched[0].Decision[9] != monitor.Undecided {
		t.Error("decided after ten attempts")
	}
	if d := time.Since(start); d > time.Minute {
		t.Errorf("took %v", d)
	}
}
