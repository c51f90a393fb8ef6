package agreement

import (
	"testing"

	"tyro/analysis/resample"
)

func large(n, k int, ordinal bool) Ratings {
	rnd := resample.Stream(1, "speed", n)
	r := make(Ratings, n)
	for i := range r {
		p := rnd.NormFloat64()
		for range k {
			v := p + rnd.NormFloat64()
			if ordinal {
				v = float64(min(5, max(1, int(3+v))))
			}
			r[i] = append(r[i], v)
		}
	}
	return r
}

// The ordinal scale is the slowest: its distances depend on the margins.
func BenchmarkKrippendorffAlpha(b *testing.B) {
	for _, scale := range []string{"nominal", "ordinal", "interval"} {
		b.Run(scale, func(b *testing.B) {
			r := large(10000, 20, true)
			for b.Loop() {
				if _, err := KrippendorffAlpha(ctx, r, scale, Options{Sampling: resample.Sampling{Replicates: 2000}}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkICC(b *testing.B) {
	r := large(1000, 5, false)
	for b.Loop() {
		if _, err := One(ctx, "icc(a,1)", r, "interval", Options{Sampling: resample.Sampling{Replicates: 10000}}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkREML(b *testing.B) {
	r := large(1000, 5, false)
	for i := range r {
		if i%10 == 0 {
			r[i] = append([]float64{}, r[i]...)
			r[i][i/10%5] = nan
		}
	}
	for b.Loop() {
		ICC(r, 0.95)
	}
}
