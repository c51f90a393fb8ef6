package models

import (
	"math"
	"testing"
)

// place is a curve value and a scale that suit a noise.
func place(n Noise) (m, scale float64) {
	on, _ := AddedOn(n)
	switch {
	case !n.Additive():
		return 0.9, 0.4
	case on == AddedLog:
		return 60, 0.35
	case NeedsPositive(n):
		return 60, 0.004 // of the speed
	}
	return 60, 12
}

// The same questions are put to every noise: what it can do agrees with what it
// says of itself.
func TestNoisesKeepTheirWord(t *testing.T) {
	for _, n := range Noises() {
		m, scale := place(n)
		if found, err := NoiseByName(n.Name()); err != nil || found.Name() != n.Name() {
			t.Errorf("%s is not found by its name: %v", n.Name(), err)
		}
		if _, linked := n.(Linked); linked == n.Additive() {
			t.Errorf("%s: a noise is either additive or linked", n.Name())
		}
		if CheckResponse(n, math.NaN()) == nil && NeedsPositive(n) {
			t.Errorf("%s: NaN is a response", n.Name())
		}
		for _, p := range []float64{0.05, 0.3, 0.5, 0.9} {
			y := n.Quantile(p, m, scale)
			if err := CheckResponse(n, y); err != nil {
				t.Errorf("%s: its own response %v %v", n.Name(), y, err)
			}
			if NeedsPositive(n) && (CheckResponse(n, -y) == nil || CheckResponse(n, 0) == nil) {
				t.Errorf("%s: a response not above 0 passes", n.Name())
			}
			if n.Additive() {
				if got, want := n.Residual(y, m), ResidualQuantile(n, p, scale); math.Abs(got-want) > 1e-12*scale+1e-15 {
					t.Errorf("%s: residual %v at %v, its quantile is %v", n.Name(), got, p, want)
				}
				continue
			}
			if err := CheckResponse(n, y+0.5); err == nil {
				t.Errorf("%s: %v passes", n.Name(), y+0.5)
			}
			near := n.(Linked).Near(y)
			if math.IsNaN(near) || math.IsInf(near, 0) {
				t.Errorf("%s: near %v stands the curve at %v", n.Name(), y, near)
			}
		}
		if squares, relative := Squares(n); squares {
			want := 75 - m
			if relative {
				want = math.Log(75 / m)
			}
			if got := n.Residual(75, m); math.Abs(got-want) > 1e-12 {
				t.Errorf("%s: residual %v, want %v", n.Name(), got, want)
			}
		}
	}
}

// A noise added to the curve on a scale is the noise that it is there: residuals, chances and, up
// to the Jacobian, densities.
func TestAddedOn(t *testing.T) {
	to := map[AdditiveScale]func(float64) float64{AddedAsIs: func(y float64) float64 { return y }, AddedLog: math.Log, AddedSpeed: func(y float64) float64 { return -1 / y }}
	on := 0
	for _, n := range Noises() {
		scale, same := AddedOn(n)
		df, tailed := TailDF(n)
		if sd := ResidualSD(n, 1); tailed != (same == Noise(Student{})) || tailed && math.Abs(sd-math.Sqrt(df/(df-2))) > 1e-15 {
			t.Errorf("%s: tails of t on %v degrees of freedom %v, standard deviation %v", n.Name(), df, tailed, sd)
		}
		if scale != AddedAsIs {
			on++
		} else if same != n {
			t.Errorf("%s is %s as it is", n.Name(), same.Name())
		}
		if !n.Additive() {
			continue
		}
		m, spread := place(n)
		for _, p := range []float64{0.02, 0.4, 0.5, 0.97} {
			y := n.Quantile(p, m, spread)
			x, at := to[scale](y), to[scale](m)
			for _, censored := range []bool{false, true} {
				for _, c := range []struct {
					what      string
					got, want float64
				}{
					{"residual", n.Residual(y, m), same.Residual(x, at)},
					{"chance", n.CDF(y, m, spread), same.CDF(x, at, spread)},
					{"loss", n.Loss(y, m, spread, censored).Value, same.Loss(x, at, spread, censored).Value},
				} {
					if math.Abs(c.got-c.want) > 1e-11*math.Max(1, math.Abs(c.want)) {
						t.Errorf("%s: %s %v at %v, on the scale %v", n.Name(), c.what, c.got, y, c.want)
					}
				}
			}
		}
	}
	if on != 3 {
		t.Errorf("%d noises are added on another scale than the response's", on)
	}
}

