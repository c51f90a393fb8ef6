package agreement

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"

	"tyro/analysis/resample"
)

// minRaters is how many raters a bootstrap over raters needs: of fewer, too
// many samples hold one rater only and say nothing about agreement.
const minRaters = 4

const overBoth = "percentile bootstrap of subjects and raters"

// byBoth draws subjects and raters with replacement and gives percentile
// intervals that generalise to other raters as well. Two copies of one rater
// agree by construction, so pairs of copies are left out of the agreement and
// of the expected agreement.
func (c coded) byBoth(ctx context.Context, members []member, o Options) ([]Interval, error) {
	none := Interval{Method: overBoth, Over: OverBoth, SE: math.NaN(), Lower: math.NaN(), Upper: math.NaN(), Note: fmt.Sprintf("no interval: needs at least %d raters", minRaters)}
	out := make([]Interval, len(members))
	for j := range out {
		out[j] = none
	}
	work := float64(o.Sampling.Count()) * float64(c.n) * float64(c.k*c.k) * float64(len(members))
	if c.k < minRaters || work > 5e9 {
		if c.k >= minRaters {
			for j := range out {
				out[j].Note = "no interval: the table is too large to bootstrap all pairs of raters"
			}
		}
		return out, nil
	}
	reps, err := resample.Replicate(ctx, o.Sampling, "agreement/both", func() func(*rand.Rand) []float64 {
		subjects, raters := make([]int, c.n), make([]int, c.k)
		return func(rnd *rand.Rand) []float64 {
			resample.Indices(rnd, subjects, c.n)
			times := make([]float64, c.k)
			for _, g := range resample.Indices(rnd, raters, c.k) {
				times[g]++
			}
			return c.pairwise(members, subjects, times)
		}
	})
	if err != nil {
		return nil, err
	}
	for j := range out {
		iv := resample.PercentileInterval(column(reps, j), o.level())
		out[j].SE, out[j].Lower, out[j].Upper = spread(column(reps, j)), iv.Lower, iv.Upper
		out[j].Replicates, out[j].Failed, out[j].Note = iv.Replicates, iv.Failed, ""
		if iv.Refused() {
			out[j].SE, out[j].Note = math.NaN(), fmt.Sprintf("no interval: in %d of %d bootstrap samples the coefficient is not defined", iv.Failed, iv.Failed+iv.Replicates)
		}
	}
	return out, nil
}

// pairwise computes the coefficients with each rater counted the times drawn.
func (c coded) pairwise(members []member, subjects []int, times []float64) []float64 {
	q := len(c.cats)
	agree, n := make([]float64, len(members)), 0.0
	m := newMargins(c)
	m.n = float64(len(subjects))
	shared := 0.0 // subjects with a rating by some drawn rater
	for _, i := range subjects {
		mine, pairs := make([]float64, q), 0.0
		weight := 0.0
		sum := make([]float64, len(members))
		for a, x := range c.codes[i] {
			if x < 0 || times[a] == 0 {
				continue
			}
			mine[x] += times[a]
			weight += times[a]
			m.rater[a][x]++
			m.ratedN[a]++
			for b := a + 1; b < c.k; b++ {
				if y := c.codes[i][b]; y >= 0 && times[b] > 0 {
					pairs += times[a] * times[b]
					for j := range members {
						sum[j] += times[a] * times[b] * members[j].w[x][y]
					}
				}
			}
		}
		if weight > 0 {
			shared++
			for x, v := range mine {
				m.shares[x] += v / weight
			}
		}
		if pairs > 0 {
			n++
			for j := range sum {
				agree[j] += sum[j] / pairs
			}
		}
	}
	for x := range m.shares {
		m.shares[x] /= shared
	}
	for g := range m.rater {
		for x := range m.rater[g] {
			m.rater[g][x] /= math.Max(1, m.ratedN[g])
		}
	}
	out := make([]float64, len(members))
	for j, f := range members {
		pe := m.expected(f.by, f.w)
		if f.by == perRater {
			pe = m.expectedDrawn(f.w, times)
		}
		out[j] = math.NaN()
		if n > 0 && 1-pe > 1e-12 {
			out[j] = (agree[j]/n - pe) / (1 - pe)
		}
	}
	return out
}

// expectedDrawn is Conger's expected agreement over the pairs of different
// raters, each counted the times drawn.
func (m *margins) expectedDrawn(w [][]float64, times []float64) float64 {
	pe, n := 0.0, 0.0
	for a := range times {
		for b := a + 1; b < len(times); b++ {
			if t := times[a] * times[b]; t > 0 && m.ratedN[a] > 0 && m.ratedN[b] > 0 {
				pe += t * quadratic(w, m.rater[a], m.rater[b])
				n += t
			}
		}
	}
	return pe / n
}
