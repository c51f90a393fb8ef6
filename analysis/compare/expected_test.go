package compare

import (
	"math"
	"testing"

	"tyro/analysis/resample"
	"tyro/analysis/survival"
)

// By hand. The arm has 10 and 14 seen and 12 expected with variance 4, the reference 8 and 12
// seen. Means 12 and 10. As they would scatter, the arm's numbers have variance 4 + 4/3 =
// 16/3 and its mean 16/9; the reference's 8, its mean 4. What was not seen adds 4/9, and the
// arm's mean under the four truths, ±1, adds 4/3. In all 68/9, standard error 2.74874.
func TestExpectedMeansByHand(t *testing.T) {
	ref, arm := Arm{Name: "r", Values: []float64{8, 12}}, Arm{Name: "a", Values: []float64{10, 14, 12}}
	open := Expected{Within: []float64{0, 0, 4}, Means: []float64{1, -1, 1, -1}}
	c := ExpectedMeans("m", ref, arm, Expected{}, open, 0.95)
	if c.Estimate != 2 || math.Abs(c.SE-math.Sqrt(68.0/9)) > 1e-12 {
		t.Errorf("%v with standard error %v, expected 2 with %v", c.Estimate, c.SE, math.Sqrt(68.0/9))
	}
	seen := Welch("m", ref, arm, 0.95)
	if !(c.Upper-c.Lower > seen.Upper-seen.Lower) || c.Open() != (c.P > 0.05) {
		t.Errorf("from %v to %v with p %v; seen alone from %v to %v", c.Lower, c.Upper, c.P, seen.Lower, seen.Upper)
	}
	// With nothing expected it is Welch's, but for Barnard and Rubin's (ν + 1)/(ν + 3).
	all := ExpectedMeans("m", ref, arm, Expected{}, Expected{}, 0.95)
	if all.SE != seen.SE || math.Abs(all.DF-(seen.DF+1)/(seen.DF+3)*seen.DF) > 1e-12 {
		t.Errorf("standard error %v on %v, Welch's %v on %v", all.SE, all.DF, seen.SE, seen.DF)
	}
}

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
