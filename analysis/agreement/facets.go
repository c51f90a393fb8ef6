package agreement

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize"
	"gonum.org/v1/gonum/stat/distuv"

	"tyro/analysis"
	"tyro/analysis/internal/numeric"
)

// RatingScores are ordinal scores in long form; Item nil means one item.
type RatingScores struct {
	Subject, Rater, Item []int
	Score                []float64
}

// A Measure is one level's place on the logit scale.
type Measure struct {
	Estimate, SE, Lower, Upper float64
	Ratings                    int
	Infit, Outfit              float64 // mean squares, 1 where the ratings vary as the model says; NaN for abilities
	Expected                   float64 // score given to an average subject on an average item, raters only
}

// A RatingModel is the many-facet model for ordinal scores: the log odds of a
// category against the one below are ability − severity − difficulty −
// threshold. Severities and difficulties sum to 0; positive is stricter, or
// harder. Linacre (1989), Many-Facet Rasch Measurement, with the rating-scale
// thresholds of Andrich (1978), Psychometrika 43, 561-573.
//
// Abilities are normal with mean 0; all else is estimated by marginal maximum
// likelihood (Bock and Aitkin, 1981, Psychometrika 46, 443-459), so that
// trainees with only highest or lowest scores need no special care. Abilities
// themselves are posterior means.
type RatingModel struct {
	Categories    []float64
	Raters, Items []Measure // Items nil with one item
	Thresholds    []Measure // between neighbouring categories
	Abilities     []Measure
	AbilitySD     float64
	AbilitySDSE   float64
	LogLikelihood float64
	Converged     bool
	Warnings      []string
	Level         float64
}

// facetFit evaluates the marginal likelihood.
type facetFit struct {
	bySubject               [][]response
	raters, items, cats     int
	nodes, logWeights       []float64
	met                     []int // cells of raters and items with a response
	subjects                int
	perRater, perItem, perK []int
}

type response struct{ rater, item, score int }

// The ability distribution is integrated by the rectangle rule, which for
// smooth integrands that vanish at both ends converges exponentially and, unlike
// Gauss and Hermite's with as many points, stays exact when many ratings of a
// subject make its posterior narrow.
const (
	quadraturePoints = 121
	quadratureReach  = 6.5 // standard deviations
)

// FitRatingModel fits the model.
func FitRatingModel(s RatingScores, level float64) (RatingModel, error) {
	level, err := analysis.Level(level)
	if err != nil {
		return RatingModel{}, err
	}
	if err := s.check(); err != nil {
		return RatingModel{}, err
	}
	f, cats, err := newFacetFit(s)
	if err != nil {
		return RatingModel{}, err
	}
	m := RatingModel{Categories: cats, Level: level}
	start := f.start()
	var last, slope []float64 // the search asks for value and gradient in turn
	value := math.NaN()
	at := func(x []float64) {
		if !slices.Equal(x, last) {
			last = slices.Clone(x)
			value, slope = f.evaluate(x)
		}
	}
	problem := optimize.Problem{
		Func: func(x []float64) float64 { at(x); return value },
		Grad: func(grad, x []float64) { at(x); copy(grad, slope) },
	}
	res, err := optimize.Minimize(problem, start, &optimize.Settings{GradientThreshold: 1e-6, MajorIterations: 500}, &optimize.BFGS{})
	if res == nil {
		return m, fmt.Errorf("rating model: %w", err)
	}
	_, g := f.evaluate(res.X)
	m.Converged = numeric.Size(g) < 1e-3
	if !m.Converged {
		m.Warnings = append(m.Warnings, "the rating model did not settle: some rater, item or category has too few or only extreme scores")
	}
	m.LogLikelihood = -res.F
	f.fill(&m, res.X)
	return m, nil
}

// check reports columns of different lengths, positions below 0 and scores that are
// no numbers.
func (s RatingScores) check() error {
	n := len(s.Score)
	if len(s.Subject) != n || len(s.Rater) != n || s.Item != nil && len(s.Item) != n {
		return fmt.Errorf("%w: %d scores with %d subjects, %d raters and %d items", ErrRatings, n, len(s.Subject), len(s.Rater), len(s.Item))
	}
	for i, v := range s.Score {
		if math.IsNaN(v) || math.IsInf(v, 0) || s.Subject[i] < 0 || s.Rater[i] < 0 || s.Item != nil && s.Item[i] < 0 {
			return fmt.Errorf("%w: score %d is %v of subject %d by rater %d; expected a number, and positions from 0 on", ErrRatings, i+1, v, s.Subject[i], s.Rater[i])
		}
	}
	return nil
}

