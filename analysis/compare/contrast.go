package compare

import (
	"fmt"
	"math"

	"tyro/analysis"
)

// A Contrast is an arm against a reference arm on one measure.
type Contrast struct {
	Measure, Arm, Reference string
	Method                  string // makes estimate, interval and p together
	Basis                   string // what the numbers come from, where a caller says so
	Ratio                   bool   // the arm over the reference; otherwise a difference
	Estimate, Lower, Upper  float64
	Level                   float64
	SE                      float64 // of a ratio's logarithm; NaN where the method has none
	DF                      float64 // of t, or those by which a margin is judged; NaN where the method has none
	ArmValue, RefValue      float64
	ArmN, RefN              int // trainees who enter
	P                       float64
	PAdjusted, PHochberg    float64 // NaN until adjusted
	Margin                  float64 // of equivalence or non-inferiority; NaN otherwise
	Excludes                string  // what the interval rules out and leaves open, in words
	Caution                 string  // why interval and p are not to be relied on, in words; "" for no reason
	Withheld                bool    // and so are not given
	Replicates              int
	Exact                   bool // Replicates are all ways there are to deal the trainees out
	Warnings                []analysis.Warning
}

// newContrast has no number yet.
func newContrast(measure, method string, ref, arm Arm) Contrast {
	nan := math.NaN()
	return Contrast{
		Measure: measure, Method: method, Arm: arm.Name, Reference: ref.Name, Estimate: nan, Lower: nan, Upper: nan, SE: nan, DF: nan,
		ArmValue: nan, RefValue: nan, ArmN: len(arm.Values), RefN: len(ref.Values), P: nan, PAdjusted: nan, PHochberg: nan, Margin: nan,
	}
}

func (c *Contrast) warn(code, text string) {
	c.Warnings = append(c.Warnings, analysis.Warning{Code: code, Text: text})
}

// Known reports whether there is an estimate with an interval.
func (c Contrast) Known() bool {
	return !math.IsNaN(c.Estimate) && !math.IsNaN(c.Lower) && !math.IsNaN(c.Upper)
}

// None is the value at which the arms do not differ: 0, or a ratio of 1.
func (c Contrast) None() float64 {
	if c.Ratio {
		return 1
	}
	return 0
}

// Open reports whether the interval holds the value at which arms do not differ.
func (c Contrast) Open() bool { return c.Lower <= c.None() && c.None() <= c.Upper }

// AsRatio is a contrast of logarithms as a ratio.
func AsRatio(c Contrast) Contrast {
	c.exponentiate()
	c.Describe()
	return c
}

// Doubted is a contrast without its test, and with the reason in words: its interval shows
// what would be so if the reason did not hold, and rules nothing out.
func Doubted(c Contrast, caution string) Contrast {
	c.P, c.Excludes, c.Caution = math.NaN(), "", caution
	return c
}

// Withhold gives a contrast of which only the estimate is left, with the reason in words: what it
// would have to be of was not seen.
func Withhold(c Contrast, reason string) Contrast {
	nan := math.NaN()
	c.Lower, c.Upper, c.SE, c.DF, c.P, c.Excludes, c.Caution, c.Withheld = nan, nan, nan, nan, nan, "", reason, true
	return c
}

// exponentiate turns a difference of logarithms into a ratio.
func (c *Contrast) exponentiate() {
	c.Ratio = true
	for _, v := range []*float64{&c.Estimate, &c.Lower, &c.Upper, &c.ArmValue, &c.RefValue} {
		*v = math.Exp(*v)
	}
}

// Describe fills the words of what the interval rules out and leaves open.
func (c *Contrast) Describe() {
	c.Excludes = ""
	if math.IsNaN(c.Lower) || math.IsNaN(c.Upper) {
		return
	}
	what := "differences"
	if c.Ratio {
		what = "ratios"
	}
	side := func(v float64) string { return fmt.Sprintf("%.3g", v) }
	noLower, noUpper := math.IsInf(c.Lower, -1) || c.Ratio && c.Lower == 0, math.IsInf(c.Upper, 1)
	switch {
	case noLower && noUpper:
		c.Excludes = "excludes no " + what
	case noUpper:
		c.Excludes = fmt.Sprintf("excludes %s below %s", what, side(c.Lower))
	case noLower:
		c.Excludes = fmt.Sprintf("excludes %s above %s", what, side(c.Upper))
	default:
		c.Excludes = fmt.Sprintf("excludes %s below %s and above %s", what, side(c.Lower), side(c.Upper))
	}
	if c.Open() {
		c.Excludes += "; anything between, in either direction, remains possible"
	}
}

// Unjudged is a contrast without numbers, for estimates and intervals made elsewhere.
func Unjudged(measure, method, ref, arm string) Contrast {
	c := newContrast(measure, method, Arm{Name: ref}, Arm{Name: arm})
	c.ArmN, c.RefN = 0, 0
	return c
}
