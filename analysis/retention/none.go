package retention

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat"

	"tyro/analysis/resample"
)

// places is at how many rates of regaining a loss is looked for.
const places = 13

// none tests whether breaks take nothing. Then there is no rate of regaining either, and a
// search over it finds a little loss in most studies: an interval about what was found leaves
// out "nothing" too often (Davies, 1987, Biometrika 74, 33-43). So the curve is fitted without
// loss, and what is left is set against the first bit of a loss that comes back at each of
// some rates. Every trainee's share in that, made up for the rate of learning, is one number a
// rate; their sum over the root of their squares is large where something is lost. How large
// the largest over all rates is by chance is drawn (Hansen, 1996, Econometrica 64, 413-430)
// from normal numbers with the covariance between rates that was seen, for as many trainees,
// each draw over the root of its own squares: at one rate alone that is Student's t. p is
// one-sided: breaks take, they do not give.
func (f *calendarFit) none(ctx context.Context, sampling resample.Sampling) (p float64, err error) {
	scores := f.lossScores()
	if len(scores) == 0 {
		return 1, nil
	}
	return byChance(ctx, sampling, "retention/none/"+f.shape, scores)
}

// byChance is the chance that the largest of some sums of trainees' numbers is as large as seen.
func byChance(ctx context.Context, sampling resample.Sampling, purpose string, scores [][]float64) (p float64, err error) {
	trainees, seen, root := len(scores[0]), largest(scores), rootOf(scores)
	draws, err := resample.Replicate(ctx, sampling, purpose, func() func(*rand.Rand) bool {
		z, drawn := make([]float64, len(scores)), make([][]float64, len(scores))
		for a := range drawn {
			drawn[a] = make([]float64, trainees)
		}
		return func(r *rand.Rand) bool {
			for i := range trainees {
				for a := range z {
					z[a] = r.NormFloat64()
				}
				for a := range drawn {
					drawn[a][i] = floats.Dot(root[a], z)
				}
			}
			return largest(drawn) >= seen
		}
	})
	if err != nil {
		return 1, err
	}
	above := 1.0 // what was seen is one of them
	for _, d := range draws {
		if d {
			above++
		}
	}
	return above / float64(len(draws)+1), nil
}

// largest is the largest sum of trainees' numbers over the root of their squares.
func largest(scores [][]float64) float64 {
	most := math.Inf(-1)
	for _, of := range scores {
		if squares := floats.Dot(of, of); squares > 0 {
			most = math.Max(most, floats.Sum(of)/math.Sqrt(squares))
		}
	}
	return most
}

// rootOf is a root of the scores' covariance about 0: rows that, times themselves, give it.
func rootOf(scores [][]float64) [][]float64 {
	covariance := mat.NewSymDense(len(scores), nil)
	for a := range scores {
		for b := range a + 1 {
			covariance.SetSym(a, b, floats.Dot(scores[a], scores[b]))
		}
	}
	var eigen mat.EigenSym
	eigen.Factorize(covariance, true)
	var vectors mat.Dense
	eigen.VectorsTo(&vectors)
	root := make([][]float64, len(scores))
	for a := range root {
		root[a] = make([]float64, len(scores))
		for b, v := range eigen.Values(nil) {
			root[a][b] = vectors.At(a, b) * math.Sqrt(math.Max(v, 0))
		}
	}
	return root
}

// lossScores are the trainees' numbers by rate of regaining; none where a loss would leave no
// trace that learning does not.
func (f *calendarFit) lossScores() [][]float64 {
	g := *f
	g.free, g.begun = []int{0}, nil
	g.low[2], g.high[2] = math.Inf(-1), math.Inf(-1)
	g = *g.scratch()
	once := make([]float64, len(g.walkers))
	for i := range once {
		once[i] = 1
	}
	best, least := path{}, math.Inf(1)
	for k := range places {
		p := path{g.low[0] + (g.high[0]-g.low[0])*(float64(k)+0.5)/places, 0, g.low[2]}
		if v := g.rss(p, once); v < least {
			best, least = p, v
		}
	}
	best, _ = g.descend(best, once, 60, 1e-12)

	at := []float64{best[1]}
	if len(f.free) == 3 {
		at = nil
		for k := range places {
			at = append(at, f.low[1]+(f.high[1]-f.low[1])*float64(k)/(places-1))
		}
	}
	var out [][]float64
	for _, regains := range at {
		if s := g.scoresAt(best, regains, f.low[2]); s != nil {
			out = append(out, s)
		}
	}
	return out
}

// scoresAt are the trainees' numbers at one rate of regaining, a bit of loss being one by the
// lowest rate of forgetting that is looked at.
func (f *calendarFit) scoresAt(best path, regains, lowest float64) []float64 {
	const h = 1e-4
	faster, lossy := best, path{best[0], regains, lowest}
	faster[0] += h
	own, learning := make([]float64, len(f.walkers)), make([]float64, len(f.walkers))
	var slow, quick, loss pace
	for _, at := range []struct {
		p  path
		to *pace
	}{{best, &slow}, {faster, &quick}, {lossy, &loss}} {
		at.to.loses = make([]float64, len(f.breaks))
		f.paceAt(at.p, at.to)
	}
	both, learns, loses := 0.0, 0.0, 0.0
	for i := range f.walkers {
		w := &f.walkers[i]
		n := len(w.y)
		base, left, bit := make([]float64, n), make([]float64, n), make([]float64, n)
		w.load(&slow, base)
		l := w.own(base, f.at[:n])
		w.load(&quick, left)
		w.load(&loss, bit)
		for k := range n {
			left[k], bit[k] = l.gain*(left[k]-base[k])/h, l.gain*(bit[k]-base[k])
		}
		clear := func(v []float64) { // of what the trainee's own plateau and gain take up
			u := walker{y: slices.Clone(v), mean: stat.Mean(v, nil)}
			floats.AddConst(-u.mean, u.y)
			u.own(base, v)
		}
		clear(left)
		clear(bit)
		for k, r := range f.at[:n] {
			own[i], learning[i] = own[i]+r*bit[k], learning[i]+r*left[k]
			both, learns, loses = both+bit[k]*left[k], learns+left[k]*left[k], loses+bit[k]*bit[k]
		}
	}
	if !(learns > 0) || !(loses-both*both/learns > 1e-9*loses) {
		return nil
	}
	for i := range own {
		own[i] -= both / learns * learning[i]
	}
	return own
}
