package proficiency

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"tyro/analysis/cohort"
	"tyro/analysis/practice"
	"tyro/analysis/resample"
	"tyro/analysis/stopping"
	"tyro/analysis/survival"
)

// The names of what a statement about many trainees rests on.
const (
	ByObservation = "observed"     // the attempts at which trainees were seen to meet the rule
	ByCohort      = "cohort-curve" // what the cohort's curve expects of new trainees
)

// A Progress is the share of trainees who have met a rule by each attempt, and
// how well it is known: by alternatives that are as likely as each other.
type Progress struct {
	Basis        string
	N            int       // trainees behind it
	Met          int       // of them, those seen to meet the rule; 0 by the cohort's curve
	Share        []float64 // by attempt 1, 2, …, as far as anything is known
	Lower, Upper []float64 // pointwise limits of Share
	Level        float64
	// Draws holds Share again for every alternative: bootstrap samples of whole
	// trainees, or draws of the population's parameters.
	Draws [][]float64

	observed     *survival.Curve // nil unless observed
	upperAtStart float64         // upper limit of the share before the first attempt, as observed
}

// FromObservations is the progress seen: the product-limit estimate of all
// trainees, those who have not met the rule being censored at their last attempt.
// The limits are those of [survival.Curve.MidLimits]; the alternatives are samples
// of whole trainees. It ends with the last attempt seen. The purpose names the
// random streams.
func FromObservations(ctx context.Context, obs []survival.Observation, level float64, sampling resample.Sampling, purpose string) (Progress, error) {
	if len(obs) == 0 {
		return Progress{}, errors.New("no trainees to see when they met the rule")
	}
	c := survival.KaplanMeier(obs, survival.LogLog, level)
	if c.Err != nil {
		return Progress{}, c.Err
	}
	level = c.Level
	p := Progress{Basis: ByObservation, N: len(obs), Met: c.Events, Level: level, observed: &c}
	end := math.Floor(c.Steps[len(c.Steps)-1].Time)
	if c.Events == len(obs) { // times need not be whole, and everybody is there by the next attempt
		end = math.Ceil(c.Steps[len(c.Steps)-1].Time)
	}
	if err := checkSize(end, sampling.Count()); err != nil {
		return Progress{}, err
	}
	last := int(end)
	p.Share = metShares(c, last)
	p.Lower, p.Upper = make([]float64, last), make([]float64, last)
	lower, upper := c.MidLimits(0, level)
	p.upperAtStart = 1 - lower
	k := 0
	for n := range last {
		for ; k < len(c.Steps) && c.Steps[k].Time <= float64(n+1); k++ {
			lower, upper = c.MidLimits(c.Steps[k].Time, level)
		}
		p.Lower[n], p.Upper[n] = 1-upper, 1-lower
	}
	var err error
	p.Draws, err = resample.Replicate(ctx, sampling, "proficiency/progress/"+purpose, func() func(*rand.Rand) []float64 {
		idx, drawn := make([]int, len(obs)), make([]survival.Observation, len(obs))
		return func(r *rand.Rand) []float64 {
			for i, j := range resample.Indices(r, idx, len(obs)) {
				drawn[i] = obs[j]
			}
			return metShares(survival.KaplanMeier(drawn, survival.LogLog, level), last)
		}
	})
	return p, err
}

// metShares reads a survival curve at every whole attempt up to last.
func metShares(c survival.Curve, last int) []float64 {
	out := make([]float64, last)
	k, s := 0, 1.0
	for n := range out {
		for k < len(c.Steps) && c.Steps[k].Time <= float64(n+1) {
			s = c.Steps[k].Survival
			k++
		}
		out[n] = 1 - s
	}
	return out
}

// DefaultDraws is how many draws of the population's parameters [FromCohort] takes
// where the sampling does not say.
const DefaultDraws = 400

// The people imagined for each draw, the states of the largest rule followed for
// all of them, and the steps of it made in all.
const (
	populationPeople = 128
	maxImagined      = 250
	maxImaginedSteps = 50_000_000_000
)

