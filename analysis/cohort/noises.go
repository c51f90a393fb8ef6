package cohort

import "tyro/models"

// Alike are the noises to choose among where one that is normal on some scale is usual: the others
// that are so and know the same responses, a time may be even in its logarithm or in its speed,
// and, for [Choice.LateNoises], those with heavier tails. Of any other noise there is none.
// Of a magnitude, responses all above 0 of which fewer is better such as an error in millimetres, those
// of times are tried too: it may scatter by a factor.
func Alike(usual models.Noise, magnitude bool) (noises, late []models.Noise) {
	if _, normal := models.NormalOn(usual); !normal {
		return nil, nil
	}
	noises = []models.Noise{usual}
	for _, n := range models.Noises() {
		if n == usual || !n.Additive() || models.NeedsPositive(n) != models.NeedsPositive(usual) && !(magnitude && models.NeedsPositive(n)) {
			continue
		}
		if _, normal := models.NormalOn(n); normal {
			noises = append(noises, n)
		} else {
			late = append(late, n)
		}
	}
	return noises, late
}
