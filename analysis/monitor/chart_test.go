package monitor

import (
	"math"
	"math/rand/v2"
	"testing"
)

var (
	_ Chart = CUSUM{}
	_ Chart = Sequential{}
	_ Chart = ObservedExpected{}
	_ Chart = FailureEWMA{}
)

func fails(s string) []bool {
	out := make([]bool, len(s))
	for i, c := range s {
		out[i] = c == 'x'
	}
	return out
}

func values(p Path) []float64 {
	var out []float64
	for _, s := range p.Steps {
		out = append(out, s.Value)
	}
	return out
}

func equal(t *testing.T, what string, got, want []float64) {
	t.Helper()
	if len(got) != len(want) {
		t.Fatalf("%s: %v, want %v", what, got, want)
	}
	for i := range want {
		if math.Abs(got[i]-want[i]) > 1e-12 {
			t.Fatalf("%s: %v, want %v", what, got, want)
		}
	}
}

// Every rule on one sequence of +2 and −1, by hand.
func TestSchemeByHand(t *testing.T) {
	w := Weights{2, -1}
	x := w.Of(fails("xx..x.x"))
	for _, c := range []struct {
		name     string
		scheme   Scheme
		restarts []int
		want     []float64
		first    int
		signals  int
	}{
		{"held at zero, going on", Scheme{H: 4}, nil, []float64{2, 4, 3, 2, 4, 3, 5}, 1, 3},
		{"starting anew", Scheme{H: 4, Restart: true}, nil, []float64{2, 4, 0, 0, 2, 1, 3}, 1, 1},
		{"headstart, also after a signal", Scheme{H: 4, Start: 2, Restart: true}, nil, []float64{4, 4, 1, 0, 2, 1, 3}, 0, 2},
		{"held at the limit", Scheme{H: 3, AtSignal: true}, nil, []float64{2, 3, 2, 1, 3, 2, 3}, 1, 3},
		{"device changed before the third", Scheme{H: 4, Start: 1}, []int{2}, []float64{3, 5, 0, 0, 2, 1, 3}, 1, 1},
		{"no barrier", Scheme{H: 9, NoBarrier: true}, nil, []float64{2, 4, 3, 2, 4, 3, 5}, -1, 0},
	} {
		p := c.scheme.Follow(x, c.restarts)
		equal(t, c.name, values(p), c.want)
		if p.First != c.first || len(p.Signals()) != c.signals {
			t.Errorf("%s: first signal %d of %d, want %d of %d", c.name, p.First, len(p.Signals()), c.first, c.signals)
		}
	}
	equal(t, "below zero without a barrier", values(Scheme{H: 9, NoBarrier: true}.Follow(w.Of(fails("...x")), nil)), []float64{-1, -2, -3, -1})
}

// A sum that meets the limit exactly but for rounding counts as at it: three
// passes at h of three pass weights.
func TestLimitMetExactly(t *testing.T) {
	r := Rates{0.1, 0.3}
	w := LogRatio(r.Acceptable, r.Unacceptable).Success
	c := Learning(r, w+w+w)
	if p := c.Follow(fails("..."), nil); p.First != 2 {
		t.Errorf("signal at position %d, want 2", p.First)
	}
	// By hand: a run of k = 3 successes with chance 0.9 each.
	near(t, "mean", c.Mean(0.1), (1-math.Pow(0.9, 3))/(0.1*math.Pow(0.9, 3)), 1e-12)
}

func TestDeviceChangeReopensTheTest(t *testing.T) {
	s := Sequential{Rates{0.1, 0.5}, 0.05, 0.05}
	p, d := s.Decide(fails("xxxxx.....xxxxx"), []int{10})
	if len(p.Signals()) != 2 || d[9] != Unacceptable || d[10] != Undecided || !p.Steps[10].Restart {
		t.Errorf("signals %v, decisions %v", p.Signals(), d)
	}
}

