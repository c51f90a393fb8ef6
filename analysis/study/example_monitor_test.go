package study_test

import (
	"context"
	"fmt"

	"tyro/analysis/monitor"
	"tyro/analysis/practice"
	"tyro/analysis/study"
)

// Times of 60 s or less pass. At 10 against 30 % failures a pass adds ln(0.9/0.7) =
// 0.2513 to the chart and a failure takes ln(0.3/0.1) = 1.0986 away, never below 0: a
// limit of 1 is reached by the fourth pass in a row.
func ExampleStudy_Monitor() {
	numbers := []float64{1, 2, 3, 4, 5, 6, 7}
	s, err := study.New(practice.Practice{
		Task: practice.Task{Name: "cannulation", Measure: practice.Time, Lower: true, Standard: &practice.Decision{Value: 60}},
		Trainees: []practice.Trainee{
			practice.Measured("T01", numbers, []float64{95, 71, 58, 55, 57, 52, 49}),
			practice.Measured("T02", numbers, []float64{88, 59, 64, 60, 56, 54, 63}),
		},
	}, study.Options{NoCurves: true})
	if err != nil {
		panic(err)
	}
	m, err := s.Monitor(context.Background(), study.MonitorOptions{Rates: monitor.Rates{Acceptable: 0.1, Unacceptable: 0.3}, H: 1})
	if err != nil {
		panic(err)
	}
	for _, t := range m.Watched {
		if t.Shown >= 0 {
			fmt.Println(t.ID, "has shown adequate performance at attempt", t.Attempts[t.Shown].Number)
		} else {
			fmt.Println(t.ID, "has not yet")
		}
	}
	// Output:
	// T01 has shown adequate performance at attempt 6
	// T02 has not yet
}
