package proficiency

import (
	"context"
	"fmt"
	"math"
	"testing"

	"tyro/analysis/cohort"
	"tyro/analysis/practice"
	"tyro/analysis/resample"
	"tyro/analysis/stopping"
	"tyro/models"
)

// always is a way of passing every attempt with the same chance.
func always(chance float64) way {
	return way{measure: passing{curve: models.Constant().Curve([]float64{models.Bernoulli{}.Link(chance)}), noise: models.Bernoulli{}}, share: 1}
}

// By hand: one pass made, rule "2 in a row", chance ½ or 1, equally likely.
// Attempt 2 passes with chance (½+1)/2 = ¾. With chance ½, after a fail at 2 the
// rule can be met at 4 at the earliest, with ½·½·½: ¾, ¾, (½+⅛+1)/2 = 13/16.
func TestPooledByHand(t *testing.T) {
	q := Question{Standard: practice.Standard{Value: 0.8, PassFail: true}, Rule: mustParse(t, "2 in a row"), Horizon: 4, Chance: 0.8, Level: 0.6}.orDefaults()
	rec, err := stopping.NewRecursion(q.Rule)
	if err != nil {
		t.Fatal(err)
	}
	p := &Pooled{question: q, rec: rec}
	r := practice.Measured("a", []float64{1}, []float64{1})
	got, err := p.answer(r, []way{always(0.5), always(1 - 1e-15)})
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []float64{0.75, 0.75, 0.8125} {
		if math.Abs(got.MetBy[i]-want) > 1e-9 {
			t.Errorf("met by %d: %v, want %v", i+2, got.MetBy[i], want)
		}
	}
	// Median 2; the ends at chances 0.2 and 0.8; never 3/16.
	if got.Estimate != 2 || got.Lower != 2 || got.Upper != 4 || math.Abs(got.NotReached-0.1875) > 1e-9 {
		t.Errorf("%v (%v to %v), not reached %v", got.Estimate, got.Lower, got.Upper, got.NotReached)
	}
	if got.Status != TooEarly {
		t.Errorf("status %s after one attempt", got.Status)
	}
	// A chance of 0.8 for a single attempt: at once in the second way, never in
	// the first.
	if got.PassChance[1] != 1 || !math.IsInf(got.PassChance[2], 1) || got.PassNever != 0.5 {
		t.Errorf("pass chance %v, never %v", got.PassChance, got.PassNever)
	}
	// Limits on errors kept with chance ½ halve the chance of the next attempt.
	half := always(1 - 1e-15)
	half.share = 0.5
	if got, err = p.answer(r, []way{half}); err != nil || math.Abs(got.MetBy[0]-0.5) > 1e-9 {
		t.Errorf("with a limit kept half of the time: %v, %v", got.MetBy, err)
	}
	half.share, half.also = 1, []models.Curve{models.Logarithmic().Curve([]float64{0, 0})}
	if got, err = p.answer(r, []way{half}); err != nil || math.Abs(got.MetBy[0]-0.5) > 1e-9 {
		t.Errorf("with a limit on the logit scale: %v, %v", got.MetBy, err)
	}
}

// What is said of a projection, and what is not.
func TestProjectionStatus(t *testing.T) {
	inf := math.Inf(1)
	for _, c := range []struct {
		p    Projection
		want Status
	}{
		{Projection{Met: true, Usable: 2}, Reached},
		{Projection{Usable: 4, Lower: 6, Upper: 9}, TooEarly},
		{Projection{Usable: 5, Lower: 6, Upper: 9}, Projected},
		{Projection{Usable: 5, Lower: 6, Upper: inf}, TooEarly},
		{Projection{Usable: 5, Lower: inf, Upper: inf}, BeyondHorizon},
	} {
		if got := c.p.status(); got != c.want {
			t.Errorf("%+v: %s, want %s", c.p, got, c.want)
		}
	}
}

// pooledCohort simulates trainees of an exponential curve, a fifth of whose
// attempts break a limit and one in ten is a hard fail.
func pooledCohort(n, attempts int) ([]cohort.Trainee, []practice.Trainee) {
	var ts []cohort.Trainee
	var ps []practice.Trainee
	for i := range n {
		r := resample.Stream(3, "pooled test", i)
		t := practice.Trainee{ID: fmt.Sprint("T", i), ErrorLimits: true}
		p, g, c := 45*math.Exp(0.2*r.NormFloat64()), 130*math.Exp(0.25*r.NormFloat64()), 0.2*math.Exp(0.2*r.NormFloat64())
		for k := 1.0; k <= float64(attempts); k++ {
			y := (p + g*math.Exp(-c*(k-1))) * math.Exp(0.15*r.NormFloat64())
			a := practice.Attempt{Number: k, Response: y, Clean: r.Float64() < 0.8}
			if r.Float64() < 0.1 {
				a.Outcome, a.Response = practice.Failed, math.NaN()
			}
			t.Attempts = append(t.Attempts, a)
		}
		ts, ps = append(ts, cohort.Of(t, false)), append(ps, t)
	}
	return ts, ps
}

