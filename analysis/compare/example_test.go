package compare_test

import (
	"context"
	"fmt"

	"tyro/analysis/compare"
	"tyro/analysis/resample"
)

// Attempts of eight trainees: four of the reference arm spent 12, 14, 16 and 18, a mean of
// 15; the others 8, 10, 12 and 14, a mean of 11: 4 fewer.
func ExampleShift() {
	usual := compare.Arm{Name: "usual", Values: []float64{12, 14, 16, 18}}
	spaced := compare.Arm{Name: "spaced", Values: []float64{8, 10, 12, 14}}
	c, err := compare.Shift(context.Background(), "attempts", usual, spaced, 0.95, resample.Sampling{Seed: 1})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s against %s: %+g %s, interval holds 0: %t\n", c.Arm, c.Reference, c.Estimate, c.Measure, c.Open())
	// Output: spaced against usual: -4 attempts, interval holds 0: true
}

// Holm (1979): the smallest of three p values counts three times, the next twice, the
// last once, and none less than the one before: 0.03, then 2·0.03 = 0.06, then 0.06
// again rather than 0.04. Hochberg (1988) starts at the largest: 0.04, then at most that.
func ExampleHolm() {
	ps := []float64{0.01, 0.04, 0.03}
	holm, hochberg := compare.Holm(ps), compare.Hochberg(ps)
	for i, p := range ps {
		fmt.Printf("%.2f becomes %.2f, or %.2f\n", p, holm[i], hochberg[i])
	}
	// Output:
	// 0.01 becomes 0.03, or 0.03
	// 0.04 becomes 0.06, or 0.04
	// 0.03 becomes 0.06, or 0.04
}
