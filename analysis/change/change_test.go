package change

import (
	"context"
	"errors"
	"fmt"
	"math"
	"testing"

	"tyro/analysis/resample"
)

func series(k, n int, jump, slope float64, after int, sd float64) (attempt, value []float64) {
	r := resample.Stream(3, fmt.Sprint("series", n, jump, slope, sd), k)
	for i := 1; i <= n; i++ {
		v := 4 + 1.5*math.Exp(-0.25*float64(i-1)) + sd*r.NormFloat64()
		if i > after {
			v += jump + slope*float64(i-after)
		}
		attempt, value = append(attempt, float64(i)), append(value, v)
	}
	return attempt, value
}

// Almost without noise the break comes back as it was put in.
func TestBreakFound(t *testing.T) {
	for _, c := range []struct {
		kind        string
		jump, slope float64
	}{{Jump, -0.5, 0}, {Slope, 0, 0.1}} {
		attempt, value := series(0, 30, c.jump, c.slope, 14, 0.001)
		b, err := Scan(context.Background(), attempt, value, "found", resample.Sampling{Replicates: 99})
		if err != nil {
			t.Fatal(err)
		}
		if b.Kind != c.kind || b.After != 14 || math.Abs(b.Size-c.jump-c.slope) > 0.02 || b.P > 0.011 {
			t.Errorf("%+v, want a %s of %v after 14", b, c.kind, c.jump+c.slope)
		}
	}
}

// The likelihood ratio by hand for the break that wins: residual sums of squares with and
// without a step, of a series that is flat on either side of a jump and has 0.1 and −0.1 in
// turn about it. A step leaves 12 · 0.01; whatever the curve does without it leaves more.
func TestRatioIsOfTheSums(t *testing.T) {
	var attempt, value []float64
	for i := 1; i <= 12; i++ {
		v := 0.1 * float64(1-2*(i%2))
		if i > 6 {
			v += 10
		}
		attempt, value = append(attempt, float64(i)), append(value, v)
	}
	s, err := newScan(attempt, value)
	if err != nil {
		t.Fatal(err)
	}
	b, fitted, sd := s.at(value)
	rss := 0.0
	for i, v := range value {
		rss += (v - fitted[i]) * (v - fitted[i])
	}
	if b.After != 6 || b.Kind != Jump || math.Abs(sd*sd*9-rss) > 1e-6 {
		t.Fatalf("%+v, residual %v and %v", b, sd*sd*9, rss)
	}
	if most := 12 * math.Log(rss/0.12); b.Ratio < most-1e-6 { // the curve's own columns may take a little more
		t.Errorf("ratio %v, want at least %v", b.Ratio, most)
	}
}

// False alarms of 400 series without a break, 99 simulated series each: 5 % of them,
// within three standard errors (1.1 %).
func TestFalseAlarms(t *testing.T) {
	const many = 400
	alarms := make([]bool, many)
	err := resample.Each(context.Background(), many, resample.Sampling{}, func() func(int) error {
		return func(k int) error {
			attempt, value := series(k, 20, 0, 0, 0, 0.15)
			b, err := Scan(context.Background(), attempt, value, fmt.Sprint(k), resample.Sampling{Replicates: 99, Workers: 1})
			alarms[k] = b.P <= 0.05
			return err
		}
	})
	if err != nil {
		t.Fatal(err)
	}
	n := 0.0
	for _, a := range alarms {
		if a {
			n++
		}
	}
	if share := n / many; math.Abs(share-0.05) > 3*math.Sqrt(0.05*0.95/many) {
		t.Errorf("false alarms in %.3f of series without a break", share)
	}
}

func TestRefused(t *testing.T) {
	for _, c := range [][2][]float64{
		{{1, 2, 3}, {1, 2, 3}}, {{1, 2, 2, 3, 4, 5, 6, 7, 8, 9}, make([]float64, 10)}, {{1, 2, 3, 4, 5, 6, 7, 8, 9, 10}, {math.NaN(), 0, 0, 0, 0, 0, 0, 0, 0, 0}},
	} {
		if _, err := Scan(context.Background(), c[0], c[1], "", resample.Sampling{Replicates: 20}); !errors.Is(err, ErrChange) {
			t.Errorf("%v: %v", c[0], err)
		}
	}
}
