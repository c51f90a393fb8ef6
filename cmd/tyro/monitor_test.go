package main

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// chartDoc is what programs read of the command monitor.
type chartDoc struct {
	Charts []struct {
		Trainee, Chart              string
		Acceptable, Unacceptable, H float64
		Points                      []struct {
			Attempt, Outcome, Value float64
			Signal                  bool
		}
		SignalAttempt *float64 `json:"signal_attempt"`
	}
	RunLength struct{ Acceptable, Unacceptable *float64 } `json:"run_length"`
	Within    struct {
		Attempts                 int
		Acceptable, Unacceptable float64
	} `json:"signal_within"`
	Warnings []struct{ Code, Text string }
}

func monitorJSON(t *testing.T, args ...string) chartDoc {
	t.Helper()
	out, _ := tyro(t, 0, append([]string{"monitor", "--format", "json"}, args...)...)
	var d chartDoc
	if err := json.Unmarshal([]byte(out), &d); err != nil {
		t.Fatal(err)
	}
	return d
}

// The command on the sequence of testdata/monitor against reference.json beside
// it, made with numpy and scipy: every step and the run lengths.
func TestMonitorAgainstReference(t *testing.T) {
	data, err := os.ReadFile("../../testdata/monitor/reference.json")
	if err != nil {
		t.Fatal(err)
	}
	var ref struct {
		Relapse struct {
			Steps [][2]float64
			Rates []float64
			Mean  []float64
		}
		Learning struct {
			Steps [][2]float64
			ByH   []struct {
				H                float64
				MeanAcceptable   float64            `json:"mean_acceptable"`
				MeanUnacceptable float64            `json:"mean_unacceptable"`
				False            map[string]float64 `json:"false_within"`
			} `json:"by_h"`
		}
		Sequential struct{ Sums []float64 }
	}
	if err := json.Unmarshal(data, &ref); err != nil {
		t.Fatal(err)
	}
	near := func(what string, got, want float64) {
		t.Helper()
		if !(math.Abs(got-want) <= 1e-9*math.Max(1, math.Abs(want))) {
			t.Errorf("%s = %.15g, want %.15g", what, got, want)
		}
	}
	steps := func(d chartDoc, want [][2]float64) {
		t.Helper()
		if len(d.Charts) != 1 || len(d.Charts[0].Points) != len(want) {
			t.Fatalf("%d charts", len(d.Charts))
		}
		for i, p := range d.Charts[0].Points {
			near("value", p.Value, want[i][0])
			if p.Signal != (want[i][1] == 1) {
				t.Errorf("attempt %v: signal %v", p.Attempt, p.Signal)
			}
		}
	}
	file := []string{"../../testdata/monitor/sequence.csv", "--attempt", "attempt", "--response", "failure", "--measure", "pass-fail", "--better", "lower"}
	d := monitorJSON(t, append(file, "--chart", "relapse", "--acceptable", "0.1", "--unacceptable", "0.2", "--h", "2")...)
	steps(d, ref.Relapse.Steps)
	near("mean at 0.1", *d.RunLength.Acceptable, ref.Relapse.Mean[1])
	near("mean at 0.2", *d.RunLength.Unacceptable, ref.Relapse.Mean[3])
	if *d.Charts[0].SignalAttempt != 18 {
		t.Errorf("signal at %v, want 18", *d.Charts[0].SignalAttempt)
	}
	d = monitorJSON(t, append(file, "--chart", "learning", "--acceptable", "0.1", "--unacceptable", "0.3", "--h", "1.5")...)
	steps(d, ref.Learning.Steps)
	near("mean, acceptable", *d.RunLength.Acceptable, ref.Learning.ByH[1].MeanAcceptable)
	near("mean, unacceptable", *d.RunLength.Unacceptable, ref.Learning.ByH[1].MeanUnacceptable)
	near("false within 50", d.Within.Unacceptable, ref.Learning.ByH[1].False["50"])
	if *d.Charts[0].SignalAttempt != 6 || d.Charts[0].H != 1.5 {
		t.Errorf("signal at %v, h %v", *d.Charts[0].SignalAttempt, d.Charts[0].H)
	}
	d = monitorJSON(t, append(file, "--chart", "sequential", "--acceptable", "0.1", "--unacceptable", "0.2", "--alpha", "0.1", "--beta", "0.1")...)
	for i, p := range d.Charts[0].Points {
		near("sum", p.Value, ref.Sequential.Sums[i])
	}
	if *d.Charts[0].SignalAttempt != 19 {
		t.Errorf("decided at %v, want 19", *d.Charts[0].SignalAttempt)
	}
}

