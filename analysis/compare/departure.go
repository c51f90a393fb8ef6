package compare

import (
	"context"
	"math"

	"tyro/analysis/resample"
)

// A Departure says how a contrast moves when trainees who were not seen to the end did
// worse than the comparison takes for granted (delta-adjusted pattern mixtures; Little
// and Rubin, 2002, Statistical Analysis with Missing Data, 2nd edition, section 15.4.4;
// the tipping point as in Yan, Lee and Li, 2009, Journal of Biopharmaceutical Statistics
// 19, 1085-1098).
type Departure struct {
	Measure, Arm, Reference string
	Worse                   string // the arm whose unseen trainees did worse
	Unseen                  int    // how many they are
	Ratio                   bool   // Tip is a factor rather than an amount
	// Tip is by how much worse, in the measure's unit or as a factor, they must have been
	// for the contrast to change what it says: from leaving it possible that the arms
	// are alike to excluding it, or the reverse. +Inf where nothing up to Tried changes it.
	Tip, Tried float64
	OpenBefore bool // whether the contrast as it stands leaves the arms alike possible
	// At are the contrast's numbers at a quarter, a half and all of Tried.
	At []Contrast
}

// Means is a method that compares the means of two arms.
type Means func(ctx context.Context, ref, arm Arm) (Contrast, error)

// Tipping looks for the departure at which a contrast of means changes what it says.
// unseen marks trainees of the arm named worse; worse is +1 where larger values are
// worse, −1 otherwise. On a logarithm (ratio) departures are factors. Departures of up
// to three standard deviations between trainees are tried. means is the method of the
// contrast; nil stands for [Shift].
func Tipping(ctx context.Context, measure string, ref, arm Arm, unseen []bool, inArm bool, direction, most float64, ratio bool, means Means, level float64, sampling resample.Sampling) (Departure, error) {
	d := Departure{Measure: measure, Arm: arm.Name, Reference: ref.Name, Worse: ref.Name, Ratio: ratio, Tip: math.Inf(1)}
	if inArm {
		d.Worse = arm.Name
	}
	for _, u := range unseen {
		if u {
			d.Unseen++
		}
	}
	moved := func(delta float64) (r, a Arm) {
		of := &ref
		if inArm {
			of = &arm
		}
		m := *of
		m.Values = append([]float64(nil), of.Values...)
		for i, u := range unseen {
			if u {
				m.Values[i] += direction * delta
			}
		}
		if inArm {
			return ref, m
		}
		return m, arm
	}
	open := func(delta float64) (known, open bool, err error) {
		r, a := moved(delta)
		var c Contrast
		if means != nil {
			c, err = means(ctx, r, a)
		} else {
			c, _, _, _, err = testShift(ctx, measure, r, a, level, sampling)
		}
		return !math.IsNaN(c.P), c.P > 1-c.Level, err
	}
	known, openNow, err := open(0)
	if err != nil || !known || d.Unseen == 0 {
		d.Tip = math.NaN()
		return d, err
	}
	d.OpenBefore = openNow
	if most == 0 {
		most = 3 * pooledSD(ref.Known(), arm.Known())
	}
	natural := func(delta float64) float64 {
		if ratio {
			return math.Exp(delta)
		}
		return delta
	}
	d.Tried = natural(most)
	const steps = 24
	last := 0.0
	for k := 1; k <= steps && math.IsInf(d.Tip, 1); k++ {
		delta := most * float64(k) / steps
		known, now, err := open(delta)
		if err != nil {
			return d, err
		}
		if known && now != d.OpenBefore {
			lo, hi := last, delta
			for range 12 {
				mid := (lo + hi) / 2
				_, m, err := open(mid)
				if err != nil {
					return d, err
				}
				if m != d.OpenBefore {
					hi = mid
				} else {
					lo = mid
				}
			}
			d.Tip = natural(hi)
		}
		last = delta
	}
	if means == nil {
		means = func(ctx context.Context, r, a Arm) (Contrast, error) {
			return Shift(ctx, measure, r, a, level, sampling)
		}
	}
	for _, share := range []float64{0.25, 0.5, 1} {
		r, a := moved(share * most)
		c, err := means(ctx, r, a)
		if err != nil {
			return d, err
		}
		if ratio {
			c = AsRatio(c)
		}
		d.At = append(d.At, c)
	}
	return d, nil
}
