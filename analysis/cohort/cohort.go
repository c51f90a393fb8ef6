package cohort

import (
	"context"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"

	"tyro/analysis"
	"tyro/models"
)

// An Effect is a fixed effect: a parameter's common value, or what an arm or a
// covariate adds to it, on the parameter's scale.
type Effect struct {
	Parameter string
	Arm       string // the reference arm for the common value of a parameter with arm effects
	Covariate string
	Scale     Scale
	Estimate  float64
	SE        float64
	Lower     float64
	Upper     float64
	Held      bool
	// NotIdentified is true where the attempts do not show the value: Estimate and
	// SE are NaN, and of Lower and Upper one is left as a bound, or none.
	NotIdentified bool

	raw float64 // the value in the fit, withheld or not
}

// A Deviation says how much trainees differ in a parameter: the standard
// deviation of their values on the parameter's scale.
type Deviation struct {
	Parameter    string
	Scale        Scale
	SD           float64
	Lower, Upper float64
	// None is true where the data show no difference beyond noise; SD is 0.
	None bool
}

// A Correlation is one between the deviations in two parameters.
type Correlation struct {
	A, B  string
	Value float64
}

// A Member is one trainee's place in the cohort.
type Member struct {
	ID, Arm   string
	N         int
	NCensored int
	Curve     models.Curve // at the most likely value of the trainee's deviations
	Spread    float64      // residual standard deviation of the trainee
	// Parameters holds the trainee's value of every parameter of the curve
	// (start in the place of the gain where it was asked for), natural scale,
	// in the order of Fit.Parameters.
	Parameters []float64
	// NotIdentified by parameter: true where neither cohort nor trainee show the
	// value, which is then NaN.
	NotIdentified []bool
	// Shrinkage by random parameter: the share of the population's variance
	// that the trainee's own attempts leave; 1 means they say nothing. It is of
	// the information that such attempts hold on average (Gauss and Newton) at
	// the trainee's curve, so that it lies between 0 and 1: the curvature of the
	// very responses can be that of a posterior wider than the population.
	Shrinkage []float64
}

// A Fit is a fitted cohort: plain numbers.
type Fit struct {
	Family, Noise string // by name; Cohort.Model has the values
	Method        Method
	Nodes         int  // of quadrature; 0 for Laplace
	REML          bool // the log-likelihood is the restricted one
	NTrainees     int
	NAttempts     int
	NCensored     int
	Arms          []string
	Parameters    []string // of the curve, in the order of Member.Parameters
	Fixed         []Effect
	Random        []Deviation
	Correlations  []Correlation
	Residual      Effect   // standard deviation about a trainee's curve, natural scale; the median trainee's where they differ in it
	Carryover     []Effect // of neighbouring residuals, natural scale: the correlation, and the share carried over
	LogLik        float64
	LogLikLog     float64 // of the log responses; equals LogLik unless noise is added to logarithms
	NParameters   int
	AIC, BIC      float64 // BIC counts trainees
	Rung          string
	Ladder        []Step
	Status        Status
	Level         float64
	Interval      string // how intervals were made
	Evaluations   int
	Members       []Member
	Warnings      []analysis.Warning
}

// A Model is the family of curves and the noise of a fit, as values with all that
// belongs to them, such as the chances to guess and to lapse.
type Model struct {
	Family models.Family
	Noise  models.Noise
}

// A Source says where a fit came from, for those who read it from a file later.
// It is the caller's to fill; blank is unknown.
type Source struct {
	Seed       string `json:"seed"`
	DataSHA256 string `json:"data_sha256"`
}

// A Cohort is a fitted cohort that can be asked for projections.
type Cohort struct {
	Fit
	Model  Model
	Source Source

	m        *model
	trainees []Trainee
	theta    []float64
	cov      *mat.SymDense // of theta; zero rows where a parameter is not estimated
	modes    []mode
	guess    guess
	reach    bounds // that draws of theta stay within
	seen     seen
	read     bool // from a file: the trainees, if any, are not those it was made from
}

func (f *Fit) warn(code, text string) {
	f.Warnings = append(f.Warnings, analysis.Warning{Code: code, Text: text})
}

// Run fits a cohort. Trainees without attempts are left out with a warning.
// The error wraps ErrCohort when the data or the spec cannot be fitted at all.
func Run(ctx context.Context, trainees []Trainee, spec Spec) (*Cohort, error) {
	return run(ctx, trainees, spec, nil)
}

