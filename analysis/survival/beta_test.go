package survival

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
)

// met makes observations of events at the times given and of people last seen
// without.
func met(events []float64, without ...float64) []Observation {
	var out []Observation
	for _, t := range events {
		out = append(out, Observation{t, true})
	}
	for _, t := range without {
		out = append(out, Observation{t, false})
	}
	return out
}

func upTo(n int) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = float64(i + 1)
	}
	return out
}

// Without censoring the limits are those of Clopper and Pearson (1934): for 5 of 10
// from 0.187 to 0.813 (their chart), for 0 of 10 up to 1 − 0.025^(1/10), for 10 of
// 10 from 0.025^(1/10).
func TestBetaLimitsWithoutCensoring(t *testing.T) {
	c := KaplanMeier(met(upTo(10)), LogLog, 0.95)
	extreme := math.Pow(0.025, 0.1)
	for _, want := range []struct{ at, lower, upper, slack float64 }{
		{0.5, extreme, 1, 1e-12}, {5, 0.187, 0.813, 5e-4}, {10, 0, 1 - extreme, 1e-9},
	} {
		lower, upper := c.BetaLimits(want.at, 0.95)
		if math.Abs(lower-want.lower) > want.slack || math.Abs(upper-want.upper) > want.slack {
			t.Errorf("after %v: %v to %v, want %v to %v", want.at, lower, upper, want.lower, want.upper)
		}
	}
}

// The mid-p limits of a share are where half of the chance of what was seen, and all
// of what is further out, make 2.5 % (Lancaster, 1961, Journal of the American
// Statistical Association 56, 223-234): checked on the binomial distribution.
func TestMidLimitsWithoutCensoring(t *testing.T) {
	c := KaplanMeier(met(upTo(30)), LogLog, 0.95)
	for _, events := range []int{1, 7, 15, 29} {
		lower, upper := c.MidLimits(float64(events), 0.95)
		left := float64(30 - events)
		tail := func(p float64) float64 { // chance of fewer left, and half of as many
			b := distuv.Binomial{N: 30, P: p}
			return b.CDF(left-1) + b.Prob(left)/2
		}
		if math.Abs(tail(upper)-0.025) > 1e-6 || math.Abs(tail(lower)-0.975) > 1e-6 {
			t.Errorf("%d events: %v to %v leave %v and %v", events, lower, upper, 1-tail(lower), tail(upper))
		}
	}
}

// Where everybody had the event half of the mixture's weight stands at 0, so that every
// quantile up to one half is 0; before the first event half of it stands at 1.
func TestMidLimitsAtTheEnds(t *testing.T) {
	c := KaplanMeier(met([]float64{1, 2, 4}), LogLog, 0.95)
	if lower, upper := c.MidLimits(4, 0.95); lower != 0 || !(upper > 0.5 && upper < 1) {
		t.Errorf("all had it: %v to %v, want from 0", lower, upper)
	}
	if lower, upper := c.MidLimits(0.5, 0.95); math.Abs(upper-1) > 1e-12 || !(lower > 0 && lower < 0.5) {
		t.Errorf("nobody had it: %v to %v, want up to 1", lower, upper)
	}
}

// With somebody censored: events at 1 and 3 and a person last seen at 2. The chance
// after 3 is at most B·V with B of Beta(3, 1) and V uniform, whose distribution
// function is, by hand, x³ + 3x(1 − x²)/2; it is 0.975 at x = 0.868. The match by
// two moments may miss that by a little.
func TestBetaLimitsCensored(t *testing.T) {
	c := KaplanMeier(met([]float64{1, 3}, 2), LogLog, 0.95)
	lower, upper := c.BetaLimits(3, 0.95)
	if math.Abs(upper-0.868) > 0.02 || lower != 0 {
		t.Errorf("%v to %v, want 0 to 0.868", lower, upper)
	}
}

// Wilks (1941): with 29 people the largest of them bounds 90 % with 95 % confidence
// (0.9^29 = 0.047, 0.9^28 = 0.052), with 46 the second largest (0.9^46 + 46·0.1·0.9^45
// = 0.048, and 0.052 for 45).
func TestTolerance(t *testing.T) {
	for _, c := range []struct {
		people int
		want   float64
	}{{28, math.Inf(1)}, {29, 29}, {45, 45}, {46, 45}} {
		if at, _ := KaplanMeier(met(upTo(c.people)), LogLog, 0.95).Tolerance(0.9, 0.95); at != c.want {
			t.Errorf("%d people: %v, want %v", c.people, at, c.want)
		}
	}
	// Of 40, four never had the event, seen to 50: 36 of 40 show less than 90 %.
	// What can be claimed is the one-sided lower limit of 36 of 40: 1 − Beta⁻¹.
	at, claimed := KaplanMeier(met(upTo(36), 50, 50, 50, 50), LogLog, 0.95).Tolerance(0.9, 0.95)
	b := distuv.Binomial{N: 40, P: 1 - claimed} // four or fewer without must have chance 5 %
	if !math.IsInf(at, 1) || math.Abs(b.CDF(4)-0.05) > 1e-6 {
		t.Errorf("%v, claimed %v leaves %v", at, claimed, b.CDF(4))
	}
	for _, n := range []struct {
		share float64
		want  int
	}{{0.9, 29}, {0.95, 59}, {0.5, 5}} {
		if got := PeopleNeeded(n.share, 0.95); got != n.want {
			t.Errorf("share %v needs %d people, want %d", n.share, got, n.want)
		}
	}
}
