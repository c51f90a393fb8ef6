package compare

import (
	"context"
	"math"
	"testing"

	"tyro/analysis/resample"
)

// R 4.2.2, p.adjust(c(.01, .04, .03, .005, .04, .2), "holm").
func TestHolm(t *testing.T) {
	ps := []float64{0.01, 0.04, 0.03, 0.005, 0.04, 0.2, math.NaN()}
	want := []float64{0.05, 0.12, 0.12, 0.03, 0.12, 0.2}
	cs := make([]Contrast, len(ps))
	for i, p := range ps {
		cs[i] = Contrast{P: p, PAdjusted: math.NaN()}
	}
	Holm(cs)
	for i, w := range want {
		if math.Abs(cs[i].PAdjusted-w) > 1e-12 {
			t.Errorf("p %v adjusted to %v, want %v", ps[i], cs[i].PAdjusted, w)
		}
	}
	if !math.IsNaN(cs[6].PAdjusted) {
		t.Errorf("an unknown p was adjusted to %v", cs[6].PAdjusted)
	}
}

func meanOf(values []float64) Measure {
	return Measure{Name: "mean", Of: func(members []int) float64 {
		sum := 0.0
		for _, i := range members {
			sum += values[i]
		}
		return sum / float64(len(members))
	}}
}

// Yield of plants under a control and a treatment (Dobson, 1983; R's
// PlantGrowth, ctrl and trt2). Exact two-sided permutation p of the difference
// of means over all 184,756 splits: 0.048334, by an integer subset-sum count
// (R package coin 1.4.2 finds 0.0494 in 100,000 draws); difference -0.494.
func TestPermutationAgainstEnumeration(t *testing.T) {
	values := []float64{4.17, 5.58, 5.18, 6.11, 4.50, 4.61, 5.17, 4.53, 5.33, 5.14, 6.31, 5.12, 5.54, 5.50, 5.37, 5.29, 4.92, 6.15, 5.80, 5.26}
	exact, diff := enumerate(values)
	if math.Abs(exact-0.04833401892225422) > 1e-12 {
		t.Errorf("exact p %v, want 0.048334", exact)
	}
	groups := []Group{{"trt2", []int{10, 11, 12, 13, 14, 15, 16, 17, 18, 19}}, {"ctrl", []int{0, 1, 2, 3, 4, 5, 6, 7, 8, 9}}}
	cs, err := Arms(context.Background(), groups, []Measure{meanOf(values)}, Options{Sampling: resample.Sampling{Seed: 2, Replicates: 20000}})
	if err != nil {
		t.Fatal(err)
	}
	c := cs[0]
	if math.Abs(c.Estimate-diff) > 1e-12 || math.Abs(diff+0.494) > 1e-12 {
		t.Errorf("difference %v, want %v", c.Estimate, diff)
	}
	if se := math.Sqrt(exact * (1 - exact) / 20000); math.Abs(c.P-exact) > 4*se {
		t.Errorf("permutation p %v, exact %v", c.P, exact)
	}
	// Welch's t interval from R's t.test: -0.9828 to -0.0052.
	if math.Abs(c.Lower+0.9828) > 0.05 || math.Abs(c.Upper+0.0052) > 0.05 {
		t.Errorf("interval %.3f to %.3f, Welch's is -0.983 to -0.005", c.Lower, c.Upper)
	}
}

// enumerate counts every split of 20 values into two tens.
func enumerate(values []float64) (p, diff float64) {
	total, first := 0.0, 0.0
	for i, v := range values {
		total += v
		if i < 10 {
			first += v
		}
	}
	diff = (2*first - total) / 10
	splits, far := 0, 0
	for mask := range 1 << 20 {
		n, sum := 0, 0.0
		for i := range 20 {
			if mask>>i&1 == 1 {
				n++
				sum += values[i]
			}
		}
		if n != 10 {
			continue
		}
		splits++
		if math.Abs((2*sum-total)/10) >= math.Abs(diff)-1e-9 {
			far++
		}
	}
	return float64(far) / float64(splits), diff
}

func TestNotReached(t *testing.T) {
	inf := math.Inf(1)
	always := func(v float64) func([]int) float64 { return func([]int) float64 { return v } }
	groups := []Group{{"a", []int{0, 1, 2}}, {"b", []int{3, 4, 5}}}
	both := Measure{Name: "both beyond", Of: always(inf)}
	cs, err := Arms(context.Background(), groups, []Measure{both}, Options{Sampling: resample.Sampling{Replicates: 50}})
	if err != nil {
		t.Fatal(err)
	}
	if c := cs[0]; !math.IsNaN(c.Estimate) || !math.IsNaN(c.Lower) || len(c.Warnings) == 0 || !math.IsNaN(c.P) {
		t.Errorf("two arms that do not reach: %+v, want no number and a warning", c)
	}
	one := Measure{Name: "one beyond", Of: func(m []int) float64 {
		if m[0] >= 3 {
			return inf
		}
		return 20
	}}
	cs, err = Arms(context.Background(), groups, []Measure{one}, Options{Sampling: resample.Sampling{Replicates: 50}})
	if err != nil {
		t.Fatal(err)
	}
	if c := cs[0]; !math.IsInf(c.Estimate, 1) || !math.IsInf(c.Upper, 1) {
		t.Errorf("an arm that does not reach: %+v, want +Inf", c)
	}
}

func TestSmallArm(t *testing.T) {
	cs, err := Arms(context.Background(), []Group{{"a", []int{0, 1}}, {"b", []int{2}}}, []Measure{meanOf([]float64{1, 2, 3})}, Options{Sampling: resample.Sampling{Replicates: 50}})
	if err != nil {
		t.Fatal(err)
	}
	if c := cs[0]; c.Estimate != 1.5 || !math.IsNaN(c.Lower) || len(c.Warnings) != 1 {
		t.Errorf("an arm of one: %+v, want an estimate without interval and a warning", c)
	}
}

func TestExcludes(t *testing.T) {
	for _, c := range []struct {
		c    Contrast
		want string
	}{
		{Contrast{Lower: -2, Upper: 5}, "excludes differences below -2 and above 5; no difference at all is still possible"},
		{Contrast{Lower: 1.25, Upper: 2, Ratio: true}, "excludes ratios below 1.25 and above 2"},
		{Contrast{Lower: 3, Upper: math.Inf(1)}, "excludes differences below 3"},
	} {
		if got := c.c.excludes(); got != c.want {
			t.Errorf("%v to %v: %q, want %q", c.c.Lower, c.c.Upper, got, c.want)
		}
	}
}
