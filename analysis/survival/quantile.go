package survival

import "math"

// A Quantile is a time with its limits; +Inf means not reached.
type Quantile struct{ Estimate, Lower, Upper float64 }

func noQuantile() Quantile { return Quantile{math.NaN(), math.NaN(), math.NaN()} }

// slack forgives rounding where a product of fractions should equal 1 − p.
const slack = 1e-12

// Quantile is the time by which a share p has had the event: the smallest time
// at which the estimate has fallen to 1 − p or below. Its limits are the ends
// of the set of times whose pointwise limits hold 1 − p, on the scale of the
// curve's band (Brookmeyer and Crowley, 1982; for the transformed bands Klein
// and Moeschberger, 2003, section 4.5).
func (c Curve) Quantile(p float64) Quantile {
	if c.Err != nil {
		return noQuantile()
	}
	q := Quantile{math.Inf(1), math.Inf(1), math.Inf(1)}
	for _, st := range c.Steps {
		if st.Survival <= 1-p+slack && math.IsInf(q.Estimate, 1) {
			q.Estimate = st.Time
		}
		if st.Lower <= 1-p+slack && math.IsInf(q.Lower, 1) {
			q.Lower = st.Time
		}
		if st.Upper <= 1-p+slack && math.IsInf(q.Upper, 1) {
			q.Upper = st.Time
		}
	}
	q.Lower = math.Min(q.Lower, q.Estimate)
	return q
}

// MidpointQuantile is [Curve.Quantile] by another convention: where a step
// function stands at 1 − p exactly for a while, the middle of that stretch. A
// quantile of attempts need then not be whole.
func (c Curve) MidpointQuantile(p float64) Quantile {
	if c.Err != nil {
		return noQuantile()
	}
	at := func(value func(Step) float64) float64 {
		hit := math.Inf(1)
		last := hit
		for _, st := range c.Steps {
			v := value(st)
			if v < 1-p-slack {
				if math.IsInf(hit, 1) {
					return st.Time
				}
				return (hit + st.Time) / 2
			}
			if v <= 1-p+slack && math.IsInf(hit, 1) {
				hit = st.Time
			}
			last = st.Time
		}
		if math.IsInf(hit, 1) {
			return hit
		}
		return (hit + last) / 2
	}
	q := Quantile{
		at(func(s Step) float64 { return s.Survival }),
		at(func(s Step) float64 { return s.Lower }),
		at(func(s Step) float64 { return s.Upper }),
	}
	q.Lower = math.Min(q.Lower, q.Estimate)
	return q
}

// LargestShare is the share that has had the event by the last time seen: no
// larger share has a quantile.
func (c Curve) LargestShare() float64 {
	if c.Err != nil {
		return math.NaN()
	}
	if len(c.Steps) == 0 {
		return 0
	}
	return 1 - c.Steps[len(c.Steps)-1].Survival
}
