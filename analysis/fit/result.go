package fit

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"

	"tyro/analysis"
	"tyro/analysis/internal/numeric"
	"tyro/models"
)

// A Status says how a fit ended. The zero value is not success.
type Status int

// The statuses.
const (
	NotRun       Status = iota
	OK                  // an interior minimum
	AtBound             // the minimum lies on a bound: some parameter is not determined
	Flat                // the responses do not change with practice at all
	TooFew              // fewer attempts than parameters need
	AllCensored         // no response was exact
	NoVariation         // all passed, all failed, separated without overlap, or no event counted
	NotConverged        // the search did not settle
	Unsuited            // the attempts do not suit the noise or the curve
)

// String is the stable name of the status.
func (s Status) String() string {
	return [...]string{"not-run", "ok", "at-bound", "flat", "too-few-attempts", "all-censored", "no-variation", "not-converged", "unsuited"}[s]
}

// Usable reports whether the curve can be read.
func (s Status) Usable() bool { return s == OK || s == AtBound || s == Flat }

// An Estimate is a number with its standard error and interval; NaN where it
// is not determined.
type Estimate struct {
	Name         string
	Value        float64
	SE           float64
	Lower, Upper float64
	Held         bool
}

// A Fit is one series' curve with its uncertainty.
type Fit struct {
	Curve models.Curve
	Noise models.Noise
	Scale float64 // of the noise: the residual SD on its scale (natural log for lognormal) where it is normal, see ResidualSD

	Params  []Estimate // in the order of Curve.Family.Params
	Derived []Estimate // starting level, attempts to 90 % of the gain, …
	Terms   []Estimate // restart and correlation of neighbours, where the spec asks for them

	N, NCensored   int
	First, Last    float64 // attempts
	DF             int     // N minus free coefficients
	RSS            float64 // on the noise's scale; NaN where it is not what is minimised
	LogLik         float64 // in the unit of the response
	LogLikLog      float64 // of the logarithms, for lognormal noise; NaN otherwise
	AIC, AICc, BIC float64

	Status         Status
	Starts, Agreed int     // dips followed, and how many ended at the same minimum
	Turns          bool    // the series bends enough for its plateau to be told from none
	Achieved       float64 // share of the gain from first attempt to plateau made by the last attempt
	PlateauKnown   bool    // the plateau may be quoted
	StartOpen      bool    // early timeouts leave open how high the curve starts: start, gain and rate may not be quoted
	Level          float64
	Intervals      Method // how the intervals of Params and Derived were made
	Warnings       []analysis.Warning

	shift, rho float64   // the restart's shift and the correlation, 0 without them
	share      []float64 // how much of the shift each attempt has; nil without a restart
	correlated bool

	t float64 // quantile of intervals; 0 where it is not kept

	cov [maxDim][maxDim]float64 // of plateau, gain, shape 0, shape 1, restart; 0 where held
}

// One fits the spec to the series. An unusable input is an error; a series
// that is too short, flat or without a turn is a Fit with that status.
func One(s Series, spec Spec) (Fit, error) {
	if err := spec.check(s); err != nil {
		return Fit{}, err
	}
	if early, ok := tooLittle(s, spec); ok {
		return early, nil
	}
	if spec.Watch != nil {
		spec.Watch(s, spec)
	}
	f := newFitter(spec, s)
	return f.report(s, f.solve(s.Response, s.Censored)), nil
}

// tooLittle handles series no curve can be fitted to.
func tooLittle(s Series, spec Spec) (Fit, bool) {
	n := len(s.Attempt)
	out := Fit{
		Curve: models.Curve{Family: spec.Family, Plateau: math.NaN(), Gain: math.NaN()}, Noise: spec.Noise,
		Scale: math.NaN(), N: n, NCensored: s.NCensored(), First: math.NaN(), Last: math.NaN(),
		RSS: math.NaN(), LogLik: math.NaN(), LogLikLog: math.NaN(), AIC: math.NaN(), AICc: math.NaN(), BIC: math.NaN(),
		Achieved: math.NaN(), Level: spec.level(), Intervals: Wald,
	}
	need := 2
	for _, p := range spec.Family.Params() {
		v, held := spec.held(p.Name)
		if !held {
			need++
			v = math.NaN()
		}
		out.Params = append(out.Params, Estimate{p.Name, v, math.NaN(), math.NaN(), math.NaN(), held})
	}
	if _, held := spec.held("start"); held {
		need--
	}
	if spec.restartOf(s) != nil {
		need++
	}
	if spec.Correlated {
		need++
	}
	distinct := map[float64]bool{}
	for _, x := range s.Attempt {
		distinct[x] = true
	}
	if n > 0 {
		out.First, out.Last = extent(s.Attempt)
	}
	switch exact := n - out.NCensored; {
	case n > 0 && noVariation(s, spec):
		out.Status = NoVariation
		out.warn("no-variation", "all attempts have the same result, so no curve can be fitted")
	case n > 0 && exact == 0:
		out.Status = AllCensored
		out.warn("all-censored", "every attempt ran into the limit, so no curve can be fitted")
	case n < need-1 || len(distinct) < min(need-2, 3) || exact < 2:
		out.Status = TooFew
		out.warn("too-few-attempts", fmt.Sprintf("%d usable attempts are too few for the %s curve, which needs %d", n, spec.Family.Name(), need-1))
	default:
		return out, false
	}
	return out, true
}

