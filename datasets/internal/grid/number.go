package grid

import (
	"math"
	"strconv"
	"strings"

	"tyro/datasets/internal/pattern"
)

// PlainNumber is what counts as a number: digits with an optional sign,
// decimal mark and exponent. "inf", "0x1p-2" and "1_000" are not.
var PlainNumber = pattern.New(`^[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d{1,3})?$`)

// ParseNumber reads a number whose decimal mark is a point, or a comma where
// the file uses commas.
func ParseNumber(s string, decimalComma bool) (float64, bool) {
	if decimalComma {
		if strings.Contains(s, ".") {
			return 0, false
		}
		s = strings.Replace(s, ",", ".", 1)
	}
	if !PlainNumber.MatchString(s) {
		return 0, false
	}
	v, err := strconv.ParseFloat(s, 64)
	return v, err == nil
}

// Number is a text of digits as a number; 0 for any other text.
func Number(s string) float64 {
	v, _ := strconv.ParseFloat(s, 64)
	return v
}

// FormatNumber writes the shortest text that reads back as the same number;
// blank for an unknown one.
func FormatNumber(v float64) string {
	if math.IsNaN(v) {
		return ""
	}
	return strconv.FormatFloat(v, 'g', -1, 64)
}

// noiseFrom is how long a number's text is where its last digits may be noise.
const noiseFrom = 12

// withoutNoise is a number without what sums leave in its last digits: 1.36 for
// 1.35999999999999, as a spreadsheet shows it.
func withoutNoise(v float64) float64 {
	if short, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', noiseFrom, 64), 64); err == nil && math.Abs(short-v) <= 1e-13*math.Abs(v) {
		return short
	}
	return v
}
