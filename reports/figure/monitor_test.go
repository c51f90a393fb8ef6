package figure

import (
	"encoding/xml"
	"fmt"
	"strings"
	"testing"

	"tyro/analysis/monitor"
	"tyro/analysis/practice"
	"tyro/analysis/study"
	"tyro/reports"
)

// failing is somebody's attempts, x for a failed one, with a session for every ten.
func failing(id, attempts string) practice.Trainee {
	t := practice.Trainee{ID: id}
	for i, c := range attempts {
		a := practice.Attempt{Number: float64(i + 1), Session: fmt.Sprintf("S%d", i/10+1), Date: fmt.Sprintf("2026-02-%02d", 2+7*(i/10)), Clean: true}
		if c == 'x' {
			a.Response = 1
		}
		t.Attempts = append(t.Attempts, a)
	}
	return t
}

// charts is a chart of 10 against 30 % failures.
func charts(t *testing.T, o study.MonitorOptions, people ...practice.Trainee) *reports.Monitor {
	t.Helper()
	rule, err := practice.ParseRule("2 in a row")
	if err != nil {
		t.Fatal(err)
	}
	s, err := study.New(practice.Practice{
		Task: practice.Task{Name: "cannulation", Measure: practice.PassFail, Response: "failure", Lower: true, Rule: rule}, Trainees: people,
	}, study.Options{NoCurves: true})
	if err != nil {
		t.Fatal(err)
	}
	o.Rates = monitor.Rates{Acceptable: 0.1, Unacceptable: 0.3}
	a, err := s.Monitor(t.Context(), o)
	if err != nil {
		t.Fatal(err)
	}
	return reports.NewMonitor(s, a)
}

// Every figure is whole, says where the signal came, and carries the caution. By hand:
// the rule is met at attempt 4, and three failures after it reach h = 3 at attempt 13.
func TestMonitorFigures(t *testing.T) {
	for _, kind := range study.MonitorCharts() {
		o := study.MonitorOptions{Chart: kind, H: 3}
		if kind == study.ChartProjected {
			o.Chances = map[string][]float64{"A": make([]float64, 16), "B": make([]float64, 17)}
			for _, c := range o.Chances {
				for i := range c {
					c[i] = 0.7
				}
			}
		}
		figures, err := monitorPictures(t, charts(t, o, failing("A", "xx........xxxxxx"), failing("B", "x.x.x.x.........")))
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
		if kind != study.ChartRelapse {
			continue
		}
		for _, name := range []string{"monitor-cohort.svg", "monitor-relapse-A.svg"} {
			if !strings.Contains(string(figures[name]), "attempt 13 (session S2, 2026-02-09)") {
				t.Errorf("%s does not say where the signal came", name)
			}
		}
	}
}

// Many trainees are drawn by page only, and file names stay apart.
func TestFiguresOfManyTrainees(t *testing.T) {
	var people []practice.Trainee
	for i := range reports.FigureLimit + 1 {
		people = append(people, failing(fmt.Sprintf("T%03d", i), "x.x."))
	}
	o := study.MonitorOptions{Chart: study.ChartLearning, H: 2}
	figures, err := monitorPictures(t, charts(t, o, people...))
	if err != nil || len(figures) != 5 {
		t.Errorf("%d figures, %v; want five pages", len(figures), err)
	}
	if figures, err = monitorPictures(t, charts(t, o, failing("a/b", "x."), failing("a b", "x."))); err != nil || len(figures) != 3 {
		t.Errorf("%d figures, %v; codes that clean to the same name must not overwrite each other", len(figures), err)
	}
}

// A page without a flag does not deny those of other pages.
func TestFlagsOfOtherPages(t *testing.T) {
	people := []practice.Trainee{failing("F", "........xxxxxx")}
	for i := range CohortRows {
		people = append(people, failing(fmt.Sprintf("T%02d", i), "........"))
	}
	figures, err := monitorPictures(t, charts(t, study.MonitorOptions{Chart: study.ChartRelapse, H: 3}, people...))
	if err != nil {
		t.Fatal(err)
	}
	for page, want := range map[string]string{"monitor-cohort-1.svg": "Relapse flags: F at attempt", "monitor-cohort-2.svg": "No relapse flag among these trainees."} {
		if !strings.Contains(string(figures[page]), want) {
			t.Errorf("%s does not say %q", page, want)
		}
	}
}

// monitorPictures are the charts as files.
func monitorPictures(t *testing.T, d *reports.Monitor) (map[string][]byte, error) {
	t.Helper()
	return svgFiles(picturesOfMonitor(d))
}