// run does so with the arms that there are, of which the trainees may lack some; nil: theirs.
func run(ctx context.Context, trainees []Trainee, spec Spec, arms []string) (*Cohort, error) {
	c := &Cohort{}
	ts := slices.Clone(trainees)
	ts = slices.DeleteFunc(ts, func(t Trainee) bool { return len(t.Attempt) == 0 })
	if out := len(trainees) - len(ts); out > 0 {
		c.warn("no-attempts", fmt.Sprintf("%d trainees without usable attempts are left out", out))
	}
	if spec.Watch != nil {
		spec.Watch(Fitting, spec, ts)
	}
	if arms == nil {
		arms = armsOf(ts)
	}
	m, err := prepare(spec, ts, arms)
	if err != nil {
		return nil, err
	}
	climb := &climb{ctx: ctx, m: m, guess: m.begin(ts)}
	if spec.REML {
		if err := m.checkRestricted(climb.diagonalStart()); err != nil {
			return nil, err
		}
	}
	o, at, rung, err := climb.run()
	if err != nil {
		return nil, err
	}
	c.m, c.trainees, c.guess, c.Rung, c.Ladder = m, ts, climb.guess, rung, climb.steps
	if rung == RungTwoStage {
		if err := c.twoStage(ctx, ts, climb); err != nil {
			return nil, err
		}
	} else {
		c.theta, c.modes, c.Status = at.theta, o.modes, OK
		if len(climb.none) > 0 || rung == RungReduced {
			c.Status = Boundary
		}
		if spec.Method == Quadrature && len(m.random) > 0 {
			c.sharpen(o, &at, climb)
		}
		c.invert(at.hess, m.region(climb.guess).frozen(at.theta, at.grad))
		c.Evaluations = o.trials
		c.LogLikLog = -at.value
	}
	if err := ctx.Err(); err != nil { // what a search that was cut short left is no fit
		return nil, err
	}
	c.reach = m.reach(climb.guess, c.theta)
	c.report(ts, climb)
	return c, nil
}

// prepare checks the cohort as a whole and binds the spec to it.
func prepare(spec Spec, ts []Trainee, arms []string) (*model, error) {
	if spec.Method != "" && spec.Method != Laplace && spec.Method != Quadrature {
		return nil, refuse("method %q: known are laplace and quadrature", spec.Method)
	}
	if len(ts) < 2 {
		return nil, refuse("a cohort needs at least 2 trainees with attempts, and has %d", len(ts))
	}
	seen := map[string]bool{}
	exact, several := false, false
	for _, t := range ts {
		if seen[t.ID] {
			return nil, refuse("trainee %s is there twice", t.ID)
		}
		seen[t.ID] = true
		for j := range t.Attempt {
			exact = exact || t.Censored == nil || !t.Censored[j]
			several = several || t.Attempt[j] != t.Attempt[0]
		}
	}
	switch {
	case !exact:
		return nil, refuse("every response is right-censored: nothing was observed below the limit")
	case !several && spec.Family.HasGain():
		return nil, refuse("every trainee has a single attempt: a curve needs trainees with several")
	}
	m, err := newModel(spec, arms, ts)
	if err != nil {
		return nil, err
	}
	if spec.Method == Quadrature && len(m.random) > maxQuadrature {
		return nil, refuse("quadrature is offered for up to %d random effects, the model has %d; use laplace", maxQuadrature, len(m.random))
	}
	if m.dim() == 0 {
		return nil, refuse("every quantity of the model is held at a value, so that nothing is left to fit")
	}
	if m.flatResponses() {
		return nil, refuse("every response is the same number: there is no noise and no curve to estimate")
	}
	return m, m.checkDesign()
}

func (m *model) flatResponses() bool {
	first := m.records[0].z[0]
	for _, r := range m.records {
		for _, z := range r.z {
			if z != first {
				return false
			}
		}
	}
	return true
}

