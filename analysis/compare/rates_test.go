package compare

import (
	"context"
	"math"
	"testing"

	"tyro/analysis/resample"
)

// Three against three, ten attempts each: 15 events against 6 are 2.5 times as many. By
// hand the variance of a log rate is n·Σ(e − mean)²/((n − 1)·E²): 3·2/(2·225) and
// 3·2/(2·36), so that the statistic is log 2.5 over √0.096667, 2.947; the next of the 20
// deals, 3, 5, 6 against 1, 2, 4, has 1.640. Alone at the end, mid-p is 2·(1/2)/20.
func TestRateRatioByHand(t *testing.T) {
	ten := []float64{10, 10, 10}
	c, err := RateRatio(context.Background(), "errors", Counts{Name: "a", Events: []float64{1, 2, 3}, Attempts: ten}, Counts{Name: "b", Events: []float64{4, 5, 6}, Attempts: ten}, 0.80, resample.Sampling{})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "estimate", c.Estimate, math.Log(2.5), 1e-12)
	near(t, "standard error", c.SE, math.Sqrt(6./450+6./72), 1e-12)
	near(t, "p", c.P, 0.05, 1e-12)
	if !(c.Lower > 0 && c.Lower < c.Estimate && c.Upper > c.Estimate) || c.Replicates != 20 || !c.Exact {
		t.Errorf("%+v", c)
	}
}

// Three times the events in one arm move estimate and both ends by log 3: ratios have no
// unit. Trainees with different numbers of attempts.
func TestRateRatioMoves(t *testing.T) {
	ref := Counts{Name: "a", Events: []float64{3, 0, 5, 2, 8, 1, 4}, Attempts: []float64{20, 12, 20, 15, 20, 20, 8}}
	arm := Counts{Name: "b", Events: []float64{6, 2, 2, 9, 0, 7, 3}, Attempts: []float64{20, 20, 6, 20, 20, 11, 20}}
	once, err := RateRatio(context.Background(), "errors", ref, arm, 0, resample.Sampling{Replicates: 499})
	if err != nil {
		t.Fatal(err)
	}
	for i := range arm.Events {
		arm.Events[i] *= 3
	}
	thrice, err := RateRatio(context.Background(), "errors", ref, arm, 0, resample.Sampling{Replicates: 499})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "estimate", thrice.Estimate-once.Estimate, math.Log(3), 1e-12)
	near(t, "lower", thrice.Lower-once.Lower, math.Log(3), 1e-3)
	near(t, "upper", thrice.Upper-once.Upper, math.Log(3), 1e-3)
	if (once.P < 0.05) == once.Open() {
		t.Errorf("p %v beside %v to %v", once.P, once.Lower, once.Upper)
	}
}

// Everybody of two clusters met the rule, five of six in each of two others: clusters are
// alike within arms, and yet little is known. By hand: the shares differ by 1/6; the
// pooled variance of 0 and 1 is (12·(5/6)·(1/6))/22, so that the standard error is its root
// times √(2/12).
func TestSharesOfFewClusters(t *testing.T) {
	arm := func(name string, missed ...int) Arm {
		a := Arm{Name: name, Share: true}
		for i := range 12 {
			v := 1.0
			for _, m := range missed {
				if m == i {
					v = 0
				}
			}
			a.Values, a.Cluster = append(a.Values, v), append(a.Cluster, name+string(rune('0'+i/6)))
		}
		return a
	}
	c, err := Shift(context.Background(), "share", arm("a", 2, 9), arm("b"), 0, resample.Sampling{})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "estimate", c.Estimate, 1./6, 1e-12)
	near(t, "standard error", c.SE, math.Sqrt(12.*5/36/22*2/12), 1e-12)
	near(t, "degrees of freedom", c.DF, 2, 0)
	if c.P < 0.2 {
		t.Errorf("p = %v from clusters that came out alike", c.P)
	}
}

// Clusters that hold arms in unequal shares, by hand; ten attempts each. In p the arm has 6
// events in 10 attempts and the reference 3, 5 and 7, 15 in 30; in q the arm has 1, 1 and 4,
// 6 in 30, and the reference 1 and 3, 4 in 20. Rates are .6 against .5 and .2 against .2,
// with weights 10·30/40 = 7.5 and 30·20/50 = 12: 6.9 over 6.15. All events over all attempts
// would be .3 over .38.
func TestRatesWithinClusters(t *testing.T) {
	ref := Counts{Name: "a", Events: []float64{3, 5, 7, 1, 3, 9}, Cluster: []string{"p", "p", "p", "q", "q", "r"}}
	arm := Counts{Name: "b", Events: []float64{6, 1, 1, 4}, Cluster: []string{"p", "q", "q", "q"}}
	for range ref.Events {
		ref.Attempts = append(ref.Attempts, 10)
	}
	arm.Attempts = ref.Attempts[:4]
	c, err := RateRatio(context.Background(), "errors", ref, arm, 0, resample.Sampling{Replicates: 2000})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "estimate", c.Estimate, math.Log(6.9/6.15), 1e-12)
	near(t, "arm", c.ArmValue, math.Log(6.9/19.5), 1e-12)
	if c.Method != WithinClusters || len(c.Warnings) != 1 || c.Warnings[0].Code != "clusters-of-one-arm" || c.ArmN != 4 || c.RefN != 5 {
		t.Errorf("%s, %v, %d and %d trainees", c.Method, c.Warnings, c.ArmN, c.RefN)
	}
	if !(c.Lower < c.Estimate && c.Estimate < c.Upper) || !c.Open() || c.P < 0.3 {
		t.Errorf("%v (%v to %v), p %v: want an interval about the estimate that holds 0", c.Estimate, c.Lower, c.Upper, c.P)
	}
}

// One cluster for all is none: the same numbers as in TestRateRatioByHand.
func TestRatesInOneCluster(t *testing.T) {
	ten, one := []float64{10, 10, 10}, []string{"p", "p", "p"}
	c, err := RateRatio(context.Background(), "errors", Counts{"a", []float64{1, 2, 3}, ten, one}, Counts{"b", []float64{4, 5, 6}, ten, one}, 0.80, resample.Sampling{})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "estimate", c.Estimate, math.Log(2.5), 1e-12)
	near(t, "standard error", c.SE, math.Sqrt(6./450+6./72), 1e-12)
	near(t, "p", c.P, 0.05, 1e-12)
}
