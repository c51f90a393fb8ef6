package standard

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"tyro/analysis"
	"tyro/analysis/resample"
)

// A Bound is what one judge accepts: the lowest and highest standard, and the
// lowest and highest percentage of trainees failing.
type Bound struct{ LowestCut, HighestCut, LowestFail, HighestFail float64 }

// A Compromise is a standard where what judges accept meets what trainees do.
type Compromise struct {
	Estimate
	Box              Bound     // means over judges
	FailOnLine       float64   // percent failing read off the diagonal at the standard
	FailObserved     float64   // percent of trainees below the standard
	FirstWhole       float64   // first whole standard at or past the crossing of the step curve
	Curve            []Failing // the percentages failing, by standard
	Judges, Trainees int
}

// Failing is the percentage of trainees who fail at a standard.
type Failing struct{ Standard, Percent float64 }

// HofsteeRule says how the curve of failing is read.
type HofsteeRule struct {
	Lower bool
	Step  float64 // distance of the standards at which the curve is taken; 0 means 1
	Level float64 // 0 means 0.95
}

// Hofstee finds the compromise: the curve of percent failing against the
// standard, taken at multiples of the step and joined by straight lines, meets
// the diagonal of the box of the judges' mean bounds, which runs from the
// easiest standard with most failing to the hardest with fewest. Where the
// curve passes outside of the box there is no compromise. The interval is from
// a bootstrap of judges and trainees.
func Hofstee(ctx context.Context, values []float64, judges []Bound, r HofsteeRule, sampling resample.Sampling) (Compromise, error) {
	if r.Step == 0 {
		r.Step = 1
	}
	var err error
	if r.Level, err = analysis.Level(r.Level); err != nil {
		return Compromise{}, err
	}
	if !(r.Step > 0) {
		return Compromise{}, fmt.Errorf("a step of %v between standards: expected a number above 0", r.Step)
	}
	var known []float64
	for _, v := range values {
		if !math.IsNaN(v) {
			known = append(known, v)
		}
	}
	nan := math.NaN()
	c := Compromise{Estimate: unknown(len(known), r.Level), FailOnLine: nan, FailObserved: nan, FirstWhole: nan, Judges: len(judges), Trainees: len(known)}
	if len(known) == 0 || len(judges) == 0 {
		return c, errors.New("the compromise needs trainees' values and judges' bounds")
	}
	for j, b := range judges {
		if !(b.LowestCut <= b.HighestCut) || !(b.LowestFail <= b.HighestFail) || !(b.LowestFail >= 0 && b.HighestFail <= 100) {
			return c, fmt.Errorf("judge %d: standards from %v to %v, failing from %v to %v percent; expected each from low to high", j+1, b.LowestCut, b.HighestCut, b.LowestFail, b.HighestFail)
		}
	}
	if (span(known)+span([]float64{known[0], judges[0].LowestCut, judges[0].HighestCut}))/r.Step > 1e6 {
		return c, fmt.Errorf("a step of %v is too small for values over a range of %v", r.Step, span(known))
	}
	h := newHofstee(known, judges, r)
	c.Box, c.Curve = h.box, h.curve()
	var side string
	if c.Value, side = h.crossing(); math.IsNaN(c.Value) {
		c.warn("outside-box", "the curve of failing passes "+side+" the judges' box, so there is no compromise; they may want to reconsider their bounds")
		return c, nil
	}
	c.FailOnLine, c.FailObserved, c.FirstWhole = h.diagonal(c.Value), 100*(1-passing(known, c.Value, r.Lower)), h.firstStep()
	c.outsideBounds(judges)
	c.Interval = "bootstrap"
	return c, c.bootstrap(ctx, known, judges, r, sampling)
}

// outsideBounds tells where the compromise is not what the judges accept: the box is of their
// means, and its curve is joined by straight lines.
func (c *Compromise) outsideBounds(judges []Bound) {
	if c.FailObserved < c.Box.LowestFail || c.FailObserved > c.Box.HighestFail {
		c.warn("failing-outside-bounds", fmt.Sprintf("at this standard %.3g %% of the trainees fail, and the judges accept %.3g to %.3g %% on average", c.FailObserved, c.Box.LowestFail, c.Box.HighestFail))
	}
	outside := 0
	for _, b := range judges {
		if c.Value < b.LowestCut || c.Value > b.HighestCut {
			outside++
		}
	}
	if 2*outside > len(judges) {
		c.warn("standard-outside-bounds", fmt.Sprintf("the standard lies outside of what %d of %d judges accept, each taken alone", outside, len(judges)))
	}
}

func span(x []float64) float64 { s := sorted(x); return s[len(s)-1] - s[0] }

// A hofstee is the crossing problem with larger values better: for a measure
// where smaller ones are, values and standards change sign.
type hofstee struct {
	values     []float64 // in order
	box        Bound     // as the judges gave it
	easy, hard float64   // of the box, in the turned direction
	sign, step float64
}

