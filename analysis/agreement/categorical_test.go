package agreement

import (
	"math"
	"strings"
	"testing"

	"tyro/analysis/resample"
)

func TestCohenKappa(t *testing.T) {
	// 200 subjects, Cohen (1960): kappa .492; standard errors by the formula of
	// Fleiss, Cohen and Everitt (1969), confirmed with R vcd 1.4.11 and
	// statsmodels 0.13.5 (both errors of every row).
	n200 := [][]float64{{88, 14, 18}, {10, 40, 10}, {2, 6, 12}}
	// Westlund and Kurland (1953) as reanalysed by Landis and Koch (1977),
	// Biometrics 33, 159-174: kappa .208; the rest confirmed with vcd.
	winnipeg := [][]float64{{38, 5, 0, 1}, {33, 11, 3, 0}, {10, 14, 5, 6}, {3, 7, 3, 10}}
	for _, c := range []struct {
		counts        [][]float64
		weights       Weights
		est, se, null float64
	}{
		{n200, Identity, 0.49152542372881347, 0.05100181557607786, 0.051978936356595444},
		{n200, Linear, 0.47368421052631593, 0.05443230917764151, 0.054696341291648784},
		{n200, Quadratic, 0.4545454545454543, 0.06645368159107819, 0.067358667464882546},
		{winnipeg, Identity, 0.20794246404002503, 0.05045536524087698, 0.045607583749543552},
		{winnipeg, Linear, 0.37973054798667877, 0.05166682621833396, 0.053020460713581921},
		{winnipeg, Quadratic, 0.5245764643318392, 0.06005509883179562, 0.072906115585243361},
	} {
		k := CohenKappa(c.counts, c.weights, 0.95)
		near(t, k.Name, k.Estimate, c.est)
		near(t, k.Name+" SE", k.SE, c.se)
		near(t, k.Name+" null SE", k.Test.SE, c.null)
	}
	// Cohen (1968) with disagreement weights 0, 1, 3, 6: weighted kappa .348.
	agree := [][]float64{{1, 5. / 6, 0.5}, {5. / 6, 1, 0}, {0.5, 0, 1}}
	k := KappaWithWeights(n200, agree, 0.95)
	near(t, "custom weights", k.Estimate, 0.3478260869565216)
	near(t, "custom weights SE", k.SE, 0.07550401525482293)
	near(t, "custom weights null SE", k.Test.SE, 0.059719993559526181)
	if p := k.Test.P / 5.7358634578508898e-09; math.Abs(p-1) > 1e-6 {
		t.Errorf("custom weights p = %v", k.Test.P)
	}
	near(t, "custom weights lower", k.Lower, 0.19984093636890587)
	// The same through the whole table, with the weights in the options.
	o := quick
	o.Weights = agree
	cs := summarise(t, expand(n200), "ordinal", o)
	near(t, "weighted-kappa-custom", cs["weighted-kappa-custom"].Estimate, 0.3478260869565216)
	near(t, "weighted-kappa-linear", cs["weighted-kappa-linear"].SE, 0.05443230917764151)
}

func TestFleissKappa(t *testing.T) {
	// Fleiss (1971), Psychological Bulletin 76, table 1: 30 patients, six
	// diagnoses each in five categories; kappa .430, mean agreement 5/9. Null
	// standard error .0243739 by Fleiss, Nee and Landis (1979), z 17.65,
	// category values confirmed with R irr 0.84.1. The paper gives counts only;
	// the rater columns are an arrangement of them, so Conger's and Light's
	// values (R irr::kappam.fleiss exact, kappam.light) test the arithmetic.
	r := read(t, "fleiss_1971_ratings")
	cs := summarise(t, r, "nominal", quick)
	near(t, "fleiss-kappa", cs["fleiss-kappa"].Estimate, 0.43024452006014086)
	near(t, "fleiss null SE", cs["fleiss-kappa"].Test.SE, 0.024373932099411154)
	near(t, "fleiss z", cs["fleiss-kappa"].Test.Value, 17.651830582991369)
	near(t, "percent-agreement", cs["percent-agreement"].Estimate, 5./9)
	near(t, "conger-kappa", cs["conger-kappa"].Estimate, 0.44180854032933303)
	near(t, "light-kappa", cs["light-kappa"].Estimate, 0.45941214443459544)
	kappas := []float64{0.24475524475524479, 0.24475524475524479, 0.52, 0.47112727272727273, 0.56611780682396873}
	shares := []float64{13. / 90, 13. / 90, 15. / 90, 27.5 / 90, 21.5 / 90}
	for q, c := range FleissByCategory(r) {
		near(t, "category kappa", c.Kappa, kappas[q])
		near(t, "category share", c.Share, shares[q])
		near(t, "category null SE", c.Test.SE, 0.047140452079103168)
	}
}

