package survival

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"tyro/analysis"
)

// Ties says how events at the same time enter the partial likelihood.
type Ties string

// The treatments of ties.
const (
	Efron   Ties = "efron"   // close to exact, the default
	Breslow Ties = "breslow" // pulls effects towards 0 where ties are many
	Exact   Ties = "exact"   // time is discrete: conditional on which of those at risk had the event
)

// CoxOptions choose the form of a Cox regression; the zero value is Efron's
// treatment of ties, no strata, 95 %.
type CoxOptions struct {
	Ties   Ties
	Strata []int   // stratum of each observation; nil for one
	Level  float64 // 0 means 0.95
}

// A Regression is a fitted model of hazards. Tests compare it with the model
// without covariates.
type Regression struct {
	N, Events                     int
	Coefficients                  []Coefficient
	LogLikelihood, NullLikelihood float64
	LikelihoodRatio, Score, Wald  Test
	Iterations                    int
	Warnings                      []analysis.Warning
}

// Cox fits proportional hazards by partial likelihood: x[i] are the covariates
// of obs[i]. Cox (1972), Journal of the Royal Statistical Society B 34,
// 187-220; Efron (1977), Journal of the American Statistical Association 72,
// 557-565; the exact form by the recursion of Gail, Lubin and Rubinstein (1981),
// Biometrika 68, 703-707.
func Cox(obs []Observation, x [][]float64, o CoxOptions) (Regression, error) {
	var err error
	if o.Level, err = analysis.Level(o.Level); err != nil {
		return Regression{}, err
	}
	if err := checkTimes(obs); err != nil {
		return Regression{}, err
	}
	if o.Ties == "" {
		o.Ties = Efron
	}
	if !slices.Contains([]Ties{Efron, Breslow, Exact}, o.Ties) {
		return Regression{}, fmt.Errorf("ties %q: expected efron, breslow or exact", o.Ties)
	}
	d, err := newDesign(x, len(obs))
	if err != nil {
		return Regression{}, err
	}
	if d.columns == 0 {
		return Regression{}, errors.New("no covariates")
	}
	if o.Strata != nil && len(o.Strata) != len(obs) {
		return Regression{}, fmt.Errorf("%d strata for %d observations", len(o.Strata), len(obs))
	}
	p := newPartial(obs, d, o)
	r := Regression{N: len(obs), Events: p.events}
	if p.events == 0 {
		return r, errors.New("nobody had the event")
	}
	null := make([]float64, d.columns)
	var gradient []float64
	var information *mat.SymDense
	r.NullLikelihood, gradient, information = p.at(null)
	r.Score = scoreTest(gradient, information)
	m, err := maximise(p.at, null)
	if err != nil {
		return r, err
	}
	r.finish(m, 0, d, o.Level)
	return r, nil
}

// finish fills what follows from a maximum whose covariate effects start at
// position from.
func (r *Regression) finish(m maximum, from int, d design, level float64) {
	r.LogLikelihood, r.Iterations = m.logLik, m.iterations
	r.Coefficients, r.Warnings = coefficients(m, from, d, level)
	r.LikelihoodRatio = chiSquareTest(2*(r.LogLikelihood-r.NullLikelihood), d.columns)
	r.Wald = Test{ChiSquare: math.NaN(), DF: d.columns, P: math.NaN()}
	if len(r.Warnings) > 0 || d.columns == 0 {
		return
	}
	v := make([][]float64, d.columns)
	beta := m.beta[from : from+d.columns]
	for i := range v {
		v[i] = make([]float64, d.columns)
		for j := range v[i] {
			v[i][j] = m.covariance.At(from+i, from+j)
		}
	}
	r.Wald = chiSquareTest(quadratic(beta, v))
}

// A partial is a partial likelihood: the order of leaving, stratum by stratum.
type partial struct {
	rows    [][]float64
	columns int
	ties    Ties
	strata  [][]moment // each from the last time to the first
	events  int
}

// A moment is one distinct time: who leaves then, with and without the event.
type moment struct{ events, censored []int }

func newPartial(obs []Observation, d design, o CoxOptions) *partial {
	p := &partial{rows: d.rows, columns: d.columns, ties: o.Ties}
	members := map[int][]int{}
	var order []int
	for i := range obs {
		s := 0
		if o.Strata != nil {
			s = o.Strata[i]
		}
		if members[s] == nil {
			order = append(order, s)
		}
		members[s] = append(members[s], i)
	}
	for _, s := range order {
		idx := members[s]
		slices.SortStableFunc(idx, func(a, b int) int {
			switch {
			case obs[a].Time > obs[b].Time:
				return -1
			case obs[a].Time < obs[b].Time:
				return 1
			}
			return 0
		})
		var moments []moment
		for i := 0; i < len(idx); {
			var m moment
			for t := obs[idx[i]].Time; i < len(idx) && obs[idx[i]].Time == t; i++ {
				if obs[idx[i]].Event {
					m.events = append(m.events, idx[i])
				} else {
					m.censored = append(m.censored, idx[i])
				}
			}
			p.events += len(m.events)
			moments = append(moments, m)
		}
		p.strata = append(p.strata, moments)
	}
	return p
}

