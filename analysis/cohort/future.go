package cohort

import (
	"cmp"
	"context"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"tyro/analysis/resample"
)

// A Foresight says how well a cohort's curve tells what its trainees do later from what they
// did at first: every trainee is predicted from the first attempts, by the cohort without that
// trainee. It is what projections are for, so that models are chosen by it (leave-future-out;
// Bürkner, Gabry and Vehtari, 2020, Journal of Statistical Computation and Simulation 90,
// 2499-2523).
type Foresight struct {
	Looks []Look
	// Score is the mean over trainees of the mean over their looks of [Look.Mean].
	Score float64
}

// A Look is one trainee predicted from the first attempts.
type Look struct {
	Trainee int // position among those predicted
	Known   int // attempts that the prediction rests on
	// Evidence is the log density of these under the cohort without the trainee.
	Evidence float64
	// LogDensity is that of each later attempt, given those known.
	LogDensity []float64
	// Share is where each later response fell in its prediction: the middle of where it may have
	// fallen where it is right-censored; NaN of counts and passes.
	Share []float64
}

// Mean is the mean log density of a later attempt.
func (l Look) Mean() float64 {
	sum := 0.0
	for _, v := range l.LogDensity {
		sum += v
	}
	return sum / float64(len(l.LogDensity))
}

// The looks at a trainee: after the first firstLook attempts, and whenever their number has
// doubled, as long as laterLook are left to predict.
const (
	firstLook = 5
	laterLook = 3
)

// looks are the numbers of attempts that n attempts are predicted from.
func looks(n int) []int {
	var out []int
	for k := firstLook; n-k >= laterLook; k *= 2 {
		out = append(out, k)
	}
	if out == nil && n >= 2*laterLook {
		out = []int{n - laterLook}
	}
	return out
}

// foresightCards is how often a trainee is drawn for a look: so many times [ownDraws].
const foresightCards = 4

// Foresee predicts every trainee's later attempts. The cohort without the trainee is one Newton
// step from the cohort, H⁻¹g with the trainee's own score g and the information H (Cook, 1986,
// Journal of the Royal Statistical Society B 48, 133-169), or, where much of the fit hangs on the
// trainee, is fitted again. Nobody is looked at who has too few
// attempts. A fit in two stages, or read from a file, is refused.
func (c *Cohort) Foresee(ctx context.Context, sampling resample.Sampling) (Foresight, error) {
	return c.foresee(ctx, c.trainees, sampling)
}

// foresee predicts the later attempts of some trainees, members of the cohort or not.
func (c *Cohort) foresee(ctx context.Context, ts []Trainee, sampling resample.Sampling) (Foresight, error) {
	if err := c.withAttempts(); err != nil {
		return Foresight{}, err
	}
	if c.Rung == RungTwoStage {
		return Foresight{}, refuse("a fit in two stages has no likelihood to predict by")
	}
	here, p := c.here(ctx), len(c.theta)
	here.o.at(c.theta, make([]float64, p))
	if err := ctx.Err(); err != nil {
		return Foresight{}, err
	}
	member := map[string]int{}
	for i, t := range c.trainees {
		member[t.ID] = i
	}
	again := c.mostHangs(here.o.grads)
	each := make([][]Look, len(ts))
	sampling.Progress = nil
	err := resample.Each(ctx, len(each), sampling, func() func(int) error {
		return func(i int) error {
			theta := c.theta
			if k, inside := member[ts[i].ID]; inside {
				theta = c.leaving(ctx, k, here.o.grads[k*p:(k+1)*p], slices.Contains(again, k))
			}
			var err error
			each[i], err = c.looksAt(ctx, i, ts[i].sorted(), theta, sampling.Seed)
			return err
		}
	})
	if err != nil {
		return Foresight{}, err
	}
	var out Foresight
	people := 0
	for _, ls := range each {
		mean := 0.0
		for _, l := range ls {
			mean += l.Mean() / float64(len(ls))
		}
		if len(ls) > 0 {
			out.Score += mean
			people++
		}
		out.Looks = append(out.Looks, ls...)
	}
	out.Score /= float64(people)
	return out, nil
}