func newFacetFit(s RatingScores) (*facetFit, []float64, error) {
	f := &facetFit{}
	cats := slices.Compact(slices.Sorted(slices.Values(s.Score)))
	if len(cats) < 2 {
		return nil, nil, errors.New(notDefined)
	}
	if len(cats) > 20 {
		return nil, nil, fmt.Errorf("the rating model is for ordinal scores of few categories; there are %d", len(cats))
	}
	f.cats, f.items = len(cats), 1
	for i, v := range s.Score {
		r := response{rater: s.Rater[i], score: slices.Index(cats, v)}
		if s.Item != nil {
			r.item = s.Item[i]
		}
		for s.Subject[i] >= len(f.bySubject) {
			f.bySubject = append(f.bySubject, nil)
		}
		f.bySubject[s.Subject[i]] = append(f.bySubject[s.Subject[i]], r)
		f.raters, f.items = max(f.raters, r.rater+1), max(f.items, r.item+1)
	}
	f.subjects = len(f.bySubject)
	if f.raters < 2 || f.subjects < 3 {
		return nil, nil, errors.New("the rating model needs at least 2 raters and 3 subjects")
	}
	f.perRater, f.perItem, f.perK = make([]int, f.raters), make([]int, f.items), make([]int, f.cats)
	for _, rs := range f.bySubject {
		for _, r := range rs {
			f.perRater[r.rater]++
			f.perItem[r.item]++
			f.perK[r.score]++
		}
	}
	for q := range quadraturePoints {
		z := quadratureReach * (2*float64(q)/(quadraturePoints-1) - 1)
		f.nodes = append(f.nodes, z)
		f.logWeights = append(f.logWeights, distuv.UnitNormal.LogProb(z)+math.Log(2*quadratureReach/(quadraturePoints-1)))
	}
	for _, rs := range f.bySubject {
		for _, r := range rs {
			if !slices.Contains(f.met, f.cell(r)) {
				f.met = append(f.met, f.cell(r))
			}
		}
	}
	return f, cats, nil
}

// The parameters in order: severities but the last, difficulties but the last,
// thresholds, log of the abilities' SD.
func (f *facetFit) size() int { return f.raters - 1 + f.items - 1 + f.cats - 1 + 1 }

func (f *facetFit) start() []float64 {
	x := make([]float64, f.size())
	at := f.raters - 1 + f.items - 1
	below := 0.5
	total := 0.5 * float64(f.cats)
	for _, n := range f.perK {
		total += float64(n)
	}
	for k := range f.cats - 1 {
		below += float64(f.perK[k])
		x[at+k] = math.Log(float64(f.perK[k])+0.5) - math.Log(float64(f.perK[k+1])+0.5)
	}
	return x
}

// spread turns free parameters into all severities, difficulties, thresholds.
func (f *facetFit) spread(x []float64) (severity, difficulty, threshold []float64, sd float64) {
	last := func(free []float64) []float64 {
		out, sum := slices.Clone(free), 0.0
		for _, v := range free {
			sum += v
		}
		return append(out, -sum)
	}
	a, b := f.raters-1, f.raters-1+f.items-1
	return last(x[:a]), last(x[a:b]), x[b : b+f.cats-1], math.Exp(x[len(x)-1])
}

// chances of the categories at one place η = ability − severity − difficulty.
func chances(p []float64, η float64, threshold []float64) {
	p[0] = 0
	top := 0.0
	for k, τ := range threshold {
		p[k+1] = p[k] + η - τ
		top = math.Max(top, p[k+1])
	}
	sum := 0.0
	for k := range p {
		p[k] = math.Exp(p[k] - top)
		sum += p[k]
	}
	for k := range p {
		p[k] /= sum
	}
}

// A grid holds, for every rater and item that met, the chances of each category
// at every node, their logarithms and the mean category.
type grid struct {
	p, log [][][]float64 // [rater·items + item][node][category]
	mean   [][]float64
}

func (f *facetFit) newGrid(severity, difficulty, threshold []float64, sd float64) grid {
	g := grid{make([][][]float64, f.raters*f.items), make([][][]float64, f.raters*f.items), make([][]float64, f.raters*f.items)}
	for _, c := range f.met {
		for _, node := range f.nodes {
			p, log, mean := make([]float64, f.cats), make([]float64, f.cats), 0.0
			chances(p, sd*node-severity[c/f.items]-difficulty[c%f.items], threshold)
			for k, v := range p {
				log[k] = math.Log(v)
				mean += float64(k) * v
			}
			g.p[c], g.log[c], g.mean[c] = append(g.p[c], p), append(g.log[c], log), append(g.mean[c], mean)
		}
	}
	return g
}

