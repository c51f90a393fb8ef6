package standard

import (
	"math"
	"testing"
)

func TestClassifyAgainstR(t *testing.T) {
	e := loadExpected(t)
	scores, _ := hofsteeData(t)
	c, err := Classify(scores, Test{Lowest: 0, Highest: 40, Reliability: 0.8, Standard: 23, TwoParameters: true})
	if err != nil {
		t.Fatal(err)
	}
	d := c.TrueScores
	e.near(t, "classify", 1e-10, c.EffectiveItems, c.Accuracy, c.FalsePass, c.FalseFail, c.Consistency, c.Kappa, c.PassShare, d.Alpha, d.Beta)
	if d.Parameters != 2 || d.Lower != 0 || d.Upper != 1 || has(c.Warnings, "two-parameter-true-scores", "") {
		t.Errorf("two parameters were asked for: %+v, %v", d, c.Warnings)
	}
	c, err = Classify(column(t, "classification_scores.csv", "score"), Test{Lowest: 0, Highest: 60, Reliability: 0.82, Standard: 36})
	if err != nil {
		t.Fatal(err)
	}
	d = c.TrueScores
	e.near(t, "classify4", 1e-8, c.EffectiveItems, c.Accuracy, c.FalsePass, c.FalseFail, c.Consistency, c.Kappa, c.PassShare, c.Passing, d.Alpha, d.Beta, d.Lower, d.Upper)
	n := e["classify4.1"] // binomial: 36 of 60 is 0.6 of n items
	closeTo(t, "error at the standard", c.ErrorAtStandard, 60*math.Sqrt(0.6*0.4/n), 1e-9)
	if d.Parameters != 4 || len(c.Warnings) > 0 {
		t.Errorf("%+v, %v; want four parameters", d, c.Warnings)
	}
}

// TestClassifyByHand: one item with true scores uniform on 0 to 1: right on the
// side of 1/2 with chance ∫max(τ, 1 − τ) = 3/4, the same twice with chance
// ∫τ² + (1 − τ)² = 2/3, by chance 1/2. With true scores uniform on 1/4 to 3/4:
// 1/2 + E|τ − 1/2| = 5/8, and 1/2 + 2·variance = 13/24.
func TestClassifyByHand(t *testing.T) {
	c := classify(TrueScores{1, 1, 0, 1, 2}, 1, 0.5, 0.5)
	closeTo(t, "accuracy", c.Accuracy, 0.75, 1e-12)
	closeTo(t, "consistency", c.Consistency, 2.0/3, 1e-12)
	closeTo(t, "kappa", c.Kappa, 1.0/3, 1e-12)
	if !has(c.Warnings, "few-effective-items", "1.0 items") {
		t.Errorf("warnings %v", c.Warnings)
	}
	c = classify(TrueScores{1, 1, 0.25, 0.75, 4}, 1, 0.5, 0.5)
	closeTo(t, "accuracy", c.Accuracy, 0.625, 1e-12)
	closeTo(t, "consistency", c.Consistency, 13.0/24, 1e-12)
	closeTo(t, "kappa", c.Kappa, 1.0/12, 1e-12)
	closeTo(t, "8 of 20 and more pass", passingFrom([]float64{0.4, 0.45, 0.6}, 0.4), 7.5/20, 1e-12)
	closeTo(t, "9 of 20 and more pass", passingFrom([]float64{0.4, 0.45, 0.6}, 0.41), 8.5/20, 1e-12)
	all := classify(TrueScores{2, 3, 0.5, 0.9, 4}, 20, 0.4, passingFrom([]float64{0.4, 0.45, 0.6}, 0.4)) // everybody's true score is above the cut
	closeTo(t, "false passes where nobody should fail", all.FalsePass, 0, 0)
	closeTo(t, "accuracy where nobody should fail", all.Accuracy, all.PassShare, 1e-12)
}

// TestTrueScoresFromExactMoments: scores of 30 binomial items whose true scores
// have a known distribution: E y(y−1)…(y−r+1) = 30·29…(31−r)·E τ^r, and from
// these the moments about the mean.
func TestTrueScoresFromExactMoments(t *testing.T) {
	for _, want := range []TrueScores{{2, 1.5, 0.3, 0.95, 4}, {5, 2, 0, 1, 4}, {1, 1, 0.2, 0.8, 4}, {1.5, 6, 0.1, 0.9, 4}} {
		const n = 30.0
		var τ [5]float64 // raw moments of true scores
		for k := range 5 {
			for j, choose := 0, 1.0; j <= k; j, choose = j+1, choose*float64(k-j)/float64(j+1) {
				beta := 1.0
				for i := range j {
					beta *= (want.Alpha + float64(i)) / (want.Alpha + want.Beta + float64(i))
				}
				τ[k] += choose * math.Pow(want.Lower, float64(k-j)) * math.Pow(want.Upper-want.Lower, float64(j)) * beta
			}
		}
		f := [5]float64{1, n * τ[1], n * (n - 1) * τ[2], n * (n - 1) * (n - 2) * τ[3], n * (n - 1) * (n - 2) * (n - 3) * τ[4]}
		y := [5]float64{1, f[1], f[2] + f[1], f[3] + 3*f[2] + f[1], f[4] + 6*f[3] + 7*f[2] + f[1]} // Stirling numbers
		m, m2, m3, m4 := y[1]/n, y[2]/(n*n), y[3]/(n*n*n), y[4]/(n*n*n*n)
		v := m2 - m*m
		o := observed{m, v, (m3 - 3*m*m2 + 2*m*m*m) / math.Pow(v, 1.5), (m4 - 4*m*m3 + 6*m*m*m2 - 3*m*m*m*m) / (v * v)}
		reliability := (τ[2] - τ[1]*τ[1]) / v
		items, err := o.effectiveItems(reliability)
		if err != nil {
			t.Fatal(err)
		}
		closeTo(t, "effective items", items, n, 1e-8)
		d, reason := o.trueScores(items, reliability, false)
		if reason != "" {
			t.Errorf("%+v: %s", want, reason)
		}
		closeTo(t, "alpha", d.Alpha, want.Alpha, 1e-6)
		closeTo(t, "beta", d.Beta, want.Beta, 1e-6)
		closeTo(t, "lower", d.Lower, want.Lower, 1e-6)
		closeTo(t, "upper", d.Upper, want.Upper, 1e-6)
	}
}

// TestTwoParametersSaySo: scores with two far peaks have true scores no beta
// distribution between 0 and 1 fits.
func TestTwoParametersSaySo(t *testing.T) {
	scores := []float64{5, 30, 31, 31, 32, 32, 32, 33, 33, 34, 60}
	c, err := Classify(scores, Test{Lowest: 0, Highest: 60, Reliability: 0.9, Standard: 30})
	if err != nil {
		t.Fatal(err)
	}
	if c.TrueScores.Parameters != 2 || !has(c.Warnings, "two-parameter-true-scores", "whole range") {
		t.Errorf("%+v %v", c.TrueScores, c.Warnings)
	}
	closeTo(t, "passing", c.Passing, 10.0/11, 1e-12)
	for name, bad := range map[string]Test{
		"no reliability": {0, 60, 0, 30, false}, "reliability 1": {0, 60, 1, 30, false}, "no range": {60, 60, 0.8, 30, false}, "a score outside": {10, 60, 0.8, 30, false},
	} {
		if _, err := Classify(scores, bad); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	if _, err := Classify([]float64{30, 30, 30}, Test{0, 60, 0.8, 30, false}); err == nil {
		t.Error("equal scores: no error")
	}
}
