package plan

import (
	"context"
	"math"
	"slices"

	"tyro/analysis"
	"tyro/analysis/practice"
	"tyro/analysis/resample"
)

// A Stage is where a simulated study failed.
type Stage string

// The stages, in the order in which a study goes through them.
const (
	StageAttempts Stage = "attempts" // nothing was seen that could be analysed
	StageFit      Stage = "fit"      // the trainees could not be fitted together
	StageContrast Stage = "contrast" // the fit shows no such number, such as a plateau
	StageInterval Stage = "interval" // there is a number without an interval
)

// Stages lists them in order.
func Stages() []Stage { return []Stage{StageAttempts, StageFit, StageContrast, StageInterval} }

// An Outcome is what one simulated study gave: a few numbers that JSON can hold.
type Outcome struct {
	Study    int             `json:"study"` // from 0
	Estimate analysis.Number `json:"estimate"`
	Lower    analysis.Number `json:"lower"`
	Upper    analysis.Number `json:"upper"`
	P        analysis.Number `json:"p"`
	Ratio    bool            `json:"ratio,omitempty"`
	Made     int             `json:"made"`             // attempts made by all trainees
	Failed   Stage           `json:"failed,omitempty"` // blank: it did not
}

// failed is an outcome without numbers; at a blank stage it has not failed.
func failed(at Stage, made int) Outcome {
	nan := analysis.Number(math.NaN())
	return Outcome{Estimate: nan, Lower: nan, Upper: nan, P: nan, Made: made, Failed: at}
}

// numbers are an outcome's; without an interval it has failed.
func numbers(estimate, lower, upper, p float64, ratio bool, made int) Outcome {
	if math.IsNaN(lower) || math.IsNaN(upper) {
		return failed(StageInterval, made)
	}
	return Outcome{Estimate: analysis.Number(estimate), Lower: analysis.Number(lower), Upper: analysis.Number(upper), P: analysis.Number(p), Ratio: ratio, Made: made}
}

// Width is how wide the interval is: the upper end less the lower, or over it for a
// ratio.
func (o Outcome) Width() float64 {
	if o.Ratio {
		return float64(o.Upper) / float64(o.Lower)
	}
	return float64(o.Upper - o.Lower)
}

// Simulate simulates the studies from ≤ i < to of a design. Where ctx ends first, the
// studies that were finished come with its error.
func Simulate(ctx context.Context, d Design, from, to int, s resample.Sampling) ([]Outcome, error) {
	q, err := d.ready()
	if err != nil {
		return nil, err
	}
	out, done := make([]Outcome, to-from), make([]bool, to-from)
	err = resample.Each(ctx, to-from, s, func() func(int) error {
		return func(i int) error {
			o, err := q.study(ctx, resample.Stream(s.Seed, d.purpose(), from+i))
			if err == nil {
				err = ctx.Err() // a study that was cut short has no outcome
			}
			if err != nil {
				return err
			}
			o.Study = from + i
			out[i], done[i] = o, true
			return nil
		}
	})
	kept := out[:0]
	for i := range out {
		if done[i] {
			kept = append(kept, out[i])
		}
	}
	if ctx.Err() != nil {
		err = ctx.Err()
	}
	return slices.Clip(kept), err
}

// Attempts are what is seen in one of the studies of a design of practice: the same that
// [Simulate] analyses, for other programs to analyse.
func Attempts(d Design, seed uint64, study int) ([]practice.Trainee, error) {
	q, err := d.ready()
	if err != nil {
		return nil, err
	}
	c, ok := q.(*course)
	if !ok {
		return nil, refuse("only studies of practice have attempts")
	}
	seen, err := c.draw(resample.Stream(seed, d.purpose(), study))
	return seen.trainees, err
}
