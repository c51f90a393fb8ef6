package plan

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"tyro/analysis"
	"tyro/analysis/cohort"
	"tyro/analysis/practice"
	"tyro/analysis/resample"
)

// times are people who get faster along exponential curves: seconds, plateau 45, start
// 175.
func times(arms ...string) cohort.Assumed {
	all := func(v float64) (out []analysis.Number) {
		for range arms {
			out = append(out, analysis.Number(v))
		}
		return out
	}
	return cohort.Assumed{
		Family: "exponential", Origin: 1, Noise: "lognormal", Arms: arms,
		Parameters: []cohort.AssumedParameter{
			{Name: "plateau", Scale: cohort.Log, Values: all(45), SD: 0.2},
			{Name: "gain", Scale: cohort.Log, Values: all(130), SD: 0.25},
			{Name: "rate", Scale: cohort.Log, Values: all(0.2), SD: 0.3},
			{Name: "spread", Scale: cohort.Log, Values: all(0.2)},
		},
	}
}

// timed is a study of such people; contrasts of the rule take no fit, and little time.
func timed(contrast string) Design {
	return Design{Form: Form, Trainees: 12, Attempts: 12, Course: &Course{
		People: times("usual", "new"), Contrast: contrast,
		Task: Task{Measure: practice.Time, Lower: true, Standard: 60, Rule: "2 in a row"},
	}}
}

