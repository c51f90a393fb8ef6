package cohort

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"tyro/analysis/practice"
	"tyro/analysis/resample"
	"tyro/models"
)

// simulate draws trainees of an exponential curve; spread scales how much they
// differ.
func simulate(n, attempts int, spread float64, seed uint64) []Trainee {
	var ts []Trainee
	for i := range n {
		r := resample.Stream(seed, "test cohort", i)
		t := Trainee{ID: fmt.Sprint("T", i)}
		p, g, c := 45*math.Exp(spread*0.2*r.NormFloat64()), 130*math.Exp(spread*0.25*r.NormFloat64()), 0.2*math.Exp(spread*0.2*r.NormFloat64())
		for k := 1.0; k <= float64(attempts); k++ {
			t.Attempt = append(t.Attempt, k)
			t.Response = append(t.Response, (p+g*math.Exp(-c*(k-1)))*math.Exp(0.15*r.NormFloat64()))
		}
		ts = append(ts, t)
	}
	return ts
}

func exponential() Spec { return Spec{Family: models.Exponential(1), Noise: models.Lognormal{}} }

func carried(c Carry) Spec {
	s := exponential()
	s.Carry = c
	return s
}

func hasWarning(c *Cohort, code string) bool {
	for _, w := range c.Warnings {
		if w.Code == code {
			return true
		}
	}
	return false
}

// Hard but usable data: a named status and a rung that works.
func TestHardData(t *testing.T) {
	one := simulate(20, 15, 1, 1)
	for i := range 10 {
		one[i].Attempt, one[i].Response = one[i].Attempt[:1], one[i].Response[:1]
	}
	single := simulate(20, 15, 1, 2)
	for i := range single {
		single[i].Arm = "usual"
	}
	single[19].Arm = "alone"
	censored := simulate(20, 15, 1, 3)
	for i := range censored {
		censored[i].Censored = make([]bool, 15)
		for j, y := range censored[i].Response {
			if y > 120 {
				censored[i].Response[j], censored[i].Censored[j] = 120, true
			}
		}
	}
	empty := append(simulate(20, 15, 1, 4), Trainee{ID: "nobody"})
	straight := simulate(10, 8, 0, 11)
	for i := range straight { // falls by 5 an attempt: no turn, so no plateau
		r := resample.Stream(12, "straight", i)
		for j := range straight[i].Response {
			straight[i].Response[j] = (100 - 5*float64(j)) * math.Exp(0.05*r.NormFloat64())
		}
	}
	arm := exponential()
	arm.ArmEffect = []string{"plateau", "gain", "rate"}
	for _, c := range []struct {
		name string
		ts   []Trainee
		spec Spec
		code string
	}{
		{"trainees with one attempt", one, exponential(), "one-attempt"},
		{"an arm with a single trainee", single, arm, "single-trainee-arm"},
		{"early attempts censored", censored, exponential(), ""},
		{"no variation between trainees", simulate(20, 15, 0, 5), exponential(), "no-spread"},
		{"a trainee without attempts", empty, exponential(), "no-attempts"},
		{"no plateau in sight", straight, exponential(), "plateau-not-identified"},
		{"trainees with one attempt, carryover", one, carried(CarryWhole), "one-attempt"},
		{"nothing carried over", simulate(20, 15, 1, 1), carried(CarryPart), "carryover-bound"},
		{"no variation, carryover", simulate(20, 15, 0, 5), carried(CarryPart), "no-spread"},
		{"early attempts censored, carryover", censored, carried(CarryWhole), ""},
		{"four trainees", simulate(4, 8, 1, 6), exponential(), "few-trainees"},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := mustRun(t, c.ts, c.spec)
			if got.Status == NotRun || got.Rung == "" || len(got.Ladder) == 0 || got.Ladder[len(got.Ladder)-1].Rung != got.Rung {
				t.Errorf("status %v, rung %q, ladder %v", got.Status, got.Rung, got.Ladder)
			}
			if c.code != "" && !hasWarning(got, c.code) {
				t.Errorf("no warning %s: %v", c.code, got.Warnings)
			}
			for _, e := range got.Fixed {
				if math.IsNaN(e.Estimate) != e.NotIdentified || math.Abs(e.Estimate) > 20 && !hasWarning(got, "not-determined") {
					t.Errorf("%s %s = %v", e.Parameter, e.Arm, e.Estimate)
				}
			}
			for _, m := range got.Members {
				if !(m.Curve.At(1) > 0) || !(m.Spread > 0) {
					t.Errorf("member %s: curve at 1 = %v, spread %v", m.ID, m.Curve.At(1), m.Spread)
				}
			}
		})
	}
}

