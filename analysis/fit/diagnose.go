package fit

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mathext"
	"gonum.org/v1/gonum/stat/distuv"

	"gonum.org/v1/gonum/stat"
	"tyro/analysis"
)

// A Diagnosis says how well a curve describes its series.
type Diagnosis struct {
	Residuals []float64 // standardised, in the order of attempts; NaN where censored

	Runs         int     // stretches of residuals of one sign
	RunsExpected float64 // for residuals in random order
	RunsP        float64 // two-sided, exact up to 60 residuals, normal beyond

	Lag1  float64 // correlation of neighbouring residuals within a session
	Lag1N int     // pairs

	LastSameSign int // residuals at the end of the series that share a sign

	Outliers []Outlier
	AtFloor  float64 // share of responses at the lowest value seen, where several are
	AtCap    float64 // share at the highest
	Restart  Restart
	Warnings []analysis.Warning
}

// An Outlier is an attempt far from the curve by a measure that outliers cannot
// hide from: the residual against 1.4826 times the median absolute residual.
type Outlier struct {
	Attempt   float64
	Response  float64
	Distance  float64 // in robust standard deviations, signed
	Influence float64 // change of the level at the last attempt when it is left out
}

// A Restart is the warm-up loss: how the first attempt of every later session
// lies against the curve, on the noise's additive scale.
type Restart struct {
	Sessions int     // later sessions with a first attempt
	Shift    float64 // mean residual of those attempts minus that of the others
	SE       float64
	P        float64 // two-sided, Welch's t
}

// outlierDistance is the robust distance from which an attempt is listed (common
// practice: 3.5, no source).
const outlierDistance = 3.5

// Diagnose looks at the residuals of a usable fit: what is left after the curve
// and, where the spec asks for them, the restart and the correlation of
// neighbours.
func Diagnose(s Series, spec Spec, f Fit) Diagnosis {
	d := Diagnosis{RunsP: math.NaN(), Lag1: math.NaN(), RunsExpected: math.NaN(), Restart: Restart{Shift: math.NaN(), SE: math.NaN(), P: math.NaN()}}
	if !f.Status.Usable() {
		return d
	}
	order := inOrder(s.Attempt)
	raw := make([]float64, len(order))
	residuals := f.residuals(s)
	for k, i := range order {
		raw[k] = math.NaN()
		if s.Censored == nil || !s.Censored[i] {
			raw[k] = residuals[i]
		}
	}
	d.Residuals = scaledBy(raw, f.ResidualSD())
	d.runs(raw)
	d.lag(raw, order, s.Session)
	d.restart(raw, order, s.Session)
	d.outliers(s, spec, f, raw, order)
	d.AtFloor, d.AtCap = shareAt(s.Response, slices.Min(s.Response)), shareAt(s.Response, slices.Max(s.Response))
	d.judge(f)
	return d
}

func inOrder(x []float64) []int {
	order := make([]int, len(x))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		switch {
		case x[a] < x[b]:
			return -1
		case x[a] > x[b]:
			return 1
		}
		return 0
	})
	return order
}

func scaledBy(v []float64, scale float64) []float64 {
	out := make([]float64, len(v))
	for i := range v {
		out[i] = v[i] / scale
	}
	return out
}

// runs counts stretches of one sign and tests their number: Wald and Wolfowitz
// (1940), Annals of Mathematical Statistics 11, 147-162.
func (d *Diagnosis) runs(raw []float64) {
	var signs []bool
	for _, e := range raw {
		if e != 0 && !math.IsNaN(e) {
			signs = append(signs, e > 0)
		}
	}
	up := 0
	for i, s := range signs {
		if s {
			up++
		}
		if i == 0 || s != signs[i-1] {
			d.Runs++
		}
	}
	for i := len(signs) - 1; i >= 0 && signs[i] == signs[len(signs)-1]; i-- {
		d.LastSameSign++
	}
	down := len(signs) - up
	if up == 0 || down == 0 {
		return
	}
	d.RunsExpected = 1 + 2*float64(up)*float64(down)/float64(up+down)
	d.RunsP = runsP(d.Runs, up, down)
}

// runsP is twice the smaller tail, at most 1.
func runsP(runs, up, down int) float64 {
	n := float64(up + down)
	if up+down > 60 {
		a, b := float64(up), float64(down)
		mean := 1 + 2*a*b/n
		sd := math.Sqrt(2 * a * b * (2*a*b - n) / (n * n * (n - 1)))
		return math.Min(1, 2*distuv.UnitNormal.CDF(-math.Abs(float64(runs)-mean)/sd))
	}
	lower, upper := 0.0, 0.0
	for r := 2; r <= up+down; r++ {
		p := runsChance(r, up, down)
		if r <= runs {
			lower += p
		}
		if r >= runs {
			upper += p
		}
	}
	return math.Min(1, 2*math.Min(lower, upper))
}

// runsChance is the chance of exactly r runs among up and down signs in random
// order.
func runsChance(r, up, down int) float64 {
	choose := func(n, k int) float64 {
		if k < 0 || k > n {
			return 0
		}
		return math.Exp(logChoose(n, k))
	}
	all := math.Exp(logChoose(up+down, up))
	k := r / 2
	if r%2 == 0 {
		return 2 * choose(up-1, k-1) * choose(down-1, k-1) / all
	}
	return (choose(up-1, k)*choose(down-1, k-1) + choose(up-1, k-1)*choose(down-1, k)) / all
}