// The shares kept of one group: attempts, and attempts times alternatives at eight
// bytes each.
const (
	maxAttemptsKept = 100_000
	maxSharesKept   = 25_000_000
)

// checkSize is an error where the shares of so many alternatives are too many to keep.
func checkSize(attempts float64, alternatives int) error {
	switch {
	case !(attempts <= maxAttemptsKept):
		return fmt.Errorf("shares are followed up to attempt %d at most, not up to %.6g", maxAttemptsKept, attempts)
	case attempts*float64(alternatives) > maxSharesKept:
		return fmt.Errorf("%d replicates of the shares by each of %.0f attempts are too many to keep: at most %.0f replicates fit", alternatives, attempts, math.Floor(maxSharesKept/attempts))
	}
	return nil
}

// FromCohort is what a cohort's curve, or several together, expect of new trainees: people are
// imagined from the population that the cohort shows, each person's chances to
// pass follow from their own curve and noise and from the chance that an attempt
// is sound (as seen of all trainees; nil: always), and the rule is answered
// exactly for each. The alternatives are draws of the population's parameters,
// with the chance of a sound attempt learnt from trainees drawn with
// replacement: as many as the sampling's replicates, or [DefaultDraws] where it does not
// say. trainees is how many the cohort was fitted to. The shares end with the question's horizon. An
// arm that the cohort has no effect for is an error.
func FromCohort(ctx context.Context, newcomers cohort.Newcomers, trainees int, arm string, q Question, seen []practice.Trainee, sampling resample.Sampling) (Progress, error) {
	q = q.orDefaults()
	if err := q.check(); err != nil {
		return Progress{}, err
	}
	rec, err := stopping.NewRecursion(q.Rule)
	if err != nil {
		return Progress{}, err
	}
	if rec.States() > maxImagined {
		return Progress{}, fmt.Errorf("rule %q has too many states to follow for everybody in a population", q.Rule)
	}
	cards := DefaultDraws
	if sampling.Replicates > 0 {
		cards = sampling.Replicates
	}
	if err := checkSize(q.Horizon, cards); err != nil {
		return Progress{}, err
	}
	if float64(cards)*populationPeople*q.Horizon*float64(rec.States()) > maxImaginedSteps {
		return Progress{}, fmt.Errorf("rule %q over %.0f attempts in %d draws is too much to work out: ask for a shorter horizon or fewer replicates", q.Rule, q.Horizon, cards)
	}
	q.tables = newTables(int(q.Horizon))
	p := Progress{Basis: ByCohort, N: trainees, Level: q.Level, Draws: make([][]float64, cards)}
	sound := SoundChances(seen, sampling.Seed)
	err = newcomers.NewTrainees(ctx, arm, cards, populationPeople, sampling, func(card int, people []cohort.Draw) error {
		share := q.shareMet(rec, people, sound(card), resample.Stream(sampling.Seed, "proficiency/carried", card))
		if card == 0 {
			p.Share = share
		} else {
			p.Draws[card-1] = share
		}
		return nil
	})
	if err != nil {
		return Progress{}, err
	}
	p.band()
	return p, nil
}

// sure is the chance from which on a person counts as having met the rule.
const sure = 1 - 1e-9

// shareMet is the share of people who have met the rule by each attempt. It is
// unknown, NaN, where a draw of the parameters is so far out that somebody has no
// curve.
func (q Question) shareMet(rec *stopping.Recursion, people []cohort.Draw, sound func(n float64) float64, r *rand.Rand) []float64 {
	out := make([]float64, int(q.Horizon))
	keeps := make([]float64, len(out))
	for i := range keeps {
		keeps[i] = sound(float64(i + 1))
	}
	c, w, carried := q.newCounter(), rec.Begin(), make([]float64, len(out))
	for _, person := range people {
		c.turnTo(passing{curve: person.Curve, noise: person.Noise(), scale: person.Spread})
		w.Reset()
		by := 0.0
		chance := c.chance
		if person.Carries() {
			way := way{measure: c.p, share: 1, of: &person, from: 1, carried: carried}
			person.Carried(r, 1, carried)
			chance = func(n int) float64 { return way.given(q, float64(n)) }
		}
		for i := range out {
			if by < sure {
				by = w.Step(keeps[i] * chance(i+1))
			}
			out[i] += person.Weight * by
		}
	}
	return out
}

