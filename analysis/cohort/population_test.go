package cohort

import (
	"encoding/json"
	"errors"
	"math"
	"reflect"
	"testing"

	"tyro/analysis"
	"tyro/analysis/resample"
	"tyro/models"
)

// A fit's population has the fit's own parameters and curves, also through JSON.
func TestAssumedIsTheFit(t *testing.T) {
	ts := simulate(20, 10, 1, 3)
	for i := range ts {
		ts[i].Arm = string(rune('A' + i%2))
	}
	c := mustRun(t, ts, Spec{Family: models.Exponential(1), Noise: models.Lognormal{}, ArmEffect: []string{"plateau", "gain", "rate"}})
	text, err := json.Marshal(c.Assumed())
	if err != nil {
		t.Fatal(err)
	}
	var a Assumed
	if err := json.Unmarshal(text, &a); err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(a, c.Assumed()) {
		t.Error("what is assumed comes back from JSON as something else")
	}
	p, err := a.Population()
	if err != nil {
		t.Fatal(err)
	}
	for _, arm := range c.Arms {
		want, err := c.Middle(arm)
		if err != nil {
			t.Fatal(err)
		}
		got, err := p.Middle(arm)
		if err != nil {
			t.Fatal(err)
		}
		for _, n := range []float64{1, 4, 30} {
			within(t, "middle curve of arm "+arm, got.At(n), want.At(n), 1e-9*want.At(n))
		}
	}
	l, m := c.m.factor(c.theta), p.m.factor(p.theta)
	for i := range c.m.random {
		for j := range c.m.random {
			var want, got float64
			for b := range c.m.random {
				want += l[i][b] * l[j][b]
				got += m[i][b] * m[j][b]
			}
			within(t, "covariance", got, want, 1e-6)
		}
	}
}

// Stated people have the moments that follow by hand: on the inverse curve with normal
// noise a response at attempt n has mean plateau + shift + gain/n and variance
// sd₁² + sd₂²/n² + 2ρ·sd₁·sd₂/n + σ²; above a limit it is censored there.
func TestPopulationDraws(t *testing.T) {
	one := func(v float64) []analysis.Number { return []analysis.Number{analysis.Number(v)} }
	a := Assumed{Family: "inverse", Origin: 1, Noise: "normal", Arms: []string{""}, Parameters: []AssumedParameter{
		{Name: "plateau", Scale: Identity, Values: one(10), SD: 2},
		{Name: "gain", Scale: Identity, Values: one(6), SD: 3},
		{Name: "spread", Scale: Log, Values: one(1.5)},
	}, Correlations: []AssumedCorrelation{{"plateau", "gain", -0.5}}}
	p, err := a.Population()
	if err != nil {
		t.Fatal(err)
	}
	if multiplies, ok := p.Moves(); multiplies || !ok {
		t.Errorf("curves move by ratios: %v, at all: %v; want by differences", multiplies, ok)
	}
	const n = 20_000
	ts, shift := make([]Trainee, n), make([]float64, n)
	for i := range ts {
		ts[i], shift[i] = Trainee{ID: "x", Attempt: []float64{1, 3}}, 1
	}
	out, err := p.Draw(resample.Stream(1, "test", 0), ts, shift, 0)
	if err != nil {
		t.Fatal(err)
	}
	var sum, squares float64
	for _, o := range out {
		d := o.Response[1] - (10 + 1 + 6.0/3)
		sum, squares = sum+d, squares+d*d
	}
	variance := 4 + 9.0/9 - 2*0.5*2*3/3 + 2.25
	within(t, "mean", sum/n, 0, 4*math.Sqrt(variance/n))
	within(t, "variance", squares/n, variance, 4*variance*math.Sqrt(2.0/n))
	limited, err := p.Draw(resample.Stream(1, "test", 0), ts, shift, 12)
	if err != nil {
		t.Fatal(err)
	}
	for i, o := range limited {
		for j, y := range o.Response {
			free := out[i].Response[j]
			if y != math.Min(free, 12) || (o.Censored != nil && o.Censored[j]) != (free > 12) {
				t.Fatalf("a response of %v is %v with a limit of 12, censored %v", free, y, o.Censored)
			}
		}
	}
	for name, change := range map[string]func(*Assumed){
		"family":      func(a *Assumed) { a.Family = "none" },
		"noise":       func(a *Assumed) { a.Noise = "none" },
		"spread of 0": func(a *Assumed) { a.Parameters[2].Values = one(0) },
		"no gain":     func(a *Assumed) { a.Parameters = a.Parameters[:1] },
		"sd below 0":  func(a *Assumed) { a.Parameters[0].SD = -1 },
		"correlation": func(a *Assumed) { a.Correlations[0].Value = 1.5 },
		"no arm":      func(a *Assumed) { a.Arms = nil },
	} {
		var b Assumed
		text, _ := json.Marshal(a)
		json.Unmarshal(text, &b)
		change(&b)
		if _, err := b.Population(); !errors.Is(err, ErrCohort) {
			t.Errorf("%s: %v, want ErrCohort", name, err)
		}
	}
}
