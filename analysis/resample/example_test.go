package resample_test

import (
	"fmt"

	"tyro/analysis/resample"
)

// Of 199 replicates 1, 2, … 199 the p-quantile stands at position 200·p: 10 and 190
// for an interval of 90 %.
func ExamplePercentileInterval() {
	var replicates []float64
	for i := range 199 {
		replicates = append(replicates, float64(i+1))
	}
	iv := resample.PercentileInterval(replicates, 0.9)
	fmt.Printf("%.1f to %.1f from %d replicates\n", iv.Lower, iv.Upper, iv.Replicates)
	fmt.Println(resample.PercentileInterval(replicates, 90).Err)
	// Output:
	// 10.0 to 190.0 from 199 replicates
	// the level of an interval must be between 0 and 1, such as 0.95; it is 90
}

// Of nine relabelled differences 2, −2 and 3 are as far from 0 as the 2 observed,
// which counts as one itself: (3 + 1)/(9 + 1).
func ExamplePermutationP() {
	fmt.Println(resample.PermutationP(2, []float64{0, 1, -1, 2, -2, 3, 0.5, -0.5, 1.5}))
	// Output: 0.4
}
