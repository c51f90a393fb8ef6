package reports_test

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"tyro/analysis/monitor"
	"tyro/analysis/study"
	"tyro/datasets"
	"tyro/datasets/demo"
	"tyro/reports"
)

// failureLog writes rows as a log whose response is 1 for a failed attempt, with a
// session for every ten attempts, and opens it.
func failureLog(t testing.TB, rule string, rows ...string) (*study.Study, string) {
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
	file, err := datasets.OpenTable(t.Context(), path, datasets.Single{Columns: columns, Response: "failure", Measure: datasets.PassFail, Better: "lower", Rule: rule})
	if err != nil {
		t.Fatal(err)
	}
	return opened(t, file), path
}

func opened(t testing.TB, file *datasets.Study) *study.Study {
	t.Helper()
	p, err := file.Practice("")
	if err != nil {
		t.Fatal(err)
	}
	s, err := study.New(p, study.Options{NoCurves: true})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// attemptRows are a trainee's attempts as rows, x for a failed one.
func attemptRows(id, attempts string) []string {
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

// at10Against30 is a kind of chart; h 0 has the limit chosen.
func at10Against30(kind string, h float64) study.MonitorOptions {
	return study.MonitorOptions{Chart: kind, Rates: monitor.Rates{Acceptable: 0.1, Unacceptable: 0.3}, H: h}
}

func charted(t testing.TB, s *study.Study, o study.MonitorOptions) *reports.Monitor {
	t.Helper()
	a, err := s.Monitor(t.Context(), o)
	if err != nil {
		t.Fatal(err)
	}
	return reports.NewMonitor(s, a)
}

// A signal carries its attempt, session and date into the document, the tables
// and the sentences. By hand, with a date for every session: the rule is met at
// attempt 4, three failures after it reach h = 3 at attempt 13 in session S2.
func TestSignalsCarryTheirDay(t *testing.T) {
	rows := append(attemptRows("A", "xx........xxxxxx"), attemptRows("B", "x.x.")...)
	for i, r := range rows {
		rows[i] = r + map[bool]string{true: ",2026-02-09", false: ",2026-02-02 14:30"}[strings.Contains(r, ",S2,")]
	}
	s, _ := failureLog(t, "2 in a row", rows...)
	d := charted(t, s, at10Against30(study.ChartRelapse, 3))
	a := d.Cohort[0]
	if a.PassedDate != "2026-02-02 14:30" || a.RelapseDate != "2026-02-09" || a.RelapseSession != "S2" || a.RelapseAttempt != 13 {
		t.Errorf("A: %+v", a)
	}
	if a.PassedAttempt != 4 || a.Status != "flagged" || a.Due == "" || a.Watched != 12 || a.WatchedFailed != 6 {
		t.Errorf("A: %+v", a)
	}
	c := d.Charts[0]
	if c.From != 5 || c.SignalAttempt != 13 || c.SignalSession != "S2" || len(c.Signals) != 2 {
		t.Errorf("chart of A: from %v, signal %v in %s, %v", c.From, c.SignalAttempt, c.SignalSession, c.Signals)
	}
	if c.SignalDate != "2026-02-09" || c.Points[0].Date != "2026-02-02 14:30" || c.Points[8].Date != "2026-02-09" {
		t.Errorf("chart of A: signal on %q", c.SignalDate)
	}
	if b := d.Charts[1]; b.SignalDate != "" || !math.IsNaN(float64(b.From)) || !math.IsNaN(float64(d.Cohort[1].RelapseAttempt)) {
		t.Error("B has no signal and so no date of one")
	}
	const place = "attempt 13 (session S2, 2026-02-09)"
	if got := d.Sentence(c); got != "First signal at "+place+"." {
		t.Error(got)
	}
	if got := d.Sentence(d.Charts[1]); got != "Not watched yet: rule not met." {
		t.Error(got)
	}
	if got := d.FlagSentence(0, 2); got != "Relapse flags: A at "+place+"." {
		t.Error(got)
	}
	if got := d.FlagSentence(1, 2); got != "No relapse flag among these trainees." {
		t.Error(got)
	}
	var text, points strings.Builder
	if err := reports.WriteText(&text, d); err != nil {
		t.Fatal(err)
	}
	if n := strings.Count(text.String(), "2026-02-09"); n != 2 {
		t.Errorf("the date of the signal stands %d times in the text, want in both tables", n)
	}
	if err := d.PointsTable().WriteCSV(&points); err != nil || !strings.Contains(points.String(), "A,relapse,13,S2,2026-02-09,1,") {
		t.Errorf("points (%v):\n%s", err, points.String())
	}
	// The learning chart at h = 1 signals at the fourth pass in a row, attempt 6.
	d = charted(t, s, at10Against30(study.ChartLearning, 1))
	if c := d.Cohort[0]; c.ShownAttempt != 6 || c.ShownDate != "2026-02-02 14:30" || c.ShownSession != "S1" {
		t.Errorf("shown: %+v", c)
	}
	if got := d.ShownSentence(); got != "Adequate performance shown: A at attempt 6 (session S1, 2026-02-02 14:30)." {
		t.Error(got)
	}
}

// The order of rows changes nothing.
func TestMonitorReadsInOrderOfAttempts(t *testing.T) {
	rows := append(attemptRows("A", "x...x..x...x...."), attemptRows("B", ".....x.x........x")...)
	shuffled := slices.Clone(rows)
	r := rand.New(rand.NewPCG(3, 4))
	r.Shuffle(len(shuffled)-1, func(i, j int) { shuffled[i+1], shuffled[j+1] = shuffled[j+1], shuffled[i+1] }) // A stays first
	want, _ := failureLog(t, "", rows...)
	got, _ := failureLog(t, "", shuffled...)
	a, _ := json.Marshal(charted(t, want, at10Against30(study.ChartLearning, 2)).Charts)
	b, _ := json.Marshal(charted(t, got, at10Against30(study.ChartLearning, 2)).Charts)
	if string(a) != string(b) {
		t.Error("the order of rows changes the charts")
	}
}

// What people read: error rates, at least three settings, the caution, and no
// word that turns a peak into proficiency.
func TestMonitorText(t *testing.T) {
	s, _ := failureLog(t, "2 in a row", append(attemptRows("A", "xx........xxxxxx"), attemptRows("B", "x.x.x.x.........")...)...)
	for _, kind := range study.MonitorCharts() {
		o := at10Against30(kind, 0)
		if kind == study.ChartProjected {
			o.Chances = map[string][]float64{"A": slices.Repeat([]float64{0.7}, 16), "B": slices.Repeat([]float64{0.7}, 17)}
		}
		d := charted(t, s, o)
		var b strings.Builder
		if err := reports.WriteText(&b, d); err != nil {
			t.Fatal(err)
		}
		words := strings.Join(strings.Fields(b.String()), " ")
		wanted := []string{reports.Caution, "within 50 attempts", "10 % failures", "30 % failures", reports.NotThePeak}
		if kind == study.ChartProjected { // it compares with the projection, not with rates
			wanted = []string{reports.Caution, "within 50 attempts", "own projection", reports.NotThePeak}
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
	}
}

// Why somebody has no chart yet, and who is due, is true wherever relapse is watched
// from. A meets the rule with the last attempt; B never does; the learning chart of
// neither signals.
func TestWordsOfThoseNotWatched(t *testing.T) {
	s, _ := failureLog(t, "2 in a row", append(attemptRows("A", "xxx.."), attemptRows("B", "x.x.x.x.")...)...)
	for after, want := range map[string]struct{ a, b, due string }{
		"rule":   {"Not watched yet: no attempt since the pass.", "Not watched yet: rule not met.", "review: 8 attempts, rule not met"},
		"signal": {"Not watched yet: no signal of the learning chart.", "Not watched yet: no signal of the learning chart.", "review: 8 attempts, no signal of the learning chart"},
		"9":      {"Not watched yet: no attempt after attempt 9.", "Not watched yet: no attempt after attempt 9.", ""},
	} {
		o := at10Against30(study.ChartRelapse, 0)
		o.After, o.Within = after, 8
		d := charted(t, s, o)
		if a, b := d.Sentence(d.Charts[0]), d.Sentence(d.Charts[1]); a != want.a || b != want.b {
			t.Errorf("after %s: %q and %q", after, a, b)
		}
		if got := d.Cohort[1].Due; got != want.due {
			t.Errorf("after %s: due %q, want %q", after, got, want.due)
		}
		if says := strings.Contains(d.DueText(), "8 attempts without"); says != (want.due != "") {
			t.Errorf("after %s: due now: %s", after, d.DueText())
		}
	}
}

// The chart of chart-signal is the one that watches trainees: same rates, same limit.
func TestOneLearningChart(t *testing.T) {
	s := demoStudy(t, study.Options{NoCurves: true})
	d := charted(t, s, study.MonitorOptions{})
	if float64(d.Design.H) != s.Question.Chart.H {
		t.Errorf("limits %v and %v", d.Design.H, s.Question.Chart.H)
	}
	for i, o := range s.Observed(s.Question.Chart) {
		if c := d.Charts[i]; o.Met != !math.IsNaN(float64(c.SignalAttempt)) || o.Met && o.Attempt != float64(c.SignalAttempt) {
			t.Errorf("trainee %s: signal at %v, observed %+v", c.Trainee, c.SignalAttempt, o)
		}
	}
}

// demoStudy is the demo, opened with the given choices.
func demoStudy(t *testing.T, o study.Options) *study.Study {
	t.Helper()
	file := demoFile(t, t.TempDir())
	p, err := file.Practice("")
	if err != nil {
		t.Fatal(err)
	}
	s, err := study.New(p, o)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// demoFile writes the demo into a folder and opens it.
func demoFile(t *testing.T, dir string) *datasets.Study {
	t.Helper()
	if err := demo.Write(dir); err != nil {
		t.Fatal(err)
	}
	file, err := datasets.Open(t.Context(), dir)
	if err != nil {
		t.Fatal(err)
	}
	return file
}

// BenchmarkMonitor makes the whole document for 10,000 trainees with 100
// attempts each: charts under 11 settings, the cohort table and error rates.
func BenchmarkMonitor(b *testing.B) {
	r := rand.New(rand.NewPCG(1, 1))
	file := &datasets.Study{Tasks: []datasets.Task{{Name: "task", Measure: datasets.PassFail, Column: "failure", Better: "lower"}}}
	file.Attempts.Measures = []string{"failure"}
	for i := range 10000 {
		for n := range 100 {
			failed := 0.0
			if r.Float64() < 0.2 {
				failed = 1
			}
			file.Attempts.Add(datasets.Attempt{Place: &datasets.Place{Trainee: fmt.Sprintf("T%05d", i), Task: "task"}, Number: float64(n + 1)}, failed)
		}
	}
	s := opened(b, file)
	for _, kind := range []string{study.ChartLearning, study.ChartRelapse, study.ChartEWMA} {
		b.Run(kind, func(b *testing.B) {
			for b.Loop() {
				charted(b, s, at10Against30(kind, 0))
			}
		})
	}
}
