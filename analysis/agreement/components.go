package agreement

import (
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

// A Component is the variance of one source with its share of the total.
type Component struct {
	Name                string
	Estimate, SE        float64
	Lower, Upper, Share float64
	Untruncated         float64 // what the analysis of variance gives, also when below 0
	Method              string  // of estimate and interval
	Note                string
	contains            []int // facets of the source
}

// shares fills each component's part of the total.
func shares(cs []Component) {
	total := 0.0
	for _, c := range cs {
		total += c.Estimate
	}
	for i := range cs {
		cs[i].Share = cs[i].Estimate / total
	}
}

// scaledChi fills the limits of a variance with Satterthwaite's (1946)
// approximation, Biometrics Bulletin 2, 110-114: estimate·df/χ² with df =
// 2(estimate/SE)². For a component with few levels they are wide, as they
// should be.
func (c *Component) scaledChi(level float64) {
	c.Lower, c.Upper = math.NaN(), math.NaN()
	if !(c.Estimate > 0) || !(c.SE > 0) {
		c.Note = "at 0: no limits"
		return
	}
	df := 2 * c.Estimate * c.Estimate / (c.SE * c.SE)
	if df < 0.05 {
		c.Note = "too uncertain for limits"
		return
	}
	chi := distuv.ChiSquared{K: df}
	c.Lower = c.Estimate * df / chi.Quantile((1+level)/2)
	c.Upper = c.Estimate * df / chi.Quantile((1-level)/2)
	if math.IsInf(c.Upper, 0) || c.Upper > 1e6*c.Estimate {
		c.Upper = math.Inf(1)
	}
}

// twoWay are the components subject, rater and residual of one table, by the
// analysis of variance on a complete table and by REML with gaps.
func twoWay(r Ratings, level float64) ([]Component, error) {
	r = r.rated()
	y, subjects, raters := r.long()
	g := GStudy{Facets: []string{"subject", "rater"}}
	for i, v := range y {
		g.Scores = append(g.Scores, v)
		g.Levels = append(g.Levels, []int{subjects[i], raters[i]})
	}
	res, err := g.Estimate(level)
	return res.Components, err
}

func submatrix(m *mat.SymDense, i, j int) float64 {
	if m == nil {
		return math.NaN()
	}
	return m.At(i, j)
}
