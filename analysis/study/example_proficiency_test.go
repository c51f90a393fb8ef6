package study_test

import (
	"context"
	"fmt"

	"tyro/analysis/practice"
	"tyro/analysis/study"
)

// Two trainees, seconds at each attempt, standard 60 seconds, rule two passes in a row.
// By hand: 1 + ln 6/ln 1.25 = 9.03 is where 40 + 120·0.8^(n−1) is 60, so T01 gets there
// at attempt 10; the passes of T01 are attempts 9 to 12, so the rule is met at 10. T02
// gets worse.
func ExampleStudy_Proficiency() {
	attempt := []float64{1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12}
	p := practice.Practice{Arms: []string{""}, Trainees: []practice.Trainee{
		practice.Measured("T01", attempt, []float64{160, 136, 117, 101.5, 89, 79.5, 71.5, 65, 60, 56, 53, 50.5}),
		practice.Measured("T02", attempt, []float64{40, 46, 53, 58, 66, 72, 77, 85, 92, 97, 104, 110}),
	}}
	p.Task = practice.Task{Name: "cannulation", Measure: practice.Time, Lower: true, Standard: &practice.Decision{Value: 60}, Rule: practice.Rule{{Need: 2}}}
	s, err := study.New(p, study.Options{Replicates: 100})
	if err != nil {
		panic(err)
	}
	a, err := s.Proficiency(context.Background())
	for _, t := range a.Trainees {
		fmt.Println(t.ID, t.Answers[0].Estimate, t.Answers[0].Status, t.Rule.Attempt, err)
	}
	// Output:
	// T01 10 reached 10 <nil>
	// T02 NaN moving-away 2 <nil>
}
