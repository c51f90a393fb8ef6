package fit

import (
	"math"
	"testing"

	"tyro/models"
)

// After one timeout come ten attempts about one level, the first of them above it. The higher
// a curve starts and the faster it falls, the better it describes them, up to where the
// timeout costs nothing and the curve passes through the first of the ten. By hand: the level
// is the geometric mean of the other nine, and the variance of the logarithms is their sum of
// squares about it over ten.
func TestStartAfterATimeoutIsOpen(t *testing.T) {
	s := Series{Attempt: []float64{1}, Response: []float64{150}, Censored: []bool{true}, Limit: 150}
	all, sum, squares := 0.0, 0.0, 0.0
	for i, y := range []float64{62, 55, 58, 71, 49, 66, 60, 52, 57, 63} {
		s.Attempt, s.Response, s.Censored = append(s.Attempt, float64(i+2)), append(s.Response, y), append(s.Censored, false)
		all += math.Log(y)
		if i > 0 {
			sum += math.Log(y)
			squares += math.Log(y) * math.Log(y)
		}
	}
	level, variance := sum/9, (squares-sum*sum/9)/10
	want := -5*(math.Log(2*math.Pi*variance)+1) - all
	for _, family := range []models.Family{models.Power(), models.Exponential(1)} {
		f, err := One(s, Spec{Family: family, Noise: models.Lognormal{}, Positive: true})
		if err != nil {
			t.Fatal(err)
		}
		if !f.Status.Usable() || !f.StartOpen {
			t.Fatalf("%s: status %s, start open %v", family.Name(), f.Status, f.StartOpen)
		}
		if math.Abs(f.LogLik-want) > 0.01 || math.Abs(f.Curve.At(11)/math.Exp(level)-1) > 1e-3 {
			t.Errorf("%s: log-likelihood %v and level %v, want %v and %v", family.Name(), f.LogLik, f.Curve.At(11), want, math.Exp(level))
		}
		for _, e := range append(f.Params, f.Derived...) {
			quoted := e.Name == "plateau" || e.Name == levelAtLast || e.Name == changeAhead
			if quoted == math.IsNaN(e.Value) {
				t.Errorf("%s: %s is %v", family.Name(), e.Name, e.Value)
			}
		}
	}
	// With a slow fall that goes on, the start is known though the first attempt timed out.
	for i := range s.Response[1:] {
		s.Response[i+1] = 160 * math.Exp(-0.1*float64(i+1)) * (1 + 0.05*float64(i%3-1))
	}
	f, err := One(s, Spec{Family: models.Exponential(1), Noise: models.Lognormal{}, Positive: true})
	if err != nil {
		t.Fatal(err)
	}
	if f.StartOpen {
		t.Errorf("start %v is said to be open", f.Curve.Start())
	}
}
