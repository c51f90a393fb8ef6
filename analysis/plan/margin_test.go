package plan

import (
	"context"
	"errors"
	"math"
	"strings"
	"testing"

	"tyro/analysis/compare"
	"tyro/analysis/practice"
	"tyro/analysis/resample"
)

// Powers against a margin as R has them: testdata/plan/margin/margin.R.
func TestMarginPowerAgainstR(t *testing.T) {
	rows := tableOf(t, "margin/margin.csv")
	if len(rows) != 38 {
		t.Fatal(len(rows))
	}
	for _, r := range rows {
		got := compare.MarginPower(number(t, r[2]), number(t, r[3]), r[4] == practice.NonInferiority, int(number(t, r[0])), int(number(t, r[1])), number(t, r[5]))
		if want := number(t, r[6]); !(math.Abs(got-want) < 1e-8) {
			t.Errorf("%v: power %.10f", r, got)
		}
	}
}

// Simulated, tests against a margin agree with the closed form within four standard errors.
func TestMarginsAgainstClosedForms(t *testing.T) {
	for name, d := range map[string]Design{
		"equivalence":                    {Form: Form, Trainees: 40, Attempts: 1, Margin: &Margin{Value: 6}, TTest: &TTest{Difference: 1, SD: 8}},
		"equivalence, beyond the margin": {Form: Form, Trainees: 20, Attempts: 1, Margin: &Margin{Value: 6}, TTest: &TTest{Difference: -6, SD: 8}},
		"non-inferiority":                {Form: Form, Trainees: 30, Attempts: 1, Margin: &Margin{Value: 5, NonInferior: true}, TTest: &TTest{Difference: -1, SD: 6}},
		"non-inferiority, lower better":  {Form: Form, Trainees: 30, Attempts: 1, Allocation: 2, Margin: &Margin{Value: 5, NonInferior: true}, TTest: &TTest{Difference: -1, SD: 6, Lower: true}},
	} {
		const studies = 2000
		out, err := Simulate(context.Background(), d, 0, studies, resample.Sampling{Seed: 21})
		if err != nil {
			t.Fatal(err)
		}
		r := Summarise(d, out)
		t.Logf("%s: power %.4f, by formula %.4f; width %.4f, by formula %.4f; %.3f cover", name, r.Power, r.Formula.Power, r.WidthMean, r.Formula.Width, r.Coverage)
		if p := r.Formula.Power; !(math.Abs(r.Power-p) < 4*math.Sqrt(p*(1-p)/studies)) {
			t.Errorf("%s: power %v, by formula %v", name, r.Power, p)
		}
		cover := 0.9
		if d.Margin.NonInferior {
			cover = 0.95
		}
		if math.Abs(r.Coverage-cover) > 4*math.Sqrt(cover*(1-cover)/studies) {
			t.Errorf("%s: %v of the intervals hold the truth, want %v", name, r.Coverage, cover)
		}
		if math.Abs(r.WidthMean/r.Formula.Width-1) > 0.02 {
			t.Errorf("%s: mean width %v, by formula %v", name, r.WidthMean, r.Formula.Width)
		}
	}
}

// The margin of practice is judged as compare judges it: an outcome gives what is asked for
// just where its interval, of 90 % for equivalence, lies within the margin. A level 10 %
// longer is worse for a time, so that alone non-inferiority of a slower arm asks more of the
// upper end, and of a faster one gets it for nothing.
func TestMarginOfPractice(t *testing.T) {
	design := func(m Margin, effect float64) Design {
		d := timed("level")
		d.Trainees, d.Attempts, d.Margin = 20, 10, &m
		d, err := d.Apply([]Effect{{Name: "level", Value: effect}})
		if err != nil {
			t.Fatal(err)
		}
		return d
	}
	gave := map[string]int{}
	for _, c := range []struct {
		name   string
		m      Margin
		effect float64
	}{
		{"alike", Margin{Value: 1.3}, 1}, {"slower by the margin", Margin{Value: 1.3}, 1.3},
		{"faster, not worse", Margin{Value: 1.1, NonInferior: true}, 0.8}, {"slower, not worse", Margin{Value: 1.1, NonInferior: true}, 1.25},
	} {
		d := design(c.m, c.effect)
		out := mustSimulate(t, d, 0, 24, 2)
		for _, o := range out {
			within := float64(o.Upper) < c.m.Value && (c.m.NonInferior || float64(o.Lower) > 1/c.m.Value)
			if d.Gave(o) != within {
				t.Errorf("%s: %+v gives it: %v, and its interval lies within: %v", c.name, o, d.Gave(o), within)
			}
			if within {
				gave[c.name]++
			}
		}
	}
	t.Log(gave)
	if gave["alike"] < 20 || gave["slower by the margin"] > 4 || gave["faster, not worse"] < 20 || gave["slower, not worse"] > 2 {
		t.Errorf("of 24 studies each %v", gave)
	}
}

func TestStrangeMargins(t *testing.T) {
	ok := func() Design { d := timed("level"); d.Margin = &Margin{Value: 1.2}; return d }
	if err := ok().Check(); err != nil {
		t.Fatal(err)
	}
	for say, change := range map[string]func(*Design){
		"compared as a ratio":            func(d *Design) { d.Margin.Value = 0.9 },
		"a margin of NaN":                func(d *Design) { d.Margin.Value = math.NaN() },
		"a margin of -2":                 func(d *Design) { d.Margin.Value = -2 },
		"cannot both be asked":           func(d *Design) { d.Width = 2 },
		"neither a higher nor a lower":   func(d *Design) { d.Course.Contrast, d.Margin.NonInferior = "rate", true },
		"is for a contrast":              func(d *Design) { d.Course.Contrast, d.Course.Quota = "", &Quota{Share: 0.5, Arm: "usual"} },
		"a margin is for a contrast of ": func(d *Design) { d.Course, d.LogRank = nil, &LogRank{HazardRatio: 2, Met: 0.5} },
	} {
		d := ok()
		change(&d)
		if err := d.Check(); !errors.Is(err, ErrDesign) || !strings.Contains(err.Error(), say) {
			t.Errorf("%v, want %q", err, say)
		}
	}
	// A difference may have any margin above 0.
	d := timed("rule-met-mean")
	d.Margin = &Margin{Value: 0.5}
	if err := d.Check(); err != nil {
		t.Error(err)
	}
}
