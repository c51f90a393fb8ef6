package plan

import "math"

// A Line joins the sizes of equal power, or of equal cost, over numbers of attempts.
type Line struct {
	Value float64 // of the power, or the cost
	At    []Place // by rising attempts, two or more; only those within the sizes looked at
}

// A Place is a number of attempts with the number of trainees at which a line passes,
// between those looked at by proportion.
type Place struct {
	Attempts int
	Trainees float64
}

// PowerLines are the powers of which lines are given.
func PowerLines() []float64 { return []float64{0.5, 0.8, 0.9} }

// Powers are the lines of equal power of a grid.
func (a *Answer) Powers() []Line {
	return a.lines(PowerLines(), func(r Row) float64 { return r.Power })
}

// Costs are lines of equal cost of a grid: of costs between the least and the most in
// equal steps; none where no costs are stated.
func (a *Answer) Costs() []Line {
	low, high := math.Inf(1), math.Inf(-1)
	for _, r := range a.Rows {
		if r.Cost > 0 {
			low, high = math.Min(low, r.Cost), math.Max(high, r.Cost)
		}
	}
	if !(high > low) {
		return nil
	}
	const between = 4
	step := rounded((high - low) / (between + 1))
	var levels []float64
	for v := math.Ceil(low/step) * step; v < high && len(levels) < 2*between; v += step {
		levels = append(levels, v)
	}
	return a.lines(levels, func(r Row) float64 { return r.Cost })
}

// rounded is the number of one digit, 1, 2 or 5, that is nearest below.
func rounded(v float64) float64 {
	unit := math.Pow(10, math.Floor(math.Log10(v)))
	for _, k := range []float64{5, 2} {
		if v >= k*unit {
			return k * unit
		}
	}
	return unit
}

// lines finds for every number of attempts where a quantity that grows with the trainees
// passes each level.
func (a *Answer) lines(levels []float64, of func(Row) float64) []Line {
	if !a.Grid() {
		return nil
	}
	var out []Line
	for _, level := range levels {
		l := Line{Value: level}
		for _, k := range a.Asked.Attempts {
			if n, ok := a.passes(k, level, of); ok {
				l.At = append(l.At, Place{k, n})
			}
		}
		if len(l.At) > 1 {
			out = append(out, l)
		}
	}
	return out
}

// passes is the number of trainees at which the level is reached and kept.
func (a *Answer) passes(attempts int, level float64, of func(Row) float64) (float64, bool) {
	var n, v []float64
	for _, r := range a.Rows {
		if r.Attempts == attempts && !math.IsNaN(of(r)) {
			n, v = append(n, float64(r.Trainees)), append(v, of(r))
		}
	}
	order(n, v)
	for i := len(n) - 1; i > 0; i-- {
		if v[i] >= level && v[i-1] < level {
			return n[i-1] + (level-v[i-1])/(v[i]-v[i-1])*(n[i]-n[i-1]), true
		}
		if v[i] < level {
			return 0, false
		}
	}
	return 0, false
}

// order sorts pairs by the first.
func order(n, v []float64) {
	for i := range n {
		for j := i; j > 0 && n[j] < n[j-1]; j-- {
			n[j], n[j-1], v[j], v[j-1] = n[j-1], n[j], v[j-1], v[j]
		}
	}
}
