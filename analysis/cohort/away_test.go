package cohort

import (
	"math"
	"testing"

	"tyro/analysis/practice"
	"tyro/models"
)

// A curve that begins at 50, under the standard of 57, and rises to 90 does not get there; one that stays at 50 is there
// at once; one that falls from 144 to 44 crosses 57 where 100 exp(-0.2 (n-1)) is 13: at 1 + ln(100/13)/0.2 = 11.2, by attempt 12.
func TestPracticeThatLeadsAwayDoesNotGetThere(t *testing.T) {
	q := Question{Standard: practice.Standard{Value: 57, Lower: true}}.orDefaults()
	for _, c := range []struct{ plateau, gain, rate, want float64 }{{90, -40, 0.1, math.Inf(1)}, {50, 0, 0.1, 1}, {44, 100, 0.2, 12}} {
		d := Draw{Curve: models.Exponential(1).Curve([]float64{c.plateau, c.gain, c.rate}), Spread: 1, on: newFooting(models.Normal{})}
		if got := q.MeanCrossing(models.Normal{}, &d); got != c.want {
			t.Errorf("plateau %v, gain %v: %v, want %v", c.plateau, c.gain, got, c.want)
		}
	}
}