// cell is where a response's chances stand in the grid.
func (f *facetFit) cell(r response) int { return r.rater*f.items + r.item }

// evaluate is minus the marginal log-likelihood and its gradient. The gradient
// needs, for every cell of the grid and node, only the posterior weight of the
// ratings and of their scores.
func (f *facetFit) evaluate(x []float64) (float64, []float64) {
	g := f.newGrid(f.spread(x))
	sd := math.Exp(x[len(x)-1])
	logLik := 0.0
	post := make([]float64, len(f.nodes))
	weight, score := f.blank(), f.blank() // [cell][node]
	for _, rs := range f.bySubject {
		if len(rs) == 0 {
			continue
		}
		logLik += f.posterior(post, rs, g)
		for _, r := range rs {
			c, k := f.cell(r), float64(r.score)
			n, s := weight[c], score[c]
			for q, w := range post {
				n[q] += w
				s[q] += w * k
			}
		}
	}
	grad := make([]float64, len(x))
	for _, c := range f.met {
		for q, node := range f.nodes {
			f.addSlope(grad, c, weight[c][q], score[c][q]-weight[c][q]*g.mean[c][q], sd*node, g.p[c][q])
		}
	}
	at := f.raters - 1 + f.items - 1
	above := 0
	for k := f.cats - 2; k >= 0; k-- { // ratings above each threshold, as observed
		above += f.perK[k+1]
		grad[at+k] -= float64(above)
	}
	for i := range grad {
		grad[i] = -grad[i]
	}
	return -logLik, grad
}

func (f *facetFit) blank() [][]float64 {
	out := make([][]float64, f.raters*f.items)
	for _, c := range f.met {
		out[c] = make([]float64, len(f.nodes))
	}
	return out
}

// posterior fills a subject's weights over the nodes and returns the log of the
// marginal likelihood.
func (f *facetFit) posterior(post []float64, rs []response, g grid) float64 {
	top := math.Inf(-1)
	for q := range f.nodes {
		post[q] = f.logWeights[q]
	}
	for _, r := range rs {
		log := g.log[f.cell(r)]
		for q := range post {
			post[q] += log[q][r.score]
		}
	}
	for _, v := range post {
		top = math.Max(top, v)
	}
	sum := 0.0
	for q := range post {
		post[q] = math.Exp(post[q] - top)
		sum += post[q]
	}
	for q := range post {
		post[q] /= sum
	}
	return top + math.Log(sum)
}

// addSlope adds a cell's part of the score at one node: w is the weight of its
// ratings there, e that of score minus expectation.
func (f *facetFit) addSlope(grad []float64, cell int, w, e, θ float64, p []float64) {
	facet := func(at, from, n int) { // the last level is minus the sum of the others
		if at < n-1 {
			grad[from+at] -= e
			return
		}
		for i := range n - 1 {
			grad[from+i] += e
		}
	}
	facet(cell/f.items, 0, f.raters)
	facet(cell%f.items, f.raters-1, f.items)
	at := f.raters - 1 + f.items - 1
	above := 1.0
	for k := range f.cats - 1 {
		above -= p[k]
		grad[at+k] += w * above
	}
	grad[len(grad)-1] += e * θ // d/d log sd
}

