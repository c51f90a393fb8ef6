package cohort

import (
	"cmp"
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"sort"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"

	"tyro/analysis/internal/numeric"
	"tyro/analysis/practice"
	"tyro/analysis/resample"
	"tyro/models"
)

// A Draw is one possible truth about a trainee: curve and residual spread,
// with its weight among the draws.
type Draw struct {
	Weight float64
	Curve  models.Curve
	Spread float64
	// Shift at a restart, the first attempt after a break, on the noise's additive
	// scale, and the rate per attempt at which it fades; 0 without sessions.
	Shift, Fading float64
	// Card numbers the draw of the cohort's parameters that this one belongs to: the same
	// for all trainees of one call.
	Card int

	wander wander   // what the residuals so far pass on; the zero value is nothing
	on     *footing // noise
}

// A footing is the noise about a draw's curve, and the scale on which it is added.
type footing struct {
	noise    models.Noise
	added    models.Noise // what it is on the link's scale
	gauss    bool         // normal on the link's scale
	standard bool         // no normal one, but a standard residual times the scale is added there
	counts   bool         // the curve is the log of a mean count
	link     link
}

func newFooting(n models.Noise) *footing {
	f := &footing{noise: n, counts: models.IsCount(n)}
	f.link, f.added, f.gauss = linkOf(n)
	if !f.gauss {
		_, f.standard = f.added.(models.LocationScale)
	}
	return f
}

// Noise is the noise about the draw's curve.
func (d *Draw) Noise() models.Noise { return d.on.noise }

// A Posterior is what the cohort and a trainee's own attempts, however few,
// say about the trainee, the uncertainty of the cohort's parameters included.
type Posterior struct {
	Draws []Draw
	// Effective is the number of equally weighted draws that would be as good.
	Effective float64
}

// The numbers of draws of a posterior: parameters of the cohort, for a trainee without
// attempts, for one with some, and for the half of a trainee that a calibration predicts
// from; and draws of the trainee for each of them. What the cohort leaves open matters most
// where there are no attempts.
const (
	newcomerCards = 128
	memberCards   = 64
	halfCards     = 16
	ownDraws      = 8
)

// A deck is a set of draws of the cohort's parameters from the normal
// distribution about their estimates.
type deck [][]float64

// deal draws the cohort's parameters. Spreads between trainees, which move by
// their logarithm, are kept within two and a half standard errors of it, and move
// as they are, not by their logarithm, where that is hardly known: a spread that
// may be nothing is not therefore a thousand times as large. No draw leaves the
// region that the fit was sought in.
func (c *Cohort) deal(seed uint64, purpose string, n int) deck {
	free, l, ok := c.root(nil)
	out := make(deck, n)
	untold := c.untold()
	for s := range n {
		theta := slices.Clone(c.theta)
		if ok {
			r := resample.Stream(seed, purpose, s/2)
			z := make([]float64, len(free))
			for a := range z {
				if z[a] = r.NormFloat64(); s%2 == 1 { // antithetic pairs
					z[a] = -z[a]
				}
			}
			for a, i := range free {
				d := 0.0
				for b := range a + 1 {
					d += l.At(a, b) * z[b]
				}
				if i >= c.m.nBeta {
					lim := 2.5 * math.Sqrt(c.cov.At(i, i))
					d = math.Min(math.Max(d, -lim), lim)
					if c.m.isDiagonal(i) && lim > 2.5 {
						d = math.Max(math.Log(math.Abs(1+d)), -lim)
					}
				}
				theta[i] = math.Min(math.Max(theta[i]+d, c.reach.lower[i]), c.reach.upper[i])
			}
		}
		for j := range untold {
			theta[j] = c.held(j, theta[j])
		}
		out[s] = theta
	}
	return out
}