func TestObservedExpectedByHand(t *testing.T) {
	o := ObservedExpected{Expected: 0.25, H: 1.25}
	p := o.Follow(fails("x.x.xx"), nil)
	equal(t, "sum", values(p), []float64{0.75, 0.5, 1.25, 1, 1.75, 2.5})
	if p.First != 2 {
		t.Errorf("signal at %d, want 2", p.First)
	}
	if !math.IsInf(o.Mean(0.25), 1) || !math.IsInf(o.Mean(0.1), 1) {
		t.Error("the mean run length is infinite at the expected rate and below")
	}
	// By hand: within two attempts only two failures reach 1.25; the sums after
	// three attempts with two failures are 1.25 too.
	p2, p3 := 0.25*0.25, 3*0.25*0.25*0.75+0.25*0.25*0.25
	by := o.SignalBy(0.25, 3)
	near(t, "within 2", by[1], p2, 1e-12)
	near(t, "within 3", by[2], p3, 1e-12)
	// Wald's identity: a signal at rate 1 takes two attempts.
	near(t, "certain failure", o.Mean(1), 2, 1e-12)
	equal(t, "expected of each", values(o.FollowChances(fails("x.x"), []float64{0.5, 0.25, 0.125}, nil)), []float64{0.5, 0.25, 1.125})
	near(t, "one look", o.PointwiseLimit(2, 3)[2], 1.5, 1e-12) // 2·√(3·3/16)
}

// The chance of a signal by every short horizon, against all 2^n sequences.
func TestSignalByAgainstEverySequence(t *testing.T) {
	const n, rate = 12, 0.3
	chances := []float64{0.5, 0.55, 0.6, 0.6, 0.65, 0.7, 0.7, 0.75, 0.8, 0.8, 0.85, 0.85}
	projected := Projected{PassChances: chances, OddsRatio: 3, Scheme: Scheme{H: 1.2}}
	worse := func(i int) float64 { f := 1 - chances[i]; return 2 * f / (1 - f + 2*f) }
	head := Relapse(Rates{0.1, 0.3}, 2)
	head.Scheme.Start = 1
	constant := func(int) float64 { return rate }
	for _, c := range []struct {
		name   string
		follow func([]bool) Path
		by     []float64
		rate   func(i int) float64
		tol    float64
	}{
		{"learning", func(x []bool) Path { return Learning(Rates{0.1, 0.3}, 1.5).Follow(x, nil) }, Learning(Rates{0.1, 0.3}, 1.5).SignalBy(rate, n), constant, 1e-12},
		{"relapse with headstart", func(x []bool) Path { return head.Follow(x, nil) }, head.SignalBy(rate, n), constant, 1e-12},
		{"sequential", func(x []bool) Path { return Sequential{Rates{0.1, 0.3}, 0.1, 0.1}.Follow(x, nil) }, Sequential{Rates{0.1, 0.3}, 0.1, 0.1}.SignalBy(rate, n), constant, 1e-12},
		{"observed-expected", func(x []bool) Path { return ObservedExpected{0.2, 2}.Follow(x, nil) }, ObservedExpected{0.2, 2}.SignalBy(rate, n), constant, 1e-12},
		{"ewma", func(x []bool) Path { return FailureEWMA{0.2, 0.2, 1.5}.Follow(x, nil) }, FailureEWMA{0.2, 0.2, 1.5}.SignalBy(rate, n), constant, 1e-6},
		{"projected", func(x []bool) Path { return projected.Follow(x, nil) }, projected.SignalBy(2), worse, 1e-6},
	} {
		want := make([]float64, n)
		for code := range 1 << n {
			x, q := make([]bool, n), 1.0
			for i := range x {
				x[i] = code>>i&1 == 1
				if x[i] {
					q *= c.rate(i)
				} else {
					q *= 1 - c.rate(i)
				}
			}
			if first := c.follow(x).First; first >= 0 {
				for i := first; i < n; i++ {
					want[i] += q
				}
			}
		}
		for i := range want {
			if math.Abs(c.by[i]-want[i]) > c.tol {
				t.Errorf("%s: within %d = %.9f, want %.9f", c.name, i+1, c.by[i], want[i])
			}
		}
	}
}

