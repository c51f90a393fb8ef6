package datasets

import (
	"math"
	"testing"
)

// Two series that fall by three numbers have S = -6 with variance 2*3*2*11/18 = 22/3; of 1, 1, 2 S is 2
// with variance 3*2*11/18 less 2*1*9/18 for the tie, 8/3 (Kendall 1938, and with ties 1945).
func TestTrendSum(t *testing.T) {
	var falls, ties trendSum
	falls.add([]float64{9, 5, 4})
	falls.add([]float64{8, 7, 1})
	falls.add([]float64{8, 7}) // too short
	ties.add([]float64{1, 1, 2})
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"falling", falls.z(), -6 / math.Sqrt(22.0/3)},
		{"with a tie", ties.z(), 2 / math.Sqrt(8.0/3)},
		{"none", (&trendSum{}).z(), 0},
	} {
		if math.Abs(c.got-c.want) > 1e-12 {
			t.Errorf("%s: z %g, by hand %g", c.name, c.got, c.want)
		}
	}
	if falls.series != 2 {
		t.Errorf("%d series, want 2", falls.series)
	}
}
