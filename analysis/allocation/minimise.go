package allocation

import (
	"math"

	"tyro/analysis/resample"
)

// A Placed is a trainee dealt out by minimisation.
type Placed struct {
	Arm       string
	Code      string
	Imbalance []float64 // by arm, what it would be had the trainee gone there
	Favoured  bool      // the arm is one of those with the least
}

// Minimise deals trainees out one after the other, in the order in which they came: each
// goes with the chance given to the arm that leaves the levels of their factors most alike
// in all arms, and otherwise to one of the others. The imbalance of a factor is the range
// over arms of the trainees with that level, each arm's count over its share; the factors'
// are added up (Pocock and Simon, 1975, Biometrics 31, 103-115). Arms with the same least
// imbalance are as likely as their shares. Trainees that are added at the end change
// nothing before them.
func Minimise(seed uint64, arms Arms, factors [][]string, chance float64) ([]Placed, error) {
	if err := arms.check(); err != nil {
		return nil, err
	}
	if !(chance > 1/float64(len(arms.Names)) && chance <= 1) {
		return nil, refuse("the arm with the least imbalance is taken with a chance of %v: expected more than 1 in %d, up to 1", chance, len(arms.Names))
	}
	if len(factors) > MostSlots {
		return nil, refuse("%d trainees: expected %d at most", len(factors), MostSlots)
	}
	type level struct {
		factor int
		name   string
	}
	counts := map[level][]float64{}
	out := make([]Placed, len(factors))
	for i, levels := range factors {
		if len(levels) == 0 || len(levels) != len(factors[0]) {
			return nil, refuse("trainee %d has %d factors", i+1, len(levels))
		}
		p := Placed{Imbalance: make([]float64, len(arms.Names))}
		for a := range arms.Names {
			for f, name := range levels {
				c := counts[level{f, name}]
				low, high := math.Inf(1), math.Inf(-1)
				for b := range arms.Names {
					n := 0.0
					if c != nil {
						n = c[b]
					}
					if b == a {
						n++
					}
					n /= float64(arms.share(b))
					low, high = math.Min(low, n), math.Max(high, n)
				}
				p.Imbalance[a] += high - low
			}
		}
		k := arms.pick(p.Imbalance, chance, resample.Stream(seed, "allocation/minimisation", i).Float64)
		p.Arm, p.Favoured = arms.Names[k], p.Imbalance[k] <= least(p.Imbalance)+1e-9
		for f, name := range levels {
			if counts[level{f, name}] == nil {
				counts[level{f, name}] = make([]float64, len(arms.Names))
			}
			counts[level{f, name}][k]++
		}
		out[i] = p
	}
	code(seed, len(out), func(i int, c string) { out[i].Code = c })
	return out, nil
}

func least(vs []float64) float64 {
	low := math.Inf(1)
	for _, v := range vs {
		low = math.Min(low, v)
	}
	return low
}

// pick takes an arm: one of those with the least imbalance with the chance, otherwise one
// of the rest, each as likely as its share.
func (a Arms) pick(imbalance []float64, chance float64, uniform func() float64) int {
	low := least(imbalance)
	var favoured, rest []int
	for k, v := range imbalance {
		if v <= low+1e-9 {
			favoured = append(favoured, k)
		} else {
			rest = append(rest, k)
		}
	}
	from := favoured
	if u := uniform(); len(rest) > 0 && u >= chance {
		from = rest
	}
	total := 0.0
	for _, k := range from {
		total += float64(a.share(k))
	}
	u := uniform() * total
	for _, k := range from {
		if u -= float64(a.share(k)); u < 0 {
			return k
		}
	}
	return from[len(from)-1]
}