// With the same chance throughout, the projected chart for odds that turn one
// rate into another is the relapse chart for these rates.
func TestProjectedWithConstantChanceIsRelapse(t *testing.T) {
	r := Rates{0.1, 0.2}
	chances := make([]float64, 60)
	for i := range chances {
		chances[i] = 0.9
	}
	p := Projected{PassChances: chances, OddsRatio: (0.2 / 0.8) / (0.1 / 0.9), Scheme: Scheme{H: 2, Restart: true}}
	ref := load(t)
	equal(t, "values", values(p.Follow(ref.failed(), nil)), values(Relapse(r, 2).Follow(ref.failed(), nil)))
	for i, want := range Relapse(r, 2).SignalBy(0.1, 60) {
		if got := p.SignalBy(1)[i]; math.Abs(got-want) > 2e-5 {
			t.Errorf("within %d = %v, exact %v", i+1, got, want)
		}
	}
	chances[3] = math.NaN()
	if st := p.Follow(ref.failed()[:5], nil).Steps; st[3].Value != st[2].Value {
		t.Error("an attempt without a chance must add nothing")
	}
}

func TestChainsExtrapolateToTheIntegralEquation(t *testing.T) {
	for _, c := range []NormalCUSUM{{0.5, 4, 0}, {0.5, 5, 0}, {0.25, 6, 0}} {
		for _, shift := range []float64{0, 0.5, 1} {
			got := Extrapolate(func(n int) float64 { return NormalChain(c.K, c.H, shift, n).Mean() }, [3]int{40, 60, 80})
			near(t, "extrapolated", got, c.Mean(shift), 1e-3)
		}
	}
	c := NormalCUSUM{0.5, 4, 0}
	a, b := NormalChain(0.5, 4, 0.5, 200).SignalBy(30), c.SignalBy(0.5, 30)
	for i := range a {
		if math.Abs(a[i]-b[i]) > 2e-4 {
			t.Errorf("within %d: chain %v, equation %v", i+1, a[i], b[i])
		}
	}
}

func TestFailureEWMAMeanDoesNotHangOnTheGrid(t *testing.T) {
	for _, c := range []struct {
		e    FailureEWMA
		rate float64
	}{{FailureEWMA{0.1, 0.1, 3.57}, 0.1}, {FailureEWMA{0.1, 0.1, 2.5}, 0.25}, {FailureEWMA{0.2, 0.2, 2.5}, 0.2}, {FailureEWMA{0.05, 0.05, 2.5}, 0.05}, {FailureEWMA{0.1, 0.3, 2.5}, 0.1}} {
		near(t, "mean", c.e.Mean(c.rate), c.e.meanOn(c.rate, 4*ewmaCells), 2e-4)
		// The cloud behind SignalBy is another way to the same figure.
		near(t, "mean by the cloud", meanOf(c.e.survival(c.rate), gridTail), c.e.Mean(c.rate), 5e-4)
	}
}

func TestLongAndShortChancesAgree(t *testing.T) {
	e := FailureEWMA{0.1, 0.1, 2.5}
	short, long := e.SignalBy(0.1, cloudMost), e.SignalBy(0.1, cloudMost+1)
	for i, v := range short {
		if math.Abs(v-long[i]) > 5e-4 {
			t.Errorf("within %d: %v and %v", i+1, v, long[i])
		}
	}
}

// Rates so close that the walk would take too long give no number rather than a
// wrong one.
func TestTooLongIsUnknown(t *testing.T) {
	if s := (Sequential{Rates{0.4999, 0.5001}, 0.05, 0.05}).Exact(0.5); !math.IsNaN(s.MeanAttempts) || !math.IsNaN(s.Acceptable) {
		t.Errorf("%+v", s)
	}
	if m := Learning(Rates{0.1, 0.2}, 500).Mean(0.2); !math.IsNaN(m) {
		t.Errorf("a signal too rare to be worked out: %v", m)
	}
}

