package stopping

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"tyro/analysis/monitor"
)

func stopped(t *testing.T, p Policy, chance []float64, bar Bar) Stopping {
	t.Helper()
	s, err := Stop(p, chance, bar)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func policy(t *testing.T, text string) Policy {
	t.Helper()
	p, err := ParsePolicy(text)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// Each by hand. Two in a row at 1/2 goes on past n attempts with chance
// F(n+2)/2^n, F the Fibonacci numbers 1, 1, 2, 3, …: over n from 0 to 9 these sum to
// 1 + 1 + 3/4 + 5/8 + 8/16 + 13/32 + 21/64 + 34/128 + 55/256 + 89/512. One pass with
// chances 1/2 and 9/10: practice stops at 1 with chance 1/2, at 2 with 9/20.
func TestStop(t *testing.T) {
	rising := []float64{0.5, 0.9}
	for _, c := range []struct {
		text                             string
		chance                           []float64
		bar                              Bar
		mean, falsePass, held, never, at float64
	}{
		{"2 in a row", Constant(0.5, 10), Bar{}, 5.263671875, 0.859375, math.NaN(), 0.140625, math.Inf(1)},
		{"20 attempts", Constant(0.5, 30), Bar{}, 20, 1, math.NaN(), 0, math.Inf(1)},
		{"20 attempts", Constant(0.5, 15), Bar{}, 15, 0, math.NaN(), 1, math.Inf(1)},
		{"20 attempts", Constant(0.9, 30), Bar{}, 20, 0, 1, 0, 1},
		{"20 attempts", Constant(0.9, 30), Bar{Held: 20}, 20, 0, 0, 0, 1},
		{"1 in a row", rising, Bar{Held: 1}, 1.5, 0.5, 0.05, 0.05, 2},
		{"1 in a row", rising, Bar{Held: 9}, 1.5, 0.5, 0.05, 0.05, 2}, // beyond the horizon
		{"1 in a row", rising, Bar{Level: 0.5, Held: 1}, 1.5, 0, 0.5, 0.05, 1},
		{"1 in a row", []float64{0.9, 0.5, 0.9}, Bar{Held: 2}, 1.15, 0.05, 0.05, 0.005, 1}, // a level lost again
	} {
		s := stopped(t, policy(t, c.text), c.chance, c.bar)
		for _, f := range []struct {
			what      string
			got, want float64
		}{{"mean", s.Mean, c.mean}, {"false pass", s.FalsePass, c.falsePass}, {"held back", s.HeldBack, c.held}, {"never", s.Never, c.never}, {"proficient at", s.Proficient, c.at}} {
			if f.got != f.want && !(math.Abs(f.got-f.want) < 1e-12) && !(math.IsNaN(f.got) && math.IsNaN(f.want)) {
				t.Errorf("%s over %d attempts, %+v: %s %v, want %v", c.text, len(c.chance), c.bar, f.what, f.got, f.want)
			}
		}
	}
}

func chartOfThirds(steps float64) Chart {
	return Chart{monitor.Rates{Acceptable: 1. / 3, Unacceptable: 2. / 3}, steps * math.Ln2}
}

// Failure rates of 1/3 and 2/3 make every pass add ln 2 and every miss take it away.
// With a limit of 2·ln 2 that is two passes in a row. With 3·ln 2 and chances of one
// half, by hand from the states 0, 1, 2: after two attempts 1/2, 1/4, 1/4; after
// three 3/8, 3/8, 1/8 with 1/8 stopped; the fourth adds 1/16, the fifth half of
// 3/16.
func TestChartByHand(t *testing.T) {
	two, three := chartOfThirds(2), chartOfThirds(3)
	by, err := two.MetBy(Constant(0.5, 10))
	if err != nil || math.Abs(by[9]-0.859375) > 1e-12 {
		t.Errorf("two steps up: %v (%v), want 0.859375", by, err)
	}
	by, err = three.MetBy(Constant(0.5, 5))
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []float64{0, 0, 0.125, 0.1875, 0.28125} {
		if math.Abs(by[i]-want) > 1e-12 {
			t.Errorf("three steps up by attempt %d: %v, want %v", i+1, by[i], want)
		}
	}
}

// At a constant rate the chart's own run lengths, which come from renewal at zero,
// are a second way to the same chances.
func TestChartAtConstantRate(t *testing.T) {
	for _, r := range []monitor.Rates{{Acceptable: 0.2, Unacceptable: 0.4}, {Acceptable: 0.05, Unacceptable: 0.15}} {
		c, err := NewChart(r)
		if err != nil {
			t.Fatal(err)
		}
		for _, rate := range []float64{r.Acceptable, 0.3, r.Unacceptable, 0, 1} {
			by, err := c.MetBy(Constant(1-rate, 120))
			if err != nil {
				t.Fatal(err)
			}
			for i, want := range monitor.Learning(r, c.H).SignalBy(rate, 120) {
				if math.Abs(by[i]-want) > 1e-10 {
					t.Fatalf("%s at failure rate %g by attempt %d: %v, want %v", c, rate, i+1, by[i], want)
				}
			}
			if by[ChartWithin-1] > ChartFalse && rate == r.Unacceptable {
				t.Errorf("%s signals falsely with chance %v", c, by[ChartWithin-1])
			}
		}
	}
}

// Every sequence of twelve attempts, weighed by its chance.
func TestPoliciesByEnumeration(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 11))
	const n = 12
	chance := make([]float64, n)
	for i := range chance {
		chance[i] = 0.2 + 0.75*r.Float64()
	}
	for _, text := range []string{
		"7 attempts", "20 attempts", "chart 0.2/0.5 h 1.5", "chart 0.1/0.3 h 2", "chance 0.5 with confidence 0.8",
		"chance 0.6 with confidence 0.9 over last 5", "chance 0.3 with confidence 0.95 over last 8", "2 in a row and 5 in all",
	} {
		p := policy(t, text)
		want := make([]float64, n)
		passes := make([]bool, n)
		for bits := range 1 << n {
			mass := 1.0
			for i, c := range chance {
				if passes[i] = bits>>i&1 == 1; passes[i] {
					mass *= c
				} else {
					mass *= 1 - c
				}
			}
			if k := p.FirstMet(passes); k > 0 {
				for i := k - 1; i < n; i++ {
					want[i] += mass
				}
			}
		}
		got := stopped(t, p, chance, Bar{}).MetBy
		made, err := Ready(p, n)
		if err != nil {
			t.Fatal(err)
		}
		again := stopped(t, made, chance, Bar{})
		if longer := stopped(t, made, append(chance[:n:n], 0.5), Bar{}); !slices.Equal(again.MetBy, got) || !slices.Equal(longer.MetBy[:n], got) || again.Policy != text {
			t.Errorf("%s made ready gives %v, then %v", text, again.MetBy, longer.MetBy)
		}
		for i := range want {
			if math.Abs(got[i]-want[i]) > 1e-12 {
				t.Errorf("%s by attempt %d: %v, want %v", text, i+1, got[i], want[i])
			}
		}
	}
}

