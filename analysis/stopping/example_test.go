package stopping_test

import (
	"fmt"

	"tyro/analysis/practice"
	"tyro/analysis/stopping"
)

// Two passes in a row at an even chance: of the four ways through two attempts one
// meets the rule, of the eight ways through three there are three (pass, pass and
// either; fail, pass, pass); on average it takes (1 − p²)/(p²·(1 − p)) = 6 attempts
// (Feller, 1968, An Introduction to Probability Theory, chapter XIII.7).
func ExampleRule_MetBy() {
	rule, err := practice.ParseRule("2 in a row")
	if err != nil {
		fmt.Println(err)
		return
	}
	practiceStops := stopping.Rule{Rule: rule}
	by, err := practiceStops.MetBy([]float64{0.5, 0.5, 0.5})
	if err != nil {
		fmt.Println(err)
		return
	}
	mean, err := practiceStops.MeanAttempts(0.5)
	fmt.Println(by, mean, err)
	// Output: [0 0.25 0.375] 6 <nil>
}
