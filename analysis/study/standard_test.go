package study_test

import (
	"context"
	"math"
	"slices"
	"strings"
	"testing"

	"tyro/analysis"
	"tyro/analysis/practice"
	"tyro/analysis/standard"
	"tyro/analysis/study"
)

// newStudy makes a study without curves.
func newStudy(t *testing.T, p practice.Practice) *study.Study {
	t.Helper()
	s, err := study.New(p, study.Options{Replicates: 50, NoCurves: true})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func setStandard(t *testing.T, p practice.Practice, r study.StandardRule) *study.Standard {
	t.Helper()
	a, err := newStudy(t, p).Standard(context.Background(), r)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// person is somebody whose attempts from number 1 on have these responses.
func person(id string, responses ...float64) practice.Trainee {
	var numbers []float64
	for i := range responses {
		numbers = append(numbers, float64(i+1))
	}
	return practice.Measured(id, numbers, responses)
}

// seconds is a task whose smaller times are better.
func seconds() practice.Task {
	return practice.Task{Name: "cannulation", Measure: practice.Time, Lower: true}
}

func warned(a *study.Standard, code string) string {
	for _, w := range a.Warnings {
		if w.Code == code {
			return w.Text
		}
	}
	return ""
}

// Values 10, 12 and 14: mean 12, SD 2, so one SD easier for a time is 14, which all
// three meet. A rule of two SD can drop nobody out of three.
func TestStandardFromExperts(t *testing.T) {
	p := practice.Practice{Task: seconds(), Experts: []practice.Trainee{person("A", 10), person("B", 12), person("C", 14)}}
	a := setStandard(t, p, study.StandardRule{SDs: 1, Drop: standard.Drop{SDs: 2}})
	if a.Rule.Method != study.ExpertMean || a.Estimate.Value != 14 || a.Experts.Meeting != 3 || a.Experts.Known != 3 || a.Experts.Several {
		t.Errorf("%s: %+v", a.Rule.Method, a.Experts)
	}
	if text := warned(a, "rule-cannot-act"); !strings.Contains(text, "cannot act on 3 experts") {
		t.Errorf("warnings %v", a.Warnings)
	}
	if len(a.Alternatives) != 6 || a.Alternatives[5].Rule.Method != study.ExpertMedian || a.Alternatives[5].Rule.SDs != 1 {
		t.Errorf("alternatives %+v", a.Alternatives)
	}
	if a.Status != nil || a.Expected != nil || a.InForce != nil {
		t.Error("something is said of trainees, of whom there are none")
	}
}

// A void run counts for nothing: it is neither a run nor the familiarisation that is
// left out. A's runs are 30 and 12, B's 28 and 14, so without the first of each the
// mean is 13.
func TestVoidRunIsNoFamiliarisation(t *testing.T) {
	with := person("A", 99, 30, 12)
	with.Attempts[0].Outcome = practice.Void
	p := practice.Practice{Task: seconds(), Experts: []practice.Trainee{with, person("B", 28, 14)}, Trainees: []practice.Trainee{person("T", 50)}}
	a := setStandard(t, p, study.StandardRule{SkipRuns: 1})
	if a.Estimate.Value != 13 {
		t.Errorf("standard %v, want 13", a.Estimate.Value)
	}
	if x := a.Expected; x.Runs != 2 || x.RunsFail != 1 || x.Experts != 2 || x.ExpertsFail != 1 {
		t.Errorf("errors to expect %+v, want one of two runs and one of two experts above 13", x)
	}
}

// Trainees against a standard of 50, interval 40 to 60, smaller better, by hand.
// Three experts with two runs each, of which one ran into the limit and one expert did
// nothing else: what is left out of the standard is said.
func TestRunsNotDoneAreSaid(t *testing.T) {
	p := practice.Practice{Task: seconds(), Experts: []practice.Trainee{person("E1", 10, 12), person("E2", 12, 14), person("E3", 11, 11)}}
	if a := setStandard(t, p, study.StandardRule{Method: study.ExpertMean}); warned(a, "runs-not-done") != "" {
		t.Errorf("all runs were done: %v", a.Warnings)
	}
	p.Experts[0].Attempts[1].Outcome = practice.Timeout
	a := setStandard(t, p, study.StandardRule{Method: study.ExpertMean})
	if text := warned(a, "runs-not-done"); !strings.HasPrefix(text, "1 of the experts' 6 runs was not done") {
		t.Errorf("says %q", text)
	}
	if text := warned(a, "experts-without-value"); text != "" {
		t.Errorf("says %q", text)
	}
	p.Experts[0].Attempts[0].Outcome = practice.Failed
	a = setStandard(t, p, study.StandardRule{Method: study.ExpertMean})
	if text := warned(a, "experts-without-value"); !strings.HasPrefix(text, "1 expert has no run that counts") {
		t.Errorf("says %q", text)
	}
	// A first run left out as familiarisation is not among those not done.
	a = setStandard(t, p, study.StandardRule{Method: study.ExpertMean, SkipRuns: 1})
	if text := warned(a, "runs-not-done"); !strings.HasPrefix(text, "1 of the experts' 3 runs") {
		t.Errorf("says %q", text)
	}
}

func TestStatusChange(t *testing.T) {
	hardFail := person("D", 30, 30)
	hardFail.Attempts[1].Outcome, hardFail.Attempts[1].Response = practice.Failed, math.NaN()
	voidLast := person("E", 45, 99)
	voidLast.Attempts[1].Outcome = practice.Void
	untidy := person("F", 30, 35)
	untidy.Attempts[1].Clean = false
	p := practice.Practice{Task: seconds(), Trainees: []practice.Trainee{
		person("A", 70, 38),     // last attempt passes at 40, 50, 60; never two in a row
		person("B", 55, 55, 70), // two in a row at 60 alone; last attempt never
		person("C", 48, 45, 50), // last: at 50, 60; two in a row: at 50, 60
		hardFail,                // last: never; two in a row: never
		voidLast,                // last that counts: at 50, 60
		untidy,                  // too many errors in the last: never
	}}
	p.Task.Standard = &practice.Decision{Value: 50, Interval: []float64{40, 60}}
	ask := func(p practice.Practice) study.StatusChange {
		a, err := newStudy(t, p).CurrentStandard(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		return *a.Status
	}
	if c := ask(p); c.N != 6 || c.Pass != 3 || c.PassLower != 1 || c.PassUpper != 3 || c.Differ != 2 || c.ByValue || c.Rule != nil {
		t.Errorf("by the last attempt %+v", c)
	}
	p.Task.Rule = practice.Rule{{Need: 2}}
	if c := ask(p); c.N != 6 || c.Pass != 1 || c.PassLower != 0 || c.PassUpper != 2 || c.Differ != 2 {
		t.Errorf("by two in a row %+v", c)
	}
	p.Task.Lower, p.Task.Rule = false, nil // larger is better: B at all three, C at 40 and 50, E at 40
	if c := ask(p); c.Pass != 2 || c.PassLower != 3 || c.PassUpper != 1 || c.Differ != 2 {
		t.Errorf("where larger is better %+v", c)
	}
}

// Of a table's values, those not known count for nobody.
func TestStatusOfValues(t *testing.T) {
	p := practice.Practice{Task: practice.Task{Measure: practice.Score}, Evidence: &practice.Evidence{
		Values:  []float64{5, math.NaN(), 12, 20, 30, 31},
		Ratings: []float64{1, 2, 2, 2, 3, 3},
	}}
	a := setStandard(t, p, study.StandardRule{Method: study.BorderlineGroup, Borderline: 2}) // 12 and 20: mean 16
	if c := a.Status; a.Estimate.Value != 16 || c.N != 5 || c.Pass != 3 || !c.ByValue {
		t.Errorf("%v: %+v", a.Estimate.Value, c)
	}
	if a.Decision != nil || a.Expected != nil {
		t.Error("nobody asked for a decision, and there are no attempts")
	}
}

// Where a standard comes from: the run, the study file, or the experts.
func TestCurrentStandard(t *testing.T) {
	experts := []practice.Trainee{person("A", 10), person("B", 14)}
	trainees := []practice.Trainee{person("T", 11, 9)}
	computed := &practice.Computed{Method: study.ExpertMedian}
	for _, c := range []struct {
		name     string
		experts  []practice.Trainee
		decision *practice.Decision
		origin   study.StandardOrigin
		method   string
		value    float64
		inForce  bool
		given    bool
	}{
		{"experts alone", experts, nil, study.ByDefault, study.ExpertMean, 12, false, false},
		{"a value without its rule", experts, &practice.Decision{Value: 11}, study.ByDefault, study.ExpertMean, 12, true, false},
		{"its rule", experts, &practice.Decision{Value: 11, Computed: computed}, study.AsComputed, study.ExpertMedian, 12, true, false},
		{"an interval of its own", experts, &practice.Decision{Value: 11, Interval: []float64{10, 12}}, study.FromDecision, study.AsDecided, 11, true, false},
		{"no experts", nil, &practice.Decision{Value: 11, Computed: computed}, study.FromDecision, study.AsDecided, 11, true, false},
		{"given for this run", experts, &practice.Decision{Value: 9.5, Given: true}, study.FromRun, study.AsGiven, 9.5, false, true},
		{"given, no experts", nil, &practice.Decision{Value: 9.5, Given: true}, study.FromRun, study.AsGiven, 9.5, false, true},
	} {
		p := practice.Practice{Task: seconds(), Experts: c.experts, Trainees: trainees}
		p.Task.Standard = c.decision
		a, err := newStudy(t, p).CurrentStandard(context.Background())
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if a.Origin != c.origin || a.Rule.Method != c.method || a.Estimate.Value != c.value || (a.InForce != nil) != c.inForce || (a.Given != nil) != c.given {
			t.Errorf("%s: origin %v, %s, %v, in force %v, given %v", c.name, a.Origin, a.Rule.Method, a.Estimate.Value, a.InForce, a.Given)
		}
		if c.given && slices.ContainsFunc(a.Warnings, func(w analysis.Warning) bool { return strings.Contains(w.Text, "study file") }) {
			t.Errorf("%s: a warning speaks of the study file: %v", c.name, a.Warnings)
		}
		if x := a.Expected; c.given && (x.Standard != 9.5 || x.FirstPass != 0 || x.FirstAttempts != 1 || x.RunsFail != len(c.experts)) {
			t.Errorf("%s: errors to expect %+v", c.name, x)
		}
	}
	if _, err := newStudy(t, practice.Practice{Task: seconds(), Trainees: trainees}).CurrentStandard(context.Background()); err == nil {
		t.Error("neither a standard nor experts: no error")
	}
}

// A study's block says how to compute the standard again; a table's has the hash of
// the table.
func TestDecision(t *testing.T) {
	rule := study.StandardRule{Method: study.ExpertPercentile, Share: 0.75, Summary: "best", SkipRuns: 1, Decided: &study.Decided{By: "the board"}}
	p := practice.Practice{Task: seconds(), SHA256: "abc", Experts: []practice.Trainee{person("A", 20, 10), person("B", 20, 14)}}
	a := setStandard(t, p, rule)
	want := practice.Computed{Method: study.ExpertPercentile, Percentile: 75, Summary: "best", SkipRuns: 1}
	if d := a.Decision; d.Value != 13 || d.DataHash != "" || *d.Computed != want || d.DecidedBy != "the board" {
		t.Errorf("%+v, computed %+v", d, d.Computed)
	}
	if warned(a, "decision-incomplete") == "" {
		t.Error("nothing is said of what is left blank")
	}
	if again := study.RuleOf(want); again.Share != 0.75 || again.Summary != "best" || again.SkipRuns != 1 || again.Method != study.ExpertPercentile {
		t.Errorf("the rule read back is %+v", again)
	}
	p.Evidence = &practice.Evidence{}
	if d := setStandard(t, p, rule).Decision; d.DataHash != "abc" || d.Computed != nil {
		t.Errorf("of a table: %+v", d)
	}
}

func TestStandardRefuses(t *testing.T) {
	p := practice.Practice{Task: seconds(), Experts: []practice.Trainee{person("A", 10)}, Evidence: &practice.Evidence{}}
	for name, r := range map[string]study.StandardRule{
		"unknown method": {Method: "guess"}, "no judgements": {Method: study.Angoff}, "no classes": {Method: study.Ebel}, "no bounds": {Method: study.Hofstee},
		"no groups": {Method: study.ContrastingGroups}, "no borderline rating": {Method: study.BorderlineRegression, Borderline: math.NaN()},
		"reliability without values": {Reliability: 0.8},
	} {
		if a, err := newStudy(t, p).Standard(context.Background(), r); err == nil {
			t.Errorf("%s: %+v", name, a)
		}
	}
	if _, err := newStudy(t, practice.Practice{Task: seconds()}).Standard(context.Background(), study.StandardRule{}); err == nil {
		t.Error("no experts: no error")
	}
}

// Times of 10 and 100 s: mean 55, standard error 45, and Student's t with 1 degree of freedom is 12.7, so
// that the interval goes to 55 - 572 s. Logarithms keep it above 0.
func TestIntervalsWhereNoTimeIs(t *testing.T) {
	p := practice.Practice{Task: seconds(), Experts: []practice.Trainee{person("A", 10), person("B", 100)}}
	if text := warned(setStandard(t, p, study.StandardRule{}), "interval-beyond"); !strings.Contains(text, "--log-scale") {
		t.Errorf("below 0: %q", text)
	}
	if text := warned(setStandard(t, p, study.StandardRule{Log: true}), "interval-beyond"); text != "" {
		t.Errorf("logarithms: %q", text)
	}
	p.Task = practice.Task{Name: "score", Measure: practice.Score}
	if text := warned(setStandard(t, p, study.StandardRule{}), "interval-beyond"); text != "" {
		t.Errorf("a score may be below 0: %q", text)
	}
}

// Experts of 40 and 50 s: three of four trainees with 20, 30, 35 and 60 s are better than both; of 20, 40
// and 60 s one is; of a score larger values are better.
func TestTraineesBetterThanExperts(t *testing.T) {
	for _, c := range []struct {
		task   practice.Task
		values []float64
		said   bool
	}{
		{seconds(), []float64{20, 30, 35, 60}, true},
		{seconds(), []float64{20, 40, 60}, false},
		{practice.Task{Name: "score", Measure: practice.Score}, []float64{20, 30, 35, 60}, false},
		{practice.Task{Name: "score", Measure: practice.Score}, []float64{60, 70, 35}, true},
	} {
		p := practice.Practice{Task: c.task, Experts: []practice.Trainee{person("A", 50), person("B", 40)}, Evidence: &practice.Evidence{Values: c.values}}
		if text := warned(setStandard(t, p, study.StandardRule{}), "trainees-better"); (text != "") != c.said {
			t.Errorf("%v: %q", c.values, text)
		}
	}
}
