package numeric

import (
	"errors"
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// Roots that follow by hand, from easy to flat, steep and discontinuous.
func TestRoot(t *testing.T) {
	for _, c := range []struct {
		name      string
		f         func(float64) float64
		a, b      float64
		want, tol float64
	}{
		{"root of 2", func(x float64) float64 { return x*x - 2 }, 0, 2, math.Sqrt2, 1e-15},
		{"turned round", func(x float64) float64 { return x*x - 2 }, 2, 0, math.Sqrt2, 1e-15},
		{"cosine", math.Cos, 0, 3, math.Pi / 2, 1e-15},
		{"log 3", func(x float64) float64 { return math.Exp(x) - 3 }, -50, 50, math.Log(3), 1e-14},
		{"fifth power, flat at its root", func(x float64) float64 { return math.Pow(x-1, 5) }, -3, 4, 1, 1e-3},
		{"steep", func(x float64) float64 { return math.Tanh(1e6 * (x - 0.3)) }, -1, 1, 0.3, 1e-15},
		{"at an end", func(x float64) float64 { return x }, 0, 1, 0, 0},
		{"large numbers", func(x float64) float64 { return x - 1e9 }, 0, 1e12, 1e9, 1e-5},
	} {
		calls := 0
		got, ok := Root(func(x float64) float64 { calls++; return c.f(x) }, c.a, c.b, Tolerance{})
		if !ok || !(math.Abs(got-c.want) <= c.tol) {
			t.Errorf("%s: %v (%v), want %v", c.name, got, ok, c.want)
		}
		if calls > 110 {
			t.Errorf("%s: %d calls", c.name, calls)
		}
	}
	if _, ok := Root(func(x float64) float64 { return x*x + 1 }, -1, 1, Tolerance{}); ok {
		t.Error("a function without a root has one")
	}
	if _, ok := Root(func(float64) float64 { return math.NaN() }, -1, 1, Tolerance{}); ok {
		t.Error("a function without numbers has a root")
	}
}

// A smooth function takes few calls: halving alone would take 52.
func TestRootIsQuick(t *testing.T) {
	calls := 0
	Root(func(x float64) float64 { calls++; return math.Exp(x) - 2 }, 0, 1, Tolerance{})
	if calls > 12 {
		t.Errorf("%d calls", calls)
	}
}

// log(x) + 1 has its root at 1/e; to the left of 0, the far end, there is no number.
func TestRootWithoutNumbersBeyond(t *testing.T) {
	f := func(x float64) float64 {
		if x <= 0 {
			return math.NaN()
		}
		return math.Log(x) + 1
	}
	if got, ok := Root(f, 1, -2, Tolerance{}); !ok || math.Abs(got-math.Exp(-1)) > 1e-14 {
		t.Errorf("%v (%v), want 1/e", got, ok)
	}
}

// A jump is found from both sides, and of two values of one size the place on b's side is returned.
func TestRootOfAJump(t *testing.T) {
	step := func(x float64) float64 {
		if x < 0.7 {
			return -1
		}
		return 1
	}
	if got, ok := Root(step, 0, 1, Tolerance{}); !ok || got < 0.7 || got > 0.7+1e-14 {
		t.Errorf("%v, want 0.7 or just above", got)
	}
	if got, ok := Root(step, 1, 0, Tolerance{}); !ok || got >= 0.7 || got < 0.7-1e-14 {
		t.Errorf("%v, want just below 0.7", got)
	}
	if got, _ := Root(math.Sin, 2, 4, Tolerance{F: 0.1}); math.Abs(math.Sin(got)) > 0.1 {
		t.Errorf("sine %v", math.Sin(got))
	}
}

// By hand: {{4, 2}, {2, 3}} has determinant 8, inverse {{3, −2}, {−2, 4}}/8, and
// maps (1, 2) to (8, 8).
func TestSymmetric(t *testing.T) {
	a := mat.NewSymDense(2, []float64{4, 2, 2, 3})
	x, ok := Solve(a, []float64{8, 8})
	if !ok || math.Abs(x[0]-1) > 1e-14 || math.Abs(x[1]-2) > 1e-14 {
		t.Errorf("solution %v", x)
	}
	inv, ok := Inverse(a)
	if !ok || !mat.EqualApprox(inv, mat.NewSymDense(2, []float64{0.375, -0.25, -0.25, 0.5}), 1e-15) {
		t.Errorf("inverse %v", mat.Formatted(inv))
	}
	if _, ok := InverseWithin(mat.NewSymDense(2, []float64{1, 0, 0, 1e-4}), 1e3); ok { // condition 10⁴
		t.Error("a matrix is inverted beyond the condition asked for")
	}
	for _, bad := range [][]float64{{1, 2, 2, 1}, {1, 1, 1, 1}, {math.NaN(), 0, 0, 1}} {
		if _, ok := Solve(mat.NewSymDense(2, bad), []float64{1, 1}); ok {
			t.Errorf("%v is solved", bad)
		}
		if _, ok := Inverse(mat.NewSymDense(2, bad)); ok {
			t.Errorf("%v is inverted", bad)
		}
	}
}

// By hand: {{1, 1}, {1, 1}} = 2·uu' with u = (1, 1)/√2, so its pseudo-inverse is
// uu'/2, a quarter everywhere, and (3, 1) gives (4/√2)²/2 = 4.
func TestPseudoInverse(t *testing.T) {
	e, ok := Decompose(mat.NewSymDense(2, []float64{1, 1, 1, 1}))
	if !ok {
		t.Fatal("no eigenvalues")
	}
	inv, rank := e.PseudoInverse(1e-10)
	if rank != 1 || !mat.EqualApprox(inv, mat.NewSymDense(2, []float64{0.25, 0.25, 0.25, 0.25}), 1e-15) {
		t.Errorf("rank %d, %v", rank, mat.Formatted(inv))
	}
	if v, rank := e.Quadratic([]float64{3, 1}, 1e-10); rank != 1 || math.Abs(v-4) > 1e-14 {
		t.Errorf("%v of rank %d, want 4 of rank 1", v, rank)
	}
	if zero, _ := Decompose(mat.NewSymDense(2, nil)); true {
		if v, rank := zero.Quadratic([]float64{3, 1}, 1e-10); v != 0 || rank != 0 {
			t.Errorf("nothing varies: %v of rank %d", v, rank)
		}
	}
	if _, ok := Decompose(mat.NewSymDense(1, []float64{math.NaN()})); ok {
		t.Error("NaN has eigenvalues")
	}
}

// By hand: f = x²y + e^y at (3, 0.5) has gradient (2xy, x² + e^y) and Hessian
// {{2y, 2x}, {2x, e^y}}.
func TestDifferences(t *testing.T) {
	f := func(x []float64) float64 { return x[0]*x[0]*x[1] + math.Exp(x[1]) }
	g := func(x []float64) ([]float64, bool) {
		return []float64{2 * x[0] * x[1], x[0]*x[0] + math.Exp(x[1])}, true
	}
	x, steps := []float64{3, 0.5}, []float64{1e-4, 1e-5}
	got, want := Gradient(f, x, steps), []float64{3, 9 + math.Exp(0.5)}
	for i := range want {
		if math.Abs(got[i]-want[i]) > 1e-8 {
			t.Errorf("slope %d: %v, want %v", i, got[i], want[i])
		}
	}
	if got := Gradient(f, x, []float64{0, 1e-5}); got[0] != 0 {
		t.Errorf("slope of what is held: %v", got[0])
	}
	h, ok := Hessian(g, x, steps)
	if !ok || !mat.EqualApprox(h, mat.NewSymDense(2, []float64{1, 6, 6, math.Exp(0.5)}), 1e-8) {
		t.Errorf("Hessian %v", mat.Formatted(h))
	}
	if _, ok := Hessian(func([]float64) ([]float64, bool) { return nil, false }, x, steps); ok {
		t.Error("a Hessian without a gradient")
	}
	if x[0] != 3 || x[1] != 0.5 {
		t.Errorf("the place has moved to %v", x)
	}
}

// sure makes a Hessian function of numbers.
func sure(n int, v ...float64) func() (*mat.SymDense, bool) {
	return func() (*mat.SymDense, bool) { return mat.NewSymDense(n, v), true }
}

// By hand: x − log x is smallest, 1, at 1; from 3.5 the full step −(1 − 1/x)x² leads
// below 0, where there is no number, and must be cut.
func TestNewton(t *testing.T) {
	f := func(x []float64) Point {
		return Point{Value: x[0] - math.Log(x[0]), Gradient: []float64{1 - 1/x[0]}, Hessian: sure(1, 1/(x[0]*x[0]))}
	}
	m, err := Newton(f, []float64{3.5}, Settings{})
	if err != nil || math.Abs(m.X[0]-1) > 1e-10 || math.Abs(m.Point.Value-1) > 1e-14 {
		t.Errorf("%v (%v), want 1", m.X, err)
	}
}

// (x² − 1)² + y² has a saddle at 0 and is smallest, 0, at ±1; it bends down at 0.1.
func TestNewtonTurns(t *testing.T) {
	f := func(x []float64) Point {
		a := x[0]*x[0] - 1
		return Point{Value: a*a + x[1]*x[1], Gradient: []float64{4 * x[0] * a, 2 * x[1]}, Hessian: sure(2, 12*x[0]*x[0]-4, 0, 0, 2)}
	}
	if _, err := Newton(f, []float64{0.1, 1}, Settings{}); !errors.Is(err, ErrCurvature) {
		t.Errorf("negative curvature: %v", err)
	}
	m, err := Newton(f, []float64{0.1, 1}, Settings{Turn: true})
	if err != nil || math.Abs(m.X[0]-1) > 1e-8 || math.Abs(m.X[1]) > 1e-8 {
		t.Errorf("%v (%v), want (1, 0)", m.X, err)
	}
}

// exp(−x) falls towards 0 without end: the search stops where steps save next to
// nothing. A gradient that points the wrong way leads nowhere.
func TestNewtonWithoutAMinimum(t *testing.T) {
	m, err := Newton(func(x []float64) Point {
		e := math.Exp(-x[0])
		return Point{Value: e, Gradient: []float64{-e}, Hessian: sure(1, e)}
	}, []float64{0}, Settings{})
	if err != nil || m.X[0] < 20 || m.X[0] > 30 {
		t.Errorf("%v after %d steps (%v)", m.X, m.Steps, err)
	}
	if _, err := Newton(func(x []float64) Point {
		return Point{Value: x[0], Gradient: []float64{-1}, Hessian: sure(1, 1)}
	}, []float64{0}, Settings{}); !errors.Is(err, ErrStuck) {
		t.Errorf("the wrong way: %v", err)
	}
}
