package analysis_test

import (
	"fmt"

	"tyro/analysis"
)

// 0 means the usual level in every analysis; 95 was meant as 0.95, and is refused.
func ExampleLevel() {
	usual, _ := analysis.Level(0)
	_, err := analysis.Level(95)
	fmt.Println(usual, err)
	// Output: 0.95 the level of an interval must be between 0 and 1, such as 0.95; it is 95
}