func TestDesignMeetsWhatWasAsked(t *testing.T) {
	r := Rates{0.1, 0.3}
	learning := func(h float64) RunLengths { return Learning(r, h) }
	d := ByShares(learning, 0.3, 0.1, 0.05, 50)
	if !(d.False <= 0.05) || learning(d.H-0.01).SignalBy(0.3, 50)[49] <= 0.05 {
		t.Errorf("%+v is not the lowest limit with a false share of 0.05", d)
	}
	near(t, "true share", d.True, learning(d.H).SignalBy(0.1, 50)[49], 1e-12)
	// From the reference: at h = 2.5, 37 of 100 signal falsely within 50.
	if !(d.H > 2.5) {
		t.Errorf("h = %g, want more than 2.5", d.H)
	}
	relapse := func(h float64) RunLengths { return Relapse(Rates{0.1, 0.2}, h) }
	d = ByRunLength(relapse, 0.1, 0.2, 184, 50)
	if !(d.MeanFalse >= 184) || relapse(d.H-0.01).Mean(0.1) >= 184 || d.H > 2 {
		t.Errorf("%+v is not the lowest limit with 184 attempts between false signals", d) // 184.88 at h = 2
	}
	time := MeasureModel{Standard: 60, SD: 0.3, Lower: true, Log: true}
	for name, chart := range map[string]func(h float64) RunLengths{
		"observed-expected": func(h float64) RunLengths { return ObservedExpected{0.1, h} },
		"ewma":              func(h float64) RunLengths { return FailureEWMA{0.1, 0.1, h} },
		"measure sum":       func(h float64) RunLengths { return OnMeasure{Model: time, Rates: r, H: h} },
		"measure mean":      func(h float64) RunLengths { return OnMeasure{Model: time, Rates: r, H: h, Lambda: 0.2} },
	} {
		if d := ByShares(chart, 0.1, 0.3, 0.05, 50); !(d.False <= 0.05 && d.False > 0.01 && d.True > d.False) {
			t.Errorf("%s: %+v", name, d)
		}
	}
}

func TestAround(t *testing.T) {
	s := Around(Setting{Rates{0.1, 0.3}, 2})
	if len(s) != 11 || s[0] != (Setting{Rates{0.1, 0.3}, 2}) || s[9].H != 1.5 || s[10].H != 2.5 {
		t.Errorf("%v", s)
	}
	for _, s := range Around(Setting{Rates{0.2, 0.22}, 2}) {
		if err := s.Rates.Check(); err != nil {
			t.Error(err)
		}
	}
}

// The measure model by hand: a time with standard 60 and log SD 0.3 fails half
// the time at a median of 60, and 0.158655 of the time one SD below.
func TestMeasureModel(t *testing.T) {
	m := MeasureModel{Standard: 60, SD: 0.3, Lower: true, Log: true}
	near(t, "level", m.Level(0.5), 60, 1e-12)
	near(t, "one SD", m.Level(0.15865525393145707), 60*math.Exp(-0.3), 1e-9)
	r := Rates{0.15865525393145707, 0.5}
	near(t, "k", m.CUSUM(r, 4).K, 0.5, 1e-9)
	near(t, "standardised", m.Standardise([]float64{60}, r)[0], 1, 1e-9)
	score := MeasureModel{Standard: 70, SD: 5}
	near(t, "score", score.Level(r.Acceptable), 75, 1e-9)
	near(t, "standardised score", score.Standardise([]float64{70}, r)[0], 1, 1e-9)
	for _, bad := range []MeasureModel{{Standard: 60}, {Standard: math.NaN(), SD: 1}, {Standard: -1, SD: 1, Log: true}} {
		if bad.Check() == nil {
			t.Errorf("%+v passes", bad)
		}
	}
}

// On a measure, by hand: at the acceptable rate's own level, where every value
// lies k below the reference, the sum stays at zero; two values 3 SD worse give
// 2·(3 − k).
func TestOnMeasure(t *testing.T) {
	r := Rates{0.15865525393145707, 0.5} // one SD apart, so k = 0.5
	m := MeasureModel{Standard: 60, SD: 0.3, Lower: true, Log: true}
	level := m.Level(r.Acceptable)
	bad := level * math.Exp(0.9)
	p := OnMeasure{Model: m, Rates: r, H: 4}.FollowMeasures([]float64{level, level, bad, math.NaN(), bad, level}, nil)
	equal(t, "sum", values(p), []float64{0, 0, 2.5, 2.5, 5, 0})
	if p.First != 4 {
		t.Errorf("signal at %d, want 4", p.First)
	}
	near(t, "mean at the acceptable rate", OnMeasure{Model: m, Rates: r, H: 4}.Mean(r.Acceptable), NormalCUSUM{0.5, 4, 0}.Mean(0), 1e-9)
	near(t, "mean at the unacceptable rate", OnMeasure{Model: m, Rates: r, H: 4}.Mean(0.5), NormalCUSUM{0.5, 4, 0}.Mean(1), 1e-9)
	w := OnMeasure{Model: m, Rates: r, H: 2.5, Lambda: 0.5}.FollowMeasures([]float64{level, bad, bad}, nil)
	equal(t, "weighted mean", values(w), []float64{0, 1.5, 2.25}) // limit 2.5·√(1/3) = 1.443
	if w.First != 1 {
		t.Errorf("signal at %d, want 1", w.First)
	}
	near(t, "limit", OnMeasure{Model: m, Rates: r, H: 2.5, Lambda: 0.5}.Limit(), 2.5*math.Sqrt(1.0/3), 1e-12)
}

