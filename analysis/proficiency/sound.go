package proficiency

import (
	"math"
	"slices"

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
	s := newSoundness(all)
	return s.chance(s.everybody())
}

// SoundChances are [SoundChance] of all trainees (0), and of as many drawn with replacement (1, 2, …).
func SoundChances(all []practice.Trainee, seed uint64) func(card int) func(n float64) float64 {
	s := newSoundness(all)
	chance := s.chance(s.everybody())
	return func(card int) func(n float64) float64 {
		if card == 0 || s.always() {
			return chance
		}
		r := resample.Stream(seed, "proficiency/sound", card-1)
		drawn := make([]int, len(s.of))
		for range drawn {
			drawn[r.IntN(len(drawn))]++
		}
		return s.chance(drawn)
	}
}

// soundness is which attempts of whom were sound, counted once for any number of draws.
type soundness struct {
	logs    []float64 // logarithms of the attempts' numbers
	of      [][]sounded
	unsound int
}

// sounded is one attempt: its place among the numbers, and whether it was sound.
type sounded struct {
	at    int
	sound bool
}

func newSoundness(all []practice.Trainee) *soundness {
	s := &soundness{of: make([][]sounded, len(all))}
	places := map[float64]int{}
	for i, t := range all {
		for _, a := range t.Attempts {
			if a.Outcome != practice.Failed && !a.Measured() {
				continue
			}
			at, there := places[a.Number]
			if !there {
				at = len(s.logs)
				places[a.Number], s.logs = at, append(s.logs, math.Log(a.Number))
			}
			s.of[i] = append(s.of[i], sounded{at, a.Sound()})
			if !a.Sound() {
				s.unsound++
			}
		}
	}
	return s
}

// always reports whether every attempt was sound.
func (s *soundness) always() bool { return s.unsound == 0 }

// everybody counts each trainee once.
func (s *soundness) everybody() []int {
	return slices.Repeat([]int{1}, len(s.of))
}

// chance is the chance by attempt, each trainee counted so many times.
func (s *soundness) chance(times []int) func(n float64) float64 {
	if s.always() {
		return func(float64) float64 { return 1 }
	}
	yes, of := make([]float64, len(s.logs)), make([]float64, len(s.logs))
	sound, total := 0.0, 0.0
	for i, attempts := range s.of {
		if times[i] == 0 {
			continue
		}
		n := float64(times[i])
		for _, a := range attempts {
			of[a.at] += n
			total += n
			if a.sound {
				yes[a.at] += n
				sound += n
			}
		}
	}
	if sound == total {
		return func(float64) float64 { return 1 }
	}
	if sound >= enoughForACurve && total-sound >= enoughForACurve {
		if l, ok := nearestLine(s.logs, yes, of, logit{models.Bernoulli{}.Link(sound / total), 0}); ok {
			return l.at
		}
	}
	share := sound / total
	return func(float64) float64 { return share }
}
