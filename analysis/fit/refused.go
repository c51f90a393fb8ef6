package fit

import "math"

// Refused is the result for a series that a curve cannot be fitted to at all: why is
// what [One] said of it.
func Refused(s Series, spec Spec, why error) Fit {
	out, _ := tooLittle(Series{}, spec)
	out.N, out.NCensored, out.Warnings = len(s.Attempt), s.NCensored(), nil
	if out.N > 0 {
		out.First, out.Last = extent(s.Attempt)
	}
	out.Scale, out.Status = math.NaN(), Unsuited
	out.warn("refused", why.Error())
	return out
}
