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

// Two examiners of 50 performances: both pass 20 and both fail 15, 5 and 10 are passed
// by one of them alone. They agree on 0.70; by chance alone it would be 0.50, so kappa is
// (0.70 - 0.50) / (1 - 0.50) = 0.40.
func ExampleStudy_Agreement() {
	item := practice.RatedItem{Name: "passed", Scale: "nominal", Raters: []string{"A", "B"}, Categories: []string{"no", "yes"}}
	for _, c := range []struct {
		n    int
		a, b float64
	}{{20, 1, 1}, {5, 1, 0}, {10, 0, 1}, {15, 0, 0}} {
		for range c.n {
			item.Subjects, item.Scores = append(item.Subjects, fmt.Sprint(len(item.Scores))), append(item.Scores, []float64{c.a, c.b})
		}
	}
	s, err := study.New(practice.Practice{Items: []practice.RatedItem{item}}, study.Options{Replicates: 20})
	if err != nil {
		panic(err)
	}
	a, err := s.Agreement(context.Background(), study.AgreementQuestion{})
	for _, c := range a.Items[0].Coefficients {
		if c.Name == "cohen-kappa" {
			fmt.Printf("%.2f %v\n", c.Estimate, err)
		}
	}
	// Output: 0.40 <nil>
}
