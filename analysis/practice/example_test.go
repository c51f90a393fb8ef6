package practice_test

import (
	"fmt"

	"tyro/analysis/practice"
)

// Two attempts in a row within 60 seconds: 58 and 55 are the first two such.
func ExampleRule_FirstMet() {
	rule, err := practice.ParseRule("2 in a row")
	if err != nil {
		panic(err)
	}
	trainee := practice.Measured("T01", []float64{1, 2, 3, 4, 5}, []float64{80, 59, 66, 58, 55})
	passes := trainee.Passes(practice.Standard{Value: 60, Lower: true})
	fmt.Println(passes, "met with pass or fail number", rule.FirstMet(passes))
	// Output: [false true false true true] met with pass or fail number 5
}

// At least 8 points of 10: more is better unless Lower says otherwise.
func ExampleStandard_Meets() {
	s := practice.Standard{Value: 8}
	fmt.Println(s.Meets(7.9), s.Meets(8), s.Meets(9.5))
	// Output: false true true
}
