package agreement

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"

	"tyro/analysis/internal/numeric"
)

// A Severity is how much lower than the panel's average a rater scores the same
// subjects; positive is stricter where higher scores are better.
type Severity struct {
	Rater        int // column
	Ratings      int
	Mean         float64 // of the raw scores, which also depends on who was rated
	Estimate, SE float64
	Lower, Upper float64
	Group        int     // raters compared with each other directly or through others share a group; alone in one, the estimate is NaN
	Drift        float64 // of severity per unit of time, relative to the panel; NaN without times
	DriftSE      float64
	DriftLower   float64
	DriftUpper   float64
}

// A Pair of raters with the subjects both rated.
type Pair struct {
	A, B, Both int
	Difference float64 // mean of A's scores minus B's on them
	Flips      float64 // share of them that one passes and the other fails; NaN without a cut
}

// Severities compares raters on the same subjects by least squares with an
// effect for every subject and every rater, so that a rater who saw better
// performances is not called lenient. The effects of connected raters sum to 0.
// Raters of two unconnected groups cannot be compared. scores higher = better.
func Severities(r Ratings, level float64) ([]Severity, error) {
	level, err := readable(r, level)
	if err != nil {
		return nil, err
	}
	m, err := newAdditive(r, nil)
	if err != nil {
		return nil, err
	}
	return m.severities(level), nil
}

// SeveritiesOverTime also estimates each rater's drift: the change of severity
// per unit of time, when[subject][rater], relative to the panel's own. A change
// that all raters share cannot be told from a change of the performances.
func SeveritiesOverTime(r Ratings, when [][]float64, level float64) ([]Severity, error) {
	level, err := readable(r, level)
	if err != nil {
		return nil, err
	}
	if err := checkTimes(r, when); err != nil {
		return nil, err
	}
	m, err := newAdditive(r, when)
	if err != nil {
		return nil, err
	}
	return m.severities(level), nil
}

// checkTimes reports times that do not stand beside the ratings. Nil is fine.
func checkTimes(r Ratings, when [][]float64) error {
	if when == nil {
		return nil
	}
	if len(when) != len(r) {
		return fmt.Errorf("%w: times of %d subjects for %d", ErrRatings, len(when), len(r))
	}
	for i, row := range when {
		if len(row) != len(r[i]) {
			return fmt.Errorf("%w: subject %d has %d times for %d ratings", ErrRatings, i+1, len(row), len(r[i]))
		}
	}
	return nil
}

// additive is the two-way least-squares fit with the subjects swept out.
type additive struct {
	r      Ratings
	groups []int
	k      int
	inv    *mat.SymDense // generalised inverse of the swept cross-products
	effect []float64     // raters, then their slopes
	s2, df float64
	drift  bool
}

func newAdditive(r Ratings, when [][]float64) (*additive, error) {
	r = r.rated()
	k := r.raters()
	m := &additive{r: r, k: k, groups: connected(r), drift: when != nil}
	p := k
	if m.drift {
		p = 2 * k
	}
	middle := make([]float64, k)
	if m.drift {
		for j := range k {
			n := 0.0
			for i := range r {
				if !math.IsNaN(r[i][j]) && !math.IsNaN(when[i][j]) {
					middle[j] += when[i][j]
					n++
				}
			}
			middle[j] /= n
		}
	}
	a, b, yy, n, subjects := mat.NewSymDense(p, nil), make([]float64, p), 0.0, 0.0, 0.0
	for i, row := range r {
		var cols [][]entry
		var ys []float64
		for j, v := range row {
			if math.IsNaN(v) || m.drift && math.IsNaN(when[i][j]) {
				continue
			}
			es := []entry{{j, 1}}
			if m.drift {
				es = append(es, entry{k + j, when[i][j] - middle[j]})
			}
			cols, ys = append(cols, es), append(ys, v)
		}
		if len(ys) == 0 {
			continue
		}
		subjects++
		n += float64(len(ys))
		yy += sweep(a, b, cols, ys)
	}
	e, ok := numeric.Decompose(a)
	if !ok {
		return nil, errors.New("severity: the equations cannot be solved")
	}
	// What cannot be estimated, such as the sum of all effects, becomes 0.
	var rank int
	m.inv, rank = e.PseudoInverse(1e-9)
	m.effect = make([]float64, p)
	explained := 0.0
	for i := range p {
		for j := range p {
			m.effect[i] += m.inv.At(i, j) * b[j]
		}
		explained += m.effect[i] * b[i]
	}
	m.df = n - subjects - float64(rank)
	m.s2 = math.NaN()
	if m.df > 0 {
		if m.s2 = (yy - explained) / m.df; yy-explained <= rounding*yy {
			m.s2 = 0 // raters a constant apart: what is left is rounding
		}
	}
	return m, nil
}

