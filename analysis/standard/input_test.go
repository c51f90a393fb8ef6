package standard

import (
	"context"
	"errors"
	"math"
	"testing"

	"tyro/analysis"
	"tyro/analysis/resample"
)

// Every entry says what is wrong with its input.
func TestInputThatCannotBeUsed(t *testing.T) {
	ctx, few := context.Background(), resample.Sampling{Replicates: 20}
	v, who, rating := []float64{40, 44, 48, 52}, []bool{true, true, false, false}, []float64{1, 2, 2, 3}
	judges := []Bound{{40, 50, 5, 60}}
	second := func(_ any, err error) error { return err }
	for name, e := range map[string]struct {
		err  error
		want error // nil: any
	}{
		"mean, level":           {second(ExpertMean(v, ExpertRule{Level: 1})), analysis.ErrLevel},
		"mean, SDs":             {second(ExpertMean(v, ExpertRule{SDs: math.NaN()})), nil},
		"mean, trim":            {second(ExpertMean(v, ExpertRule{Drop: Drop{Trim: -0.1}})), nil},
		"mean, distance":        {second(ExpertMean(v, ExpertRule{Drop: Drop{SDs: math.NaN()}})), nil},
		"median, level":         {second(ExpertMedian(ctx, v, ExpertRule{Level: 3, SDs: 1}, few)), analysis.ErrLevel},
		"percentile, level":     {second(ExpertPercentile(v, 0.5, ExpertRule{Level: -1})), analysis.ErrLevel},
		"runs":                  {second(Summaries([][]float64{{}}, "mode", 0, false)), nil},
		"groups, level":         {second(ContrastingGroups(ctx, v, who, GroupRule{Level: 1}, few)), analysis.ErrLevel},
		"groups, lengths":       {second(ContrastingGroups(ctx, v, who[:2], GroupRule{}, few)), nil},
		"line, level":           {second(BorderlineRegression(ctx, v, rating, BorderlineRule{At: 2, Level: 1}, few)), analysis.ErrLevel},
		"line, lengths":         {second(BorderlineRegression(ctx, v, rating[:2], BorderlineRule{At: 2}, few)), nil},
		"borderline, level":     {second(BorderlineGroup(v, rating, BorderlineRule{At: 2, Level: math.NaN()})), analysis.ErrLevel},
		"Angoff, level":         {second(ModifiedAngoff([][]float64{{0.5, 0.6}, {0.4, 0.7}}, 1)), analysis.ErrLevel},
		"Angoff, ragged":        {second(ModifiedAngoff([][]float64{{0.5, 0.6}, {0.4}}, 0)), nil},
		"Ebel, level":           {second(Ebel([][]int{{3}, {3}}, [][]float64{{0.5}, {0.4}}, 1)), analysis.ErrLevel},
		"Ebel, ragged":          {second(Ebel([][]int{{3}, {3}}, [][]float64{{0.5}, {}}, 0)), nil},
		"Hofstee, level":        {second(Hofstee(ctx, v, judges, HofsteeRule{Level: 1}, few)), analysis.ErrLevel},
		"Hofstee, step":         {second(Hofstee(ctx, v, judges, HofsteeRule{Step: -1}, few)), nil},
		"classify, reliability": {second(Classify(v, Test{Lowest: 0, Highest: 60, Reliability: math.NaN(), Standard: 45})), nil},
	} {
		if e.err == nil || e.want != nil && !errors.Is(e.err, e.want) {
			t.Errorf("%s: %v, want %v", name, e.err, e.want)
		}
	}
	a, err := BorderlineRegression(ctx, v, rating, BorderlineRule{At: 2}, few)
	b, _ := BorderlineRegression(ctx, v, rating, BorderlineRule{At: 2, Level: 0.95}, few)
	if err != nil || a.Lower != b.Lower || a.Level != 0.95 || !(a.Upper > a.Lower) {
		t.Errorf("level 0: %v to %v (%v), level 0.95: %v to %v", a.Lower, a.Upper, err, b.Lower, b.Upper)
	}
}
