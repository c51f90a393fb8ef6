package proficiency

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"tyro/analysis"
	"tyro/analysis/cohort"
	"tyro/analysis/fit"
	"tyro/analysis/monitor"
	"tyro/analysis/practice"
	"tyro/analysis/resample"
	"tyro/analysis/stopping"
	"tyro/models"
)

// candidates are the curves that an automatic choice tries.
func candidates(t *testing.T, noise models.Noise, positive bool) []fit.Spec {
	t.Helper()
	var fs []models.Family
	for _, name := range models.Candidates(noise) {
		if name == "wright" && !positive {
			continue
		}
		f, err := models.ByName(name, 1)
		if err != nil {
			t.Fatal(err)
		}
		fs = append(fs, f)
	}
	return fit.Candidates(fit.Spec{Noise: noise, Positive: positive}, fs)
}

func has(ws []analysis.Warning, code string) bool {
	return slices.ContainsFunc(ws, func(w analysis.Warning) bool { return w.Code == code })
}

// ratios disturb a series by factors that do not depend on a generator.
func ratios(sd float64, values ...float64) fit.Series {
	var s fit.Series
	for i, v := range values {
		s.Attempt = append(s.Attempt, float64(i+1))
		s.Response = append(s.Response, v*math.Exp(sd*[]float64{1, -1, -0.5, 1.2, -0.7}[i%5]))
	}
	return s
}

// line is n values from a to b in equal steps.
func line(a, b float64, n int) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = a + (b-a)*float64(i)/float64(n-1)
	}
	return out
}

func testChart() *stopping.Chart {
	return &stopping.Chart{Rates: monitor.Rates{Acceptable: 1. / 3, Unacceptable: 2. / 3}, H: 2 * math.Ln2}
}

// Times that rise from 40 to 120 seconds against a standard of 60 are nobody's
// proficiency, under any of the definitions; the trainee's own passes met the rule at
// attempt 2, which is said.
func TestWorseIsNotReached(t *testing.T) {
	s := ratios(0.05, line(40, 120, 20)...)
	q := Question{Standard: under(60), Rule: mustParse(t, "2 in a row"), Chart: testChart()}
	for _, average := range []bool{false, true} {
		q.Average = average
		as := ask(t, s, 0, q, candidates(t, models.Lognormal{}, true))
		if len(as) != 4 {
			t.Fatalf("%d answers", len(as))
		}
		for _, a := range as {
			if a.Status != MovingAway || !math.IsNaN(a.Estimate) || !math.IsNaN(a.Lower) || !math.IsNaN(a.At) || !(a.NotReached > 0.95) || !has(a.Warnings, "moving-away") {
				t.Errorf("%s: attempt %v from %v (%s), %v not reached, warnings %v", a.Definition, a.Estimate, a.Lower, a.Status, a.NotReached, a.Warnings)
			}
			if !(a.Leaves > 1 && a.Leaves < 20) {
				t.Errorf("%s: left from attempt %v on", a.Definition, a.Leaves)
			}
			if a.Definition == RuleMet && !has(a.Warnings, "observed-met") {
				t.Errorf("nothing says that the passes met the rule: %v", a.Warnings)
			}
		}
	}
}

