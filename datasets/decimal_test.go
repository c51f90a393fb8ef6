package datasets

import (
	"math"
	"math/big"
	"math/rand/v2"
	"testing"
)

// Scores are those of exact arithmetic, by big.Rat, rounded once: who stands exactly at a standard
// meets it.
func TestScoresAreDecimal(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 5))
	tenths := func(n int64) (float64, *big.Rat) {
		v, _ := big.NewRat(n, 10).Float64()
		return v, big.NewRat(n, 10)
	}
	for range 5000 {
		seconds, s := tenths(r.Int64N(2000))
		weight, w := tenths(r.Int64N(60))
		second, p := tenths(1 + r.Int64N(30))
		slips := r.Int64N(6)
		rule := Scoring{Start: 1000, Time: "seconds", PerSecond: second, Penalty: map[string]float64{"slips": weight}}
		want := new(big.Rat).Sub(big.NewRat(1000, 1), new(big.Rat).Mul(p, s))
		want.Sub(want, new(big.Rat).Mul(w, big.NewRat(slips, 1)))
		exact, _ := want.Float64()
		if got := rule.Score(seconds, map[string]float64{"slips": float64(slips)}, Done); got != max(exact, 0) {
			t.Fatalf("1000 - %v·%v - %v·%d is %v, want %v", second, seconds, weight, slips, got, max(exact, 0))
		}
		other := Scoring{Form: "seconds", Time: "seconds", Penalty: map[string]float64{"slips": weight}}
		exact, _ = new(big.Rat).Add(s, new(big.Rat).Mul(w, big.NewRat(slips, 1))).Float64()
		if got := other.Score(seconds, map[string]float64{"slips": float64(slips)}, Done); got != exact {
			t.Fatalf("%v + %v·%d is %v, want %v", seconds, weight, slips, got, exact)
		}
	}
}

// By hand: 3 slips at 0.7 are 2.1 points.
func TestPartsAreDecimal(t *testing.T) {
	rule := Scoring{Start: 100, Penalty: map[string]float64{"slips": 0.7}}
	if got := rule.Parts(func(string) float64 { return 3 })[0].Adds; got != -2.1 {
		t.Errorf("3 slips at 0.7 add %v, want -2.1", got)
	}
}

// Hundredths of a minute are whole tenths of seconds, and a twentieth.
func TestMinutesAreDecimal(t *testing.T) {
	for n := int64(1); n < 1000; n++ {
		v, _ := big.NewRat(n, 100).Float64()
		want, _ := big.NewRat(n*60, 100).Float64()
		if got := product(v, 60); got != want {
			t.Errorf("%v minutes are %v seconds, want %v", v, got, want)
		}
	}
}

// Numbers of any size stay what they are.
func TestDecimalKeeps(t *testing.T) {
	for _, v := range []float64{0, 1e-300, 5e-324, 1.0 / 3, -2.5, 1e9, 123456789.25, math.Inf(1)} {
		if got := decimal(v, v); math.Abs(got-v) > 1e-13*math.Abs(v) {
			t.Errorf("%v became %v", v, got)
		}
	}
	if got := decimal(math.NaN(), 1); !math.IsNaN(got) {
		t.Errorf("not known became %v", got)
	}
}