func TestSuccessiveSD(t *testing.T) {
	// By hand: differences 2, −2 and 1, half their mean square 9/6.
	near(t, "SD", SuccessiveSD([][]float64{{1, 3, 1}, {5, math.NaN(), 6}}), math.Sqrt(1.5), 1e-12)
	if !math.IsNaN(SuccessiveSD([][]float64{{1}, nil})) {
		t.Error("one value has no SD")
	}
}

func TestImpossibleRates(t *testing.T) {
	for _, r := range []Rates{{0, 0.1}, {0.1, 0.1}, {0.3, 0.1}, {0.1, 1}, {math.NaN(), 0.5}} {
		if r.Check() == nil {
			t.Errorf("%v passes", r)
		}
	}
	if (Sequential{Rates{0.1, 0.2}, 0.6, 0.5}).Check() == nil {
		t.Error("error chances of 0.6 and 0.5 pass")
	}
}

func TestCertainOutcomes(t *testing.T) {
	l := Learning(Rates{0.1, 0.3}, 2)
	if !math.IsInf(l.Mean(1), 1) || !math.IsInf(l.Quantile(1, 0.5), 1) {
		t.Error("someone who always fails never signals")
	}
	near(t, "always passing", l.Mean(0), 8, 1e-12) // 8·0.2513 is the first sum above 2
	if l.Quantile(0, 0.5) != 8 {
		t.Errorf("quantile %v", l.Quantile(0, 0.5))
	}
	if e := (FailureEWMA{0.5, 0.1, 9}); !math.IsInf(e.Mean(0.5), 1) {
		t.Error("a limit above 1 cannot be reached")
	}
}

// Properties over random charts: chances grow with n and fall with h, the mean is
// the sum of the chances of no signal yet, and a path signals as often as stated.
func TestRunLengthProperties(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 20 {
		rates := Rates{0.05 + 0.2*r.Float64(), 0.3 + 0.3*r.Float64()}
		h, p := 0.5+2*r.Float64(), 0.05+0.6*r.Float64()
		c := Relapse(rates, h)
		by, stricter := c.SignalBy(p, 400), Relapse(rates, h+0.5).SignalBy(p, 400)
		sum, last := 1.0, 0.0
		for i, v := range by {
			if v < last-1e-12 || stricter[i] > v+1e-12 {
				t.Fatalf("not monotone at %d", i)
			}
			sum, last = sum+1-v, v
		}
		if sum > c.Mean(p)*(1+1e-9) {
			t.Errorf("mean %v below the partial sum %v", c.Mean(p), sum)
		}
		if last > 1-1e-9 {
			near(t, "mean as a sum", sum, c.Mean(p), 1e-6)
		}
		if q := c.Quantile(p, 0.5); q <= 400 && !(by[int(q)-1] >= 0.5 && (q == 1 || by[int(q)-2] < 0.5)) {
			t.Errorf("quantile %v", q)
		}
	}
}

// BenchmarkCohort charts 10,000 trainees with 100 attempts each.
func BenchmarkCohort(b *testing.B) {
	r := rand.New(rand.NewPCG(1, 1))
	cohort := make([][]bool, 10000)
	for i := range cohort {
		cohort[i] = make([]bool, 100)
		for j := range cohort[i] {
			cohort[i][j] = r.Float64() < 0.2
		}
	}
	for _, c := range []Chart{Learning(Rates{0.1, 0.3}, 2), Relapse(Rates{0.1, 0.3}, 2), Sequential{Rates{0.1, 0.3}, 0.05, 0.05}, ObservedExpected{0.1, 3}, FailureEWMA{0.1, 0.1, 2.5}} {
		b.Run(c.Name(), func(b *testing.B) {
			for b.Loop() {
				for _, x := range cohort {
					c.Follow(x, nil)
				}
			}
		})
	}
}