// root is a triangle whose square is the covariance of the parameters that are estimated, without some.
func (c *Cohort) root(without map[int]bool) (free []int, l *mat.TriDense, ok bool) {
	for j := range c.theta {
		if v := c.cov.At(j, j); v > 0 && !without[j] {
			free = append(free, j)
		}
	}
	k := len(free)
	if k == 0 {
		return nil, nil, false
	}
	sym := mat.NewSymDense(k, nil)
	for a, i := range free {
		for b := range a + 1 {
			sym.SetSym(a, b, c.cov.At(i, free[b]))
		}
	}
	var chol mat.Cholesky
	if !chol.Factorize(sym) {
		return free, nil, false
	}
	l = new(mat.TriDense)
	chol.LTo(l)
	return free, l, true
}

// untold are the parameters of which the attempts tell nothing, so that a draw of them would lead anywhere: their
// standard error is a quarter of the region in which the fit was sought, or more. The spread between trainees in a
// plateau that is nothing is one, and an arm's share in it: whatever they are, the curves are the same. What
// such a spread has in common with others is untold with it.
func (c *Cohort) untold() map[int]bool {
	out := map[int]bool{}
	look := func(j, of int) { // what an arm or a covariate adds to a quantity is looked for in the region of the quantity
		if width := c.reach.upper[of] - c.reach.lower[of]; 4*math.Sqrt(c.cov.At(j, j)) >= width {
			out[j] = true
		}
	}
	for j := range c.theta {
		look(j, j)
	}
	for _, p := range c.m.parts {
		for k := range p.cols {
			if !p.held {
				look(p.at+k, p.at)
			}
		}
	}
	if !c.m.full {
		return out
	}
	for a := range c.m.random {
		if !out[c.m.diagonal(a)] {
			continue
		}
		for b := range c.m.random { // L[a][b] and L[b][a] stand before the diagonals of their rows
			row, column := max(a, b), min(a, b)
			out[c.m.diagonal(row)-row+column] = true
		}
	}
	return out
}

// held is the value of a parameter of which the attempts tell nothing: a spread of logarithms is at most 1, so that a
// plateau that is nothing stays nothing for all new trainees, another spread is nothing, and what spreads have in common
// and an arm's share stay where they are.
func (c *Cohort) held(j int, v float64) float64 {
	for a, i := range c.m.random {
		switch {
		case c.m.diagonal(a) != j:
		case c.m.parts[i].scale == Log:
			return math.Min(v, 0)
		default:
			return c.reach.lower[j]
		}
	}
	return c.theta[j]
}

// told are the estimates, with those of which the attempts tell nothing held.
func (c *Cohort) told() []float64 {
	theta := slices.Clone(c.theta)
	for j := range c.untold() {
		theta[j] = c.held(j, theta[j])
	}
	return theta
}

// Posteriors works out the posterior of every trainee given, members of the
// cohort or not: a trainee needs an arm of the cohort, and may have no attempts
// at all.
func (c *Cohort) Posteriors(ctx context.Context, ts []Trainee, sampling resample.Sampling) ([]Posterior, error) {
	return c.posteriors(ctx, ts, memberCards, sampling)
}

// posteriors does so with a number of draws of the cohort's parameters for those with attempts.
func (c *Cohort) posteriors(ctx context.Context, ts []Trainee, few int, sampling resample.Sampling) ([]Posterior, error) {
	cards := c.deal(sampling.Seed, "cohort parameters", newcomerCards)
	out := make([]Posterior, len(ts))
	within := 1 // trainees are worked on side by side, and a trainee's cards where there is but one
	if len(ts) == 1 {
		within = sampling.Workers
	}
	err := resample.Each(ctx, len(ts), sampling, func() func(int) error {
		return func(i int) error {
			var err error
			out[i], err = c.posterior(ctx, ts[i], share(cards, ts[i], few), resample.Stream(sampling.Seed, "posterior "+ts[i].ID, len(ts[i].Attempt)), within)
			return err
		}
	})
	return out, err
}

// posterior draws, for every card, from Student's t with 5 degrees of freedom
// about the mode and weights by what the likelihood says instead. The weights
// sum to the same for every card: the cohort's parameters are not learnt twice.
// Cards are worked on side by side where there are several workers.
func (c *Cohort) posterior(ctx context.Context, t Trainee, cards deck, r *rand.Rand, workers int) (Posterior, error) {
	m := c.m
	if m.spec.Watch != nil {
		m.spec.Watch(Projecting, m.spec, []Trainee{t})
	}
	rec, err := m.record(t)
	if err != nil {
		return Posterior{}, err
	}
	each, err := c.hands(ctx, t, &rec, cards, nil, r, workers)
	if err != nil {
		return Posterior{}, err
	}
	return together(t.ID, each)
}

