package survival

import (
	"fmt"
	"math"
	"slices"
	"testing"
)

// TestDiscreteAgainstR holds the grouped hazard models to R's glm on one row an
// attempt of a person.
func TestDiscreteAgainstR(t *testing.T) {
	e, rows := loadExpected(t), table(t, "attempts_to_criterion.csv")
	obs := observations(t, rows)
	var x [][]float64
	var with []int // attempts with an event
	for i, g := range rows["group"] {
		v := 0.0
		if g == "paced" {
			v = 1
		}
		x = append(x, []float64{v})
		if at := int(obs[i].Time); obs[i].Event && !slices.Contains(with, at) {
			with = append(with, at)
		}
	}
	slices.Sort(with)
	for _, link := range []Link{CLogLog, Logit} {
		for _, baseline := range []Baseline{Free, Flat, LogLinear} {
			f, err := FitDiscrete(obs, x, DiscreteOptions{Link: link, Baseline: baseline})
			if err != nil {
				t.Fatal(err)
			}
			name := fmt.Sprintf("attempts/grouped/%s/%s", link, baseline)
			e.within(t, name+"/coef", f.Coefficients[0].Estimate, 1e-8)
			e.within(t, name+"/se", f.Coefficients[0].SE, 1e-7)
			e.within(t, name+"/loglik.1", f.NullLikelihood, 1e-10)
			e.within(t, name+"/loglik.2", f.LogLikelihood, 1e-10)
			for i, at := range with {
				e.within(t, fmt.Sprintf("%s/hazard-paced.%d", name, i+1), f.Hazard(at, []float64{1}), 1e-8)
			}
		}
	}
}

// TestDiscreteIsLifeTable: without covariates and with a free baseline, hazards
// are events over those at risk, so the curve is the product-limit estimate.
func TestDiscreteIsLifeTable(t *testing.T) {
	obs := observations(t, table(t, "attempts_to_criterion.csv"))
	c := KaplanMeier(obs, Linear, 0.95)
	for _, link := range []Link{CLogLog, Logit} {
		f, err := FitDiscrete(obs, nil, DiscreteOptions{Link: link})
		if err != nil {
			t.Fatal(err)
		}
		for i, s := range f.Survival(nil) {
			if want := c.At(float64(i + 1)); !(math.Abs(s-want) <= 1e-10) {
				t.Errorf("%s: S(%d) = %v, want %v", link, i+1, s, want)
			}
		}
	}
}

// TestDiscreteConstantByHand: 2 events in 1 + 3 + 4 + 2 = 10 attempts: hazard
// 0.2 at every attempt.
func TestDiscreteConstantByHand(t *testing.T) {
	f, err := FitDiscrete([]Observation{{1, true}, {3, true}, {4, false}, {2, false}}, nil, DiscreteOptions{Baseline: Flat})
	if err != nil {
		t.Fatal(err)
	}
	if got := f.Hazard(2, nil); !(math.Abs(got-0.2) <= 1e-12) {
		t.Errorf("hazard %v, want 0.2", got)
	}
	if got := f.Hazard(5, nil); !math.IsNaN(got) {
		t.Errorf("hazard beyond the last attempt %v, want unknown", got)
	}
}

func TestDiscreteRefuses(t *testing.T) {
	for name, obs := range map[string][]Observation{
		"half an attempt": {{1.5, true}}, "attempt 0": {{0, true}}, "no events": {{3, false}},
	} {
		if _, err := FitDiscrete(obs, nil, DiscreteOptions{}); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}
