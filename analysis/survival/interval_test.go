package survival

import (
	"context"
	"math"
	"testing"

	"tyro/analysis/resample"
)

// TestIntervalCensoredCosmesis: 46 patients after radiotherapy alone, months to
// deterioration known between visits; data of Finkelstein and Wolfe (1985),
// Biometrics 41, 933-945, chances as printed by Fay and Shaw (2010), Journal of
// Statistical Software 36(2). Klein and Moeschberger (2003), example 5.1, print
// the same curve up to S(34) and stop a little short of it after that (.467).
func TestIntervalCensoredCosmesis(t *testing.T) {
	inf := math.Inf(1)
	windows := []Window{
		{45, inf}, {6, 10}, {0, 7}, {46, inf}, {46, inf}, {7, 16}, {17, inf}, {7, 14}, {37, 44}, {0, 8}, {4, 11}, {15, inf},
		{11, 15}, {22, inf}, {46, inf}, {46, inf}, {25, 37}, {46, inf}, {26, 40}, {46, inf}, {27, 34}, {36, 44}, {46, inf}, {36, 48},
		{37, inf}, {40, inf}, {17, 25}, {46, inf}, {11, 18}, {38, inf}, {5, 12}, {37, inf}, {0, 5}, {18, inf}, {24, inf}, {36, inf},
		{5, 11}, {19, 35}, {17, 25}, {24, inf}, {32, inf}, {33, inf}, {19, 26}, {37, inf}, {34, inf}, {36, inf},
	}
	c, err := IntervalCensored(windows)
	if err != nil {
		t.Fatal(err)
	}
	want := []Mass{
		{4, 5, .0463}, {6, 7, .0334}, {7, 8, .0887}, {11, 12, .0708}, {24, 25, .0926}, {33, 34, .0818}, {38, 40, .1209}, {46, 48, .4656},
	}
	if len(c.Masses) != len(want) {
		t.Fatalf("%v, want %v", c.Masses, want)
	}
	for i, m := range c.Masses {
		m.Chance = math.Round(1e4*m.Chance) / 1e4
		if m != want[i] {
			t.Errorf("%v, want %v", m, want[i])
		}
	}
	for at, want := range map[float64]float64{4: 1, 5: .954, 7: .920, 8: .832, 12: .761, 25: .668, 34: .586} {
		lower, upper := c.At(at)
		if lower != upper || math.Round(1000*lower)/1000 != want {
			t.Errorf("S(%g) from %.4f to %.4f, want %.3f", at, lower, upper, want)
		}
	}
}

// TestIntervalCensoredGrid: with common assessments every 5 attempts and nobody
// missing one, the estimate is the product-limit estimate of the assessments.
func TestIntervalCensoredGrid(t *testing.T) {
	var windows []Window
	var coarse []Observation
	for _, o := range observations(t, table(t, "attempts_to_criterion.csv")) {
		next := 5 * math.Ceil(o.Time/5)
		if o.Event {
			windows, coarse = append(windows, Window{next - 5, next}), append(coarse, Observation{next, true})
		} else {
			last := 5 * math.Floor(o.Time/5)
			windows, coarse = append(windows, Window{last, math.Inf(1)}), append(coarse, Observation{last, false})
		}
	}
	c, err := IntervalCensored(windows)
	if err != nil {
		t.Fatal(err)
	}
	km := KaplanMeier(coarse, Linear, 0.95)
	for at := 5.0; at <= 25; at += 5 {
		lower, upper := c.At(at)
		if want := km.At(at); !(math.Abs(lower-want) <= 1e-8) || lower != upper {
			t.Errorf("S(%g) from %v to %v, want %v", at, lower, upper, want)
		}
	}
	from, to := c.Quantile(0.5)
	if q := km.Quantile(0.5); to != q.Estimate || from != to-5 {
		t.Errorf("median after %v by %v, want by %v", from, to, q.Estimate)
	}
}

// TestIntervalCensoredExact: exact times and censored ones give the
// product-limit estimate.
func TestIntervalCensoredExact(t *testing.T) {
	_, gs := groups(t, table(t, "freireich_6mp.csv"), "group")
	var windows []Window
	for _, o := range gs[0] {
		w := Window{o.Time, o.Time}
		if !o.Event {
			w.Right = math.Inf(1)
		}
		windows = append(windows, w)
	}
	c, err := IntervalCensored(windows)
	if err != nil {
		t.Fatal(err)
	}
	for _, st := range KaplanMeier(gs[0], Linear, 0.95).Steps {
		if lower, upper := c.At(st.Time); !(math.Abs(lower-st.Survival) <= 1e-8) || lower != upper {
			t.Errorf("S(%g) from %v to %v, want %v", st.Time, lower, upper, st.Survival)
		}
	}
}

// TestIntervalCensoredByHand: windows (0,2], (1,3], (2,4]. The innermost
// intervals are (1,2] and (2,3]; with p on the first the likelihood is
// p·(p + 1 − p)·(1 − p), largest at 1/2.
func TestIntervalCensoredByHand(t *testing.T) {
	c, err := IntervalCensored([]Window{{0, 2}, {1, 3}, {2, 4}})
	if err != nil {
		t.Fatal(err)
	}
	want := []Mass{{1, 2, 0.5}, {2, 3, 0.5}}
	if len(c.Masses) != 2 {
		t.Fatalf("masses %v, want %v", c.Masses, want)
	}
	for i, m := range c.Masses {
		if m.Left != want[i].Left || m.Right != want[i].Right || !(math.Abs(m.Chance-0.5) <= 1e-9) {
			t.Errorf("mass %v, want %v", m, want[i])
		}
	}
	if lower, upper := c.At(1.5); lower != c.Masses[1].Chance || upper < 1-1e-9 {
		t.Errorf("inside an interval: from %v to %v, want 0.5 to 1", lower, upper)
	}
	if _, err := IntervalCensored([]Window{{3, 2}}); err == nil {
		t.Error("a window that ends before it begins: no error")
	}
}

func TestQuantileIntervalSameOnAnyWorkers(t *testing.T) {
	windows := []Window{{0, 5}, {0, 5}, {5, 10}, {5, 10}, {5, 10}, {10, 15}, {10, math.Inf(1)}, {15, math.Inf(1)}}
	var got []resample.Interval
	for _, workers := range []int{1, 4} {
		iv, err := QuantileInterval(context.Background(), windows, 0.5, 0.9, resample.Sampling{Seed: 3, Replicates: 200, Workers: workers})
		if err != nil {
			t.Fatal(err)
		}
		got = append(got, iv)
	}
	if got[0] != got[1] || !(got[0].Lower <= 10 && got[0].Upper >= 10) {
		t.Errorf("intervals %v", got)
	}
}
