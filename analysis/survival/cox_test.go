package survival

import (
	"fmt"
	"math"
	"slices"
	"testing"
)

func checkCox(t *testing.T, tag string, obs []Observation, x [][]float64, strata []int) {
	t.Helper()
	e := loadExpected(t)
	for _, ties := range []Ties{Breslow, Efron, Exact} {
		r, err := Cox(obs, x, CoxOptions{Ties: ties, Strata: strata})
		if err != nil {
			t.Fatal(err)
		}
		var coef, se []float64
		for _, c := range r.Coefficients {
			coef, se = append(coef, c.Estimate), append(se, c.SE)
		}
		name := fmt.Sprintf("%s/%s", tag, ties)
		e.all(t, name+"/coef", coef)
		e.all(t, name+"/se", se)
		e.all(t, name+"/loglik", []float64{r.NullLikelihood, r.LogLikelihood})
		e.near(t, name+"/score", r.Score.ChiSquare)
		e.within(t, name+"/wald", r.Wald.ChiSquare, 1e-9)
		if want := 2 * (r.LogLikelihood - r.NullLikelihood); r.LikelihoodRatio.ChiSquare != want || r.LikelihoodRatio.DF != len(coef) {
			t.Errorf("%s: likelihood ratio %v, want %v", name, r.LikelihoodRatio, want)
		}
	}
}

// TestCoxAgainstR holds three treatments of ties to R's coxph, with one group,
// several covariates (Kalbfleisch and Prentice, 1980; Edmonson et al., 1979) and
// strata.
func TestCoxAgainstR(t *testing.T) {
	for tag, file := range map[string]string{"freireich/cox": "freireich_6mp.csv", "attempts/cox": "attempts_to_criterion.csv"} {
		rows := table(t, file)
		var x [][]float64
		for _, g := range rows["group"] {
			v := 0.0
			if g != rows["group"][0] {
				v = 1
			}
			x = append(x, []float64{v})
		}
		checkCox(t, tag, observations(t, rows), x, nil)
	}
	veteran := table(t, "veteran.csv")
	x := covariates(t, veteran, "trt", "karno", "age")
	checkCox(t, "veteran/cox", observations(t, veteran), x, nil)
	var cells []string
	var strata []int
	for _, c := range veteran["celltype"] {
		if !slices.Contains(cells, c) {
			cells = append(cells, c)
		}
		strata = append(strata, slices.Index(cells, c))
	}
	checkCox(t, "veteran/cox-strata", observations(t, veteran), x, strata)
	ovarian := table(t, "ovarian.csv")
	checkCox(t, "ovarian/cox", observations(t, ovarian), covariates(t, ovarian, "age", "residual", "treatment"), nil)
}

// TestCoxByHand: three people without ties, x = 1, 0, 1 leaving in this order.
// The partial likelihood is θ/(2θ+1) · 1/(θ+1), largest where
// 1/θ = 2/(2θ+1) + 1/(θ+1): 2θ² = 1.
func TestCoxByHand(t *testing.T) {
	obs := []Observation{{1, true}, {2, true}, {3, true}}
	for _, ties := range []Ties{Breslow, Efron, Exact} {
		r, err := Cox(obs, [][]float64{{1}, {0}, {1}}, CoxOptions{Ties: ties})
		if err != nil {
			t.Fatal(err)
		}
		if got, want := r.Coefficients[0].Ratio, math.Sqrt(0.5); !(math.Abs(got-want) <= 1e-10) {
			t.Errorf("%s: hazard ratio %v, want %v", ties, got, want)
		}
	}
}

// TestExactScoreIsLogRank: with exact ties the score test of a group is the
// log-rank test (Klein and Moeschberger, 2003, section 8.3).
func TestExactScoreIsLogRank(t *testing.T) {
	_, gs := groups(t, table(t, "attempts_to_criterion.csv"), "group")
	var obs []Observation
	var x [][]float64
	for g, group := range gs {
		for _, o := range group {
			obs, x = append(obs, o), append(x, []float64{float64(g)})
		}
	}
	r, err := Cox(obs, x, CoxOptions{Ties: Exact})
	if err != nil {
		t.Fatal(err)
	}
	if want := LogRank(gs).ChiSquare; !(math.Abs(r.Score.ChiSquare-want) <= 1e-10) {
		t.Errorf("score %v, log-rank %v", r.Score.ChiSquare, want)
	}
}

// TestCoxSeparated: everybody of one group leaves before anybody of the other.
func TestCoxSeparated(t *testing.T) {
	obs := []Observation{{1, true}, {2, true}, {3, true}, {4, false}, {5, false}, {6, false}}
	r, err := Cox(obs, [][]float64{{1}, {1}, {1}, {0}, {0}, {0}}, CoxOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if c := r.Coefficients[0]; !math.IsInf(c.Estimate, 1) || !math.IsNaN(c.SE) {
		t.Errorf("estimate %v (SE %v), want +Inf without SE", c.Estimate, c.SE)
	}
	if len(r.Warnings) != 1 || r.Warnings[0].Code != "no-finite-effect" {
		t.Errorf("warnings %v", r.Warnings)
	}
}

func TestCoxRefuses(t *testing.T) {
	obs := []Observation{{1, true}, {2, false}, {3, true}}
	for name, x := range map[string][][]float64{
		"constant": {{2}, {2}, {2}}, "too few rows": {{1}, {2}}, "unknown": {{1}, {math.NaN()}, {2}},
		"dependent": {{1, 2}, {2, 4}, {4, 8}}, "ragged": {{1}, {2, 3}, {4}},
	} {
		if _, err := Cox(obs, x, CoxOptions{}); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	if _, err := Cox([]Observation{{1, false}, {2, false}}, [][]float64{{1}, {2}}, CoxOptions{}); err == nil {
		t.Error("no events: no error")
	}
}
