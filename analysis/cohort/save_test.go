package cohort

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"
	"time"

	"tyro/analysis/fit"
	"tyro/analysis/practice"
	"tyro/analysis/resample"
	"tyro/models"
)

func saveAndLoad(t testing.TB, c *Cohort) (*Cohort, string) {
	t.Helper()
	var file bytes.Buffer
	if err := c.Save(&file); err != nil {
		t.Fatal(err)
	}
	text := file.String()
	got, err := Load(&file)
	if err != nil {
		t.Fatal(err)
	}
	return got, text
}

// What is read back projects newcomers in the very same numbers, and the file
// tells nothing of anybody.
func TestSaveAndLoad(t *testing.T) {
	arms := simulate(16, 12, 1, 21)
	for i := range arms {
		arms[i].ID, arms[i].Arm, arms[i].Covariates = fmt.Sprintf("secret-%d", i), []string{"usual", "new"}[i%2], []float64{float64(i%5) - 2}
	}
	rich := exponential()
	rich.ArmEffect, rich.Covariates, rich.UseStart = []string{"plateau"}, []Covariate{{"age", []string{Start}}}, true
	held := exponential()
	held.Hold, held.Uncorrelated = []fit.Hold{{Name: "rate", Value: 0.2}}, true
	passes := Spec{Family: models.Exponential(1), Noise: models.Bernoulli{Guess: 0.1, Lapse: 0.05}, Random: []string{"plateau"}}
	line := Spec{Family: models.Logarithmic(), Noise: models.Normal{}}
	for _, k := range []struct {
		name string
		ts   []Trainee
		spec Spec
	}{
		{"arms and a covariate", arms, rich}, {"held", simulate(16, 12, 1, 22), held}, {"passes", respond(passes.Noise, 16, 12, 3), passes},
		{"carryover", simulate(16, 15, 1, 23), carried(CarryWhole)}, {"a straight line", simulate(12, 10, 1, 24), line}, {"no plateau", fallingCohort(12, 12, 0, 1), exponential()},
		{"heavy tails, own spread", heavy(12, 10, math.Inf(1), 25), Spec{Family: models.Wright(), Noise: models.LogStudent{}, Random: []string{"gain", Spread}, Uncorrelated: true}},
		{"counts", respond(models.NegativeBinomial{}, 12, 10, 4), Spec{Family: models.Logarithmic(), Noise: models.NegativeBinomial{}}},
	} {
		t.Run(k.name, func(t *testing.T) {
			c := mustRun(t, k.ts, k.spec)
			c.Source = Source{Seed: "7", DataSHA256: "ab"}
			got, text := saveAndLoad(t, c)
			ctx, sampling := context.Background(), resample.Sampling{Seed: 5}
			var fresh []Trainee
			for _, n := range []float64{0, 5} {
				early := k.ts[1].Until(n)
				early.ID = fmt.Sprint("newcomer ", n)
				fresh = append(fresh, early)
			}
			want, err := c.Posteriors(ctx, fresh, sampling)
			if err != nil {
				t.Fatal(err)
			}
			have, err := got.Posteriors(ctx, fresh, sampling)
			if err != nil {
				t.Fatal(err)
			}
			// Numbers are printed in as many digits as tell them from all others.
			if fmt.Sprint(draws(have)) != fmt.Sprint(draws(want)) {
				t.Error("the posteriors differ")
			}
			if h, w := have[1].Quantiles(9, 0, 0.05, 0.5, 0.95), want[1].Quantiles(9, 0, 0.05, 0.5, 0.95); fmt.Sprint(h) != fmt.Sprint(w) {
				t.Errorf("projection %v, want %v", h, w)
			}
			if strings.Contains(text, "secret") {
				t.Error("the file names a trainee")
			}
			if got.Source != c.Source || got.Model != c.Model || fmt.Sprint(got.Fixed) != fmt.Sprint(c.Fixed) && k.name != "no plateau" || fmt.Sprint(got.Random, got.Correlations, got.Arms, got.Parameters, got.NTrainees) != fmt.Sprint(c.Random, c.Correlations, c.Arms, c.Parameters, c.NTrainees) {
				t.Errorf("read %+v\nwant %+v", got.Fit, c.Fit)
			}
			whole := c.Fit
			whole.Members, whole.Evaluations = nil, 0
			if have, want := fmt.Sprintf("%+v", got.Fit), fmt.Sprintf("%+v", whole); have != want && k.name != "no plateau" {
				t.Errorf("read %s\nwant %s", have, want)
			}
			if _, again := saveAndLoad(t, got); again != text {
				t.Error("saved again it is another file")
			}
			if _, err := got.Profile(ctx); !errors.Is(err, ErrCohort) {
				t.Errorf("profiles without attempts: %v", err)
			}
			if _, err := got.LeaveOneOut(ctx, sampling); !errors.Is(err, ErrCohort) {
				t.Errorf("leave one out without attempts: %v", err)
			}
		})
	}
}

