package page

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"tyro/analysis/standard"
	"tyro/datasets"
	"tyro/reports"
	"tyro/reports/figure"
)

// TestStandardFigures: every method leaves its figure, with the standard written on
// it.
func TestStandardFigures(t *testing.T) {
	classes := filepath.Join(t.TempDir(), "classes.csv")
	if err := os.WriteFile(classes, []byte("judge,class,items,share\nA,hard,4,0.9\nB,hard,4,0.8\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		file    string
		q       reports.StandardQuestion
		columns reports.StandardColumns
		figure  string
		marks   []string
	}{
		{standards + "expert_benchmark.csv", reports.StandardQuestion{Method: reports.ExpertMean, Lower: true, Drop: standard.Drop{Trim: 0.1}}, reports.StandardColumns{Response: "time_s", Time: true}, "standard-experts.svg", []string{">14</text>", ">time_s</text>"}},
		{standards + "contrasting_groups.csv", reports.StandardQuestion{Method: reports.ContrastingGroups, Crossing: standard.Normal}, reports.StandardColumns{}, "standard-groups.svg", []string{"standard 65.69", "false passes 21.6 %", "competent (30)"}},
		{standards + "contrasting_groups.csv", reports.StandardQuestion{Method: reports.ContrastingGroups, Crossing: standard.Youden}, reports.StandardColumns{}, "standard-groups.svg", []string{"false fails"}},
		{standards + "borderline_regression.csv", reports.StandardQuestion{Method: reports.BorderlineRegression, Borderline: 2}, reports.StandardColumns{Response: "checklist"}, "standard-ratings.svg", []string{"standard 53.04 (50.18 to 55.91)", ">checklist</text>"}},
		{standards + "borderline_regression.csv", reports.StandardQuestion{Method: reports.BorderlineGroup, Borderline: 2}, reports.StandardColumns{Response: "checklist"}, "standard-ratings.svg", []string{"standard 56.00"}},
		{standards + "angoff.csv", reports.StandardQuestion{Method: reports.AngoffMethod}, reports.StandardColumns{}, "standard-judges.svg", []string{"standard 7.694", ">8 judges</text>"}},
		{classes, reports.StandardQuestion{Method: reports.EbelMethod}, reports.StandardColumns{}, "standard-judges.svg", []string{"standard 3.400", ">2 judges</text>"}},
		{standards + "hofstee_scores.csv", reports.StandardQuestion{Method: reports.HofsteeMethod}, reports.StandardColumns{JudgeFile: standards + "hofstee_judges.csv"}, "standard-box.svg", []string{"standard 22.64"}},
	} {
		d, err := setStandard(t, c.file, c.q, c.columns)
		if err != nil {
			t.Fatalf("%s: %v", c.q.Method, err)
		}
		files, err := figure.FilesOfStandard(d)
		if err != nil {
			t.Fatalf("%s: %v", c.q.Method, err)
		}
		svg := string(files[c.figure])
		if !strings.HasPrefix(svg, "<svg ") || strings.Contains(svg, "NaN") {
			t.Errorf("%s: no figure %s", c.q.Method, c.figure)
		}
		for _, m := range c.marks {
			if !strings.Contains(svg, m) {
				t.Errorf("%s: the figure lacks %q", c.q.Method, m)
			}
		}
		if _, written := files["standard.yaml"]; written {
			t.Errorf("%s: lines for the study file, which nobody asked for", c.q.Method)
		}
	}
}

// TestCurrentStandard: the demo's standard computed again as its file says: mean of
// experts' means over runs two to four plus one SD, 57 to whole seconds. Errors to
// expect are counted in the logs by hand here.
func TestCurrentStandard(t *testing.T) {
	in := demoInput(t, reports.Options{Replicates: 50})
	d, err := reports.CurrentStandard(context.Background(), in)
	if err != nil {
		t.Fatal(err)
	}
	if d.Method != reports.ExpertMean || d.Question.SDs != 1 || int(d.Estimate+0.5) != 57 || d.N != 10 {
		t.Errorf("%s + %g SD from %v: %v", d.Method, d.Question.SDs, d.N, d.Estimate)
	}
	x := d.Expected
	if x == nil || x.Experts != 10 || x.Runs != 30 {
		t.Fatalf("errors to expect %+v, want 10 experts with 3 runs each", x)
	}
	fails, seconds := 0, in.File.Experts.Column("seconds")
	for _, a := range in.File.Experts.Attempts {
		if a.Number > 1 && (a.Outcome != datasets.Done || a.Values[seconds] > 57 || a.Values[in.File.Experts.Column("wall_punctures")] > 1) {
			fails++
		}
	}
	if x.RunsFail != fails {
		t.Errorf("%d of the experts' runs fail, want %d", x.RunsFail, fails)
	}
	story := strings.Join(story(d), " ")
	for _, want := range []string{"In force: 57.00 s", "Decided by: the lab's standards group", "on: 2026-01-12", "from: experts.csv", "Computed again", "of 36 trainees change status"} {
		if !strings.Contains(story, want) {
			t.Errorf("the story lacks %q: %s", want, story)
		}
	}
}

// TestStandardWithoutExperts: the report takes interval and error rates from the
// study file, and says so where they are not there.
func TestStandardWithoutExperts(t *testing.T) {
	in := demoInput(t, reports.Options{Replicates: 50})
	experts := in.File.Experts
	in.File.Experts = datasets.Log{}
	s := *in.Task.Standard
	in.Task.Standard = &s
	s.Computed = nil
	d, err := reports.CurrentStandard(context.Background(), in)
	if err != nil || d.Method != reports.AsDecided || d.StatusChange != nil || !strings.Contains(strings.Join(story(d), " "), "does not say how sure") {
		t.Errorf("without interval: %v, %v", story(d), err)
	}
	pass, fail := 0.1, 0.2
	s.Interval, s.FalsePass, s.FalseFail = []float64{50, 66}, &pass, &fail
	if d, err = reports.CurrentStandard(context.Background(), in); err != nil {
		t.Fatal(err)
	}
	if c := d.StatusChange; c == nil || c.N != 36 || c.Differ != c.PassUpper-c.PassLower {
		t.Errorf("change of status %+v", c)
	}
	if text := strings.Join(errorSentences(d), " "); !strings.Contains(text, "10.0 % of those not yet competent passed, and 20.0 % of the competent failed") {
		t.Errorf("errors: %s", text)
	}
	in.File.Experts = experts // who had no part in it
	if d, err = reports.CurrentStandard(context.Background(), in); err != nil || d.Method != reports.AsDecided {
		t.Errorf("a stated interval beside experts: %s (%v)", d.Method, err)
	}
	in.File.Experts = datasets.Log{}
	in.Task.Standard = nil
	if _, err = reports.CurrentStandard(context.Background(), in); err == nil {
		t.Error("neither standard nor experts: no error")
	}
}
