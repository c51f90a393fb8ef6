package fit

import (
	"math"
	"testing"

	"tyro/models"
)

// Reciprocal noise. A flat curve through 40, 50 and 100, by hand: speeds 0.025,
// 0.02 and 0.01 have the mean 11/600, so that the level is 600/11, and the mean
// square 7/180000 about it. An exponential curve against optim of R 4.2.2 on
// sum(dnorm(-1/y, -1/(p + g·exp(-k(n - 1))), s, log = TRUE)) - 2·sum(log(y)).
func TestReciprocal(t *testing.T) {
	near := func(what string, got, want, relative float64) {
		t.Helper()
		if !(math.Abs(got-want) <= relative*math.Abs(want)) {
			t.Errorf("%s = %.9g, want %.9g", what, got, want)
		}
	}
	flat, err := One(Series{Attempt: []float64{1, 2, 3}, Response: []float64{40, 50, 100}}, Spec{Family: models.Constant(), Noise: models.Reciprocal{}, Positive: true})
	if err != nil {
		t.Fatal(err)
	}
	near("level", flat.Curve.Plateau, 600./11, 1e-8)
	near("scale", flat.Scale, math.Sqrt(7./180000), 1e-6)

	s := Series{Response: []float64{182, 131, 122, 95, 88, 80.5, 74, 77, 66, 70, 61, 66.5, 63, 59, 62, 60.5, 57, 64, 58, 60}}
	for n := 1.0; n <= 20; n++ {
		s.Attempt = append(s.Attempt, n)
	}
	f, err := One(s, Spec{Family: models.Exponential(1), Noise: models.Reciprocal{}, Positive: true})
	if err != nil {
		t.Fatal(err)
	}
	if f.Status != OK {
		t.Errorf("status %v", f.Status)
	}
	near("plateau", f.Curve.Plateau, 59.60780800, 1e-6)
	near("gain", f.Curve.Gain, 105.9231143, 1e-6)
	near("rate", f.Curve.Shape[0], 0.3137154113, 1e-6)
	near("scale", f.Scale, 6.102055080e-04, 1e-6)
	near("log-likelihood", f.LogLik, -53.3524036821, 1e-8)
}
