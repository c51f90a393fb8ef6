package compare

import (
	"context"
	"math"
	"strings"
	"testing"

	"tyro/analysis/resample"
)

// Three against three: of 20 deals the one seen is the most extreme above, so that mid-p
// on either side is (1/2)/20 and two-sided 1/20. By hand for 1, 2, 3 against 4, 5, 6: the
// difference is 3; no other deal has a larger t.
func TestShiftByHand(t *testing.T) {
	ref, arm := Arm{Name: "a", Values: []float64{1, 2, 3}}, Arm{Name: "b", Values: []float64{4, 5, 6}}
	c, err := Shift(context.Background(), "m", ref, arm, 0.80, resample.Sampling{})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "estimate", c.Estimate, 3, 1e-12)
	near(t, "p", c.P, 0.05, 1e-12)
	if c.Replicates != 20 {
		t.Errorf("%d deals, want all 20", c.Replicates)
	}
	if !(c.Lower > 0 && c.Lower < 3 && c.Upper > 3 && c.Upper < 6) || math.Abs(c.Lower+c.Upper-6) > 1e-4 {
		t.Errorf("80 %% interval %v to %v, want one about 3 and as far on either side", c.Lower, c.Upper)
	}
}

// Clusters of one arm each, by hand: cluster means 10, 12 against 13, 17 of equal sizes.
// The difference is 4, the variance of cluster means (2 + 8)/2 = 5 pooled over 2 degrees
// of freedom, the standard error √(5·(1/2 + 1/2)) = √5, and t(2) at .975 is 4.302653.
func TestShiftOfWholeClusters(t *testing.T) {
	ref := Arm{Name: "a", Values: []float64{9, 11, 10, 14}, Cluster: []string{"p", "p", "q", "q"}}
	arm := Arm{Name: "b", Values: []float64{13, 13, 16, 18}, Cluster: []string{"r", "r", "s", "s"}}
	c, err := Shift(context.Background(), "m", ref, arm, 0, resample.Sampling{})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "estimate", c.Estimate, 4, 1e-12)
	near(t, "se", c.SE, math.Sqrt(5), 1e-12)
	near(t, "lower", c.Lower, 4-4.302653*math.Sqrt(5), 1e-6)
	arm.Cluster = []string{"r", "r", "r", "r"}
	if c, err = Shift(context.Background(), "m", ref, arm, 0, resample.Sampling{}); err != nil || c.Known() || len(c.Warnings) != 1 {
		t.Errorf("an arm of one cluster: %+v, %v", c, err)
	}
}

// Clusters with trainees of both arms: dealt within clusters, a difference between
// clusters does not count. Two in each of three clusters, one of either arm: 2³ = 8
// deals; the arm is above in every cluster, by 1, 1.5 and 2, as in only the deal seen and,
// below, its mirror. By hand the estimate is the mean 1.5 and its standard error that of
// paired differences, 0.5/√3.
func TestShiftWithinClusters(t *testing.T) {
	ref := Arm{Name: "a", Values: []float64{0, 100, 200}, Cluster: []string{"p", "q", "r"}}
	arm := Arm{Name: "b", Values: []float64{1, 101.5, 202}, Cluster: []string{"p", "q", "r"}}
	c, err := Shift(context.Background(), "m", ref, arm, 0, resample.Sampling{Replicates: 8000})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "estimate", c.Estimate, 1.5, 1e-12)
	near(t, "se", c.SE, 0.5/math.Sqrt(3), 1e-12)
	// As extreme above: 1 of 8, which counts half, on either side: p = 1/8.
	near(t, "p", c.P, 1.0/8, 0.02)
	arm.Values = []float64{1, 101, 201}
	if c, err = Shift(context.Background(), "m", ref, arm, 0, resample.Sampling{}); err != nil || c.Known() || len(c.Warnings) != 1 || math.Abs(c.Estimate-1) > 1e-12 {
		t.Errorf("every cluster has the same difference: %+v, %v; want an estimate, no interval and a warning", c, err)
	}
}