func TestGwetFamilyTwoRaters(t *testing.T) {
	// Gwet (2014), Handbook of Inter-Rater Reliability, 4th edition: two
	// abstractors, 100 subjects; coefficients and standard errors as printed by
	// R irrCAC 1.0 for a table (divisor n, hence the factor). Linear weights
	// from an independent computation with the published formulas.
	r := expand([][]float64{{13, 0, 0}, {0, 20, 7}, {0, 4, 56}})
	toRaw := math.Sqrt(100. / 99)
	cs := summarise(t, r, "ordinal", quick)
	for _, c := range []struct {
		name    string
		est, se float64
	}{
		{"percent-agreement", 0.89, 0.03128898},
		{"brennan-prediger", 0.835, 0.04693346},
		{"scott-pi", 0.7962397, 0.05905473},
		{"gwet-ac1", 0.8493305, 0.04321747},
		{"conger-kappa", 0.7964094, 0.05891072},
		{"brennan-prediger-quadratic", 0.9175, 0.02346673},
		{"gwet-ac2-quadratic", 0.9402369, 0.01792019},
		{"gwet-ac2-linear", 0.9000227221086117, 0.02927560162134577},
		{"brennan-prediger-linear", 0.8762499999999999, 0.03520009765611454},
	} {
		within(t, c.name, cs[c.name].Estimate, c.est, 1e-7)
		within(t, c.name+" SE", cs[c.name].SE, c.se*toRaw, 1e-7)
	}
	near(t, "fleiss-kappa of two raters", cs["fleiss-kappa"].Estimate, 0.7962396962119108)
	near(t, "scott-pi SE", cs["scott-pi"].SE, 0.059352240145549975)
	near(t, "gwet-ac1 lower (t, 99 df)", cs["gwet-ac1"].Lower, 0.763145709647953)
	near(t, "gwet-ac1 upper", cs["gwet-ac1"].Upper, 0.9355153868147392)
	nominal, err := KrippendorffAlpha(ctx, r, "nominal", quick)
	if err != nil {
		t.Fatal(err)
	}
	within(t, "krippendorff nominal", nominal.Estimate, 0.7972585, 1e-7)
	interval, _ := KrippendorffAlpha(ctx, r, "interval", quick)
	within(t, "krippendorff interval", interval.Estimate, 0.8926487, 1e-7)
}

func TestGwetFamilyMissing(t *testing.T) {
	// Gwet (2014), p. 120: 12 subjects, four raters, gaps. Coefficient and
	// standard error as printed by irrCAC 1.0; Conger has no printed value here.
	r := read(t, "krippendorff_4x12")
	cs := summarise(t, r, "ordinal", quick)
	for _, c := range []struct {
		name        string
		est, se, to float64
	}{
		{"percent-agreement", 0.8181818, 0.12561, 1e-5},
		{"gwet-ac1", 0.77544, 0.14295, 1e-5},
		{"fleiss-kappa", 0.76117, 0.15302, 1e-5},
		{"gwet-ac2-quadratic", 0.914, 0.10396, 1e-5},
		// To 1e-9 from an independent computation with the published formulas.
		{"gwet-ac1", 0.775444068126995, 0.1429499506407653, 1e-9},
		{"brennan-prediger", 0.7727272727272727, 0.14471661989948315, 1e-9},
		{"fleiss-kappa", 0.7611692754224112, 0.15301920346949238, 1e-9},
		{"gwet-ac2-linear", 0.8587391364326116, 0.11732902188136354, 1e-9},
		{"gwet-ac2-quadratic", 0.9140007235516046, 0.10396224464505995, 1e-9},
		{"brennan-prediger-quadratic", 0.9015151515151514, 0.11089437497397325, 1e-9},
	} {
		within(t, c.name, cs[c.name].Estimate, c.est, c.to)
		within(t, c.name+" SE", cs[c.name].SE, c.se, c.to)
	}
	if up := cs["gwet-ac1"].Upper; up != 1 {
		t.Errorf("gwet-ac1 upper limit = %v, want 1: an agreement cannot exceed it", up)
	}
}

