package datasets

import (
	"strconv"
	"strings"
)

// plainNumber is what counts as a number: digits with an optional sign,
// decimal mark and exponent. "inf", "0x1p-2" and "1_000" are not.
var plainNumber = newPattern(`^[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d{1,3})?$`)

// parseNumber reads a number whose decimal mark is a point, or a comma where
// the file uses commas.
func parseNumber(s string, decimalComma bool) (float64, bool) {
	if decimalComma {
		if strings.Contains(s, ".") {
			return 0, false
		}
		s = strings.Replace(s, ",", ".", 1)
	}
	if !plainNumber.MatchString(s) {
		return 0, false
	}
	v, err := strconv.ParseFloat(s, 64)
	return v, err == nil
}

// The ways people write a duration: 1:30, 1:30.5, 0:01:30, 1m30s, 1'30".
var (
	clockTime = newPattern(`^(?:(\d{1,2}):)?(\d{1,3}):(\d{2}(?:\.\d+)?)$`)
	unitTime  = newPattern(`^(?:(\d+)\s*(?:m|min|'|′))?\s*(?:(\d+(?:\.\d+)?)\s*(?:s|sec|"|″|''))?$`)
)

// parseSeconds reads a time in seconds, or in one of the written forms, where
// the last part is always seconds.
func parseSeconds(s string, decimalComma bool) (float64, bool) {
	if v, ok := parseNumber(s, decimalComma); ok {
		return v, true
	}
	t := strings.Replace(s, ",", ".", 1)
	if m := clockTime.FindStringSubmatch(t); m != nil {
		return 3600*number(m[1]) + 60*number(m[2]) + number(m[3]), number(m[3]) < 60
	}
	if m := unitTime.FindStringSubmatch(t); m != nil && t != "" {
		return 60*number(m[1]) + number(m[2]), true
	}
	return 0, false
}

func number(s string) float64 {
	v, _ := strconv.ParseFloat(s, 64)
	return v
}
