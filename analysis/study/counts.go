package study

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"tyro/analysis/practice"
	"tyro/analysis/proficiency"
)

// An ArmCount counts an arm's attempts by outcome.
type ArmCount struct {
	Arm                                      string
	Trainees                                 int
	Done, Timeouts, Failed, Void, Unmeasured int
	Fewest, Most                             float64 // attempts a trainee, void ones apart; NaN without trainees
	Best, Median, Worst                      float64 // of exact responses; NaN without
	Behind                                   Behind
}

// Behind counts an arm's trainees by the outcomes that their attempts had.
type Behind map[Outcomes]int

// Outcomes are those that a trainee's attempts had, attempts without a measure among the done.
type Outcomes struct{ Done, Timeouts, Failed, Void bool }

// Attempts is the number of all attempts.
func (a ArmCount) Attempts() int { return a.Done + a.Timeouts + a.Failed + a.Void + a.Unmeasured }

// Counts says what was read, arm by arm, and whose attempts are too few to project.
func (s *Study) Counts() ([]ArmCount, Warnings) {
	t := NewTally(s.Task.Lower)
	for _, p := range s.Trainees {
		t.Add(p)
	}
	return t.Counts(s.Arms)
}

// A Tally counts attempts trainee by trainee, so that no more than one of them has to be
// at hand.
type Tally struct {
	lower bool
	arms  []string // as first seen
	of    map[string]*armTally
	short []shortSeries
}

// armTally is what is counted of one arm.
type armTally struct {
	ArmCount
	exact []float64
}

// A shortSeries is a trainee with too few attempts for a projection.
type shortSeries struct {
	id string
	n  int
}

// NewTally counts attempts of a measure of which lower is better, or higher.
func NewTally(lower bool) *Tally { return &Tally{lower: lower, of: map[string]*armTally{}} }

// Add counts a trainee's attempts.
func (t *Tally) Add(p practice.Trainee) {
	arm, ok := t.of[p.Arm]
	if !ok {
		nan := math.NaN()
		arm = &armTally{ArmCount: ArmCount{Arm: p.Arm, Fewest: nan, Most: nan, Best: nan, Median: nan, Worst: nan, Behind: Behind{}}}
		t.of[p.Arm], t.arms = arm, append(t.arms, p.Arm)
	}
	counted, measured := 0, 0
	var had Outcomes
	for i := range p.Attempts {
		a := &p.Attempts[i]
		if arm.add(a, &had); a.Outcome != practice.Void {
			counted++
		}
		if a.Measured() {
			measured++
		}
	}
	made := float64(counted)
	if arm.Trainees == 0 {
		arm.Fewest, arm.Most = made, made
	}
	arm.Fewest, arm.Most = math.Min(arm.Fewest, made), math.Max(arm.Most, made)
	arm.Trainees++
	arm.Behind[had]++
	if measured < proficiency.MinAttempts {
		t.short = append(t.short, shortSeries{p.ID, measured})
	}
}

func (c *armTally) add(a *practice.Attempt, had *Outcomes) {
	switch {
	case a.Outcome == practice.Void:
		c.Void++
		had.Void = true
	case a.Outcome == practice.Failed:
		c.Failed++
		had.Failed = true
	case !a.Measured():
		c.Unmeasured++
		had.Done = true
	case a.Censored:
		c.Timeouts++
		had.Timeouts = true
	default:
		c.Done++
		had.Done = true
		c.exact = append(c.exact, a.Response)
	}
}

// mostShort is how many trainees with too few attempts are named one by one.
const mostShort = 20

// Counts are the arms in the order given, then as first seen, and whose attempts are too
// few to project.
func (t *Tally) Counts(order []string) ([]ArmCount, Warnings) {
	var out []ArmCount
	var w Warnings
	arms := slices.Clone(order)
	for _, a := range t.arms {
		if !slices.Contains(arms, a) {
			arms = append(arms, a)
		}
	}
	for _, name := range arms {
		arm, ok := t.of[name]
		if !ok {
			continue
		}
		c := arm.ArmCount
		if len(arm.exact) > 0 {
			slices.Sort(arm.exact)
			c.Best, c.Worst, c.Median = arm.exact[0], arm.exact[len(arm.exact)-1], middle(arm.exact)
			if !t.lower {
				c.Best, c.Worst = c.Worst, c.Best
			}
		}
		out = append(out, c)
	}
	w.addShort(t.short)
	return out, w
}

// addShort warns, once, of trainees whose attempts are too few to project from.
func (w *Warnings) addShort(all []shortSeries) {
	if len(all) == 0 {
		return
	}
	who := "1 trainee has"
	if len(all) > 1 {
		who = fmt.Sprintf("%d trainees have", len(all))
	}
	var named []string
	for _, s := range all[:min(len(all), mostShort)] {
		named = append(named, fmt.Sprintf("%s (%d)", s.id, s.n))
	}
	if more := len(all) - mostShort; more > 0 {
		named = append(named, fmt.Sprintf("%d more", more))
	}
	w.Add("short-series", who+" too few usable attempts for a projection: "+strings.Join(named, ", "))
}

// middle is the median of sorted values.
func middle(sorted []float64) float64 {
	n := len(sorted)
	return sorted[(n-1)/2]/2 + sorted[n/2]/2
}
