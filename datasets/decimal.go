package datasets

import (
	"math"
	"strconv"
)

// decimal is a sum or a product of decimal numbers without the last digits that binary arithmetic
// leaves: 100 - 84.7 - 2.1 is 13.2 and not 13.199999999999998, which would miss a standard of 13.2.
// It keeps 14 digits of the largest number that went into it.
func decimal(v, largest float64) float64 {
	largest = math.Abs(largest)
	if !(largest > 1e-200) || math.IsInf(v, 0) || math.IsNaN(v) {
		return v
	}
	places := max(0, 13-int(math.Floor(math.Log10(largest))))
	if places <= 22 && largest < 1e14 { // powers of ten up to this one, and whole numbers below 2^53, are exact
		scale := math.Pow10(places)
		return math.Round(v*scale)/scale + 0
	}
	out, err := strconv.ParseFloat(strconv.FormatFloat(v, 'f', places, 64), 64)
	if err != nil {
		return v
	}
	return out + 0 // not -0
}

// product is a product of decimal numbers.
func product(a, b float64) float64 { return decimal(a*b, a*b) + 0 }