// hands are a trainee's draws under each of the cards wanted, with weights that sum to 1; all
// are wanted where wanted is nil, and the others' are nil.
func (c *Cohort) hands(ctx context.Context, t Trainee, rec *record, cards deck, wanted []bool, r *rand.Rand, workers int) ([][]Draw, error) {
	m := c.m
	near := m.at(rec, c.theta).seek(vector{})
	zs := make([][]vector, len(cards))
	for number := range cards {
		zs[number] = deviates(r, len(m.random), make([]vector, ownDraws))
	}
	last := 0.0
	if len(t.Attempt) > 0 {
		last = slices.Max(t.Attempt)
	}
	each := make([][]Draw, len(cards))
	err := resample.Each(ctx, len(cards), resample.Sampling{Workers: workers}, func() func(int) error {
		here := placed{m: m, rec: rec}
		return func(number int) error {
			if wanted != nil && !wanted[number] {
				return nil
			}
			here.under(cards[number])
			draws, ok := here.beside(&near, zs[number])
			if !ok {
				draws = here.drawn(&near, zs[number])
			}
			for j := range draws {
				draws[j].Card = number
				if w := &draws[j].wander; w.on {
					w.last, w.across = last, m.spec.CarryAcross
				}
			}
			each[number] = slices.Clone(draws)
			return nil
		}
	})
	return each, err
}

// together is the posterior of all hands, which count alike.
func together(id string, hands [][]Draw) (Posterior, error) {
	post := Posterior{Draws: slices.Concat(hands...)}
	if len(post.Draws) == 0 {
		return post, refuse("the attempts of trainee %s do not fit any curve of the cohort", id)
	}
	sum, squares := 0.0, 0.0
	for _, d := range post.Draws {
		sum += d.Weight
		squares += d.Weight * d.Weight
	}
	for j := range post.Draws {
		post.Draws[j].Weight /= sum
	}
	post.Effective = sum * sum / squares
	return post, nil
}

// mostDips is how often a search for a mode starts again from a better place.
const mostDips = 8

// deviates are the steps from a mode to its draws, in units of the posterior's
// standard deviations there: antithetic pairs of Student's t with 5 degrees of
// freedom.
func deviates(r *rand.Rand, k int, out []vector) []vector {
	out = out[:ownDraws]
	if k == 0 {
		out = out[:1]
	}
	clear(out)
	for j := range out {
		if j%2 == 1 {
			for a := range k {
				out[j][a] = -out[j-1][a]
			}
			continue
		}
		chi := 0.0
		for range 5 {
			x := r.NormFloat64()
			chi += x * x
		}
		q := math.Sqrt(5 / chi)
		for a := range k {
			out[j][a] = q * r.NormFloat64()
		}
	}
	return out
}

// A placed trainee is one under a draw of the cohort's parameters.
type placed struct {
	m     *model
	rec   *record
	eta0  vector
	l     matrix
	draws []Draw     // the last ones made
	steps []filtered // of the memory that all draws share; nil without carryover or attempts
}

func (m *model) at(rec *record, theta []float64) *placed {
	p := &placed{m: m, rec: rec}
	p.under(theta)
	return p
}

// under puts the trainee under another draw.
func (p *placed) under(theta []float64) {
	p.eta0, p.l = p.m.eta(p.rec, theta), p.m.factor(theta)
	if p.rec.gap != nil {
		p.steps = p.m.memoryAt(&p.eta0).steps(p.steps[:0], p.rec)
	}
}

// A peak is a mode with the trainee's loss there, prior included.
type peak struct {
	mode
	value float64
}

func (p *placed) seek(from vector) peak {
	var o sum
	mo := p.m.seek(p.rec, &p.eta0, &p.l, from, &o)
	if !mo.ok {
		mo = p.m.seek(p.rec, &p.eta0, &p.l, vector{}, &o)
	}
	return peak{mo, o.v + norm2(&mo.v, len(p.m.random))/2}
}