// Files that cannot be used are refused, each in words that say why.
func TestLoadRefuses(t *testing.T) {
	_, text := saveAndLoad(t, mustRun(t, simulate(10, 10, 1, 25), exponential()))
	with := func(key string, v any) string {
		var f map[string]any
		if err := json.Unmarshal([]byte(text), &f); err != nil {
			t.Fatal(err)
		}
		f[key] = v
		out, err := json.Marshal(f)
		if err != nil {
			t.Fatal(err)
		}
		return string(out)
	}
	change := func(key string, at int, v any) string {
		var f map[string]any
		if err := json.Unmarshal([]byte(text), &f); err != nil {
			t.Fatal(err)
		}
		list := f[key].([]any)
		list[at] = v
		return with(key, list)
	}
	for _, k := range []struct{ what, file, say string }{
		{"an earlier version", with("version", 1), "it is of version 1, and this program reads version 2: fit the cohort again"},
		{"a later version", with("version", 3), "version 3"},
		{"attempts that end before they begin", with("window", map[string]any{"first_attempt": 5, "last_attempt_of_half": 2}), "its attempts lie from 5 to 0, those of half of its trainees up to 2"},
		{"another format", with("format", "a letter"), "format"},
		{"no JSON", text[:len(text)/2], "not JSON"},
		{"an unknown family", with("family", "spiral"), "spiral"},
		{"an unknown noise", with("noise", map[string]any{"name": "loud"}), "loud"},
		{"a lapse of more than all", with("noise", map[string]any{"name": "bernoulli", "lapse": 1.5}), "lapse"},
		{"no arm", with("arms", []string{}), "arm"},
		{"too few coefficients", with("theta", []float64{1}), "coefficients"},
		{"an unknown coefficient", change("theta", 0, nil), "coefficient 1 is not a number"},
		{"a coefficient outside", change("theta", 0, 1e6), "within its limits"},
		{"a negative variance", change("covariance", 0, -1), "covariance"},
		{"no symmetry", change("covariance", 1, 1e3), "covariance"},
		{"an unknown covariance", change("covariance", 1, nil), "covariance"},
		{"a level of 2", with("level", 2), "level"},
		{"one trainee", with("n_trainees", 1), "1 trainees"},
		{"a status of its own", with("status", 77), "status"},
		{"an unknown parameter", with("random", []string{"mood"}), "mood"},
	} {
		got, err := Load(strings.NewReader(k.file))
		if err == nil || got != nil || !strings.Contains(err.Error(), k.say) || !strings.Contains(err.Error(), "saved cohort fit") {
			t.Errorf("%s: %v", k.what, err)
		}
	}
}

// The noise of a fit keeps its limits of guessing and lapsing as a value.
func TestModelIsAValue(t *testing.T) {
	noise := models.Bernoulli{Guess: 0.1, Lapse: 0.05}
	c := mustRun(t, respond(noise, 30, 20, 3), Spec{Family: models.Exponential(2), Noise: noise, Random: []string{"plateau"}})
	if c.Model.Noise != noise || c.Model.Family.Origin() != 2 || c.Noise != "bernoulli" || c.Family != "exponential" {
		t.Errorf("model %+v, noise %q, family %q", c.Model, c.Noise, c.Family)
	}
	if !reflect.DeepEqual(c.Model.Family, models.Exponential(2)) {
		t.Error("another family")
	}
}

// Everything that works for long stops soon after it is told to, without a result.
func TestCancel(t *testing.T) {
	ts := simulate(60, 20, 1, 26)
	c := mustRun(t, ts, exponential())
	sampling := resample.Sampling{Seed: 1, Replicates: 2000}
	q := Question{Standard: practice.Standard{Value: 60, Lower: true}}
	for name, work := range map[string]func(context.Context) (any, error){
		"run":        func(ctx context.Context) (any, error) { return Run(ctx, ts, exponential()) },
		"profile":    func(ctx context.Context) (any, error) { return c.Profile(ctx) },
		"bootstrap":  func(ctx context.Context) (any, error) { return c.Bootstrap(ctx, sampling) },
		"parametric": func(ctx context.Context) (any, error) { return c.ParametricBootstrap(ctx, sampling) },
		"influence":  func(ctx context.Context) (any, error) { return c.LeaveOneOut(ctx, sampling) },
		"halves":     func(ctx context.Context) (any, error) { return c.Halves(ctx, sampling) },
		"checks":     func(ctx context.Context) (any, error) { return c.Checks(ctx, sampling) },
		"bands":      func(ctx context.Context) (any, error) { return c.AttemptBands(ctx, sampling) },
		"population": func(ctx context.Context) (any, error) { return Shares(ctx, c, "", q, true, sampling) },
		"posteriors": func(ctx context.Context) (any, error) { return c.Posteriors(ctx, ts, sampling) },
	} {
		// Each takes longer than this at an idle machine, or else has not begun.
		ctx, cancel := context.WithTimeout(context.Background(), 2*time.Millisecond)
		begin := time.Now()
		got, err := work(ctx)
		took := time.Since(begin)
		cancel()
		if !errors.Is(err, context.DeadlineExceeded) {
			t.Errorf("%s: %v", name, err)
		}
		if v := reflect.ValueOf(got); v.IsValid() && !v.IsZero() && name != "posteriors" {
			t.Errorf("%s gives a result with its error", name)
		}
		if took > 2*time.Second { // the machine may be busy; the work itself would take more
			t.Errorf("%s took %v to stop", name, took)
		}
	}
}

// draws are those of all posteriors, each followed by its noise.
func draws(ps []Posterior) (out []any) {
	for _, p := range ps {
		for _, d := range p.Draws {
			on := *d.on
			d.on = nil
			out = append(out, d, on)
		}
	}
	return out
}