// A column that is called failure holds failures; told otherwise it does not.
func TestMonitorReadsFailures(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "log.csv")
	if err := os.WriteFile(path, []byte("code,run,Failed\nA,1,1\nA,2,0\nA,3,1\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	args := []string{path, "--trainee", "code", "--attempt", "run", "--response", "Failed", "--measure", "pass-fail", "--acceptable", "0.1", "--unacceptable", "0.3"}
	d := monitorJSON(t, args...)
	warned := false
	for _, w := range d.Warnings {
		warned = warned || w.Code == "read-as-failures"
	}
	if p := d.Charts[0].Points; p[0].Outcome != 1 || p[1].Outcome != 0 || !warned {
		t.Errorf("%+v, warned %v", p, warned)
	}
	if p := monitorJSON(t, append(args, "--better", "higher")...).Charts[0].Points; p[0].Outcome != 0 || p[1].Outcome != 1 {
		t.Errorf("%+v", p)
	}
	if s := monitorJSON(t, append(args, "--chart", "observed-expected")...); s.RunLength.Acceptable != nil {
		t.Error("an infinite mean must be null")
	}
}

// The demo's files: one figure a trainee, the cohort, the points and the tables.
func TestMonitorWritesFigures(t *testing.T) {
	study, dir := demoStudy(t), t.TempDir()
	tyro(t, 0, "monitor", study, "--chart", "relapse", "--acceptable", "0.1", "--unacceptable", "0.3", "--out", dir)
	for _, name := range []string{"monitor.json", "monitor.txt", "monitor.csv", "monitor-cohort.csv", "monitor-sensitivity.csv", "monitor-points.csv", "monitor-cohort.svg", "monitor-relapse-T01.svg"} {
		if data, err := os.ReadFile(filepath.Join(dir, name)); err != nil || len(data) == 0 {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// Without rates on the command line those of the study file hold, and without
// either the command says what it needs.
func TestMonitorRatesFromTheStudy(t *testing.T) {
	study := demoStudy(t)
	d := monitorJSON(t, study)
	if c := d.Charts[0]; c.Acceptable != 0.2 || c.Unacceptable != 0.4 {
		t.Errorf("rates %v and %v, want the study's 0.2 and 0.4", c.Acceptable, c.Unacceptable)
	}
	if c := monitorJSON(t, study, "--acceptable", "0.1", "--unacceptable", "0.3").Charts[0]; c.Acceptable != 0.1 || c.Unacceptable != 0.3 {
		t.Errorf("rates %v and %v, want those of the command line", c.Acceptable, c.Unacceptable)
	}
	path := filepath.Join(study, "study.yaml")
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	without := strings.Replace(string(text), "    monitor: {acceptable: 0.2, unacceptable: 0.4}\n", "", 1)
	if err := os.WriteFile(path, []byte(without), 0o644); err != nil || without == string(text) {
		t.Fatalf("the demo study states no rates (%v)", err)
	}
	if out, talk := tyro(t, 2, "monitor", study); out != "" || !strings.Contains(talk, "give the failure rates") {
		t.Errorf("says %q", talk)
	}
}

func TestMonitorUsage(t *testing.T) {
	study := demoStudy(t)
	rates := []string{"--acceptable", "0.1", "--unacceptable", "0.3"}
	for _, c := range []struct {
		args   []string
		status int
		says   string
	}{
		{[]string{"--acceptable", "0.1"}, 2, "give the failure rates"},
		{[]string{"--date", "date"}, 2, "--date is for single tables"},
		{[]string{"--session", "session"}, 2, "--session is for single tables"},
		{[]string{"--acceptable", "0.3", "--unacceptable", "0.1"}, 2, "acceptable < unacceptable"},
		{append(rates, "--chart", "zigzag"), 2, "expected learning"},
		{append(rates, "--h", "0"), 2, "--chart-limit 0"},
		{append(rates, "--h", "1e9"), 2, "--chart-limit 1e+09"},
		{append(rates, "--within", "0"), 2, "--within 0"},
		{append(rates, "--within", "1000000000"), 2, "--within 1000000000"},
		{append(rates, "--run-length", "1e12"), 2, "--run-length 1e+12"},
		{append(rates, "--alpha", "0"), 2, "--alpha 0"},
		{[]string{"--acceptable", "0", "--unacceptable", "0.3"}, 2, "--acceptable 0: expected a number between 0 and 1"},
		{[]string{"--acceptable", "0.1", "--unacceptable", "1"}, 2, "--unacceptable 1: expected a number between 0 and 1"},
		{[]string{"--chart", "observed-expected", "--unacceptable", "0"}, 2, "--unacceptable 0"},
		{append(rates, "--chart", "observed-expected", "--run-length", "100"), 1, "--false-share"},
		{append(rates, "--start-anew", "T01:soon"), 2, "TRAINEE:ATTEMPT"},
		{append(rates, "--on", "paper"), 2, "passes or measure"},
		{append(rates, "--on", "measure"), 1, "kept on passes"},
		{append(rates, "--after", "noon"), 1, "watch from"},
	} {
		out, talk := tyro(t, c.status, append([]string{"monitor", study}, c.args...)...)
		if out != "" || !strings.Contains(talk, c.says) {
			t.Errorf("%v: says %q, want %q", c.args, talk, c.says)
		}
	}
}

// A rule of the command line is quoted as it stands, and not called the study's.
func TestMonitorRuleOfTheCommandLine(t *testing.T) {
	out, _ := tyro(t, 0, "monitor", demoStudy(t), "--rule", "3 in a row")
	words := strings.Join(strings.Fields(out), " ")
	if !strings.Contains(words, `passed at: the rule "3 in a row" first met`) || strings.Contains(words, "study's") || strings.Contains(words, "2 in a row") {
		t.Errorf("says\n%s", out)
	}
}
