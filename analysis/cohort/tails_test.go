package cohort

import (
	"context"
	"math"
	"slices"
	"strings"
	"testing"

	"tyro/analysis/resample"
	"tyro/models"
)

// heavy are trainees whose logarithms of times lie about a straight line in the logarithm of the
// attempt with t on 4 degrees of freedom, in sessions of six, some cut off at a limit.
func heavy(n, attempts int, limit float64, seed uint64) []Trainee {
	var ts []Trainee
	for i := range n {
		r := resample.Stream(seed, "heavy tails", i)
		t := Trainee{ID: string(rune('A' + i)), Arm: []string{"usual", "new"}[i%2]}
		level, slope, spread := 5+0.25*r.NormFloat64(), 0.3+0.08*r.NormFloat64(), 0.13*math.Exp(0.3*r.NormFloat64())
		if t.Arm == "new" {
			level -= 0.2
		}
		for k := range attempts {
			mu := level - slope*math.Log(float64(k+1))
			since := 0.0
			if k >= 6 {
				since = float64(k%6 + 1)
				mu += 0.2 * math.Exp(-0.7*(since-1))
			}
			y := math.Exp(mu + models.Student{}.Quantile(r.Float64(), 0, spread))
			t.Attempt, t.Restart = append(t.Attempt, float64(k+1)), append(t.Restart, since)
			t.Response, t.Censored = append(t.Response, math.Min(y, limit)), append(t.Censored, y > limit)
		}
		ts = append(ts, t)
	}
	return ts
}

// inLogs has the logarithms of the responses.
func inLogs(ts []Trainee) []Trainee {
	out := slices.Clone(ts)
	for i := range out {
		out[i].Response = slices.Clone(out[i].Response)
		for j, y := range out[i].Response {
			out[i].Response[j] = math.Log(y)
		}
	}
	return out
}

// Times with t noise on their logarithms about log gain − rate·log n are logarithms with t noise
// about a straight line: the likelihood of the one is that of the other less the sum of the
// logarithms of the exact times, level and slope are the same, and so are spreads and what breaks do.
func TestHeavyTailsAreThoseOfALineInLogs(t *testing.T) {
	for _, w := range []struct {
		name            string
		limit           float64
		sessions, own   bool
		censored, least int
	}{
		{"exact times", math.Inf(1), false, false, 0, 0},
		{"breaks and own spread", math.Inf(1), true, true, 0, 0},
		{"some cut off", 130, true, false, 1, 10},
	} {
		t.Run(w.name, func(t *testing.T) {
			ts := heavy(16, 18, w.limit, 3)
			random := func(names ...string) []string {
				if w.sessions {
					names = append(names, Session)
				}
				if w.own {
					names = append(names, Spread)
				}
				return names
			}
			times := mustRun(t, ts, Spec{Family: models.Wright(), Noise: models.LogStudent{}, Scale: map[string]Scale{"rate": Identity},
				Random: random("gain", "rate"), ArmEffect: []string{"gain", "rate"}, Sessions: w.sessions})
			logs := mustRun(t, inLogs(ts), Spec{Family: models.Logarithmic(), Noise: models.Student{}, Scale: map[string]Scale{"start": Identity, "slope": Identity},
				Random: random("start", "slope"), ArmEffect: []string{"start", "slope"}, Sessions: w.sessions})
			if times.NCensored < w.least {
				t.Errorf("only %d cut off", times.NCensored)
			}
			jacobian := 0.0
			for _, one := range ts {
				for j, y := range one.Response {
					if !one.Censored[j] {
						jacobian -= math.Log(y)
					}
				}
			}
			within(t, "log-likelihood of logs", times.LogLikLog, logs.LogLik, 1e-6)
			within(t, "log-likelihood", times.LogLik, logs.LogLik+jacobian, 1e-6)
			for _, arm := range []string{"usual", "new"} {
				for _, pair := range []struct {
					times, logs string
					sign        float64
				}{{"gain", "start", 1}, {"rate", "slope", -1}} {
					a, b := effect(t, times, pair.times, arm), effect(t, logs, pair.logs, arm)
					within(t, pair.times+" "+arm, a.Estimate, pair.sign*b.Estimate, 1e-4*b.SE)
					within(t, "SE of "+pair.times+" "+arm, a.SE, b.SE, 1e-3*b.SE)
				}
			}
			for k := range times.Random {
				within(t, "spread of "+times.Random[k].Parameter, times.Random[k].SD, logs.Random[k].SD, 1e-3*logs.Random[k].SD)
			}
			within(t, "residual", times.Residual.Estimate, logs.Residual.Estimate, 1e-4*logs.Residual.Estimate)
			if w.sessions {
				a, b := effect(t, times, Session, ""), effect(t, logs, Session, "")
				within(t, "restart", a.Estimate, b.Estimate, 1e-3*b.SE)
			}
		})
	}
}

