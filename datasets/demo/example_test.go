package demo_test

import (
	"fmt"

	"tyro/datasets/demo"
)

func ExampleNames() {
	fmt.Println(demo.Names())
	// Output: [study.yaml attempts.csv experts.csv ratings.csv truth.md]
}
