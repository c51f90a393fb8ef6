package reports_test

import (
	"bytes"
	"context"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"tyro/analysis/practice"
	"tyro/analysis/standard"
	"tyro/analysis/study"
	"tyro/datasets"
	"tyro/datasets/demo"
	"tyro/reports"
)

const standards = "../testdata/standards/"

// studyOf makes a study of practice; 200 replicates.
func studyOf(t *testing.T, p practice.Practice) *study.Study {
	t.Helper()
	s, err := study.New(p, study.Options{Replicates: 200, NoCurves: true})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// demoPractice is the demo study, written into a folder.
func demoPractice(t *testing.T) (p practice.Practice, dir string) {
	t.Helper()
	dir = t.TempDir()
	if err := demo.Write(dir); err != nil {
		t.Fatal(err)
	}
	file, err := datasets.Open(t.Context(), dir)
	if err != nil {
		t.Fatal(err)
	}
	if p, err = file.Practice(""); err != nil {
		t.Fatal(err)
	}
	return p, dir
}

func setStandard(t *testing.T, path string, table datasets.StandardTable, r study.StandardRule) (*reports.Standard, error) {
	t.Helper()
	p, err := datasets.OpenStandardTable(t.Context(), path, table)
	if err != nil {
		return nil, err
	}
	s := studyOf(t, p)
	a, err := s.Standard(context.Background(), r)
	if err != nil {
		return nil, err
	}
	return reports.NewStandard(s, a), nil
}

// TestNewStandard: every method from its table, against base R (the script
// beside the tables).
func TestNewStandard(t *testing.T) {
	for _, c := range []struct {
		file     string
		table    datasets.StandardTable
		r        study.StandardRule
		words    string
		want, se float64
		n        int
	}{
		{"expert_benchmark.csv", datasets.StandardTable{Rows: datasets.ExpertRows, Response: "time_s", Measure: datasets.Time, Lower: true}, study.StandardRule{Method: study.ExpertMean, SDs: 1}, "mean of experts plus 1 SD", 127.52869623619274, 7.0467156138101128, 14},
		{"expert_benchmark.csv", datasets.StandardTable{Rows: datasets.ExpertRows}, study.StandardRule{SDs: 2}, "mean of experts minus 2 SD", 19.98494566992505, 1.3257593923594035, 14},
		{"contrasting_groups.csv", datasets.StandardTable{Rows: datasets.GroupRows}, study.StandardRule{Method: study.ContrastingGroups}, "contrasting groups, where the normal curves of equal area cross", 65.694924378876536, 1.1928518622616608, 55},
		{"borderline_regression.csv", datasets.StandardTable{Rows: datasets.RatingRows, Response: "checklist"}, study.StandardRule{Method: study.BorderlineRegression, Borderline: 2}, "borderline regression, the value on the line through all ratings at rating 2", 53.044715447154488, 1.4256217328007095, 48},
		{"borderline_regression.csv", datasets.StandardTable{Rows: datasets.RatingRows, Response: "checklist"}, study.StandardRule{Method: study.BorderlineGroup, Borderline: 2}, "borderline group, mean of those rated 2", 56, 2.5166114784235831, 7},
		{"angoff.csv", datasets.StandardTable{Rows: datasets.JudgementRows}, study.StandardRule{Method: study.Angoff}, "modified Angoff, mean over judges", 7.69375, 0.19143198624352945, 8},
		{"hofstee_scores.csv", datasets.StandardTable{Rows: datasets.ValueRows, Bounds: standards + "hofstee_judges.csv"}, study.StandardRule{Method: study.Hofstee}, "Hofstee's compromise, where the curve", 22.640845070422536, math.NaN(), 60},
	} {
		d, err := setStandard(t, standards+c.file, c.table, c.r)
		if err != nil {
			t.Errorf("%s: %v", c.r.Method, err)
			continue
		}
		if !(math.Abs(float64(d.Estimate)-c.want) < 1e-9) || d.N != reports.Number(c.n) {
			t.Errorf("%s: %v from %v, want %v from %d", c.r.Method, d.Estimate, d.N, c.want, c.n)
		}
		if !math.IsNaN(c.se) && !(math.Abs(float64(d.SE)-c.se) < 1e-7) {
			t.Errorf("%s: SE %v, want %v", c.r.Method, d.SE, c.se)
		}
		if !(d.Lower < d.Estimate && d.Estimate < d.Upper) {
			t.Errorf("%s: interval %v to %v", c.r.Method, d.Lower, d.Upper)
		}
		if text := checkStandardOutput(t, d); !strings.Contains(text, "Standard: "+c.words) {
			t.Errorf("%s: the text does not begin with the method in words, %q", c.r.Method, c.words)
		}
	}
}

// checkStandardOutput asks for the fixed keys, unknown numbers as null, and gives the
// text.
func checkStandardOutput(t *testing.T, d *reports.Standard) string {
	t.Helper()
	var b bytes.Buffer
	if err := reports.WriteJSON(&b, d); err != nil {
		t.Fatal(err)
	}
	var got map[string]any
	if err := json.Unmarshal(b.Bytes(), &got); err != nil {
		t.Fatal(err)
	}
	for _, key := range []string{"tool", "version", "command", "seed", "data_sha256", "warnings", "method", "estimate", "se", "lower", "upper", "false_pass", "false_fail", "n"} {
		if _, ok := got[key]; !ok {
			t.Errorf("%s: no key %q", d.Method, key)
		}
	}
	if (got["false_pass"] == nil) != (d.Method != study.ContrastingGroups) {
		t.Errorf("%s: false_pass %v", d.Method, got["false_pass"])
	}
	b.Reset()
	if err := reports.WriteText(&b, d); err != nil || !strings.Contains(b.String(), "decision of named people") {
		t.Errorf("%s: text without the decision's line (%v)", d.Method, err)
	}
	return b.String()
}

func TestContrastErrorRates(t *testing.T) {
	d, err := setStandard(t, standards+"contrasting_groups.csv", datasets.StandardTable{Rows: datasets.GroupRows}, study.StandardRule{Method: study.ContrastingGroups, Crossing: standard.Normal, Reliability: 0.8, Highest: 100})
	if err != nil {
		t.Fatal(err)
	}
	if !(math.Abs(float64(d.FalsePass)-0.24) < 1e-12) || !(math.Abs(float64(d.FalseFail)-4.0/30) < 1e-12) {
		t.Errorf("observed %v and %v, want 6 of 25 and 4 of 30", d.FalsePass, d.FalseFail)
	}
	if !(math.Abs(float64(d.Theoretical.FalsePass)-0.21597856084679645) < 1e-9) {
		t.Errorf("theoretical false pass %v", d.Theoretical.FalsePass)
	}
	if d.Classification == nil || d.StatusChange == nil || d.StatusChange.N != 55 {
		t.Error("no classification or change of status")
	}
	// The range of scores is an assumption of the method, so it is said.
	var b strings.Builder
	if err := reports.WriteText(&b, d); err != nil || !strings.Contains(strings.Join(strings.Fields(b.String()), " "), "for scores that can go from 0 to 100:") {
		t.Errorf("the range of scores is not named (%v)", err)
	}
}

// TestAngoffRounds: two judges close up in the second round, whose mean 1.2 is
// the standard; the table has one row a judgement, in percent.
func TestAngoffRounds(t *testing.T) {
	path := filepath.Join(t.TempDir(), "judges.csv")
	text := "round,judge,item,chance\n"
	for _, r := range []string{"1,A,x,20", "1,A,y,60", "1,B,x,60", "1,B,y,100", "2,A,x,30", "2,A,y,70", "2,B,x,50", "2,B,y,90"} {
		text += r + "\n"
	}
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	angoff, table := study.StandardRule{Method: study.Angoff}, datasets.StandardTable{Rows: datasets.JudgementRows}
	d, err := setStandard(t, path, table, angoff)
	if err != nil {
		t.Fatal(err)
	}
	if len(d.Judges) != 2 || math.Abs(float64(d.Estimate)-1.2) > 1e-12 || !(d.Judges[1].SE < d.Judges[0].SE) {
		t.Errorf("rounds %+v", d.Judges)
	}
	if err := os.WriteFile(path, []byte("judge,x,y\nA,0.2,0.6\nB,,0.5\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := setStandard(t, path, table, angoff); err == nil || !strings.Contains(err.Error(), "judge B") {
		t.Errorf("a missing judgement: %v", err)
	}
}

// TestTraineesBeside: scores 6 7 7.5 8 9 against the judges' standard 7.69 and
// its interval 7.24 to 8.15: 7.5 and 8 hang on where it lies.
func TestTraineesBeside(t *testing.T) {
	path := filepath.Join(t.TempDir(), "scores.csv")
	if err := os.WriteFile(path, []byte("score\n6\n7\n7.5\n8\n9\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	d, err := setStandard(t, standards+"angoff.csv", datasets.StandardTable{Rows: datasets.JudgementRows, Trainees: path}, study.StandardRule{Method: study.Angoff})
	if err != nil {
		t.Fatal(err)
	}
	if s := d.StatusChange; s == nil || s.N != 5 || s.Pass != 2 || s.PassLower != 3 || s.PassUpper != 1 || s.Differ != 2 {
		t.Errorf("change of status %+v", s)
	}
	if _, err := setStandard(t, standards+"contrasting_groups.csv", datasets.StandardTable{Rows: datasets.GroupRows, Trainees: path}, study.StandardRule{Method: study.ContrastingGroups}); err == nil {
		t.Error("trainees beside a method that has its own: no error")
	}
}

// TestStudyExperts: the demo's standard in force is the mean of its experts'
// means over runs two to four plus one SD, to whole seconds.
func TestStudyExperts(t *testing.T) {
	p, _ := demoPractice(t)
	s := studyOf(t, p)
	a, err := s.Standard(context.Background(), study.StandardRule{SDs: 1, SkipRuns: 1})
	if err != nil {
		t.Fatal(err)
	}
	d := reports.NewStandard(s, a)
	if d.InForce == nil || math.Round(float64(d.Estimate)) != float64(d.InForce.Value) {
		t.Errorf("estimate %v, in force %+v", d.Estimate, d.InForce)
	}
	c := d.StatusChange
	if c == nil || c.N != len(p.Trainees) || c.Differ != c.PassUpper-c.PassLower {
		t.Fatalf("change of status %+v", c) // an easier standard never fails anybody who passed
	}
	// At the standard in force itself, whoever has met the rule passes.
	same, met := p.Task.Standard.Value, 0
	p.Task.Standard.Interval, p.Task.Standard.Computed = []float64{same, same}, nil
	for _, x := range p.Trainees {
		if p.Task.Rule.FirstMet(x.Passes(p.Task.Level())) > 0 {
			met++
		}
	}
	now, err := studyOf(t, p).CurrentStandard(context.Background())
	if err != nil || now.Status.Pass != met || now.Status.Differ != 0 {
		t.Errorf("at the standard in force %+v (%v), want %d who have met the rule", now.Status, err, met)
	}
}
