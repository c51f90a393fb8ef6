package plan

import (
	"encoding/csv"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"

	"tyro/analysis"
	"tyro/analysis/practice"
	"tyro/analysis/resample"
)

var noLimit = analysis.Number(math.NaN())

// rated is an event with the same rate in both arms of [timed].
func rated(name string, rate float64) Event {
	return Event{Name: name, Rate: []analysis.Number{analysis.Number(rate), analysis.Number(rate)}, AtMost: noLimit}
}

// tableOf is a file of testdata/plan without its head.
func tableOf(t *testing.T, name string) [][]string {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "testdata", "plan", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows[1:]
}

func number(t *testing.T, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// Rates and fall as R's glm has them, and the moments as R computes them from its fitted
// values: testdata/plan/events/events.R.
func TestEventsOfAgainstR(t *testing.T) {
	p := practice.Practice{Task: practice.Task{Counts: []string{"slips"}, AtMost: map[string]float64{"slips": 1}}}
	for _, row := range tableOf(t, "events/errors.csv") {
		if n := len(p.Trainees); n == 0 || p.Trainees[n-1].ID != row[0] {
			p.Trainees = append(p.Trainees, practice.Trainee{ID: row[0], Arm: row[1]})
		}
		last := &p.Trainees[len(p.Trainees)-1]
		last.Attempts = append(last.Attempts, practice.Attempt{Number: number(t, row[2]), Errors: []float64{number(t, row[3])}})
	}
	es := EventsOf(p, []string{"usual", "new", "unheard of"})
	if len(es) != 1 || es[0].Name != "slips" || es[0].AtMost != 1 {
		t.Fatalf("%+v", es)
	}
	e := es[0]
	got := map[string]float64{"usual": float64(e.Rate[0]), "new": float64(e.Rate[1]), "fall": e.Fall, "trainee_sd": e.TraineeSD, "attempt_sd": e.AttemptSD}
	for _, row := range tableOf(t, "events/expected.csv") {
		if want := number(t, row[1]); math.Abs(got[row[0]]-want) > 1e-8 {
			t.Errorf("%s: %.10f, R has %.10f", row[0], got[row[0]], want)
		}
	}
	if e.Rate[2] != e.Rate[0] {
		t.Errorf("an arm that nobody has seen has a rate of %v, the first has %v", e.Rate[2], e.Rate[0])
	}
}

// By hand: two trainees with 2, 1 and 4, 2 errors in attempts 1 and 2 have rates of 3 and
// 1.5, a fall of 1; they are 1 and ½ below and above these, 2·(1·½)·2 = 2 over
// 2·(3·1.5)·2 = 18, a variance of 1/9, and attempts differ less than by chance. Hard fails
// befell one attempt of four, once in attempt 1: by ½ there and never in attempt 2, which
// no finite fall says; a design takes at most 10.
func TestEventsOfByHand(t *testing.T) {
	one := func(id string, errors ...float64) practice.Trainee {
		p := practice.Trainee{ID: id, Arm: "a"}
		for i, n := range errors {
			p.Attempts = append(p.Attempts, practice.Attempt{Number: float64(i + 1), Errors: []float64{n}})
		}
		return p
	}
	p := practice.Practice{Task: practice.Task{Counts: []string{"slips"}}, Trainees: []practice.Trainee{one("1", 2, 1), one("2", 4, 2)}}
	p.Trainees[0].Attempts[0].Outcome = practice.Failed
	es := EventsOf(p, []string{"a"})
	if len(es) != 2 {
		t.Fatalf("%d events, want slips and hard fails", len(es))
	}
	slips, fails := es[0], es[1]
	if math.Abs(float64(slips.Rate[0])-3) > 1e-9 || math.Abs(slips.Fall-1) > 1e-9 || math.Abs(slips.TraineeSD-math.Sqrt(math.Log(10./9))) > 1e-9 || slips.AttemptSD != 0 || slips.limited() {
		t.Errorf("%+v", slips)
	}
	if fails.Name != HardFails || math.Abs(float64(fails.Rate[0])-0.5) > 1e-3 || fails.Fall != 10 || fails.check(1) != nil {
		t.Errorf("%+v", fails)
	}
	never := EventsOf(practice.Practice{Task: practice.Task{Counts: []string{"slips"}}, Trainees: []practice.Trainee{one("1", 0, 0)}}, []string{"a", "b"})
	if len(never) != 1 || never[0].Rate[0] != 0 || never[0].Rate[1] != 0 || never[0].Fall != 0 || never[0].TraineeSD != 0 || never[0].check(2) != nil {
		t.Errorf("nobody made an error: %+v", never)
	}
	if es := EventsOf(practice.Practice{Task: practice.Task{Counts: []string{"slips"}}}, []string{"a"}); len(es) != 1 || es[0].check(1) != nil {
		t.Errorf("nobody practised: %+v", es)
	}
}

// What is drawn has the means, the spreads and the shares of clean attempts that were
// asked for.
func TestWhatBefalls(t *testing.T) {
	d := timed("slips")
	d.Trainees, d.Attempts = 4000, 4
	slips := Event{Name: "slips", Rate: []analysis.Number{2, 0.8}, Fall: 0.5, TraineeSD: 0.5, AttemptSD: 0.3, AtMost: 1}
	fails := Event{Name: HardFails, Rate: []analysis.Number{0.1, 0.3}, AtMost: noLimit}
	d.Course.Events = []Event{slips, fails}
	q, err := d.ready()
	if err != nil {
		t.Fatal(err)
	}
	seen, err := q.(*course).draw(resample.Stream(1, "test", 0))
	if err != nil {
		t.Fatal(err)
	}
	type sums struct{ n, slips, squares, failed, products float64 }
	of := map[string]*sums{}
	at := func(arm string, k int) *sums {
		key := fmt.Sprint(arm, k)
		if of[key] == nil {
			of[key] = &sums{}
		}
		return of[key]
	}
	for _, p := range seen.trainees {
		if !p.ErrorLimits {
			t.Fatal("a pass has a limit of errors, and the trainee does not say so")
		}
		for k, a := range p.Attempts {
			s := at(p.Arm, k)
			s.n, s.slips, s.squares = s.n+1, s.slips+a.Errors[0], s.squares+a.Errors[0]*a.Errors[0]
			s.products += p.Attempts[0].Errors[0] * a.Errors[0]
			if a.Clean != (a.Errors[0] <= 1) {
				t.Fatalf("%v errors, clean: %v", a.Errors[0], a.Clean)
			}
			if a.Outcome == practice.Failed {
				s.failed++
			}
			if (a.Outcome == practice.Failed) != math.IsNaN(a.Response) {
				t.Fatalf("%+v", a)
			}
		}
	}
	for arm, rate := range map[string]float64{"usual": 2, "new": 0.8} {
		for k := range 4 {
			s, mean := at(arm, k), rate*math.Pow(float64(k+1), -0.5)
			// A Poisson number with a mean m·f, where f has mean 1 and a variance of
			// e^(0.25+0.09) − 1.
			v := mean + mean*mean*(math.Exp(0.34)-1)
			if got := s.slips / s.n; math.Abs(got-mean) > 4*math.Sqrt(v/s.n) {
				t.Errorf("%s, attempt %d: %v errors on average, want %v", arm, k+1, got, mean)
			}
			if got := s.squares/s.n - mean*mean; math.Abs(got/v-1) > 0.25 {
				t.Errorf("%s, attempt %d: variance %v, want %v", arm, k+1, got, v)
			}
			p := float64(fails.Rate[map[string]int{"usual": 0, "new": 1}[arm]])
			if got := s.failed / s.n; math.Abs(got-p) > 4*math.Sqrt(p*(1-p)/s.n) {
				t.Errorf("%s, attempt %d: %v fail, want %v", arm, k+1, got, p)
			}
		}
		// Attempts of one trainee go together by the trainee's own factor alone.
		s := at(arm, 3)
		want := rate * rate * 0.5 * math.Exp(0.25)
		if got := s.products / s.n; math.Abs(got/want-1) > 0.15 {
			t.Errorf("%s: products of attempts 1 and 4 come to %v, want %v", arm, got, want)
		}
	}
}

// With Poisson errors of trainees who are all alike the power is about that of the normal
// test of the logarithm of the ratio of rates, whose variance is one over the errors of each
// arm: 300 and 240 here, ln 0.8 = −0.2231 over √(1/300 + 1/240) = 0.0866, a power of
// Φ(2.577 − 1.960) = 0.731.
func TestPowerOfErrors(t *testing.T) {
	d := timed("slips")
	d.Trainees, d.Attempts = 30, 10
	d.Course.Events = []Event{rated("slips", 1)}
	d, err := d.Apply([]Effect{{Name: "slips", Value: 0.8}})
	if err != nil {
		t.Fatal(err)
	}
	if truth, err := d.Truth(); err != nil || math.Abs(truth-0.8) > 1e-12 {
		t.Fatalf("%v is assumed (%v), want 0.8", truth, err)
	}
	const studies = 300
	r := Summarise(d, mustSimulate(t, d, 0, studies, 2))
	want := distuv.UnitNormal.CDF(0.22314/math.Sqrt(1./300+1./240) - 1.95996)
	t.Logf("power %.3f, by the normal test %.3f; %.3f cover, %d failed", r.Power, want, r.Coverage, r.Failed)
	if math.Abs(r.Power-want) > 4*math.Sqrt(want*(1-want)/studies) || math.Abs(r.Coverage-0.95) > 4*math.Sqrt(0.95*0.05/studies) || r.Failed > 0 {
		t.Errorf("power %v with %v covered and %d failed", r.Power, r.Coverage, r.Failed)
	}
}

// An arm without a single error is told apart or not; its ratio has no end.
func TestNoErrorsInAnArm(t *testing.T) {
	d := timed("slips")
	d.Course.Events = []Event{{Name: "slips", Rate: []analysis.Number{0.5, 0}, AtMost: noLimit}}
	r := Summarise(d, mustSimulate(t, d, 0, 5, 1))
	if r.Failed > 0 || r.Power < 0.99 || r.Estimate != 0 || !math.IsInf(r.WidthMean, 1) {
		t.Errorf("%+v", r)
	}
	d.Course.Events[0].Rate[0] = 0
	if r := Summarise(d, mustSimulate(t, d, 0, 5, 1)); r.Failed != 5 {
		t.Errorf("no errors at all: %+v", r)
	}
}

// Errors and hard fails keep attempts from passing, so that fewer meet the rule.
func TestErrorsDelayTheRule(t *testing.T) {
	quota := func(events ...Event) float64 {
		d := timed("")
		d.Trainees, d.Attempts = 60, 20
		d.Course.Quota, d.Course.Events = &Quota{Share: 0.5, Arm: "usual"}, events
		return Summarise(d, mustSimulate(t, d, 0, 3, 1)).Estimate
	}
	limited := rated("slips", 1)
	limited.AtMost = 0
	none, slips, fails := quota(), quota(limited), quota(rated(HardFails, 0.4))
	if !(none < slips) || !(none < fails) || quota(rated("slips", 1)) != none {
		t.Errorf("half have met the rule by %v without errors, by %v with an error in most attempts, by %v with 40 %% failed", none, slips, fails)
	}
}

func TestStrangeEvents(t *testing.T) {
	for say, e := range map[string]Event{
		"without a name":           rated("", 1),
		"1 rates for 2 arms":       {Name: "slips", Rate: []analysis.Number{1}, AtMost: noLimit},
		"expected 0 to 1":          rated(HardFails, 1.5),
		"expected 0 to 100000":     rated("slips", -1),
		"a fall of NaN":            {Name: "slips", Rate: []analysis.Number{1, 1}, Fall: math.NaN(), AtMost: noLimit},
		"standard deviations":      {Name: "slips", Rate: []analysis.Number{1, 1}, TraineeSD: math.Inf(1), AtMost: noLimit},
		"passes no standard":       {Name: HardFails, Rate: []analysis.Number{0.1, 0.1}, AtMost: 1},
		"a pass with at most -1":   {Name: "slips", Rate: []analysis.Number{1, 1}, AtMost: -1},
		"no contrast of \"slips\"": rated("scratches", 1),
	} {
		d := timed("slips")
		d.Course.Events = []Event{e}
		if err := d.Check(); !errors.Is(err, ErrDesign) || !strings.Contains(err.Error(), say) {
			t.Errorf("%+v: %v, want %q", e, err, say)
		}
	}
	d := timed("slips")
	d.Course.Events = []Event{rated("slips", 1), rated("slips", 2)}
	if err := d.Check(); err == nil || !strings.Contains(err.Error(), "twice") {
		t.Errorf("an error stated twice: %v", err)
	}
	d.Course.Contrast, d.Course.Events = "rate", []Event{rated("rate", 1)}
	if err := d.Check(); !errors.Is(err, ErrDesign) || !strings.Contains(err.Error(), "another name") {
		t.Errorf("a contrast of an error called rate: %v", err)
	}
	d.Course.Contrast, d.Course.Effects = "level", []Effect{{Name: "rate", Value: 2}}
	if err := d.Check(); !errors.Is(err, ErrDesign) || !strings.Contains(err.Error(), "another name") {
		t.Errorf("an effect on an error called rate: %v", err)
	}
	d.Course.Events, d.Course.Effects = []Event{rated(HardFails, 0.6)}, nil
	if _, err := d.Apply([]Effect{{Name: HardFails, Value: 2}}); !errors.Is(err, ErrDesign) {
		t.Errorf("a chance of 1.2: %v", err)
	}
}
