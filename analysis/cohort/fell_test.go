package cohort

import (
	"math"
	"testing"
)

// Four attempts of equal weight stand at 1/8, 3/8, 5/8 and 7/8 of what was seen; between them, and
// from 0 and to 1, it goes straight: of the share 1/2, half way from 0.1 to 0.4 there lies 0.25; a
// sixteenth is half way to the first, 15/16 half way from the last to 1.
func TestRangesAreCorrectedByWhereAttemptsFell(t *testing.T) {
	f := Fell{Trainees: 10, At: []FellAt{{0.02, 2, 0}, {0.1, 2, 0}, {0.4, 2, 0}, {0.9, 2, 0}}}
	for _, c := range []struct{ of, want float64 }{{0.125, 0.02}, {0.375, 0.1}, {0.5, 0.25}, {0.625, 0.4}, {0.875, 0.9}, {1.0 / 16, 0.01}, {15.0 / 16, 0.95}, {0, 0}, {1, 1}} {
		if got := f.Corrected(c.of); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("the share %v lies at %v of the predictions, want %v", c.of, got, c.want)
		}
	}
	if got := f.Inside(0.9); got != 0.75 { // all but the one at 0.02
		t.Errorf("%v inside the 90 %% range, want 0.75", got)
	}
	f.Trainees = 9
	if got := f.Corrected(0.05); got != 0.05 {
		t.Errorf("nine trainees correct 0.05 to %v", got)
	}
}

// Two models, of which the first has three quarters of the weight and no trainee's evidence moves
// it: an attempt fell at 0.75 of the one's share and 0.25 of the other's. Trainees count alike: the
// one attempt of the second trainee counts as the two of the first together.
func TestFellIsOfTheMixture(t *testing.T) {
	look := func(trainee int, shares ...float64) Look {
		return Look{Trainee: trainee, Known: 5, LogDensity: make([]float64, len(shares)), Share: shares}
	}
	a := Foresight{Looks: []Look{look(0, 0.2, 0.6), look(1, math.NaN()), look(2, 0.4)}}
	b := Foresight{Looks: []Look{look(0, 0.6, 0.2), look(1, math.NaN()), look(2, 0.8)}}
	f := Stacking{Weights: []float64{0.75, 0.25}}.fell([]Foresight{a, b})
	want := []FellAt{{0.3, 1.0 / 6, 0}, {0.5, 1.0 / 3, 0}, {0.5, 1.0 / 6, 0}} // 0.3 = .75·.2 + .25·.6; 0.5 = .75·.6 + .25·.2 and .75·.4 + .25·.8
	if f.Trainees != 3 || len(f.At) != 3 {
		t.Fatalf("%d trainees, %v", f.Trainees, f.At)
	}
	sum := 0.0
	for i, at := range f.At {
		sum += at.Weight
		if math.Abs(at.Share-want[i].Share) > 1e-12 {
			t.Errorf("attempt %d fell at %v, want %v", i, at.Share, want[i].Share)
		}
	}
	if math.Abs(sum-2.0/3) > 1e-12 {
		t.Errorf("weights sum to %v, want those of two of three trainees", sum)
	}
}

// Twelve trainees were foretold from 5 attempts, ten from 10 and one from 20: the one counts with the ten. Who has
// made 7 is nearer to 5 (ln 7/5 = .336, ln 10/7 = .357), who has made 8 to 10, and a new one to 5; where too few were
// foretold from any number all stand together.
func TestRangesAreCorrectedByAsManyAttempts(t *testing.T) {
	var looks []Look
	for i := range 12 {
		for _, known := range []int{5, 10, 20} {
			if known == 5 || known == 10 && i < 10 || i == 0 {
				looks = append(looks, Look{Trainee: i, Known: known, LogDensity: []float64{0}, Share: []float64{float64(known) / 100}})
			}
		}
	}
	f := Stacking{Weights: []float64{1}}.fell([]Foresight{{Looks: looks}})
	for _, c := range []struct{ made, want, from int }{{0, 12, 5}, {7, 12, 5}, {8, 11, 10}, {40, 11, 10}} {
		near := f.After(c.made)
		if len(near.At) != c.want || near.At[0].Known != c.from {
			t.Errorf("after %d attempts: %d predictions from %d, want %d from %d", c.made, len(near.At), near.At[0].Known, c.want, c.from)
		}
	}
	few := Stacking{Weights: []float64{1}}.fell([]Foresight{{Looks: looks[:6]}})
	if near := few.After(5); len(near.At) != 6 {
		t.Errorf("%d predictions, want all 6", len(near.At))
	}
}
