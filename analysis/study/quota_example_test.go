package study_test

import (
	"context"
	"fmt"
	"math"

	"tyro/analysis/practice"
	"tyro/analysis/study"
)

// Attempts by which half, 80 % and 90 % of trainees have done two in a row in 40 s or
// less: as observed, and as the curve of the whole cohort expects of new trainees.
func ExampleStudy_Quota() {
	rule, _ := practice.ParseRule("2 in a row")
	p := practice.Practice{Arms: []string{""}, Task: practice.Task{Measure: practice.Time, Lower: true, Standard: &practice.Decision{Value: 40}, Rule: rule, Horizon: 40}}
	for i := range 12 {
		var attempt, seconds []float64
		for n := range 20 {
			attempt = append(attempt, float64(n+1))
			seconds = append(seconds, (25+float64(i)/2+80*math.Exp(-0.25*float64(n)))*math.Exp(0.1*math.Sin(float64(7*n+3*i))))
		}
		p.Trainees = append(p.Trainees, practice.Measured(fmt.Sprint("trainee ", i+1), attempt, seconds))
	}
	s, _ := study.New(p, study.Options{Replicates: 100})
	q, _ := s.Quota(context.Background(), study.QuotaOptions{})
	curve, _ := q.Groups[0].Curve()
	for k, seen := range q.Groups[0].Observed().Quotas {
		fmt.Printf("%.0f %%: %.0f attempts as observed, %.0f by the curve (%.0f to %.0f)\n", 100*seen.Share, seen.Attempts, curve.Quotas[k].Attempts, curve.Quotas[k].Lower, curve.Quotas[k].Upper)
	}
	// Output:
	// 50 %: 10 attempts as observed, 10 by the curve (10 to 11)
	// 80 %: 11 attempts as observed, 11 by the curve (11 to 12)
	// 90 %: 12 attempts as observed, 12 by the curve (11 to 12)
}
