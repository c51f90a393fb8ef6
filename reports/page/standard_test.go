package page

import (
	"context"
	"encoding/csv"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"tyro/analysis/practice"
	"tyro/analysis/study"
	"tyro/reports"
)

// currentStandard is what the report says of the standard of a study.
func currentStandard(t *testing.T, p practice.Practice) (*reports.Standard, error) {
	t.Helper()
	s := ready(t, p, study.Options{Replicates: 50, NoCurves: true})
	a, err := s.CurrentStandard(context.Background())
	if err != nil {
		return nil, err
	}
	return reports.NewStandard(s, a), nil
}

// log are a file's cells, without its heads.
func log(t *testing.T, path string) [][]string {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	all, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return all[1:]
}

// within says whether the demo's seconds and wall punctures, as written in the log,
// pass at a level.
func within(t *testing.T, seconds, punctures, outcome string, level float64) bool {
	t.Helper()
	s, err := strconv.ParseFloat(seconds, 64)
	if err != nil && outcome == "done" {
		t.Fatal(err)
	}
	return outcome == "done" && s <= level && (punctures == "0" || punctures == "1")
}

// TestCurrentStandard: the demo's standard computed again as its file says: mean of
// experts' means over runs two to four plus one SD, 57 to whole seconds. Errors to
// expect, and who changes status, are counted in the files here.
func TestCurrentStandard(t *testing.T) {
	p, dir := demoPractice(t)
	d, err := currentStandard(t, p)
	if err != nil {
		t.Fatal(err)
	}
	if r := d.Answer.Rule; d.Method != study.ExpertMean || r.SDs != 1 || int(d.Estimate+0.5) != 57 || d.N != 10 {
		t.Errorf("%s + %g SD from %v: %v", d.Method, r.SDs, d.N, d.Estimate)
	}
	x := d.Expected
	if x == nil || x.Experts != 10 || x.Runs != 30 {
		t.Fatalf("errors to expect %+v, want 10 experts with 3 runs each", x)
	}
	fails := 0
	for _, r := range log(t, filepath.Join(dir, "experts.csv")) { // expert,run,seconds,wall_punctures,redirections,outcome
		if r[1] != "1" && !within(t, r[2], r[3], r[5], 57) {
			fails++
		}
	}
	if x.RunsFail != fails {
		t.Errorf("%d of the experts' runs fail, want %d", x.RunsFail, fails)
	}
	met := func(level reports.Number) map[string]bool {
		row, out := map[string]int{}, map[string]bool{}
		for _, r := range log(t, filepath.Join(dir, "attempts.csv")) { // trainee,arm,task,session,date,attempt,seconds,wall_punctures,redirections,outcome
			switch who := r[0]; {
			case r[9] == "void":
			case within(t, r[6], r[7], r[9], float64(level)):
				row[who]++
				out[who] = out[who] || row[who] == 2
			default:
				row[who] = 0
				if !out[who] {
					out[who] = false // seen
				}
			}
		}
		return out
	}
	at, lower, upper := met(d.Estimate), met(d.Lower), met(d.Upper)
	var n [4]int
	for who := range at {
		for k, holds := range []bool{at[who], lower[who], upper[who], lower[who] != upper[who]} {
			n[k] += map[bool]int{true: 1}[holds]
		}
	}
	story := strings.Join(story(d), " ")
	for _, want := range []string{
		"In force: 57.00 s", "Decided by: the lab's standards group", "on: 2026-01-12", "from: experts.csv", "Computed again", "mean of experts plus 1 SD", "of 36 trainees change status",
		fmt.Sprintf("%d of %d trainees change status inside this interval: %d pass with the standard at 51.07 s, %d at 56.92 s and %d at 67.89 s.", n[3], len(at), n[1], n[0], n[2]),
	} {
		if !strings.Contains(story, want) {
			t.Errorf("the story lacks %q: %s", want, story)
		}
	}
}

// TestStandardWithoutExperts: the report takes interval and error rates from the
// study file, and says so where they are not there.
func TestStandardWithoutExperts(t *testing.T) {
	p, _ := demoPractice(t)
	experts := p.Experts
	p.Experts = nil
	s := *p.Task.Standard
	s.Computed, p.Task.Standard = nil, &s
	d, err := currentStandard(t, p)
	if err != nil || d.Method != study.AsDecided || d.StatusChange != nil || !strings.Contains(strings.Join(story(d), " "), "does not say how sure") {
		t.Errorf("without interval: %v, %v", story(d), err)
	}
	pass, fail := 0.1, 0.2
	s.Interval, s.FalsePass, s.FalseFail = []float64{50, 66}, &pass, &fail
	if d, err = currentStandard(t, p); err != nil {
		t.Fatal(err)
	}
	if c := d.StatusChange; c == nil || c.N != 36 || c.Differ != c.PassUpper-c.PassLower {
		t.Errorf("change of status %+v", c)
	}
	if text := strings.Join(errorSentences(d), " "); !strings.Contains(text, "10.0 % of those not yet competent passed, and 20.0 % of the competent failed") {
		t.Errorf("errors: %s", text)
	}
	p.Experts = experts // who had no part in it
	if d, err = currentStandard(t, p); err != nil || d.Method != study.AsDecided {
		t.Errorf("a stated interval beside experts: %s (%v)", d.Method, err)
	}
	p.Experts, p.Task.Standard = nil, nil
	if _, err = currentStandard(t, p); err == nil {
		t.Error("neither standard nor experts: no error")
	}
}

// A standard given for a run is never said to be the study's own, whatever else the
// study has.
func TestStandardGivenForTheRun(t *testing.T) {
	for _, experts := range []bool{true, false} {
		p, _ := demoPractice(t)
		p.Task.Standard = &practice.Decision{Value: 50, Method: "given on the command line", Given: true}
		if !experts {
			p.Experts = nil
		}
		d, err := currentStandard(t, p)
		if err != nil {
			t.Fatal(err)
		}
		text := strings.Join(append(story(d), errorSentences(d)...), " ")
		for _, w := range d.Warnings {
			text += " " + w.Text
		}
		for _, wrong := range []string{"In force", "study file", "Decided by", "As it was set", "mean of experts"} {
			if strings.Contains(text, wrong) {
				t.Errorf("experts %v: a given standard is told with %q: %s", experts, wrong, text)
			}
		}
		if !strings.Contains(text, "Given for this run: 50.00 s") || d.InForce != nil || float64(d.Estimate) != 50 {
			t.Errorf("experts %v: %s", experts, text)
		}
	}
}
