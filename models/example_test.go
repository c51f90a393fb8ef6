package models_test

import (
	"fmt"

	"tyro/models"
)

// 40 + 140·n^(−1/2): at attempt 1 it is 180, at 4 it is 40 + 140/2 = 110, and 60 is
// met where √n = 140/20, at attempt 49. Nine tenths of the gain are made where √n =
// 10, at attempt 100.
func ExamplePower() {
	c := models.Power().Curve([]float64{40, 140, 0.5}) // plateau, gain, rate
	fmt.Printf("%.0f s at first, %.0f s at attempt 4\n", c.Start(), c.At(4))
	fmt.Printf("60 s at attempt %.0f\n", c.Crossing(60, 1, true))
	fmt.Printf("90 %% of the gain after %.0f attempts\n", c.ToShare(0.9))
	// Output:
	// 180 s at first, 110 s at attempt 4
	// 60 s at attempt 49
	// 90 % of the gain after 100 attempts
}

// With lognormal noise the curve is the median, so half of the attempts are at or
// below it; exp(0.2·1.2816) = 1.292 times as much holds nine tenths of them.
func ExampleLognormal() {
	noise := models.Lognormal{}
	fmt.Printf("%.2f of attempts within 60 s\n", noise.CDF(60, 60, 0.2))
	fmt.Printf("%.2f within %.1f s\n", 0.9, noise.Quantile(0.9, 60, 0.2))
	fmt.Println("a time of -3 s", models.CheckResponse(noise, -3))
	// Output:
	// 0.50 of attempts within 60 s
	// 0.90 within 77.5 s
	// a time of -3 s is not above 0
}