// From no attempts up: everybody can be projected, the range narrows as attempts
// arrive, limits delay, and neither workers nor company change a number.
func TestPooledProjections(t *testing.T) {
	ctx := context.Background()
	ts, rs := pooledCohort(15, 20)
	c, err := cohort.Run(ctx, ts, cohort.Spec{Family: models.Exponential(1), Noise: models.Lognormal{}})
	if err != nil {
		t.Fatal(err)
	}
	q := Question{Standard: under(60), Horizon: 100, Rule: mustParse(t, "3 in a row"), Level: 0.9}
	p, err := Pool(ctx, c, false, rs, q)
	if err != nil {
		t.Fatal(err)
	}
	free := make([]practice.Trainee, len(rs))
	for i, r := range rs {
		free[i] = practice.Trainee{ID: r.ID}
		for _, a := range r.Attempts {
			if a.Measured() {
				free[i].Attempts = append(free[i].Attempts, a)
			}
		}
	}
	without, err := Pool(ctx, c, false, free, q)
	if err != nil {
		t.Fatal(err)
	}
	var cut []practice.Trainee
	for _, k := range []float64{0, 5, 10} {
		r := rs[0].Until(k)
		if len(r.Counted()) != int(k) || r.Last() != k {
			t.Fatalf("the first %v attempts: %+v", k, r)
		}
		cut = append(cut, r)
	}
	got, err := p.Project(ctx, cut, resample.Sampling{Seed: 1, Workers: 1})
	if err != nil {
		t.Fatal(err)
	}
	alone, err := p.Project(ctx, cut[1:2], resample.Sampling{Seed: 1, Workers: 3})
	if err != nil {
		t.Fatal(err)
	}
	if alone[0].NotReached != got[1].NotReached || alone[0].Estimate != got[1].Estimate {
		t.Errorf("in company %v, alone %v", got[1].Estimate, alone[0].Estimate)
	}
	easier, err := without.Project(ctx, []practice.Trainee{free[0].Until(0)}, resample.Sampling{Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	if !(easier[0].Estimate < got[0].Estimate) {
		t.Errorf("limits and hard fails do not delay: %v with, %v without", got[0].Estimate, easier[0].Estimate)
	}
	for i, g := range got {
		last := 0.0
		for n, v := range g.MetBy {
			if v < last || v > 1+1e-9 {
				t.Fatalf("after %d attempts: chance %v at %d, %v before", g.Seen, v, n, last)
			}
			last = v
		}
		if !g.Met && !(g.Lower > g.Last && g.Lower <= g.Estimate && g.Estimate <= g.Upper) {
			t.Errorf("after %d attempts: %v (%v to %v)", g.Seen, g.Estimate, g.Lower, g.Upper)
		}
		if i > 0 && !g.Met && g.Upper-g.Lower > got[0].Upper-got[0].Lower {
			t.Errorf("after %d attempts the range is wider than before any", g.Seen)
		}
	}
	if got[0].Status != TooEarly || got[0].Seen != 0 {
		t.Errorf("before any attempt: %+v", got[0].Status)
	}
}

// Chances that cannot be fitted: certain, rare, and mixed ones.
func TestPooledChance(t *testing.T) {
	series := func(no int) []cohort.Trainee {
		var ts []cohort.Trainee
		for i := range 6 {
			t := cohort.Trainee{ID: fmt.Sprint(i)}
			for k := 1.0; k <= 10; k++ {
				y := 1.0
				if int(k) == 3+i && no > 0 {
					y, no = 0, no-1
				}
				t.Attempt, t.Response = append(t.Attempt, k), append(t.Response, y)
			}
			ts = append(ts, t)
		}
		return ts
	}
	for _, c := range []struct {
		no     int
		cohort bool
		n      float64
	}{{0, false, 0}, {2, false, 60}, {6, true, 60}} {
		got, err := learnChance(context.Background(), series(c.no), models.Constant(), nil)
		if err != nil {
			t.Fatal(err)
		}
		if (got.cohort != nil) != c.cohort || got.n != c.n {
			t.Errorf("%d of 60 no: cohort %v, n %v", c.no, got.cohort != nil, got.n)
		}
	}
}

func mustParse(t *testing.T, text string) practice.Rule {
	t.Helper()
	r, err := practice.ParseRule(text)
	if err != nil {
		t.Fatal(err)
	}
	return r
}
