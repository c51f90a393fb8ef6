package ranges_test

import (
	"fmt"

	"tyro/analysis/practice/ranges"
)

func ExampleRange_Check() {
	fmt.Println(ranges.Level.Check(0.95))
	fmt.Println(ranges.Level.Check(95))
	// Output:
	// <nil>
	// 95 is out of range: expected a number from 0.01 to 0.9999 (level: confidence level of intervals, such as 0.95)
}
