package compare

import (
	"cmp"
	"math"
	"slices"
)

// Holm adjusts p values that are read together, so that the chance of any false
// rejection among them stays at the level (Holm, 1979, Scandinavian Journal of
// Statistics 6, 65-70). Unknown ones stay unknown and do not count.
func Holm(ps []float64) []float64 {
	return adjust(ps, func(order []int, out []float64) {
		running := 0.0
		for rank, i := range order {
			running = math.Max(running, math.Min(1, float64(len(order)-rank)*ps[i]))
			out[i] = running
		}
	})
}

// Hochberg adjusts p values that are read together, a little less than [Holm]; it needs
// tests that do not depend on each other, or depend positively (Hochberg, 1988,
// Biometrika 75, 800-802).
func Hochberg(ps []float64) []float64 {
	return adjust(ps, func(order []int, out []float64) {
		running := 1.0
		for rank := len(order) - 1; rank >= 0; rank-- {
			i := order[rank]
			running = math.Min(running, float64(len(order)-rank)*ps[i])
			out[i] = running
		}
	})
}

// adjust hands the positions of the known p values, smallest first, to fill.
func adjust(ps []float64, fill func(order []int, out []float64)) []float64 {
	out := make([]float64, len(ps))
	var order []int
	for i, p := range ps {
		out[i] = math.NaN()
		if !math.IsNaN(p) {
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(ps[a], ps[b]) })
	fill(order, out)
	return out
}

// AdjustWithin fills the adjusted p values of contrasts, family by family.
func AdjustWithin(cs []Contrast, family func(Contrast) string) {
	members := map[string][]int{}
	var names []string
	for i, c := range cs {
		name := family(c)
		if members[name] == nil {
			names = append(names, name)
		}
		members[name] = append(members[name], i)
	}
	for _, name := range names {
		at := members[name]
		ps := make([]float64, len(at))
		for k, i := range at {
			ps[k] = cs[i].P
		}
		holm, hochberg := Holm(ps), Hochberg(ps)
		for k, i := range at {
			cs[i].PAdjusted, cs[i].PHochberg = holm[k], hochberg[k]
		}
	}
}
