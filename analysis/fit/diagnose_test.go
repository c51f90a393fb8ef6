package fit

import (
	"math"
	"testing"

	"tyro/models"
)

// Chances of runs by hand: of the 6 orders of two ups and two downs, 2 have two
// runs, 2 have three and 2 have four.
func TestRunsByHand(t *testing.T) {
	for r, want := range map[int]float64{2: 1. / 3, 3: 1. / 3, 4: 1. / 3} {
		if got := runsChance(r, 2, 2); math.Abs(got-want) > 1e-12 {
			t.Errorf("chance of %d runs %v, want %v", r, got, want)
		}
	}
	sum := 0.0
	for r := 2; r <= 25; r++ {
		sum += runsChance(r, 11, 14)
	}
	if math.Abs(sum-1) > 1e-12 {
		t.Errorf("chances of runs sum to %v", sum)
	}
	// Beyond 60 residuals the normal approximation is near the exact value.
	if exact, normal := runsP(22, 30, 30), runsP(22, 30, 31); math.Abs(exact-normal) > 0.02 {
		t.Errorf("exact %v at 60, normal %v at 61", exact, normal)
	}
}

// A power curve laid over exponential data misses its course; its own family
// does not.
func TestMissedCourse(t *testing.T) {
	s := noisy(models.Exponential(1).Curve([]float64{40, 140, 0.12}), 0.03, 50, 3)
	check := func(family models.Family) Diagnosis {
		spec := Spec{Family: family, Noise: models.Lognormal{}, Positive: true}
		f, err := One(s, spec)
		if err != nil {
			t.Fatal(err)
		}
		return Diagnose(s, spec, f)
	}
	if d := check(models.Power()); !coded(d, "residual-runs") || !(d.Lag1 > 0.3) {
		t.Errorf("power over exponential data: %d runs of %.1f, lag-1 %.2f, %v", d.Runs, d.RunsExpected, d.Lag1, d.Warnings)
	}
	if d := check(models.Exponential(1)); coded(d, "residual-runs") || coded(d, "outliers") {
		t.Errorf("the right family: %v", d.Warnings)
	}
}

func coded(d Diagnosis, code string) bool {
	for _, w := range d.Warnings {
		if w.Code == code {
			return true
		}
	}
	return false
}

// An attempt three times as long as the curve is found, with its pull on the end.
func TestOutlier(t *testing.T) {
	s := noisy(models.Exponential(1).Curve([]float64{40, 140, 0.2}), 0.1, 40, 6)
	s.Response[38] *= 3
	spec := Spec{Family: models.Exponential(1), Noise: models.Lognormal{}, Positive: true}
	f, err := One(s, spec)
	if err != nil {
		t.Fatal(err)
	}
	d := Diagnose(s, spec, f)
	if len(d.Outliers) != 1 || d.Outliers[0].Attempt != 39 || !(d.Outliers[0].Distance > 3.5) || !(d.Outliers[0].Influence < 0) {
		t.Errorf("outliers %+v, want attempt 39, pulling the end up", d.Outliers)
	}
}

// First attempts of later sessions slower by a fifth show as a restart loss.
func TestRestart(t *testing.T) {
	s := noisy(models.Exponential(1).Curve([]float64{40, 140, 0.2}), 0.05, 60, 9)
	s.Session = make([]string, 60)
	for i := range s.Session {
		s.Session[i] = string(rune('a' + i/6))
		if i%6 == 0 && i > 0 {
			s.Response[i] *= 1.2
		}
	}
	spec := Spec{Family: models.Exponential(1), Noise: models.Lognormal{}, Positive: true}
	f, err := One(s, spec)
	if err != nil {
		t.Fatal(err)
	}
	r := Diagnose(s, spec, f).Restart
	if r.Sessions != 9 || math.Abs(r.Shift-math.Log(1.2)) > 3*r.SE || !(r.P < 0.001) {
		t.Errorf("restart %+v, want a shift of %.3f over 9 sessions", r, math.Log(1.2))
	}
}

// The family that made the series predicts its later attempts best.
func TestLeaveFutureOut(t *testing.T) {
	s := noisy(models.Exponential(1).Curve([]float64{40, 140, 0.1}), 0.05, 60, 5)
	specs := []Spec{{Family: models.Wright(), Noise: models.Lognormal{}, Positive: true}, {Family: models.Exponential(1), Noise: models.Lognormal{}, Positive: true}}
	fs, err := LeaveFutureOut(s, specs, 30)
	if err != nil {
		t.Fatal(err)
	}
	if fs[0].Ahead != 30 || fs[0].Seen != 30 || !(fs[1].RMSE < fs[0].RMSE) || !(fs[1].InInterval > 0.8) {
		t.Errorf("forecasts %+v", fs)
	}
}
