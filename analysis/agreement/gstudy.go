package agreement

import (
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/mat"

	"tyro/analysis"
)

// A GStudy is a set of scores with the level of every facet. The first facet is
// what is measured (people or performances); the others are the conditions it
// is measured under, such as raters and performances. All are random unless
// named in Fixed. Cronbach, Gleser, Nanda and Rajaratnam (1972), The
// Dependability of Behavioral Measurements; notation as in Brennan (2001),
// Generalizability Theory.
//
// Which facets are nested is read off the levels: a facet is nested in another
// when each of its levels occurs with one level of the other only. Levels with
// the same label in different places must therefore have different numbers
// unless they are the same rater, item or performance.
type GStudy struct {
	Facets []string // the first is the object of measurement
	Fixed  []string // facets whose levels are all there are
	Levels [][]int  // [score][facet], from 0
	Scores []float64
}

// A GResult holds components and what follows from them.
type GResult struct {
	Design     string // such as "subject × item × rater" or "trainee × rater, performance in trainee"
	Method     string
	Components []Component
	Sizes      []float64 // levels of each facet; of a nested one, the harmonic mean within its place
	Balanced   bool
	Warnings   []string
	facets     []string
	fixed      []bool
	nested     [][]bool // nested[f][g]: f lies within g
	untold     bool     // what lies between objects is part of the residual
	cov        *mat.SymDense
	level      float64
}

// Estimate computes variance components: by the analysis of variance when the
// design is crossed and complete with one score a cell (negative estimates are
// set to 0 and said), by REML otherwise.
func (g GStudy) Estimate(level float64) (GResult, error) {
	level, err := analysis.Level(level)
	if err != nil {
		return GResult{}, err
	}
	res := GResult{level: level, facets: g.Facets, Sizes: make([]float64, len(g.Facets))}
	if err := g.check(); err != nil {
		return res, err
	}
	counts := make([]int, len(g.Facets))
	for f := range g.Facets {
		for _, l := range g.Levels {
			counts[f] = max(counts[f], l[f]+1)
		}
	}
	for _, f := range g.Facets {
		res.fixed = append(res.fixed, slices.Contains(g.Fixed, f))
	}
	res.nested = g.nesting(counts)
	res.Design = res.describe()
	for f := range g.Facets {
		res.Sizes[f] = g.size(f, res.nested)
	}
	crossed := !slices.ContainsFunc(res.nested, func(row []bool) bool { return slices.Contains(row, true) })
	cells := 1
	for _, n := range counts {
		cells *= n
	}
	res.Balanced = crossed && cells == len(g.Scores) && g.distinct() == cells
	if res.Balanced {
		err = res.byANOVA(g, counts)
	} else {
		err = res.byREML(g)
	}
	if err != nil {
		return res, err
	}
	shares(res.Components)
	for i := range res.Components {
		res.Components[i].scaledChi(level)
	}
	return res, nil
}

func (g GStudy) check() error {
	if len(g.Facets) < 2 {
		return errors.New("a generalizability study needs an object of measurement and at least one facet")
	}
	if len(g.Scores) != len(g.Levels) || len(g.Scores) < 3 {
		return errors.New("a generalizability study needs at least 3 scores")
	}
	for i, l := range g.Levels {
		if len(l) != len(g.Facets) || slices.Min(l) < 0 {
			return fmt.Errorf("score %d: levels %v, expected one of each of %d facets, from 0 on", i+1, l, len(g.Facets))
		}
		if math.IsNaN(g.Scores[i]) || math.IsInf(g.Scores[i], 0) {
			return fmt.Errorf("score %d is %v, expected a number", i+1, g.Scores[i])
		}
	}
	for _, name := range g.Fixed {
		if !slices.Contains(g.Facets, name) {
			return fmt.Errorf("facet %s is held fixed, but there is none of that name", name)
		}
	}
	for f, name := range g.Facets {
		first := g.Levels[0][f]
		if !slices.ContainsFunc(g.Levels, func(l []int) bool { return l[f] != first }) {
			return fmt.Errorf("facet %s has one level only, so its variance is unknown", name)
		}
	}
	if !slices.ContainsFunc(g.Scores, func(v float64) bool { return v != g.Scores[0] }) {
		return errors.New(notDefined)
	}
	return nil
}

// distinct is the number of cells with a score.
func (g GStudy) distinct() int {
	seen := map[string]bool{}
	for _, l := range g.Levels {
		seen[fmt.Sprint(l)] = true
	}
	return len(seen)
}

