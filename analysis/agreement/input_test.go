package agreement

import (
	"context"
	"errors"
	"math"
	"testing"

	"tyro/analysis"
	"tyro/analysis/resample"
)

var (
	ragged = Ratings{{1, 2}, {2}, {3, 3}}
	whole  = Ratings{{1, 2}, {2, 2}, {3, 3}, {1, 1}}
)

// Every entry says what is wrong with its input, and none breaks down.
func TestInputThatCannotBeUsed(t *testing.T) {
	ctx, few := context.Background(), resample.Sampling{Replicates: 20}
	x, y, short := []float64{1, 2, 3, 4}, []float64{1, 2, 4, 4}, []float64{1, 2}
	with := func(level float64) Options { return Options{Level: level, Sampling: few} }
	second := func(_ any, err error) error { return err }
	entries := map[string]struct {
		err  error
		want error // nil: any
	}{
		"ICC, ragged":                {ICC(ragged, 0.95)[0].Err, ErrRatings},
		"ICC, level":                 {ICC(whole, 1)[5].Err, analysis.ErrLevel},
		"alpha, ragged":              {CronbachAlpha(ragged, 0.95).Err, ErrRatings},
		"alpha, level":               {CronbachAlpha(whole, -0.1).Err, analysis.ErrLevel},
		"Kendall, ragged":            {KendallW(ragged).Err, ErrRatings},
		"Lin, lengths":               {LinCCC(x, short, 0.95).Err, ErrRatings},
		"Lin, level":                 {LinCCC(x, y, math.NaN()).Err, analysis.ErrLevel},
		"kappa, level":               {CohenKappa([][]float64{{20, 5}, {10, 15}}, Identity, 95).Err, analysis.ErrLevel},
		"kappa, weights":             {CohenKappa([][]float64{{20, 5}, {10, 15}}, "cubic", 0).Err, nil},
		"kappa, not square":          {CohenKappa([][]float64{{20, 5}, {10}}, Identity, 0).Err, ErrRatings},
		"kappa, negative count":      {CohenKappa([][]float64{{20, -5}, {10, 15}}, Identity, 0).Err, ErrRatings},
		"kappa, weight NaN":          {KappaWithWeights([][]float64{{20, 5}, {10, 15}}, [][]float64{{1, math.NaN()}, {0, 1}}, 0).Err, nil},
		"kappa, negative weight":     {KappaWithWeights([][]float64{{20, 5}, {10, 15}}, [][]float64{{1, -1}, {-1, 1}}, 0).Err, nil},
		"limits, lengths":            {LimitsOfAgreement(x, short, 0).Err, ErrRatings},
		"limits, level":              {LimitsOfAgreement(x, y, 2).Err, analysis.ErrLevel},
		"limits, groups":             {RepeatedLimits(x, y, []int{1}, 0).Err, ErrRatings},
		"summary, scale":             {second(Summarise(ctx, whole, "Ordinal", with(0))), nil},
		"summary, ragged":            {second(Summarise(ctx, ragged, "nominal", with(0))), ErrRatings},
		"summary, level":             {second(Summarise(ctx, whole, "nominal", with(1.5))), analysis.ErrLevel},
		"summary, weights":           {second(Summarise(ctx, whole, "nominal", Options{Sampling: few, Weights: [][]float64{{1, 0.5}, {0.5}}})), nil},
		"summary, category":          {second(Summarise(ctx, whole, "nominal", Options{Sampling: few, Categories: []float64{math.NaN()}})), nil},
		"one, scale":                 {second(One(ctx, "fleiss-kappa", whole, "", with(0))), nil},
		"one, ragged":                {second(One(ctx, "icc(1,1)", ragged, "ratio", with(0))), ErrRatings},
		"Krippendorff, scale":        {second(KrippendorffAlpha(ctx, whole, "circular", with(0))), nil},
		"Krippendorff, ragged":       {second(KrippendorffAlpha(ctx, ragged, "nominal", with(0))), ErrRatings},
		"omega, ragged":              {second(McDonaldOmega(ctx, ragged, with(0))), ErrRatings},
		"severity, ragged":           {second(Severities(ragged, 0)), ErrRatings},
		"severity, level":            {second(Severities(whole, 1)), analysis.ErrLevel},
		"severity, times":            {second(SeveritiesOverTime(whole, [][]float64{{1, 2}}, 0)), ErrRatings},
		"flips, ragged":              {second(DecisionFlips(ctx, ragged, Cut{At: 2}, with(0))), ErrRatings},
		"flips, cut":                 {second(DecisionFlips(ctx, whole, Cut{At: math.NaN()}, with(0))), nil},
		"components, level":          {second(GStudy{}.Estimate(7)), analysis.ErrLevel},
		"components, levels missing": {second(GStudy{Facets: []string{"a", "b"}, Levels: [][]int{{0, 0}, {0}, {1, 1}}, Scores: x[:3]}.Estimate(0)), nil},
		"rating model, lengths":      {second(FitRatingModel(RatingScores{Subject: []int{0}, Rater: []int{0, 1}, Score: x}, 0)), ErrRatings},
		"rating model, level":        {second(FitRatingModel(RatingScores{}, 1)), analysis.ErrLevel},
		"planned icc, level":         {second(ICCSubjects(0.8, 2, 0.2, 1)), analysis.ErrLevel},
		"planned kappa, level":       {second(KappaSubjects(0.8, []float64{0.5, 0.5}, 0.2, 1)), analysis.ErrLevel},
		"planned study, level":       {second(SimulateWidth(ctx, PlannedStudy{ICC: 0.5, Raters: 2}, 10, 1, few)), analysis.ErrLevel},
		"planned study, icc":         {second(SimulateWidth(ctx, PlannedStudy{ICC: math.NaN(), Raters: 2}, 10, 0, few)), nil},
	}
	for name, e := range entries {
		if e.err == nil || e.want != nil && !errors.Is(e.err, e.want) {
			t.Errorf("%s: %v, want %v", name, e.err, e.want)
		}
	}
}

