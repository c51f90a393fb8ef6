package agreement

import (
	"encoding/csv"
	"gonum.org/v1/gonum/stat"
	"math"
	"os"
	"strconv"
	"testing"
)

// From lme4 1.1.31 under R 4.2.2, see testdata/agreement/gaps.R.
var gapsReference = map[string]float64{"subject": 2.940208071, "rater": 4.550601716, "residual": 0.9314052934}

var nestedReference = map[string]float64{"trainee": 31.48326, "performance in trainee": 14.284246, "rater": 19.193528, "trainee × rater": 1.297852, "residual": 15.562383}

// From factanal in R 4.2.2, see testdata/agreement/omega.R.
const omegaReference = 0.8563267942

// study reads a long file: the columns named, then score.
func study(t *testing.T, name string, facets ...string) GStudy {
	t.Helper()
	f, err := os.Open("../../testdata/agreement/" + name + ".csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	g := GStudy{Facets: facets}
	at := make([]map[string]int, len(facets))
	for _, row := range rows[1:] {
		var level []int
		for j := range facets {
			if at[j] == nil {
				at[j] = map[string]int{}
			}
			if _, ok := at[j][row[j]]; !ok {
				at[j][row[j]] = len(at[j])
			}
			level = append(level, at[j][row[j]])
		}
		v, err := strconv.ParseFloat(row[len(row)-1], 64)
		if err != nil {
			t.Fatal(err)
		}
		g.Levels, g.Scores = append(g.Levels, level), append(g.Scores, v)
	}
	return g
}

func components(r GResult) map[string]Component {
	out := map[string]Component{}
	for _, c := range r.Components {
		out[c.Name] = c
	}
	return out
}

func TestGStudyOneFacet(t *testing.T) {
	// Brennan (2001), Generalizability Theory, tables 2.2 and 2.3: .0574, .0754,
	// .1269; with 12 items G .8445, phi .7730. Further digits from the mean
	// squares; R lme4 agrees to 1e-7.
	r := read(t, "gstudy_brennan_2001_table_2_2")
	cs := summarise(t, r, "interval", quick)
	near(t, "G", cs["g-coefficient"].Estimate, 0.844494892167991)
	near(t, "phi", cs["phi-coefficient"].Estimate, 0.7730235194105979)
	near(t, "SEM", cs["standard-error-of-measurement"].Estimate, 0.4497474038532377)
	near(t, "SDC", cs["smallest-detectable-change"].Estimate, 1.246613293983082)
	near(t, "SEM, relative", cs["standard-error-of-measurement-consistency"].Estimate, 0.35616267610721347)
	y, p, i := r.long()
	g := GStudy{Facets: []string{"person", "item"}, Scores: y}
	for at := range y {
		g.Levels = append(g.Levels, []int{p[at], i[at]})
	}
	res, err := g.Estimate(0.95)
	if err != nil {
		t.Fatal(err)
	}
	c := components(res)
	near(t, "person", c["person"].Estimate, 0.0574074074074074)
	near(t, "item", c["item"].Estimate, 0.07542087542087542)
	near(t, "residual", c["residual"].Estimate, 0.12685185185185185)
	for n, want := range map[float64][4]float64{
		1: {0.3115577889447236, 0.2210696920583468, 0.35616267610721347, 0.4497474038532377},
		4: {0.6441558441558441, 0.5316702397193529, 0.17808133805360674, 0.22487370192661885},
	} {
		d := res.Decide([]float64{n})
		near(t, "G", d.G, want[0])
		near(t, "phi", d.Phi, want[1])
		near(t, "relative SEM", d.SEMRelative, want[2])
		near(t, "absolute SEM", d.SEMAbsolute, want[3])
	}
	// The residual has 99 degrees of freedom: exact chi-square limits
	// 99·0.126852/χ², quantiles 128.422 and 73.361 (R qchisq).
	within(t, "residual lower", c["residual"].Lower, 99*0.12685185185185185/128.42198864, 1e-6)
	within(t, "residual upper", c["residual"].Upper, 99*0.12685185185185185/73.36108017, 1e-6)
}

func TestGStudyTwoFacets(t *testing.T) {
	// Gleser, Cronbach and Rajaratnam (1965), Psychometrika 30, 395-418, table 3
	// (R psych::Gleser); mean squares confirmed with stats::aov.
	res, err := study(t, "gstudy_gleser_1965_pxixr", "p", "i", "r").Estimate(0.95)
	if err != nil {
		t.Fatal(err)
	}
	want := map[string]float64{"p": 0.4186868686868683, "i": 0.4671717171717171, "r": -0.014141414141414201, "p × i": 0.42727272727272775, "p × r": 0.1919191919191925, "i × r": 0.020454545454545458, "residual": 0.6212121212121205}
	for name, v := range want {
		near(t, name, components(res)[name].Untruncated, v)
	}
	if len(res.Warnings) != 1 || components(res)["r"].Estimate != 0 {
		t.Errorf("the rater component below 0 is not set to 0 and said: %v", res.Warnings)
	}
	for raters, w := range map[float64][4]float64{
		1: {0.5331189710610926, 0.4831236948181239, 0.3666666666666672, 0.44793771043771097},
		2: {0.6566336633663361, 0.583785687039699, 0.21893939393939424, 0.2985058922558925},
		6: {0.776580796252927, 0.6779568610079392, 0.1204545454545456, 0.19888468013468028},
	} {
		d := res.Decide([]float64{6, raters})
		near(t, "G", d.G, w[0])
		near(t, "phi", d.Phi, w[1])
		near(t, "relative error", d.RelativeVariance, w[2])
		near(t, "absolute error", d.AbsoluteVariance, w[3])
	}
}

// byName fits by REML whatever the balance.
func byREML(t *testing.T, g GStudy) map[string]Component {
	t.Helper()
	res := GResult{level: 0.95, facets: g.Facets, fixed: make([]bool, len(g.Facets)), Sizes: make([]float64, len(g.Facets))}
	counts := make([]int, len(g.Facets))
	for _, l := range g.Levels {
		for f := range counts {
			counts[f] = max(counts[f], l[f]+1)
		}
	}
	res.nested = g.nesting(counts)
	if err := res.byREML(g); err != nil {
		t.Fatal(err)
	}
	return components(res)
}

func TestREMLAtTheBound(t *testing.T) {
	// lme4 1.1.31, see testdata/agreement/gaps.R: the rater component is 0.
	got := byREML(t, study(t, "gstudy_gleser_1965_pxixr", "p", "i", "r"))
	for name, want := range map[string]float64{"p": 0.4243392935, "i": 0.4686849467, "r": 0, "p × i": 0.4263923898, "p × r": 0.1806141354, "i × r": 0.01742834397, "residual": 0.6229728047} {
		within(t, name, got[name].Estimate, want, 2e-5)
	}
}

// In balanced designs whose estimates are above 0 REML is the analysis of
// variance, and the inverse of the expected information is the covariance of
// linear combinations of independent mean squares.
func TestREMLBalanced(t *testing.T) {
	y, p, i := read(t, "gstudy_brennan_2001_table_2_2").long()
	g := GStudy{Facets: []string{"person", "item"}, Scores: y}
	for at := range y {
		g.Levels = append(g.Levels, []int{p[at], i[at]})
	}
	exact, err := g.Estimate(0.95)
	if err != nil {
		t.Fatal(err)
	}
	for name, c := range byREML(t, g) {
		w := components(exact)[name]
		within(t, name, c.Estimate, w.Estimate, 1e-7)
		within(t, name+" SE", c.SE, w.SE, 1e-5)
	}
}

func TestNestedUnbalanced(t *testing.T) {
	// lme4 1.1.31, see testdata/agreement/gaps.R: performances within trainees,
	// three raters crossed, two ratings lost.
	res, err := study(t, "nested", "trainee", "performance", "rater").Estimate(0.95)
	if err != nil {
		t.Fatal(err)
	}
	if res.Design != "trainee × rater, performance in trainee" || res.Balanced {
		t.Errorf("design %q, balanced %v", res.Design, res.Balanced)
	}
	got := components(res)
	for name, want := range nestedReference {
		within(t, name, got[name].Estimate, want, 2e-5)
	}
	within(t, "performances of a trainee", res.Sizes[1], 3, 1e-12)
	// By hand from the components: error of one performance by one rater.
	d := res.Decide([]float64{1, 1})
	rel := nestedReference["performance in trainee"] + nestedReference["trainee × rater"] + nestedReference["residual"]
	within(t, "relative error", d.RelativeVariance, rel, 1e-5)
	within(t, "absolute error", d.AbsoluteVariance, rel+nestedReference["rater"], 1e-5)
	if !(d.PhiLower < d.Phi && d.Phi < d.PhiUpper) {
		t.Errorf("phi %v from %v to %v", d.Phi, d.PhiLower, d.PhiUpper)
	}
}

func TestCheaperWayToTheTarget(t *testing.T) {
	// Components 4 (trainee), 1 (performance), 1 (residual = rater by
	// performance in trainee): phi of n performances by m raters is
	// 4/(4 + 1/n + 1/(n·m)), and 0.8 needs 1/n + 1/(nm) ≤ 1: 2 performances by
	// 1 rater or 1 performance by no finite number of raters.
	res := GResult{
		facets: []string{"trainee", "performance", "rater"}, fixed: make([]bool, 3), Sizes: []float64{10, 2, 2}, level: 0.95,
		Components: []Component{{Name: "trainee", Estimate: 4, contains: []int{0}}, {Name: "performance in trainee", Estimate: 1, contains: []int{0, 1}}, {Name: "residual", Estimate: 1, contains: []int{0, 1, 2}}},
	}
	table, err := res.Table([]int{4, 5}, &Costs{Level: []float64{50, 0}, Rating: 10}, 0.8)
	if err != nil {
		t.Fatal(err)
	}
	if len(table.Rows) != 20 {
		t.Fatalf("%d rows, want 20", len(table.Rows))
	}
	c := table.Cheapest
	if c == nil || c.Numbers[0] != 2 || c.Numbers[1] != 1 || c.Cost != 120 {
		t.Errorf("cheapest %+v, want 2 performances by 1 rater for 120", c)
	}
	if none, _ := res.Table([]int{1, 5}, nil, 0.9); none.Cheapest != nil {
		t.Errorf("a way to 0.9 where there is none: %+v", none.Cheapest)
	}
}

func TestGStudyRefuses(t *testing.T) {
	for what, g := range map[string]GStudy{
		"one rater":    {Facets: []string{"p", "r"}, Levels: [][]int{{0, 0}, {1, 0}, {2, 0}}, Scores: []float64{1, 2, 3}},
		"no variation": {Facets: []string{"p", "r"}, Levels: [][]int{{0, 0}, {0, 1}, {1, 0}, {1, 1}}, Scores: []float64{2, 2, 2, 2}},
		"one facet":    {Facets: []string{"p"}, Levels: [][]int{{0}, {1}, {2}}, Scores: []float64{1, 2, 3}},
	} {
		if _, err := g.Estimate(0.95); err == nil {
			t.Errorf("%s: no error", what)
		}
	}
}

func TestFixedFacet(t *testing.T) {
	// With the items fixed their interaction with persons belongs to what is
	// measured: universe 2 + 3/6, relative error (1 + 4/6)/raters... by hand.
	res := GResult{
		facets: []string{"p", "i", "r"}, fixed: []bool{false, true, false}, Sizes: []float64{10, 6, 2}, level: 0.95,
		Components: []Component{{Estimate: 2, contains: []int{0}}, {Estimate: 3, contains: []int{0, 1}}, {Estimate: 1, contains: []int{0, 2}}, {Estimate: 5, contains: []int{1}}, {Estimate: 4, contains: []int{0, 1, 2}}},
	}
	d := res.Decide([]float64{6, 2})
	near(t, "relative error", d.RelativeVariance, 1./2+4./12)
	near(t, "G", d.G, 2.5/(2.5+5./6))
	near(t, "absolute error leaves fixed items out", d.AbsoluteVariance, 5./6)
	if math.IsNaN(d.Phi) {
		t.Error("phi is missing")
	}
}

// Two raters alike leave no residual and no rater variance, whatever rounding says: the variance
// between subjects is that of the scores.
func TestGStudyOfRatersAlike(t *testing.T) {
	var g GStudy
	g.Facets = []string{"subject", "rater"}
	scores := []float64{61.2, 70.1, 44.4, 52, 58.3}
	for i, v := range scores {
		for k := range 2 {
			g.Scores, g.Levels = append(g.Scores, v), append(g.Levels, []int{i, k})
		}
	}
	res, err := g.Estimate(0.95)
	if err != nil {
		t.Fatal(err)
	}
	c := components(res)
	near(t, "subject", c["subject"].Estimate, stat.Variance(scores, nil))
	for _, name := range []string{"rater", "residual"} {
		if v := c[name]; v.Estimate != 0 || !math.IsNaN(v.Lower) || !math.IsNaN(v.Upper) {
			t.Errorf("%s %+v", name, v)
		}
	}
	if len(res.Warnings) > 0 {
		t.Errorf("warnings %v", res.Warnings)
	}
}
