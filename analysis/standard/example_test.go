package standard_test

import (
	"fmt"

	"tyro/analysis/standard"
)

// Four experts need 40, 44, 48 and 52 s: mean 46, squared distances 36 + 4 + 4 +
// 36 = 80, so the standard deviation is √(80/3) = 5.16. A trainee passes at or
// below mean plus one SD.
func ExampleExpertMean() {
	e, err := standard.ExpertMean([]float64{40, 44, 48, 52}, standard.ExpertRule{Lower: true, SDs: 1})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f s from %d experts\n", e.Value, e.N)
	// Output: 51.16 s from 4 experts
}
