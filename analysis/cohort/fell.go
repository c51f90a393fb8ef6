package cohort

import (
	"cmp"
	"math"
	"slices"
)

// Fell is where a cohort's later attempts fell in what was foretold of them: the shares of the
// predictions that they stayed at or under, in order, each with its weight; trainees count
// alike, and each was foretold by the cohort without that trainee. So a range can be drawn as
// wide as it takes to hold a share of what trainees really did (conformal prediction over people:
// Lei, G'Sell, Rinaldo, Tibshirani and Wasserman, 2018, Journal of the American Statistical
// Association 113, 1094-1111). It corrects what is wrong for the cohort on the whole; that a
// single trainee is held is not promised by it.
type Fell struct {
	Trainees int      `json:"trainees"`
	At       []FellAt `json:"at"`
}

// FellAt is one attempt's.
type FellAt struct {
	Share  float64 `json:"share"`
	Weight float64 `json:"weight"`
}

// leastFell is how many trainees it takes for ranges to be corrected.
const leastFell = 10

// fell gathers where attempts fell in the mixture of the models' predictions.
func (s Stacking) fell(models []Foresight) Fell {
	k := newStack(models, s.Trust)
	out := Fell{Trainees: k.people}
	for r, look := range s.mixed(models).Looks {
		for _, share := range look.Share {
			if !math.IsNaN(share) {
				out.At = append(out.At, FellAt{share, k.weight[r]})
			}
		}
	}
	slices.SortStableFunc(out.At, func(a, b FellAt) int { return cmp.Compare(a.Share, b.Share) })
	return out
}

// Corrected is the share of a prediction that a share p of later attempts stayed at or under; p
// itself where too few trainees say.
func (f Fell) Corrected(p float64) float64 {
	if f.Trainees < leastFell || len(f.At) == 0 {
		return p
	}
	total := 0.0
	for _, a := range f.At {
		total += a.Weight
	}
	// Every attempt stands in the middle of its weight, between them it goes straight; before the
	// first and after the last towards 0 and 1.
	below, at := 0.0, FellAt{}
	for _, a := range append(slices.Clone(f.At), FellAt{1, 0}) {
		middle := below + a.Weight/2/total
		if a.Weight == 0 {
			middle = 1
		}
		if p <= middle {
			return at.Share + (a.Share-at.Share)*(p-at.Weight)/math.Max(middle-at.Weight, 1e-300)
		}
		at = FellAt{a.Share, middle}
		below += a.Weight / total
	}
	return 1
}

// Inside is the share of later attempts that fell within a central range of the predictions.
func (f Fell) Inside(level float64) float64 {
	inside, total := 0.0, 0.0
	for _, a := range f.At {
		total += a.Weight
		if a.Share > (1-level)/2 && a.Share < (1+level)/2 {
			inside += a.Weight
		}
	}
	return inside / total
}