// Passes alone, fails alone and counts of 0 alone have no finite curve.
func TestUnbounded(t *testing.T) {
	for _, c := range []struct {
		noise Linked
		ys    []float64
		want  bool
	}{
		{Bernoulli{}, []float64{1, 1, 1}, true}, {Bernoulli{}, []float64{0, 0}, true}, {Bernoulli{}, []float64{0, 1}, false},
		{Poisson{}, []float64{0, 0}, true}, {Poisson{}, []float64{0, 3}, false}, {NegativeBinomial{}, []float64{2, 2}, false},
	} {
		if got := c.noise.Unbounded(c.ys); got != c.want {
			t.Errorf("%T %v: %v", c.noise, c.ys, got)
		}
	}
}

// Where numbers end there is still a chance: a curve value of any size, and a scale
// of 0, which puts every attempt on the curve.
func TestChancesAtTheEnds(t *testing.T) {
	for _, n := range Noises() {
		m, scale := place(n)
		curves := []float64{m, 1e-300, 1e300}
		if !NeedsPositive(n) {
			curves = append(curves, -m, -1e4, 0, -1e300)
		}
		for _, at := range curves {
			for _, s := range []float64{scale, 0, 1e-13} {
				for _, y := range []float64{0, 1, 3, m} {
					if p := n.CDF(y, at, s); !(p >= 0 && p <= 1) {
						t.Errorf("%s: chance %v of at most %v about %v with scale %v", n.Name(), p, y, at, s)
					}
				}
			}
		}
	}
	for _, n := range []Noise{Normal{}, Lognormal{}, Reciprocal{}, Student{}, LogStudent{}} {
		if at, below := n.CDF(60, 60, 0), n.CDF(59, 60, 0); at != 1 || below != 0 {
			t.Errorf("%s with scale 0: %v at the curve, %v below it", n.Name(), at, below)
		}
	}
}

// The variance of Student's t on 4 degrees of freedom is 4/(4 − 2) = 2.
func TestResidualSD(t *testing.T) {
	if got := ResidualSD(Student{}, 3); math.Abs(got-3*math.Sqrt2) > 1e-15 {
		t.Errorf("student: %v, want 3·√2", got)
	}
	if got := ResidualSD(LogStudent{}, 3); math.Abs(got-3*math.Sqrt2) > 1e-15 {
		t.Errorf("log-student: %v, want 3·√2", got)
	}
	if got := ResidualSD(Lognormal{}, 0.3); got != 0.3 {
		t.Errorf("lognormal: %v, want 0.3", got)
	}
}

// What families say of themselves agrees with their curves.
func TestFamiliesKeepTheirWord(t *testing.T) {
	for _, c := range families() {
		f := c.Family
		a, b := c.At(6)/c.At(3), c.At(40)/c.At(20)
		if same := math.Abs(a-b) < 1e-12 && c.Gain != 0; same != f.IsLogLog() {
			t.Errorf("%s: doubling leaves %v and %v of the level", f.Name(), a, b)
		}
		if tm := f.Shape().Clock(5); IsDecay(f.Shape()) && math.Abs(f.Shape().At(tm, c.Shape)-math.Exp(-c.Shape[0]*tm)) > 1e-15 {
			t.Errorf("%s is no decay", f.Name())
		}
	}
}