// Posterior chances from R 4.2.2: 1 - pbeta(target, s + 0.5, w - s + 0.5).
func TestEstimateConfidence(t *testing.T) {
	for _, c := range []struct {
		target       float64
		passes, of   int
		want         float64
		confidenceOK bool // at 0.9
	}{
		{0.8, 5, 5, 0.8745331035892813, false},
		{0.8, 6, 6, 0.9053576560593585, true},
		{0.8, 11, 12, 0.8449449116887944, false},
		{0.8, 12, 12, 0.9806568724300573, true},
		{0.8, 20, 21, 0.9739410730075809, true},
		{0.8, 19, 21, 0.891979196937578, false},
		{0.5, 3, 4, 0.8395305452627101, false},
	} {
		e := ShownChance{Target: c.target, Confidence: 0.9}
		if got := e.confidence(c.passes, c.of); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%d of %d passes above %g with confidence %v, want %v", c.passes, c.of, c.target, got, c.want)
		}
		if ok := e.Needed(c.of) <= c.passes; ok != c.confidenceOK {
			t.Errorf("%d of %d passes: enough is %v", c.passes, c.of, ok)
		}
	}
}

func TestParsePolicy(t *testing.T) {
	for _, text := range []string{"20 attempts", "2 in a row and 12 in all", "chart 0.2/0.4 h 3.5", "chance 0.8 with confidence 0.9", "chance 0.8 with confidence 0.9 over last 12"} {
		if got := policy(t, text).String(); got != text {
			t.Errorf("%q reads back as %q", text, got)
		}
	}
	if c, ok := policy(t, "chart 0.2/0.4").(*Chart); !ok || policy(t, c.String()).String() != c.String() {
		t.Errorf("a chart with a chosen limit does not read back: %v", c)
	}
	for _, text := range []string{
		"", "0 attempts", "twenty attempts", "chart 0.4/0.2", "chart 0.2", "chart 0.2/0.4 h 0", "chart 0.2.1/0.4", "chance 1.2 with confidence 0.9",
		"chance 0.8 with confidence 0.99 over last 3", "chance 0.8 with confidence 0.9 over last 0", "chance 0.8 with confidence 0.9 over last 40", "chance 0.8",
	} {
		if p, err := ParsePolicy(text); err == nil {
			t.Errorf("%q was read as %v", text, p)
		}
	}
}

// By hand: a gap of 0.6 halved every 5 attempts is 0.6, 0.3 and 0.15 at attempts 1, 6
// and 11.
func TestClosing(t *testing.T) {
	c := Closing(0.3, 0.9, 5, 11)
	for _, w := range []struct {
		n    int
		want float64
	}{{1, 0.3}, {6, 0.6}, {11, 0.75}} {
		if math.Abs(c[w.n-1]-w.want) > 1e-12 {
			t.Errorf("pass chance %v at attempt %d, want %v", c[w.n-1], w.n, w.want)
		}
	}
}

// One way with one learner over a hundred attempts.
func BenchmarkStop(b *testing.B) {
	chance := Closing(0.1, 0.95, 8, 100)
	for _, text := range []string{"2 in a row", "8 of last 10", "chart 0.2/0.4 h 3.85", "chance 0.8 with confidence 0.9 over last 12"} {
		p, err := ParsePolicy(text)
		if err != nil {
			b.Fatal(err)
		}
		b.Run(text, func(b *testing.B) {
			for b.Loop() {
				if _, err := Stop(p, chance, Bar{}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