// Arms in unequal shares of clusters, by hand. In p the arm's one trainee has 12 and the
// reference's three 8, 10, 12: a difference of 2 with weight 1·3/4. In q the arm's three
// have 50, 52, 54 and the reference's two 51, 53: 0 with weight 3·2/5. The estimate is
// 2·0.75/1.95 = 10/13; of all trainees of p and q together it would be 42 − 26.8. The trainee of r, a
// cluster of the reference alone, is left out.
func TestShiftInUnequalShares(t *testing.T) {
	ref := Arm{Name: "a", Values: []float64{8, 10, 12, 51, 53, 0}, Cluster: []string{"p", "p", "p", "q", "q", "r"}}
	arm := Arm{Name: "b", Values: []float64{12, 50, 52, 54}, Cluster: []string{"p", "q", "q", "q"}}
	c, err := Shift(context.Background(), "m", ref, arm, 0, resample.Sampling{Replicates: 2000})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "estimate", c.Estimate, 10.0/13, 1e-12)
	near(t, "difference of the values beside it", c.ArmValue-c.RefValue, 10.0/13, 1e-12)
	if c.ArmN != 4 || c.RefN != 5 || c.Method != "studentised permutation within clusters" || len(c.Warnings) != 1 || c.Warnings[0].Code != "clusters-of-one-arm" {
		t.Errorf("%d and %d trainees, %s, %v", c.ArmN, c.RefN, c.Method, c.Warnings)
	}
	if !(c.Lower < c.Estimate && c.Estimate < c.Upper) || !c.Open() || c.P < 0.3 {
		t.Errorf("%v (%v to %v), p %v: want an interval about the estimate that holds 0", c.Estimate, c.Lower, c.Upper, c.P)
	}
}

func TestNoNumbers(t *testing.T) {
	ctx := context.Background()
	one := Arm{Name: "b", Values: []float64{3, math.NaN()}}
	c, err := Shift(ctx, "m", Arm{Name: "a", Values: []float64{1, 2}}, one, 0, resample.Sampling{})
	if err != nil || c.Estimate != 1.5 || c.Known() || len(c.Warnings) != 1 {
		t.Errorf("an arm of one: %+v, %v; want an estimate, no interval and a warning", c, err)
	}
	c, err = Shift(ctx, "m", Arm{Name: "a", Values: []float64{1, 1}}, Arm{Name: "b", Values: []float64{1, 1}}, 0, resample.Sampling{})
	if err != nil || c.Known() || !math.IsNaN(c.P) {
		t.Errorf("arms without spread: %+v, %v", c, err)
	}
}

// Numbers do not depend on how many work at them.
func TestShiftWorkers(t *testing.T) {
	ref, arm := Arm{Name: "a"}, Arm{Name: "b"}
	r := resample.Stream(1, "workers", 0)
	for range 20 {
		ref.Values, arm.Values = append(ref.Values, r.NormFloat64()), append(arm.Values, r.NormFloat64())
	}
	one, err1 := Shift(context.Background(), "m", ref, arm, 0, resample.Sampling{Workers: 1})
	four, err4 := Shift(context.Background(), "m", ref, arm, 0, resample.Sampling{Workers: 4})
	if err1 != nil || err4 != nil || one.Lower != four.Lower || one.Upper != four.Upper || one.P != four.P {
		t.Errorf("1 worker: %v to %v, p %v; 4: %v to %v, p %v", one.Lower, one.Upper, one.P, four.Lower, four.Upper, four.P)
	}
}

// By hand, one measure: 1, 3, 5 against 7, 9, 14. The statistic is the square of Welch's t:
// the difference is 7, the variances of the means 4/3 and 13/3, so 49/(17/3) = 8.647. Of the
// 20 deals 2 reach it, the arms exchanged.
func TestAnyDifferenceByHand(t *testing.T) {
	values := [][]float64{{1, 3, 5, 7, 9, 14, math.NaN()}}
	o, err := AnyDifference(context.Background(), []string{"m"}, values, []int{0, 0, 0, 1, 1, 1, 1}, nil, resample.Sampling{Replicates: 20000})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "statistic", o.Statistic, 49/(17.0/3), 1e-9)
	near(t, "p", o.P, 1.0/20, 0.01) // the two count half
	if o.N != 6 || o.Arms != 2 {
		t.Errorf("%d trainees in %d arms", o.N, o.Arms)
	}
}

