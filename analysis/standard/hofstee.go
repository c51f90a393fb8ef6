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
	for _, v := range []float64{known[0], judges[0].LowestCut, judges[0].HighestCut} {
		if math.Abs(v)/r.Step > 1e12 {
			return c, fmt.Errorf("a step of %v is too small beside %v", r.Step, v)
		}
	}
	h := newHofstee(known, judges, r)
	c.Box, c.Curve = h.box, h.curve()
	if h.hard > h.easy && r.Step > (h.hard-h.easy)/4 {
		c.warn("wide-step", fmt.Sprintf("the curve of failing is taken at multiples of %g, and the judges accept standards from %.4g to %.4g on average: ask for a smaller distance between possible standards, such as --step %g", r.Step, c.Box.LowestCut, c.Box.HighestCut, math.Pow(10, math.Floor(math.Log10((h.hard-h.easy)/4)))))
	}
	if c.Box.HighestFail > 0 && !slices.ContainsFunc(judges, func(b Bound) bool { return b.HighestFail > 1 }) {
		c.warn("failing-as-shares", "no judge accepts that more than 1 % of the trainees fail; where these are shares, write them as percentages, 30 for 0.3")
	}
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

// near is the share of a step below which two standards are the same: 57 steps of 0.01 are
// 0.57, whatever rounding makes of them.
const near = 1e-9

// multiple is the last multiple of the step at or below a standard.
func (h hofstee) multiple(c float64) float64 { return math.Floor(c/h.step + near) }

// failing is the percentage strictly worse than a multiple of the step.
func (h hofstee) failing(k float64) float64 {
	below, _ := slices.BinarySearch(h.values, (k-near)*h.step)
	return 100 * float64(below) / float64(len(h.values))
}

// joined is the curve: failing at multiples of the step, straight between.
func (h hofstee) joined(c float64) float64 {
	k := h.multiple(c)
	a, b := h.failing(k), h.failing(k+1)
	return a + (b-a)*math.Max(0, c/h.step-k)
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
	for k := h.multiple(a) + 1; a < h.hard; k++ {
		b := math.Min(h.hard, k*h.step)
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
	for k := math.Ceil(h.easy/h.step - near); k*h.step <= h.hard+near*h.step; k++ {
		if h.failing(k) >= h.line(k*h.step)-near {
			return h.sign * k * h.step
		}
	}
	return math.NaN()
}

// curve lists failing around the box and the values, in the given direction.
func (h hofstee) curve() []Failing {
	from := h.multiple(math.Min(h.values[0], h.easy))
	to := h.multiple(math.Max(h.values[len(h.values)-1], h.hard)) + 1
	var out []Failing
	for k := from; k <= to; k++ {
		out = append(out, Failing{h.sign * k * h.step, h.failing(k)})
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
