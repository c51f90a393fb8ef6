package proficiency

import (
	"context"
	"fmt"
	"math"
	"testing"

	"tyro/analysis/fit"
	"tyro/analysis/monitor"
	"tyro/analysis/practice"
	"tyro/analysis/resample"
	"tyro/analysis/stopping"
	"tyro/models"
)

func lognormalSpecs(f ...models.Family) []fit.Spec {
	return fit.Candidates(fit.Spec{Noise: models.Lognormal{}, Positive: true}, f)
}

func simulate(c models.Curve, sd float64, n int, key int) fit.Series {
	r := resample.Stream(1, "proficiency test", key)
	var s fit.Series
	for i := 1; i <= n; i++ {
		s.Attempt = append(s.Attempt, float64(i))
		s.Response = append(s.Response, c.At(float64(i))*math.Exp(sd*r.NormFloat64()))
	}
	return s
}

// ask answers with few replicates, enough for a status.
func ask(t *testing.T, s fit.Series, fails int, q Question, specs []fit.Spec) []Answer {
	t.Helper()
	tr := practice.Measured("t", s.Attempt, s.Response)
	for range fails {
		tr.Attempts = append(tr.Attempts, practice.Attempt{Number: 1, Response: math.NaN(), Outcome: practice.Failed, Clean: true})
	}
	return answers(t, tr, q, specs, 200)
}

func answers(t *testing.T, tr practice.Trainee, q Question, specs []fit.Spec, replicates int) []Answer {
	t.Helper()
	l, err := Learn(tr, specs)
	if err != nil {
		t.Fatal(err)
	}
	as, err := l.Attempts(context.Background(), q, resample.Sampling{Seed: 1, Replicates: replicates}, "t")
	if err != nil {
		t.Fatal(err)
	}
	return as
}

// under is a standard where smaller is better.
func under(v float64) practice.Standard { return practice.Standard{Value: v, Lower: true} }

// Almost without noise both definitions are known by hand: the curve 40 +
// 140·n^(−1/2) meets 40 + 140/3 at attempt 9. With noise of log-SD s a pass
// chance of 0.8 needs a median lower by the factor exp(−0.8416 s).
func TestDefinitions(t *testing.T) {
	truth := models.Power().Curve([]float64{40, 140, 0.5})
	q := Question{Standard: under(40 + 140./3)}
	as := ask(t, simulate(truth, 1e-6, 30, 0), 0, q, lognormalSpecs(models.Power()))
	for _, a := range as {
		if a.Estimate < 9 || a.Estimate > 10 || math.Abs(a.At-9) > 0.01 || a.Status != Reached {
			t.Errorf("%s without noise: attempt %v (%v), status %s; want 9", a.Definition, a.Estimate, a.At, a.Status)
		}
	}
	const sd = 0.2
	var many fit.Series // forty attempts, each made a hundred times
	for key := range 100 {
		s := simulate(truth, sd, 40, key)
		many.Attempt, many.Response = append(many.Attempt, s.Attempt...), append(many.Response, s.Response...)
	}
	as = ask(t, many, 0, q, lognormalSpecs(models.Power()))
	want := truth.Crossing(q.Standard.Value*math.Exp(-0.8416212*sd), 1, true)
	if a := as[1]; math.Abs(a.At-want) > 0.05*want || a.Definition != PassChance {
		t.Errorf("pass-chance at %v, want about %v", a.At, want)
	}
	if as[0].At >= as[1].At {
		t.Error("mean-crossing and pass-chance agree on noisy data")
	}
	// A trainee who fails one attempt in four needs 0.8/0.75 of the rest: never.
	as = ask(t, simulate(truth, sd, 30, 2), 10, q, lognormalSpecs(models.Power()))
	if a := as[1]; a.Status != BeyondHorizon || !math.IsInf(a.Estimate, 1) {
		t.Errorf("with a quarter hard fails a pass chance of 0.8 is reached at %v (%s)", a.Estimate, a.Status)
	}
}