// nesting finds which facets lie within which.
func (g GStudy) nesting(counts []int) [][]bool {
	out := make([][]bool, len(counts))
	for f := range counts {
		out[f] = make([]bool, len(counts))
		for h := range counts {
			if f == h || counts[f] < counts[h] || counts[f] == counts[h] && h > f {
				continue
			}
			place, inside := make(map[int]int), true
			for _, l := range g.Levels {
				if at, seen := place[l[f]]; seen && at != l[h] {
					inside = false
					break
				}
				place[l[f]] = l[h]
			}
			out[f][h] = inside
		}
	}
	for h := range counts { // the object lies within nothing: trainees seen under one condition each are not nested for that
		out[0][h] = false
	}
	return out
}

// size is the number of levels of a facet, or the harmonic mean of the numbers
// within each place it is nested in. With gaps in a crossed design it is the
// harmonic mean number of its levels met by an object.
func (g GStudy) size(f int, nested [][]bool) float64 {
	place := make(map[string]map[int]bool)
	for _, l := range g.Levels {
		key := ""
		if f != 0 {
			key = fmt.Sprint(l[0])
			for h, in := range nested[f] {
				if in {
					key += fmt.Sprint(" ", l[h])
				}
			}
		}
		if place[key] == nil {
			place[key] = map[int]bool{}
		}
		place[key][l[f]] = true
	}
	inverse := 0.0
	for _, key := range slices.Sorted(maps.Keys(place)) { // in order, so that the sum is the same in every run
		inverse += 1 / float64(len(place[key]))
	}
	return float64(len(place)) / inverse
}

// describe words the design in the field's notation.
func (res GResult) describe() string {
	var crossed, inside []string
	for f, name := range res.facets {
		var in []string
		for h, yes := range res.nested[f] {
			if yes {
				in = append(in, res.facets[h])
			}
		}
		if len(in) == 0 {
			crossed = append(crossed, name)
		} else {
			inside = append(inside, name+" in "+strings.Join(in, " and "))
		}
	}
	return strings.Join(append([]string{strings.Join(crossed, " × ")}, inside...), ", ")
}

// sources lists the sets of facets that vary on their own, smallest first; the
// last is the residual.
func (res GResult) sources() [][]int {
	n := len(res.facets)
	var out [][]int
	for mask := 1; mask < 1<<n; mask++ {
		var set []int
		closed := true
		for f := range n {
			if mask&(1<<f) == 0 {
				continue
			}
			set = append(set, f)
			for h, in := range res.nested[f] {
				closed = closed && (!in || mask&(1<<h) != 0)
			}
		}
		if closed {
			out = append(out, set)
		}
	}
	slices.SortStableFunc(out, func(a, b []int) int { return len(a) - len(b) })
	return out
}

// nameOf names a source: its facets joined, a nested one with its place.
func (res GResult) nameOf(set []int, last bool) string {
	if last {
		return "residual"
	}
	var names []string
	for _, f := range set {
		if !slices.ContainsFunc(set, func(h int) bool { return res.nested[h][f] }) {
			names = append(names, res.facets[f])
		}
	}
	name := strings.Join(names, " × ")
	for _, f := range set {
		if slices.ContainsFunc(set, func(h int) bool { return res.nested[h][f] }) {
			name += " in " + res.facets[f]
		}
	}
	return name
}

// byANOVA uses the mean squares of a complete crossed design: E(MS of T) is the
// sum over U ⊇ T of σ²_U times the sizes of the facets outside U.
func (res *GResult) byANOVA(g GStudy, counts []int) error {
	res.Method = "analysis of variance"
	sets := res.sources()
	ms, df := make([]float64, len(sets)), make([]float64, len(sets))
	ss := g.sumsOfSquares(sets, counts)
	for t, set := range sets {
		df[t] = 1
		for _, f := range set {
			df[t] *= float64(counts[f] - 1)
		}
		ms[t] = ss[t] / df[t]
	}
	// Inverting the expectations: σ²_T = Σ_{U ⊇ T} (−1)^{|U|−|T|} MS_U / sizes outside T.
	coef := mat.NewDense(len(sets), len(sets), nil)
	for t, set := range sets {
		outside := 1.0
		for f, n := range counts {
			if !slices.Contains(set, f) {
				outside *= float64(n)
			}
		}
		for u, other := range sets {
			if containsAll(other, set) {
				coef.Set(t, u, math.Pow(-1, float64(len(other)-len(set)))/outside)
			}
		}
	}
	res.cov = mat.NewSymDense(len(sets), nil)
	for t, set := range sets {
		c := Component{Name: res.nameOf(set, t == len(sets)-1), contains: set, Method: res.Method + ", Satterthwaite limits"}
		for u := range sets {
			c.Untruncated += coef.At(t, u) * ms[u]
		}
		for s := range sets {
			for u := range sets {
				res.cov.SetSym(t, s, res.cov.At(t, s)+coef.At(t, u)*coef.At(s, u)*2*ms[u]*ms[u]/df[u])
			}
		}
		c.Estimate, c.SE = math.Max(0, c.Untruncated), math.Sqrt(res.cov.At(t, t))
		if c.Untruncated < 0 {
			res.Warnings = append(res.Warnings, fmt.Sprintf("the component %s is estimated as %.4g, below 0; it is set to 0", c.Name, c.Untruncated))
		}
		res.Components = append(res.Components, c)
	}
	return nil
}

