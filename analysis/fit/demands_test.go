package fit

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"tyro/analysis"
	"tyro/analysis/resample"
	"tyro/models"
)

// What cannot be fitted is an error in words, never a panic.
func TestUnusableSpecsAndSeries(t *testing.T) {
	power, lognormal := models.Power(), models.Lognormal{}
	good := Series{Attempt: []float64{1, 2, 3, 4, 5, 6}, Response: []float64{90, 70, 60, 55, 52, 50}}
	with := func(edit func(*Series)) Series { s := good; edit(&s); return s }
	for _, c := range []struct {
		name   string
		series Series
		spec   Spec
		words  string
	}{
		{"no noise", good, Spec{Family: power}, "needs a noise"},
		{"no family", good, Spec{Noise: lognormal}, "needs a curve family"},
		{"level 1", good, Spec{Family: power, Noise: lognormal, Level: 1}, "between 0 and 1"},
		{"level NaN", good, Spec{Family: power, Noise: lognormal, Level: math.NaN()}, "between 0 and 1"},
		{"few responses", with(func(s *Series) { s.Response = s.Response[:4] }), Spec{Family: power, Noise: lognormal}, "6 attempts but 4 responses"},
		{"few marks", with(func(s *Series) { s.Censored = []bool{true} }), Spec{Family: power, Noise: lognormal}, "6 attempts but 1 censoring"},
		{"few sessions", with(func(s *Series) { s.Session = []string{"a"} }), Spec{Family: power, Noise: lognormal}, "6 attempts but 1 sessions"},
		{"a time of 0", with(func(s *Series) { s.Response = []float64{9, 7, 0, 5, 4, 4} }), Spec{Family: power, Noise: models.Reciprocal{}}, "response 0 at attempt 3 is not above 0, as reciprocal noise needs"},
		{"half a pass", good, Spec{Family: power, Noise: models.Bernoulli{}}, "response 90 at attempt 1 is not 0 or 1"},
		{"half a count", with(func(s *Series) { s.Response = []float64{9, 7, 0.5, 5, 4, 4} }), Spec{Family: power, Noise: models.NegativeBinomial{}}, "is not a whole number from 0 on"},
		{"a line below 0", good, Spec{Family: models.Logarithmic(), Noise: lognormal}, "falls below 0"},
		{"plateau below 0", good, Spec{Family: power, Noise: lognormal, Hold: []Hold{{"plateau", -1}}}, "needs a curve above 0"},
	} {
		_, err := One(c.series, c.spec)
		if !errors.Is(err, ErrSeries) || !strings.Contains(err.Error(), c.words) {
			t.Errorf("%s: %v, want %q", c.name, err, c.words)
		}
		if _, err := Bootstrap(context.Background(), c.series, []Spec{c.spec}, Choice{}, Residual, resample.Sampling{Replicates: 1}, "test"); !errors.Is(err, ErrSeries) {
			t.Errorf("%s, bootstrap: %v", c.name, err)
		}
	}
	if _, err := One(good, Spec{Family: power, Noise: lognormal, Level: 2}); !errors.Is(err, analysis.ErrLevel) {
		t.Errorf("a level of 2 gives %v, want ErrLevel", err)
	}
	if _, err := NewFitter(Spec{Family: power}, good.Attempt); !errors.Is(err, ErrSeries) {
		t.Errorf("a fitter without a noise: %v", err)
	}
	if _, err := Choose(good, Candidates(Spec{}, []models.Family{power})); err == nil || !strings.Contains(err.Error(), "needs a noise") {
		t.Errorf("a choice without a noise: %v", err)
	}
	if _, err := LeaveFutureOut(with(func(s *Series) { s.Response = s.Response[:4] }), []Spec{{Family: power, Noise: lognormal}}, 3); !errors.Is(err, ErrSeries) {
		t.Errorf("leaving the future out: %v", err)
	}
}

