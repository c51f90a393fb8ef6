package models

import (
	"math"
	"testing"
)

// Derivatives of the loss against central differences, exact and censored,
// also far in the tail where the chance of the response underflows.
func TestLossDerivatives(t *testing.T) {
	for _, noise := range []Noise{Normal{}, Lognormal{}, Reciprocal{}, Student{}, LogStudent{}, Bernoulli{}, Bernoulli{Guess: 0.1, Lapse: 0.05}, Poisson{}, NegativeBinomial{}} {
		for _, censored := range []bool{false, true} {
			if censored && !noise.Additive() {
				continue
			}
			ys, m, scale := []float64{20, 55, 90, 400}, 60.0, 12.0
			switch noise.Name() {
			case "lognormal", "log-student":
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
	for _, noise := range []Noise{Normal{}, Lognormal{}, Reciprocal{}, Student{}, LogStudent{}} {
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

// Times whose logarithm is log 60 + 0.35·t, t on 4 degrees of freedom, by R 4.2.2:
//
//	for (y in c(20, 55, 90, 400)) { e <- log(y/60)/0.35
//	  cat(dt(e, 4)/0.35/y, pt(e, 4), pt(e, 4, lower.tail = FALSE), "\n") }
//	for (p in c(0.001, 0.05, 0.5, 0.9, 0.975)) cat(60*exp(0.35*qt(p, 4)), "\n")
func TestLogStudentAgainstR(t *testing.T) {
	n := LogStudent{}
	near := func(what string, got, want float64) {
		t.Helper()
		if math.Abs(got/want-1) > 1e-12 {
			t.Errorf("%s = %.15g, want %.15g", what, got, want)
		}
	}
	for _, c := range []struct{ y, density, below, above float64 }{
		{20, 0.00240022235994515, 0.017442468814584, 0.982557531185416},
		{55, 0.0187479215368757, 0.407954734544096, 0.592045265455904},
		{90, 0.00577563109089056, 0.844437507141449, 0.155562492858551},
		{400, 1.33147678673924e-05, 0.997192132237266, 0.00280786776273447},
	} {
		near("density", math.Exp(n.LogJacobian(c.y, false)-n.Loss(c.y, 60, 0.35, false).Value), c.density)
		near("chance below", n.CDF(c.y, 60, 0.35), c.below)
		near("chance above", math.Exp(n.LogJacobian(c.y, true)-n.Loss(c.y, 60, 0.35, true).Value), c.above)
	}
	for _, c := range []struct{ p, y float64 }{{0.001, 4.87310243853883}, {0.05, 28.4514232876888}, {0.5, 60}, {0.9, 102.613218338073}, {0.975, 158.554811757446}} {
		near("quantile", n.Quantile(c.p, 60, 0.35), c.y)
	}
	if !math.IsInf(n.Loss(20, 0, 0.35, false).Value, 1) || n.CDF(0, 60, 0.35) != 0 {
		t.Error("a curve that is not above 0 has a density, or a response of 0 a chance")
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
