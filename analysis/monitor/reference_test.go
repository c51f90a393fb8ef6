package monitor

import (
	"encoding/json"
	"math"
	"os"
	"strconv"
	"testing"
)

// reference holds testdata/monitor/reference.json, made by reference.py beside
// it with numpy 1.24 and scipy 1.10 from the definitions.
type reference struct {
	Sequence   []int
	Sequential struct {
		Acceptable, Unacceptable, Alpha, Beta float64
		Sums                                  []float64
		Decisions                             []string
		Exact                                 []struct {
			Rate, Unacceptable, Acceptable, Mean float64
			Wald                                 [2]float64
		}
	}
	Relapse struct {
		Acceptable, Unacceptable, H float64
		Steps                       [][2]float64
		Rates, Mean                 []float64
		MeanHeadstart               []float64            `json:"mean_headstart_1"`
		Within                      []map[string]float64 `json:"within"`
		WithinHeadstart             []map[string]float64 `json:"within_headstart_1"`
		Quantiles                   [][3]float64
		Chain                       map[string][]float64
	}
	Lattice struct {
		Up, Down, H int
		Rates, Mean []float64
	}
	Learning struct {
		Acceptable, Unacceptable float64
		Steps                    [][2]float64
		ByH                      []struct {
			H                float64
			MeanAcceptable   float64            `json:"mean_acceptable"`
			MeanUnacceptable float64            `json:"mean_unacceptable"`
			True             map[string]float64 `json:"true_within"`
			False            map[string]float64 `json:"false_within"`
		} `json:"by_h"`
	}
	NormalCUSUM      []normalRow `json:"normal_cusum"`
	NormalCUSUMBelow []normalRow `json:"normal_cusum_below"`
	NormalEWMA       []normalRow `json:"normal_ewma"`
}

type normalRow struct {
	K, H, Start, Lambda, L float64
	Shifts, Mean           []float64
}

func load(t *testing.T) reference {
	t.Helper()
	data, err := os.ReadFile("../../testdata/monitor/reference.json")
	if err != nil {
		t.Fatal(err)
	}
	var r reference
	if err := json.Unmarshal(data, &r); err != nil {
		t.Fatal(err)
	}
	return r
}

func (r reference) failed() []bool {
	out := make([]bool, len(r.Sequence))
	for i, x := range r.Sequence {
		out[i] = x == 1
	}
	return out
}

// near fails unless got is within tol of want, relative to it.
func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol*math.Max(1e-300, math.Abs(want))) {
		t.Errorf("%s = %.15g, want %.15g within %g", what, got, want, tol)
	}
}

func TestWeights(t *testing.T) {
	// By hand: ln 2 and ln(0.8/0.9); ln(0.1/0.3) and ln(0.9/0.7).
	w := LogRatio(0.2, 0.1)
	near(t, "failure", w.Failure, math.Ln2, 1e-15)
	near(t, "success", w.Success, math.Log(8)-math.Log(9), 1e-14)
	w = LogRatio(0.1, 0.3)
	near(t, "failure", w.Failure, -math.Log(3), 1e-15)
	near(t, "success", w.Success, math.Log(9)-math.Log(7), 1e-15)
}

func TestSequentialAgainstReference(t *testing.T) {
	r := load(t)
	s := Sequential{Rates{r.Sequential.Acceptable, r.Sequential.Unacceptable}, r.Sequential.Alpha, r.Sequential.Beta}
	lower, upper := s.Boundaries()
	near(t, "upper", upper, math.Log(9), 1e-15) // ln(0.9/0.1)
	near(t, "lower", lower, -math.Log(9), 1e-15)
	// By hand from Wald (1947): unit ln 2 + ln(9/8) = ln(9/4).
	f := s.CountForm()
	near(t, "per attempt", f.PerAttempt, math.Log(9.0/8)/math.Log(9.0/4), 1e-14)
	near(t, "upper count", f.Upper, math.Log(9)/math.Log(9.0/4), 1e-14)
	near(t, "lower count", f.Lower, math.Log(9)/math.Log(9.0/4), 1e-14)
	path, decisions := s.Decide(r.failed(), nil)
	for i := range path.Steps {
		near(t, "sum", path.Steps[i].Value, r.Sequential.Sums[i], 1e-12)
		if decisions[i].String() != r.Sequential.Decisions[i] {
			t.Errorf("attempt %d: %s, want %s", i+1, decisions[i], r.Sequential.Decisions[i])
		}
	}
	if path.First != 18 || len(path.Signals()) != 1 {
		t.Errorf("decided at position %d with %d signals, want 18 and 1", path.First, len(path.Signals()))
	}
	for _, e := range r.Sequential.Exact {
		got := s.Exact(e.Rate)
		near(t, "unacceptable", got.Unacceptable, e.Unacceptable, 1e-10)
		near(t, "acceptable", got.Acceptable, e.Acceptable, 1e-10)
		near(t, "mean", got.MeanAttempts, e.Mean, 1e-10)
		near(t, "mean by the interface", s.Mean(e.Rate), e.Mean, 1e-10)
		approx := s.Wald(e.Rate)
		near(t, "Wald acceptable", approx.Acceptable, e.Wald[0], 1e-9)
		near(t, "Wald mean", approx.MeanAttempts, e.Wald[1], 1e-9)
	}
}

