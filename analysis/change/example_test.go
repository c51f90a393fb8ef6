package change_test

import (
	"context"
	"fmt"

	"tyro/analysis/change"
	"tyro/analysis/resample"
)

// Twelve attempts near 10 and, from the seventh on, near 20.
func ExampleScan() {
	var attempt, value []float64
	for i, v := range []float64{10.1, 9.9, 10.1, 9.9, 10.1, 9.9, 20.1, 19.9, 20.1, 19.9, 20.1, 19.9} {
		attempt, value = append(attempt, float64(i+1)), append(value, v)
	}
	b, err := change.Scan(context.Background(), attempt, value, "example", resample.Sampling{Seed: 1, Replicates: 99})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("a %s after attempt %g, false alarms %g\n", b.Kind, b.After, b.P)
	// Output: a jump after attempt 6, false alarms 0.01
}