// noVariation reports passes and fails that are all alike, and counts that are
// all 0: their curve lies at infinity.
func noVariation(s Series, spec Spec) bool {
	linked, ok := spec.Noise.(models.Linked)
	return ok && linked.Unbounded(s.Response)
}

func extent(x []float64) (first, last float64) {
	first, last = math.Inf(1), math.Inf(-1)
	for _, v := range x {
		first, last = math.Min(first, v), math.Max(last, v)
	}
	return first, last
}

func (f *Fit) warn(code, text string) {
	f.Warnings = append(f.Warnings, analysis.Warning{Code: code, Text: text})
}

// report turns a solution into a result.
func (f *Fitter) report(s Series, sol solution) Fit {
	out := Fit{
		Curve: sol.curve, Noise: f.spec.Noise, Scale: sol.scale,
		N: len(s.Attempt), NCensored: s.NCensored(), DF: len(s.Attempt) - f.coefficients(),
		RSS: math.NaN(), LogLikLog: math.NaN(), Level: f.spec.level(), Intervals: Wald,
		Starts: sol.starts, Agreed: sol.agreed, Status: OK,
	}
	out.First, out.Last = extent(s.Attempt)
	out.t = out.findQuantile()
	if sol.by == nil {
		out, _ := tooLittle(s, f.spec)
		out.Status = NotConverged
		out.warn("not-converged", "no start led to a curve inside its bounds")
		return out
	}
	if f.squares {
		out.RSS = 2 * sol.loss
	}
	out.LogLik = f.logLikelihood(sol)
	if f.log {
		out.LogLikLog = out.LogLik - f.logJacobian()
	}
	out.AIC, out.AICc, out.BIC = f.criteria(out.LogLik)
	f.judge(&out, sol)
	f.covariance(&out, sol)
	out.Params = f.estimates(&out, sol)
	out.Derived = out.derive()
	f.dependence(&out, s, sol)
	return out
}

// bare is a solution with its covariance, without a verdict.
func (f *Fitter) bare(s Series, sol solution) Fit {
	out := Fit{
		Curve: sol.curve, Noise: f.spec.Noise, Scale: sol.scale, N: len(s.Attempt), DF: len(s.Attempt) - f.coefficients(),
		Level: f.spec.level(), Status: OK,
	}
	if sol.by == nil || !sol.converged {
		out.Status = NotConverged
		return out
	}
	f.covariance(&out, sol)
	return out
}

// judge sets the status and says in words what the series cannot determine.
func (f *Fitter) judge(out *Fit, sol solution) {
	fam := f.spec.Family
	if models.IsPassFail(f.spec.Noise) && sol.loss < 1e-4*float64(out.N) {
		out.Status = NoVariation
		out.warn("no-variation", "passes and fails do not overlap, so the chance to pass jumps and its curve is not determined")
		return
	}
	if !sol.converged {
		out.Status = NotConverged
		out.warn("not-converged", "the search did not settle; treat the curve as a sketch")
		return
	}
	c := sol.curve
	first, last := c.At(out.First), c.At(out.Last)
	out.Achieved = math.NaN()
	flat := fam.HasGain() && math.Abs(first-last) <= 1e-9*math.Max(math.Abs(first), math.Abs(last))
	switch {
	case !fam.HasGain():
		out.PlateauKnown, out.Turns = true, true
		return
	case flat && fam.HasPlateau():
		out.Status, out.PlateauKnown, out.Turns = Flat, true, true
		out.warn("no-gain", "the responses do not change with practice, so the rate is not determined")
		return
	case flat:
		out.Status = Flat
	}
	_, plateauHeld := f.spec.held("plateau")
	if !fam.HasPlateau() || plateauHeld {
		out.PlateauKnown = plateauHeld
		out.Turns = true
		f.judgeRate(out, sol)
		f.judgeStart(out, sol)
		return
	}
	out.Achieved = (first - last) / (first - c.Plateau)
	atEdge := sol.by == f.edge && f.edge != nil
	atLine := !atEdge && f.atLowBound(sol.point)
	out.Turns = !atEdge && !atLine && f.rejectsNoPlateau(out, sol)
	switch {
	case atEdge || atLine || !out.Turns && out.Achieved < 0.5:
		out.Status = AtBound
		if !atEdge && !atLine {
			out.Status = OK
		}
		word := "improving"
		if c.Gain < 0 {
			word = "rising"
		} else if c.Gain > 0 {
			word = "falling"
		}
		out.warn("no-plateau", fmt.Sprintf("plateau not identified: the %s curve is still %s at attempt %g, and %d attempts do not show where it ends", fam.Name(), word, out.Last, out.N))
	case !out.Turns:
		out.PlateauKnown = true
		out.warn("plateau-uncertain", fmt.Sprintf("plateau and rate can hardly be told apart in this series of %d attempts: a curve without a plateau fits about as well", out.N))
	default:
		out.PlateauKnown = true
	}
	f.judgeRate(out, sol)
	f.judgeStart(out, sol)
}

