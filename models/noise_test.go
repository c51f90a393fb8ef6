package models

import (
	"math"
	"testing"
)

// Derivatives of the loss against central differences, exact and censored,
// also far in the tail where the chance of the response underflows.
func TestLossDerivatives(t *testing.T) {
	for _, noise := range []Noise{Normal{}, Lognormal{}} {
		for _, censored := range []bool{false, true} {
			for _, y := range []float64{20, 55, 90, 400} {
				m, scale := 60.0, 0.35
				if noise.Name() == "normal" {
					scale = 12
				}
				at := func(m, ls float64) Loss { return noise.Loss(y, m, math.Exp(ls), censored) }
				ls := math.Log(scale)
				l := at(m, ls)
				h := 1e-5
				up, down := at(m+h, ls), at(m-h, ls)
				su, sd := at(m, ls+h), at(m, ls-h)
				for _, c := range []struct {
					name      string
					got, want float64
				}{
					{"M", l.M, (up.Value - down.Value) / (2 * h)},
					{"MM", l.MM, (up.M - down.M) / (2 * h)},
					{"S", l.S, (su.Value - sd.Value) / (2 * h)},
					{"SS", l.SS, (su.S - sd.S) / (2 * h)},
					{"MS", l.MS, (su.M - sd.M) / (2 * h)},
				} {
					if !(math.Abs(c.got-c.want) <= 1e-5*math.Max(1, math.Abs(c.want))) {
						t.Errorf("%s, y = %g, censored %v: %s = %g, differences give %g", noise.Name(), y, censored, c.name, c.got, c.want)
					}
				}
			}
		}
	}
}

// The tail beyond 12 standard deviations: −pnorm(e, lower = FALSE, log = TRUE)
// / log(10) in R 4.2.2.
func TestTail(t *testing.T) {
	for _, c := range []struct{ e, want float64 }{{12, 32.75043916}, {20, 88.56009534}} {
		if got := -logUpperTail(c.e) / math.Ln10; math.Abs(got-c.want) > 1e-8 {
			t.Errorf("−log10 tail at %g = %.9f, want %.8f", c.e, got, c.want)
		}
	}
	// Both formulas where they meet.
	direct := math.Log(0.5 * math.Erfc(11/math.Sqrt2))
	if got := logUpperTail(11); math.Abs(got-direct) > 1e-12*math.Abs(direct) {
		t.Errorf("tail at 11 = %v, erfc gives %v", got, direct)
	}
}

func TestQuantileInvertsCDF(t *testing.T) {
	for _, noise := range []Noise{Normal{}, Lognormal{}} {
		for _, p := range []float64{0.001, 0.2, 0.5, 0.975} {
			y := noise.Quantile(p, 60, 0.4)
			if got := noise.CDF(y, 60, 0.4); math.Abs(got-p) > 1e-12 {
				t.Errorf("%s: CDF(Quantile(%g)) = %g", noise.Name(), p, got)
			}
		}
		if got := noise.Shift(60, noise.Residual(71, 60)); math.Abs(got-71) > 1e-12 {
			t.Errorf("%s: Shift does not undo Residual: %g", noise.Name(), got)
		}
	}
}
