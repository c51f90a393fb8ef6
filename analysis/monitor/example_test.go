package monitor_test

import (
	"fmt"

	"tyro/analysis/monitor"
)

// At h = 1 one failure always empties the sum, and each pass adds ln(0.9/0.7) =
// 0.2513, so a signal takes four passes in a row. At a failure rate of 0.3 a run
// of four comes after (1 − 0.7⁴)/(0.3·0.7⁴) = 10.55 attempts on average, and the
// first four attempts are one with chance 0.7⁴ = 0.2401.
func ExampleLearning() {
	c := monitor.Learning(monitor.Rates{Acceptable: 0.1, Unacceptable: 0.3}, 1)
	path := c.Follow([]bool{false, false, true, false, false, false, false}, nil)
	fmt.Println("signal at attempt", path.First+1)
	fmt.Printf("mean %.2f, within 4 attempts %.4f\n", c.Mean(0.3), c.SignalBy(0.3, 4)[3])
	// Output:
	// signal at attempt 7
	// mean 10.55, within 4 attempts 0.2401
}
