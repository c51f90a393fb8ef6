package proficiency_test

import (
	"context"
	"fmt"

	"tyro/analysis/fit"
	"tyro/analysis/practice"
	"tyro/analysis/proficiency"
	"tyro/analysis/resample"
	"tyro/models"
)

// Seconds needed at each attempt, against a standard of 60 seconds. The times are
// 40 + 120·0.8^(n−1) to half a second, which is 60 at 1 + ln 6/ln 1.25 = 9.03: attempt
// 10 is the first to meet the standard.
func Example() {
	attempt := []float64{1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12}
	seconds := []float64{160, 136, 117, 101.5, 89, 79.5, 71.5, 65, 60, 56, 53, 50.5}
	trainee := practice.Measured("T01", attempt, seconds)
	curves := []fit.Spec{{Family: models.Exponential(1), Noise: models.Lognormal{}, Positive: true}}
	learner, err := proficiency.Learn(trainee, curves)
	if err != nil {
		panic(err)
	}
	question := proficiency.Question{Standard: practice.Standard{Value: 60, Lower: true}}
	answers, err := learner.Attempts(context.Background(), question, resample.Sampling{Seed: 1, Replicates: 200}, "T01")
	if err != nil {
		panic(err)
	}
	for _, a := range answers {
		fmt.Printf("%s: attempt %g (%g to %g), %s\n", a.Definition, a.Estimate, a.Lower, a.Upper, a.Status)
	}
	// Output:
	// mean-crossing: attempt 10 (10 to 10), reached
	// pass-chance: attempt 10 (10 to 10), reached
}
