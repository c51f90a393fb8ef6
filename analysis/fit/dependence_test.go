package fit

import (
	"context"
	"math"
	"slices"
	"testing"

	"tyro/analysis/resample"
	"tyro/models"
)

// dependent reads the simulated series with sessions.
func dependent(t *testing.T, response string) Series {
	s := series(t, "curves/dependence.csv", "attempt", response)
	s.Session = read(t, "curves/dependence.csv")["session"]
	return s
}

// expected reads one case of testdata/curves/dependence_expected.csv, which
// dependence.R beside it makes: R 4.2 (optim and nlm on the exact likelihood with
// the dense correlation matrix, uniroot for profiles).
func expected(t *testing.T, name string) map[string]float64 {
	cols := read(t, "curves/dependence_expected.csv")
	out := map[string]float64{}
	for i, c := range cols["case"] {
		if c == name {
			out[cols["quantity"][i]] = num(t, cols["value"][i])
		}
	}
	if len(out) == 0 {
		t.Fatalf("no case %q", name)
	}
	return out
}

func TestRestartAndCorrelationAgainstR(t *testing.T) {
	exponential := Spec{Family: models.Exponential(1), Noise: models.Normal{}}
	with := func(s Spec, restart, correlated bool) Spec {
		s.Restart, s.Correlated = restart, correlated
		return s
	}
	lognormal := exponential
	lognormal.Noise = models.Lognormal{}
	seconds := dependent(t, "seconds")
	var kept []int
	for i, n := range seconds.Attempt {
		if math.Mod(n, 3) != 0 {
			kept = append(kept, i)
		}
	}
	for _, c := range []struct {
		name   string
		series Series
		spec   Spec
	}{
		{"restart", seconds, with(exponential, true, false)},
		{"correlated", seconds, with(exponential, false, true)},
		{"both", seconds, with(exponential, true, true)},
		{"both lognormal", dependent(t, "positive"), with(lognormal, true, true)},
		{"gaps", seconds.pick(kept), with(exponential, false, true)},
	} {
		f, err := One(c.series, c.spec)
		if err != nil {
			t.Fatal(err)
		}
		got := map[string]float64{"log_likelihood": f.LogLik}
		if c.name == "both lognormal" {
			got["log_likelihood"] = f.LogLikLog
		}
		for _, e := range append(f.Params, f.Terms...) {
			got[e.Name] = e.Value
			if !(e.Lower < e.Value && e.Value < e.Upper) {
				t.Errorf("%s: %s %v, from %v to %v", c.name, e.Name, e.Value, e.Lower, e.Upper)
			}
		}
		got["rho"] = got["correlation"]
		for name, want := range expected(t, c.name) {
			if d := digits(got[name], want); !(d >= 6) {
				t.Errorf("%s: %s = %.10g, want %.10g (%.1f digits)", c.name, name, got[name], want, d)
			}
		}
	}
}

func TestProfilesOfChangeAndShareAgainstR(t *testing.T) {
	s := dependent(t, "seconds")
	spec := Spec{Family: models.Exponential(1), Noise: models.Normal{}, Positive: true}
	choice, err := Choose(s, []Spec{spec})
	if err != nil {
		t.Fatal(err)
	}
	f, err := WithIntervals(context.Background(), s, []Spec{spec}, choice, ByProfile, resample.Sampling{}, "")
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range f.Derived {
		scale, name := 1.0, "profile change"
		switch d.Name {
		case perDoubling:
			scale, name = 100, "profile share"
		case changeAhead:
		default:
			continue
		}
		want := expected(t, name)
		for q, got := range map[string]float64{"estimate": d.Value, "lower": d.Lower, "upper": d.Upper} {
			if k := digits(got/scale, want[q]); !(k >= 5) {
				t.Errorf("%s: %s %v, want %v (%.1f digits)", name, q, got/scale, want[q], k)
			}
		}
	}
}

// For a straight line with normal noise the studentised interval is Student's t
// interval, up to the draws.
func TestStudentisedOfALine(t *testing.T) {
	s := series(t, "curves/wtloss.csv", "days", "weight_kg")
	for i := range s.Attempt {
		s.Attempt[i]++
	}
	specs := []Spec{{Family: models.Logarithmic(), Noise: models.Normal{}}}
	choice, err := Choose(s, specs)
	if err != nil {
		t.Fatal(err)
	}
	f, err := WithIntervals(context.Background(), s, specs, choice, Studentised, resample.Sampling{Replicates: 4000}, "")
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range f.Params {
		exact := choice.Fit.param(p.Name)
		width := exact.Upper - exact.Lower
		if math.Abs(p.Lower-exact.Lower) > 0.05*width || math.Abs(p.Upper-exact.Upper) > 0.05*width {
			t.Errorf("%s: from %v to %v, exact %v to %v", p.Name, p.Lower, p.Upper, exact.Lower, exact.Upper)
		}
	}
}

// Coloured noise has the correlation it was made with, and none across a break.
func TestColour(t *testing.T) {
	var s Series
	for i := range 40_000 {
		s.Attempt = append(s.Attempt, float64(i+1))
		s.Session = append(s.Session, string(rune('a'+i/4%2)))
	}
	nb, r := newNeighbours(s), newRand(8)
	nb.set(0.6)
	e, u := make([]float64, len(s.Attempt)), make([]float64, len(s.Attempt))
	for i := range u {
		u[i] = r.NormFloat64()
	}
	nb.colour(e, u, inOrder(s.Attempt))
	var within, across, variance float64
	for i := 1; i < len(e); i++ {
		variance += e[i] * e[i] / float64(len(e))
		if i%4 == 0 {
			across += e[i] * e[i-1] / (float64(len(e)) / 4)
		} else {
			within += e[i] * e[i-1] / (float64(len(e)) * 3 / 4)
		}
	}
	if math.Abs(variance-1) > 0.03 || math.Abs(within-0.6) > 0.03 || math.Abs(across) > 0.05 {
		t.Errorf("variance %.3f, correlation %.3f within a session, %.3f across a break; want 1, 0.6, 0", variance, within, across)
	}
	back := make([]float64, len(e))
	nb.whiten(back, e)
	for i := range u {
		if math.Abs(back[i]-u[i]) > 1e-9 {
			t.Fatalf("whitened %v, drawn %v", back[i], u[i])
		}
	}
}

// With the first attempt after a break left out, the second is not taken for it.
func TestRestartKnowsOfAttemptsLeftOut(t *testing.T) {
	s := Series{Attempt: []float64{1, 2, 3, 4, 6, 7}, Session: []string{"a", "a", "b", "b", "c", "c"}}
	spec := Spec{Restart: true, Fading: 0.5}
	for _, c := range []struct{ since, want []float64 }{
		{nil, []float64{0, 0, 1, 0.5, 1, 0.5}},
		{[]float64{0, 0, 1, 2, 2, 3}, []float64{0, 0, 1, 0.5, 0.5, 0.25}}, // attempt 5 opened session c
	} {
		s.Restart = c.since
		if got := spec.restartOf(s); !slices.Equal(got, c.want) {
			t.Errorf("since %v: shares %v, want %v", c.since, got, c.want)
		}
	}
	s.Restart, s.Session = nil, nil
	if got := spec.restartOf(s); got != nil {
		t.Errorf("without sessions: %v", got)
	}
}