// judgeRate notes a rate at the end of what the attempts can show.
func (f *Fitter) judgeRate(out *Fit, sol solution) {
	by := sol.by
	for k, j := range by.free {
		p := by.shape.Params()[j]
		switch q := sol.point[by.form.n+k]; {
		case p.Name == "rate" && q >= by.hi[k]:
			out.Status = AtBound
			out.warn("rate-not-identified", "the change falls between the first two attempts, so only a lower bound of the rate is known")
		case q >= by.hi[k] || q <= by.lo[k] && !(p.Name == "rate" && p.Positive):
			out.Status = AtBound
			out.warn(p.Name+"-not-identified", fmt.Sprintf("the attempts do not determine the %s of the %s curve: it ran to the end of its range", p.Name, f.spec.Family.Name()))
		}
	}
}

// rejectsNoPlateau reports whether the best curve without a turn (a straight
// line in clock time, or one that runs to 0) fits worse than chance allows, by
// a likelihood ratio on one degree of freedom.
func (f *Fitter) rejectsNoPlateau(out *Fit, sol solution) bool {
	limit := math.Inf(1)
	if len(f.free) > 0 {
		q := f.pointFrom(start{beta: f.beta[0], shape: f.grid[0], loss: 2 * sol.loss})
		saved := f.lo
		hi := f.hi
		f.hi = f.lo // hold the shape at the straight line
		if loss, _ := f.polish(&q); !f.bounded || f.curveAt(q).Plateau >= 0 {
			limit = loss
		}
		f.lo, f.hi = saved, hi
	}
	if f.edge != nil {
		limit = math.Min(limit, f.solveEdge().loss)
	}
	n := float64(out.N)
	ratio := n * math.Log(limit/sol.loss)
	if !f.squares {
		ratio = 2 * (limit - sol.loss)
	}
	return ratio > distuv.ChiSquared{K: 1}.Quantile(out.Level)
}

// covariance fills the covariance of plateau, gain and shape parameters.
func (f *Fitter) covariance(out *Fit, sol solution) {
	by := sol.by
	p, nc := by.dim(), by.coefficients()
	if p == 0 || out.Status == NotConverged || f.squares && out.DF <= 0 {
		return
	}
	var s surface
	by.surfaceAt(sol.point, &s)
	info, scale2 := &s.descent, out.Scale*out.Scale
	if !f.squares {
		info, scale2 = &s.hess, 1
	}
	var live []int // parameters with information: not at a bound
	for i := range p {
		k := i - by.form.n
		stuck := k >= 0 && k < len(by.free) && sol.atBound(by.free[k])
		if !stuck && info[i][i] > 0 {
			live = append(live, i)
		}
	}
	m := mat.NewSymDense(max(1, len(live)), nil)
	for a, i := range live {
		for b, j := range live[:a+1] {
			m.SetSym(a, b, info[i][j]/math.Sqrt(info[i][i]*info[j][j]))
		}
	}
	inv, ok := numeric.InverseWithin(m, 1e13)
	if len(live) == 0 || !ok {
		return
	}
	jac := by.naturalJacobian(sol.point)
	for r := range naturalDim {
		for c := range naturalDim {
			sum := 0.0
			for a, i := range live {
				for b, j := range live {
					if i < nc && j < nc {
						sum += jac[r][i] * jac[c][j] * inv.At(a, b) / math.Sqrt(info[i][i]*info[j][j])
					}
				}
			}
			out.cov[r][c] = sum * scale2
		}
	}
}

// naturalDim counts plateau, gain, two shapes and the restart, in whose order
// covariances are kept.
const naturalDim = 5