func newHofstee(values []float64, judges []Bound, r HofsteeRule) hofstee {
	h := hofstee{sign: 1, step: r.Step}
	if r.Lower {
		h.sign = -1
	}
	for _, b := range judges {
		n := float64(len(judges))
		h.box.LowestCut += b.LowestCut / n
		h.box.HighestCut += b.HighestCut / n
		h.box.LowestFail += b.LowestFail / n
		h.box.HighestFail += b.HighestFail / n
	}
	h.easy, h.hard = h.box.LowestCut, h.box.HighestCut
	if r.Lower {
		h.easy, h.hard = -h.box.HighestCut, -h.box.LowestCut
	}
	for _, v := range values {
		h.values = append(h.values, h.sign*v)
	}
	slices.Sort(h.values)
	return h
}

// failing is the percentage strictly worse than a standard.
func (h hofstee) failing(c float64) float64 {
	below, _ := slices.BinarySearch(h.values, c)
	return 100 * float64(below) / float64(len(h.values))
}

// joined is the curve: failing at multiples of the step, straight between.
func (h hofstee) joined(c float64) float64 {
	from := math.Floor(c/h.step) * h.step
	a, b := h.failing(from), h.failing(from+h.step)
	return a + (b-a)*(c-from)/h.step
}

// diagonal is the line of the box, at a standard as given.
func (h hofstee) diagonal(standard float64) float64 { return h.line(h.sign * standard) }

func (h hofstee) line(c float64) float64 {
	if h.hard == h.easy {
		return h.box.HighestFail
	}
	return h.box.HighestFail + (h.box.LowestFail-h.box.HighestFail)*(c-h.easy)/(h.hard-h.easy)
}

// crossing is where the curve, which rises, meets the line, which falls; NaN
// and the side on which it passes where it does not inside the box.
func (h hofstee) crossing() (standard float64, side string) {
	above := func(c float64) float64 { return h.joined(c) - h.line(c) }
	switch {
	case above(h.easy) > 0:
		return math.NaN(), "above"
	case above(h.hard) < 0:
		return math.NaN(), "below"
	}
	a := h.easy
	for a < h.hard {
		b := math.Min(h.hard, (math.Floor(a/h.step)+1)*h.step)
		fa, fb := above(a), above(b)
		if fb >= 0 {
			if fb == fa {
				return h.sign * a, ""
			}
			return h.sign * (a + (b-a)*(-fa)/(fb-fa)), ""
		}
		a = b
	}
	return h.sign * h.hard, ""
}

// firstStep is the first multiple of the step in the box at which failing is on
// the line or above it.
func (h hofstee) firstStep() float64 {
	for c := math.Ceil(h.easy/h.step) * h.step; c <= h.hard; c += h.step {
		if h.failing(c) >= h.line(c) {
			return h.sign * c
		}
	}
	return math.NaN()
}

// curve lists failing around the box and the values, in the given direction.
func (h hofstee) curve() []Failing {
	from := math.Floor(math.Min(h.values[0], h.easy)/h.step) * h.step
	to := math.Max(h.values[len(h.values)-1], h.hard) + h.step
	var out []Failing
	for c := from; c <= to; c += h.step {
		out = append(out, Failing{h.sign * c, h.failing(c)})
	}
	return out
}

func (c *Compromise) bootstrap(ctx context.Context, values []float64, judges []Bound, r HofsteeRule, sampling resample.Sampling) error {
	reps, err := resample.Replicate(ctx, sampling, "standard/hofstee", func() func(*rand.Rand) float64 {
		return func(rnd *rand.Rand) float64 {
			v, b := make([]float64, len(values)), make([]Bound, len(judges))
			for i := range v {
				v[i] = values[rnd.IntN(len(values))]
			}
			for j := range b {
				b[j] = judges[rnd.IntN(len(judges))]
			}
			cut, _ := newHofstee(v, b, r).crossing()
			return cut
		}
	})
	if err != nil {
		return err
	}
	var usable []float64
	for _, v := range reps {
		if !math.IsNaN(v) {
			usable = append(usable, v)
		}
	}
	n := float64(min(len(values), len(judges)))
	level := c.Level
	if n > 1 {
		level = resample.ExpandedLevel(c.Level, n-1, math.Sqrt(n/(n-1)))
	}
	iv := resample.PercentileInterval(reps, level)
	if iv.Refused() {
		c.warn("interval-refused", fmt.Sprintf("in %d of %d bootstrap samples the curve passes outside of the box, too many for an interval", iv.Failed, iv.Failed+iv.Replicates))
		return nil
	}
	c.SE, c.Lower, c.Upper = sd(usable), iv.Lower, iv.Upper
	return nil
}