// beside draws about where one Newton step leads from the mode under the parameters'
// estimates, with the curvature that it has there: the weights of the draws make up for what
// is not exact about that. False where the step is long, or a draw shows that it led astray.
func (p *placed) beside(near *peak, zs []vector) ([]Draw, bool) {
	if !near.ok {
		return nil, false
	}
	k := len(p.m.random)
	e := p.eta0
	p.m.addDeviation(&e, &p.l, &near.v)
	var o sum
	if !p.m.pass(p.rec, &e, 1, nil, &o) || math.IsNaN(o.v) || math.IsInf(o.v, 1) {
		return nil, false
	}
	step := near.v // the gradient, over v
	for b := range k {
		for c := b; c < k; c++ {
			step[b] += p.l[c][b] * o.grad[p.m.parts[p.m.random[c]].slot]
		}
	}
	forward(&near.chol, k, &step)
	saves := norm2(&step, k) / 2
	if !(saves < longStep) {
		return nil, false
	}
	backward(&near.chol, k, &step)
	there := peak{near.mode, o.v + norm2(&near.v, k)/2 - saves}
	for b := range k {
		there.v[b] -= step[b]
	}
	draws, better := p.own(&there, zs, 0.05+saves)
	return draws, better == nil && len(draws) > 0
}

// longStep is the loss that a step from one draw of the parameters to another may save for its
// end to stand for the mode there.
const longStep = 0.5

// drawn seeks the mode itself and draws about it. A draw that fits better than the mode shows
// that the search ended in a lesser dip: the fit is then sought again from that draw. Left
// alone, such a draw would outweigh all others, without limit where noise is small.
func (p *placed) drawn(near *peak, zs []vector) (draws []Draw) {
	top := p.seek(near.v)
	if !top.ok {
		return nil
	}
	for range mostDips {
		var better *vector
		if draws, better = p.own(&top, zs, 1e-6*(1+math.Abs(top.value))); better == nil {
			break
		}
		next := p.seek(*better)
		if !next.ok {
			break
		}
		top = next
	}
	return draws
}

// own draws a trainee about a peak, with weights that sum to 1. better is the draw that fits
// best where that is better than the peak by more than the slack. The draws stand until the next
// are made.
func (p *placed) own(top *peak, zs []vector, slack float64) (draws []Draw, better *vector) {
	m, rec, k := p.m, p.rec, len(p.m.random)
	base := top.value
	least := base - slack
	highest := math.Inf(-1)
	carries := m.spec.Carry != CarryNone && len(rec.z) > 0
	var o sum
	draws = p.draws[:0]
	for _, z := range zs {
		step := z
		backward(&top.chol, k, &step)
		at := top.v
		for a := range k {
			at[a] += step[a]
		}
		e := p.eta0
		m.addDeviation(&e, &p.l, &at)
		var ok bool
		there := m.placeAt(&e)
		if carries {
			o.v, o.carried, ok = m.lossInTurn(rec, &there, p.steps)
		} else {
			o.v, ok = m.lossAt(rec, &there)
		}
		if !ok || math.IsNaN(o.v) || math.IsInf(o.v, 1) {
			continue
		}
		value := o.v + norm2(&at, k)/2
		if value < least {
			least, better = value, &at
		}
		d := Draw{Weight: base - value + 0.5*float64(5+k)*math.Log1p(norm2(&z, k)/5), Curve: m.curve(&e), Spread: m.spreadAt(&e), on: m.on}
		highest = math.Max(highest, d.Weight)
		if m.spec.Sessions {
			d.Shift, d.Fading = e[slotSession], m.natural(&e, slotFading)
		}
		switch {
		case carries:
			d.wander = wander{memory: m.memoryAt(&e), carried: o.carried, left: p.steps[len(p.steps)-1].left}
		case m.spec.Carry != CarryNone:
			d.wander = m.unseen(&e)
		}
		draws = append(draws, d)
	}
	total := 0.0
	for j := range draws { // from logarithms, so that nothing overflows and some weight is left
		draws[j].Weight = math.Exp(draws[j].Weight - highest)
		total += draws[j].Weight
	}
	for j := range draws {
		draws[j].Weight /= total
	}
	p.draws = draws
	return draws, better
}

