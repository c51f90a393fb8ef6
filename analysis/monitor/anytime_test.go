package monitor

import (
	"context"
	"math"
	"testing"

	"tyro/analysis/resample"
)

// Clopper and Pearson's limits in closed form: with all of n passes the lower one is
// 0.025^(1/n); with one of one, 0.025. For 8 of 10, R's binom.test: 0.4439045, 0.9747893.
func TestFixedTime(t *testing.T) {
	if b := FixedTime(5, 5, 0.95); math.Abs(b.Lower-math.Pow(0.025, 0.2)) > 1e-9 || b.Upper != 1 {
		t.Errorf("5 of 5: %+v", b)
	}
	if b := FixedTime(8, 10, 0.95); math.Abs(b.Lower-0.4439045) > 1e-6 || math.Abs(b.Upper-0.9747893) > 1e-6 {
		t.Errorf("8 of 10: %+v", b)
	}
	if b := FixedTime(0, 4, 0.95); b.Lower != 0 || math.Abs(b.Upper-(1-math.Pow(0.025, 0.25))) > 1e-9 {
		t.Errorf("0 of 4: %+v", b)
	}
}

// Looking at up to 120 attempts, the anytime bound is on the wrong side at some
// attempt in at most 5 % of series, and the fixed-time one in far more: chances that
// stay, and chances that rise from 0.2 to 0.9.
func TestAnytimeHoldsHoweverOftenOneLooks(t *testing.T) {
	const many, attempts = 600, 120
	for name, chance := range map[string]func(n int) float64{
		"stays": func(int) float64 { return 0.7 }, "rises": func(n int) float64 { return 0.9 - 0.7*math.Exp(-float64(n)/20) },
	} {
		missed, fixedMissed := make([]bool, many), make([]bool, many)
		err := resample.Each(context.Background(), many, resample.Sampling{}, func() func(int) error {
			return func(k int) error {
				r := resample.Stream(5, "anytime/"+name, k)
				passes, sum := 0, 0.0
				for n := 1; n <= attempts; n++ {
					p := chance(n)
					sum += p
					if r.Float64() < p {
						passes++
					}
					if n%4 != 0 && n > 40 {
						continue // the later ones differ little from look to look
					}
					mean := sum / float64(n)
					if b := Anytime(passes, n, 0.95); mean < b.Lower || mean > b.Upper {
						missed[k] = true
					}
					if b := FixedTime(passes, n, 0.95); mean < b.Lower || mean > b.Upper {
						fixedMissed[k] = true
					}
				}
				return nil
			}
		})
		if err != nil {
			t.Fatal(err)
		}
		share := func(hits []bool) float64 {
			n := 0.0
			for _, h := range hits {
				if h {
					n++
				}
			}
			return n / many
		}
		if s := share(missed); s > 0.05 {
			t.Errorf("%s: missed at some look in %.3f of series", name, s)
		}
		if s := share(fixedMissed); name == "stays" && s < 0.15 {
			t.Errorf("the fixed-time interval was missed in only %.3f: the test says little", s)
		}
	}
}

// More passes, higher bounds; never sharper than one look; and passes and fails change
// places.
func TestAnytimeProperties(t *testing.T) {
	for n := 1; n <= 60; n++ {
		before := -1.0
		for s := 0; s <= n; s++ {
			a, f, mirror := Anytime(s, n, 0.95), FixedTime(s, n, 0.95), Anytime(n-s, n, 0.95)
			if a.Lower < before || a.Lower > f.Lower+1e-9 || a.Upper < f.Upper-1e-9 {
				t.Errorf("%d of %d: %+v beside %+v", s, n, a, f)
			}
			if math.Abs(a.Lower+mirror.Upper-1) > 1e-9 {
				t.Errorf("%d of %d: %+v, mirrored %+v", s, n, a, mirror)
			}
			before = a.Lower
		}
	}
	fixed, anytime := Price(0.95, 0.8, 0.95)
	if !(fixed > 0 && anytime > fixed) {
		t.Errorf("price %d and %d attempts", fixed, anytime)
	}
}
