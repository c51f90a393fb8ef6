package cohort

import (
	"cmp"
	"maps"
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
	// Known is the number of attempts that it was foretold from, or the next lower one from which trainees
	// enough were; 0 where there is none.
	Known int `json:"known,omitempty"`
}

// leastFell is how many trainees it takes for ranges to be corrected.
const leastFell = 10

// fell gathers where attempts fell in the mixture of the models' predictions.
func (s Stacking) fell(models []Foresight) Fell {
	k := newStack(models, s.Trust)
	out := Fell{Trainees: k.people}
	looks := s.mixed(models).Looks
	enough := enoughKnown(looks)
	for r, look := range looks {
		for _, share := range look.Share {
			if !math.IsNaN(share) {
				out.At = append(out.At, FellAt{share, k.weight[r], enough[look.Known]})
			}
		}
	}
	slices.SortStableFunc(out.At, func(a, b FellAt) int { return cmp.Compare(a.Share, b.Share) })
	return out
}

// enoughKnown gives every number of known attempts itself where trainees enough were foretold from so many, else the
// next lower one of which that holds; 0 where none is.
func enoughKnown(looks []Look) map[int]int {
	people := map[int]int{}
	for _, l := range looks {
		people[l.Known]++
	}
	out, last := map[int]int{}, 0
	for _, known := range slices.Sorted(maps.Keys(people)) {
		if people[known] >= leastFell {
			last = known
		}
		out[known] = last
	}
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
	for _, a := range append(slices.Clone(f.At), FellAt{Share: 1}) {
		middle := below + a.Weight/2/total
		if a.Weight == 0 {
			middle = 1
		}
		if p <= middle {
			return at.Share + (a.Share-at.Share)*(p-at.Weight)/math.Max(middle-at.Weight, 1e-300)
		}
		at = FellAt{Share: a.Share, Weight: middle}
		below += a.Weight / total
	}
	return 1
}

// After is where attempts fell that were foretold from about as many as are known: ranges of later attempts are
// not as wide after five attempts as after fifty, nor are the models as right.
func (f Fell) After(known int) Fell {
	away := func(n int) float64 { return math.Abs(math.Log(float64(n) / float64(max(known, 1)))) }
	near := 0
	for _, a := range f.At {
		if a.Known > 0 && (near == 0 || away(a.Known) < away(near)) {
			near = a.Known
		}
	}
	if near == 0 {
		return f
	}
	return Fell{f.Trainees, slices.DeleteFunc(slices.Clone(f.At), func(a FellAt) bool { return a.Known != near })}
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