// checkDesign refuses effects that the trainees' attributes cannot tell apart.
func (m *model) checkDesign() error {
	n := len(m.records)
	for _, p := range m.parts {
		k := len(p.cols)
		if p.held || k == 1 {
			continue
		}
		if k >= n {
			return refuse("%d trainees for %d effects on %s", n, k, p.name)
		}
		x := mat.NewDense(n, k, nil)
		for i, r := range m.records {
			for j, c := range p.cols {
				x.Set(i, j, r.design[c])
			}
		}
		for j := range k { // unit columns, so that units do not matter
			col := x.ColView(j)
			if norm := mat.Norm(col, 2); norm > 0 {
				for i := range n {
					x.Set(i, j, x.At(i, j)/norm)
				}
			}
		}
		var svd mat.SVD
		if !svd.Factorize(x, mat.SVDNone) || svd.Values(nil)[k-1] < 1e-9 {
			var names []string
			for _, c := range p.cols[1:] {
				names = append(names, m.effectName(c))
			}
			return refuse("the effects on %s cannot be told apart (%s are collinear, or one does not vary)", p.name, strings.Join(names, ", "))
		}
	}
	return nil
}

func (m *model) effectName(col int) string {
	if col < len(m.arms) {
		return "arm " + m.arms[col]
	}
	return m.spec.Covariates[col-len(m.arms)].Name
}

// coarseNodes is the rule for the first steps of the quadrature search and for
// the information, whose error matters only in a standard error's third digit.
const coarseNodes = 5

// sharpen moves from the Laplace optimum to the one of adaptive quadrature: with
// a coarse rule first, then, from the information found there, with the full
// one.
func (c *Cohort) sharpen(o *objective, at *optimum, cl *climb) {
	n := c.m.spec.Nodes
	if n == 0 {
		n = 9
	}
	b := c.m.region(cl.guess)
	q := newObjective(o.ctx, c.m)
	copy(q.modes, o.modes)
	next := optimum{theta: slices.Clone(at.theta), hess: slices.Clone(at.hess)}
	q.nodes = newNodes(min(n, coarseNodes), len(c.m.random))
	settled := q.follow(&next, b)
	if settled {
		scale := make([]float64, len(next.theta))
		for j := range scale {
			scale[j] = 0.02 / math.Sqrt(math.Max(next.hess[j*len(scale)+j], 1e-12))
		}
		h := q.hessian(next.theta, scale)
		if s, _ := newtonStep(h, next.grad, b.frozen(next.theta, next.grad)); s != nil {
			next.hess = h
		}
		q.nodes = newNodes(n, len(c.m.random))
		information := slices.Clone(next.hess)
		settled = q.follow(&next, b)
		next.hess = information
	}
	o.trials += q.trials
	if !settled {
		c.Status = NotConverged
		c.warn("quadrature-not-converged", "the quadrature search did not settle; the Laplace estimates stand")
		return
	}
	c.Nodes, c.theta, c.modes = n, next.theta, q.modes
	*at = next
}

// follow takes quasi-Newton steps on the gradient alone: the objective of a
// rule and the mean of its gradient agree only to the error of the rule. It
// reports whether the gradient vanished.
func (o *objective) follow(at *optimum, b bounds) bool {
	at.grad = make([]float64, len(at.theta))
	at.value = o.at(at.theta, at.grad)
	for range 40 {
		step, gain := newtonStep(at.hess, at.grad, b.frozen(at.theta, at.grad))
		switch {
		case step == nil:
			return false
		case gain < 1e-8:
			return true
		}
		y, g := slices.Clone(at.theta), make([]float64, len(step))
		size := 1.0
		for j := range step {
			size = math.Min(size, b.reach[j]/math.Max(math.Abs(step[j]), 1e-300))
		}
		for j := range step {
			y[j] += size * step[j]
		}
		b.clip(y)
		v := o.at(y, g)
		if math.IsInf(v, 1) || math.IsNaN(v) || v > at.value+1 {
			return false
		}
		update(at.hess, at.theta, y, at.grad, g)
		at.theta, at.grad, at.value = y, g, v
	}
	return false
}

// invert makes the covariance of theta from the information.
func (c *Cohort) invert(h []float64, frozen []bool) {
	p := len(c.theta)
	c.cov = mat.NewSymDense(p, nil)
	var free []int
	for j := range p {
		if !frozen[j] {
			free = append(free, j)
		}
	}
	sym := mat.NewSymDense(max(1, len(free)), nil)
	for a, i := range free {
		for b := range a + 1 {
			sym.SetSym(a, b, h[i*p+free[b]])
		}
	}
	var chol mat.Cholesky
	var inv mat.SymDense
	if len(free) > 0 && chol.Factorize(sym) && chol.InverseTo(&inv) == nil {
		for a, i := range free {
			for b := range a + 1 {
				c.cov.SetSym(i, free[b], inv.At(a, b))
			}
		}
		return
	}
	for j := range p {
		c.cov.SetSym(j, j, math.NaN())
	}
}

