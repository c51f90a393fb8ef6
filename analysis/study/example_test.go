package study_test

import (
	"context"
	"fmt"

	"tyro/analysis/practice"
	"tyro/analysis/study"
)

// Three experts took 10, 12 and 14 seconds: mean 12, standard deviation 2. One
// standard deviation on the lenient side is 14 seconds.
func ExampleStudy_Standard() {
	expert := func(id string, seconds float64) practice.Trainee {
		return practice.Measured(id, []float64{1}, []float64{seconds})
	}
	s, err := study.New(practice.Practice{
		Task:    practice.Task{Measure: practice.Time, Lower: true},
		Experts: []practice.Trainee{expert("A", 10), expert("B", 12), expert("C", 14)},
	}, study.Options{})
	if err != nil {
		panic(err)
	}
	a, err := s.Standard(context.Background(), study.StandardRule{SDs: 1})
	fmt.Println(a.Estimate.Value, a.Experts.Meeting, "of", a.Experts.Known, "meet it", err)
	// Output: 14 3 of 3 meet it <nil>
}
