package reports

import (
	"math"
	"strconv"
	"unicode"
	"unicode/utf8"
)

// A Number is a float that JSON shows in full precision, and as null where it
// is unknown or not finite.
type Number float64

// MarshalJSON writes the shortest digits that read back as the same number.
func (n Number) MarshalJSON() ([]byte, error) {
	v := float64(n)
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return []byte("null"), nil
	}
	return strconv.AppendFloat(nil, v, 'g', -1, 64), nil
}

// significant writes v with the given number of significant digits and no
// exponent for numbers of everyday size; a dash for an unknown one.
func Significant(v float64, digits int) string {
	switch {
	case math.IsNaN(v):
		return "–"
	case math.IsInf(v, 1):
		return "∞"
	case math.IsInf(v, -1):
		return "−∞"
	case v == 0:
		return "0"
	}
	size := math.Abs(v)
	if size >= 1e7 || size < 1e-5 {
		return strconv.FormatFloat(v, 'g', digits, 64)
	}
	places := max(0, digits-1-int(math.Floor(math.Log10(size))))
	return strconv.FormatFloat(v, 'f', places, 64)
}

// pValue writes a p value as journals ask: two or three digits, never 0.
func PValue(p float64) string {
	switch {
	case math.IsNaN(p):
		return "–"
	case p < 0.001:
		return "<0.001"
	case p < 0.1:
		return strconv.FormatFloat(p, 'f', 3, 64)
	}
	return strconv.FormatFloat(p, 'f', 2, 64)
}

// pText is a p value for a sentence: "= 0.012" or "< 0.001".
func pText(p float64) string {
	s := PValue(p)
	if s[0] == '<' {
		return "< " + s[1:]
	}
	return "= " + s
}

// attemptsText writes a number of attempts: whole, or beyond the horizon.
func attemptsText(v, horizon float64) string {
	switch {
	case math.IsNaN(v):
		return "–"
	case math.IsInf(v, 1):
		return "beyond " + strconv.FormatFloat(horizon, 'f', 0, 64)
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

// Capital is a text with its first letter as a capital; bytes that are no UTF-8 stay.
func Capital(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	if n == 0 || r == utf8.RuneError {
		return s
	}
	return string(unicode.ToUpper(r)) + s[n:]
}

func numbersOf(vs []float64) []Number {
	var out []Number
	for _, v := range vs {
		out = append(out, Number(v))
	}
	return out
}