func logChoose(n, k int) float64 {
	a, _ := math.Lgamma(float64(n + 1))
	b, _ := math.Lgamma(float64(k + 1))
	c, _ := math.Lgamma(float64(n - k + 1))
	return a - b - c
}

// lag is the correlation of each residual with the one before it in the same
// session.
func (d *Diagnosis) lag(raw []float64, order []int, sessions []string) {
	var sum, ss float64
	for k := 1; k < len(raw); k++ {
		if math.IsNaN(raw[k]) || math.IsNaN(raw[k-1]) || sessions != nil && sessions[order[k]] != sessions[order[k-1]] {
			continue
		}
		sum += raw[k] * raw[k-1]
		d.Lag1N++
	}
	n := 0
	for _, e := range raw {
		if !math.IsNaN(e) {
			ss += e * e
			n++
		}
	}
	if d.Lag1N > 2 && ss > 0 {
		d.Lag1 = sum / float64(d.Lag1N) / (ss / float64(n))
	}
}

// restart compares the first attempts of later sessions with all others.
func (d *Diagnosis) restart(raw []float64, order []int, sessions []string) {
	if sessions == nil {
		return
	}
	var firsts, others []float64
	for k, e := range raw {
		switch {
		case math.IsNaN(e):
		case k > 0 && sessions[order[k]] != sessions[order[k-1]]:
			firsts = append(firsts, e)
		default:
			others = append(others, e)
		}
	}
	d.Restart.Sessions = len(firsts)
	if len(firsts) < 2 || len(others) < 2 {
		return
	}
	ma, va := stat.MeanVariance(firsts, nil)
	mb, vb := stat.MeanVariance(others, nil)
	a, b := va/float64(len(firsts)), vb/float64(len(others))
	d.Restart.Shift, d.Restart.SE = ma-mb, math.Sqrt(a+b)
	df := (a + b) * (a + b) / (a*a/float64(len(firsts)-1) + b*b/float64(len(others)-1))
	t := math.Abs(d.Restart.Shift) / d.Restart.SE
	if df > 0 && !math.IsNaN(t) {
		d.Restart.P = mathext.RegIncBeta(df/2, 0.5, df/(df+t*t))
	}
}

// outliers lists attempts far from the curve, with what leaving each out does to
// the level at the last attempt.
func (d *Diagnosis) outliers(s Series, spec Spec, f Fit, raw []float64, order []int) {
	if !f.Noise.Additive() {
		return
	}
	var sizes []float64
	for _, e := range raw {
		if !math.IsNaN(e) {
			sizes = append(sizes, math.Abs(e))
		}
	}
	slices.Sort(sizes)
	if len(sizes) < 5 {
		return
	}
	spread := 1.4826 * sizes[len(sizes)/2]
	if len(sizes)%2 == 0 {
		spread = 1.4826 * (sizes[len(sizes)/2] + sizes[len(sizes)/2-1]) / 2
	}
	if !(spread > 0) {
		return
	}
	for k, e := range raw {
		if distance := e / spread; math.Abs(distance) > outlierDistance {
			i := order[k]
			d.Outliers = append(d.Outliers, Outlier{s.Attempt[i], s.Response[i], distance, influence(s, spec, f, i)})
		}
	}
}

func influence(s Series, spec Spec, f Fit, i int) float64 {
	g, err := One(s.without(i), spec)
	if err != nil || !g.Status.Usable() {
		return math.NaN()
	}
	return f.Noise.Mean(g.Curve.At(f.Last)) - f.Noise.Mean(f.Curve.At(f.Last))
}

// shareAt is the share of responses at an extreme value that several of them
// have; 0 when it stands alone.
func shareAt(v []float64, extreme float64) float64 {
	n := 0
	for _, x := range v {
		if x == extreme {
			n++
		}
	}
	if n < 2 {
		return 0
	}
	return float64(n) / float64(len(v))
}

// judge puts what is out of the ordinary into words.
func (d *Diagnosis) judge(f Fit) {
	warn := func(code, text string) {
		d.Warnings = append(d.Warnings, analysis.Warning{Code: code, Text: text})
	}
	if d.RunsP < 0.01 && float64(d.Runs) < d.RunsExpected {
		warn("residual-runs", fmt.Sprintf("the curve misses the series' course: %d stretches of residuals on one side where about %.0f are expected", d.Runs, d.RunsExpected))
	}
	if d.LastSameSign >= 7 {
		warn("last-attempts-aside", fmt.Sprintf("the last %d attempts all lie on one side of the curve, so its end and plateau are doubtful", d.LastSameSign))
	}
	if n := float64(d.Lag1N); n >= 8 && d.Lag1 > 2/math.Sqrt(n) {
		warn("neighbours-correlated", fmt.Sprintf("neighbouring attempts are alike beyond the curve (correlation %.2f), so intervals are too narrow", d.Lag1))
	}
	if d.Restart.P < 0.05 {
		warn("restart", fmt.Sprintf("the first attempts of later sessions differ from the curve by %.2g on average: a restart that the curve does not have", d.Restart.Shift))
	}
	if len(d.Outliers) > 0 {
		warn("outliers", fmt.Sprintf("%d attempts lie further from the curve than %.1f robust standard deviations", len(d.Outliers), outlierDistance))
	}
	if d.AtFloor > 0.1 || d.AtCap > 0.1 {
		share := math.Max(d.AtFloor, d.AtCap)
		if f.NCensored == 0 {
			warn("floor-or-cap", fmt.Sprintf("%.0f %% of the responses sit at one extreme value: a floor or cap flattens the curve there", 100*share))
		}
	}
}