func TestStatuses(t *testing.T) {
	truth := models.Exponential(1).Curve([]float64{60, 120, 0.1})
	specs := lognormalSpecs(models.Exponential(1))
	for _, c := range []struct {
		name     string
		n        int
		standard float64
		want     Status
	}{
		{"already met at attempt 1", 20, 400, Reached},
		{"met within the attempts", 40, 100, Reached},
		{"ahead", 12, 75, Projected},
		{"never", 60, 30, BeyondHorizon},
		{"four attempts", 4, 75, TooEarly},
		{"none", 0, 75, TooEarly},
	} {
		a := ask(t, simulate(truth, 0.05, c.n, 3), 0, Question{Standard: under(c.standard), Horizon: 100}, specs)[0]
		if a.Status != c.want {
			t.Errorf("%s: status %s (attempt %v), want %s", c.name, a.Status, a.Estimate, c.want)
		}
		if c.name == "already met at attempt 1" && (a.Estimate != 1 || a.Lower != 1) {
			t.Errorf("%s: attempt %v from %v, want 1", c.name, a.Estimate, a.Lower)
		}
		if c.want == BeyondHorizon && !(a.NotReached > 0.95 && math.IsInf(a.Upper, 1)) {
			t.Errorf("%s: %v of the replicates do not reach, upper end %v", c.name, a.NotReached, a.Upper)
		}
		if c.want == TooEarly && (!math.IsNaN(a.Estimate) || len(a.Warnings) == 0) {
			t.Errorf("%s: attempt %v, warnings %v; want none and a reason", c.name, a.Estimate, a.Warnings)
		}
	}
}

// Scores rise: the same questions with the direction turned.
func TestHigherIsBetter(t *testing.T) {
	truth := models.Exponential(1).Curve([]float64{90, -60, 0.15})
	s := simulate(truth, 0, 30, 0)
	r := resample.Stream(1, "scores", 0)
	for i := range s.Response {
		s.Response[i] += 2 * r.NormFloat64()
	}
	specs := fit.Candidates(fit.Spec{Noise: models.Normal{}}, []models.Family{models.Exponential(1)})
	a := ask(t, s, 0, Question{Standard: practice.Standard{Value: 75}}, specs)
	want := truth.Crossing(75, 1, false)
	if !(a[0].Crossing.Lower < want && want < a[0].Crossing.Upper) || math.Abs(a[0].At-want) > 2 {
		t.Errorf("a rising score meets 75 at %v (%v to %v), truth %v", a[0].At, a[0].Crossing.Lower, a[0].Crossing.Upper, want)
	}
	if !(a[1].At > a[0].At) {
		t.Error("pass-chance comes before mean-crossing")
	}
}

func TestObserve(t *testing.T) {
	rule := stopping.Rule{Rule: mustParse(t, "2 in a row")}
	seen := practice.Measured("t", []float64{1, 2, 4, 5}, []float64{70, 50, 50, 70})
	if o := Observe(rule, seen, under(60)); !o.Met || o.Attempt != 4 {
		t.Errorf("met at %+v, want attempt 4: numbers are kept over gaps", o)
	}
	if o := Observe(rule, practice.Measured("t", []float64{1, 2, 4}, []float64{70, 50, 70}), under(60)); o.Met || o.Attempt != 4 {
		t.Errorf("not met: %+v, want censored at 4", o)
	}
	if got := Survival([]Observed{{Attempt: math.NaN()}, {3, true}}); len(got) != 1 {
		t.Errorf("a trainee without attempts is counted: %v", got)
	}
}

// rule-met under a constant chance is the recursion's own answer: a flat curve at
// the standard passes with chance one half, and two in a row is met with chance one
// half by attempt 4 (by hand: 1/4, 3/8, 1/2 by attempts 2, 3, 4).
func TestRuleMetFromCurve(t *testing.T) {
	q, err := Question{Standard: under(60), Horizon: 50, Rule: mustParse(t, "2 in a row")}.Ready()
	if err != nil {
		t.Fatal(err)
	}
	p := passing{curve: models.Constant().Curve([]float64{60}), noise: models.Lognormal{}, scale: 0.2}
	if got := q.newCounter().crossings(p)[2]; got != 4 {
		t.Errorf("two in a row at chance 1/2 by attempt %v, want 4", got)
	}
	// A chance of one half to keep within the error limits makes it 1/4 a pass.
	p.clean = byAttempt(func(float64) float64 { return 0.5 })
	if c := q.chance(p, 3); math.Abs(c-0.25) > 1e-12 {
		t.Errorf("chance %v, want 0.25", c)
	}
	p.fails = 1
	if got := q.newCounter().crossings(p)[2]; !math.IsInf(got, 1) {
		t.Errorf("always failing, the rule is met at %v", got)
	}
}

