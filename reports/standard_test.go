package reports

import (
	"bytes"
	"context"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"tyro/analysis/standard"
)

const standards = "../testdata/standards/"

func setStandard(t *testing.T, path string, q StandardQuestion, c StandardColumns) (*Standard, error) {
	t.Helper()
	study, data, err := ReadStandard(t.Context(), path, q.Method, q.Lower, c)
	if err != nil {
		return nil, err
	}
	in, err := Prepare(study, Options{Replicates: 200})
	if err != nil {
		t.Fatal(err)
	}
	return SetStandard(context.Background(), in, q, data)
}

// TestSetStandard: every method from its table, against base R (the script
// beside the tables).
func TestSetStandard(t *testing.T) {
	for _, c := range []struct {
		file     string
		q        StandardQuestion
		columns  StandardColumns
		want, se float64
		n        int
	}{
		{"expert_benchmark.csv", StandardQuestion{Method: ExpertMean, Lower: true, SDs: 1}, StandardColumns{Response: "time_s", Time: true}, 127.52869623619274, 7.0467156138101128, 14},
		{"expert_benchmark.csv", StandardQuestion{Method: ExpertMean, SDs: 2}, StandardColumns{}, 19.98494566992505, 1.3257593923594035, 14},
		{"contrasting_groups.csv", StandardQuestion{Method: ContrastingGroups, Crossing: standard.Normal}, StandardColumns{}, 65.694924378876536, 1.1928518622616608, 55},
		{"borderline_regression.csv", StandardQuestion{Method: BorderlineRegression, Borderline: 2}, StandardColumns{Response: "checklist"}, 53.044715447154488, 1.4256217328007095, 48},
		{"borderline_regression.csv", StandardQuestion{Method: BorderlineGroup, Borderline: 2}, StandardColumns{Response: "checklist"}, 56, 2.5166114784235831, 7},
		{"angoff.csv", StandardQuestion{Method: AngoffMethod}, StandardColumns{}, 7.69375, 0.19143198624352945, 8},
		{"hofstee_scores.csv", StandardQuestion{Method: HofsteeMethod}, StandardColumns{JudgeFile: standards + "hofstee_judges.csv"}, 22.640845070422536, math.NaN(), 60},
	} {
		d, err := setStandard(t, standards+c.file, c.q, c.columns)
		if err != nil {
			t.Errorf("%s: %v", c.q.Method, err)
			continue
		}
		if !(math.Abs(float64(d.Estimate)-c.want) < 1e-9) || d.N != Number(c.n) {
			t.Errorf("%s: %v from %v, want %v from %d", c.q.Method, d.Estimate, d.N, c.want, c.n)
		}
		if !math.IsNaN(c.se) && !(math.Abs(float64(d.SE)-c.se) < 1e-7) {
			t.Errorf("%s: SE %v, want %v", c.q.Method, d.SE, c.se)
		}
		if !(d.Lower < d.Estimate && d.Estimate < d.Upper) {
			t.Errorf("%s: interval %v to %v", c.q.Method, d.Lower, d.Upper)
		}
		checkStandardOutput(t, d)
	}
}

// checkStandardOutput asks for the fixed keys, unknown numbers as null, and
// text.
func checkStandardOutput(t *testing.T, d *Standard) {
	t.Helper()
	var b bytes.Buffer
	if err := WriteJSON(&b, d); err != nil {
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
	if (got["false_pass"] == nil) != (d.Method != ContrastingGroups) {
		t.Errorf("%s: false_pass %v", d.Method, got["false_pass"])
	}
	b.Reset()
	if err := WriteText(&b, d); err != nil || !strings.Contains(b.String(), "decision of named people") {
		t.Errorf("%s: text without the decision's line (%v)", d.Method, err)
	}
}

func TestContrastErrorRates(t *testing.T) {
	d, err := setStandard(t, standards+"contrasting_groups.csv", StandardQuestion{Method: ContrastingGroups, Crossing: standard.Normal, Reliability: 0.8, Highest: 100}, StandardColumns{})
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
	d, err := setStandard(t, path, StandardQuestion{Method: AngoffMethod}, StandardColumns{})
	if err != nil {
		t.Fatal(err)
	}
	if len(d.Judges) != 2 || math.Abs(float64(d.Estimate)-1.2) > 1e-12 || !(d.Judges[1].SE < d.Judges[0].SE) {
		t.Errorf("rounds %+v", d.Judges)
	}
	if err := os.WriteFile(path, []byte("judge,x,y\nA,0.2,0.6\nB,,0.5\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := setStandard(t, path, StandardQuestion{Method: AngoffMethod}, StandardColumns{}); err == nil || !strings.Contains(err.Error(), "judge B") {
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
	d, err := setStandard(t, standards+"angoff.csv", StandardQuestion{Method: AngoffMethod}, StandardColumns{TraineeFile: path})
	if err != nil {
		t.Fatal(err)
	}
	if s := d.StatusChange; s == nil || s.N != 5 || s.Pass != 2 || s.PassLower != 3 || s.PassUpper != 1 || s.Differ != 2 {
		t.Errorf("change of status %+v", s)
	}
	if _, err := setStandard(t, standards+"contrasting_groups.csv", StandardQuestion{Method: ContrastingGroups}, StandardColumns{TraineeFile: path}); err == nil {
		t.Error("trainees beside a method that has its own: no error")
	}
}

// TestStudyExperts: the demo's standard in force is the mean of its experts'
// means over runs two to four plus one SD, to whole seconds.
func TestStudyExperts(t *testing.T) {
	in := demoInput(t, Options{Replicates: 200})
	q := StandardQuestion{Method: ExpertMean, Lower: true, SDs: 1}
	data, err := StudyExperts(in, q, StandardColumns{SkipRuns: 1})
	if err != nil {
		t.Fatal(err)
	}
	d, err := SetStandard(context.Background(), in, q, data)
	if err != nil {
		t.Fatal(err)
	}
	if d.InForce == nil || math.Round(float64(d.Estimate)) != float64(d.InForce.Value) {
		t.Errorf("estimate %v, in force %+v", d.Estimate, d.InForce)
	}
	s := d.StatusChange
	if s == nil || s.N != len(in.Trainees) || s.Differ != s.PassUpper-s.PassLower {
		t.Fatalf("change of status %+v", s) // an easier standard never fails anybody who passed
	}
	for i, met := range in.metAt(in.Question.Standard) {
		if want := in.Rule.FirstMet(in.Trainees[i].Passes) > 0; met != want {
			t.Errorf("trainee %s: met %v at the standard in force, want %v", in.Trainees[i].ID, met, want)
		}
	}
}
