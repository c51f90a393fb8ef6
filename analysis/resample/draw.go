package resample

import "math/rand/v2"

// Indices fills dst with draws from 0..n-1 with replacement: a case bootstrap
// sample. It panics where n is not above 0.
func Indices(r *rand.Rand, dst []int, n int) []int {
	for i := range dst {
		dst[i] = r.IntN(n)
	}
	return dst
}

// Within draws, group by group, as many members with replacement as the group
// has: a bootstrap of whole trainees inside their arms. groups[g] lists member
// positions. The result has one entry a drawn member; entries are new
// individuals even when they repeat the same original.
func Within(r *rand.Rand, groups [][]int) [][]int {
	out := make([][]int, len(groups))
	for g, members := range groups {
		out[g] = make([]int, len(members))
		for i := range members {
			out[g][i] = members[r.IntN(len(members))]
		}
	}
	return out
}

// Relabel deals all members out to groups of the same sizes at random: one
// permutation of the labels.
func Relabel(r *rand.Rand, groups [][]int) [][]int {
	var all []int
	for _, g := range groups {
		all = append(all, g...)
	}
	r.Shuffle(len(all), func(i, j int) { all[i], all[j] = all[j], all[i] })
	out := make([][]int, len(groups))
	for g, members := range groups {
		out[g], all = all[:len(members):len(members)], all[len(members):]
	}
	return out
}
