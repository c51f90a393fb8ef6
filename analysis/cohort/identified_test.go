package cohort

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"tyro/models"
)

// fallingCohort draws a cohort of times in which every trainee's level falls by a share of
// 1 − exp(−rate·(n − 1)) of the gain; rate 0 is a straight line over the attempts.
func fallingCohort(n, attempts int, rate float64, seed uint64) []Trainee {
	r := rand.New(rand.NewPCG(seed, 5))
	var ts []Trainee
	for i := range n {
		t := Trainee{ID: fmt.Sprint(i)}
		plateau, gain, k := math.Exp(3.5+0.2*r.NormFloat64()), math.Exp(4.1+0.3*r.NormFloat64()), rate*math.Exp(0.3*r.NormFloat64())
		for j := range attempts {
			m := plateau + gain*math.Exp(-k*float64(j))
			if rate == 0 {
				m = plateau + gain*(1-0.4*float64(j)/float64(attempts-1))
			}
			t.Attempt, t.Response = append(t.Attempt, float64(j+1)), append(t.Response, m*math.Exp(0.2*r.NormFloat64()))
		}
		ts = append(ts, t)
	}
	return ts
}

// Attempts of which nine tenths of the gain are made show the plateau, those on a
// straight line do not; what is withheld is not a number, and a bound is left at
// the level of the last attempt, which lies above the plateau of falling times.
func TestPlateauIdentified(t *testing.T) {
	for seed := range uint64(5) {
		clear := mustRun(t, fallingCohort(30, 20, 0.15, seed), exponential())
		e := effect(t, clear, "plateau", "")
		if e.NotIdentified || hasWarning(clear, "plateau-not-identified") || !(math.Abs(e.Estimate-3.5) < 0.4) {
			t.Errorf("seed %d: a clear plateau: %+v", seed, e)
		}
		line := mustRun(t, fallingCohort(30, 20, 0, seed), exponential())
		for _, name := range []string{"plateau", "gain"} {
			if e := effect(t, line, name, ""); e.NotIdentified != math.IsNaN(e.Estimate) || e.NotIdentified && !math.IsNaN(e.SE) {
				t.Errorf("seed %d: %+v", seed, e)
			}
		}
		e = effect(t, line, "plateau", "")
		if !e.NotIdentified || !hasWarning(line, "plateau-not-identified") {
			t.Fatalf("seed %d: a straight line has a plateau: %+v", seed, e)
		}
		// By hand: the line ends at plateau + 0.6·gain, exp(3.5) + 0.6·exp(4.1) = 69.3 for
		// the middle trainee.
		if !math.IsNaN(e.Lower) || !(math.Abs(e.Upper-math.Log(69.3)) < 0.2) {
			t.Errorf("seed %d: bounds of the plateau: %v to %v", seed, e.Lower, e.Upper)
		}
		for _, m := range line.Members {
			if !m.NotIdentified[0] || !math.IsNaN(m.Parameters[0]) || math.IsNaN(m.Curve.Plateau) {
				t.Fatalf("seed %d: member %+v", seed, m)
			}
		}
	}
}

// An S-shaped curve through times that fall from the first attempt on has no
// starting level to be seen; a plateau that it reaches stays.
func TestStartIdentified(t *testing.T) {
	spec := Spec{Family: models.Logistic(), Noise: models.Lognormal{}, UseStart: true, Random: []string{"plateau"}}
	c := mustRun(t, fallingCohort(30, 20, 0.25, 1), spec)
	if e := effect(t, c, Start, ""); !e.NotIdentified || !math.IsNaN(e.Estimate) || !hasWarning(c, "start-not-identified") {
		t.Errorf("start %+v, warnings %v", e, c.Warnings)
	}
	if e := effect(t, c, "plateau", ""); e.NotIdentified {
		t.Errorf("plateau %+v", e)
	}
	// The same people with five attempts at their starting level before they begin to
	// learn: half-way between the levels at attempt 16.
	ts := fallingCohort(30, 30, 0, 2)
	for i := range ts {
		r := rand.New(rand.NewPCG(7, uint64(i)))
		level := math.Exp(0.2 * r.NormFloat64())
		for j, n := range ts[i].Attempt {
			ts[i].Response[j] = level * (35 + 60/(1+math.Exp(0.5*(n-16)))) * math.Exp(0.1*r.NormFloat64())
		}
	}
	c = mustRun(t, ts, spec)
	if e := effect(t, c, Start, ""); e.NotIdentified || !(math.Abs(e.Estimate-math.Log(95)) < 0.15) {
		t.Errorf("a start that is seen: %+v", e)
	}
}

// Passes whose log odds rise on a straight line show no end of the rise.
func TestPlateauOfPasses(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 3))
	var ts []Trainee
	for i := range 30 {
		tr := Trainee{ID: fmt.Sprint(i)}
		level := r.NormFloat64()
		for n := 1.0; n <= 20; n++ {
			tr.Attempt = append(tr.Attempt, n)
			tr.Response = append(tr.Response, models.Bernoulli{}.Quantile(r.Float64(), level-1.5+0.15*n, 0))
		}
		ts = append(ts, tr)
	}
	c := mustRun(t, ts, Spec{Family: models.Exponential(1), Noise: models.Bernoulli{}, Random: []string{"plateau"}})
	if e := effect(t, c, "plateau", ""); !e.NotIdentified || !math.IsNaN(e.Estimate) || !math.IsNaN(e.Upper) || !(e.Lower > 0) {
		t.Errorf("plateau %+v", e)
	}
}
