package models

import "math"

// AtLeast is the chance that one attempt's response is y or more. Where responses
// are whole numbers, those from the next whole number on count: at a y of 2.5 the
// responses 3, 4, ….
func AtLeast(n Noise, y, m, scale float64) float64 {
	if !n.Additive() {
		return 1 - n.CDF(math.Ceil(y)-1, m, scale)
	}
	return 1 - n.CDF(y, m, scale)
}
