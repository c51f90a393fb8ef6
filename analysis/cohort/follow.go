package cohort

import (
	"context"
	"math"
	"slices"

	"tyro/analysis/resample"
)

// An Attempt is one attempt as it arrives.
type Attempt struct {
	Number   float64 // from 1
	Response float64
	Censored bool    // the response is only known to be above Response
	Restart  float64 // attempts since a break, from 1; 0 for none
}

// A Follower keeps what a fit and one trainee's attempts say of the trainee, as the
// attempts arrive. Nothing is fitted: the fit stays as it is, and so do the draws of its
// parameters, which are made once.
//
// Up to [freshUntil] attempts, and at its begin, what it says is [Cohort.Posteriors] of the same
// series, to the last digit. After that an attempt draws the trainee anew under an eighth of the
// draws of the cohort's parameters, in turn, and weighs the rest by what the attempt says under
// each (sequential importance sampling): no draw is older than eight attempts, and one more
// attempt costs little however many there are. What is drawn is the same posterior; its random
// error hangs on where following began.
//
// One goroutine at a time may use it.
type Follower struct {
	of    *Cohort
	seed  uint64
	cards deck
	t     Trainee
	hands [][]Draw // by card, of the series so far
}

// The attempts up to which every draw is made anew at each, the attempts that a draw then
// serves, and the number of equally weighted draws that those under one card must at least be
// worth for it.
const (
	freshUntil = 32
	drawServes = 8
	leastWorth = 3
)

// Follow begins with the attempts made so far, which may be none. The trainee needs an arm
// of the cohort, and need not be a member.
func (c *Cohort) Follow(ctx context.Context, t Trainee, seed uint64) (*Follower, error) {
	t = Trainee{ID: t.ID, Arm: t.Arm, Attempt: slices.Clone(t.Attempt), Response: slices.Clone(t.Response), Censored: slices.Clone(t.Censored), Restart: slices.Clone(t.Restart), Covariates: slices.Clone(t.Covariates)}
	if t.Covariates == nil {
		t.Covariates = make([]float64, len(c.m.spec.Covariates))
	}
	f := &Follower{of: c, seed: seed, cards: c.deal(seed, "cohort parameters", newcomerCards)}
	err := f.take(ctx, t, nil)
	return f, err
}

// Trainee is the series so far. It must not be changed.
func (f *Follower) Trainee() Trainee { return f.t }

// Posterior is what is known now.
func (f *Follower) Posterior() (Posterior, error) { return together(f.t.ID, f.hands) }

// Add takes in one more attempt, and gives what is then known. An attempt that the fit cannot
// use is an error, and is not taken in.
func (f *Follower) Add(ctx context.Context, a Attempt) (Posterior, error) {
	t, n := f.t, len(f.t.Attempt)
	t.Attempt, t.Response = append(t.Attempt, a.Number), append(t.Response, a.Response)
	if t.Censored != nil || a.Censored {
		t.Censored = append(filled(t.Censored, n), a.Censored)
	}
	if t.Restart != nil || a.Restart > 0 {
		t.Restart = append(filled(t.Restart, n), a.Restart)
	}
	var weighed [][]Draw
	if n >= freshUntil && a.Number > slices.Max(f.t.Attempt) {
		weighed = f.weigh(a)
	}
	if err := f.take(ctx, t, weighed); err != nil {
		return Posterior{}, err
	}
	return f.Posterior()
}

// filled is a list, or one of so many zero values where there is none yet.
func filled[T any](list []T, n int) []T {
	if list == nil {
		return make([]T, n)
	}
	return list
}

// take takes a series as the one so far. Hands that were weighed by its last attempt serve on
// where they still can.
func (f *Follower) take(ctx context.Context, t Trainee, weighed [][]Draw) error {
	rec, err := f.of.m.record(t)
	if err != nil {
		return err
	}
	n := len(t.Attempt)
	cards := share(f.cards, t, memberCards)
	wanted := make([]bool, len(cards))
	for k := range wanted {
		wanted[k] = weighed == nil || n%drawServes == k%drawServes || !serves(weighed[k])
	}
	hands, err := f.of.hands(ctx, t, &rec, cards, wanted, resample.Stream(f.seed, "posterior "+t.ID, n), 0)
	if err != nil {
		return err
	}
	for k := range hands {
		if !wanted[k] {
			hands[k] = weighed[k]
		}
	}
	if _, err := together(t.ID, hands); err != nil {
		return err
	}
	f.t, f.hands = t, hands
	return nil
}

// serves reports whether a hand's draws are worth enough; none are not.
func serves(draws []Draw) bool {
	squares := 0.0
	for _, d := range draws {
		squares += d.Weight * d.Weight
	}
	return len(draws) == 1 || squares > 0 && squares*leastWorth <= 1
}

// weigh are the hands with what one more attempt, after all others, says under each draw.
func (f *Follower) weigh(a Attempt) [][]Draw {
	out := make([][]Draw, len(f.hands))
	var losses [ownDraws]float64
	for k, draws := range f.hands {
		draws = slices.Clone(draws)
		least := math.Inf(1)
		for j := range draws {
			losses[j] = draws[j].learn(a)
			least = math.Min(least, losses[j])
		}
		total := 0.0
		for j := range draws {
			draws[j].Weight *= math.Exp(least - losses[j])
			total += draws[j].Weight
		}
		if !(total > 0) { // none of them could give this attempt
			continue
		}
		for j := range draws {
			draws[j].Weight /= total
		}
		out[k] = draws
	}
	return out
}

// learn takes an attempt after all others into what residuals pass on, and gives its loss under
// the draw: but for what is the same for all draws.
func (d *Draw) learn(a Attempt) float64 {
	mu := d.level(a.Number, a.Restart)
	if math.IsInf(mu, -1) {
		return math.Inf(1)
	}
	if !d.on.gauss {
		return d.on.added.Loss(d.on.link.to(a.Response), mu, d.Spread, a.Censored).Value
	}
	dev, sd := d.on.link.to(a.Response)-mu, d.Spread
	if w := &d.wander; w.on {
		gap := a.Number - w.last
		if !w.across && a.Restart == 1 {
			gap = math.Inf(1)
		}
		filter := filter{memory: w.memory, left: w.left}
		s := filter.next(gap, a.Censored)
		ahead := s.decay * w.carried
		dev -= ahead
		w.last, w.carried, w.left = a.Number, ahead+s.gain*dev, filter.left
		sd *= math.Sqrt(s.variance)
	}
	return gaussLoss(dev, 0, math.Log(sd), 1/sd, a.Censored).v
}

// share are the draws of the cohort's parameters that a trainee is judged by: fewer where
// there are attempts.
func share(cards deck, t Trainee, few int) deck {
	if len(t.Attempt) > 0 {
		return cards[:few]
	}
	return cards
}