// farthest is a level that no response has: curves that go further are taken to
// stay there. mostLog is the same for the log of a count.
const (
	farthest = 1e130
	mostLog  = 300
)

// center is the draw's curve value at an attempt on the scale on which noise is
// added to it; −Inf where a curve that noise needs above 0 is not, which says
// that responses there are 0.
func (d *Draw) center(attempt, restart float64) float64 {
	return d.level(attempt, restart) + d.wander.shift(attempt, restart)
}

// level is center without what residuals so far pass on.
func (d *Draw) level(attempt, restart float64) float64 {
	at := min(max(d.Curve.At(attempt), -farthest), farthest)
	if d.on.link != plain && !(at > 0) {
		return math.Inf(-1)
	}
	mu := d.on.link.to(at)
	if restart > 0 {
		mu += d.Shift * math.Exp(-d.Fading*(restart-1))
	}
	if d.on.counts {
		mu = math.Min(mu, mostLog)
	}
	return mu
}

// spread is the residual standard deviation of a draw at an attempt, given the
// residuals so far.
func (d *Draw) spread(attempt, restart float64) float64 {
	return d.Spread * d.wander.shrink(attempt, restart)
}

// stand is where the draws stand at one attempt: their centers and spreads.
type stand struct {
	draws  []Draw
	mu, sd []float64
}

func (p *Posterior) at(attempt, restart float64) stand {
	s := stand{p.Draws, make([]float64, len(p.Draws)), make([]float64, len(p.Draws))}
	for i := range p.Draws {
		d := &p.Draws[i]
		s.mu[i], s.sd[i] = d.center(attempt, restart), d.Spread
		if d.on.gauss {
			s.sd[i] = d.spread(attempt, restart)
		}
	}
	return s
}

// cdf is the chance of a response of at most y.
func (s stand) cdf(y float64) float64 {
	total, z := 0.0, math.NaN()
	var on *footing
	for i := range s.draws {
		d := &s.draws[i]
		if d.on != on {
			on, z = d.on, d.on.link.to(y)
		}
		switch {
		case on.link != plain && y <= 0:
		case on.gauss:
			below, _ := models.StandardNormal((z - s.mu[i]) / s.sd[i])
			total += d.Weight * below
		default:
			total += d.Weight * on.added.CDF(z, s.mu[i], s.sd[i])
		}
	}
	return total
}

// CDF is the chance that one attempt gives at most y. restart counts attempts
// since a break, from 1; 0 for none.
func (p *Posterior) CDF(attempt, restart, y float64) float64 { return p.at(attempt, restart).cdf(y) }

// Quantiles are the responses that shares of the predictive distribution of
// one attempt stay at or under.
func (p *Posterior) Quantiles(attempt, restart float64, shares ...float64) []float64 {
	s := p.at(attempt, restart)
	return s.quantiles(shares)
}

// quantiles inverts the predictive distribution, many shares at once.
func (s stand) quantiles(shares []float64) []float64 {
	if s.draws[0].on.gauss && s.oneFooting() {
		return s.normalQuantiles(shares)
	}
	out := make([]float64, len(shares))
	for j, q := range shares {
		out[j] = s.quantile(q)
	}
	return out
}

// oneFooting reports whether all draws have the same noise.
func (s stand) oneFooting() bool {
	for i := range s.draws {
		if s.draws[i].on != s.draws[0].on {
			return false
		}
	}
	return true
}