func mustSimulate(t *testing.T, d Design, from, to, workers int) []Outcome {
	t.Helper()
	out, err := Simulate(context.Background(), d, from, to, resample.Sampling{Seed: 7, Workers: workers})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func asJSON(t *testing.T, v any) string {
	t.Helper()
	text, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// The same bytes on one worker and several, and however the studies are cut.
func TestStudiesAreTheSameHoweverCut(t *testing.T) {
	fitted := timed("level")
	fitted.Course.DropOut = 0.2
	for name, d := range map[string]Design{"of what is observed": timed("rule-met-mean"), "of curves": fitted} {
		whole := asJSON(t, mustSimulate(t, d, 0, 6, 1))
		if other := asJSON(t, mustSimulate(t, d, 0, 6, 3)); other != whole {
			t.Errorf("%s: three workers give other studies", name)
		}
		parts := slices.Concat(mustSimulate(t, d, 0, 1, 2), mustSimulate(t, d, 1, 4, 1), mustSimulate(t, d, 4, 6, 2))
		if other := asJSON(t, parts); other != whole {
			t.Errorf("%s: studies in parts are others", name)
		}
	}
}

// A design is plain data: from JSON again it gives the same studies.
func TestDesignsThroughJSON(t *testing.T) {
	d := timed("rule-met-hazard")
	d.Course.Clusters, d.Course.Test, d.Course.StopMet = &Clusters{Count: 3, SD: 0.1}, &Test{Change: []float64{1.1, 1.2}, SD: 0.1}, []string{"new"}
	var again Design
	if err := json.Unmarshal([]byte(asJSON(t, d)), &again); err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(d, again) {
		t.Errorf("the design comes back as %+v, it was %+v", again, d)
	}
	if asJSON(t, mustSimulate(t, d, 0, 4, 1)) != asJSON(t, mustSimulate(t, again, 0, 4, 1)) {
		t.Error("the design from JSON gives other studies")
	}
}

// What is drawn has the share of leavers, the clusters, the limits and the stops that were
// asked for.
func TestWhatIsDrawn(t *testing.T) {
	d := timed("rule-met-mean")
	d.Trainees, d.Attempts, d.Allocation = 1000, 10, 0.5
	d.Course.DropOut, d.Course.Task.Limit = 0.3, 100
	d.Course.Clusters = &Clusters{Count: 4, SD: 0.2, Whole: true}
	d.Course.Test = &Test{Change: []float64{1.2, 1.5}, SD: 0}
	d.Course.StopMet = []string{"new"}
	q, err := d.ready()
	if err != nil {
		t.Fatal(err)
	}
	seen, err := q.(*course).draw(resample.Stream(1, "test", 0))
	if err != nil {
		t.Fatal(err)
	}
	if len(seen.trainees) != 1500 {
		t.Fatalf("%d trainees, want 1000 and 500", len(seen.trainees))
	}
	left, tested := 0, 0
	rule, _ := practice.ParseRule("2 in a row")
	for i, p := range seen.trainees {
		n := len(p.Attempts)
		for _, a := range p.Attempts {
			if a.Response > 100 || a.Censored != (a.Response == 100) || a.Censored != (a.Outcome == practice.Timeout) {
				t.Fatalf("attempt %+v beyond the limit of 100", a)
			}
		}
		if p.Arm == "usual" && n < 10 {
			left++
		}
		if !math.IsNaN(seen.test[i]) {
			tested++
		}
		if met := rule.FirstMet(p.Passes(practice.Standard{Value: 60, Lower: true})); p.Arm == "new" && met > 0 && met != n {
			t.Fatalf("a trainee who stops at the rule met it at %d and made %d attempts", met, n)
		}
		if name := seen.cluster[p.ID]; !strings.HasPrefix(name, p.Arm+"/") {
			t.Fatalf("a trainee of arm %s is in cluster %s", p.Arm, name)
		}
	}
	// Four standard errors of a share of 0.3 of 1000, and of 0.7 of 1500.
	if math.Abs(float64(left)-300) > 4*math.Sqrt(1000*0.3*0.7) {
		t.Errorf("%d of 1000 leave before their last attempt, want about 300", left)
	}
	if math.Abs(float64(tested)-1050) > 4*math.Sqrt(1500*0.3*0.7) {
		t.Errorf("%d of 1500 take the test, want about 1050", tested)
	}
}

// Effects by hand: a ratio multiplies a parameter on the log scale; level moves plateau and
// gain alike; the crossing of 60 s by the middle curve, 1 + ln(130/15)/rate, is inverse in
// the rate less 1 attempt.
func TestEffects(t *testing.T) {
	d := timed("level")
	value := func(d Design, name string, arm int) float64 {
		for _, p := range d.Course.People.Parameters {
			if p.Name == name {
				return float64(p.Values[arm])
			}
		}
		return math.NaN()
	}
	near := func(what string, got, want float64) {
		t.Helper()
		if !(math.Abs(got-want) <= 1e-6*math.Abs(want)) {
			t.Errorf("%s = %v, want %v", what, got, want)
		}
	}
	one, err := d.Apply([]Effect{{Name: "rate", Value: 1.5}})
	if err != nil {
		t.Fatal(err)
	}
	near("rate", value(one, "rate", 1), 0.3)
	near("reference rate", value(one, "rate", 0), 0.2)
	level, err := d.Apply([]Effect{{Name: "level", Value: 0.8}})
	if err != nil {
		t.Fatal(err)
	}
	near("plateau", value(level, "plateau", 1), 36)
	near("gain", value(level, "gain", 1), 104)
	crossing, err := d.Apply([]Effect{{Name: "mean-crossing", Value: 0.75}})
	if err != nil {
		t.Fatal(err)
	}
	before := 1 + math.Log(130.0/15)/0.2
	near("rate for the crossing", value(crossing, "rate", 1), math.Log(130.0/15)/(0.75*before-1))
	start, err := d.Apply([]Effect{{Name: "starting-level", Value: 1.2}})
	if err != nil {
		t.Fatal(err)
	}
	near("gain for the start", value(start, "gain", 1), 1.2*175-45)
	if v, _, ok := level.Assumption("plateau", 1); !ok || math.Abs(v-0.8) > 1e-12 {
		t.Errorf("the plateaus assumed are apart by %v, want 0.8", v)
	}
	for _, e := range []Effect{{Name: "plateau", Value: 0}, {Name: "plateau", Value: -1}, {Name: "rule-met-mean", Value: 1}, {Name: "nonsense", Value: 1}, {Name: "level", Value: math.Inf(1)}, {Name: Retention, Value: 1}} {
		if _, err := d.Apply([]Effect{e}); !errors.Is(err, ErrDesign) {
			t.Errorf("effect %+v: %v, want ErrDesign", e, err)
		}
	}
}

// Strange studies are refused, or their failures are counted and no power is given.
func TestStrangeDesigns(t *testing.T) {
	for name, change := range map[string]func(*Design){
		"no trainees":        func(d *Design) { d.Trainees = 0 },
		"one trainee":        func(d *Design) { d.Trainees = 1 },
		"no attempts":        func(d *Design) { d.Attempts = 0 },
		"too many":           func(d *Design) { d.Trainees, d.Attempts = 10_000, 2000 },
		"negative drop-out":  func(d *Design) { d.Course.DropOut = -0.1 },
		"drop-out above 1":   func(d *Design) { d.Course.DropOut = 1.1 },
		"more clusters":      func(d *Design) { d.Course.Clusters = &Clusters{Count: 13, Whole: true} },
		"no rule to stop at": func(d *Design) { d.Course.Task.Rule, d.Course.StopMet = "", []string{"new"} },
		"unknown measure":    func(d *Design) { d.Course.Contrast = "swiftness" },
		"no question":        func(d *Design) { d.Course.Contrast = "" },
		"two questions":      func(d *Design) { d.Course.Quota = &Quota{Share: 0.8, Arm: "new"} },
		"two kinds":          func(d *Design) { d.TTest = &TTest{SD: 1} },
		"other form":         func(d *Design) { d.Form = 2 },
		"arms alike in name": func(d *Design) { d.Course.People.Arms = []string{"a", "a"} },
		"retention, no test": func(d *Design) { d.Course.Contrast = Retention },
		"plateau below 0":    func(d *Design) { d.Course.People.Parameters[0].Values[1] = -45 },
		"impossible relations": func(d *Design) {
			d.Course.People.Correlations = []cohort.AssumedCorrelation{{A: "plateau", B: "rate", Value: 2}}
		},
		"limit on a score": func(d *Design) { d.Course.Task.Measure, d.Course.Task.Limit = practice.Score, 100 },
		"level 95":         func(d *Design) { d.Level = 95 },
	} {
		d := timed("rule-met-mean")
		change(&d)
		if _, err := Simulate(context.Background(), d, 0, 1, resample.Sampling{Seed: 1}); !errors.Is(err, ErrDesign) {
			t.Errorf("%s: %v, want ErrDesign", name, err)
		}
	}
	for name, c := range map[string]struct {
		contrast string
		change   func(*Design)
		stage    Stage
	}{
		"one attempt":          {"level", func(d *Design) { d.Attempts = 1 }, StageFit},
		"everybody leaves":     {"level", func(d *Design) { d.Course.DropOut = 1 }, StageFit},
		"beyond all numbers":   {"level", func(d *Design) { d.Course.People.Parameters[0].Values[1] = 1e200 }, StageAttempts},
		"a cluster an arm":     {"rule-met-mean", func(d *Design) { d.Course.Clusters = &Clusters{Count: 1, SD: 0.1, Whole: true} }, StageInterval},
		"nobody takes a test":  {Retention, func(d *Design) { d.Course.DropOut, d.Course.Test = 1, &Test{Change: []float64{1, 1}} }, StageAttempts},
		"everybody at a limit": {"level", func(d *Design) { d.Course.Task.Limit = 1e-3 }, StageFit},
	} {
		d := timed(c.contrast)
		c.change(&d)
		r := Summarise(d, mustSimulate(t, d, 0, 4, 0))
		if r.At[c.stage] != 4 || !r.Refused || !math.IsNaN(r.Power) || r.Least != 0 || r.Most != 1 {
			t.Errorf("%s: failed %v, refused %v, power %v between %v and %v; want 4 at %s and no power", name, r.At, r.Refused, r.Power, r.Least, r.Most, c.stage)
		}
	}
	none := tTestOf(10, 1, 0)
	if r := Summarise(none, mustSimulate(t, none, 0, 4, 0)); r.At[StageInterval] != 4 || !r.Refused {
		t.Errorf("without any spread: %+v, want 4 without an interval and no power", r)
	}
}

// Up to 5 % failed studies count as ones that gave nothing; more give no power.
func TestRefusal(t *testing.T) {
	d := tTestOf(10, 1, 1)
	made := func(failures int) []Outcome {
		var out []Outcome
		for i := range 100 {
			o := Outcome{Study: i, Estimate: 1, Lower: 0.5, Upper: 1.5, P: 0.01}
			if i < failures {
				o = failed(StageFit, 0)
				o.Study = i
			}
			out = append(out, o)
		}
		return out
	}
	if r := Summarise(d, made(5)); r.Refused || r.Power != 0.95 || r.Failed != 5 {
		t.Errorf("5 of 100 failed: %+v, want a power of 0.95", r)
	}
	if r := Summarise(d, made(6)); !r.Refused || !math.IsNaN(r.Power) || r.Least != 0.94 || r.Most != 1 {
		t.Errorf("6 of 100 failed: %+v, want no power", r)
	}
}

// What is kept in a file is completed to what one run gives; a study cut short is in no
// file; a changed file is refused.
func TestFiles(t *testing.T) {
	d := timed("rule-met-mean")
	run := func(f *File, ctx context.Context, sizes []Size, n int, w Work) error { return f.Run(ctx, sizes, n, w) }
	sizes := []Size{{6, 8}, {8, 8}}
	whole := NewFile(d, "1", 3, "")
	if err := run(whole, context.Background(), sizes, 30, Work{}); err != nil {
		t.Fatal(err)
	}
	part := NewFile(d, "1", 3, "")
	ctx, cancel := context.WithCancel(context.Background())
	seen := 0
	err := run(part, ctx, sizes, 12, Work{Workers: 2, Progress: func(int, int) {
		if seen++; seen == 15 {
			cancel()
		}
	}})
	if !errors.Is(err, context.Canceled) {
		t.Fatalf("an interrupted run ends with %v", err)
	}
	held := len(part.Cells[0].Outcomes) + len(part.Cells[1].Outcomes)
	if held < 15 || held > 20 {
		t.Errorf("%d studies are kept of an interrupted run, want the 15 that were finished or a few more", held)
	}
	var b bytes.Buffer
	if err := part.Write(&b); err != nil {
		t.Fatal(err)
	}
	again, err := ReadFile(&b)
	if err != nil {
		t.Fatal(err)
	}
	computed := 0
	if err := run(again, context.Background(), sizes, 30, Work{Workers: 1, Progress: func(int, int) { computed++ }}); err != nil {
		t.Fatal(err)
	}
	if computed != 60-held {
		t.Errorf("%d studies were simulated to complete %d of 60", computed, held)
	}
	if asJSON(t, again) != asJSON(t, whole) {
		t.Error("a plan completed after an interrupt is not the plan made at once")
	}
	r, err := again.Check(context.Background(), 10, Work{})
	if err != nil || r.Studies != 10 || r.Held != 60 || len(r.Differ) != 0 {
		t.Errorf("check: %+v, %v", r, err)
	}
	again.Cells[0].Outcomes[3].Estimate += 1e-9
	if r, err := again.Check(context.Background(), 60, Work{}); err != nil || len(r.Differ) != 1 || r.Differ[0].Study != 3 {
		t.Errorf("a changed study: %+v, %v; want study 3 to differ", r, err)
	}
	var kept bytes.Buffer
	whole.Write(&kept)
	spoilt := strings.Replace(kept.String(), `"study":3,`, `"study":4,`, 1)
	if _, err := ReadFile(strings.NewReader(spoilt)); err == nil || !strings.Contains(err.Error(), "checksum") {
		t.Errorf("a changed file: %v, want the checksum named", err)
	}
	if _, err := ReadFile(strings.NewReader("{}")); err == nil {
		t.Error("an empty object is read as a plan")
	}
	for name, o := range map[string]*File{"seed": NewFile(d, "1", 4, ""), "version": NewFile(d, "2", 3, ""), "data": NewFile(d, "1", 3, "x"), "design": NewFile(timed("rule-met-share"), "1", 3, "")} {
		if err := whole.SameAs(o); err == nil {
			t.Errorf("a plan of another %s passes for the same", name)
		}
	}
	if err := whole.SameAs(NewFile(d.At(50, 40), "1", 3, "")); err != nil {
		t.Errorf("the same plan of another size: %v", err)
	}
}

// The search finds what the closed form says, within what it says of itself, and spends
// most studies near it: 64 trainees for d = 0.5 and 80 %, 34 for d = 0.8 and 90 % (R's
// power.t.test).
func TestSmallest(t *testing.T) {
	for _, c := range []struct {
		d, power float64
		want     int
	}{{0.5, 0.8, 64}, {0.8, 0.9, 34}} {
		f := NewFile(tTestOf(2, c.d, 1), "1", 5, "")
		s, err := f.Smallest(context.Background(), 1, c.power, 2, 500, 2000, Work{})
		if err != nil || !s.Found {
			t.Fatalf("d = %g: %+v, %v", c.d, s, err)
		}
		if s.Lower > c.want || s.Upper < c.want {
			t.Errorf("d = %g: %d trainees, from %d to %d; want %d within", c.d, s.Row.Trainees, s.Lower, s.Upper, c.want)
		}
		near, far := 0, 0
		for _, r := range s.Looked {
			if math.Abs(r.Power-c.power) < 0.1 {
				near += r.Studies
			} else {
				far += r.Studies
			}
		}
		if near < far {
			t.Errorf("d = %g: %d studies near the answer and %d far from it", c.d, near, far)
		}
	}
	f := NewFile(tTestOf(2, 0, 1), "1", 5, "")
	if s, err := f.Smallest(context.Background(), 1, 0.8, 2, 60, 200, Work{}); err != nil || s.Found || !strings.Contains(s.Why, "--most-trainees") {
		t.Errorf("without an effect: %+v, %v; want no size and why", s, err)
	}
}

// Lines by hand: between 10 trainees at 0.4 and 20 at 0.9 a power of 0.8 lies at 18.
func TestLines(t *testing.T) {
	a := &Answer{Asked: Ask{Trainees: []int{10, 20}, Attempts: []int{5, 6}}}
	for _, k := range []int{5, 6} {
		a.Rows = append(a.Rows, Row{Trainees: 20, Attempts: k, Power: 0.9, Cost: 200}, Row{Trainees: 10, Attempts: k, Power: 0.4, Cost: 100})
	}
	l := a.Powers()
	if len(l) != 3 || l[0].Value != 0.5 || math.Abs(l[0].At[0].Trainees-12) > 1e-12 || l[1].Value != 0.8 || math.Abs(l[1].At[1].Trainees-18) > 1e-12 {
		t.Errorf("lines %+v, want 0.5 at 12, 0.8 at 18 and 0.9 at 20", l)
	}
}

// Every contrast, the test after a break and the quota come out of a simulated study.
func TestEveryQuestion(t *testing.T) {
	for _, contrast := range []string{"starting-level", "level", "mean-level", "plateau", "rate", "mean-crossing", "rule-met-mean", "rule-met-share", "rule-met-median", "rule-met-hazard", Retention} {
		d := timed(contrast)
		d.Course.Test = &Test{Change: []float64{1.2, 1.2}, SD: 0.1}
		for _, o := range mustSimulate(t, d, 0, 2, 0) {
			if o.Failed == StageAttempts || o.Failed == StageFit || o.Failed == "" && !(float64(o.P) > 0 && o.Lower <= o.Estimate && o.Estimate <= o.Upper) {
				t.Errorf("%s: %+v", contrast, o)
			}
		}
	}
	d := timed("")
	d.Attempts, d.Width = 30, 10
	d.Course.Quota = &Quota{Share: 0.5, Arm: "new"}
	r := Summarise(d, mustSimulate(t, d, 0, 20, 0))
	if r.Failed > 0 || !(r.Estimate > 3 && r.Estimate < 20) || !(r.WidthMedian > 0) || !(r.Power > 0) {
		t.Errorf("quota: %+v", r)
	}
}
