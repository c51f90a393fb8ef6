package models

import (
	"math"
	"testing"
)

// Third derivatives are those of the second ones, by central differences.
func TestThirdDerivatives(t *testing.T) {
	near := func(what string, got, want float64) {
		t.Helper()
		if math.Abs(got-want) > 1e-6*(1+math.Abs(want)) {
			t.Errorf("%s: %v, by differences %v", what, got, want)
		}
	}
	const h = 1e-5
	for _, n := range []Noise{Bernoulli{}, Bernoulli{Guess: 0.2, Lapse: 0.05}, Poisson{}, NegativeBinomial{}} {
		for _, y := range []float64{0, 1, 7, 300} {
			if IsPassFail(n) && y > 1 {
				continue
			}
			for _, m := range []float64{-1, 0.3, 2} {
				for _, scale := range []float64{0.1, 2} {
					mmm, mms, mss, sss := n.(Thirder).Third(y, m, scale)
					at := func(dm, ds float64) Loss { return n.Loss(y, m+dm, scale*math.Exp(ds), false) }
					near(n.Name()+" mmm", mmm, (at(h, 0).MM-at(-h, 0).MM)/(2*h))
					near(n.Name()+" mms", mms, (at(h, 0).MS-at(-h, 0).MS)/(2*h))
					near(n.Name()+" mss", mss, (at(0, h).MS-at(0, -h).MS)/(2*h))
					near(n.Name()+" sss", sss, (at(0, h).SS-at(0, -h).SS)/(2*h))
				}
			}
		}
	}
	for _, n := range []LocationScale{Student{}} {
		for _, e := range []float64{-3, -0.2, 0, 1.7, 20} {
			for _, censored := range []bool{false, true} {
				_, _, _, d3 := n.Standard(e, censored)
				_, _, up, _ := n.Standard(e+h, censored)
				_, _, down, _ := n.Standard(e-h, censored)
				near("student", d3, (up-down)/(2*h))
			}
		}
	}
}

// t with 4 degrees of freedom: quantiles of Student's table (2.132 and 2.776 to three places; more
// digits from R 4.2.2, qt), and by hand the far tail 3/e⁴, since 1 + c nears 2/e² there.
func TestStudentInClosedForm(t *testing.T) {
	for _, c := range []struct{ p, e float64 }{{0.95, 2.13184678632665}, {0.975, 2.77644510519779}, {0.5, 0}, {0.001, -7.17318221978230}} {
		if got := studentQuantile(c.p); math.Abs(got-c.e) > 1e-12*math.Max(1, math.Abs(c.e)) {
			t.Errorf("quantile %v: %v, want %v", c.p, got, c.e)
		}
		if got := studentCDF(c.e); math.Abs(got/c.p-1) > 1e-12 {
			t.Errorf("chance of at most %v: %v, want %v", c.e, got, c.p)
		}
	}
	if got := studentCDF(-1e5) * 1e20; math.Abs(got-3) > 1e-8 {
		t.Errorf("far tail %v, want 3e-20", got)
	}
	if got := studentQuantile(3e-20); math.Abs(got/-1e5-1) > 1e-8 {
		t.Errorf("quantile far out %v, want -1e5", got)
	}
}