// By hand: 30·n^r reaches 55 at attempt 20 with r = ln(55/30)/ln 20 = 0.2023, and 60 at
// exp(ln 2/r) = 30.74, so that attempt 31 is the first above it. Almost without noise a
// pass is as good as certain below 60.
func TestLeavesWithinHorizon(t *testing.T) {
	r := math.Log(55./30) / math.Log(20)
	truth := models.Wright().Curve([]float64{30, -r})
	s := simulate(truth, 1e-6, 20, 0)
	specs := lognormalSpecs(models.Wright())
	q := Question{Standard: under(60), Rule: mustParse(t, "2 in a row"), Horizon: 31}
	for _, a := range ask(t, s, 0, q, specs) {
		want := 1.0
		if a.Definition == RuleMet {
			want = 2
		}
		if a.Status != MovingAway || a.Leaves != 31 || a.Estimate != want || a.Lower != want || !has(a.Warnings, "moving-away") {
			t.Errorf("%s: attempt %v from %v (%s), left at %v; want %v, moving away, 31", a.Definition, a.Estimate, a.Lower, a.Status, a.Leaves, want)
		}
		if !slices.ContainsFunc(a.Warnings, func(w analysis.Warning) bool { return strings.Contains(w.Text, "attempt 31") }) {
			t.Errorf("%s: no sentence names attempt 31: %v", a.Definition, a.Warnings)
		}
	}
	q.Horizon = 30
	for _, a := range ask(t, s, 0, q, specs) {
		if a.Status != Reached || !math.IsNaN(a.Leaves) || has(a.Warnings, "moving-away") {
			t.Errorf("%s with a horizon of 30: %s, left at %v", a.Definition, a.Status, a.Leaves)
		}
	}
}

// Series by hand, with the status that mean-crossing must have.
func TestAwaySeries(t *testing.T) {
	higher := practice.Standard{Value: 75}
	for _, c := range []struct {
		name  string
		s     fit.Series
		q     Question
		noise models.Noise
		want  Status
	}{
		{"falling times", ratios(0.05, line(120, 40, 20)...), Question{Standard: under(60)}, models.Lognormal{}, Reached},
		{"flat inside", ratios(0.1, line(50, 50, 20)...), Question{Standard: under(60)}, models.Lognormal{}, Reached},
		{"flat outside", ratios(0.1, line(70, 70, 20)...), Question{Standard: under(60)}, models.Lognormal{}, BeyondHorizon},
		{"barely rising well inside", ratios(0.02, line(30, 31, 20)...), Question{Standard: under(60)}, models.Lognormal{}, Reached},
		{"rising to rest outside", ratios(0.02, append(line(40, 100, 6), line(100, 100, 30)...)...), Question{Standard: under(60)}, models.Lognormal{}, MovingAway},
		{"better, then worse", ratios(0.05, append(line(100, 40, 10), line(45, 110, 15)...)...), Question{Standard: under(60)}, models.Lognormal{}, BeyondHorizon},
		{"falling scores", ratios(0.02, line(95, 40, 20)...), Question{Standard: higher}, models.Normal{}, MovingAway},
		{"rising scores", ratios(0.02, line(40, 95, 20)...), Question{Standard: higher}, models.Normal{}, Reached},
		{"rising counts", fit.Series{Attempt: line(1, 20, 20), Response: []float64{0, 1, 0, 1, 1, 2, 1, 3, 2, 4, 3, 4, 5, 4, 6, 5, 7, 6, 8, 7}}, Question{Standard: under(2)}, models.Poisson{}, MovingAway},
		{"falling counts", fit.Series{Attempt: line(1, 20, 20), Response: []float64{9, 8, 7, 8, 6, 5, 6, 4, 4, 3, 2, 3, 2, 1, 1, 0, 1, 0, 1, 0}}, Question{Standard: under(2)}, models.Poisson{}, Reached},
		{"fewer and fewer passes", fit.Series{Attempt: line(1, 24, 24), Response: []float64{1, 1, 1, 1, 1, 1, 1, 0, 1, 1, 0, 1, 0, 0, 1, 0, 0, 0, 1, 0, 0, 0, 0, 0}}, Question{Standard: practice.Standard{Value: 0.8, PassFail: true}}, models.Bernoulli{}, MovingAway},
	} {
		_, positive := c.noise.(models.Lognormal)
		for _, a := range ask(t, c.s, 0, c.q, candidates(t, c.noise, positive))[:1] {
			if a.Status != c.want {
				t.Errorf("%s: %s (attempt %v, left at %v), want %s", c.name, a.Status, a.Estimate, a.Leaves, c.want)
			}
		}
	}
}

