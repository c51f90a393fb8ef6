package study

import (
	"context"
	"fmt"
	"math"
	"testing"

	"tyro/analysis/practice"
	"tyro/analysis/resample"
	"tyro/models"
)

// Six of thirty level off far above the standard. The quota says so, counts with two groups of new trainees, and
// its curve stays near the four fifths who can meet the rule, where that of one group, whose plateaus are one
// wide spread, goes on to more; arms are still compared by one model.
func TestQuotasCountWithTwoGroups(t *testing.T) {
	p := practice.Practice{Arms: []string{""}, Task: practice.Task{Name: "knot", Measure: practice.Time, Lower: true, Standard: &practice.Decision{Value: 57}, Rule: practice.Rule{{Need: 2}}}}
	r := resample.Stream(3, "two groups", 0)
	for i := range 30 {
		plateau, gain, rate := 42*math.Exp(0.08*r.NormFloat64()), 120*math.Exp(0.2*r.NormFloat64()), 0.2*math.Exp(0.2*r.NormFloat64())
		if i%5 == 0 {
			plateau *= 2.5
		}
		one := practice.Trainee{ID: fmt.Sprint("T", i)}
		for k := 1.0; k <= 40; k++ {
			one.Attempts = append(one.Attempts, practice.Attempt{Number: k, Response: (plateau + gain*math.Exp(-rate*(k-1))) * math.Exp(0.15*r.NormFloat64()), Clean: true})
		}
		p.Trainees = append(p.Trainees, one)
	}
	s, err := New(p, Options{Families: []models.Family{models.Exponential(1)}, Replicates: 99})
	if err != nil {
		t.Fatal(err)
	}
	q, err := s.Quota(context.Background(), QuotaOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if q.Apart != 6 || coded(q.Warnings, "two-classes") == "" {
		t.Errorf("%d apart, %v", q.Apart, q.Warnings)
	}
	by, _ := q.Groups[0].Curve()
	two := by.At(120)
	plain, err := s.oneModel(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	one, err := s.expectedProgress(context.Background(), plain, "")
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(two-0.8) > 0.04 || !(one.At(120) > two) || plain.Chosen != nil {
		t.Errorf("met by attempt 120: %.3f by two groups, %.3f by one", two, one.At(120))
	}
}