// Data that no cohort can be made of are refused in words.
func TestRefused(t *testing.T) {
	ts := simulate(10, 10, 1, 1)
	edit := func(f func(ts []Trainee)) []Trainee {
		out := simulate(10, 10, 1, 1)
		f(out)
		return out
	}
	spec := func(f func(*Spec)) Spec {
		s := exponential()
		f(&s)
		return s
	}
	collinear := edit(func(ts []Trainee) {
		for i := range ts {
			ts[i].Covariates = []float64{float64(i), 2*float64(i) + 1}
		}
	})
	for _, c := range []struct {
		name string
		ts   []Trainee
		spec Spec
		says string
	}{
		{"one trainee", ts[:1], exponential(), "at least 2"},
		{"a response missing", edit(func(ts []Trainee) { ts[3].Response = ts[3].Response[:9] }), exponential(), "differ in number"},
		{"all censored", edit(func(ts []Trainee) {
			for i := range ts {
				ts[i].Censored = slices.Repeat([]bool{true}, 10)
			}
		}), exponential(), "right-censored"},
		{"single attempts", edit(func(ts []Trainee) {
			for i := range ts {
				ts[i].Attempt, ts[i].Response = ts[i].Attempt[:1], ts[i].Response[:1]
			}
		}), exponential(), "single attempt"},
		{"a time of 0", edit(func(ts []Trainee) { ts[3].Response[4] = 0 }), exponential(), "T3 at attempt 5 is not above 0"},
		{"NaN", edit(func(ts []Trainee) { ts[3].Response[4] = math.NaN() }), exponential(), "not a usable number"},
		{"attempt 0 of a power curve", edit(func(ts []Trainee) { ts[2].Attempt[0] = 0 }), Spec{Family: models.Power(), Noise: models.Lognormal{}}, "outside the domain"},
		{"twice the same trainee", edit(func(ts []Trainee) { ts[1].ID = "T0" }), exponential(), "twice"},
		{"identical responses", edit(func(ts []Trainee) {
			for i := range ts {
				for j := range ts[i].Response {
					ts[i].Response[j] = 50
				}
			}
		}), exponential(), "same number"},
		{"collinear covariates", collinear, spec(func(s *Spec) {
			s.Covariates = []Covariate{{"prior", []string{"rate"}}, {"age", []string{"rate"}}}
		}), "cannot be told apart"},
		{"unknown parameter", ts, spec(func(s *Spec) { s.Random = []string{"slope"} }), "the parameters are plateau, gain, rate"},
		{"unknown scale", ts, spec(func(s *Spec) { s.Scale = map[string]Scale{"rate": "square"} }), "known are identity and log"},
		{"REML of a curve that bends", ts, spec(func(s *Spec) { s.REML = true }), "linear in everything that moves it"},
		{"REML by quadrature", ts, spec(func(s *Spec) { s.REML, s.Method = true, Quadrature }), "use laplace"},
		{"REML with trainees who differ in noise", ts, Spec{Family: models.Inverse(), Noise: models.Normal{}, REML: true, Random: []string{"plateau", Spread}}, "one residual spread"},
		{"REML of censored times", edit(func(ts []Trainee) { ts[0].Censored = make([]bool, 10); ts[0].Censored[0] = true }),
			Spec{Family: models.Wright(), Noise: models.Lognormal{}, REML: true}, "some are censored"},
		{"carryover of counts", counts(ts), Spec{Family: models.Inverse(), Noise: models.Poisson{}, Carry: CarryWhole}, "not poisson"},
		{"unknown carryover", ts, spec(func(s *Spec) { s.Carry = "some" }), "known are whole and part"},
		{"carryover by arm", ts, spec(func(s *Spec) { s.Carry, s.ArmEffect = CarryWhole, []string{Carryover} }), "common to all trainees"},
		{"quadrature in four dimensions", ts, spec(func(s *Spec) {
			s.Random, s.Method = []string{"plateau", "gain", "rate", Spread}, Quadrature
		}), "up to 3"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := Run(context.Background(), c.ts, c.spec)
			if !errors.Is(err, ErrCohort) || !strings.Contains(err.Error(), c.says) {
				t.Errorf("error %v, want one that says %q", err, c.says)
			}
		})
	}
}