// fill computes standard errors from the observed information, abilities and
// fit.
func (f *facetFit) fill(m *RatingModel, x []float64) {
	cov := f.covariance(x)
	if cov == nil {
		m.Warnings = append(m.Warnings, "standard errors are not available: the likelihood is flat in some direction")
	}
	severity, difficulty, threshold, sd := f.spread(x)
	z := distuv.UnitNormal.Quantile((1 + m.Level) / 2)
	measure := func(v, variance float64, n int) Measure {
		se := math.Sqrt(variance)
		return Measure{Estimate: v, SE: se, Lower: v - z*se, Upper: v + z*se, Ratings: n, Infit: math.NaN(), Outfit: math.NaN(), Expected: math.NaN()}
	}
	facet := func(values []float64, from int, counts []int) []Measure {
		var out []Measure
		for i, v := range values {
			out = append(out, measure(v, facetVariance(cov, from, len(values), i), counts[i]))
			if math.Abs(v) > 8 {
				m.Warnings = append(m.Warnings, "a rater or item has only extreme scores, so its place is not known")
			}
		}
		return out
	}
	m.Raters = facet(severity, 0, f.perRater)
	p := make([]float64, f.cats)
	for j := range m.Raters {
		chances(p, -severity[j], threshold)
		m.Raters[j].Expected = 0
		for k, v := range p {
			m.Raters[j].Expected += v * m.Categories[k]
		}
	}
	if f.items > 1 {
		m.Items = facet(difficulty, f.raters-1, f.perItem)
	}
	at := f.raters - 1 + f.items - 1
	for k, τ := range threshold {
		m.Thresholds = append(m.Thresholds, measure(τ, submatrix(cov, at+k, at+k), f.perK[k]+f.perK[k+1]))
		if k > 0 && τ < threshold[k-1] {
			m.Warnings = append(m.Warnings, fmt.Sprintf("category %g is never the most likely one: its thresholds are out of order", m.Categories[k]))
		}
	}
	m.AbilitySD, m.AbilitySDSE = sd, sd*math.Sqrt(submatrix(cov, len(x)-1, len(x)-1))
	f.abilitiesAndFit(m, severity, difficulty, threshold, sd)
}

// facetVariance is that of one level, the last being minus the sum.
func facetVariance(cov *mat.SymDense, from, n, i int) float64 {
	if cov == nil {
		return math.NaN()
	}
	if i < n-1 {
		return cov.At(from+i, from+i)
	}
	v := 0.0
	for a := range n - 1 {
		for b := range n - 1 {
			v += cov.At(from+a, from+b)
		}
	}
	return v
}

// covariance inverts the central differences of the gradient.
func (f *facetFit) covariance(x []float64) *mat.SymDense {
	steps := make([]float64, len(x))
	for i, v := range x {
		steps[i] = 1e-4 * (1 + math.Abs(v))
	}
	h, _ := numeric.Hessian(func(x []float64) ([]float64, bool) { _, g := f.evaluate(x); return g, true }, x, steps)
	inverse, ok := numeric.Inverse(h)
	if !ok {
		return nil
	}
	return inverse
}

// abilitiesAndFit fills posterior means and, for raters and items, the mean
// squares of residuals averaged over each subject's posterior, whose
// expectation under the model is 1: outfit weighs every rating the same, infit
// by its information. Wright and Masters (1982), Rating Scale Analysis, chapter 5.
func (f *facetFit) abilitiesAndFit(m *RatingModel, severity, difficulty, threshold []float64, sd float64) {
	post, g := make([]float64, len(f.nodes)), f.newGrid(severity, difficulty, threshold, sd)
	z := distuv.UnitNormal.Quantile((1 + m.Level) / 2)
	type sums struct{ outfit, square, variance float64 }
	raters, items := make([]sums, f.raters), make([]sums, f.items)
	for _, rs := range f.bySubject {
		a := Measure{Estimate: math.NaN(), SE: math.NaN(), Lower: math.NaN(), Upper: math.NaN(), Ratings: len(rs), Infit: math.NaN(), Outfit: math.NaN(), Expected: math.NaN()}
		if len(rs) == 0 {
			m.Abilities = append(m.Abilities, a)
			continue
		}
		f.posterior(post, rs, g)
		var mean, sq float64
		for q, w := range post {
			θ := sd * f.nodes[q]
			mean += w * θ
			sq += w * θ * θ
			for _, r := range rs {
				at := f.cell(r)
				e, v := g.mean[at][q], 0.0
				for k, c := range g.p[at][q] {
					v += (float64(k) - e) * (float64(k) - e) * c
				}
				d := float64(r.score) - e
				for _, s := range []*sums{&raters[r.rater], &items[r.item]} {
					s.outfit += w * d * d / v
					s.square += w * d * d
					s.variance += w * v
				}
			}
		}
		a.Estimate, a.SE = mean, math.Sqrt(math.Max(0, sq-mean*mean))
		a.Lower, a.Upper = mean-z*a.SE, mean+z*a.SE
		m.Abilities = append(m.Abilities, a)
	}
	for j := range m.Raters {
		m.Raters[j].Infit, m.Raters[j].Outfit = raters[j].square/raters[j].variance, raters[j].outfit/float64(f.perRater[j])
	}
	for i := range m.Items {
		m.Items[i].Infit, m.Items[i].Outfit = items[i].square/items[i].variance, items[i].outfit/float64(f.perItem[i])
	}
}
