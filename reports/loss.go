package reports

import (
	"fmt"
	"math"
)

// DaysText is a number of days, which need not be whole.
func DaysText(days float64) string {
	if days == 1 {
		return "1 day"
	}
	return fmt.Sprintf("%g days", days)
}

// LossText is a loss for people: on the log scale as per cent of the level before.
func LossText(scale string, v Number) string {
	if scale == "log" {
		return Significant(100*math.Expm1(float64(v)), 3) + " %"
	}
	return Significant(float64(v), 3)
}
