package survival

import (
	"math"
	"slices"
	"testing"
)

func (e expected) test(t *testing.T, name string, got Test) {
	t.Helper()
	e.all(t, name, []float64{got.ChiSquare, float64(got.DF), got.P})
	e.all(t, name+"/observed", got.Observed)
	e.all(t, name+"/expected", got.Expected)
}

// TestLogRankAgainstR holds tests between groups to R's survdiff; the printed
// value for the Freireich data is 16.79 (Klein and Moeschberger, 2003). Weights
// with Gamma above 0 are held to the formula written out in expected.R.
func TestLogRankAgainstR(t *testing.T) {
	e := loadExpected(t)
	for tag, file := range map[string]string{"freireich": "freireich_6mp.csv", "attempts": "attempts_to_criterion.csv"} {
		_, gs := groups(t, table(t, file), "group")
		e.test(t, tag+"/log-rank", LogRank(gs))
		one := [][][]Observation{gs}
		e.test(t, tag+"/rho-1", WeightedLogRank(one, Weights{Rho: 1}))
		e.near(t, tag+"/fh-0-1", WeightedLogRank(one, Weights{Gamma: 1}).ChiSquare)
		e.near(t, tag+"/fh-1-1", WeightedLogRank(one, Weights{1, 1}).ChiSquare)
		e.near(t, tag+"/fh-0.5-0.5", WeightedLogRank(one, Weights{0.5, 0.5}).ChiSquare)
	}
}

// TestStratifiedAgainstR: four cell types within two treatments, lung cancer
// data of Kalbfleisch and Prentice (1980).
func TestStratifiedAgainstR(t *testing.T) {
	e, rows := loadExpected(t), table(t, "veteran.csv")
	var cells []string
	for _, c := range rows["celltype"] {
		if !slices.Contains(cells, c) {
			cells = append(cells, c)
		}
	}
	strata := make([][][]Observation, 2)
	for s := range strata {
		strata[s] = make([][]Observation, len(cells))
	}
	for i, o := range observations(t, rows) {
		s, g := int(number(t, rows["trt"][i]))-1, slices.Index(cells, rows["celltype"][i])
		strata[s][g] = append(strata[s][g], o)
	}
	_, all := groups(t, rows, "celltype")
	e.test(t, "veteran/log-rank", LogRank(all))
	e.test(t, "veteran/stratified", WeightedLogRank(strata, Weights{}))
	e.test(t, "veteran/stratified-rho-1", WeightedLogRank(strata, Weights{Rho: 1}))
}

func TestLogRankNothingToTest(t *testing.T) {
	got := LogRank([][]Observation{{{3, false}}, {{4, false}}})
	if got.DF != 0 || !math.IsNaN(got.P) {
		t.Errorf("without events: %+v", got)
	}
}
