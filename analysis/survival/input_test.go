package survival

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
	obs := []Observation{{2, true}, {3, false}, {5, true}, {7, true}}
	lost := []Observation{{2, true}, {math.NaN(), false}}
	x := [][]float64{{1}, {0}, {0}, {1}}
	second := func(_ any, err error) error { return err }
	for name, e := range map[string]struct {
		err  error
		want error // nil: any
	}{
		"curve, level":          {KaplanMeier(obs, LogLog, 1).Err, analysis.ErrLevel},
		"curve, band":           {KaplanMeier(obs, "loglog", 0).Err, nil},
		"curve, time":           {KaplanMeier(lost, LogLog, 0).Err, nil},
		"log-rank, time":        {LogRank([][]Observation{obs, lost}).Err, nil},
		"log-rank, strata":      {WeightedLogRank([][][]Observation{{obs, obs}, {obs}}, Weights{}).Err, nil},
		"log-rank, weights":     {WeightedLogRank([][][]Observation{{obs, obs}}, Weights{Rho: -1}).Err, nil},
		"log-rank, NaN":         {WeightedLogRank([][][]Observation{{obs, obs}}, Weights{Gamma: math.NaN()}).Err, nil},
		"Cox, level":            {second(Cox(obs, x, CoxOptions{Level: 2})), analysis.ErrLevel},
		"Cox, rows":             {second(Cox(obs, x[:2], CoxOptions{})), nil},
		"Cox, time":             {second(Cox(lost, x[:2], CoxOptions{})), nil},
		"discrete, level":       {second(FitDiscrete(obs, x, DiscreteOptions{Level: -1})), analysis.ErrLevel},
		"windows, level":        {second(QuantileInterval(ctx, []Window{{1, 2}}, 0.5, 1, few)), analysis.ErrLevel},
		"windows, share":        {second(QuantileInterval(ctx, []Window{{1, 2}}, math.NaN(), 0, few)), nil},
		"windows, none":         {second(QuantileInterval(ctx, nil, 0.5, 0, few)), nil},
		"restricted mean":       {second(RestrictedMeanInterval(ctx, obs, 5, 1, few)), analysis.ErrLevel},
		"restricted mean, time": {second(RestrictedMeanInterval(ctx, lost, 5, 0, few)), nil},
	} {
		if e.err == nil || e.want != nil && !errors.Is(e.err, e.want) {
			t.Errorf("%s: %v, want %v", name, e.err, e.want)
		}
	}
	bad := KaplanMeier(obs, LogLog, 95)
	lower, upper := bad.BetaLimits(3, 0.95)
	at, claimed := bad.Tolerance(0.5, 0.95)
	mean, _ := bad.RestrictedMean(5)
	for name, v := range map[string]float64{
		"survival": bad.At(3), "median": bad.Quantile(0.5).Estimate, "share": bad.LargestShare(), "mean": mean,
		"lower": lower, "upper": upper, "tolerance": at, "claimed": claimed,
	} {
		if !math.IsNaN(v) {
			t.Errorf("%s of a curve that knows nothing: %v", name, v)
		}
	}
}

// Level 0 is 0.95 and a band "" is log-log.
func TestDefaults(t *testing.T) {
	obs := []Observation{{2, true}, {3, false}, {5, true}, {7, true}}
	a, b := KaplanMeier(obs, "", 0), KaplanMeier(obs, LogLog, 0.95)
	for i := range a.Steps[:3] {
		if a.Steps[i] != b.Steps[i] || !(a.Steps[i].Upper > a.Steps[i].Lower) {
			t.Errorf("step %d: %+v by default, %+v by name", i, a.Steps[i], b.Steps[i])
		}
	}
	if NelsonAalen(obs, 0)[0] != NelsonAalen(obs, 0.95)[0] {
		t.Error("cumulative hazards differ")
	}
	if al, au := b.MidLimits(3, 0); true {
		if bl, bu := b.MidLimits(3, 0.95); al != bl || au != bu {
			t.Errorf("mid-p limits %v to %v by default, %v to %v by name", al, au, bl, bu)
		}
	}
}
