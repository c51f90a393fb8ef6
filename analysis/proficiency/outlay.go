package proficiency

import (
	"math"

	"tyro/analysis/practice"
)

// An Estimate is a number with its interval; NaN where it is not known.
type Estimate struct{ Value, Lower, Upper float64 }

// An Outlay is what scheduling a number of attempts brings and costs for a group
// of trainees: expected numbers, about which a single group will differ by
// chance. Two ways to spend the attempts: practice stops as soon as a trainee has
// met the rule, or everybody makes all of them.
type Outlay struct {
	Attempts, Trainees int
	Met                Estimate // share who have met the rule by then
	Used               Estimate // mean attempts made by a trainee when practice stops at the rule
	Stopping           Spent    // for all trainees, when practice stops at the rule
	Everybody          Spent    // for all trainees, when everybody makes all attempts
	// MoreForHalf is how many attempts more it takes until half of those not there
	// have met the rule, and NeverMet the share of all trainees who have not at
	// the last attempt known. NeverMet is NaN where the estimate says nobody although
	// some trainees were last seen without having met the rule.
	MoreForHalf, NeverMet float64
}

// Spent is time and cost of all trainees together. PerMet divides the cost of
// all, those who never meet the rule included, by the trainees who have met it.
type Spent struct {
	LabHours, ExaminerHours, Consumables, Cost, PerMet Estimate
}

// AllButSome reports whether the estimate reaches everybody although some trainees
// were last seen without having met the rule: all who were still followed met it.
func (p Progress) AllButSome() bool {
	last := len(p.Share)
	return p.observed != nil && p.Met < p.N && last > 0 && p.Share[last-1] > 1-1e-12
}

// used is the mean number of attempts made up to n when practice stops at the
// rule: the area under the share still practising (the restricted mean).
func (p Progress) used(shares []float64, n int) float64 {
	sum := 0.0
	for k := range min(n, len(shares)+1) {
		sum += 1 - p.shareAt(shares, k)
	}
	if n > len(shares)+1 { // nobody is left, or nothing is known
		sum += 1 - p.shareAt(shares, n)
	}
	return sum
}

// Outlay works out a schedule of so many attempts for so many trainees. Numbers
// are NaN where the progress is not known so far.
func (p Progress) Outlay(c practice.Costs, attempts, trainees int) Outlay {
	o := Outlay{Attempts: attempts, Trainees: trainees}
	o.Met.Value = p.At(attempts)
	o.Met.Lower, o.Met.Upper = p.Limits(attempts)
	o.Used = p.estimate(func(shares []float64) float64 { return p.used(shares, attempts) })
	o.Stopping = p.spent(c, trainees, func(shares []float64) float64 { return p.used(shares, attempts) }, attempts)
	o.Everybody = p.spent(c, trainees, func([]float64) float64 { return float64(attempts) }, attempts)
	o.MoreForHalf, o.NeverMet = math.NaN(), math.NaN()
	if len(p.Share) > 0 {
		o.NeverMet = 1 - p.Share[len(p.Share)-1]
	}
	if p.AllButSome() {
		o.NeverMet = math.NaN()
	}
	if left := 1 - o.Met.Value; left > 0 {
		o.MoreForHalf = firstBy(p.Share, o.Met.Value+left/2) - float64(attempts)
	}
	return o
}

// spent multiplies the attempts made, estimated and in every alternative.
func (p Progress) spent(c practice.Costs, trainees int, made func(shares []float64) float64, attempts int) Spent {
	n := float64(trainees)
	times := func(factor float64) Estimate {
		return p.estimate(func(shares []float64) float64 { return n * made(shares) * factor })
	}
	cost := func(shares []float64) float64 {
		if !c.Priced() {
			return math.NaN()
		}
		return n * (c.PerTrainee + made(shares)*c.PerAttempt())
	}
	return Spent{
		LabHours: times(c.LabMinutes / 60), ExaminerHours: times(c.ExaminerMinutes / 60), Consumables: times(c.Consumables),
		Cost:   p.estimate(cost),
		PerMet: p.estimate(func(shares []float64) float64 { return cost(shares) / (n * p.shareAt(shares, attempts)) }),
	}
}

// estimate is a quantity of the shares with its interval.
func (p Progress) estimate(of func(shares []float64) float64) Estimate {
	v := of(p.Share)
	if math.IsNaN(v) {
		return Estimate{v, v, v}
	}
	iv := p.interval(of)
	return Estimate{v, iv.Lower, iv.Upper}
}

// A Reduction is what fewer attempts than scheduled change for the whole group.
type Reduction struct {
	Fewer, Attempts    int      // attempts less, and those left
	FewerMet           Estimate // trainees fewer who have met the rule
	NotMet             Estimate // share then without
	Saved              Estimate // when practice stops at the rule
	SavedByEverybody   float64  // when everybody makes all attempts
	HoursSaved         Estimate // of lab time, when practice stops at the rule
	HoursSavedByMaking float64  // of lab time, when everybody makes all attempts
}

// Reduce compares the schedule with one of fewer attempts, alternative by
// alternative, so that the interval is that of the difference.
func (p Progress) Reduce(c practice.Costs, attempts, fewer, trainees int) Reduction {
	left, n := max(attempts-fewer, 0), float64(trainees)
	less := float64(attempts - left)
	lower, upper := p.Limits(left)
	saved := func(shares []float64) float64 { return n * (p.used(shares, attempts) - p.used(shares, left)) }
	price := c.PerAttempt()
	if !c.Priced() {
		price = math.NaN()
	}
	return Reduction{
		Fewer: attempts - left, Attempts: left,
		FewerMet: p.estimate(func(shares []float64) float64 {
			return n * (p.shareAt(shares, attempts) - p.shareAt(shares, left))
		}),
		NotMet:             Estimate{1 - p.At(left), 1 - upper, 1 - lower},
		Saved:              p.estimate(func(shares []float64) float64 { return saved(shares) * price }),
		SavedByEverybody:   n * less * price,
		HoursSaved:         p.estimate(func(shares []float64) float64 { return saved(shares) * c.LabMinutes / 60 }),
		HoursSavedByMaking: n * less * c.LabMinutes / 60,
	}
}