// naturalJacobian is the derivative of those with respect to the moved
// parameters.
func (f *Fitter) naturalJacobian(q point) (jac [naturalDim][maxDim]float64) {
	s := f.shapeOf(q)
	f.anchors(s)
	_, c1 := f.form.coefficients([2]float64{q[0], q[1]})
	a, d := f.a, f.d
	for k := range f.form.n {
		jac[0][k] = f.form.b0[k] - f.form.b1[k]*a.v/d.v
		jac[1][k] = f.form.b1[k] / d.v
	}
	for k, j := range f.free {
		i := f.form.n + k
		jac[0][i] = -c1 * (a.d1[k]*d.v - a.v*d.d1[k]) / (d.v * d.v)
		jac[1][i] = -c1 * d.d1[k] / (d.v * d.v)
		jac[2+j][i] = 1
		if f.onLog[k] {
			jac[2+j][i] = s[j]
		}
	}
	if f.restart != nil {
		jac[naturalDim-1][f.restartAt()] = 1
	}
	return jac
}

// estimates lists the family's parameters with Wald intervals: Student t
// quantiles, on the log scale for a parameter that must be above 0. What the
// series does not determine is NaN.
func (f *Fitter) estimates(out *Fit, sol solution) []Estimate {
	theta := out.Curve.Theta()
	shapes := 0
	var list []Estimate
	for i, p := range f.spec.Family.Params() {
		at := map[string]int{"plateau": 0, "gain": 1, "start": 0, "slope": 1}[p.Name] // position in the covariance
		if !p.Linear {
			at = 2 + shapes
			shapes++
		}
		e := Estimate{p.Name, theta[i], math.NaN(), math.NaN(), math.NaN(), false}
		if v, held := f.spec.held(p.Name); held {
			e.Value, e.Held = v, true
			list = append(list, e)
			continue
		}
		if variance := out.cov[at][at]; variance > 0 {
			e = out.interval(p.Name, theta[i], math.Sqrt(variance), p.Positive)
		}
		switch {
		case p.Name == "plateau" && !out.PlateauKnown:
			e = out.boundPlateau(e)
		case out.StartOpen && p.Name != "plateau":
			e = Estimate{p.Name, math.NaN(), math.NaN(), math.NaN(), math.NaN(), false}
		case p.Name == "gain" && f.spec.Family.HasPlateau() && !out.PlateauKnown:
			e = Estimate{p.Name, math.NaN(), math.NaN(), math.NaN(), math.NaN(), false}
		case !p.Linear && (out.Status == Flat && f.spec.Family.HasPlateau() || sol.atBound(at-2)):
			e = Estimate{p.Name, math.NaN(), math.NaN(), math.NaN(), math.NaN(), false}
		}
		list = append(list, e)
	}
	return list
}

// atBound reports whether shape parameter j ended at an end of its range.
func (s solution) atBound(j int) bool {
	for k, free := range s.by.free {
		if q := s.point[s.by.form.n+k]; free == j {
			return q <= s.by.lo[k] || q >= s.by.hi[k]
		}
	}
	return false
}

// boundPlateau replaces an unidentified plateau by a one-sided bound: it lies
// beyond the level reached at the last attempt.
func (f *Fit) boundPlateau(e Estimate) Estimate {
	e.Value, e.SE, e.Lower, e.Upper = math.NaN(), math.NaN(), math.NaN(), math.NaN()
	if last := f.Curve.At(f.Last); f.Curve.Gain > 0 {
		e.Upper = last
	} else {
		e.Lower = last
	}
	return e
}

// ResidualSD is the residual standard deviation on the noise's scale.
func (f *Fit) ResidualSD() float64 { return models.ResidualSD(f.Noise, f.Scale) }

// tQuantile is the two-sided Student t quantile of the fit's level, the normal
// one where no spread is estimated from residuals.
func (f *Fit) tQuantile() float64 {
	if f.t == 0 {
		return f.findQuantile()
	}
	return f.t
}

func (f *Fit) findQuantile() float64 {
	if !f.Noise.Additive() {
		return distuv.UnitNormal.Quantile((1 + f.Level) / 2)
	}
	if f.DF <= 0 {
		return math.NaN()
	}
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: float64(f.DF)}.Quantile((1 + f.Level) / 2)
}

// interval is a Wald interval, on the log scale for a positive quantity.
func (f *Fit) interval(name string, v, se float64, onLog bool) Estimate {
	t := f.tQuantile()
	if onLog && v > 0 {
		k := math.Exp(t * se / v)
		return Estimate{Name: name, Value: v, SE: se, Lower: v / k, Upper: v * k}
	}
	return Estimate{Name: name, Value: v, SE: se, Lower: v - t*se, Upper: v + t*se}
}
