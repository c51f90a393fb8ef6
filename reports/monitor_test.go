package reports

import (
	"encoding/json"
	"encoding/xml"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"tyro/analysis/monitor"
	"tyro/datasets"
)

var nan = math.NaN()

// charting is the options of a chart with the command's defaults.
func charting(kind string, acceptable, unacceptable, h float64) MonitorOptions {
	return MonitorOptions{
		Chart: kind, Rates: monitor.Rates{Acceptable: acceptable, Unacceptable: unacceptable}, H: h,
		FalseShare: 0.05, Within: 50, Lambda: 0.1, Alpha: 0.05, Beta: 0.05, SD: nan,
	}
}

// table reads rows as a study whose response is 1 for a failed attempt, with a
// session for every ten attempts.
func table(t testing.TB, rule string, rows ...string) *Input {
	t.Helper()
	path := filepath.Join(t.TempDir(), "log.csv")
	columns := datasets.Columns{Trainee: "trainee", Attempt: "attempt", Session: "session"}
	head := "trainee,attempt,session,failure"
	if strings.Count(rows[0], ",") == 4 {
		head, columns.Date = head+",date", "date"
	}
	if err := os.WriteFile(path, []byte(head+"\n"+strings.Join(rows, "\n")+"\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	s, err := datasets.OpenTable(t.Context(), path, datasets.Single{Columns: columns, Response: "failure", Measure: datasets.PassFail, Better: "lower", Rule: rule})
	if err != nil {
		t.Fatal(err)
	}
	in, err := Prepare(s, Options{NoCurves: true})
	if err != nil {
		t.Fatal(err)
	}
	return in
}

// trainee writes a trainee's attempts as rows, x for a failed one.
func trainee(id, attempts string) []string {
	var rows []string
	for i, c := range attempts {
		failed := 0
		if c == 'x' {
			failed = 1
		}
		rows = append(rows, fmt.Sprintf("%s,%d,S%d,%d", id, i+1, i/10+1, failed))
	}
	return rows
}

func monitored(t testing.TB, in *Input, o MonitorOptions) *Monitor {
	t.Helper()
	d, err := MonitorAttempts(in, o)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func hasWarning(d *Monitor, code string) bool {
	for _, w := range d.Warnings {
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
	in := table(t, "2 in a row", append(trainee("A", "xx........xxxxxx"), trainee("B", strings.Repeat("x.", 26))...)...)
	d := monitored(t, in, charting(ChartRelapse, 0.1, 0.3, 3))
	a, b := d.Cohort[0], d.Cohort[1]
	if a.PassedAttempt != 4 || a.RelapseAttempt != 13 || a.RelapseSession != "S2" || a.Status != "flagged" || a.Due == "" || a.Watched != 12 || a.WatchedFailed != 6 {
		t.Errorf("A: %+v", a)
	}
	if b.Status != "practising" || !strings.Contains(b.Due, "52 attempts") || !math.IsNaN(float64(b.RelapseAttempt)) {
		t.Errorf("B: %+v", b)
	}
	c := d.Charts[0]
	if c.From != 5 || len(c.Points) != 12 || c.SignalAttempt != 13 || c.SignalSession != "S2" || len(c.Signals) != 2 {
		t.Errorf("chart of A: from %v, %d points, signal %v in %s, %v", c.From, len(c.Points), c.SignalAttempt, c.SignalSession, c.Signals)
	}
	if p := c.Points[9]; !p.Restart || math.Abs(float64(p.Value)-math.Log(3)) > 1e-12 {
		t.Errorf("after the signal the chart starts anew: %+v", p)
	}
	if len(d.Charts[1].Points) != 0 || !math.IsNaN(float64(d.Charts[1].From)) {
		t.Error("B has not passed, so relapse is not watched")
	}
	if got := d.cohortSentence(); got != "Of 2: 0 have shown adequate performance, 1 are watched for relapse, 1 of these are flagged, 2 are due." {
		t.Error(got)
	}
}

func TestWatchFrom(t *testing.T) {
	in := table(t, "2 in a row", trainee("A", "xx........xxxxxx")...)
	for after, from := range map[string]Number{"start": 1, "8": 9, "rule": 5} {
		o := charting(ChartRelapse, 0.1, 0.3, 3)
		o.After = after
		if d := monitored(t, in, o); d.Charts[0].From != from {
			t.Errorf("after %s: from %v, want %v", after, d.Charts[0].From, from)
		}
	}
	// By hand: the learning chart at h = 1 signals at the fourth pass in a row,
	// attempt 6; for the cohort table its limit is chosen, which here it never meets.
	o := charting(ChartLearning, 0.1, 0.3, 1)
	o.After = "signal"
	d := monitored(t, in, o)
	if d.Charts[0].SignalAttempt != 6 || d.Cohort[0].PassedAttempt != 6 || d.Cohort[0].Watched != 10 {
		t.Errorf("signal at %v, %+v", d.Charts[0].SignalAttempt, d.Cohort[0])
	}
	o.After = "Tuesday"
	if _, err := MonitorAttempts(in, o); err == nil {
		t.Error("an unknown start passes")
	}
}

// A restart before attempt 4 empties the sum of three failures.
func TestRestartAfterADeviceChange(t *testing.T) {
	in := table(t, "", append(trainee("A", "xx.x"), trainee("B", "xx.x")...)...)
	o := charting(ChartRelapse, 0.1, 0.3, 9)
	o.Restarts = []MonitorRestart{{Trainee: "B", Attempt: 4}}
	d := monitored(t, in, o)
	a, b := d.Charts[0].Points[3], d.Charts[1].Points[3]
	if a.Restart || !b.Restart || math.Abs(float64(b.Value)-math.Log(3)) > 1e-12 || !(a.Value > 2*b.Value) {
		t.Errorf("A %+v, B %+v", a, b)
	}
}

// A signal carries its attempt, session and date into the document, the tables
// and the captions. By hand, with a date for every session: the rule is met at
// attempt 4, three failures after it reach h = 3 at attempt 13 in session S2.
func TestSignalsCarryTheirDay(t *testing.T) {
	rows := append(trainee("A", "xx........xxxxxx"), trainee("B", "x.x.")...)
	for i, r := range rows {
		rows[i] = r + map[bool]string{true: ",2026-02-09", false: ",2026-02-02 14:30"}[strings.Contains(r, ",S2,")]
	}
	in := table(t, "2 in a row", rows...)
	d := monitored(t, in, charting(ChartRelapse, 0.1, 0.3, 3))
	a := d.Cohort[0]
	if a.PassedDate != "2026-02-02 14:30" || a.RelapseDate != "2026-02-09" || a.RelapseSession != "S2" || a.RelapseAttempt != 13 {
		t.Errorf("A: %+v", a)
	}
	c := d.Charts[0]
	if c.SignalDate != "2026-02-09" || c.Points[0].Date != "2026-02-02 14:30" || c.Points[8].Date != "2026-02-09" {
		t.Errorf("chart of A: signal on %q", c.SignalDate)
	}
	if d.Charts[1].SignalDate != "" {
		t.Error("B has no signal and so no date of one")
	}
	const place = "attempt 13 (session S2, 2026-02-09)"
	if s := d.sentence(c); s != "First signal at "+place+"." {
		t.Error(s)
	}
	if s := d.flagSentence(0, 2); s != "Relapse flags: A at "+place+"." {
		t.Error(s)
	}
	figures, err := d.Figures()
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"monitor-cohort.svg", "monitor-relapse-A.svg"} {
		if !strings.Contains(string(figures[name]), place) {
			t.Errorf("%s does not say %s", name, place)
		}
	}
	var text, points strings.Builder
	if err := WriteText(&text, d); err != nil {
		t.Fatal(err)
	}
	d.PointsTable().WriteCSV(&points)
	if n := strings.Count(text.String(), "2026-02-09"); n != 2 {
		t.Errorf("the date of the signal stands %d times in the text, want in both tables", n)
	}
	if !strings.Contains(points.String(), "A,relapse,13,S2,2026-02-09,1,") {
		t.Errorf("points:\n%s", points.String())
	}
	// The learning chart at h = 1 signals at the fourth pass in a row, attempt 6.
	d = monitored(t, in, charting(ChartLearning, 0.1, 0.3, 1))
	if c := d.Cohort[0]; c.ShownAttempt != 6 || c.ShownDate != "2026-02-02 14:30" || c.ShownSession != "S1" {
		t.Errorf("shown: %+v", c)
	}
	if s := d.shownSentence(); s != "Adequate performance shown: A at attempt 6 (session S1, 2026-02-02 14:30)." {
		t.Error(s)
	}
}

// The order of rows changes nothing, and void attempts are not charted.
func TestMonitorReadsInOrderOfAttempts(t *testing.T) {
	rows := append(trainee("A", "x...x..x...x...."), trainee("B", ".....x.x........x")...)
	want := monitored(t, table(t, "", rows...), charting(ChartLearning, 0.1, 0.3, 2))
	shuffled := append([]string{}, rows...)
	r := rand.New(rand.NewPCG(3, 4))
	r.Shuffle(len(shuffled)-1, func(i, j int) { shuffled[i+1], shuffled[j+1] = shuffled[j+1], shuffled[i+1] }) // A stays first
	got := monitored(t, table(t, "", shuffled...), charting(ChartLearning, 0.1, 0.3, 2))
	a, _ := json.Marshal(want.Charts)
	b, _ := json.Marshal(got.Charts)
	if string(a) != string(b) {
		t.Error("the order of rows changes the charts")
	}
}

func TestLimitsFromTheSameData(t *testing.T) {
	in := table(t, "", append(trainee("A", "x...x..x...x...."), trainee("B", ".....x.x........")...)...)
	if d := monitored(t, in, charting(ChartLearning, 0.1, 0.3, 2)); hasWarning(d, "limits-from-same-data") {
		t.Error("a warning without cause")
	}
	o := charting(ChartLearning, 0.1, 0.3, 2)
	o.LimitsFromData = true
	if d := monitored(t, in, o); !hasWarning(d, "limits-from-same-data") {
		t.Error("said so, but no warning")
	}
	d := monitored(t, in, charting(ChartObserved, nan, 0.5, 3))
	if !hasWarning(d, "limits-from-same-data") || d.Charts[0].Acceptable != Number(6.0/32) {
		t.Errorf("the group's own rate: acceptable %v", d.Charts[0].Acceptable)
	}
	if !hasWarning(d, "run-length-infinite") {
		t.Error("an infinite run length without a warning")
	}
}

// A chart against projections that say 0.9 throughout is the relapse chart.
func TestProjectedChart(t *testing.T) {
	in := table(t, "", trainee("A", "....x..xx...x.xx.x.")...)
	o := charting(ChartProjected, 0.1, 0.3, 2.5)
	if _, err := MonitorAttempts(in, o); err == nil {
		t.Error("no projections, no error")
	}
	chances := make([]float64, 19)
	for i := range chances {
		chances[i] = 0.9
	}
	o.Chances = map[string][]float64{"A": chances}
	relapse := charting(ChartRelapse, 0.1, 0.3, 2.5)
	got, want := monitored(t, in, o), monitored(t, in, relapse)
	for i := range want.Charts[0].Points {
		g, w := got.Charts[0].Points[i], want.Charts[0].Points[i]
		if math.Abs(float64(g.Value-w.Value)) > 1e-12 || g.Signal != w.Signal {
			t.Errorf("attempt %v: %v, want %v", w.Attempt, g.Value, w.Value)
		}
	}
	if len(want.Charts[0].Signals) == 0 {
		t.Error("the example never signals")
	}
	o.H = nan
	if d := monitored(t, in, o); !(d.Within.Acceptable <= 0.05) || !hasWarning(d, "run-length-unknown") {
		t.Errorf("designed: false share %v", d.Within.Acceptable)
	}
}

// On the measure: a time with standard 60 and log SD 0.3, charted at levels for
// 15.87 % and 50 % failures, which are one SD apart. Times at the acceptable
// level leave the sum at 0; times of 60 add half an SD each.
func TestRelapseOnTheMeasure(t *testing.T) {
	path := filepath.Join(t.TempDir(), "log.csv")
	rows := "trainee,attempt,seconds,outcome\n"
	for i := 1; i <= 12; i++ {
		v, outcome := 60*math.Exp(-0.3), "done"
		if i > 4 {
			v = 60
		}
		if i == 6 {
			outcome = "failed"
		}
		rows += fmt.Sprintf("A,%d,%.12f,%s\n", i, v, outcome)
	}
	if err := os.WriteFile(path, []byte(rows), 0o644); err != nil {
		t.Fatal(err)
	}
	standard := 60.0
	s, err := datasets.OpenTable(t.Context(), path, datasets.Single{Columns: datasets.Columns{Trainee: "trainee", Attempt: "attempt", Outcome: "outcome"}, Response: "seconds", Measure: datasets.Time, Standard: &standard})
	if err != nil {
		t.Fatal(err)
	}
	in, err := Prepare(s, Options{NoCurves: true})
	if err != nil {
		t.Fatal(err)
	}
	o := charting(ChartRelapse, 0.15865525393145707, 0.5, 3)
	o.OnMeasure, o.SD = true, 0.3
	d := monitored(t, in, o)
	for i, want := range []float64{0, 0, 0, 0, 0.5, 0.5, 1, 1.5, 2, 2.5, 3, 0.5} {
		if got := float64(d.Charts[0].Points[i].Value); math.Abs(got-want) > 1e-9 {
			t.Errorf("attempt %d: %v, want %v", i+1, got, want)
		}
	}
	if d.Charts[0].SignalAttempt != 11 || !hasWarning(d, "hard-fails-not-charted") || hasWarning(d, "limits-from-same-data") {
		t.Errorf("signal %v, warnings %v", d.Charts[0].SignalAttempt, d.Warnings)
	}
	o.SD = nan
	if d := monitored(t, in, o); !hasWarning(d, "limits-from-same-data") {
		t.Error("the SD was estimated from these attempts: no warning")
	}
	o.Chart = ChartLearning
	if _, err := MonitorAttempts(in, o); err == nil {
		t.Error("the learning chart is kept on passes")
	}
}

// What people read: error rates, at least three settings, the caution, and no
// word that turns a peak into proficiency.
func TestMonitorText(t *testing.T) {
	in := table(t, "2 in a row", append(trainee("A", "xx........xxxxxx"), trainee("B", "x.x.x.x.........")...)...)
	for _, kind := range MonitorCharts() {
		o := charting(kind, 0.1, 0.3, nan)
		if kind == ChartProjected {
			o.Chances = map[string][]float64{"A": slices.Repeat([]float64{0.7}, 16), "B": slices.Repeat([]float64{0.7}, 17)}
		}
		d := monitored(t, in, o)
		var b strings.Builder
		if err := WriteText(&b, d); err != nil {
			t.Fatal(err)
		}
		words := strings.Join(strings.Fields(b.String()), " ")
		wanted := []string{Caution, "within 50 attempts", "10 % failures", "30 % failures", notThePeak}
		if kind == ChartProjected { // it compares with the projection, not with rates
			wanted = []string{Caution, "within 50 attempts", "own projection", notThePeak}
		}
		for _, want := range wanted {
			if !strings.Contains(words, want) {
				t.Errorf("%s: the text lacks %q", kind, want)
			}
		}
		if strings.Contains(strings.ToLower(words), "proficien") {
			t.Errorf("%s: the text speaks of proficiency", kind)
		}
		if len(d.Sensitivity) < 9 || !d.Sensitivity[0].Chosen {
			t.Errorf("%s: %d settings", kind, len(d.Sensitivity))
		}
		figures, err := d.Figures()
		if err != nil {
			t.Fatal(err)
		}
		if len(figures) != 3 {
			t.Errorf("%s: %d figures, want the cohort's and two", kind, len(figures))
		}
		for name, svg := range figures {
			if err := xml.Unmarshal(svg, new(struct{})); err != nil {
				t.Errorf("%s: %v", name, err)
			}
			if !strings.Contains(string(svg), "licence") || strings.Contains(string(svg), "NaN") || strings.Contains(strings.ToLower(string(svg)), "proficien") {
				t.Errorf("%s: caution missing, or NaN, or proficiency", name)
			}
		}
	}
}

// What a false share is asked for is what the exact recursion gives.
func TestDesignedLimitKeepsItsShare(t *testing.T) {
	in := table(t, "", trainee("A", "x.........")...)
	for _, kind := range []string{ChartLearning, ChartRelapse, ChartEWMA, ChartObserved} {
		d := monitored(t, in, charting(kind, 0.1, 0.3, nan))
		if falseShare, trueShare := d.shares(); !(falseShare <= 0.05 && falseShare > 0.03 && trueShare > 0.8) {
			t.Errorf("%s: false %v, true %v", kind, falseShare, trueShare)
		}
	}
	o := charting(ChartRelapse, 0.1, 0.3, nan)
	o.RunLength = 500
	if d := monitored(t, in, o); d.Design.Chosen != "run-length" || !(d.RunLength.Acceptable >= 500 && d.RunLength.Acceptable < 600) {
		t.Errorf("%+v, %+v", d.Design, d.RunLength)
	}
}

func TestMonitorRefuses(t *testing.T) {
	in := table(t, "", trainee("A", "x...")...)
	for name, o := range map[string]MonitorOptions{
		"no rates":      charting(ChartLearning, nan, nan, 2),
		"rates swapped": charting(ChartLearning, 0.3, 0.1, 2),
		"error chances": func() MonitorOptions { o := charting(ChartSequential, 0.1, 0.3, 2); o.Alpha = 0; return o }(),
		"no rule":       func() MonitorOptions { o := charting(ChartRelapse, 0.1, 0.3, 2); o.After = "rule"; return o }(),
	} {
		if _, err := MonitorAttempts(in, o); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}

// A cohort of 10,000 with 100 attempts each: figures are drawn by page only, and
// file names stay apart.
func TestManyTrainees(t *testing.T) {
	var rows []string
	for i := range FigureLimit + 1 {
		rows = append(rows, trainee(fmt.Sprintf("T%03d", i), "x.x.")...)
	}
	d := monitored(t, table(t, "", rows...), charting(ChartLearning, 0.1, 0.3, 2))
	figures, err := d.Figures()
	if err != nil || len(figures) != 5 {
		t.Errorf("%d figures, %v; want five pages", len(figures), err)
	}
	d = monitored(t, table(t, "", append(trainee("a/b", "x."), trainee("a b", "x.")...)...), charting(ChartLearning, 0.1, 0.3, 2))
	if figures, err = d.Figures(); err != nil || len(figures) != 3 {
		t.Errorf("%d figures, %v; codes that clean to the same name must not overwrite each other", len(figures), err)
	}
}

// BenchmarkMonitor makes the whole document for 10,000 trainees with 100
// attempts each: charts under 11 settings, the cohort table and error rates.
func BenchmarkMonitor(b *testing.B) {
	r := rand.New(rand.NewPCG(1, 1))
	s := &datasets.Study{Tasks: []datasets.Task{{Name: "task", Measure: datasets.PassFail, Column: "failure", Better: "lower"}}}
	s.Attempts.Measures = []string{"failure"}
	for i := range 10000 {
		for n := range 100 {
			failed := 0.0
			if r.Float64() < 0.2 {
				failed = 1
			}
			s.Attempts.Attempts = append(s.Attempts.Attempts, datasets.Attempt{Trainee: fmt.Sprintf("T%05d", i), Task: "task", Number: float64(n + 1), Values: []float64{failed}})
		}
	}
	in, err := Prepare(s, Options{NoCurves: true})
	if err != nil {
		b.Fatal(err)
	}
	for _, kind := range []string{ChartLearning, ChartRelapse, ChartEWMA} {
		b.Run(kind, func(b *testing.B) {
			for b.Loop() {
				monitored(b, in, charting(kind, 0.1, 0.3, nan))
			}
		})
	}
}