// normalQuantiles inverts a mixture of normal distributions on one scale by Newton steps.
func (s stand) normalQuantiles(shares []float64) []float64 {
	lo, hi := math.Inf(1), math.Inf(-1)
	var mean, square, near, none float64 // near: their spread on the mean; none: weight of curves that are not above 0
	for i, mu := range s.mu {
		w, sd := s.draws[i].Weight, s.sd[i]
		if math.IsInf(mu, -1) {
			none += w
			continue
		}
		lo, hi = min(lo, mu-9*sd), max(hi, mu+9*sd)
		mean += w * mu
		square += w * (mu*mu + sd*sd)
		near += w * sd
	}
	out := make([]float64, len(shares))
	mean, square, near = mean/(1-none), square/(1-none), near/(1-none)
	wide := math.Sqrt(math.Max(square-mean*mean, 0))
	for j, q := range shares {
		if q <= none || lo > hi {
			continue // a response of 0
		}
		x := mean + wide*distuv.UnitNormal.Quantile(q)
		a, b := lo, hi
		for range 60 {
			f, density := -q, 0.0
			for i, mu := range s.mu {
				inv := 1 / s.sd[i]
				below, there := models.StandardNormal((x - mu) * inv)
				w := s.draws[i].Weight
				f += w * below
				density += w * there * inv
			}
			if f < 0 {
				a = x
			} else {
				b = x
			}
			next := x - f/density
			if !(next >= a && next <= b) {
				next = (a + b) / 2
			}
			if math.Abs(next-x) < 1e-2*near { // the next step would be about its square
				x = next
				break
			}
			x = next
		}
		out[j] = s.draws[0].on.link.from(x)
	}
	return out
}

// MeanQuantiles are weighted quantiles of the trainee's mean response at an
// attempt: of the chance to pass, or of the mean count.
func (p *Posterior) MeanQuantiles(attempt, restart float64, shares ...float64) []float64 {
	at := func(d *Draw) float64 {
		return d.on.noise.Mean(d.on.link.from(d.center(attempt, restart)))
	}
	q, _ := p.Attempts(at, shares...)
	return q
}

// farthestFound is a response beyond which a quantile is not looked for where some have no end.
const farthestFound = 1e9

// quantile inverts any predictive distribution: of counts and passes by doubling and halving
// steps, else between two neighbours among the draws' own quantiles, so that a draw far out cannot blur it.
func (s stand) quantile(q float64) float64 {
	owns := make([]float64, 0, len(s.draws))
	var on *footing
	var own func(mu, sd float64) float64
	for i := range s.draws {
		if d := &s.draws[i]; d.on != on {
			if on = d.on; on.counts || models.IsPassFail(on.noise) {
				return s.wholeQuantile(q)
			}
			own = on.own(q)
		}
		owns = append(owns, own(s.mu[i], s.sd[i]))
	}
	slices.Sort(owns)
	k, _ := slices.BinarySearchFunc(owns, q, func(v, q float64) int { return cmp.Compare(s.cdf(v), q) })
	switch {
	case k == 0:
		return owns[0]
	case k == len(owns):
		return owns[k-1]
	}
	lo, hi := owns[k-1], owns[k]
	for step := math.Max(1e-3*math.Abs(lo), 1e-9); lo+step < hi; step *= 2 { // the next one up may be far, or have no end
		if lo > farthestFound && math.IsInf(hi, 1) {
			return hi
		}
		if s.cdf(lo+step) >= q {
			hi = lo + step
			break
		}
		lo += step
	}
	at, _ := numeric.Root(func(y float64) float64 { return s.cdf(y) - q }, lo, hi, numeric.Tolerance{X: 1e-9 * (hi - lo), F: 1e-9})
	return at
}

// wholeQuantile is the smallest whole number at or under which a share of responses stays.
func (s stand) wholeQuantile(q float64) float64 {
	lo, hi := -1.0, 0.0
	for step := 1.0; s.cdf(hi) < q; step *= 2 {
		if lo, hi = hi, hi+step; hi > farthestFound {
			return math.Inf(1)
		}
	}
	for hi-lo > 1 {
		if mid := math.Floor((lo + hi) / 2); s.cdf(mid) >= q {
			hi = mid
		} else {
			lo = mid
		}
	}
	return hi
}

// own is the response that a share of one draw's attempts stay at or under.
func (f *footing) own(share float64) func(mu, sd float64) float64 {
	switch {
	case f.gauss:
		e := distuv.UnitNormal.Quantile(share)
		return func(mu, sd float64) float64 {
			if math.IsInf(mu, -1) {
				return 0
			}
			return f.link.from(mu + sd*e)
		}
	case f.standard:
		e := models.ResidualQuantile(f.added, share, 1)
		return func(mu, sd float64) float64 { return f.link.from(mu + sd*e) }
	}
	return func(mu, sd float64) float64 { return f.added.Quantile(share, mu, sd) }
}

