package compare_test

import (
	"context"
	"fmt"

	"tyro/analysis/compare"
	"tyro/analysis/resample"
)

// Attempts of eight trainees: the first four, the reference arm, spent 12, 14, 16 and
// 18, a mean of 15; the others 8, 10, 12 and 14, a mean of 11: 4 fewer.
func ExampleArms() {
	attempts := []float64{12, 14, 16, 18, 8, 10, 12, 14}
	mean := compare.Measure{Name: "attempts", Of: func(members []int) float64 {
		sum := 0.0
		for _, i := range members {
			sum += attempts[i]
		}
		return sum / float64(len(members))
	}}
	groups := []compare.Group{{Name: "usual", Members: []int{0, 1, 2, 3}}, {Name: "spaced", Members: []int{4, 5, 6, 7}}}
	cs, err := compare.Arms(context.Background(), groups, []compare.Measure{mean}, compare.Options{Sampling: resample.Sampling{Seed: 1, Replicates: 200}})
	if err != nil {
		fmt.Println(err)
		return
	}
	c := cs[0]
	fmt.Printf("%s against %s: %+g %s at level %g\n", c.Arm, c.Reference, c.Estimate, c.Measure, c.Level)
	// Output: spaced against usual: -4 attempts at level 0.95
}

// Holm (1979): the smallest of three p values counts three times, the next twice, the
// last once, and none less than the one before: 0.03, then 2·0.03 = 0.06, then 0.06
// again rather than 0.04.
func ExampleHolm() {
	cs := []compare.Contrast{{P: 0.01}, {P: 0.04}, {P: 0.03}}
	compare.Holm(cs)
	for _, c := range cs {
		fmt.Printf("%.2f becomes %.2f\n", c.P, c.PAdjusted)
	}
	// Output:
	// 0.01 becomes 0.03
	// 0.04 becomes 0.06
	// 0.03 becomes 0.06
}
