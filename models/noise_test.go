package models

import (
	"math"
	"testing"
)

// Derivatives of the loss against central differences, exact and censored,
// also far in the tail where the chance of the response underflows.
func TestLossDerivatives(t *testing.T) {
	for _, noise := range []Noise{Normal{}, Lognormal{}, Reciprocal{}, Student{}, Bernoulli{}, Bernoulli{Guess: 0.1, Lapse: 0.05}, Poisson{}, NegativeBinomial{}} {
		for _, censored := range []bool{false, true} {
			if censored && !noise.Additive() {
				continue
			}
			ys, m, scale := []float64{20, 55, 90, 400}, 60.0, 12.0
			switch noise.Name() {
			case "lognormal":
				scale = 0.35
			case "reciprocal":
				scale = 0.004
			case "bernoulli":
				ys, m = []float64{0, 1}, 0.7
			case "poisson", "negative-binomial":
				ys, m, scale = []float64{0, 1, 3, 12}, 0.9, 0.4
			}
			for _, y := range ys {
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
	for _, noise := range []Noise{Normal{}, Lognormal{}, Reciprocal{}} {
		scale := 0.4
		if noise.Name() == "reciprocal" {
			scale = 0.004
		}
		for _, p := range []float64{0.001, 0.2, 0.5, 0.975} {
			y := noise.Quantile(p, 60, scale)
			if got := noise.CDF(y, 60, scale); math.Abs(got-p) > 1e-12 {
				t.Errorf("%s: CDF(Quantile(%g)) = %g", noise.Name(), p, got)
			}
		}
		if got := noise.Shift(60, noise.Residual(71, 60)); math.Abs(got-71) > 1e-12 {
			t.Errorf("%s: Shift does not undo Residual: %g", noise.Name(), got)
		}
	}
}

// Chances by R 4.2.2: dnbinom(3, size = 2.5, mu = exp(0.9)), dpois(3, exp(0.9)),
// dt((55 − 60)/12, 4)/12, and their distribution functions.
func TestChances(t *testing.T) {
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"negative-binomial density", math.Exp(-NegativeBinomial{}.Loss(3, 0.9, 0.4, false).Value), 0.144396397582363},
		{"negative-binomial CDF", NegativeBinomial{}.CDF(3, 0.9, 0.4), 0.742565692019638},
		{"poisson density", math.Exp(-Poisson{}.Loss(3, 0.9, 0, false).Value), 0.211958965843869},
		{"student density", math.Exp(-Student{}.Loss(55, 60, 12, false).Value), 0.0281008884024116},
		{"student tail", math.Exp(-Student{}.Loss(90, 60, 12, true).Value), 0.0333832724059941},
		{"bernoulli with limits", math.Exp(-Bernoulli{Guess: 0.1, Lapse: 0.05}.Loss(1, 0.7, 0, false).Value), 0.1 + 0.85/(1+math.Exp(-0.7))},
	} {
		if math.Abs(c.got/c.want-1) > 1e-10 {
			t.Errorf("%s = %.14g, want %.14g", c.name, c.got, c.want)
		}
	}
}

// A quantile is the smallest response whose CDF reaches the share, and Link
// undoes Mean.
func TestDiscreteQuantiles(t *testing.T) {
	for _, noise := range []Noise{Bernoulli{}, Poisson{}, NegativeBinomial{}} {
		for _, p := range []float64{0.01, 0.3, 0.5, 0.9, 0.999} {
			y := noise.Quantile(p, 0.9, 0.4)
			if noise.CDF(y, 0.9, 0.4) < p || y > 0 && noise.CDF(y-1, 0.9, 0.4) >= p {
				t.Errorf("%s: quantile %g of %g is not the smallest", noise.Name(), y, p)
			}
		}
		if got := noise.Link(noise.Mean(0.37)); math.Abs(got-0.37) > 1e-12 {
			t.Errorf("%s: Link does not undo Mean: %g", noise.Name(), got)
		}
	}
}