// Error limits lower the pass chance, so that the answer comes later.
func TestErrorLimits(t *testing.T) {
	s := simulate(models.Exponential(1).Curve([]float64{40, 140, 0.2}), 0.1, 40, 5)
	tr := practice.Measured("t", s.Attempt, s.Response)
	tr.ErrorLimits = true
	for i := range tr.Attempts {
		tr.Attempts[i].Clean = i > 12 && i%9 != 0 || i%4 == 0
	}
	rule := mustParse(t, "2 in a row")
	q := Question{Standard: under(60), Rule: rule}
	specs := lognormalSpecs(models.Exponential(1))
	as := answers(t, tr, q, specs, 100)
	without := ask(t, s, 0, q, specs)
	if len(as) != 3 || as[2].Definition != RuleMet || as[0].Estimate != without[0].Estimate || !(as[1].Estimate > without[1].Estimate) || !(as[2].Estimate >= without[2].Estimate) {
		t.Errorf("with error limits %v, %v, %v; without %v, %v, %v", as[0].Estimate, as[1].Estimate, as[2].Estimate, without[0].Estimate, without[1].Estimate, without[2].Estimate)
	}
}

// The weighted median over candidates by hand: weights 0.3, 0.4 and 0.3 for 10, 20
// and never give 20; with 0.2, 0.2 and 0.6 more than half of the weight never gets
// there.
func TestAveraged(t *testing.T) {
	at := func(weights ...float64) float64 {
		var c fit.Choice
		for i, plateau := range []float64{0, 0, 90} {
			rate := []float64{math.Log(4) / 9, math.Log(4) / 19, 0.5}[i] // 100 falls to 25 at attempts 10 and 20
			c.Fits = append(c.Fits, fit.Fit{Curve: models.Exponential(1).Curve([]float64{plateau, 100 - plateau, rate}), Scale: 1})
			c.Candidates = append(c.Candidates, fit.Candidate{Weight: weights[i]})
		}
		q := Question{Standard: under(25 + 1e-9), Horizon: 100, Chance: 0.8}
		values, _ := q.averaged(passing{noise: models.Normal{}, scale: 1}, c)
		return values[0]
	}
	if got := at(0.3, 0.4, 0.3); math.Abs(got-20) > 1e-6 {
		t.Errorf("averaged attempt %v, want 20", got)
	}
	if got := at(0.2, 0.2, 0.6); !math.IsInf(got, 1) {
		t.Errorf("averaged attempt %v, want never", got)
	}
}

// A replicate's spread is taken the other way round for chart-signal: of 0.25 about the series'
// own 0.2 it is 0.2²/0.25 = 0.16. No other definition moves by a chart's being asked for, and
// where noise has no normal scale, or BCa is asked for, neither does the chart's.
func TestChartTurnsTheSpread(t *testing.T) {
	if p := turned(0.25, 0.2); math.Abs(p-0.16) > 1e-15 {
		t.Errorf("turned to %v, want 0.16", p)
	}
	if p := turned(0, 0.2); p != 0 {
		t.Errorf("a spread of 0 turned to %v", p)
	}
	rule, err := practice.ParseRule("2 in a row")
	if err != nil {
		t.Fatal(err)
	}
	chart, err := stopping.NewChart(monitor.Rates{Acceptable: 0.2, Unacceptable: 0.4})
	if err != nil {
		t.Fatal(err)
	}
	r := resample.Stream(8, "a chart beside", 0)
	var at, response []float64
	for n := 1.0; n <= 20; n++ {
		at, response = append(at, n), append(response, (50+120*math.Exp(-0.2*(n-1)))*math.Exp(0.2*r.NormFloat64()))
	}
	l, err := Learn(practice.Measured("one", at, response), []fit.Spec{{Family: models.Exponential(1), Noise: models.Lognormal{}, Positive: true}})
	if err != nil {
		t.Fatal(err)
	}
	q := Question{Standard: practice.Standard{Value: 65, Lower: true}, Rule: rule}
	sampling := resample.Sampling{Seed: 3, Replicates: 199}
	without, err := l.Attempts(context.Background(), q, sampling, "one")
	if err != nil {
		t.Fatal(err)
	}
	q.Chart = chart
	with, err := l.Attempts(context.Background(), q, sampling, "one")
	if err != nil {
		t.Fatal(err)
	}
	if len(with) != len(without)+1 || fmt.Sprint(with[:len(without)]) != fmt.Sprint(without) {
		t.Errorf("with a chart\n%v\nwithout\n%v", with, without)
	}
	q.Chart, q.Interval = chart, resample.BCa
	if q, err = q.Ready(); err != nil {
		t.Fatal(err)
	}
	if q.turnsSpread(models.Lognormal{}) >= 0 {
		t.Error("BCa of turned replicates")
	}
	q.Interval = resample.Percentile
	if q.turnsSpread(models.Bernoulli{}) >= 0 || q.turnsSpread(models.NegativeBinomial{}) >= 0 || q.turnsSpread(models.Lognormal{}) != 1 {
		t.Error("the spread is turned where there is none, or is not where there is one")
	}
}
