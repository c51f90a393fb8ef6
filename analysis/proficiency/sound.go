package proficiency

import (
	"tyro/analysis/fit"
	"tyro/analysis/resample"
	"tyro/models"
)

// A Practice is what happened at one trainee's attempts beside the measure: Sound
// is true where an attempt was no hard fail and kept within its error limits.
type Practice struct {
	Attempt []float64
	Sound   []bool
}

// enoughForACurve is how many attempts of either kind a slope is fitted from.
const enoughForACurve = 10

// SoundChance is the chance that an attempt is sound, by attempt, over all
// trainees: a logistic regression on the logarithm of the attempt, or one share
// where there are fewer than ten sound or ten unsound attempts.
func SoundChance(all []Practice) func(n float64) float64 {
	var s fit.Series
	sound := 0
	for _, p := range all {
		for k, n := range p.Attempt {
			v := 0.0
			if p.Sound[k] {
				v = 1
				sound++
			}
			s.Attempt, s.Response = append(s.Attempt, n), append(s.Response, v)
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
func redrawn(all []Practice, seed uint64, replicate int) []Practice {
	r := resample.Stream(seed, "proficiency/sound", replicate)
	out := make([]Practice, len(all))
	for i := range out {
		out[i] = all[r.IntN(len(all))]
	}
	return out
}
