package models

import (
	"math"
	"testing"
)

// families lists every family with two sets of parameters, one falling and one
// rising.
func families() []Curve {
	th := map[string][][]float64{
		"constant":    {{40}},
		"logarithmic": {{180, -20}, {20, 9}},
		"wright":      {{180, 0.4}, {20, -0.3}},
		"inverse":     {{40, 120}, {90, -50}},
		"power":       {{40, 140, 0.6}, {90, -60, 1.4}},
		"exponential": {{40, 140, 0.15}, {90, -60, 0.8}},
		"power-prior": {{40, 900, 1.3, 4}, {90, -60, 0.8, 0.5}},
		"apex":        {{40, 140, 0.05, 0.3}, {90, -60, 0.2, 0.1}},
		"logistic":    {{40, 140, 0.4, 8}, {90, -60, 0.3, 4}},
		"gompertz":    {{40, 140, 0.3, 6}, {90, -60, 0.5, 3}},
	}
	var out []Curve
	for _, name := range Names() {
		f, err := ByName(name, 1)
		if err != nil {
			panic(err)
		}
		for _, t := range th[name] {
			out = append(out, f.Curve(t))
		}
	}
	return out
}

func TestEveryFamilyIsListed(t *testing.T) {
	seen := map[string]bool{}
	for _, c := range families() {
		seen[c.Family.Name()] = true
	}
	for _, name := range Names() {
		if !seen[name] {
			t.Errorf("no conformance case for %s", name)
		}
	}
}

// The same questions are put to every family.
func TestConformance(t *testing.T) {
	for _, c := range families() {
		f, th := c.Family, c.Theta()
		t.Run(f.Name(), func(t *testing.T) {
			if len(th) != len(f.Params()) {
				t.Fatalf("%d values for %d parameters", len(th), len(f.Params()))
			}
			for _, n := range []float64{1, 2, 3.5, 10, 40} {
				checkGradient(t, f, th, n)
				checkBasis(t, f, th, n)
				checkShapeDerivatives(t, c, n)
				sh := f.Shape()
				if got := sh.Attempt(sh.Clock(n)); math.Abs(got-n) > 1e-12*n {
					t.Errorf("Attempt(Clock(%g)) = %g", n, got)
				}
			}
			checkCrossing(t, c)
		})
	}
}

func checkGradient(t *testing.T, f Family, th []float64, n float64) {
	t.Helper()
	grad := make([]float64, len(th))
	f.Grad(grad, th, n)
	for i := range th {
		h := 1e-6 * math.Max(1, math.Abs(th[i]))
		up, down := append([]float64(nil), th...), append([]float64(nil), th...)
		up[i] += h
		down[i] -= h
		want := (f.Value(up, n) - f.Value(down, n)) / (2 * h)
		if math.Abs(grad[i]-want) > 1e-6*math.Max(1, math.Abs(want)) {
			t.Errorf("n = %g: derivative in %s = %g, differences give %g", n, f.Params()[i].Name, grad[i], want)
		}
	}
}

func checkBasis(t *testing.T, f Family, th []float64, n float64) {
	t.Helper()
	var linear []float64
	for i, p := range f.Params() {
		if p.Linear {
			linear = append(linear, th[i])
		}
	}
	basis := make([]float64, len(linear))
	f.Basis(basis, f.Curve(th).Shape, n)
	sum := 0.0
	for i := range basis {
		sum += basis[i] * linear[i]
	}
	if v := f.Value(th, n); math.Abs(sum-v) > 1e-12*math.Abs(v) {
		t.Errorf("n = %g: basis gives %g, value is %g", n, sum, v)
	}
}

func checkShapeDerivatives(t *testing.T, c Curve, n float64) {
	t.Helper()
	sh := c.Family.Shape()
	tm := sh.Clock(n)
	h, d1, d2 := sh.Derivs(tm, c.Shape)
	if at := sh.At(tm, c.Shape); math.Abs(h-at) > 1e-15 {
		t.Errorf("n = %g: Derivs gives h = %g, At gives %g", n, h, at)
	}
	params := len(sh.Params())
	for j := range params {
		step := 1e-5 * math.Max(1, math.Abs(c.Shape[j]))
		up, down := c.Shape, c.Shape
		up[j] += step
		down[j] -= step
		hu, du, _ := sh.Derivs(tm, up)
		hd, dd, _ := sh.Derivs(tm, down)
		if want := (hu - hd) / (2 * step); math.Abs(d1[j]-want) > 1e-6*math.Max(1, math.Abs(want)) {
			t.Errorf("n = %g: ∂h/∂s%d = %g, differences give %g", n, j, d1[j], want)
		}
		for k := j; k < params; k++ {
			if want := (du[k] - dd[k]) / (2 * step); math.Abs(d2[j+k]-want) > 1e-5*math.Max(1, math.Abs(want)) {
				t.Errorf("n = %g: ∂²h/∂s%d∂s%d = %g, differences give %g", n, j, k, d2[j+k], want)
			}
		}
	}
}

// The crossing of a level that the curve passes at attempt 7 is attempt 7.
func checkCrossing(t *testing.T, c Curve) {
	t.Helper()
	lower := c.At(2) < c.At(1)
	if got := c.Crossing(c.At(1), 1, lower); got != 1 {
		t.Errorf("a level met at once is crossed at %g", got)
	}
	if c.At(7) == c.At(1) {
		if got := c.Crossing(c.At(1)-1, 1, true); !math.IsInf(got, 1) {
			t.Errorf("a flat curve crosses a level below it at %g", got)
		}
		return
	}
	if got := c.Crossing(c.At(7), 1, lower); math.Abs(got-7) > 1e-9 {
		t.Errorf("level of attempt 7 is crossed at %g", got)
	}
	if got := c.Crossing(c.At(7), 1, !lower); got != 1 {
		t.Errorf("asked in the other direction the level is met at %g, want 1", got)
	}
	if c.Family.HasPlateau() {
		if got := c.Crossing(c.Plateau-c.Gain, 1, lower); !math.IsInf(got, 1) {
			t.Errorf("a level beyond the plateau is crossed at %g", got)
		}
	}
}

// By hand: 40 + 140·9^(−1/2) = 40 + 140/3, and the level 40 + 140/3 is met at
// attempt 9; 90 % of a power gain with rate 1/2 takes 10² attempts, of an
// exponential one 1 + ln 10/rate, of an inverse one 10.
func TestByHand(t *testing.T) {
	p := Power().Curve([]float64{40, 140, 0.5})
	if got, want := p.At(9), 40+140./3; math.Abs(got-want) > 1e-12 {
		t.Errorf("power at 9 = %v, want %v", got, want)
	}
	for _, c := range []struct {
		curve Curve
		want  float64
	}{
		{p, 100},
		{Exponential(1).Curve([]float64{40, 140, 0.2}), 1 + math.Log(10)/0.2},
		{Inverse().Curve([]float64{40, 140}), 10},
	} {
		if got := c.curve.ToShare(0.9); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%s: attempts to 90 %% = %v, want %v", c.curve.Family.Name(), got, c.want)
		}
	}
}
