package standard

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
)

// TestExpertMeanAgainstR: fourteen experts, time and score, five ways of
// dropping, 0 to 2 SD.
func TestExpertMeanAgainstR(t *testing.T) {
	e := loadExpected(t)
	for _, measure := range []string{"time_s", "score"} {
		values := column(t, "expert_benchmark.csv", measure)
		for name, drop := range map[string]Drop{"all": {}, "trim10": {Trim: 0.1}, "trim20": {Trim: 0.2}, "sd2": {SDs: 2}, "mad3.5": {MADs: 3.5}} {
			for k := range 3 {
				got, err := ExpertMean(values, ExpertRule{Lower: measure == "time_s", SDs: float64(k), Drop: drop})
				if err != nil {
					t.Fatal(err)
				}
				tag := fmt.Sprintf("expert/%s/%s/%d", measure, name, k)
				e.near(t, tag+"/n", 0, float64(got.N))
				e.near(t, tag+"/cut", 1e-12, got.Value)
				e.near(t, tag+"/se", 1e-12, got.SE)
				e.near(t, tag+"/interval", 1e-11, got.Lower, got.Upper)
			}
		}
	}
	values := column(t, "expert_benchmark.csv", "time_s")
	for _, p := range []float64{0.25, 0.5, 0.75} {
		got, err := ExpertPercentile(values, p, ExpertRule{})
		if err != nil {
			t.Fatal(err)
		}
		e.near(t, fmt.Sprintf("expert/percentile/%g", p), 1e-12, got.Value)
	}
}

// TestHalfWidths: the 95 % half-width of a mean in SD is t/√n: 1.24 for 5
// experts, 0.72 for 10, 0.51 for 17, 0.37 for 30 (t tables).
func TestHalfWidths(t *testing.T) {
	for n, want := range map[int]float64{5: 1.24, 10: 0.72, 17: 0.51, 30: 0.37} {
		x := make([]float64, n)
		for i := range x {
			x[i] = float64(i)
		}
		got, err := ExpertMean(x, ExpertRule{})
		if err != nil {
			t.Fatal(err)
		}
		closeTo(t, fmt.Sprint(n, " experts"), math.Round(100*(got.Upper-got.Value)/got.SD)/100, want, 1e-9)
	}
}

// TestRuleCannotAct: of n values none is further than (n − 1)/√n SD from the
// mean: 1.789 for 5, 2.041 for 6, 2.846 for 10.
func TestRuleCannotAct(t *testing.T) {
	for n, want := range map[int]float64{5: 1.789, 6: 2.041, 10: 2.846} {
		closeTo(t, fmt.Sprint(n), math.Round(1000*LargestZ(n))/1000, want, 1e-9)
	}
	far := []float64{50, 51, 52, 53, 500}
	got, err := ExpertMean(far, ExpertRule{Drop: Drop{SDs: 2}})
	if err != nil || got.Dropped != 0 || !has(got.Warnings, "rule-cannot-act", "at least 6") {
		t.Errorf("2 SD with five experts: dropped %d, warnings %v (%v)", got.Dropped, got.Warnings, err)
	}
	if got, _ = ExpertMean(append(far, 52), ExpertRule{Drop: Drop{SDs: 2}}); got.Dropped != 1 || len(got.Warnings) != 0 {
		t.Errorf("2 SD with six: dropped %d, warnings %v", got.Dropped, got.Warnings)
	}
	if got, _ = ExpertMean(append([]float64{math.NaN()}, far...), ExpertRule{Drop: Drop{MADs: 3.5}}); got.Dropped != 1 || !slices.Equal(got.Kept, []bool{false, true, true, true, true, false}) {
		t.Errorf("3.5 MAD with five: dropped %d, kept %v, want 1, the last", got.Dropped, got.Kept)
	}
	if got, _ = ExpertMean(far, ExpertRule{Drop: Drop{Trim: 0.1}}); !has(got.Warnings, "rule-cannot-act", "at least 10") {
		t.Errorf("trimming 10 %% of five: warnings %v", got.Warnings)
	}
}

// TestOrderLimits: without an assumption a 95 % interval of the median takes 6
// values, and of 10 it runs from the 2nd to the 9th (Hahn and Meeker, 1991,
// table A.15a; P = 1 − 2·11/1024).
func TestOrderLimits(t *testing.T) {
	if _, _, need := orderLimits(5, 0.5, 0.95); need != 6 {
		t.Errorf("need %d, want 6", need)
	}
	if l, u, _ := orderLimits(10, 0.5, 0.95); l != 2 || u != 9 {
		t.Errorf("ranks %d and %d, want 2 and 9", l, u)
	}
	got, err := ExpertPercentile([]float64{1, 2, 3, 4, 5}, 0.5, ExpertRule{})
	if err != nil || got.Value != 3 || !math.IsNaN(got.Lower) || !has(got.Warnings, "too-few-experts", "at least 6") {
		t.Errorf("five experts: %+v (%v)", got, err)
	}
}

