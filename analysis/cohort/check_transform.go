package cohort

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"

	"tyro/analysis/resample"
)

// A Uniformity says how evenly the transforms of [Cohort.Calibration] fill the
// predictive distributions, held against later halves drawn from those very
// predictions: attempts of a trainee share what is not known of the trainee, so
// that their transforms are less even than as many separate ones.
type Uniformity struct {
	Tenths [10]Banded // At is the middle of the tenth; counts
	P      float64    // share of draws, the one at hand included, with counts as uneven
	// The share of a trainee's attempts inside the 90 % range: its 5-95 % range
	// over trainees as observed, and on average over draws.
	LowInside, HighInside       float64
	LowByChance, HighByChance   float64
	Replicates, Trainees, Total int
}

// thinned is how many draws stand for a predictive distribution in a simulation.
const thinned = 64

// Uniformity draws every trainee's later half of attempts from what the earlier
// half predicts. It is empty where nothing can be calibrated.
func (h *Halves) Uniformity(ctx context.Context, sampling resample.Sampling) (Uniformity, error) {
	c, posts, member := h.of, slices.Clone(h.posts), h.member
	if len(posts) == 0 {
		return Uniformity{}, nil
	}
	observed := make([][]float64, len(posts))
	for k, i := range member {
		if err := ctx.Err(); err != nil {
			return Uniformity{}, err
		}
		observed[k] = c.transforms(&posts[k], c.trainees[i], nil)
		posts[k] = posts[k].thin()
	}
	reps, err := resample.Replicate(ctx, sampling, "uniformity", func() func(*rand.Rand) [][]float64 {
		return func(r *rand.Rand) [][]float64 {
			out := make([][]float64, len(posts))
			for k, i := range member {
				out[k] = c.transforms(&posts[k], c.trainees[i], r)
			}
			return out
		}
	})
	if err != nil {
		return Uniformity{}, err
	}
	return uniformity(observed, reps), nil
}

// thin keeps every few draws: of one draw of the cohort's parameters in two, one
// own draw.
func (p Posterior) thin() Posterior {
	every := max(1, len(p.Draws)/thinned)
	var kept []Draw
	total := 0.0
	for j := 0; j < len(p.Draws); j += every {
		kept = append(kept, p.Draws[j])
		total += p.Draws[j].Weight
	}
	for j := range kept {
		kept[j].Weight /= total
	}
	p.Draws = kept
	return p
}

// transforms says where each exact later response fell, or, with a stream, where
// responses would fall that follow one of the draws.
func (c *Cohort) transforms(p *Posterior, t Trainee, r *rand.Rand) []float64 {
	var truth *Draw
	if r != nil {
		truth = p.pick(r)
	}
	var out []float64
	t.eachLater(func(n, restart, y float64) {
		if truth != nil {
			y = p.respond(truth, n, restart, r.Float64())
		}
		out = append(out, p.CDF(n, restart, y))
	})
	return out
}

// pick draws one of the draws in proportion to its weight.
func (p *Posterior) pick(r *rand.Rand) *Draw {
	u, sum := r.Float64(), 0.0
	for j := range p.Draws {
		if sum += p.Draws[j].Weight; sum >= u {
			return &p.Draws[j]
		}
	}
	return &p.Draws[len(p.Draws)-1]
}

// respond is the response at a share of a draw's distribution of an attempt.
func (p *Posterior) respond(d *Draw, attempt, restart, share float64) float64 {
	one := *p
	one.Draws = []Draw{*d}
	one.Draws[0].Weight = 1
	return one.Quantiles(attempt, restart, share)[0]
}

func uniformity(observed [][]float64, reps [][][]float64) Uniformity {
	u := Uniformity{Replicates: len(reps), Trainees: len(observed)}
	counts, low, high := summary(observed)
	u.LowInside, u.HighInside = low, high
	var uneven []float64
	columns := make([][]float64, 10)
	for _, r := range reps {
		n, lo, hi := summary(r)
		u.LowByChance += lo / float64(len(reps))
		u.HighByChance += hi / float64(len(reps))
		uneven = append(uneven, unevenness(n))
		for k, v := range n {
			columns[k] = append(columns[k], v)
		}
	}
	for k, v := range counts {
		slices.Sort(columns[k])
		u.Tenths[k] = Banded{(float64(k) + 0.5) / 10, v, resample.Quantile(columns[k], 0.025), resample.Quantile(columns[k], 0.975)}
		u.Total += int(v)
	}
	u.P = resample.PermutationP(unevenness(counts), uneven)
	return u
}

// summary counts transforms by tenth, and gives the 5-95 % range over trainees
// of the share within 0.05 to 0.95.
func summary(by [][]float64) (tenths [10]float64, low, high float64) {
	var shares []float64
	for _, values := range by {
		inside := 0.0
		for _, v := range values {
			tenths[min(int(10*v), 9)]++
			if v > 0.05 && v < 0.95 {
				inside++
			}
		}
		if len(values) > 0 {
			shares = append(shares, inside/float64(len(values)))
		}
	}
	if len(shares) == 0 {
		return tenths, math.NaN(), math.NaN()
	}
	slices.Sort(shares)
	return tenths, resample.Quantile(shares, 0.05), resample.Quantile(shares, 0.95)
}

// unevenness is the sum of squared distances from equal counts, over the equal
// count.
func unevenness(tenths [10]float64) float64 {
	total := 0.0
	for _, v := range tenths {
		total += v
	}
	s := 0.0
	for _, v := range tenths {
		s += (v - total/10) * (v - total/10) / (total / 10)
	}
	return s
}