// Level 0 is 0.95 wherever a level is asked for.
func TestLevel0(t *testing.T) {
	for name, pair := range map[string][2]Coefficient{
		"icc":   {ICC(whole, 0)[0], ICC(whole, 0.95)[0]},
		"alpha": {CronbachAlpha(whole, 0), CronbachAlpha(whole, 0.95)},
		"kappa": {CohenKappa([][]float64{{20, 5}, {10, 15}}, Identity, 0), CohenKappa([][]float64{{20, 5}, {10, 15}}, Identity, 0.95)},
		"lin":   {LinCCC([]float64{1, 2, 3, 5}, []float64{1, 3, 3, 4}, 0), LinCCC([]float64{1, 2, 3, 5}, []float64{1, 3, 3, 4}, 0.95)},
	} {
		a, b := pair[0], pair[1]
		if a.Err != nil || a.Level != 0.95 || a.Lower != b.Lower || a.Upper != b.Upper || !(a.Upper > a.Lower) {
			t.Errorf("%s: %v to %v (%v) with level 0, %v to %v with 0.95", name, a.Lower, a.Upper, a.Err, b.Lower, b.Upper)
		}
	}
	if a, b := ICCWidth(0.8, 3, 30, 0), ICCWidth(0.8, 3, 30, 0.95); a != b {
		t.Errorf("planned width %v with level 0, %v with 0.95", a, b)
	}
}

// What gives bare numbers panics with a reason in words.
func TestRaggedTablesPanicWhereThereIsNoError(t *testing.T) {
	for name, f := range map[string]func(){
		"pairs": func() { Pairs(ragged, nil) }, "factor": func() { OneFactor(ragged) }, "crosstab": func() { Crosstab(ragged, []float64{1, 2}) },
		"without": func() { AlphaWithout(ragged) }, "within": func() { WithinSD([]float64{1}, nil) },
	} {
		func() {
			defer func() {
				if _, words := recover().(string); !words {
					t.Errorf("%s: no panic in words", name)
				}
			}()
			f()
		}()
	}
}
