package proficiency

import (
	"tyro/analysis/fit"
	"tyro/analysis/practice"
	"tyro/analysis/resample"
	"tyro/models"
)

// enoughForACurve is how many attempts of either kind a slope is fitted from.
const enoughForACurve = 10

// SoundChance is the chance that an attempt is sound, no hard fail and within its error
// limits, by attempt, over all
// trainees: a logistic regression on the logarithm of the attempt, or one share
// where there are fewer than ten sound or ten unsound attempts.
func SoundChance(all []practice.Trainee) func(n float64) float64 {
	var s fit.Series
	sound := 0
	for _, t := range all {
		for _, a := range t.Attempts {
			if a.Outcome != practice.Failed && !a.Measured() {
				continue
			}
			if a.Sound() {
				sound++
			}
			s.Attempt, s.Response = append(s.Attempt, a.Number), append(s.Response, zeroOne(a.Sound()))
		}
	}
	total := len(s.Attempt)
	if sound == total {
		return func(float64) float64 { return 1 }
	}
	if sound >= enoughForACurve && total-sound >= enoughForACurve {
		if f, err := fit.One(s, fit.Spec{Family: models.Logarithmic(), Noise: models.Bernoulli{}}); err == nil && f.Status.Usable() {
			return func(n float64) float64 { return f.Noise.Mean(f.Curve.At(n)) }
		}
	}
	share := float64(sound) / float64(total)
	return func(float64) float64 { return share }
}

// redrawn is the practice of as many trainees drawn with replacement.
func redrawn(all []practice.Trainee, seed uint64, replicate int) []practice.Trainee {
	r := resample.Stream(seed, "proficiency/sound", replicate)
	out := make([]practice.Trainee, len(all))
	for i := range out {
		out[i] = all[r.IntN(len(all))]
	}
	return out
}
