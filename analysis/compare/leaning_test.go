package compare

import (
	"math"
	"testing"
)

// With trainees all worth the same it is Welch's; by hand, weights of 1/2, 1/4 and 1/4 are
// worth 1/(1/4 + 1/16 + 1/16) = 8/3 trainees.
func TestLeaning(t *testing.T) {
	near(t, "worth", Worth([]float64{2, 1, 1}), 8./3, 1e-12)
	near(t, "worth of equals", Worth([]float64{3, 3, 3, 3}), 4, 1e-12)
	ref, arm := Arm{Name: "r", Values: []float64{1, 2, 4, 7}}, Arm{Name: "a", Values: []float64{3, 8, 9}}
	c, w := Leaning("m", ref, arm, 4, 3, 0.95), Welch("m", ref, arm, 0.95)
	near(t, "se", c.SE, w.SE, 1e-12)
	near(t, "df", c.DF, w.DF, 1e-12)
	near(t, "p", c.P, w.P, 1e-12)
	// Variances of means: 7/4 (mean 3.5, squares 21 over 3) and 31/9 (mean 20/3, squares 62/3
	// over 2). With the reference worth 2 trainees and the arm 3: (7/4 + 31/9)²/(49/16 + 961/162).
	c = Leaning("m", ref, arm, 2, 3, 0.95)
	near(t, "df of few", c.DF, (7./4+31./9)*(7./4+31./9)/(49./16+961./162), 1e-12)
}

// All of one arm met the rule and the others are expected to with .9: were all seen, the
// pooled share of .95 has a variance of .95·.05/10 in each arm of 10.
func TestLeaningShares(t *testing.T) {
	var ref, arm Arm
	for i := range 10 {
		ref.Values, arm.Values = append(ref.Values, 1), append(arm.Values, 0.9+0.001*float64(i%2)-0.0005)
	}
	ref.Share, arm.Share = true, true
	c := Leaning("share", ref, arm, 10, 10, 0.95)
	near(t, "se", c.SE, math.Sqrt(2*0.95*0.05/10), 1e-9)
	if !c.Open() {
		t.Errorf("%v to %v", c.Lower, c.Upper)
	}
}