type byAttempt func(n float64) float64

func (b byAttempt) at(n float64) float64 { return b(n) }

// A chance of 0.8 that error limits take away again is none, and one that comes back
// after the last attempt is a projection. By hand: the curve always passes, the limits
// are kept with chances that fall below 0.8 from attempt 6 on, and rise to it at 30.
func TestErrorLimitsLeftAgain(t *testing.T) {
	p := passing{curve: models.Constant().Curve([]float64{1}), noise: models.Lognormal{}, scale: 1e-3, last: 10}
	q := Question{Standard: under(60), Horizon: 40, Chance: 0.8}.orDefaults()
	p.clean = byAttempt(func(n float64) float64 { return 1.05 - 0.05*math.Max(n, 1) })
	if at, leaves := q.newCounter().crossings(p)[1], q.leavings(p)[1]; !math.IsInf(at, 1) || leaves != 6 {
		t.Errorf("a chance that fell below 0.8 is met at %v and left at %v, want never and 6", at, leaves)
	}
	p.last = 3
	if at, leaves := q.newCounter().crossings(p)[1], q.leavings(p)[1]; at != 1 || leaves != 6 {
		t.Errorf("after 3 attempts met at %v and left at %v, want 1 and 6", at, leaves)
	}
	p.last, p.clean = 10, byAttempt(func(n float64) float64 {
		if n > 5 && n < 30 {
			return 0.7
		}
		return 0.9
	})
	if at, leaves := q.newCounter().crossings(p)[1], q.leavings(p)[1]; at != 30 || !math.IsInf(leaves, 1) {
		t.Errorf("a chance that comes back is met at %v and left at %v, want 30 and never", at, leaves)
	}
}

// Whatever the series: reached says that the level is met at the last attempt made and
// up to the horizon, and a trainee who moves away without an estimate does not meet it
// at the last one.
func TestReachedMeetsTheStandard(t *testing.T) {
	seen := map[Status]int{}
	for key := range 150 {
		r := resample.Stream(9, "reached", key)
		noise, positive := models.Noise(models.Lognormal{}), true
		q := Question{Standard: practice.Standard{Value: 20 + 100*r.Float64(), Lower: r.Float64() < 0.7}, Horizon: 20 + float64(r.IntN(80)), Rule: mustParse(t, "2 in a row")}
		if key%3 == 0 {
			noise, positive = models.Normal{}, false
		}
		a, b, turn := 20+100*r.Float64(), 20+100*r.Float64(), r.Float64()
		s := fit.Series{}
		for n := range 8 + r.IntN(30) {
			x := math.Abs(float64(n)/20 - turn*float64(key%2))
			y := a + (b-a)*(1-math.Exp(-2*x))
			s.Attempt = append(s.Attempt, float64(n+1))
			s.Response = append(s.Response, y*math.Exp(0.15*r.NormFloat64()))
		}
		l, err := Learn(practice.Measured("t", s.Attempt, s.Response), candidates(t, noise, positive))
		if err != nil {
			t.Fatal(err)
		}
		as, err := l.Attempts(context.Background(), q, resample.Sampling{Seed: 1, Replicates: 20}, fmt.Sprint(key))
		if err != nil {
			t.Fatal(err)
		}
		full, p := q.orDefaults(), l.passing()
		for k, a := range as[:2] {
			seen[a.Status]++
			meets := func(n float64) bool {
				m := p.curve.At(n)
				if k == 0 {
					return full.Standard.Beyond(m, full.Standard.Curve(noise)) || math.Abs(m-full.Standard.Value) < 1e-6
				}
				return full.chance(p, n) >= full.Chance-1e-6
			}
			last := s.Attempt[len(s.Attempt)-1]
			for n := last; a.Status == Reached && n <= math.Max(last, q.Horizon); n++ {
				if !meets(n) {
					t.Errorf("series %d, %s: reached at %v, not met at %v (last %v)", key, a.Definition, a.Estimate, n, last)
					break
				}
			}
			if a.Status == MovingAway && math.IsNaN(a.Estimate) == meets(last) {
				t.Errorf("series %d, %s: moving away with estimate %v, met at the last attempt: %v", key, a.Definition, a.Estimate, meets(last))
			}
			if a.Status != MovingAway && !math.IsNaN(a.Leaves) {
				t.Errorf("series %d, %s: %s, left at %v", key, a.Definition, a.Status, a.Leaves)
			}
		}
	}
	for _, s := range []Status{Reached, Projected, MovingAway, BeyondHorizon} {
		if seen[s] == 0 {
			t.Errorf("no series was %s: %v", s, seen)
		}
	}
}