// The numbers do not depend on the workers, to the last bit.
func TestWorkers(t *testing.T) {
	ts := simulate(40, 12, 1, 7)
	var first *Cohort
	var firstNext []float64
	for _, w := range []int{1, 4} {
		s := exponential()
		s.Workers = w
		c := mustRun(t, ts, s)
		p, err := c.Posteriors(context.Background(), ts[:3], resample.Sampling{Seed: 5, Workers: w})
		if err != nil {
			t.Fatal(err)
		}
		next := p[2].Quantiles(13, 0, 0.05, 0.5, 0.95)
		if first == nil {
			first, firstNext = c, next
			continue
		}
		if !slices.Equal(first.theta, c.theta) || first.LogLik != c.LogLik || !slices.Equal(next, firstNext) {
			t.Errorf("%v and %v, %v and %v", first.theta, c.theta, firstNext, next)
		}
	}
}

// Units cancel: minutes instead of seconds move the log of plateau and gain by
// log 60 and nothing else; reordering trainees and attempts changes nothing.
func TestUnitsAndOrder(t *testing.T) {
	ts := simulate(20, 12, 1, 8)
	base := mustRun(t, ts, exponential())
	minutes := simulate(20, 12, 1, 8)
	for i := range minutes {
		for j := range minutes[i].Response {
			minutes[i].Response[j] /= 60
		}
		slices.Reverse(minutes[i].Response)
		slices.Reverse(minutes[i].Attempt)
	}
	slices.Reverse(minutes)
	got := mustRun(t, minutes, exponential())
	for k, shift := range []float64{math.Log(60), math.Log(60), 0} {
		within(t, base.Fixed[k].Parameter, got.Fixed[k].Estimate+shift, base.Fixed[k].Estimate, 1e-5)
		within(t, "SE", got.Fixed[k].SE, base.Fixed[k].SE, 1e-4*base.Fixed[k].SE)
	}
	within(t, "log-likelihood", got.LogLik-float64(240)*math.Log(60), base.LogLik, 1e-6)
}

// Without attempts a trainee's projection is the cohort's; with many the
// trainee's own; and more attempts narrow it.
func TestProjection(t *testing.T) {
	c := mustRun(t, simulate(40, 20, 1, 9), exponential())
	ask := func(tr Trainee) Posterior {
		p, err := c.Posteriors(context.Background(), []Trainee{tr}, resample.Sampling{Seed: 1})
		if err != nil {
			t.Fatal(err)
		}
		return p[0]
	}
	slow := simulate(1, 20, 0, 99)[0] // a trainee half as fast again as the middle one
	for j := range slow.Response {
		slow.Response[j] *= 1.5
	}
	cut := func(k int) Trainee {
		return Trainee{ID: slow.ID, Attempt: slow.Attempt[:k], Response: slow.Response[:k]}
	}
	mid, err := c.Middle("")
	if err != nil {
		t.Fatal(err)
	}
	p0, p3, p20 := ask(cut(0)), ask(cut(3)), ask(cut(20))
	prior, few, own := p0.Quantiles(21, 0, 0.05, 0.5, 0.95), p3.Quantiles(21, 0, 0.05, 0.5, 0.95), p20.Quantiles(21, 0, 0.05, 0.5, 0.95)
	within(t, "without attempts", prior[1], mid.At(21), 0.05*mid.At(21))
	truth := 1.5 * (45 + 130*math.Exp(-0.2*20))
	if !(prior[1] < few[1] && few[1] < own[1]) {
		t.Errorf("medians %v, %v, %v do not move to the trainee's own %v", prior[1], few[1], own[1], truth)
	}
	within(t, "with 20 attempts", own[1], truth, 0.15*truth)
	if !(own[2]-own[0] < prior[2]-prior[0]) {
		t.Errorf("20 attempts do not narrow the range: %v, %v", own, prior)
	}
	for _, q := range []float64{0.05, 0.5, 0.95} {
		within(t, "CDF of its quantile", p3.CDF(21, 0, p3.Quantiles(21, 0, q)[0]), q, 1e-5)
	}
}