// TestMaritzJarrettByHand: the median of a bootstrap sample of three values 0,
// 1, 2 is the middle one: 0 with chance 7/27, 1 with 13/27, 2 with 7/27, so its
// standard deviation is √(14/27).
func TestMaritzJarrettByHand(t *testing.T) {
	closeTo(t, "SE of the median", maritzJarrett([]float64{0, 1, 2}, 0.5), math.Sqrt(14.0/27), 1e-12)
}

// TestNoncentralT: for shift 0 it is Student's; P(T ≤ 0) is Φ(−shift); and by
// reflection P(T ≤ q; shift) = 1 − P(T ≤ −q; −shift).
func TestNoncentralT(t *testing.T) {
	for _, df := range []float64{1, 2, 4, 13, 60} {
		s := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: df}
		for _, q := range []float64{-3, -0.5, 0.2, 2.5} {
			closeTo(t, "central", noncentralCDF(q, df, 0), s.CDF(q), 1e-12)
			closeTo(t, "reflected", noncentralCDF(q, df, 1.7), 1-noncentralCDF(-q, df, -1.7), 1e-12)
		}
		closeTo(t, "at 0", noncentralCDF(0, df, 2.2), distuv.UnitNormal.CDF(-2.2), 1e-12)
	}
}

// TestExpertMeanLog: the log scale is the plain rule on logarithms; for 1, e and
// e² with one SD it is e² = exp(1 + 1).
func TestExpertMeanLog(t *testing.T) {
	got, err := ExpertMean([]float64{1, math.E, math.E * math.E}, ExpertRule{Lower: true, SDs: 1, Log: true})
	if err != nil {
		t.Fatal(err)
	}
	plain, err := ExpertMean([]float64{0, 1, 2}, ExpertRule{Lower: true, SDs: 1})
	if err != nil {
		t.Fatal(err)
	}
	closeTo(t, "standard", got.Value, math.E*math.E, 1e-12)
	closeTo(t, "lower", math.Log(got.Lower), plain.Lower, 1e-12)
	closeTo(t, "upper", math.Log(got.Upper), plain.Upper, 1e-12)
	if _, err := ExpertMean([]float64{0, 1}, ExpertRule{Log: true}); err == nil {
		t.Error("the logarithm of 0: no error")
	}
}

func TestSummaries(t *testing.T) {
	runs := [][]float64{{90, 60, 50}, {70}, {80, math.NaN(), 40}}
	for how, want := range map[string][2]float64{"mean": {55, 40}, "median": {55, 40}, "best": {50, 40}, "last": {50, 40}} {
		got, err := Summaries(runs, how, 1, true)
		if err != nil || got[0] != want[0] || !math.IsNaN(got[1]) || got[2] != want[1] {
			t.Errorf("%s: %v (%v)", how, got, err)
		}
	}
	if _, err := Summaries(runs, "worst", 0, true); err == nil {
		t.Error("an unknown summary: no error")
	}
}

func TestExpertEdges(t *testing.T) {
	one, err := ExpertMean([]float64{50}, ExpertRule{Lower: true, SDs: 1})
	if err != nil || !math.IsNaN(one.Value) || !has(one.Warnings, "one-expert", "") {
		t.Errorf("one expert and 1 SD: %+v (%v)", one, err)
	}
	// A median distance of one expert is as unknown as a standard deviation, not 0.
	median, err := ExpertMedian(ctx, []float64{50}, ExpertRule{Lower: true, SDs: 1}, sampling)
	if err != nil || !math.IsNaN(median.Value) || !has(median.Warnings, "one-expert", "sets no standard") {
		t.Errorf("one expert and 1 median distance: %+v (%v)", median, err)
	}
	same, err := ExpertMean([]float64{50, 50, 50}, ExpertRule{})
	if err != nil || same.Value != 50 || !has(same.Warnings, "experts-equal", "") {
		t.Errorf("equal experts: %+v (%v)", same, err)
	}
	if _, err := ExpertMean([]float64{math.NaN()}, ExpertRule{}); err == nil {
		t.Error("no known value: no error")
	}
	if _, err := ExpertMean([]float64{1, math.Inf(1)}, ExpertRule{}); err == nil {
		t.Error("an infinite value: no error")
	}
	if _, err := ExpertPercentile([]float64{1, 2}, 1, ExpertRule{}); err == nil {
		t.Error("percentile 100: no error")
	}
}

// TestExpertMedianMAD: 1 … 9 has median 5 and distances 0 1 1 2 2 3 3 4 4, so
// the scaled MAD is 2·1.4826.
func TestExpertMedianMAD(t *testing.T) {
	x := []float64{9, 1, 8, 2, 7, 3, 6, 4, 5}
	got, err := ExpertMedian(ctx, x, ExpertRule{Lower: true, SDs: 2}, sampling)
	if err != nil {
		t.Fatal(err)
	}
	closeTo(t, "median + 2 MAD", got.Value, 5+4*1.4826, 1e-12)
	if !has(got.Warnings, "few-experts", "9 experts") {
		t.Errorf("warnings %v", got.Warnings)
	}
	if !(got.Lower < got.Value && got.Value <= got.Upper && got.SE > 0) {
		t.Errorf("interval %v to %v, SE %v", got.Lower, got.Upper, got.SE)
	}
}