// By hand: of two who move away, one at 3 and one at 5 half are there by 5; a third who
// moves away leaves no half, and most move away.
func TestGroupMovingAway(t *testing.T) {
	ctx := context.Background()
	at := func(s Status, n float64) Answer { return Answer{Definition: MeanCrossing, Status: s, Estimate: n} }
	members := []Answer{at(MovingAway, math.NaN()), at(MovingAway, 1), at(Reached, 3), at(Reached, 5)}
	a, err := OfGroup(ctx, members, Question{}, resample.Sampling{Seed: 1}, "t")
	if err != nil || a.Estimate != 5 || a.NotReached != 0.5 || a.Status != Reached || !has(a.Warnings, "moving-away") || has(a.Warnings, "left-out") {
		t.Errorf("%+v, %v; want half by 5", a, err)
	}
	a, err = OfGroup(ctx, append(members, at(MovingAway, 2)), Question{}, resample.Sampling{Seed: 1}, "t")
	if err != nil || !math.IsNaN(a.Estimate) || a.Status != MovingAway || math.Abs(a.NotReached-0.6) > 1e-12 {
		t.Errorf("%+v, %v; want moving away", a, err)
	}
	if !strings.Contains(a.Warnings[0].Text, "3 of 5 trainees") {
		t.Errorf("warnings %v", a.Warnings)
	}
}

// A rising curve among three possible ones is outvoted; two of three are not. By hand:
// 29·n^0.2 passes 60 at (60/29)^5 = 37.9, so attempt 38 is the first not to meet it;
// 70·n^0.2 never does.
func TestNewTraineeMovingAway(t *testing.T) {
	q := Question{Standard: under(60), Horizon: 50}.orDefaults()
	of := func(theta ...float64) way {
		return way{measure: passing{curve: models.Wright().Curve(theta), noise: models.Lognormal{}, scale: 1e-6}, share: 1}
	}
	better, rising, outside := of(100, 0.3), of(29, -0.2), of(70, -0.2)
	for _, c := range []struct {
		ways     []way
		want     Status
		estimate float64
		leaves   float64
	}{
		{[]way{better, better, rising}, Projected, 6, math.NaN()}, // 100·n^−0.3 ≤ 60 at 5.49
		{[]way{better, rising, rising}, MovingAway, 1, 38},
		{[]way{better, outside, outside}, MovingAway, math.NaN(), 1},
	} {
		as, err := q.ofWays(c.ways)
		if err != nil {
			t.Fatal(err)
		}
		same := func(a, b float64) bool { return a == b || math.IsNaN(a) && math.IsNaN(b) }
		for _, a := range as {
			if a.Status != c.want || !same(a.Estimate, c.estimate) || !same(a.Leaves, c.leaves) {
				t.Errorf("%s: %v (%s), left at %v; want %v (%s), %v", a.Definition, a.Estimate, a.Status, a.Leaves, c.estimate, c.want, c.leaves)
			}
		}
	}
}