// Attempts is the distribution of a number of attempts read off the draws'
// curves: weighted quantiles of what of returns, +Inf where it is never
// reached, and the share of the weight on +Inf.
func (p *Posterior) Attempts(of func(*Draw) float64, shares ...float64) (quantiles []float64, never float64) {
	type item struct{ v, w float64 }
	items := make([]item, len(p.Draws))
	for i := range p.Draws {
		items[i] = item{of(&p.Draws[i]), p.Draws[i].Weight}
		if math.IsInf(items[i].v, 1) {
			never += items[i].w
		}
	}
	slices.SortFunc(items, func(a, b item) int {
		switch {
		case a.v < b.v:
			return -1
		case a.v > b.v:
			return 1
		}
		return 0
	})
	for _, q := range shares {
		at, sum := math.Inf(1), 0.0
		for _, it := range items {
			if sum += it.w; sum >= q-1e-12 {
				at = it.v
				break
			}
		}
		quantiles = append(quantiles, at)
	}
	return quantiles, never
}

// A Question is what is asked about proficiency.
type Question struct {
	Standard practice.Standard
	Horizon  float64 // attempts looked ahead at most; 0 means 200
	Chance   float64 // pass chance asked for; 0 means 0.8
	Level    float64 // of intervals; 0 means 0.95
	// Sound is the chance that an attempt is no hard fail and within its error limits, as the
	// estimates have it (0) and by draws of it about them (1, 2, …); nil: always.
	Sound func(card int) func(attempt float64) float64
}

func (q Question) orDefaults() Question {
	if q.Horizon == 0 {
		q.Horizon = 200
	}
	if q.Chance == 0 {
		q.Chance = 0.8
	}
	if q.Level == 0 {
		q.Level = 0.95
	}
	return q
}

// MeanCrossing is the first whole attempt at which a draw's curve meets the
// standard; +Inf beyond the horizon.
func (q Question) MeanCrossing(noise models.Noise, d *Draw) float64 {
	return q.crossing(d, q.Standard.Curve(noise))
}

// PassChance is the first whole attempt at which a single attempt meets the
// standard with the wanted chance.
func (q Question) PassChance(noise models.Noise, d *Draw) float64 {
	return q.crossing(d, q.Standard.CurveFor(noise, q.Chance, d.Spread))
}

// crossing is the first whole attempt at which a draw's curve meets a level. A curve that meets it before any practice, and
// has left it at the horizon, does not get there: practice leads away.
func (q Question) crossing(d *Draw, level float64) float64 {
	n := q.whole(d.Curve.Crossing(level, 1, q.Standard.Lower))
	if end := d.Curve.At(q.Horizon); n <= 1 && end != level && end < level != q.Standard.Lower {
		return math.Inf(1)
	}
	return n
}

func (q Question) whole(n float64) float64 {
	if n = math.Ceil(n - 1e-9); n > q.Horizon {
		return math.Inf(1)
	}
	return n
}

// A Share is the share of new trainees who are proficient by an attempt.
type Share struct {
	Attempt             float64
	Share, Lower, Upper float64
}

// The numbers behind [Shares]: draws of the cohort's parameters, and
// new trainees imagined for each.
const (
	populationCards = 200
	populationDraws = 1000
)