// About a level alone every parameter of the one is one of the other, so that the same draws are
// made: what is foretold of times is e to what is foretold of logarithms, from the first attempts, as
// they arrive, and in simulated responses.
func TestHeavyTailsForetellAsInLogs(t *testing.T) {
	ts := heavy(12, 14, 200, 5)
	spec := Spec{Family: models.Constant(), Noise: models.LogStudent{}, Random: []string{"plateau", Session, Spread}, Sessions: true}
	plainly := spec
	plainly.Noise, plainly.Scale = models.Student{}, map[string]Scale{"plateau": Identity}
	times, logs := mustRun(t, ts, spec), mustRun(t, inLogs(ts), plainly)
	within(t, "log-likelihood of logs", times.LogLikLog, logs.LogLik, 1e-6)

	few := []Trainee{ts[2].Until(5), ts[7].Until(9), {ID: "new", Arm: "usual"}}
	sampling := resample.Sampling{Seed: 4}
	of, err := times.Posteriors(context.Background(), few, sampling)
	if err != nil {
		t.Fatal(err)
	}
	in, err := logs.Posteriors(context.Background(), inLogs(few), sampling)
	if err != nil {
		t.Fatal(err)
	}
	same := func(what string, of, in *Posterior) {
		t.Helper()
		const tol = 2e-4 // the two fits stop within so much of each other
		shares := []float64{0.05, 0.5, 0.9}
		middle, a := of.Foretold(10, 2, shares...)
		within(t, what+": expected", math.Log(middle), in.Expected(10, 2), tol)
		for k, q := range in.Quantiles(10, 2, shares...) {
			within(t, what+": quantile", math.Log(a[k]), q, tol)
		}
		for _, y := range []float64{40, 80, 300} {
			within(t, what+": chance", of.CDF(10, 0, y), in.CDF(10, 0, math.Log(y)), tol)
			within(t, what+": density", of.LogDensity(10, 0, y, false), in.LogDensity(10, 0, math.Log(y), false)-math.Log(y), 10*tol)
			within(t, what+": chance of more", of.LogDensity(10, 0, y, true), in.LogDensity(10, 0, math.Log(y), true), 10*tol)
		}
	}
	for i := range of {
		same(few[i].ID, &of[i], &in[i])
	}

	fit := func(c *Cohort, seen Trainee, rest Trainee) Posterior {
		f, err := c.Follow(context.Background(), seen, 8)
		if err != nil {
			t.Fatal(err)
		}
		for j := len(seen.Attempt); j < len(rest.Attempt); j++ {
			if _, err := f.Add(context.Background(), Attempt{rest.Attempt[j], rest.Response[j], rest.Censored[j], rest.Restart[j]}); err != nil {
				t.Fatal(err)
			}
		}
		p, err := f.Posterior()
		if err != nil {
			t.Fatal(err)
		}
		return p
	}
	long := heavy(1, freshUntil+6, 200, 9)
	a, b := fit(times, long[0].Until(3), long[0]), fit(logs, inLogs(long)[0].Until(3), inLogs(long)[0])
	same("followed", &a, &b)

	sims, plain := times.Simulate(resample.Stream(1, "simulated", 0)), logs.Simulate(resample.Stream(1, "simulated", 0))
	for i := range sims {
		for j, y := range sims[i].Response {
			within(t, "simulated", math.Log(y), plain[i].Response[j], 20*2e-4)
		}
	}
}