// A total is Σθ, Σθx and Σθxx' over some people, θ = exp(x'β).
type total struct {
	s0 float64
	s1 []float64
	s2 [][]float64
}

func newTotal(k int) total {
	t := total{s1: make([]float64, k), s2: make([][]float64, k)}
	for i := range t.s2 {
		t.s2[i] = make([]float64, k)
	}
	return t
}

func (t *total) add(θ float64, x []float64) {
	t.s0 += θ
	for i := range x {
		t.s1[i] += θ * x[i]
		for j := range i + 1 {
			t.s2[i][j] += θ * x[i] * x[j]
		}
	}
}

// at is the log partial likelihood at beta, walking from the last time to the
// first so that those at risk only grow.
func (p *partial) at(beta []float64) (float64, []float64, *mat.SymDense) {
	k := p.columns
	logLik, gradient, information := 0.0, make([]float64, k), mat.NewSymDense(k, nil)
	subtract := func(weight float64, logTerm float64, mean func(i int) float64, second func(i, j int) float64) {
		logLik -= weight * logTerm
		for i := range k {
			gradient[i] -= weight * mean(i)
			for j := range i + 1 {
				information.SetSym(i, j, information.At(i, j)+weight*(second(i, j)-mean(i)*mean(j)))
			}
		}
	}
	for _, moments := range p.strata {
		risk := newTotal(k)
		var riskSet []int
		for _, m := range moments {
			dead := newTotal(k)
			for _, who := range [][]int{m.events, m.censored} {
				for _, i := range who {
					risk.add(math.Exp(dot(beta, p.rows[i])), p.rows[i])
					riskSet = append(riskSet, i)
				}
			}
			for _, i := range m.events {
				dead.add(math.Exp(dot(beta, p.rows[i])), p.rows[i])
				logLik += dot(beta, p.rows[i])
				for j := range k {
					gradient[j] += p.rows[i][j]
				}
			}
			d := len(m.events)
			switch {
			case d == 0:
			case p.ties == Exact && d > 1:
				e := p.subsets(beta, riskSet, d)
				subtract(1, e.log, func(i int) float64 { return e.mean[i] }, func(i, j int) float64 { return e.second[i][j] })
			default:
				for l := range d {
					f := 0.0
					if p.ties == Efron {
						f = float64(l) / float64(d)
					}
					s0 := risk.s0 - f*dead.s0
					subtract(1, math.Log(s0),
						func(i int) float64 { return (risk.s1[i] - f*dead.s1[i]) / s0 },
						func(i, j int) float64 { return (risk.s2[i][j] - f*dead.s2[i][j]) / s0 })
				}
			}
		}
	}
	return logLik, gradient, information
}

// An allSubsets is the sum of Πθ over all subsets of d of those at risk: its
// logarithm, and the mean and second moment of the subset's Σx under it.
type allSubsets struct {
	log    float64
	mean   []float64
	second [][]float64
}

// subsets adds one person at a time. θ is scaled by d/Σθ, which keeps the sums
// of any number of subsets within range.
func (p *partial) subsets(beta []float64, risk []int, d int) allSubsets {
	k := p.columns
	θ := make([]float64, len(risk))
	sum := 0.0
	for a, i := range risk {
		θ[a] = math.Exp(dot(beta, p.rows[i]))
		sum += θ[a]
	}
	scale := float64(d) / sum
	by := make([]total, d+1) // by subset size
	for c := range by {
		by[c] = newTotal(k)
	}
	by[0].s0 = 1
	for a, i := range risk {
		x, w := p.rows[i], θ[a]*scale
		for c := min(a+1, d); c >= 1; c-- {
			to, from := &by[c], &by[c-1]
			for u := range k {
				for v := range u + 1 {
					to.s2[u][v] += w * (from.s2[u][v] + x[u]*from.s1[v] + x[v]*from.s1[u] + x[u]*x[v]*from.s0)
				}
			}
			for u := range k {
				to.s1[u] += w * (from.s1[u] + x[u]*from.s0)
			}
			to.s0 += w * from.s0
		}
	}
	all := by[d]
	out := allSubsets{log: math.Log(all.s0) - float64(d)*math.Log(scale), mean: make([]float64, k), second: all.s2}
	for u := range k {
		out.mean[u] = all.s1[u] / all.s0
		for v := range u + 1 {
			out.second[u][v] = all.s2[u][v] / all.s0
		}
	}
	return out
}
