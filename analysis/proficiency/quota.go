package proficiency

import (
	"math"
	"slices"

	"tyro/analysis"
	"tyro/analysis/resample"
	"tyro/analysis/survival"
)

// QuotaShares are the shares of trainees that quotas are given for unasked.
func QuotaShares() []float64 { return []float64{0.5, 0.8, 0.9} }

// A Quota is the attempts by which a share of trainees has met the rule, with its
// interval: the number to schedule. +Inf means not within what is known, and a
// limit may be known where the estimate is not. Trainees who never meet the rule
// are among those of whom the share is taken.
type Quota struct {
	Share                  float64
	Attempts, Lower, Upper float64
	// Largest is the share that has met the rule by the last attempt known: no
	// larger share has a quota.
	Largest float64
}

// Quota finds the attempts for a share. As observed: the quantile of the
// product-limit estimate, with the attempts at which the limits of the share hold it
// (Brookmeyer and Crowley, 1982, Biometrics 38, 29-41). Attempts are whole, so the
// true share steps across the one asked for between two attempts; the limits are
// therefore looked at half way between an attempt and the one before. By the
// cohort's curve: the first attempt at which the expected share is reached, with
// percentiles of the same over draws of the population's parameters.
func (p Progress) Quota(share float64) Quota {
	q := Quota{Share: share}
	if p.observed != nil {
		q.Attempts, q.Largest = math.Ceil(p.observed.Quantile(share).Estimate), p.observed.LargestShare()
		q.Lower, q.Upper = p.held(share)
		q.Lower, q.Upper = math.Min(q.Lower, q.Attempts), math.Max(q.Upper, q.Attempts)
		return q
	}
	q.Attempts, q.Largest = firstBy(p.Share, share), p.Share[len(p.Share)-1]
	iv := p.interval(func(shares []float64) float64 { return firstBy(shares, share) })
	q.Lower, q.Upper = math.Floor(iv.Lower), math.Ceil(iv.Upper)
	return q
}

// held are the first and the last attempt at whose half step the limits of the
// share hold it; +Inf where they still do after the last attempt seen.
func (p Progress) held(share float64) (first, last float64) {
	first, last = math.Inf(1), 0
	below, above := 0.0, p.upperAtStart
	for n := range p.Share {
		if (above+p.Upper[n])/2 >= share && math.IsInf(first, 1) {
			first = float64(n + 1)
		}
		if (below+p.Lower[n])/2 < share {
			last = float64(n + 1)
		}
		below, above = p.Lower[n], p.Upper[n]
	}
	if below < share {
		last = math.Inf(1)
	}
	return first, last
}

// A Tolerance is the statement that, with the confidence given, at least a share
// of all such trainees have met the rule by an attempt.
type Tolerance struct {
	Share, Confidence float64
	Attempts          float64 // +Inf: what is known does not support the statement for any attempt
	Claimed           float64 // the share that can be claimed: by Attempts, or the largest
	Needed            int     // as observed: fewest trainees from which it can be made at all
}

// Tolerance finds the smallest attempt for which the statement can be made. As
// observed see [survival.Curve.Tolerance]; by the cohort's curve it is the first
// attempt at which the one-sided lower limit of the share reaches it. A confidence 0
// means 0.95; where it or the share is outside of 0 to 1 nothing is known.
func (p Progress) Tolerance(share, confidence float64) Tolerance {
	t := Tolerance{Share: share, Confidence: confidence, Attempts: math.Inf(1)}
	confidence, err := analysis.Level(confidence)
	if err != nil || !(share > 0 && share < 1) {
		t.Attempts, t.Claimed = math.NaN(), math.NaN()
		return t
	}
	t.Confidence = confidence
	if p.observed != nil {
		t.Attempts, t.Claimed = p.observed.Tolerance(share, confidence)
		t.Attempts, t.Needed = math.Ceil(t.Attempts), survival.PeopleNeeded(share, confidence)
		return t
	}
	for n := range p.Share {
		if t.Claimed = p.lowerLimit(n, confidence); t.Claimed >= share {
			t.Attempts = float64(n + 1)
			break
		}
	}
	return t
}

// lowerLimit is the one-sided limit, by the cohort's curve, of the share that has
// met the rule by attempt n + 1.
func (p Progress) lowerLimit(n int, confidence float64) float64 {
	values := make([]float64, len(p.Draws))
	for i, d := range p.Draws {
		values[i] = d[n]
	}
	if resample.PercentileInterval(values, 0).Refused() {
		return math.NaN()
	}
	values = slices.DeleteFunc(values, math.IsNaN)
	slices.Sort(values)
	return resample.Quantile(values, 1-confidence)
}
