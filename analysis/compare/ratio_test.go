package compare

import (
	"math"
	"testing"

	"tyro/analysis/resample"
	"tyro/analysis/survival"
)

// Two normal samples of n in all: the likelihood ratio is n·log(1 + t²/(n − 2)), so that F is
// t². With 3 arms and 1 parameter F is that of the analysis of variance: n·log(1 + F·2/(n − 3)).
// With 2 arms and 2 parameters it is Hotelling's: n·log(1 + T²/(n − 2)) with F = T²(n − 3)/(2(n − 2)).
func TestJudgeRatioByHand(t *testing.T) {
	for _, c := range []struct {
		dropped    []string
		arms, n    int
		chi        float64
		f, df1, d2 float64
	}{
		{[]string{"a"}, 2, 24, 24 * math.Log(1+4.0/22), 4, 1, 22},
		{[]string{"a"}, 3, 30, 30 * math.Log(1+3.5*2/27), 3.5, 2, 27},
		{[]string{"a", "b"}, 2, 24, 24 * math.Log(1+8.0/22), 8.0 * 21 / (2 * 22), 2, 21},
	} {
		r := JudgeRatio(c.dropped, len(c.dropped), c.arms, c.n, c.chi)
		if math.Abs(r.F.F-c.f) > 1e-9 || r.F.DF1 != c.df1 || math.Abs(r.F.DF2-c.d2) > 1e-9 {
			t.Errorf("%+v, expected F %v on %v and %v", r, c.f, c.df1, c.d2)
		}
	}
}

// Half of the one arm has met the rule by attempt 3 and no half of the other by 9, when it
// was last seen: all that is known of the ratio is that it is above 3.
func TestMedianRatioBeyondWhatWasSeen(t *testing.T) {
	var slow []survival.Observation
	for range 8 {
		slow = append(slow, survival.Observation{Time: 9})
	}
	c, err := MedianRatio(t.Context(), "m", "r", "a", spent(3, 3, 3, 3, 3, 3, 3, 3), slow, 0.95, resample.Sampling{Replicates: 200})
	if err != nil || !math.IsInf(c.Estimate, 1) || c.Lower != 3 || !math.IsInf(c.Upper, 1) {
		t.Errorf("%v from %v to %v, %v", c.Estimate, c.Lower, c.Upper, err)
	}
}
