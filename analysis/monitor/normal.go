package monitor

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

// A NormalCUSUM is the tabular cumulative sum of a standardised measure: it adds
// what a value lies above K, is held at zero, and signals at H. Units are
// standard deviations; for a lognormal time standardise its logarithm. K is half
// the shift to be found.
type NormalCUSUM struct{ K, H, Start float64 }

// mostNormal is the limit up to which the error rates of a normal sum are worked out:
// the nodes of its equation grow with the limit, and the time with their cube.
const mostNormal = 50.0

// Follow runs the upper sum over standardised values; it starts anew after a
// signal and before each position in restarts.
func (c NormalCUSUM) Follow(z []float64, restarts []int) Path {
	return Scheme{H: c.H, Start: c.Start, Restart: true}.Follow(c.increments(z, 1), restarts)
}

// FollowLower is Follow for the lower sum, which adds what a value lies below −K.
func (c NormalCUSUM) FollowLower(z []float64, restarts []int) Path {
	return Scheme{H: c.H, Start: c.Start, Restart: true}.Follow(c.increments(z, -1), restarts)
}

func (c NormalCUSUM) increments(z []float64, sign float64) []float64 {
	out := make([]float64, len(z))
	for i, v := range z {
		out[i] = sign*v - c.K
	}
	return out
}

// kernel is Page's integral equation on Gauss nodes with an atom at zero: the
// rows are where the sum stands (the start, zero, the nodes), the columns where
// it goes.
func (c NormalCUSUM) kernel(shift float64) *mat.Dense {
	nodes := max(60, int(12*c.H))
	x, w := make([]float64, nodes), make([]float64, nodes)
	quad.Legendre{}.FixedLocations(x, w, 0, c.H)
	from := append([]float64{c.Start, 0}, x...)
	q := mat.NewDense(nodes+2, nodes+2, nil)
	for i, s := range from {
		q.Set(i, 1, distuv.UnitNormal.CDF(c.K-shift-s))
		for j, to := range x {
			q.Set(i, j+2, w[j]*distuv.UnitNormal.Prob(to-s+c.K-shift))
		}
	}
	return q
}

// Mean is the mean number of attempts to a signal of the upper sum when the
// values' mean is shift. Accurate to about 1e-9 (Gauss quadrature of Page's
// equation; its nodes grow with H). NaN, not known, for H above 50.
func (c NormalCUSUM) Mean(shift float64) float64 {
	if c.H > mostNormal {
		return math.NaN()
	}
	return solveMean(c.kernel(shift))
}

// MeanTwoSided is the mean number of attempts until either sum signals, both
// kept side by side: Lucas and Crosier (1982), Technometrics 24, 199-205, whose
// formula also covers the headstart.
func (c NormalCUSUM) MeanTwoSided(shift float64) float64 {
	zero := c
	zero.Start = 0
	up, low := zero.Mean(shift), zero.Mean(-shift)
	if c.Start == 0 {
		return 1 / (1/up + 1/low)
	}
	upStart, lowStart := c.Mean(shift), c.Mean(-shift)
	return (upStart*low + lowStart*up - up*low) / (up + low)
}

// SignalBy is the chance that the upper sum signals within 1, 2, … n attempts; NaN,
// not known, for H above 50.
func (c NormalCUSUM) SignalBy(shift float64, n int) []float64 {
	if c.H > mostNormal {
		return slices.Repeat([]float64{math.NaN()}, n)
	}
	return iterate(c.kernel(shift), n)
}

// A NormalEWMA is a weighted mean of a standardised measure, with constant
// limits L standard deviations of the mean away.
type NormalEWMA struct {
	Lambda, L float64
	Sides     Sides
}

// Smoother is the chart's mean and limits, for values with the given mean and
// standard deviation.
func (e NormalEWMA) Smoother(mean, sd float64) Smoother {
	return Smoother{Lambda: e.Lambda, L: e.L, Target: mean, SD: sd, Sides: e.Sides}
}

// kernel is the chart's integral equation on Gauss nodes; row 0 is the start.
func (e NormalEWMA) kernel(shift float64) *mat.Dense {
	sd := math.Sqrt(e.Lambda / (2 - e.Lambda))
	upper := e.L * sd
	lower := -upper
	if e.Sides == Above { // far enough down that nothing is lost
		lower = math.Min(shift, 0) - 10*sd
	}
	nodes := min(max(80, int(10*(upper-lower)/e.Lambda)), 500)
	x, w := make([]float64, nodes), make([]float64, nodes)
	quad.Legendre{}.FixedLocations(x, w, lower, upper)
	from := append([]float64{0}, x...)
	q := mat.NewDense(nodes+1, nodes+1, nil)
	for i, s := range from {
		for j, to := range x {
			q.Set(i, j+1, w[j]/e.Lambda*distuv.UnitNormal.Prob((to-(1-e.Lambda)*s)/e.Lambda-shift))
		}
	}
	return q
}

// Mean is the mean number of attempts to a signal when the values' mean is shift
// (in standard deviations) from the target.
func (e NormalEWMA) Mean(shift float64) float64 { return solveMean(e.kernel(shift)) }

// SignalBy is the chance of a signal within 1, 2, … n attempts.
func (e NormalEWMA) SignalBy(shift float64, n int) []float64 { return iterate(e.kernel(shift), n) }

// solveMean is entry 0 of (I−Q)⁻¹·1.
func solveMean(q *mat.Dense) float64 {
	n, _ := q.Dims()
	a, one, x := mat.NewDense(n, n, nil), mat.NewVecDense(n, nil), mat.NewVecDense(n, nil)
	for i := range n {
		one.SetVec(i, 1)
		for j := range n {
			a.Set(i, j, -q.At(i, j))
		}
		a.Set(i, i, 1+a.At(i, i))
	}
	if err := x.SolveVec(a, one); err != nil && math.IsInf(float64(condition(err)), 1) {
		return math.Inf(1)
	}
	return x.AtVec(0)
}

// iterate applies Q to the chance of no signal yet and reads off entry 0.
func iterate(q *mat.Dense, n int) []float64 {
	size, _ := q.Dims()
	alive, next := mat.NewVecDense(size, nil), mat.NewVecDense(size, nil)
	for i := range size {
		alive.SetVec(i, 1)
	}
	out := make([]float64, n)
	for i := range out {
		next.MulVec(q, alive)
		alive, next = next, alive
		out[i] = clamp01(1 - alive.AtVec(0))
	}
	return out
}