// Within clusters a difference between clusters does not count, however unequal the arms'
// shares of them: nothing changes when 100 is added to everybody in q. In p the trainee of
// arm 1 has the highest number, in q the one of arm 0 the lowest.
func TestAnyDifferenceWithinClusters(t *testing.T) {
	p := func(values []float64) Overall {
		o, err := AnyDifference(context.Background(), []string{"m"}, [][]float64{values}, []int{0, 0, 0, 1, 0, 1, 1, 1, 1},
			[]string{"p", "p", "p", "p", "q", "q", "q", "q", "q"}, resample.Sampling{Replicates: 4000})
		if err != nil {
			t.Fatal(err)
		}
		return o
	}
	plain := p([]float64{8, 9, 10, 11, 9, 11, 10, 12, 11})
	far := p([]float64{8, 9, 10, 11, 109, 111, 110, 112, 111})
	near(t, "statistic with 100 more in q", far.Statistic, plain.Statistic, 1e-9)
	near(t, "p with 100 more in q", far.P, plain.P, 1e-12)
	// Of 4·5 deals none sets the arms further apart: p is about (1/20)/2.
	near(t, "p", far.P, 1.0/40, 0.01)
	if far.Method != "permutation within clusters" {
		t.Errorf("method %s", far.Method)
	}
}

func TestDescribe(t *testing.T) {
	for _, c := range []struct {
		c    Contrast
		want string
	}{
		{Contrast{Lower: -2, Upper: 5}, "excludes differences below -2 and above 5; anything between, in either direction, remains possible"},
		{Contrast{Lower: 1.25, Upper: 2, Ratio: true}, "excludes ratios below 1.25 and above 2"},
		{Contrast{Lower: 3, Upper: math.Inf(1)}, "excludes differences below 3"},
		{Contrast{Lower: math.Inf(-1), Upper: math.Inf(1)}, "excludes no differences; anything between, in either direction, remains possible"},
	} {
		c.c.Describe()
		if c.c.Excludes != c.want {
			t.Errorf("%v to %v: %q, want %q", c.c.Lower, c.c.Upper, c.c.Excludes, c.want)
		}
	}
}

// What is said beside a margin, for every place of the interval.
func TestMarginVerdicts(t *testing.T) {
	at := func(estimate, se float64) Contrast {
		return Contrast{Estimate: estimate, SE: se, DF: math.NaN(), Level: 0.95}
	}
	for _, c := range []struct {
		name string
		c    Contrast
		m    Margin
		want string
	}{
		{"inside", at(0, 1), Margin{Value: 3}, "lies within the margin of -3 to 3"},
		{"across", at(2, 1), Margin{Value: 3}, "beyond the margin of -3 to 3 is not excluded"},
		{"outside", at(9, 1), Margin{Value: 3}, "lies beyond the margin of -3 to 3"},
		{"not worse, higher better", at(0, 1), Margin{Value: 3, NonInferior: true}, "not worse by the margin of -3"},
		{"not worse, lower better", at(0, 1), Margin{Value: 3, NonInferior: true, LowerBetter: true}, "not worse by the margin of 3"},
		{"open", at(2, 1), Margin{Value: 3, NonInferior: true, LowerBetter: true}, "being worse by the margin of 3 is not excluded"},
		{"worse", at(9, 1), Margin{Value: 3, NonInferior: true, LowerBetter: true}, "worse by more than the margin of 3"},
	} {
		got := Within(c.c, c.m)
		if !strings.Contains(got.Excludes, c.want) {
			t.Errorf("%s: %q, want %q", c.name, got.Excludes, c.want)
		}
	}
}