func containsAll(set, part []int) bool {
	for _, f := range part {
		if !slices.Contains(set, f) {
			return false
		}
	}
	return true
}

// sumsOfSquares of a complete crossed design, by inclusion and exclusion of the
// marginal means.
func (g GStudy) sumsOfSquares(sets [][]int, counts []int) []float64 {
	mean := 0.0
	for _, v := range g.Scores {
		mean += v / float64(len(g.Scores))
	}
	raw := make([]float64, len(sets))
	for t, set := range sets {
		cells := 1
		for _, f := range set {
			cells *= counts[f]
		}
		sums, each := make([]float64, cells), float64(len(g.Scores)/cells)
		for i, v := range g.Scores {
			at := 0
			for _, f := range set {
				at = at*counts[f] + g.Levels[i][f]
			}
			sums[at] += (v - mean) / each
		}
		for _, s := range sums {
			raw[t] += each * s * s
		}
	}
	total := 0.0
	for _, v := range g.Scores {
		total += (v - mean) * (v - mean)
	}
	out := slices.Clone(raw)
	for t, set := range sets { // smaller sets come first
		for u, other := range sets[:t] {
			if len(other) < len(set) && containsAll(set, other) {
				out[t] -= out[u]
			}
		}
		if out[t] < rounding*total {
			out[t] = 0
		}
	}
	return out
}

// rounding is the share of all variation below which a part of it is no more than rounding.
const rounding = 1e-13

// byREML fits every source that can be told from the residual.
func (res *GResult) byREML(g GStudy) error {
	res.Method = "restricted maximum likelihood"
	sets := res.sources()
	last := len(sets) - 1
	var sources []source
	var kept [][]int
	for t, set := range sets {
		level, n := g.combine(set)
		if t < last && n == len(g.Scores) {
			res.Warnings = append(res.Warnings, fmt.Sprintf("the component %s cannot be told from the residual and is part of it", res.nameOf(set, false)))
			res.untold = res.untold || len(set) == 1 && set[0] == 0
			continue
		}
		if t == last && n == len(g.Scores) {
			continue // one score a cell: the residual
		}
		sources, kept = append(sources, newSource(res.nameOf(set, false), level)), append(kept, set)
	}
	if len(sources) == 0 {
		return errors.New("no component can be told from the residual: there is one score only for every combination")
	}
	v, err := newMixed(g.Scores, sources).fit()
	if err != nil {
		return err
	}
	if !v.converged {
		res.Warnings = append(res.Warnings, "the variance components did not settle; treat them with caution")
	}
	res.cov = v.cov
	for t, set := range append(kept, sets[last]) {
		name := "residual"
		if t < len(sources) {
			name = sources[t].name
		}
		c := Component{Name: name, contains: set, Estimate: v.estimate[t], Untruncated: v.estimate[t], SE: math.Sqrt(submatrix(v.cov, t, t)), Method: res.Method + ", Satterthwaite limits"}
		if c.Estimate == 0 {
			res.Warnings = append(res.Warnings, fmt.Sprintf("the component %s is at its bound, 0", name))
		}
		res.Components = append(res.Components, c)
	}
	return nil
}

// combine numbers the cells of a set of facets.
func (g GStudy) combine(set []int) (level []int, n int) {
	at := map[string]int{}
	level = make([]int, len(g.Levels))
	for i, l := range g.Levels {
		key := ""
		for _, f := range set {
			key += fmt.Sprint(l[f], " ")
		}
		if _, seen := at[key]; !seen {
			at[key] = len(at)
		}
		level[i] = at[key]
	}
	return level, len(at)
}