// A cohort that gets worse: a trainee of it who has met the rule is not told that all is
// well, and one who has not has no number of attempts.
func TestProjectionMovingAway(t *testing.T) {
	var ts []cohort.Trainee
	var ps []practice.Trainee
	for i := range 8 {
		r := resample.Stream(4, "worse", i)
		p := practice.Trainee{ID: fmt.Sprint("T", i)}
		for n := 1.0; n <= 15; n++ {
			p.Attempts = append(p.Attempts, practice.Attempt{Number: n, Response: (35 + float64(i)) * math.Pow(n, 0.45) * math.Exp(0.08*r.NormFloat64()), Clean: true})
		}
		ts, ps = append(ts, cohort.Of(p, false)), append(ps, p)
	}
	ctx := context.Background()
	c, err := cohort.Run(ctx, ts, cohort.Spec{Family: models.Wright(), Noise: models.Lognormal{}, Scale: map[string]cohort.Scale{"rate": cohort.Identity}})
	if err != nil {
		t.Fatal(err)
	}
	pool, err := Pool(ctx, c, false, ps, Question{Standard: under(60), Rule: mustParse(t, "2 in a row"), Horizon: 60})
	if err != nil {
		t.Fatal(err)
	}
	never := practice.Trainee{ID: "never"}
	for _, a := range ps[7].Attempts {
		a.Number -= 8
		if a.Number >= 1 {
			never.Attempts = append(never.Attempts, a)
		}
	}
	got, err := pool.Project(ctx, []practice.Trainee{ps[0], never, ps[0].Until(3)}, resample.Sampling{Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	if g := got[0]; !g.Met || g.Status != MovingAway || g.Estimate != 2 {
		t.Errorf("met at %v (%s), want 2, moving away", g.Estimate, g.Status)
	}
	if leaves, away := got[0].MovingAway(MeanCrossing); !away || !(leaves > 1 && leaves <= 15) {
		t.Errorf("mean-crossing is left at %v (%v)", leaves, away)
	}
	if g := got[1]; g.Met || g.Status != MovingAway || !math.IsNaN(g.Estimate) {
		t.Errorf("without a pass: %v (%s), want moving away without a number", g.Estimate, g.Status)
	}
	if g := got[2]; g.Status != Reached {
		t.Errorf("after three attempts: %s, want reached: they are too few to say more", g.Status)
	}
}

// Thirty attempts of which every third passes by luck of the draw: the fitted chance of
// about a third says two in a row by attempt 9, the passes never show it. By hand: with a
// chance of 1/3 two in a row have come by attempt 30 with chance 0.953.
func TestBesideThePasses(t *testing.T) {
	var s fit.Series
	for n := 1.0; n <= 30; n++ {
		y := 0.0
		if int(n)%3 == 0 {
			y = 1
		}
		s.Attempt, s.Response = append(s.Attempt, n), append(s.Response, y)
	}
	q := Question{Standard: practice.Standard{Value: 0.3, PassFail: true}, Rule: mustParse(t, "2 in a row")}
	a := ask(t, s, 0, q, []fit.Spec{{Family: models.Constant(), Noise: models.Bernoulli{}}})[2]
	if a.Status != Reached || !has(a.Warnings, "observed-not-met") {
		t.Fatalf("%s at %v, warnings %v", a.Status, a.Estimate, a.Warnings)
	}
	// The chance of no two in a row among n attempts follows u(n) = 2/3·u(n−1) + 2/9·u(n−2).
	u := []float64{1, 1}
	for n := 2; n <= 30; n++ {
		u = append(u, 2./3*u[n-1]+2./9*u[n-2])
	}
	for _, part := range []string{"30 attempts seen", "passes: 10", fmt.Sprintf("chance of %.2g", u[30])} {
		if !strings.Contains(a.Warnings[0].Text, part) {
			t.Errorf("%q lacks %q", a.Warnings[0].Text, part)
		}
	}
	// Ten attempts under the standard, all with too many errors or failed.
	tr := practice.Measured("t", line(1, 12, 12), ratios(0.1, line(40, 40, 12)...).Response)
	tr.ErrorLimits = true
	for i := range tr.Attempts {
		tr.Attempts[i].Clean = false
	}
	tr.Attempts[3].Outcome, tr.Attempts[3].Response = practice.Failed, math.NaN()
	m := answers(t, tr, Question{Standard: under(60)}, lognormalSpecs(models.Constant()), 50)[0]
	want := "none of the 12 attempts from attempt 1 on passed (hard fails: 1, standard met but too many errors: 11, standard not met: 0)"
	if m.Status != Reached || !slices.Contains(m.Warnings, analysis.Warning{Code: "observed-no-pass", Text: want}) {
		t.Errorf("%s, warnings %v", m.Status, m.Warnings)
	}
}

// A hundred trainees who do not change at all, well within the standard: an exponential
// curve, chosen beforehand, rises in half of them by chance, and would leave the standard
// within the horizon in about 15. The attempts show nothing of it, by AICc, in all but 5
// in a hundred or fewer, who alone may be told that they move away.
func TestAFlatTrainee(t *testing.T) {
	spec := fit.Spec{Family: models.Exponential(1), Noise: models.Lognormal{}, Positive: true}
	question := Question{Standard: practice.Standard{Value: 60, Lower: true}}
	away := 0
	for i := range 100 {
		r := rand.New(rand.NewPCG(uint64(i), 7))
		var attempt, seconds []float64
		for k := range 20 {
			attempt, seconds = append(attempt, float64(k+1)), append(seconds, 50*math.Exp(0.2*r.NormFloat64()))
		}
		l, err := Learn(practice.Measured("flat", attempt, seconds), []fit.Spec{spec})
		if err != nil {
			t.Fatal(err)
		}
		answers, err := l.Attempts(t.Context(), question, resample.Sampling{Seed: 1, Replicates: 20}, "flat")
		if err != nil {
			t.Fatal(err)
		}
		if answers[0].Status == MovingAway {
			away++
		}
	}
	if away > 5 {
		t.Errorf("%d of 100 trainees who do not change are told that they move away", away)
	}
}

// The most that a chance to pass can be is no less than any of them, also where the measure
// improves and errors become more likely.
func TestMostOfAnOutlook(t *testing.T) {
	q, err := Question{Standard: practice.Standard{Value: 60, Lower: true}, Horizon: 80}.Ready()
	if err != nil {
		t.Fatal(err)
	}
	r := resample.Stream(4, "outlooks", 0)
	c := q.newOutlook()
	for range 300 {
		w := way{
			measure: passing{curve: models.Exponential(1).Curve([]float64{40 + 30*r.Float64(), 60 * r.NormFloat64(), 0.3 * r.Float64()}), noise: models.Lognormal{}, scale: 0.1 + 0.3*r.Float64()},
			share:   r.Float64(), also: []models.Curve{models.Logarithmic().Curve([]float64{2 * r.NormFloat64(), r.NormFloat64()})},
		}
		c.under(w)
		for n := 1.0; n <= 80; n++ {
			if at := c.at(n); at > c.most()+1e-12 {
				t.Fatalf("attempt %v passes with %v, the most is %v: %+v", n, at, c.most(), w)
			}
		}
	}
}

// Three of four ways cross at 5, 7 and 9; the fourth begins below the level and leaves it at 20, so that it does not get
// there. Where three of four leave, the crossings stay, and the answer says moving-away.
func TestFewWhoLeadAwayDoNotGetThere(t *testing.T) {
	inf := math.Inf(1)
	if got := unlessLeft([]float64{5, 7, 9, 1}, []float64{inf, inf, inf, 20}); !slices.Equal(got, []float64{5, 7, 9, inf}) {
		t.Errorf("few lead away: %v", got)
	}
	if got := unlessLeft([]float64{1, 1, 9, 1}, []float64{20, 30, inf, 20}); !slices.Equal(got, []float64{1, 1, 9, 1}) {
		t.Errorf("most lead away: %v", got)
	}
}
