package proficiency

import (
	"math"

	"tyro/analysis/practice"
	"tyro/analysis/resample"
	"tyro/models"
)

// enoughForACurve is how many attempts of either kind a slope is fitted from.
const enoughForACurve = 10

// SoundChance is the chance that an attempt is sound, no hard fail and within its error
// limits, by attempt, over all
// trainees: a logistic regression on the logarithm of the attempt, or one share
// where there are fewer than ten sound or ten unsound attempts, or the two do not mix.
func SoundChance(all []practice.Trainee) func(n float64) float64 {
	at := map[float64]int{} // position by attempt
	var logs, yes, of []float64
	sound, total := 0.0, 0.0
	for _, t := range all {
		for _, a := range t.Attempts {
			if a.Outcome != practice.Failed && !a.Measured() {
				continue
			}
			i, there := at[a.Number]
			if !there {
				i = len(logs)
				at[a.Number] = i
				logs, yes, of = append(logs, math.Log(a.Number)), append(yes, 0), append(of, 0)
			}
			of[i]++
			total++
			if a.Sound() {
				yes[i]++
				sound++
			}
		}
	}
	if sound == total {
		return func(float64) float64 { return 1 }
	}
	if sound >= enoughForACurve && total-sound >= enoughForACurve {
		if l, ok := nearestLine(logs, yes, of, logit{models.Bernoulli{}.Link(sound / total), 0}); ok {
			return l.at
		}
	}
	share := sound / total
	return func(float64) float64 { return share }
}

// SoundChances are [SoundChance] of all trainees (0), and of as many drawn with replacement (1, 2, …).
func SoundChances(all []practice.Trainee, seed uint64) func(card int) func(n float64) float64 {
	chance := SoundChance(all)
	return func(card int) func(n float64) float64 {
		if card == 0 {
			return chance
		}
		return SoundChance(redrawn(all, seed, card-1))
	}
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
