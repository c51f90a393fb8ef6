package agreement

import (
	"context"
	"math"
	"testing"

	"tyro/analysis/resample"
)

// near asks for agreement to 1e-9 relative, as the sources allow.
func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if !(math.Abs(got-want) <= 1e-9*math.Max(1, math.Abs(want))) {
		t.Errorf("%s = %.12g, want %.12g", what, got, want)
	}
}

// shroutFleiss is table 2 of Shrout and Fleiss (1979), Psychological Bulletin
// 86, 420-428: six targets, four judges.
var shroutFleiss = Ratings{{9, 2, 5, 8}, {6, 1, 3, 2}, {8, 4, 6, 8}, {7, 1, 2, 6}, {10, 5, 6, 9}, {6, 2, 4, 7}}

func TestICCShroutFleiss(t *testing.T) {
	// Their table 4 prints .17 .29 .71 .44 .62 .91; the digits beyond, and the
	// limits, come from R 4.2.2 with packages psych 2.2.9 and irr 0.84.1, which
	// agree with the mean squares by hand. The icc(a,k) limits are the single
	// judge's stepped up by Spearman-Brown.
	want := map[string][3]float64{
		"icc(1,1)": {0.1657417684054754, -0.13293232487475098, 0.722560062328121},
		"icc(a,1)": {0.28976377952755905, 0.018786513374712058, 0.7610843696489528},
		"icc(c,1)": {0.7148407148407151, 0.3424647650339255, 0.9458582599553595},
		"icc(1,k)": {0.4427971336792686, -0.8844421552381201, 0.9124154203407755},
		"icc(a,k)": {0.620050547598989, 0.07113681530250353, 0.9272320401677219},
		"icc(c,k)": {0.9093155423770695, 0.6756747138163048, 0.9858916781690623},
	}
	for _, c := range ICC(shroutFleiss, 0.95) {
		w := want[c.Name]
		near(t, c.Name, c.Estimate, w[0])
		near(t, c.Name+" lower", c.Lower, w[1])
		near(t, c.Name+" upper", c.Upper, w[2])
	}
}

func TestCohenKappa(t *testing.T) {
	// 200 subjects, Cohen (1960): kappa .492; standard errors by the formula of
	// Fleiss, Cohen and Everitt (1969), confirmed with R vcd 1.4.11 and
	// statsmodels 0.13.5.
	n200 := [][]float64{{88, 14, 18}, {10, 40, 10}, {2, 6, 12}}
	// Westlund and Kurland (1953) as reanalysed by Landis and Koch (1977),
	// Biometrics 33, 159-174: kappa .208; the rest confirmed with vcd.
	winnipeg := [][]float64{{38, 5, 0, 1}, {33, 11, 3, 0}, {10, 14, 5, 6}, {3, 7, 3, 10}}
	for _, c := range []struct {
		counts  [][]float64
		weights Weights
		est, se float64
	}{
		{n200, Identity, 0.49152542372881347, 0.05100181557607786},
		{n200, Linear, 0.47368421052631593, 0.05443230917764151},
		{n200, Quadratic, 0.4545454545454543, 0.06645368159107819},
		{winnipeg, Identity, 0.20794246404002503, 0.05045536524087698},
		{winnipeg, Linear, 0.37973054798667877, 0.05166682621833396},
		{winnipeg, Quadratic, 0.5245764643318392, 0.06005509883179562},
	} {
		k := CohenKappa(c.counts, c.weights, 0.95)
		near(t, k.Name, k.Estimate, c.est)
		near(t, k.Name+" SE", k.SE, c.se)
	}
	// Cohen (1968) with disagreement weights 0, 1, 3, 6: weighted kappa .348.
	agree := [][]float64{{1, 5. / 6, 0.5}, {5. / 6, 1, 0}, {0.5, 0, 1}}
	k := KappaWithWeights(n200, agree, 0.95)
	near(t, "custom weights", k.Estimate, 0.3478260869565216)
	near(t, "custom weights SE", k.SE, 0.07550401525482293)
}

func TestFleissKappa(t *testing.T) {
	// Fleiss (1971), Psychological Bulletin 76, table 1: 30 patients, six
	// diagnoses each in five categories; kappa .430, mean agreement 5/9.
	counts := [][]int{
		{0, 0, 0, 6, 0}, {0, 3, 0, 0, 3}, {0, 1, 4, 0, 1}, {0, 0, 0, 0, 6}, {0, 3, 0, 3, 0}, {2, 0, 4, 0, 0},
		{0, 0, 4, 0, 2}, {2, 0, 3, 1, 0}, {2, 0, 0, 4, 0}, {0, 0, 0, 0, 6}, {1, 0, 0, 5, 0}, {1, 1, 0, 4, 0},
		{0, 3, 3, 0, 0}, {1, 0, 0, 5, 0}, {0, 2, 0, 3, 1}, {0, 0, 5, 0, 1}, {3, 0, 0, 1, 2}, {5, 1, 0, 0, 0},
		{0, 2, 0, 4, 0}, {1, 0, 2, 0, 3}, {0, 0, 0, 0, 6}, {0, 1, 0, 5, 0}, {0, 2, 0, 1, 3}, {2, 0, 0, 4, 0},
		{1, 0, 0, 4, 1}, {0, 5, 0, 1, 0}, {4, 0, 0, 0, 2}, {0, 2, 0, 4, 0}, {1, 0, 5, 0, 0}, {0, 0, 0, 0, 6},
	}
	var r Ratings
	for _, row := range counts {
		var line []float64
		for cat, n := range row {
			for range n {
				line = append(line, float64(cat))
			}
		}
		r = append(r, line)
	}
	near(t, "fleiss-kappa", fleissKappa(r, r.categories()), 0.43024452006014086)
	near(t, "percent-agreement", percentAgreement(r, r.categories()), 5./9)
}

func TestNoVariation(t *testing.T) {
	r := Ratings{{1, 1}, {1, 1}, {1, 1}}
	for _, scale := range []string{"nominal", "ordinal", "interval"} {
		s, err := Summarise(context.Background(), r, scale, Options{Plan: resample.Plan{Replicates: 50}})
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range s.Coefficients {
			if c.Name == "percent-agreement" {
				near(t, c.Name, c.Estimate, 1)
				continue
			}
			if !math.IsNaN(c.Estimate) || c.Note == "" {
				t.Errorf("%s of all-equal ratings = %v with note %q, want none and a reason", c.Name, c.Estimate, c.Note)
			}
		}
	}
}

// A stricter examiner changes absolute agreement but not consistency.
func TestSeverityAndConsistency(t *testing.T) {
	shifted := make(Ratings, len(shroutFleiss))
	for i, row := range shroutFleiss {
		shifted[i] = []float64{row[0], row[1], row[2] + 5, row[3]}
	}
	before, after := ICC(shroutFleiss, 0.95), ICC(shifted, 0.95)
	near(t, "icc(c,1) after adding 5 to one judge", after[2].Estimate, before[2].Estimate)
	if math.Abs(after[1].Estimate-before[1].Estimate) < 0.01 {
		t.Errorf("icc(a,1) did not move when one judge got stricter: %v", after[1].Estimate)
	}
}
