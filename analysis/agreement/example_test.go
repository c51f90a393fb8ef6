package agreement_test

import (
	"fmt"

	"tyro/analysis/agreement"
)

// Six performances by four raters: table 2 of Shrout and Fleiss (1979), Psychological
// Bulletin 86, 420-428, who print .17, .29 and .71 for a single rating.
func ExampleICC() {
	ratings := agreement.Ratings{{9, 2, 5, 8}, {6, 1, 3, 2}, {8, 4, 6, 8}, {7, 1, 2, 6}, {10, 5, 6, 9}, {6, 2, 4, 7}}
	for _, c := range agreement.ICC(ratings, 0.95)[:3] {
		fmt.Printf("%s %.2f\n", c.Name, c.Estimate)
	}
	ragged := agreement.Ratings{{9, 2}, {6}}
	fmt.Println(agreement.ICC(ragged, 0.95)[0].Err)
	// Output:
	// icc(1,1) 0.17
	// icc(a,1) 0.29
	// icc(c,1) 0.71
	// the ratings cannot be used: subject 2 has 1 places for ratings, the first has 2
}

// Two raters agree on 20 + 15 of 50 performances, 0.7; by chance they would on
// (25·30 + 25·20)/50² = 0.5, so kappa is (0.7 − 0.5)/(1 − 0.5).
func ExampleCohenKappa() {
	k := agreement.CohenKappa([][]float64{{20, 5}, {10, 15}}, agreement.Identity, 0.95)
	fmt.Printf("%s %.2f\n", k.Name, k.Estimate)
	// Output: cohen-kappa 0.40
}