// A level of each trainee's own with t noise on the logarithms, times over 90 s cut off: exact
// maximum likelihood, and what a trainee's own attempts then say of the next, in R 4.2.2
// (testdata/cohort/tails.R).
func TestHeavyTailsAgainstIntegration(t *testing.T) {
	ts := load(t, "censored.csv", "trainee", "", "attempt", "seconds")
	for i := range ts {
		for _, y := range ts[i].Response {
			ts[i].Censored = append(ts[i].Censored, y >= 90)
		}
	}
	c := mustRun(t, ts, Spec{Family: models.Constant(), Noise: models.LogStudent{}, Method: Quadrature, Nodes: 31})
	within(t, "log-likelihood of logs", c.LogLikLog, -138.368777471, 1e-4)
	within(t, "log-likelihood", c.LogLik, -914.601642303, 1e-4)
	within(t, "log level", c.Fixed[0].Estimate, 4.1200215624, 1e-4)
	within(t, "its SE", c.Fixed[0].SE, 0.052305877, 0.01*0.052)
	within(t, "SD between trainees", c.Random[0].SD, 0.2555529912, 1e-3*0.26)
	within(t, "residual SD, √2 scales", c.Residual.Estimate, math.Sqrt2*0.2938653864, 1e-3*0.42)

	m := c.m
	r, err := m.record(ts[2])
	if err != nil {
		t.Fatal(err)
	}
	// Many draws of the trainee under the estimates alone.
	var draws []Draw
	p := m.at(&r, c.theta)
	top := p.seek(vector{})
	for k := range 2500 {
		draws = append(draws, slices.Clone(p.drawn(&top, deviates(resample.Stream(2, "tails", k), 1, make([]vector, ownDraws))))...)
	}
	total := 0.0
	for _, d := range draws {
		total += d.Weight
	}
	for j := range draws {
		draws[j].Weight /= total
	}
	post := Posterior{Draws: draws}
	for k, y := range []float64{40, 60, 120} {
		within(t, "chance", post.CDF(9, 0, y), []float64{0.0429357503804, 0.2068029056090, 0.8707233053197}[k], 0.003)
	}
}

// Noises to choose among know the same responses; only noises that are normal on some scale have any.
func TestAlikeNoises(t *testing.T) {
	names := func(ns []models.Noise) (out []string) {
		for _, n := range ns {
			out = append(out, n.Name())
		}
		return out
	}
	for _, w := range []struct {
		usual        models.Noise
		magnitude    bool
		noises, late []string
	}{
		{models.Lognormal{}, false, []string{"lognormal", "reciprocal"}, []string{"log-student"}},
		{models.Reciprocal{}, true, []string{"reciprocal", "lognormal"}, []string{"log-student"}},
		{models.Normal{}, false, []string{"normal"}, []string{"student"}},
		{models.Normal{}, true, []string{"normal", "lognormal", "reciprocal"}, []string{"student", "log-student"}},
		{models.Student{}, false, nil, nil}, {models.Poisson{}, true, nil, nil}, {models.Bernoulli{}, false, nil, nil},
	} {
		noises, late := Alike(w.usual, w.magnitude)
		if !slices.Equal(names(noises), w.noises) || !slices.Equal(names(late), w.late) {
			t.Errorf("%s: %v and %v, want %v and %v", w.usual.Name(), names(noises), names(late), w.noises, w.late)
		}
	}
}

// Heavy tails are found where they are, even after as many others as are tried at most, and carry no
// weight where they are not; what is settled about carryover stands.
func TestChooseFindsHeavyTails(t *testing.T) {
	if testing.Short() {
		t.Skip("fits many models")
	}
	for _, w := range []struct {
		noise models.Noise
		carry Carry
		found bool
	}{{models.LogStudent{}, CarryNone, true}, {models.Lognormal{}, CarryNone, false}, {models.LogStudent{}, CarryWhole, false}} {
		r := resample.Stream(6, "choice with tails", 0)
		var ts []Trainee
		for i := range 20 {
			one := Trainee{ID: string(rune('A' + i))}
			curve := models.Exponential(1).Curve([]float64{45 * math.Exp(0.2*r.NormFloat64()), 100 * math.Exp(0.3*r.NormFloat64()), 0.2})
			for n := 1.0; n <= 20; n++ {
				one.Attempt, one.Response = append(one.Attempt, n), append(one.Response, w.noise.Quantile(r.Float64(), curve.At(n), 0.15))
			}
			ts = append(ts, one)
		}
		choice := Choice{Families: []models.Family{models.Exponential(1)}, Fits: 3, Settled: Settled{Carry: true}, Sampling: resample.Sampling{Seed: 1}}
		choice.Noises, choice.LateNoises = Alike(models.Lognormal{}, false)
		got, err := Choose(context.Background(), ts, Spec{Noise: models.Lognormal{}, Carry: w.carry}, choice)
		if err != nil {
			t.Fatal(err)
		}
		weight, tried := 0.0, false
		for _, one := range got.Tried {
			if strings.Contains(one.Model, "log-student") {
				tried, weight = true, weight+one.Weight
			}
		}
		if tried != (w.carry == CarryNone) {
			t.Errorf("%s noise, carryover %q: heavy tails tried %v", w.noise.Name(), w.carry, tried)
		}
		if chosen := got.Of[0].Noise == "log-student"; chosen != w.found || !w.found && weight != 0 {
			t.Errorf("%s noise: chosen %s, weight of heavy tails %v", w.noise.Name(), got.Tried[0].Model, weight)
		}
	}
}
