package agreement

import (
	"math"
	"testing"
)

// shroutFleiss is table 2 of Shrout and Fleiss (1979), Psychological Bulletin
// 86, 420-428: six targets, four judges.
var shroutFleiss = Ratings{{9, 2, 5, 8}, {6, 1, 3, 2}, {8, 4, 6, 8}, {7, 1, 2, 6}, {10, 5, 6, 9}, {6, 2, 4, 7}}

func TestICCShroutFleiss(t *testing.T) {
	// Their table 4 prints .17 .29 .71 .44 .62 .91; the digits beyond, and the
	// limits, come from R 4.2.2 with packages psych 2.2.9 and irr 0.84.1, which
	// agree with the mean squares by hand. The icc(a,k) limits are the single
	// judge's stepped up by Spearman-Brown.
	want := map[string][5]float64{
		"icc(1,1)": {0.1657417684054754, -0.13293232487475098, 0.722560062328121, 1.7946784922394678, 0.16476880834463969},
		"icc(a,1)": {0.28976377952755905, 0.018786513374712058, 0.7610843696489528, 11.027247956403277, 0.0001345665164843362},
		"icc(c,1)": {0.7148407148407151, 0.3424647650339255, 0.9458582599553595, 11.027247956403277, 0.0001345665164843362},
		"icc(1,k)": {0.4427971336792686, -0.8844421552381201, 0.9124154203407755, 1.7946784922394678, 0.16476880834463969},
		"icc(a,k)": {0.620050547598989, 0.07113681530250353, 0.9272320401677219, 11.027247956403277, 0.0001345665164843362},
		"icc(c,k)": {0.9093155423770695, 0.6756747138163048, 0.9858916781690623, 11.027247956403277, 0.0001345665164843362},
	}
	cs := ICC(shroutFleiss, 0.95)
	for _, c := range cs {
		w := want[c.Name]
		near(t, c.Name, c.Estimate, w[0])
		near(t, c.Name+" lower", c.Lower, w[1])
		near(t, c.Name+" upper", c.Upper, w[2])
		near(t, c.Name+" F", c.Test.Value, w[3])
		if math.Abs(c.Test.P/w[4]-1) > 1e-6 {
			t.Errorf("%s p = %v, want %v", c.Name, c.Test.P, w[4])
		}
	}
	forms := iccForms(cs)
	if len(forms) != 10 {
		t.Fatalf("%d forms, want the ten of McGraw and Wong (1996)", len(forms))
	}
	for _, f := range forms {
		near(t, f.McGrawWong+" "+f.Model, f.Estimate, want[f.Name][0])
	}
}

// A stricter examiner changes absolute agreement and decisions but not
// consistency.
func TestSeverityAndConsistency(t *testing.T) {
	shifted := make(Ratings, len(shroutFleiss))
	for i, row := range shroutFleiss {
		shifted[i] = []float64{row[0], row[1], row[2] + 5, row[3]}
	}
	before, after := ICC(shroutFleiss, 0.95), ICC(shifted, 0.95)
	near(t, "icc(c,1) after adding 5 to one judge", after[2].Estimate, before[2].Estimate)
	near(t, "icc(c,k) after adding 5 to one judge", after[5].Estimate, before[5].Estimate)
	if math.Abs(after[1].Estimate-before[1].Estimate) < 0.01 {
		t.Errorf("icc(a,1) did not move when one judge got more lenient: %v", after[1].Estimate)
	}
	f, err := DecisionFlips(ctx, shroutFleiss, Cut{At: 5}, quick)
	if err != nil {
		t.Fatal(err)
	}
	g, _ := DecisionFlips(ctx, shifted, Cut{At: 5}, quick)
	if f.PairRate.Estimate == g.PairRate.Estimate {
		t.Errorf("flips did not move: %v", f.PairRate.Estimate)
	}
	s, _ := Severities(shroutFleiss, 0.95)
	u, _ := Severities(shifted, 0.95)
	near(t, "the judge's severity falls by 5·3/4", u[2].Estimate-s[2].Estimate, -3.75)
}

func TestICCUnit(t *testing.T) {
	scaled := make(Ratings, len(shroutFleiss))
	for i, row := range shroutFleiss {
		for _, v := range row {
			scaled[i] = append(scaled[i], 1000+60*v)
		}
	}
	a, b := ICC(shroutFleiss, 0.95), ICC(scaled, 0.95)
	for i := range a {
		near(t, a[i].Name+" in another unit", b[i].Estimate, a[i].Estimate)
		near(t, a[i].Name+" upper limit in another unit", b[i].Upper, a[i].Upper)
	}
}

// On a complete table the REML route gives the mean squares of the analysis of
// variance (when no component is at 0), so intervals match too.
func TestREMLEqualsMeanSquares(t *testing.T) {
	a := anova(shroutFleiss)
	b, err := unbalanced(shroutFleiss)
	if err != nil {
		t.Fatal(err)
	}
	within(t, "between", b.between, a.between, 1e-6)
	within(t, "raters", b.raters, a.raters, 1e-6)
	within(t, "residual", b.residual, a.residual, 1e-6)
	within(t, "one-way ratio", b.between/b.within, a.between/a.within, 1e-6)
	x, y := a.coefficients(0.95), b.coefficients(0.95)
	for i := range x {
		within(t, x[i].Name+" by REML", y[i].Estimate, x[i].Estimate, 1e-6)
		within(t, x[i].Name+" lower by REML", y[i].Lower, x[i].Lower, 1e-6)
	}
}