// sweep adds one subject's centred cross-products and returns its sum of
// squares.
func sweep(a *mat.SymDense, b []float64, cols [][]entry, ys []float64) (ss float64) {
	c := float64(len(ys))
	mean, sum := 0.0, map[int]float64{}
	for i, es := range cols {
		mean += ys[i] / c
		for _, e := range es {
			sum[e.at] += e.count
		}
	}
	for i, es := range cols {
		ss += (ys[i] - mean) * (ys[i] - mean)
		for _, e := range es {
			b[e.at] += e.count * (ys[i] - mean)
			for _, f := range es {
				if f.at >= e.at {
					a.SetSym(e.at, f.at, a.At(e.at, f.at)+e.count*f.count)
				}
			}
		}
	}
	for i, u := range sum {
		for j, v := range sum {
			if j >= i {
				a.SetSym(i, j, a.At(i, j)-u*v/c)
			}
		}
	}
	return ss
}

func (m *additive) severities(level float64) []Severity {
	t := tQuantile(level, m.df)
	out := make([]Severity, m.k)
	for j := range out {
		s := Severity{Rater: j, Group: m.groups[j], Estimate: -m.effect[j], SE: math.Sqrt(m.s2 * m.inv.At(j, j))}
		s.Lower, s.Upper = s.Estimate-t*s.SE, s.Estimate+t*s.SE
		for _, row := range m.r {
			if !math.IsNaN(row[j]) {
				s.Ratings++
				s.Mean += row[j]
			}
		}
		s.Mean /= float64(s.Ratings)
		s.Drift, s.DriftSE, s.DriftLower, s.DriftUpper = math.NaN(), math.NaN(), math.NaN(), math.NaN()
		if m.drift {
			at := m.k + j
			s.Drift, s.DriftSE = -m.effect[at], math.Sqrt(m.s2*m.inv.At(at, at))
			s.DriftLower, s.DriftUpper = s.Drift-t*s.DriftSE, s.Drift+t*s.DriftSE
		}
		if !(s.SE > 0) {
			s.Lower, s.Upper = math.NaN(), math.NaN()
		}
		if !(s.DriftSE > 0) {
			s.DriftLower, s.DriftUpper = math.NaN(), math.NaN()
		}
		if m.alone(j) {
			s.Estimate, s.SE = math.NaN(), math.NaN()
		}
		out[j] = s
	}
	return out
}

// alone reports whether nobody else rated any subject of a rater's, so that there is nothing to
// hold the rater against.
func (m *additive) alone(rater int) bool {
	for j, g := range m.groups {
		if j != rater && g == m.groups[rater] {
			return false
		}
	}
	return true
}

// connected numbers the groups of raters joined by common subjects.
func connected(r Ratings) []int {
	group := everyone(r.raters())
	root := func(j int) int {
		for group[j] != j {
			j = group[j]
		}
		return j
	}
	for _, row := range r {
		first := -1
		for j, v := range row {
			if math.IsNaN(v) {
				continue
			}
			if first < 0 {
				first = root(j)
			}
			group[root(j)] = first
			first = root(first)
		}
	}
	names := map[int]int{}
	out := make([]int, len(group))
	for j := range group {
		g := root(j)
		if _, seen := names[g]; !seen {
			names[g] = len(names)
		}
		out[j] = names[g]
	}
	return out
}

// A Cut splits scores into pass and fail.
type Cut struct {
	At    float64
	Lower bool // scores at or below pass; otherwise at or above
}

func (c Cut) passes(v float64) bool {
	if c.Lower {
		return v <= c.At
	}
	return v >= c.At
}

// Pairs lists every pair of raters: how often they met, how far apart they are,
// and how often their decisions differ. cut nil: no decisions. It panics on a ragged
// table.
func Pairs(r Ratings, cut *Cut) []Pair {
	r.must()
	var out []Pair
	for a := range r.raters() {
		for b := a + 1; b < r.raters(); b++ {
			p := Pair{A: a, B: b, Difference: math.NaN(), Flips: math.NaN()}
			diff, flips := 0.0, 0.0
			for _, row := range r {
				x, y := row[a], row[b]
				if math.IsNaN(x) || math.IsNaN(y) {
					continue
				}
				p.Both++
				diff += x - y
				if cut != nil && cut.passes(x) != cut.passes(y) {
					flips++
				}
			}
			if p.Both > 0 {
				p.Difference = diff / float64(p.Both)
				if cut != nil {
					p.Flips = flips / float64(p.Both)
				}
			}
			out = append(out, p)
		}
	}
	return out
}