func TestKrippendorffAlpha(t *testing.T) {
	// Krippendorff (2011), Computing Krippendorff's Alpha-Reliability: .743,
	// .815, .849, .797; further digits from R irr 0.84.1.
	r := read(t, "krippendorff_4x12")
	for scale, want := range map[string]float64{"nominal": 0.743421052631579, "ordinal": 0.8153875037548813, "interval": 0.8491071428571428, "ratio": 0.797402774711612} {
		a, err := KrippendorffAlpha(ctx, r, scale, quick)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "alpha "+scale, a.Estimate, want)
	}
}

func TestBalanceAndSpecificAgreement(t *testing.T) {
	// Feinstein and Cicchetti (1990), Journal of Clinical Epidemiology 43,
	// 543-549: 40, 9, 6, 45; indices by the formulas of Byrt, Bishop and Carlin
	// (1993). By hand: positive agreement 2·40/(2·40+15) = 16/19, negative 6/7.
	r := expand([][]float64{{45, 6}, {9, 40}}) // 1 is yes
	cs := summarise(t, r, "nominal", quick)
	for name, want := range map[string]float64{
		"percent-agreement": 0.85, "cohen-kappa": 0.6995192307692307, "scott-pi": 0.6992481203007519, "gwet-ac1": 0.7007481296758106,
		"pabak": 0.7, "brennan-prediger": 0.7, "prevalence-index": -0.05, "bias-index": 0.03,
		"positive-agreement": 16. / 19, "negative-agreement": 6. / 7,
	} {
		near(t, name, cs[name].Estimate, want)
	}
	near(t, "pabak SE", cs["pabak"].SE, 0.07141428428542851)
	o := quick
	o.LowerPositive = true
	cs = summarise(t, r, "nominal", o)
	near(t, "positive agreement, other way round", cs["positive-agreement"].Estimate, 6./7)
	near(t, "prevalence, other way round", cs["prevalence-index"].Estimate, 0.05)
}

func TestParadox(t *testing.T) {
	// 130/56/9/5: agreement 135/200; kappa by hand from margins 186/14 and
	// 139/61: pe = (186·139 + 14·61)/200²; AC1 with π = (186+139)/400.
	r := expand([][]float64{{5, 9}, {56, 130}})
	cs := summarise(t, r, "nominal", quick)
	pe := (186.*139 + 14*61) / 40000
	π := 325. / 400
	near(t, "percent", cs["percent-agreement"].Estimate, 0.675)
	near(t, "kappa", cs["cohen-kappa"].Estimate, (0.675-pe)/(1-pe))
	near(t, "AC1", cs["gwet-ac1"].Estimate, (0.675-2*π*(1-π))/(1-2*π*(1-π)))
	if s, _ := Summarise(ctx, r, "nominal", quick); !strings.Contains(s.Paradox, "0.022") || !strings.Contains(s.Paradox, "0.53") {
		t.Errorf("the paradox is not explained: %q", s.Paradox)
	}
	even := expand([][]float64{{45, 6}, {9, 40}})
	if s, _ := Summarise(ctx, even, "nominal", quick); s.Paradox != "" {
		t.Errorf("a paradox where there is none: %q", s.Paradox)
	}
}

func TestKendallW(t *testing.T) {
	// R irr::anxiety (20 subjects, three raters, ties): W .54, chi-square 30.8;
	// further digits from stats::friedman.test.
	w := KendallW(read(t, "kendall_w_anxiety"))
	near(t, "W", w.Estimate, 0.5396568759543698)
	near(t, "chi-square", w.Test.Value, 30.760441929399082)
	near(t, "p", w.Test.P, 0.04288347312694789)
}

func TestWithoutVariation(t *testing.T) {
	r := Ratings{{1, 1, 1}, {1, 1, 1}, {1, 1, 1}}
	for _, scale := range []string{"nominal", "ordinal", "interval", "ratio"} {
		s, err := Summarise(ctx, r, scale, quick)
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range s.Coefficients {
			if c.Name == "percent-agreement" {
				near(t, c.Name, c.Estimate, 1)
				continue
			}
			if !math.IsNaN(c.Estimate) || c.Note == "" {
				t.Errorf("%s, %s of all-equal ratings = %v with note %q, want none and a reason", scale, c.Name, c.Estimate, c.Note)
			}
		}
		if len(s.Warnings) == 0 {
			t.Errorf("%s: no warning about ratings that are all the same", scale)
		}
	}
}

