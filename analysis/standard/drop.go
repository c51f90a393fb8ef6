package standard

import (
	"fmt"
	"math"

	"tyro/analysis"
)

// A Drop is a rule that leaves out experts, decided on before looking. The
// zero value leaves out nobody; at most one of its limits is above 0.
type Drop struct {
	Trim float64 // share cut off at each end, rounded down to whole experts
	SDs  float64 // those further than this many standard deviations from the mean, once
	MADs float64 // those further than this many scaled median distances from the median, once
}

// String names the rule for people.
func (d Drop) String() string {
	switch {
	case d.Trim > 0:
		return fmt.Sprintf("%g %% trimmed at each end", 100*d.Trim)
	case d.SDs > 0:
		return fmt.Sprintf("those beyond %g SD of the mean dropped", d.SDs)
	case d.MADs > 0:
		return fmt.Sprintf("those beyond %g scaled MAD of the median dropped", d.MADs)
	}
	return "all experts"
}

// LargestZ is the most standard deviations that one of n values can lie from
// their mean: (n − 1)/√n.
func LargestZ(n int) float64 { return float64(n-1) / math.Sqrt(float64(n)) }

// keep applies the rule; a warning where it cannot act.
func (d Drop) keep(x []float64) ([]float64, []analysis.Warning) {
	var ws []analysis.Warning
	cannot := func(text string) {
		ws = append(ws, analysis.Warning{Code: "rule-cannot-act", Text: text})
	}
	within := func(center, reach float64) []float64 {
		var out []float64
		for _, v := range x {
			if math.Abs(v-center) <= reach {
				out = append(out, v)
			}
		}
		return out
	}
	n := len(x)
	switch {
	case d.Trim > 0:
		cut := int(d.Trim*float64(n) + 1e-9)
		if cut == 0 {
			cannot(fmt.Sprintf("trimming %g %% at each end cannot act on %d experts: it takes at least %d", 100*d.Trim, n, int(math.Ceil(1/d.Trim-1e-9))))
		}
		if 2*cut >= n {
			return nil, ws
		}
		return sorted(x)[cut : n-cut], ws
	case d.SDs > 0:
		if LargestZ(n) <= d.SDs {
			need := n
			for LargestZ(need) <= d.SDs {
				need++
			}
			cannot(fmt.Sprintf("dropping those beyond %g SD cannot act on %d experts: none of %d values can be further than %.3f SD from their mean; it takes at least %d", d.SDs, n, n, LargestZ(n), need))
		}
		return within(mean(x), d.SDs*sd(x)), ws
	case d.MADs > 0:
		if mad(x) == 0 {
			cannot("more than half of the experts have the same value, so distances from the median have no unit and nobody is dropped")
			return x, ws
		}
		return within(median(x), d.MADs*mad(x)), ws
	}
	return x, nil
}
