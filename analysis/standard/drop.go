package standard

import (
	"cmp"
	"fmt"
	"math"
	"slices"

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

// keep says who stays; a warning where the rule cannot act.
func (d Drop) keep(x []float64) ([]bool, []analysis.Warning) {
	var ws []analysis.Warning
	cannot := func(text string) {
		ws = append(ws, analysis.Warning{Code: "rule-cannot-act", Text: text})
	}
	n := len(x)
	kept := make([]bool, n)
	within := func(center, reach float64) {
		for i, v := range x {
			kept[i] = math.Abs(v-center) <= reach
		}
	}
	switch {
	case d.Trim > 0:
		cut := int(d.Trim*float64(n) + 1e-9)
		if cut == 0 {
			cannot(fmt.Sprintf("trimming %g %% at each end cannot act on %d experts: it takes at least %d", 100*d.Trim, n, int(math.Ceil(1/d.Trim-1e-9))))
		}
		order := make([]int, n)
		for i := range order {
			order[i] = i
		}
		slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(x[a], x[b]) })
		for at, i := range order {
			kept[i] = at >= cut && at < n-cut
		}
	case d.SDs > 0:
		if LargestZ(n) <= d.SDs {
			need := n
			for LargestZ(need) <= d.SDs {
				need++
			}
			cannot(fmt.Sprintf("dropping those beyond %g SD cannot act on %d experts: none of %d values can be further than %.3f SD from their mean; it takes at least %d", d.SDs, n, n, LargestZ(n), need))
		}
		within(mean(x), d.SDs*sd(x))
	case d.MADs > 0 && mad(x) == 0:
		cannot("more than half of the experts have the same value, so distances from the median have no unit and nobody is dropped")
		within(median(x), math.Inf(1))
	case d.MADs > 0:
		within(median(x), d.MADs*mad(x))
	default:
		within(0, math.Inf(1))
	}
	return kept, ws
}