// truths are curves for simulated series, in the unit of the response; on the
// scale of a link they run from −1 to 1.
func truths(noise models.Noise) map[string][]float64 {
	if noise.Additive() {
		return map[string][]float64{
			"constant": {40}, "logarithmic": {90, -12}, "wright": {90, 0.4}, "inverse": {20, 70}, "power": {5, 80, 0.3},
			"power-prior": {5, 200, 0.9, 3}, "exponential": {5, 80, 0.02}, "apex": {5, 80, 0.02, 0.1}, "logistic": {5, 80, 0.2, 25}, "gompertz": {5, 80, 0.1, 25},
		}
	}
	return map[string][]float64{
		"constant": {0.5}, "logarithmic": {-1, 0.6}, "wright": {-1, 0.3}, "inverse": {1, -2}, "power": {2, -3, 0.4},
		"power-prior": {2, -4, 0.9, 3}, "exponential": {1, -2, 0.05}, "apex": {1, -2, 0.02, 0.1}, "logistic": {1, -2, 0.3, 12}, "gompertz": {1, -2, 0.2, 12},
	}
}

// Whatever is drawn, a fitted curve stays where its noise can be, from the first
// attempt to the ten thousandth, and the chance to meet a level is a number.
func TestCurvesStayInTheNoisesDomain(t *testing.T) {
	for _, noise := range models.Noises() {
		scale := 6.0
		if models.NeedsPositive(noise) {
			scale = 0.3
			if !onLog(noise) {
				scale = 0.004
			}
		} else if !noise.Additive() {
			scale = 0.3
		}
		for _, name := range models.Names() {
			family, err := models.ByName(name, 1)
			if err != nil {
				t.Fatal(err)
			}
			spec := Spec{Family: family, Noise: noise}
			if family.IsLine() && models.NeedsPositive(noise) {
				continue // refused
			}
			truth := family.Curve(truths(noise)[name])
			usable := 0
			for seed := range uint64(12) {
				r := rand.New(rand.NewPCG(seed, 7))
				var s Series
				for n := 1.0; n <= 24; n++ {
					y := noise.Quantile(r.Float64(), truth.At(n), scale)
					if models.NeedsPositive(noise) {
						y = math.Min(y, 1e4) // a speed of 0 takes for ever
					}
					s.Attempt, s.Response = append(s.Attempt, n), append(s.Response, y)
				}
				f, err := One(s, spec)
				if err != nil {
					t.Fatalf("%s, %s: %v", noise.Name(), name, err)
				}
				if !f.Status.Usable() {
					continue
				}
				usable++
				stays(t, f, s.Response[len(s.Response)-1])
			}
			if usable < 6 {
				t.Errorf("%s, %s: %d of 12 series gave a curve", noise.Name(), name, usable)
			}
		}
	}
}

func stays(t *testing.T, f Fit, level float64) {
	t.Helper()
	scale := f.Scale
	if !f.Noise.HasScale() {
		scale = 1
	}
	for n := 1.0; n <= 10000; n = math.Ceil(n * 1.3) {
		m := f.Curve.At(n)
		mean := f.Noise.Mean(m)
		switch {
		case math.IsNaN(mean):
			t.Errorf("%s, %s: mean NaN at attempt %v", f.Noise.Name(), f.Curve.Family.Name(), n)
			return
		case models.NeedsPositive(f.Noise) && !(m > 0 || m == 0 && f.Curve.Plateau == 0): // 0 where numbers end
			t.Errorf("%s, %s: median %v at attempt %v", f.Noise.Name(), f.Curve.Family.Name(), m, n)
			return
		case !f.Noise.Additive() && !(mean >= 0):
			t.Errorf("%s, %s: mean %v at attempt %v", f.Noise.Name(), f.Curve.Family.Name(), mean, n)
			return
		}
		for _, standard := range []float64{level, 1, 30} {
			if p := f.Noise.CDF(standard, m, scale); !(p >= 0 && p <= 1) {
				t.Errorf("%s, %s: chance %v of at most %v at attempt %v (curve %v, scale %v)", f.Noise.Name(), f.Curve.Family.Name(), p, standard, n, m, scale)
				return
			}
		}
	}
}

// A falling measure that is no time, with lognormal noise, keeps its plateau at or
// above 0 without being told.
func TestLognormalKeepsThePlateauAbove0(t *testing.T) {
	var s Series
	for n := 1.0; n <= 12; n++ { // a straight line down to 2: the best power curve without a bound ends far below 0
		s.Attempt, s.Response = append(s.Attempt, n), append(s.Response, 26-2*n)
	}
	f, err := One(s, Spec{Family: models.Exponential(1), Noise: models.Lognormal{}})
	if err != nil {
		t.Fatal(err)
	}
	if f.Curve.Plateau < 0 || f.Curve.At(1000) < 0 {
		t.Errorf("plateau %v", f.Curve.Plateau)
	}
}
