package plan

import (
	"math"
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"tyro/analysis"
	"tyro/analysis/practice"
)

// HardFails is the name of the event that ends an attempt without a response.
const HardFails = "hard-fails"

// An Event is what befalls attempts: an error that is counted, or a hard fail. How often
// falls with practice as a power of the attempt's number; trainees differ in it by a factor
// of their own, and attempts by another, both lognormal with mean 1.
type Event struct {
	Name string `json:"name"` // of the count, or [HardFails]
	// Rate is the mean number in a first attempt, by arm; of hard fails the chance.
	Rate      []analysis.Number `json:"rate"`
	Fall      float64           `json:"fall"`       // in attempt n it is Rate·n^−Fall
	TraineeSD float64           `json:"trainee_sd"` // of the logarithms of trainees' factors
	AttemptSD float64           `json:"attempt_sd"` // of those of attempts; hard fails have none
	AtMost    analysis.Number   `json:"at_most"`    // that a pass may have; null: no limit
}

// limited reports whether too many of the event keep an attempt from passing.
func (e Event) limited() bool { return !math.IsNaN(float64(e.AtMost)) }

// check refuses what cannot befall anybody.
func (e Event) check(arms int) error {
	switch {
	case e.Name == "":
		return refuse("an error without a name")
	case len(e.Rate) != arms:
		return refuse("%s: %d rates for %d arms", e.Name, len(e.Rate), arms)
	case math.IsNaN(e.Fall) || math.Abs(e.Fall) > 10:
		return refuse("%s: a fall of %v; expected -10 to 10", e.Name, e.Fall)
	case !(e.TraineeSD >= 0 && e.TraineeSD <= 10) || !(e.AttemptSD >= 0 && e.AttemptSD <= 10):
		return refuse("%s: standard deviations of %v and %v; expected 0 to 10", e.Name, e.TraineeSD, e.AttemptSD)
	case e.Name == HardFails && (e.limited() || e.AttemptSD > 0):
		return refuse("%s: an attempt that failed passes no standard, and has no limit", e.Name)
	case e.limited() && !(e.AtMost >= 0):
		return refuse("%s: a pass with at most %v", e.Name, float64(e.AtMost))
	}
	for _, v := range e.Rate {
		if most := e.most(); !(v >= 0 && float64(v) <= most) {
			return refuse("%s: %v in a first attempt; expected 0 to %g", e.Name, float64(v), most)
		}
	}
	return nil
}

// most is the largest rate that there is.
func (e Event) most() float64 {
	if e.Name == HardFails {
		return 1
	}
	return 1e5
}

// own draws a trainee's factor.
func (e Event) own(r *rand.Rand) float64 { return factor(r, e.TraineeSD) }

// factor is lognormal with mean 1.
func factor(r *rand.Rand, sd float64) float64 {
	if sd == 0 {
		return 1
	}
	return math.Exp(sd*r.NormFloat64() - sd*sd/2)
}

// in is how many of the event befall attempt n of a trainee.
func (e Event) in(n float64, arm int, own float64, r *rand.Rand) float64 {
	mean := float64(e.Rate[arm]) * own * math.Pow(n, -e.Fall)
	if e.Name == HardFails {
		if r.Float64() < mean {
			return 1
		}
		return 0
	}
	mean *= factor(r, e.AttemptSD)
	if !(mean > 0) {
		return 0
	}
	return distuv.Poisson{Lambda: math.Min(mean, largestResponse), Src: r}.Rand()
}

// befall gives a trainee's attempts their errors and hard fails.
func (c *course) befall(p *practice.Trainee, r *rand.Rand) {
	arm := slices.Index(c.People.Arms, p.Arm)
	for _, e := range c.Events {
		own := e.own(r)
		for i := range p.Attempts {
			a := &p.Attempts[i]
			n := e.in(a.Number, arm, own, r)
			switch {
			case e.Name != HardFails:
				a.Errors = append(a.Errors, n)
				a.Clean = a.Clean && !(e.limited() && n > float64(e.AtMost))
			case n > 0:
				a.Outcome, a.Response, a.Censored = practice.Failed, math.NaN(), false
			}
		}
	}
}

// event is the event that a contrast is about; nil where it is about none.
func (c *Course) event(contrast string) *Event {
	for i := range c.Events {
		if c.Events[i].Name == contrast {
			return &c.Events[i]
		}
	}
	return nil
}

// counts are the names of the errors that are counted, and how many a pass may have.
func (c *Course) counts() (names []string, atMost map[string]float64) {
	atMost = map[string]float64{}
	for _, e := range c.Events {
		if e.Name == HardFails {
			continue
		}
		names = append(names, e.Name)
		if e.limited() {
			atMost[e.Name] = float64(e.AtMost)
		}
	}
	return names, atMost
}

// ratio is the k-th arm's rate over the reference arm's; NaN where the reference has none,
// or where chances may be cut off at 1.
func (e Event) ratio(k int) float64 {
	a, b := float64(e.Rate[0]), float64(e.Rate[k])
	const nearlyAll = 4 // standard deviations
	cut := e.Name == HardFails && math.Max(a, b)*math.Exp(nearlyAll*e.TraineeSD) > 1
	if !(a > 0) || cut || e.Name == HardFails && e.Fall < 0 {
		return math.NaN()
	}
	return b / a
}