func (c *Cohort) se(j int) float64 {
	v := c.cov.At(j, j)
	if !(v > 0) {
		return math.NaN()
	}
	return math.Sqrt(v)
}

// quantile is Student's with the trainees' degrees of freedom for a parameter
// in which they differ, with maximum likelihood widened by √(n/df) because it
// divides what trainees differ by through n, and the normal one otherwise.
func (c *Cohort) quantile(p *part) float64 {
	q := 1 - (1-c.Level)/2
	if p != nil && p.random {
		if df := float64(c.NTrainees - len(p.cols)); df >= 1 {
			widen := math.Sqrt(float64(c.NTrainees) / df)
			if c.REML {
				widen = 1
			}
			return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: df}.Quantile(q) * widen
		}
	}
	return distuv.UnitNormal.Quantile(q)
}

// report fills the plain numbers from theta.
func (c *Cohort) report(ts []Trainee, cl *climb) {
	m := c.m
	c.Model = Model{m.spec.Family, m.spec.Noise}
	c.Family, c.Noise = c.Model.Family.Name(), c.Model.Noise.Name()
	c.Method = m.spec.Method
	if c.Method == "" || c.Nodes == 0 {
		c.Method = Laplace
	}
	c.Level = m.spec.level()
	c.Arms, c.NTrainees, c.NAttempts = m.arms, len(ts), m.nObs
	c.REML = m.spec.REML
	widened := ", widened by √(trainees/df),"
	if c.REML {
		widened = ""
	}
	c.Interval = "Wald on the parameter's scale; Student's t with df = trainees less effects degrees of freedom" + widened + " where trainees differ in the parameter, normal otherwise; standard deviations on the log scale"
	jac := 0.0
	for _, r := range m.records {
		jac += r.jac
	}
	c.LogLik = c.LogLikLog + jac
	c.NParameters = m.dim() - len(m.pinned)
	c.AIC = -2*c.LogLik + 2*float64(c.NParameters)
	c.BIC = -2*c.LogLik + float64(c.NParameters)*math.Log(float64(len(ts)))
	c.fixed()
	c.randoms(cl)
	c.members(ts)
	c.withhold()
	c.remarks(cl)
}

func (c *Cohort) fixed() {
	m := c.m
	for i := range m.parts {
		p := &m.parts[i]
		if p.slot < slotSession {
			c.Parameters = append(c.Parameters, p.name)
		}
		if p.held && p.slot > slotSpread {
			v := m.spec.carryNatural(p.slot, p.value)
			c.Carryover = append(c.Carryover, Effect{Parameter: p.name, Scale: Identity, Estimate: v, Lower: v, Upper: v, Held: true})
			continue
		}
		if p.held {
			c.Fixed = append(c.Fixed, Effect{Parameter: p.name, Scale: p.scale, Estimate: p.value, SE: 0, Lower: p.value, Upper: p.value, Held: true, raw: p.value})
			continue
		}
		for k, col := range p.cols {
			e := Effect{Parameter: p.name, Scale: p.scale, Estimate: c.theta[p.at+k], SE: c.se(p.at + k), raw: c.theta[p.at+k]}
			e.Arm, e.Covariate = m.effectOf(p, col)
			t := c.quantile(p)
			e.Lower, e.Upper = e.Estimate-t*e.SE, e.Estimate+t*e.SE
			if p.slot > slotSpread {
				c.Carryover = append(c.Carryover, m.spec.carryEffect(p, e))
				continue
			}
			if p.name == Spread && col == 0 {
				sd := func(logScale float64) float64 { return models.ResidualSD(m.spec.Noise, math.Exp(logScale)) }
				c.Residual = Effect{Parameter: Spread, Scale: Identity, Estimate: sd(e.Estimate), SE: sd(e.Estimate) * e.SE, Lower: sd(e.Lower), Upper: sd(e.Upper)}
				if len(p.cols) == 1 && !p.random {
					continue
				}
			}
			c.Fixed = append(c.Fixed, e)
		}
	}
}

