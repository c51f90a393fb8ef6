package study

import (
	"fmt"
	"math"
	"testing"

	"tyro/analysis/practice"
	"tyro/analysis/resample"
	"tyro/models"
)

// guessing is 40 trainees who pass half of their attempts without any skill: the chance
// is 1/2 + 1/2·logistic(η) with η = 3 − 6·exp(−rate·(n − 1)) + trainee's own deviation.
func guessing(t *testing.T, noise models.Noise, seed uint64) *Study {
	t.Helper()
	p := practice.Practice{Arms: []string{""}, Task: practice.Task{
		Name: "cannulation", Measure: practice.PassFail, Standard: &practice.Decision{Value: 0.9}, Rule: practice.Rule{{Need: 5}}, Horizon: 60,
	}}
	for i := range 40 {
		r := resample.Stream(seed, "guessing", i)
		own, rate := 0.5*r.NormFloat64(), 0.12*math.Exp(0.2*r.NormFloat64())
		var attempt, passed []float64
		for n := 1.0; n <= 40; n++ {
			chance := 0.5 + 0.5/(1+math.Exp(-(3+own-6*math.Exp(-rate*(n-1)))))
			y := 0.0
			if r.Float64() < chance {
				y = 1
			}
			attempt, passed = append(attempt, n), append(passed, y)
		}
		p.Trainees = append(p.Trainees, practice.Measured(fmt.Sprint(i), attempt, passed))
	}
	s, err := New(p, Options{Noise: noise, Families: []models.Family{models.Exponential(1)}, Replicates: 200})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// The cohort's curve keeps the floor of guessing that it was fitted with: its attempts
// agree with those observed as far as the intervals allow. (Read as a cohort that never guesses
// they lay beyond.)
func TestQuotaKeepsTheGuessingFloor(t *testing.T) {
	s := guessing(t, models.Bernoulli{Guess: 0.5}, 1)
	q, err := s.Quota(t.Context(), QuotaOptions{})
	if err != nil {
		t.Fatal(err)
	}
	next, ok := q.Groups[0].Curve()
	if !ok {
		t.Fatalf("nothing by the cohort's curve: %v", q.Warnings)
	}
	for k, seen := range q.Groups[0].Observed().Quotas {
		by := next.Quotas[k]
		if by.Upper < seen.Lower || by.Lower > seen.Upper || math.Abs(by.Attempts-seen.Attempts) > seen.Upper-seen.Lower {
			t.Errorf("%v of trainees: %v (%v to %v) by the curve, %v (%v to %v) observed", seen.Share, by.Attempts, by.Lower, by.Upper, seen.Attempts, seen.Lower, seen.Upper)
		}
	}
}
