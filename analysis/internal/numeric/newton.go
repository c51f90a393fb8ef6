package numeric

import (
	"errors"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// A Point is a function to minimise at one place. The Hessian, or a positive
// substitute, is asked for only where a step begins.
type Point struct {
	Value    float64 // NaN or +Inf outside of the domain
	Gradient []float64
	Hessian  func() (*mat.SymDense, bool)
}

// Settings choose how [Newton] goes; the zero value is the usual way.
type Settings struct {
	// Turn goes downhill also where the function bends down: directions of
	// negative curvature are turned round, and no step is longer than twice the
	// place it starts from. Without it a Hessian that is not positive definite
	// is an error.
	Turn bool
	// Gain is what a step must save at least; after two in a row that save less
	// the search ends. 0 means 1e-10.
	Gain float64
}

// A Minimum is where the search came to rest.
type Minimum struct {
	X     []float64
	Point Point
	Steps int
}

// The reasons why there is no minimum.
var (
	ErrCurvature = errors.New("the curvature is not positive, or flat in some direction")
	ErrStuck     = errors.New("no step leads down")
	ErrEndless   = errors.New("the search did not settle")
)

// Newton minimises by Newton steps that are halved while they lead up: Nocedal and
// Wright (2006), Numerical Optimization, chapter 3. gonum's optimize has a Newton
// method too; this one knows when a likelihood rises towards a limit that no finite
// place reaches, where steps gain next to nothing and never end. With an error the
// minimum is the best place found.
func Newton(f func(x []float64) Point, start []float64, s Settings) (Minimum, error) {
	if s.Gain == 0 {
		s.Gain = 1e-10
	}
	m := Minimum{X: slices.Clone(start), Point: f(start)}
	flat := 0 // steps in a row that gained next to nothing
	for m.Steps = 1; m.Steps <= mostSteps; m.Steps++ {
		step, ok := s.step(m)
		if !ok {
			return m, ErrCurvature
		}
		next, point, ok := downhill(f, m, step)
		if !ok {
			return m, ErrStuck
		}
		moved := 0.0
		for j := range next {
			moved = math.Max(moved, math.Abs(next[j]-m.X[j])/(1+math.Abs(next[j])))
		}
		gained := m.Point.Value - point.Value
		m.X, m.Point = next, point
		if flat++; gained > s.Gain {
			flat = 0
		}
		if moved < 1e-11 || flat == 2 {
			return m, nil
		}
	}
	return m, ErrEndless
}

// step is −H⁻¹·gradient.
func (s Settings) step(m Minimum) ([]float64, bool) {
	h, ok := m.Point.Hessian()
	if !ok {
		return nil, false
	}
	if !s.Turn {
		x, ok := Solve(h, m.Point.Gradient)
		for i := range x {
			x[i] = -x[i]
		}
		return x, ok
	}
	e, ok := Decompose(h)
	if !ok {
		return nil, false
	}
	least := 1e-8 * (1 + Size(e.Values))
	step := make([]float64, len(m.X))
	for k, λ := range e.Values {
		along := e.along(k, m.Point.Gradient) / math.Max(math.Abs(λ), least)
		for i := range step {
			step[i] -= along * e.Vectors.At(i, k)
		}
	}
	if long, most := Size(step), 2*(1+Size(m.X)); long > most {
		for i := range step {
			step[i] *= most / long
		}
	}
	return step, true
}

// downhill halves the step until it does not lead up, but for rounding.
func downhill(f func(x []float64) Point, m Minimum, step []float64) ([]float64, Point, bool) {
	const halvings = 40
	slack := 1e-12 * math.Abs(m.Point.Value)
	next := make([]float64, len(step))
	for k, size := 0, 1.0; k < halvings; k, size = k+1, size/2 {
		for j := range next {
			next[j] = m.X[j] + size*step[j]
		}
		if p := f(next); p.Value <= m.Point.Value+slack {
			return next, p, true
		}
	}
	return nil, Point{}, false
}

// Size is the largest of the absolute values.
func Size(v []float64) float64 {
	s := 0.0
	for _, x := range v {
		s = math.Max(s, math.Abs(x))
	}
	return s
}