// randoms turns the Cholesky factor into standard deviations and correlations,
// with intervals by the delta method on the log scale.
func (c *Cohort) randoms(cl *climb) {
	m := c.m
	l := m.factor(c.theta)
	z := distuv.UnitNormal.Quantile(1 - (1-c.Level)/2)
	sds := make([]float64, len(m.random))
	for a, i := range m.random {
		variance := 0.0
		for b := range a + 1 {
			variance += l[a][b] * l[a][b]
		}
		sds[a] = math.Sqrt(variance)
		d := Deviation{Parameter: m.parts[i].name, Scale: m.parts[i].scale, SD: sds[a], Lower: math.NaN(), Upper: math.NaN()}
		g := map[int]float64{} // derivative of log SD in theta
		m.eachFactor(&l, func(place, row, col int, chain float64) {
			if row == a {
				g[place] = chain * l[a][col] / variance
			}
		})
		v, places := 0.0, slices.Sorted(maps.Keys(g)) // in order, so that the sum is the same in every run
		for _, i := range places {
			for _, j := range places {
				v += g[i] * g[j] * c.cov.At(i, j)
			}
		}
		if v > 0 {
			d.Lower, d.Upper = d.SD*math.Exp(-z*math.Sqrt(v)), d.SD*math.Exp(z*math.Sqrt(v))
		}
		c.Random = append(c.Random, d)
	}
	c.correlations()
	for _, name := range cl.none {
		c.Random = append(c.Random, Deviation{Parameter: name, Scale: m.scaleOf(name), SD: 0, Lower: 0, Upper: math.NaN(), None: true})
	}
}

// correlations are those between the deviations, where the covariance has any.
func (c *Cohort) correlations() {
	m := c.m
	if !m.full {
		return
	}
	l := m.factor(c.theta)
	sd := func(a int) float64 {
		variance := 0.0
		for b := range a + 1 {
			variance += l[a][b] * l[a][b]
		}
		return math.Sqrt(variance)
	}
	for a := range m.random {
		for b := range a {
			dot := 0.0
			for k := range b + 1 {
				dot += l[a][k] * l[b][k]
			}
			c.Correlations = append(c.Correlations, Correlation{m.parts[m.random[b]].name, m.parts[m.random[a]].name, dot / (sd(a) * sd(b))})
		}
	}
}

func (c *Cohort) members(ts []Trainee) {
	m := c.m
	l := m.factor(c.theta)
	k := len(m.random)
	for i, t := range ts {
		e := m.eta(&m.records[i], c.theta)
		mo := &c.modes[i]
		m.addDeviation(&e, &l, &mo.v)
		mem := Member{ID: t.ID, Arm: t.Arm, N: len(t.Attempt), Curve: m.curve(&e), Spread: models.ResidualSD(m.spec.Noise, m.spreadAt(&e)), Parameters: m.naturalParameters(&e)}
		for j := range t.Censored {
			if t.Censored[j] {
				mem.NCensored++
			}
		}
		c.NCensored += mem.NCensored
		if k > 0 && mo.ok {
			mem.Shrinkage = m.shrinkage(&m.records[i], &e, &l)
		}
		c.Members = append(c.Members, mem)
	}
}

// shrinkage is the posterior over the prior variance of each random part at a
// trainee's quantities; nil where there is none.
func (m *model) shrinkage(r *record, e *vector, l *matrix) []float64 {
	k := len(m.random)
	var o sum
	if !m.pass(r, e, 2, nil, &o) {
		return nil
	}
	_, curv := m.project(l, &o.grad, &o.descent, &vector{})
	var c matrix
	if !cholesky(&curv, k, &c) {
		return nil
	}
	out := make([]float64, k)
	for a := range k {
		var row vector
		prior := 0.0
		for b := range a + 1 {
			row[b] = l[a][b]
			prior += l[a][b] * l[a][b]
		}
		forward(&c, k, &row)
		out[a] = math.Min(norm2(&row, k)/prior, 1) // but for rounding
	}
	return out
}

// curve reads the quantities as a curve.
func (m *model) curve(e *vector) models.Curve {
	p0, g0 := m.natural(e, slotPlateau), m.natural(e, slotGain)
	f := m.spec.Family
	c := models.Curve{Family: f}
	for j := range f.Shape().Params() {
		c.Shape[j] = m.natural(e, slotShape+j)
	}
	if f.HasPlateau() || f.IsLine() {
		c.Plateau = p0
	}
	if f.HasGain() {
		c.Gain = g0 - m.kappa*c.Plateau
		if m.kappa == 1 && !f.StartsFarBack() {
			c.Gain /= math.Max(f.Shape().At(f.Shape().Clock(f.Origin()), c.Shape), 1e-170)
		}
	}
	return c
}

