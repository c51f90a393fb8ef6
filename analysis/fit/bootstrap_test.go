package fit

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"tyro/analysis/resample"
	"tyro/models"
)

func newRand(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 99)) }

func exponentialSpecs() []Spec {
	return Candidates(Spec{Noise: models.Lognormal{}, Positive: true}, []models.Family{models.Constant(), models.Wright(), models.Power(), models.Exponential(1)})
}

// The bootstrap's spread of a well determined quantity is the standard error
// of the delta method, for every kind of bootstrap.
func TestBootstrapSpread(t *testing.T) {
	s := noisy(models.Exponential(1).Curve([]float64{40, 140, 0.2}), 0.1, 60, 7)
	specs := []Spec{{Family: models.Exponential(1), Noise: models.Lognormal{}, Positive: true}}
	choice, err := Choose(s, specs)
	if err != nil {
		t.Fatal(err)
	}
	want := choice.Fit.Delta("", false, func(c models.Curve) float64 { return c.At(30) }).SE
	for _, kind := range []Kind{Residual, Parametric, Case} {
		reps, err := Bootstrap(context.Background(), s, specs, choice, kind, resample.Sampling{Seed: 1, Replicates: 1500}, "test")
		if err != nil {
			t.Fatal(err)
		}
		var sum, ss float64
		for _, r := range reps {
			if !r.OK {
				t.Fatalf("%s: a refit failed", kind)
			}
			v := r.Curve.At(30)
			sum += v
			ss += v * v
		}
		n := float64(len(reps))
		sd := math.Sqrt(ss/n - sum*sum/(n*n))
		if math.Abs(sd/want-1) > 0.15 {
			t.Errorf("%s: spread %.3f, delta method %.3f", kind, sd, want)
		}
	}
}

func TestBootstrapIsTheSameOnAnyNumberOfWorkers(t *testing.T) {
	s := noisy(models.Power().Curve([]float64{40, 140, 0.6}), 0.2, 30, 11)
	choice, err := Choose(s, exponentialSpecs())
	if err != nil {
		t.Fatal(err)
	}
	var first string
	for _, workers := range []int{1, 2, 7} {
		reps, err := Bootstrap(context.Background(), s, exponentialSpecs(), choice, Residual, resample.Sampling{Seed: 5, Replicates: 60, Workers: workers}, "test")
		if err != nil {
			t.Fatal(err)
		}
		got := ""
		for _, r := range reps {
			got += fmt.Sprint(r.Curve.Family.Name(), r.Curve.Theta(), r.Scale, ";")
		}
		if first == "" {
			first = got
		}
		if got != first {
			t.Errorf("%d workers give other numbers than one", workers)
		}
	}
}

// Akaike weights by hand: differences 0 and 2 ln 3 weigh 3 to 1.
func TestWeights(t *testing.T) {
	cs := []Candidate{{Family: "a", AICc: 10, BIC: 9}, {Family: "b", AICc: 10 + 2*math.Log(3), BIC: 9}}
	weigh(cs)
	if math.Abs(cs[0].Weight-0.75) > 1e-12 || math.Abs(cs[1].Weight-0.25) > 1e-12 || cs[0].BICWeight != 0.5 {
		t.Errorf("weights %v, want 0.75 and 0.25", cs)
	}
}

// With plenty of quiet attempts the choice finds the family that made them.
func TestChoice(t *testing.T) {
	for _, truth := range []models.Curve{
		models.Constant().Curve([]float64{70}), models.Power().Curve([]float64{40, 140, 0.9}), models.Exponential(1).Curve([]float64{40, 140, 0.1}), models.Wright().Curve([]float64{180, 0.4}),
	} {
		choice, err := Choose(noisy(truth, 0.03, 80, 21), exponentialSpecs())
		if err != nil {
			t.Fatal(err)
		}
		if got := choice.Fit.Curve.Family.Name(); got != truth.Family.Name() {
			t.Errorf("chose %s for a %s series (%v)", got, truth.Family.Name(), choice.Candidates)
		}
		sum := 0.0
		for _, c := range choice.Candidates {
			sum += c.Weight
		}
		if math.Abs(sum-1) > 1e-12 {
			t.Errorf("weights sum to %v", sum)
		}
	}
}

// Any finite series gives a status, never a panic, an endless loop or a
// parameter that is infinite.
func FuzzFit(f *testing.F) {
	f.Add(uint64(1), 8, 0.2, 100.0, 50.0)
	f.Add(uint64(2), 3, 1e-9, 1e-8, 0.0)
	f.Add(uint64(3), 20, 5.0, 1e12, -1e12)
	f.Fuzz(func(t *testing.T, seed uint64, n int, sd, level, gain float64) {
		n = ((n % 40) + 40) % 40
		if math.IsNaN(sd) || math.IsInf(sd, 0) || math.IsNaN(level) || math.IsNaN(gain) {
			t.Skip()
		}
		r := newRand(seed)
		var s Series
		for i := range n {
			s.Attempt = append(s.Attempt, float64(1+i))
			s.Response = append(s.Response, level+gain*math.Exp(-0.2*float64(i))+sd*r.NormFloat64())
			s.Censored = append(s.Censored, r.IntN(4) == 0)
		}
		for _, noise := range []models.Noise{models.Normal{}, models.Lognormal{}} {
			for _, name := range models.Names() {
				family, _ := models.ByName(name, 1)
				fit, err := One(s, Spec{Family: family, Noise: noise, Positive: seed%2 == 0})
				if err != nil {
					continue
				}
				if fit.Status == NotRun {
					t.Errorf("%s, %s: no status", name, noise.Name())
				}
				for _, p := range fit.Params {
					if math.IsInf(p.Value, 0) {
						t.Errorf("%s, %s: %s is %v", name, noise.Name(), p.Name, p.Value)
					}
				}
			}
		}
	})
}

func BenchmarkFit(b *testing.B) {
	s := noisy(models.Power().Curve([]float64{40, 140, 0.6}), 0.2, 40, 2)
	for _, noise := range []models.Noise{models.Normal{}, models.Lognormal{}} {
		b.Run(noise.Name(), func(b *testing.B) {
			f := newFitter(Spec{Family: models.Power(), Noise: noise, Positive: true}, s)
			b.ReportAllocs()
			for b.Loop() {
				f.solve(s.Response, nil)
			}
		})
	}
}