func TestSubjectsWithAGapAreKept(t *testing.T) {
	// R 4.2.2, lme4 1.1.31: lmer(score ~ 1 + (1 | subject) + (1 | rater)) on the
	// table of Shrout and Fleiss without the ratings (1,2) and (4,4); see
	// testdata/agreement/gaps.R.
	r := make(Ratings, len(shroutFleiss))
	for i, row := range shroutFleiss {
		r[i] = append([]float64{}, row...)
	}
	r[0][1], r[3][3] = math.NaN(), math.NaN()
	s, err := Summarise(ctx, r, "interval", quick)
	if err != nil {
		t.Fatal(err)
	}
	want := gapsReference
	if len(s.Components) != len(want) {
		t.Fatalf("components %v", s.Components)
	}
	for _, c := range s.Components {
		within(t, c.Name, c.Estimate, want[c.Name], 1e-5)
	}
	for _, c := range s.Coefficients {
		if c.Name == "icc(a,1)" {
			within(t, c.Name, c.Estimate, want["subject"]/(want["subject"]+want["rater"]+want["residual"]), 1e-5)
			if !(c.Lower < c.Estimate && c.Estimate < c.Upper) {
				t.Errorf("icc(a,1) interval %v to %v", c.Lower, c.Upper)
			}
		}
	}
}

// Raters who disagree more than by chance have no coefficient for their mean,
// and an interval's lower end may be unbounded; neither is a number above 1.
func TestICCOfOppositeRaters(t *testing.T) {
	cs := summarise(t, Ratings{{1, 5}, {2, 4}, {3, 3}, {4, 2}, {5, 1}}, "interval", quick)
	near(t, "icc(c,1)", cs["icc(c,1)"].Estimate, -1)
	for _, name := range []string{"icc(a,k)", "icc(c,k)", "icc(1,k)"} {
		if c := cs[name]; !math.IsNaN(c.Estimate) || c.Note == "" {
			t.Errorf("%s = %v, note %q", name, c.Estimate, c.Note)
		}
	}
	for _, c := range ICC(Ratings{{3, 4}, {3, 5}, {3, 1}, {3, 2}}, 0.95) {
		if c.Lower > c.Estimate || c.Upper < c.Estimate || c.Upper > 1 {
			t.Errorf("%s = %v from %v to %v", c.Name, c.Estimate, c.Lower, c.Upper)
		}
	}
}

func TestTwoSubjects(t *testing.T) {
	for _, scale := range []string{"nominal", "ordinal", "interval", "ratio"} {
		summarise(t, Ratings{{3, 4}, {5, 5}}, scale, quick)
	}
}

// Every subject rated by raters of its own: the one-way forms exist, the two-way
// ones do not. The table is that of Shrout and Fleiss with each judge's column
// taken apart, so that the one-way values stay theirs.
func TestEverySubjectItsOwnRaters(t *testing.T) {
	r := make(Ratings, len(shroutFleiss))
	for i, row := range shroutFleiss {
		r[i] = make([]float64, 24)
		for j := range r[i] {
			r[i][j] = nan
		}
		copy(r[i][4*i:], row)
	}
	cs := summarise(t, r, "interval", quick)
	within(t, "icc(1,1)", cs["icc(1,1)"].Estimate, 0.1657417684054754, 1e-6)
	within(t, "icc(1,1) lower", cs["icc(1,1)"].Lower, -0.13293232487475098, 1e-6)
	within(t, "icc(1,k) of 4", cs["icc(1,k)"].Estimate, 0.4427971336792686, 1e-6)
	if c := cs["icc(a,1)"]; !math.IsNaN(c.Estimate) || c.Note == "" {
		t.Errorf("icc(a,1) = %v, note %q", c.Estimate, c.Note)
	}
}