// Shares are the shares of new trainees of an arm who are proficient by
// every attempt up to the horizon, by mean-crossing or pass-chance. Its
// interval is about the share in the population, not in a group of some size.
// Covariates are at 0.
func Shares(ctx context.Context, of Newcomers, arm string, q Question, passChance bool, sampling resample.Sampling) ([]Share, error) {
	q = q.orDefaults()
	h := int(q.Horizon)
	by := make([][]float64, populationCards+1) // by[s][n]: share proficient by n
	err := of.NewTrainees(ctx, arm, populationCards, populationDraws, sampling, func(s int, people []Draw) error {
		counts := make([]float64, h+1)
		var passing *soundPassing
		if sound := q.soundUpTo(s); sound != nil {
			passing = q.newSoundPassing(sound)
		}
		for i := range people {
			if i%50 == 0 && ctx.Err() != nil { // counts take long
				return ctx.Err()
			}
			d := &people[i]
			n := q.MeanCrossing(d.Noise(), d)
			switch {
			case passChance && passing != nil:
				n = passing.first(d)
			case passChance:
				n = q.PassChance(d.Noise(), d)
			}
			if n <= q.Horizon {
				counts[int(n)] += d.Weight
			}
		}
		for n := 1; n <= h; n++ {
			counts[n] += counts[n-1]
		}
		by[s] = counts
		return nil
	})
	if err != nil {
		return nil, err
	}
	var out []Share
	column := make([]float64, populationCards)
	for n := 1; n <= h; n++ {
		for s := range column {
			column[s] = by[s+1][n]
		}
		slices.Sort(column)
		out = append(out, Share{float64(n), by[0][n], resample.Quantile(column, (1-q.Level)/2), resample.Quantile(column, (1+q.Level)/2)})
	}
	return out, nil
}

// soundUpTo lists the chances to be sound of attempts 1 to the horizon; nil where all are.
func (q Question) soundUpTo(card int) []float64 {
	if q.Sound == nil {
		return nil
	}
	at := q.Sound(card)
	out, always := make([]float64, int(q.Horizon)), true
	for n := range out {
		out[n] = at(float64(n + 1))
		always = always && out[n] == 1
	}
	if always {
		return nil
	}
	return out
}

// A soundPassing finds where single attempts pass, the sound ones alone, for one draw after
// another: where the curve comes down to the level from which so many attempts meet the standard
// that with those that are sound the chance asked for is reached. The levels hang on the noise and its spread
// alone, which most draws of a card share.
type soundPassing struct {
	q      Question
	sound  []float64 // chances, by attempt
	on     *footing
	spread float64
	levels []float64 // by attempt, NaN where not worked out
}

func (q Question) newSoundPassing(sound []float64) *soundPassing {
	return &soundPassing{q: q, sound: sound, spread: math.NaN(), levels: make([]float64, len(sound))}
}

// passes reports whether attempt n of a draw does.
func (s *soundPassing) passes(d *Draw, n int) bool {
	need := s.q.Chance / s.sound[n-1]
	if !(need < 1) {
		return false
	}
	if math.IsNaN(s.levels[n-1]) {
		s.levels[n-1] = s.q.Standard.CurveFor(d.Noise(), need, s.spread)
	}
	m := d.Curve.At(float64(n))
	if s.q.Standard.Lower {
		return m <= s.levels[n-1]
	}
	return m >= s.levels[n-1]
}

// first is the first attempt that passes with the chance asked for; +Inf beyond the horizon. The
// chance to be sound rises or falls throughout, as the chance to meet the standard does: where
// both rise the attempt is found by halving.
func (s *soundPassing) first(d *Draw) float64 {
	if d.Spread != s.spread || d.on != s.on {
		s.spread, s.on = d.Spread, d.on
		for n := range s.levels {
			s.levels[n] = math.NaN()
		}
	}
	last := len(s.sound)
	rises := s.sound[last-1] >= s.sound[0] && (d.Curve.Gain == 0 || d.Curve.Gain > 0 == s.q.Standard.Lower)
	if !rises {
		for n := 1; n <= last; n++ {
			if s.passes(d, n) {
				return float64(n)
			}
		}
		return math.Inf(1)
	}
	if n := sort.Search(last, func(k int) bool { return s.passes(d, k+1) }); n < last {
		return float64(n + 1)
	}
	return math.Inf(1)
}

// Middle is the curve of an arm's middle trainee, all deviations 0, covariates
// at 0.
func (c *Cohort) Middle(arm string) (models.Curve, error) {
	rec, err := c.m.record(Trainee{ID: "the middle trainee", Arm: arm})
	if err != nil {
		return models.Curve{}, err
	}
	e := c.m.eta(&rec, c.theta)
	return c.m.curve(&e), nil
}