func (m *model) naturalParameters(e *vector) []float64 {
	var out []float64
	for _, p := range m.parts {
		if p.slot >= slotSession {
			continue
		}
		out = append(out, m.natural(e, p.slot))
	}
	return out
}

func (m *model) spreadAt(e *vector) float64 {
	if !m.spec.Noise.HasScale() {
		return math.NaN()
	}
	return m.natural(e, slotSpread)
}

// widest is the largest logarithm, and minus the smallest, that a quantity read
// for a prediction is taken to have: beyond it products and squares overflow.
const widest = 300

// natural is a quantity on its natural scale, for predictions.
func (m *model) natural(e *vector, slot int) float64 {
	x := e[slot]
	if m.scales[slot] == 1 {
		x = math.Exp(math.Min(math.Max(x, -widest), widest))
		if slot == slotGain {
			x *= m.sign
		}
	}
	return x
}

// looseSE is the standard error of a logarithm from which a parameter counts as
// not determined: its interval then spans a factor of 3000 or more.
const looseSE = 2

// remarks turns what a reader must know into warnings.
func (c *Cohort) remarks(cl *climb) {
	m := c.m
	for _, name := range cl.none {
		c.warn("no-spread", fmt.Sprintf("how much trainees differ in %s cannot be told from noise", name))
	}
	if cl.forgot {
		c.warn("no-carryover", "residuals carry nothing over to the next attempt that these data could tell from noise; they are taken as independent")
	}
	for i, e := range c.Carryover {
		if !e.Held && !(e.SE > 0) {
			c.Carryover[i].Lower, c.Carryover[i].Upper = math.NaN(), math.NaN()
			c.warn("carryover-bound", fmt.Sprintf("the %s of residuals ran to its bound: its value is no estimate of how much is carried over", strings.ReplaceAll(e.Parameter, "-", " ")))
		}
	}
	for _, words := range m.exactWords(c.theta) {
		c.warn("exact-correlation", words+": the correlation is at its bound")
	}
	switch c.Rung {
	case RungDiagonal:
		if !m.spec.Uncorrelated && len(m.random) > 1 {
			c.warn("no-correlations", "the correlations between trainees' parameters cannot be estimated from these data and are taken as 0")
		}
	case RungTwoStage:
		c.warn("two-stage", "no joint likelihood could be maximised: the cohort is summarised from separate curves, and standard errors are rough")
	}
	for _, e := range c.Fixed {
		if e.Arm == "" && e.Covariate == "" && e.Scale == Log && !e.Held && !e.NotIdentified && !(e.SE < looseSE) {
			c.warn("not-determined", fmt.Sprintf("the attempts do not determine the %s: its value is no estimate, and neither are the spreads about it", e.Parameter))
		}
	}
	for _, d := range c.Random {
		if !d.None && d.Upper > 20*math.Max(d.Lower, 1e-300) {
			c.warn("wide-spread", fmt.Sprintf("how much trainees differ in %s is hardly known: the interval spans more than a factor of 20", d.Parameter))
		}
	}
	if m.sign < 0 && m.scales[slotGain] == 1 && m.kappa == 0 {
		c.warn("gain-sign", "the gain is negative (the response rises with practice); the log scale is that of its size")
	}
	one := 0
	byArm := map[string]int{}
	for _, mem := range c.Members {
		if mem.N == 1 {
			one++
		}
		byArm[mem.Arm]++
	}
	if one > 0 {
		c.warn("one-attempt", fmt.Sprintf("%d trainees have a single attempt: their curve is the cohort's, moved by it", one))
	}
	for _, a := range m.arms {
		if byArm[a] == 1 && len(m.arms) > 1 {
			c.warn("single-trainee-arm", fmt.Sprintf("arm %s has a single trainee: its effect is that trainee", a))
		}
	}
	if c.NTrainees < 10 {
		c.warn("few-trainees", fmt.Sprintf("with %d trainees maximum likelihood understates how much trainees differ", c.NTrainees))
	}
}
