package agreement

import (
	"context"
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// An ICCForm is one of the ten intraclass correlations of McGraw and Wong
// (1996), Psychological Methods 1, 30-46, said in full. Random and mixed models
// share their numbers and intervals and differ in what they generalise to.
type ICCForm struct {
	McGrawWong, ShroutFleiss string // their names; blank where Shrout and Fleiss have none
	Model, Unit, Definition  string
	Over                     string
	Name                     string // of the coefficient that holds the number
	Estimate, Lower, Upper   float64
	F, DF1, DF2, P           float64
	Assumes                  string
	Interval                 string
}

// iccNames in the order of the coefficients.
var iccNames = []string{"icc(1,1)", "icc(a,1)", "icc(c,1)", "icc(1,k)", "icc(a,k)", "icc(c,k)"}

// iccForms describes the ten forms.
func iccForms(cs []Coefficient) []ICCForm {
	const (
		single, mean = "a single rating", "the mean of all raters"
		noInter      = "no interaction of subjects and raters"
	)
	forms := []ICCForm{
		{McGrawWong: "ICC(1)", ShroutFleiss: "ICC(1,1)", Model: "one-way random", Unit: single, Definition: "absolute agreement", Name: "icc(1,1)", Over: OverBoth},
		{McGrawWong: "ICC(k)", ShroutFleiss: "ICC(1,k)", Model: "one-way random", Unit: mean, Definition: "absolute agreement", Name: "icc(1,k)", Over: OverBoth},
		{McGrawWong: "ICC(C,1)", Model: "two-way random", Unit: single, Definition: "consistency", Name: "icc(c,1)", Over: OverBoth},
		{McGrawWong: "ICC(C,k)", Model: "two-way random", Unit: mean, Definition: "consistency", Name: "icc(c,k)", Over: OverBoth},
		{McGrawWong: "ICC(A,1)", ShroutFleiss: "ICC(2,1)", Model: "two-way random", Unit: single, Definition: "absolute agreement", Name: "icc(a,1)", Over: OverBoth},
		{McGrawWong: "ICC(A,k)", ShroutFleiss: "ICC(2,k)", Model: "two-way random", Unit: mean, Definition: "absolute agreement", Name: "icc(a,k)", Over: OverBoth},
		{McGrawWong: "ICC(C,1)", ShroutFleiss: "ICC(3,1)", Model: "two-way mixed", Unit: single, Definition: "consistency", Name: "icc(c,1)", Over: OverSubjects},
		{McGrawWong: "ICC(C,k)", ShroutFleiss: "ICC(3,k)", Model: "two-way mixed", Unit: mean, Definition: "consistency", Name: "icc(c,k)", Over: OverSubjects, Assumes: noInter},
		{McGrawWong: "ICC(A,1)", Model: "two-way mixed", Unit: single, Definition: "absolute agreement", Name: "icc(a,1)", Over: OverSubjects},
		{McGrawWong: "ICC(A,k)", Model: "two-way mixed", Unit: mean, Definition: "absolute agreement", Name: "icc(a,k)", Over: OverSubjects, Assumes: noInter},
	}
	for i := range forms {
		f := &forms[i]
		f.Estimate, f.Lower, f.Upper = math.NaN(), math.NaN(), math.NaN()
		f.F, f.DF1, f.DF2, f.P = math.NaN(), math.NaN(), math.NaN(), math.NaN()
		for _, c := range cs {
			if c.Name != f.Name {
				continue
			}
			f.Estimate, f.Lower, f.Upper, f.Interval = c.Estimate, c.Lower, c.Upper, c.Method
			if c.Test != nil {
				f.F, f.DF1, f.DF2, f.P = c.Test.Value, c.Test.DF1, c.Test.DF2, c.Test.P
			}
		}
	}
	return forms
}

// ICC computes six intraclass correlations: (1) one-way, (a) two-way for
// absolute agreement, (c) two-way for consistency, each for a single rating and
// for the mean of k. Shrout and Fleiss (1979), Psychological Bulletin 86,
// 420-428, who number them (1), (2) and (3); names and intervals as in McGraw
// and Wong (1996), Psychological Methods 1, 30-46; those of icc(a,k) are the
// single rating's stepped up by Spearman and Brown's formula. The tests are of
// no correlation.
//
// Subjects with gaps are kept: mean squares then come from variance components
// estimated by REML, with effective numbers of ratings of a subject and of
// subjects of a rater, so that the same formulas apply (on a complete table
// they are the mean squares of the analysis of variance).
//
// A level 0 means 0.95. A ragged table or a level outside of 0 to 1 is told by the
// Err of all six.
func ICC(r Ratings, level float64) []Coefficient {
	level, err := readable(r, level)
	if err != nil {
		out := make([]Coefficient, len(iccNames))
		for i, name := range iccNames {
			out[i] = failed(name, err)
		}
		return out
	}
	t, err := meanSquaresOf(r)
	if err != nil {
		return sixUnknown(level, err.Error())
	}
	return t.coefficients(level)
}

func sixUnknown(level float64, note string) []Coefficient {
	out := make([]Coefficient, len(iccNames))
	for i, name := range iccNames {
		out[i] = unknown(name, level, note)
	}
	return out
}

// meanSquares of a two-way table.
type meanSquares struct {
	n, k                              float64 // subjects of a rater and ratings of a subject, effective numbers where there are gaps
	panel                             float64 // raters in all: the k of a mean
	raterDF, subjectDF, residualDF    float64
	withinDF                          float64
	between, within, raters, residual float64
	gaps                              bool
	oneWay                            bool // the two-way mean squares are unknown
}

func meanSquaresOf(r Ratings) (meanSquares, error) {
	if r = r.rated(); r.missing() > 0 {
		return unbalanced(r)
	}
	if len(r) < 2 || r.raters() < 2 {
		return meanSquares{}, fmt.Errorf("not defined: fewer than 2 subjects or 2 raters")
	}
	t := anova(r)
	if t.between == 0 && t.within == 0 {
		return t, fmt.Errorf("%s", notDefined)
	}
	return t, nil
}

// anova computes the mean squares of a complete table.
func anova(r Ratings) meanSquares {
	m := newICCMoments(r)
	return m.squares(everyone(len(r)))
}

// iccMoments keeps what the mean squares need of each subject, about the first
// rating, so that equal ratings stay exactly equal.
type iccMoments struct {
	k            int
	rows         [][]float64
	mean, within []float64
	cols         []float64 // scratch
}

func newICCMoments(r Ratings) *iccMoments {
	m := &iccMoments{k: r.raters(), cols: make([]float64, r.raters())}
	origin := r[0][0]
	flat := make([]float64, len(r)*m.k)
	for i, row := range r {
		line := flat[i*m.k : (i+1)*m.k]
		mean, within := 0.0, 0.0
		for j, v := range row {
			line[j] = v - origin
			mean += line[j] / float64(m.k)
		}
		for _, v := range line {
			within += (v - mean) * (v - mean)
		}
		m.rows, m.mean, m.within = append(m.rows, line), append(m.mean, mean), append(m.within, within)
	}
	return m
}

// copy shares the table but not the scratch memory.
func (m *iccMoments) copy() *iccMoments {
	c := *m
	c.cols = make([]float64, m.k)
	return &c
}

// squares are the mean squares of the subjects drawn.
func (m *iccMoments) squares(draw []int) meanSquares {
	n, k := float64(len(draw)), float64(m.k)
	clear(m.cols)
	var sum, sq, ssWithin float64
	for _, i := range draw {
		mean := m.mean[i]
		sum += mean
		sq += mean * mean
		ssWithin += m.within[i]
		for j, v := range m.rows[i] {
			m.cols[j] += v
		}
	}
	ssRow := k * math.Max(0, sq-sum*sum/n)
	if ssRow < 1e-13*k*sq {
		ssRow = 0
	}
	ssCol := 0.0
	for _, c := range m.cols {
		d := (c - sum) / n
		ssCol += n * d * d
	}
	residual := math.Max(0, ssWithin-ssCol)
	if residual < 1e-13*ssWithin {
		residual = 0
	}
	return meanSquares{
		n: n, k: k, panel: k, subjectDF: n - 1, raterDF: k - 1, residualDF: (n - 1) * (k - 1), withinDF: n * (k - 1),
		between: ssRow / (n - 1), within: ssWithin / (n * (k - 1)), raters: ssCol / (k - 1), residual: residual / ((n - 1) * (k - 1)),
	}
}

// estimates are the six coefficients in the order of iccNames.
func (t meanSquares) estimates() [6]float64 {
	n, k := t.n, t.k
	one := (t.between - t.within) / (t.between + (k-1)*t.within)
	a := (t.between - t.residual) / (t.between + (k-1)*t.residual + k/n*(t.raters-t.residual))
	c := (t.between - t.residual) / (t.between + (k-1)*t.residual)
	return [6]float64{one, a, c, t.stepUp(one), t.stepUp(a), t.stepUp(c)}
}

// stepUp is the coefficient of a mean of all raters from that of one; Spearman
// (1910) and Brown (1910), British Journal of Psychology 3, 271-322.
//
// A single rating's coefficient at or below −1/(k − 1) has no counterpart: −Inf.
func (t meanSquares) stepUp(one float64) float64 {
	if 1+(t.panel-1)*one <= 1e-12 {
		return math.Inf(-1)
	}
	return t.panel * one / (1 + (t.panel-1)*one)
}

func (t meanSquares) coefficients(level float64) []Coefficient {
	k, est := t.k, t.estimates()
	out := sixUnknown(level, "")
	exact, approximate := "exact F", "F with Satterthwaite degrees of freedom"
	if t.gaps {
		exact, approximate = "F from REML components, effective numbers of ratings", "F from REML components, effective numbers of ratings, Satterthwaite degrees of freedom"
	}
	set := func(i int, lo, hi float64, method, over string) {
		out[i].Estimate, out[i].Lower, out[i].Upper, out[i].Method, out[i].Over = est[i], lo, hi, method, over
		out[i+3].Estimate, out[i+3].Lower, out[i+3].Upper, out[i+3].Method, out[i+3].Over = est[i+3], t.stepUp(lo), t.stepUp(hi), method, over
	}
	p := (1 + level) / 2
	test := func(f, d1, d2 float64) *Test {
		if math.IsNaN(f) || math.IsInf(f, 0) {
			return nil
		}
		return &Test{Statistic: "F", Value: f, SE: math.NaN(), DF1: d1, DF2: d2, P: distuv.F{D1: d1, D2: d2}.Survival(f), Null: "no correlation", Formula: "McGraw and Wong (1996)"}
	}
	// One-way.
	f := t.between / t.within
	fl, fu := f/fQuantile(p, t.subjectDF, t.withinDF), f*fQuantile(p, t.withinDF, t.subjectDF)
	set(0, (fl-1)/(fl+k-1), (fu-1)/(fu+k-1), exact, OverBoth)
	out[0].Test = test(f, t.subjectDF, t.withinDF)
	out[3].Test = out[0].Test
	// Two-way, consistency.
	f = t.between / t.residual
	fl, fu = f/fQuantile(p, t.subjectDF, t.residualDF), f*fQuantile(p, t.residualDF, t.subjectDF)
	set(2, (fl-1)/(fl+k-1), (fu-1)/(fu+k-1), exact, OverSubjects)
	for _, i := range []int{1, 2, 4, 5} {
		out[i].Test = test(f, t.subjectDF, t.residualDF)
	}
	// Two-way, absolute agreement.
	lo, hi := t.agreementLimits(est[1], p)
	set(1, lo, hi, approximate, OverBoth)
	for i := range out {
		out[i] = tidy(out[i])
		if t.oneWay && math.IsNaN(out[i].Estimate) {
			out[i] = unknown(out[i].Name, level, "not defined: raters share too few subjects to tell their severity from the residual; see the one-way forms")
		}
	}
	return out
}

// tidy replaces infinities, which arise when raters agree perfectly or
// disagree more than by chance, by what they mean. The lower limit of a mean's
// coefficient may stay −Inf.
func tidy(c Coefficient) Coefficient {
	switch {
	case math.IsInf(c.Estimate, -1):
		return unknown(c.Name, c.Level, "not defined: raters disagree more than by chance")
	case math.IsNaN(c.Estimate) || math.IsInf(c.Estimate, 0):
		c.Estimate, c.Note = math.NaN(), notDefined
	}
	if math.IsInf(c.Lower, -1) && !math.IsInf(c.Upper, 0) && !math.IsNaN(c.Upper) {
		c.Note = joined(c.Note, "no lower limit")
		return c
	}
	if math.IsNaN(c.Lower) || math.IsNaN(c.Upper) || math.IsInf(c.Lower, 0) || math.IsInf(c.Upper, 0) {
		c.Lower, c.Upper, c.Method = math.NaN(), math.NaN(), ""
		if c.Note == "" {
			c.Note = "no interval: there is no residual variation"
		}
	}
	return c
}

// agreementLimits are the limits of icc(a,1); McGraw and Wong (1996), table 7.
func (t meanSquares) agreementLimits(icc, p float64) (lower, upper float64) {
	n, k := t.n, t.k
	f := t.raters / t.residual
	a, b := k*icc*f, n*(1+(k-1)*icc)-k*icc // weights of the two mean squares in the denominator
	df := (a + b) * (a + b) / (a*a/t.raterDF + b*b/t.residualDF)
	fl, fu := fQuantile(p, t.subjectDF, df), fQuantile(p, df, t.subjectDF)
	mixed := k*t.raters + (k*n-k-n)*t.residual
	lower = n * (t.between - fl*t.residual) / (fl*mixed + n*t.between)
	upper = n * (fu*t.between - t.residual) / (mixed + n*fu*t.between)
	return lower, upper
}

func fQuantile(p, d1, d2 float64) float64 {
	if !(d1 > 0) || !(d2 > 0) || math.IsInf(d1, 0) || math.IsInf(d2, 0) {
		return math.NaN()
	}
	return distuv.F{D1: d1, D2: d2}.Quantile(p)
}

// bootstrapICC adds bootstrap intervals of subjects to complete tables'
// coefficients.
func bootstrapICC(ctx context.Context, r Ratings, cs []Coefficient, o Options) error {
	shared := newICCMoments(r)
	ivs, err := bySubjects(ctx, o, "icc", len(r), func() statistic {
		m := shared.copy()
		return func(draw []int) []float64 {
			est := m.squares(draw).estimates()
			return est[:]
		}
	})
	if err != nil {
		return err
	}
	for i := range cs {
		if !math.IsNaN(cs[i].Estimate) {
			cs[i].Others = append(cs[i].Others, ivs[i])
		}
	}
	return nil
}
