package fit

import (
	"context"
	"math"
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
	f, err := WithIntervals(context.Background(), s, []Spec{spec}, choice, ByProfile, resample.Plan{}, "")
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