// Relabelling raters, reordering rows and doubling every subject change no
// estimate (doubling: of those that depend on shares only).
func TestInvariances(t *testing.T) {
	r := read(t, "krippendorff_4x12")[:10]
	swapped := make(Ratings, len(r))
	for i, row := range r {
		swapped[len(r)-1-i] = []float64{row[2], row[0], row[3], row[1]}
	}
	doubled := append(append(Ratings{}, r...), r...)
	ordinal := summarise(t, r, "ordinal", quick)
	for name, c := range summarise(t, swapped, "ordinal", quick) {
		within(t, name+" with raters and rows in another order", c.Estimate, ordinal[name].Estimate, 1e-7)
	}
	nominal := summarise(t, r, "nominal", quick)
	for name, c := range summarise(t, doubled, "nominal", quick) {
		if name != "krippendorff-alpha" { // it corrects for the number of values
			near(t, name+" of doubled subjects", c.Estimate, nominal[name].Estimate)
		}
	}
	// Two codes for the same categories.
	recoded := make(Ratings, len(r))
	for i, row := range r {
		recoded[i] = []float64{7 * row[0], 7 * row[1], 7 * row[2], 7 * row[3]}
	}
	for name, c := range summarise(t, recoded, "ordinal", quick) {
		if !strings.Contains(name, "standard-error") && !strings.Contains(name, "smallest") && !strings.HasPrefix(name, "specific") {
			within(t, name+" in another unit", c.Estimate, ordinal[name].Estimate, 1e-7)
		}
	}
}

func TestTooFew(t *testing.T) {
	for what, r := range map[string]Ratings{"one rater": {{1}, {2}}, "one subject": {{1, 2, 3}}, "none": {}, "no pairs": {{1, math.NaN()}, {math.NaN(), 2}}} {
		s, err := Summarise(ctx, r, "ordinal", quick)
		if err != nil || len(s.Warnings) == 0 || len(s.Coefficients) != 0 {
			t.Errorf("%s: %d coefficients, warnings %v, error %v", what, len(s.Coefficients), s.Warnings, err)
		}
	}
}

// The bootstrap over raters does not mistake two copies of a rater for
// agreement: on ratings that agree by chance only, its middle stays at 0.
func TestBothBootstrapIsNotFooledByCopies(t *testing.T) {
	rnd := resample.Stream(4, "test", 0)
	var r Ratings
	for range 60 {
		r = append(r, []float64{float64(rnd.IntN(2)), float64(rnd.IntN(2)), float64(rnd.IntN(2)), float64(rnd.IntN(2)), float64(rnd.IntN(2)), float64(rnd.IntN(2))})
	}
	cs := summarise(t, r, "nominal", Options{Sampling: resample.Sampling{Seed: 1, Replicates: 400}})
	iv := cs["conger-kappa"].Others[1]
	if iv.Over != OverBoth || !(iv.Lower < 0 && iv.Upper > 0 && iv.Upper < 0.25) {
		t.Errorf("bootstrap over raters of chance agreement: %+v", iv)
	}
}

func TestSameOnAnyNumberOfWorkers(t *testing.T) {
	r := read(t, "fleiss_1971_ratings")
	one := summarise(t, r, "nominal", Options{Sampling: resample.Sampling{Seed: 3, Replicates: 60, Workers: 1}})
	four := summarise(t, r, "nominal", Options{Sampling: resample.Sampling{Seed: 3, Replicates: 60, Workers: 4}})
	for name, c := range one {
		if d := four[name]; c.Lower != d.Lower && !(math.IsNaN(c.Lower) && math.IsNaN(d.Lower)) {
			t.Errorf("%s: lower limit %v on one worker, %v on four", name, c.Lower, d.Lower)
		}
	}
}

// Raters who agree on one of six subjects: 1/6 with a standard error of √(5/36/5) = 1/6, and Student's t with
// 5 degrees of freedom is 2.57, so that the lower limit would be -0.26. No share is below 0, and no
// coefficient below -1.
func TestLimitsEndWhereCoefficientsDo(t *testing.T) {
	s, err := Summarise(ctx, Ratings{{1, 0}, {0, 1}, {0, 0}, {1, 0}, {1, 0}, {1, 0}}, "nominal", quick)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range s.Coefficients {
		least := -1.0
		if c.Name == "percent-agreement" {
			least = 0
			near(t, "SE", c.SE, 1./6)
		}
		if c.Name != "prevalence-index" && c.Name != "bias-index" && c.Lower < least {
			t.Errorf("%s: %v, from %v", c.Name, c.Estimate, c.Lower)
		}
	}
}