func TestLimitsOfAgreement(t *testing.T) {
	// Bland and Altman (1986), Lancet 327, 307-310, table 1: mean difference
	// −2.1 l/min, SD 38.8; limits, standard errors (1999 paper) and t intervals
	// from R 4.2.2 base arithmetic, multiplier 1.959964.
	r := read(t, "bland_altman_pefr_1986")
	x, y := column(r, 0), column(r, 2)
	d := LimitsOfAgreement(x, y, 0.95)
	near(t, "mean", d.Mean, -2.1176470588235294)
	near(t, "SD", d.SD, 38.76512987360738)
	near(t, "mean lower", d.MeanLower, -22.048837696645165)
	near(t, "lower limit", d.Lower[0], -78.09590546711172)
	near(t, "upper limit", d.Upper[0], 73.86061134946465)
	near(t, "SE of a limit", d.LimitSE, 16.39490579365342)
	near(t, "lower limit from", d.Lower[1], -112.85155313931085)
	near(t, "lower limit to", d.Lower[2], -43.34025779491259)
	near(t, "upper limit from", d.Upper[1], 39.104963677265516)
	near(t, "upper limit to", d.Upper[2], 108.61625902166378)
	// Repeatability: within-subject standard deviations, R base.
	near(t, "within-subject SD, first meter", WithinSD(column(r, 0), column(r, 1)), 15.306669057866863)
	near(t, "within-subject SD, second meter", WithinSD(column(r, 2), column(r, 3)), 19.91083063236158)
	// Lin (1989); R epiR 2.0.57.
	c := LinCCC(x, y, 0.95)
	near(t, "CCC", c.Estimate, 0.9427424314274845)
	near(t, "CCC SE", c.SE, 0.02861673746064904)
	near(t, "CCC lower", c.Lower, 0.8504918731685606)
	near(t, "CCC upper", c.Upper, 0.9787262791701224)
}

func TestProportionalBias(t *testing.T) {
	// y = 1.2·x exactly: difference −0.2x against mean 1.1x: slope −2/11.
	x := []float64{10, 20, 30, 40, 55}
	y := []float64{12, 24, 36, 48, 66}
	d := LimitsOfAgreement(x, y, 0.95)
	near(t, "slope", d.Slope.Estimate, -2./11)
}

func TestRepeatedLimits(t *testing.T) {
	// By hand: three trainees with pairs' differences (1, 3), (5, 7), (3, 5).
	// Means 2, 6, 4; within 2·3/3 = 2; between MS = 2·(4+4+0)/2 = 8; m0 = 2, so
	// between variance 3 and total 5 around the mean 4.
	diff := []float64{1, 3, 5, 7, 3, 5}
	zero := make([]float64, len(diff))
	d := RepeatedLimits(diff, zero, []int{0, 0, 1, 1, 2, 2}, 0.95)
	near(t, "within", d.Within, 2)
	near(t, "between", d.Between, 3)
	near(t, "upper limit", d.Upper[0], 4+1.959963984540054*math.Sqrt(5))
	// Var(mean) = (2·3 + 2)/6.
	half := 4.302652729749464 * math.Sqrt(8./6) // t with 2 df at 97.5 %
	near(t, "mean lower", d.MeanLower, 4-half)
}

func TestCronbachAlpha(t *testing.T) {
	// R datasets::attitude (Chatterjee and Price, 1977); psych 2.2.9; interval
	// by the formula of Feldt, Woodruff and Salih (1987).
	r := read(t, "cronbach_attitude")
	c := CronbachAlpha(r, 0.95)
	near(t, "alpha", c.Estimate, 0.8431427695647599)
	near(t, "lower", c.Lower, 0.7393756856431073)
	near(t, "upper", c.Upper, 0.9157730721599816)
	near(t, "standardized", StandardizedAlpha(r), 0.8390838030295106)
	dropped := []float64{0.8097602063089214, 0.7969174572741397, 0.827847765938659, 0.8030309750225744, 0.7953865741982052, 0.8638723114464368, 0.8404648682654573}
	for j, v := range AlphaWithout(r) {
		near(t, "alpha without a column", v, dropped[j])
	}
	// icc(c,k) is the same number (McGraw and Wong, 1996).
	near(t, "icc(c,k)", ICC(r, 0.95)[5].Estimate, c.Estimate)
}

func TestOmega(t *testing.T) {
	// R 4.2.2: factanal(attitude, 1), loadings on the correlations; see
	// testdata/agreement/omega.R. Its optimiser stops near 1e-5.
	r := read(t, "cronbach_attitude")
	f := OneFactor(r)
	within(t, "omega", f.Omega, omegaReference, 1e-5)
}

// A second watch that runs 1 s ahead in every performance: the difference is known to be −1, and
// nothing in the table says how much another would vary; rounding of 61.2 − 62.2 is no variation.
func TestDifferencesThatDoNotVary(t *testing.T) {
	x := []float64{61.2, 70.1, 44.4, 52, 58.3}
	y := make([]float64, len(x))
	for i, v := range x {
		y[i] = v + 1
	}
	for _, d := range []Differences{LimitsOfAgreement(x, y, 0.95), LimitsOfAgreement(x[:2], y[:2], 0.95), RepeatedLimits(x, y, []int{0, 0, 1, 1, 2}, 0.95)} {
		near(t, "mean", d.Mean, -1)
		near(t, "lower limit", d.Lower[0], -1)
		near(t, "upper limit", d.Upper[0], -1)
		if d.SD != 0 || d.Note == "" {
			t.Errorf("%+v", d)
		}
		for _, v := range []float64{d.MeanLower, d.MeanUpper, d.Lower[1], d.Lower[2], d.Upper[1], d.Upper[2], d.LimitSE, d.Slope.P, d.SpreadSlope.P} {
			if !math.IsNaN(v) {
				t.Errorf("%v where nothing varies: %+v", v, d)
			}
		}
	}
}