// A cohort is fitted again without those trainees, so many at most, without whom the log-likelihood of
// all others can be raised by this much: there a single step is long, and may lead astray.
const (
	muchHangs = 0.4
	mostAnew  = 3
)

// mostHangs are the members on whom most of the fit hangs, by their scores.
func (c *Cohort) mostHangs(scores []float64) []int {
	if c.Method == Quadrature {
		return nil
	}
	p := len(c.theta)
	gain := make([]float64, len(c.trainees))
	var out []int
	for i := range gain {
		score := scores[i*p : (i+1)*p]
		theta := c.without(score)
		for j, g := range score {
			gain[i] += g * (theta[j] - c.theta[j]) / 2
		}
		if gain[i] > muchHangs {
			out = append(out, i)
		}
	}
	slices.SortFunc(out, func(a, b int) int { return cmp.Compare(gain[b], gain[a]) })
	return out[:min(len(out), mostAnew)]
}

// leaving is where the estimates are without a member whose score is given: fitted again, or one step away.
func (c *Cohort) leaving(ctx context.Context, member int, score []float64, again bool) []float64 {
	if again {
		if rest, settled := c.nearby(ctx, slices.Delete(slices.Clone(c.trainees), member, member+1)); settled {
			return rest.theta
		}
	}
	return c.without(score)
}

// without is where the estimates are, to first order, without the trainee whose score is given.
func (c *Cohort) without(score []float64) []float64 {
	theta := make([]float64, len(c.theta))
	for j := range theta {
		step := 0.0
		for b, g := range score {
			step += c.cov.At(j, b) * g
		}
		theta[j] = math.Min(math.Max(c.theta[j]+step, c.reach.lower[j]), c.reach.upper[j])
	}
	return theta
}

// looksAt predicts one trainee, the i-th.
func (c *Cohort) looksAt(ctx context.Context, i int, t Trainee, theta []float64, seed uint64) ([]Look, error) {
	cards := make(deck, foresightCards)
	for j := range cards {
		cards[j] = theta
	}
	l := c.m.factor(theta)
	var out []Look
	for _, k := range looks(len(t.Attempt)) {
		seen := t.first(k)
		rec, err := c.m.record(seen)
		if err != nil {
			return nil, err
		}
		post, err := c.posterior(ctx, seen, cards, resample.Stream(seed, "foresight "+t.ID, k), 1)
		if err != nil {
			return nil, err
		}
		var mo mode
		look := Look{Trainee: i, Known: k, Evidence: rec.jac - c.m.laplace(&rec, theta, &l, &mo, nil)}
		for j := k; j < len(t.Attempt); j++ {
			restart := 0.0
			if t.Restart != nil {
				restart = t.Restart[j]
			}
			censored := t.Censored != nil && t.Censored[j]
			look.LogDensity = append(look.LogDensity, math.Max(post.LogDensity(t.Attempt[j], restart, t.Response[j], censored), farOff))
			share := math.NaN()
			if c.Model.Noise.Additive() {
				share = post.CDF(t.Attempt[j], restart, t.Response[j])
				if censored {
					share = (share + 1) / 2
				}
			}
			look.Share = append(look.Share, share)
		}
		out = append(out, look)
	}
	return out, nil
}

// farOff is the least log density that an attempt counts with: one that a model takes for all
// but impossible shall not decide alone between models.
var farOff = distuv.UnitNormal.LogProb(10)

// first keeps the first k attempts of a sorted series.
func (t Trainee) first(k int) Trainee {
	t.Attempt, t.Response = t.Attempt[:k], t.Response[:k]
	if t.Censored != nil {
		t.Censored = t.Censored[:k]
	}
	if t.Restart != nil {
		t.Restart = t.Restart[:k]
	}
	return t
}
