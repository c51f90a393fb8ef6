package cohort

import (
	"context"
	"math"

	"tyro/analysis/resample"
)

// An Unusual says how a trainee's attempts stand among those of trainees drawn from the fit,
// who make the same attempts: the share of them, the trainee counted in, who lie at least as
// far out. The cohort's parameters are drawn anew each time, so that what is not known of the
// cohort does not make a trainee look strange (posterior predictive check; Gelman, Meng and
// Stern, 1996, Statistica Sinica 6, 733-760).
type Unusual struct {
	// Curve is of how far the trainee's most likely curve lies from the middle trainee's, in
	// spreads between trainees: Σv² of the standardised deviations v.
	Curve float64
	// Scatter is of how badly the attempts fit that curve: the loss there.
	Scatter float64
	Drawn   int // trainees drawn; 0 without attempts, with shares that are NaN
}

// Far reports whether either share is at most [FarOut].
func (u Unusual) Far() bool { return u.Curve <= FarOut || u.Scatter <= FarOut }

// FarOut is the share of drawn trainees from which attempts count as far out.
const FarOut = 0.001

// The trainees drawn: fewDrawn where as many as stillPlain of them lie as far out, which is
// plain enough, else mostDrawn.
const (
	fewDrawn   = 199
	stillPlain = 3
	mostDrawn  = 1999
)

// Unusual looks at every trainee given, members or not.
func (c *Cohort) Unusual(ctx context.Context, ts []Trainee, sampling resample.Sampling) ([]Unusual, error) {
	cards := c.deal(sampling.Seed, "cohort parameters", newcomerCards)
	out := make([]Unusual, len(ts))
	sampling.Progress = nil
	err := resample.Each(ctx, len(ts), sampling, func() func(int) error {
		return func(i int) error {
			var err error
			out[i], err = c.unusual(ctx, ts[i], cards, sampling.Seed)
			return err
		}
	})
	return out, err
}

func (c *Cohort) unusual(ctx context.Context, t Trainee, cards deck, seed uint64) (Unusual, error) {
	t = t.sorted()
	rec, err := c.m.record(t)
	if err != nil || len(t.Attempt) == 0 {
		return Unusual{Curve: math.NaN(), Scatter: math.NaN()}, err
	}
	limit := t.limits()
	observed := make([]out, len(cards))
	for s, theta := range cards {
		observed[s] = c.m.at(&rec, theta).farOut()
	}
	var u Unusual
	curve, scatter := 0, 0
	for u.Drawn < mostDrawn && (u.Drawn < fewDrawn || min(curve, scatter) < stillPlain) {
		if err := ctx.Err(); err != nil {
			return u, err
		}
		s := u.Drawn % len(cards)
		r := resample.Stream(seed, "unusual "+t.ID, u.Drawn)
		eta, l := c.m.eta(&rec, cards[s]), c.m.factor(cards[s])
		var v vector
		for a := range c.m.random {
			v[a] = r.NormFloat64()
		}
		c.m.addDeviation(&eta, &l, &v)
		drawn, err := c.m.record(c.m.draw(t, &eta, limit, r))
		u.Drawn++
		if err != nil { // a curve whose responses are no numbers lies out at least as far
			curve, scatter = curve+1, scatter+1
			continue
		}
		far := c.m.at(&drawn, cards[s]).farOut()
		if !(far.curve < observed[s].curve) {
			curve++
		}
		if !(far.scatter < observed[s].scatter) {
			scatter++
		}
	}
	u.Curve, u.Scatter = float64(curve+1)/float64(u.Drawn+1), float64(scatter+1)/float64(u.Drawn+1)
	return u, nil
}

// An out is how far out attempts lie under one draw of the cohort's parameters; infinite
// where no curve can be found for them.
type out struct{ curve, scatter float64 }

func (p *placed) farOut() out {
	top := p.seek(vector{})
	if !top.ok {
		return out{math.Inf(1), math.Inf(1)}
	}
	size := norm2(&top.v, len(p.m.random))
	return out{size, top.value - size/2}
}

// limits are the response at which each attempt is censored: the one at which some were, or
// else each censored attempt's own; +Inf for none.
func (t Trainee) limits() func(j int) float64 {
	at := limitOf([]Trainee{t})
	return func(j int) float64 {
		switch {
		case !math.IsNaN(at):
			return at
		case t.Censored[j]:
			return t.Response[j]
		}
		return math.Inf(1)
	}
}
