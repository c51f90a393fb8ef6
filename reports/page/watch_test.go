package page

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"tyro/analysis/practice"
	"tyro/analysis/study"
	"tyro/datasets"
	"tyro/reports"
)

// watched runs the monitoring of a report on a log whose response is 1 for a failed
// attempt, with failure rates stated or none.
func watched(t *testing.T, rates *practice.FailureRates, rows ...string) *Report {
	t.Helper()
	path := filepath.Join(t.TempDir(), "log.csv")
	if err := os.WriteFile(path, []byte("trainee,attempt,session,failure\n"+strings.Join(rows, "\n")+"\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	file, err := datasets.OpenTable(t.Context(), path, datasets.Single{
		Columns:  datasets.Columns{Trainee: "trainee", Attempt: "attempt", Session: "session"},
		Response: "failure", Measure: datasets.PassFail, Better: "lower", Rule: "2 in a row",
	})
	if err != nil {
		t.Fatal(err)
	}
	p, err := file.Practice("")
	if err != nil {
		t.Fatal(err)
	}
	p.Task.Rates = rates
	s, err := study.New(p, study.Options{}) // with curves, which the methods name
	if err != nil {
		t.Fatal(err)
	}
	r := &Report{study: s, Check: reports.NewCheck(s)}
	if err := r.watch(t.Context()); err != nil {
		t.Fatal(err)
	}
	return r
}

// trainee writes a trainee's attempts as rows, x for a failed one, with a session for
// every ten.
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

func hasWarning(d *reports.Monitor, code string) bool {
	return slices.ContainsFunc(d.Warnings, func(w reports.Warning) bool { return w.Code == code })
}

func missing(r *Report, code string) bool {
	for _, w := range r.Missing {
		if w.Code == code {
			return true
		}
	}
	return false
}

// The section on monitoring shows who signals, who relapsed and who is due, the
// settings it hangs on, and one figure. By hand: A meets the rule
// at attempt 4, and ten failures later in a row raise a flag under any limit
// of a chart that tells 10 from 30 % failures; B never passes in 52 attempts.
func TestWatchingSection(t *testing.T) {
	r := watched(t, &practice.FailureRates{Acceptable: 0.1, Unacceptable: 0.3}, append(trainee("A", "xx........xxxxxxxxxx"), trainee("B", strings.Repeat("x.", 26))...)...)
	var b bytes.Buffer
	if err := r.WriteHTML(&b); err != nil {
		t.Fatal(err)
	}
	page := b.String()
	i, j := strings.Index(page, `<section id="watching"`), strings.Index(page, `<section id="who-needs"`)
	if i < 0 || j < i {
		t.Fatal("no section on monitoring")
	}
	section := page[i:j]
	for _, want := range []string{
		"failure rate of 10 %, acceptable, from one of 30 %", "Relapse flags: A at attempt ", "(session S2)", "2 are due",
		"due: flag", "due: no pass", "Learning charts under other settings", "Relapse charts under other settings", reports.NotThePeak, "within 50 attempts in",
	} {
		if !strings.Contains(strings.ReplaceAll(section, "&#39;", "'"), want) {
			t.Errorf("the section lacks %q", want)
		}
	}
	if n, all := strings.Count(section, `<div class="wide">`), strings.Count(section, "<svg"); n != 1 || all != 2 {
		t.Errorf("%d figures in %d drawings, want one overview for wide windows and for narrow ones", n, all)
	}
	if strings.Contains(strings.ToLower(section), "proficien") || strings.Contains(section, "NaN") {
		t.Error("the section speaks of proficiency, or shows NaN")
	}
	if !strings.Contains(page, `href="#watching"`) {
		t.Error("nothing leads to the section")
	}
	files, err := r.Files()
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"monitor.json", "monitor-cohort.csv", "monitor-sensitivity.csv", "monitor-relapse-sensitivity.csv"} {
		if len(files[name]) == 0 {
			t.Errorf("no %s beside the page", name)
		}
	}
}

// Limits come from the rates stated, whatever the attempts are.
func TestWatchLimitsFromTheRates(t *testing.T) {
	rates := &practice.FailureRates{Acceptable: 0.1, Unacceptable: 0.3}
	one := watched(t, rates, trainee("A", strings.Repeat("x", 30))...)
	two := watched(t, rates, append(trainee("A", strings.Repeat(".", 30)), trainee("B", "x.x.")...)...)
	for _, r := range []*Report{one, two} {
		if r.Watch == nil || math.IsNaN(float64(r.Watch.Design.H)) || r.Watch.Design.H != one.Watch.Design.H || r.Watch.Design.RelapseH != one.Watch.Design.RelapseH {
			t.Fatal("the limits depend on the attempts")
		}
		if hasWarning(r.Watch.Monitor, "limits-from-same-data") {
			t.Error("a warning about limits from the data")
		}
	}
}

// Without rates, or without anything that says what a pass is, no monitoring charts
// are made and the report says why.
func TestNoMonitoringCharts(t *testing.T) {
	r := watched(t, nil, trainee("A", "x.x.")...)
	if r.Watch != nil || !missing(r, "no-failure-rates") {
		t.Errorf("no rates: %v", r.Missing)
	}
	var b bytes.Buffer
	if err := r.WriteHTML(&b); err != nil || strings.Contains(b.String(), `id="watching"`) {
		t.Errorf("a section without charts (%v)", err)
	}
	r = watched(t, nil, trainee("A", "x.x.")...)
	r.study.Task.Rates, r.study.Task.Measure, r.Missing = &practice.FailureRates{Acceptable: 0.1, Unacceptable: 0.3}, practice.Score, nil
	if err := r.watch(t.Context()); err != nil || r.Watch != nil || !missing(r, "no-charts") {
		t.Errorf("no standard: %v, %v", r.Missing, err)
	}
}