// band fills the limits from the alternatives.
func (p *Progress) band() {
	p.Lower, p.Upper = make([]float64, len(p.Share)), make([]float64, len(p.Share))
	for n := range p.Share {
		iv := p.interval(func(share []float64) float64 { return share[n] })
		p.Lower[n], p.Upper[n] = iv.Lower, iv.Upper
	}
}

// Together is the progress of a group that mixes several in the proportions of
// their weights, draw by draw; all rest on the same cohort.
func Together(parts []Progress, weights []float64) Progress {
	total := 0.0
	for _, w := range weights {
		total += w
	}
	mix := func(of func(Progress) []float64) []float64 {
		out := make([]float64, len(parts[0].Share))
		for k, part := range parts {
			for n, v := range of(part) {
				out[n] += v * weights[k] / total
			}
		}
		return out
	}
	p := parts[0]
	p.Share = mix(func(part Progress) []float64 { return part.Share })
	p.Draws = make([][]float64, len(parts[0].Draws))
	for s := range p.Draws {
		p.Draws[s] = mix(func(part Progress) []float64 { return part.Draws[s] })
	}
	p.band()
	return p
}

// At is the share by attempt n: NaN beyond what is known, unless everybody is
// there. As observed everybody is there only where every trainee was seen to meet the
// rule: an estimate of 1 that leaves out some who were not followed so far says
// nothing of later attempts.
func (p Progress) At(n int) float64 { return p.shareAt(p.Share, n) }

// shareAt reads the share by attempt n off the estimate or one of the alternatives.
func (p Progress) shareAt(share []float64, n int) float64 {
	switch last := len(share); {
	case n < 1:
		return 0
	case n <= last:
		return share[n-1]
	case last == 0, p.observed != nil && p.Met < p.N:
		return math.NaN()
	case share[last-1] > 1-1e-12:
		return 1
	}
	return math.NaN()
}

// Failed counts the alternatives without a number: draws of the parameters so far out
// that somebody has no curve.
func (p Progress) Failed() int {
	n := 0
	for _, d := range p.Draws {
		if len(d) > 0 && math.IsNaN(d[len(d)-1]) {
			n++
		}
	}
	return n
}

// Limits are those of the share by attempt n.
func (p Progress) Limits(n int) (lower, upper float64) {
	switch last := len(p.Share); {
	case n < 1:
		return 0, 0
	case n <= last:
		return p.Lower[n-1], p.Upper[n-1]
	case last > 0 && !math.IsNaN(p.At(n)):
		return p.Lower[last-1], p.Upper[last-1]
	}
	return math.NaN(), math.NaN()
}

// interval reads a quantity off the alternatives. Bootstrap samples are too
// narrow for few trainees, which the expanded level makes good.
func (p Progress) interval(of func(share []float64) float64) resample.Interval {
	values := make([]float64, len(p.Draws))
	for i, d := range p.Draws {
		values[i] = of(d)
	}
	level := p.Level
	if n := float64(p.N); p.observed != nil && n > 1 {
		level = resample.ExpandedLevel(level, n-1, math.Sqrt(n/(n-1)))
	}
	return resample.PercentileInterval(values, level)
}

// firstBy is the first attempt by which the share is reached; +Inf when it is
// not.
func firstBy(shares []float64, share float64) float64 {
	if len(shares) > 0 && math.IsNaN(shares[len(shares)-1]) {
		return math.NaN()
	}
	n, _ := slices.BinarySearchFunc(shares, share-1e-12, func(v, want float64) int {
		if v < want {
			return -1
		}
		return 1
	})
	if n == len(shares) {
		return math.Inf(1)
	}
	return float64(n + 1)
}
