package proficiency

import (
	"context"

	"tyro/analysis/cohort"
	"tyro/analysis/practice"
	"tyro/analysis/resample"
)

// waysACard is how many truths about a trainee are followed under each draw of the cohort's
// parameters.
const waysACard = 4

// MetByCard says, for every record, the chance that the rule is met by attempt Last+1,
// Last+2, … up to the attempt last, under each of several equally likely draws of the
// cohort's parameters: out[record][card][attempt]. Cards are the same for all records, so
// that what the cohort leaves open can be told from what is a trainee's own luck. A card
// under which a trainee's attempts are not possible is nil.
func (p *Pooled) MetByCard(ctx context.Context, records []practice.Trainee, last int, sampling resample.Sampling) ([][][]float64, error) {
	sampling.Progress = nil
	known, err := p.posteriors(ctx, records, sampling)
	if err != nil {
		return nil, err
	}
	out := make([][][]float64, len(records))
	err = resample.Each(ctx, len(records), sampling, func() func(int) error {
		return func(i int) error {
			var err error
			out[i], err = p.byCard(records, known, i, last, sampling.Seed)
			return err
		}
	})
	return out, err
}

func (p *Pooled) byCard(records []practice.Trainee, known knowledge, i, last int, seed uint64) ([][]float64, error) {
	t := records[i]
	r := resample.Stream(seed, "pooled by card "+t.ID, len(t.Counted()))
	var ways []way
	var cards []int
	draws := known.measure[i].Draws
	for from := 0; from < len(draws); {
		to, sum := from, 0.0
		for ; to < len(draws) && draws[to].Card == draws[from].Card; to++ {
			sum += draws[to].Weight
		}
		own := append([]cohort.Draw(nil), draws[from:to]...)
		for k := range own {
			own[k].Weight /= sum
		}
		for _, d := range deal(own, waysACard, r) {
			ways = append(ways, way{measure: passing{curve: d.Curve, noise: d.Noise(), scale: d.Spread}, share: 1})
			cards = append(cards, d.Card)
		}
		from = to
	}
	p.clean.attach(ways, known.clean, i, r)
	p.sound.attach(ways, known.sound, i, r)

	attempts, passes := t.Numbers(), t.Passes(p.question.Standard)
	seen := *p.rec.Begin()
	for _, passed := range passes {
		seen.Step(zeroOne(passed))
	}
	before := 0
	if n := len(attempts); n > 0 {
		before = int(attempts[n-1])
	}
	q := p.question
	q.Horizon = float64(last)
	out := make([][]float64, cards[len(cards)-1]+1)
	c, ahead := q.newOutlook(), p.rec.Begin()
	for j, w := range ways {
		if out[cards[j]] == nil {
			out[cards[j]] = make([]float64, max(0, last-before))
		}
		c.under(w)
		ahead.Resume(&seen)
		if err := c.metBy(ahead, out[cards[j]], last, 1./waysACard); err != nil {
			return nil, err
		}
	}
	return out, nil
}