func TestRelapseAgainstReference(t *testing.T) {
	r := load(t)
	c := Relapse(Rates{r.Relapse.Acceptable, r.Relapse.Unacceptable}, r.Relapse.H)
	for i, st := range c.Follow(r.failed(), nil).Steps {
		near(t, "value "+strconv.Itoa(i+1), st.Value, r.Relapse.Steps[i][0], 1e-12)
		if st.Signal != (r.Relapse.Steps[i][1] == 1) {
			t.Errorf("attempt %d: signal %v", i+1, st.Signal)
		}
	}
	head := c
	head.Scheme.Start = 1
	for i, p := range r.Relapse.Rates {
		near(t, "mean", c.Mean(p), r.Relapse.Mean[i], 1e-9)
		near(t, "mean with headstart", head.Mean(p), r.Relapse.MeanHeadstart[i], 1e-9)
		within(t, c, p, r.Relapse.Within[i], 1e-9)
		within(t, head, p, r.Relapse.WithinHeadstart[i], 1e-9)
		for k, level := range []float64{0.05, 0.5, 0.95} {
			if got := c.Quantile(p, level); got != r.Relapse.Quantiles[i][k] {
				t.Errorf("quantile %g at rate %g = %g, want %g", level, p, got, r.Relapse.Quantiles[i][k])
			}
		}
		for cells, want := range r.Relapse.Chain {
			n, _ := strconv.Atoi(cells)
			near(t, "chain of "+cells, BernoulliChain(c.Weights, 2, p, n).Mean(), want[i], 1e-9)
		}
	}
}

func within(t *testing.T, c Chart, rate float64, want map[string]float64, tol float64) {
	t.Helper()
	for n, v := range want {
		k, _ := strconv.Atoi(n)
		near(t, c.Name()+" within "+n, c.SignalBy(rate, k)[k-1], v, tol)
	}
}

func TestLearningAgainstReference(t *testing.T) {
	r := load(t)
	rates := Rates{r.Learning.Acceptable, r.Learning.Unacceptable}
	for i, st := range Learning(rates, 1.5).Follow(r.failed(), nil).Steps {
		near(t, "value "+strconv.Itoa(i+1), st.Value, r.Learning.Steps[i][0], 1e-12)
		if st.Signal != (r.Learning.Steps[i][1] == 1) {
			t.Errorf("attempt %d: signal %v", i+1, st.Signal)
		}
	}
	for _, b := range r.Learning.ByH {
		c := Learning(rates, b.H)
		near(t, "mean, acceptable", c.Mean(0.1), b.MeanAcceptable, 1e-10)
		near(t, "mean, unacceptable", c.Mean(0.3), b.MeanUnacceptable, 1e-10)
		within(t, c, 0.1, b.True, 1e-10)
		within(t, c, 0.3, b.False, 1e-10)
	}
	// By hand: at h = 1 one failure always empties the sum, so a signal needs
	// four passes in a row: (1 − 0.7⁴)/(0.3·0.7⁴).
	near(t, "run of passes", Learning(rates, 1).Mean(0.3), (1-math.Pow(0.7, 4))/(0.3*math.Pow(0.7, 4)), 1e-12)
}

func TestLatticeAgainstReference(t *testing.T) {
	r := load(t).Lattice
	for i, p := range r.Rates {
		near(t, "chain", LatticeChain(r.Up, r.Down, r.H, p).Mean(), r.Mean[i], 1e-9)
		c := CUSUM{"lattice", Weights{float64(r.Up), -float64(r.Down)}, Scheme{H: float64(r.H)}}
		near(t, "renewal", c.Mean(p), r.Mean[i], 1e-9)
	}
}

func TestNormalAgainstReference(t *testing.T) {
	r := load(t)
	for i, row := range r.NormalCUSUM {
		c := NormalCUSUM{row.K, row.H, row.Start}
		for j, shift := range row.Shifts {
			near(t, "cusum "+strconv.Itoa(i), c.Mean(shift), row.Mean[j], 1e-9)
		}
	}
	for i, row := range r.NormalCUSUMBelow {
		for j, shift := range row.Shifts {
			if row.Mean[j] > 1e7 { // the equations lose digits as the mean grows
				break
			}
			near(t, "below "+strconv.Itoa(i), NormalCUSUM{row.K, row.H, 0}.Mean(-shift), row.Mean[j], 1e-7)
		}
	}
	for i, row := range r.NormalEWMA {
		for j, shift := range row.Shifts {
			near(t, "ewma "+strconv.Itoa(i), NormalEWMA{Lambda: row.Lambda, L: row.L}.Mean(shift), row.Mean[j], 1e-9)
		}
	}
}
