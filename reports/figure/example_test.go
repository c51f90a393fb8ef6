package figure_test

import (
	"context"
	"fmt"
	"maps"
	"slices"

	"tyro/analysis/practice"
	"tyro/analysis/study"
	"tyro/reports"
	"tyro/reports/figure"
)

// The pictures of ways to stop practice, and the numbers in them, by file name.
func ExampleFiles() {
	s, _ := study.New(practice.Practice{}, study.Options{})
	answer, err := s.WaysToStop(context.Background(), study.WaysOptions{Usual: true})
	if err != nil {
		panic(err)
	}
	files, err := figure.Files(reports.NewWaysToStop(s, answer, ""))
	fmt.Println(slices.Sorted(maps.Keys(files)), err)
	// Output: [quota-rules.svg rules-operating.csv] <nil>
}