// The share of new trainees proficient, where the answer is known: one random
// parameter with next to no uncertainty about it. The curve 40·exp(0.3·v) +
// 100·exp(−0.3(n−1)) meets 60 by n where 40·exp(0.3 v) ≤ 60 − 100·exp(−0.3(n−1)),
// a normal chance in v.
func TestPopulation(t *testing.T) {
	var ts []Trainee
	for i := range 200 {
		r := resample.Stream(3, "population", i)
		p := 40 * math.Exp(0.3*r.NormFloat64())
		tr := Trainee{ID: fmt.Sprint(i)}
		for n := 1.0; n <= 20; n++ {
			tr.Attempt, tr.Response = append(tr.Attempt, n), append(tr.Response, (p+100*math.Exp(-0.3*(n-1)))*math.Exp(0.05*r.NormFloat64()))
		}
		ts = append(ts, tr)
	}
	s := exponential()
	s.Random = []string{"plateau"}
	c := mustRun(t, ts, s)
	rows, err := Shares(context.Background(), c, "", Question{Standard: practice.Standard{Value: 60, Lower: true}, Horizon: 30}, false, resample.Sampling{Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range []int{6, 8, 12, 30} {
		left := 60 - 100*math.Exp(-0.3*float64(n-1))
		want := 0.5 * math.Erfc(-math.Log(left/40)/0.3/math.Sqrt2)
		r := rows[n-1]
		if !(r.Lower <= want+0.02 && want-0.02 <= r.Upper) || math.Abs(r.Share-want) > 0.06 {
			t.Errorf("by attempt %d: %.3f (%.3f to %.3f), the truth is %.3f", n, r.Share, r.Lower, r.Upper, want)
		}
	}
}

// The rule for n points integrates the even moments of a standard normal
// variable up to degree 2n − 1: 1, 1, 3, 15, 105.
func TestHermite(t *testing.T) {
	for _, n := range []int{3, 5, 9, 20} {
		x, w := hermite(n)
		for k, want := range []float64{1, 1, 3, 15, 105} {
			if 2*k > 2*n-1 {
				break
			}
			sum := 0.0
			for i := range x {
				sum += w[i] * math.Pow(x[i], float64(2*k))
			}
			within(t, fmt.Sprintf("%d points, moment %d", n, 2*k), sum, want, 1e-11*want)
		}
	}
}

// Whole trainees, new identities, streams by replicate.
func TestBootstrap(t *testing.T) {
	s := exponential()
	s.Uncorrelated = true
	checkBootstrap(t, mustRun(t, simulate(20, 12, 1, 10), s).Bootstrap)
}

// checkBootstrap asks for the same numbers on one and on three workers, and for
// intervals about the estimates of fixed effects.
func checkBootstrap(t *testing.T, bootstrap func(context.Context, resample.Sampling) ([]Bootstrapped, error)) {
	t.Helper()
	var first []Bootstrapped
	for _, w := range []int{1, 3} {
		b, err := bootstrap(context.Background(), resample.Sampling{Seed: 1, Replicates: 40, Workers: w})
		if err != nil {
			t.Fatal(err)
		}
		if first == nil {
			first = b
		}
		for j, q := range b {
			if q.Interval != first[j].Interval && !math.IsNaN(q.Interval.Lower) {
				t.Errorf("%s %s: %v and %v", q.Kind, q.Parameter, first[j].Interval, q.Interval)
			}
			if q.Kind == "fixed" && !(q.Interval.Lower < q.Estimate && q.Estimate < q.Interval.Upper) {
				t.Errorf("%s: %v outside %v to %v", q.Parameter, q.Estimate, q.Interval.Lower, q.Interval.Upper)
			}
		}
	}
}

// Where the model holds, later attempts are uniform in their predictions: with
// 40 trainees and 10 later attempts each, 400 in all, the share in the inner
// 90 % has standard error 1.5 % by itself.
func TestCalibration(t *testing.T) {
	c := mustRun(t, simulate(40, 20, 1, 13), exponential())
	h, err := c.Halves(t.Context(), resample.Sampling{Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	ts, err := h.Calibration(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if len(ts) != 400 {
		t.Errorf("%d attempts, want 400", len(ts))
	}
	inside := 0.0
	for _, v := range ts {
		if v.Value > 0.05 && v.Value < 0.95 {
			inside++
		}
	}
	within(t, "share inside 90 %", inside/400, 0.9, 0.05)
}

// A profile is refused where there is none.
func TestProfileRefused(t *testing.T) {
	c := mustRun(t, load(t, "boundary.csv", "trainee", "", "attempt", "score"), Spec{Family: models.Inverse(), Noise: models.Normal{}})
	if _, err := c.Profile(context.Background()); !errors.Is(err, ErrCohort) || !strings.Contains(err.Error(), "±1") {
		t.Error(err)
	}
	c = mustRun(t, load(t, "carry.csv", "trainee", "", "attempt", "score"), Spec{Family: models.Inverse(), Noise: models.Normal{}, REML: true})
	if _, err := c.Profile(context.Background()); !errors.Is(err, ErrCohort) || !strings.Contains(err.Error(), "without REML") {
		t.Error(err)
	}
}
