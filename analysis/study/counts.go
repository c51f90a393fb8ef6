package study

import (
	"fmt"
	"math"
	"slices"

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
}

// Attempts is the number of all attempts.
func (a ArmCount) Attempts() int { return a.Done + a.Timeouts + a.Failed + a.Void + a.Unmeasured }

// Counts says what was read, arm by arm, and whose attempts are too few to project.
func (s *Study) Counts() ([]ArmCount, Warnings) {
	var out []ArmCount
	var w Warnings
	for _, arm := range s.Arms {
		out = append(out, s.countArm(arm))
	}
	for _, t := range s.Trainees {
		if n := t.Number(practice.Attempt.Measured); n < proficiency.MinAttempts {
			w.Add("short-series", fmt.Sprintf("trainee %s has %d usable attempts, too few for a projection", t.ID, n))
		}
	}
	return out, w
}

func (s *Study) countArm(arm string) ArmCount {
	nan := math.NaN()
	out := ArmCount{Arm: arm, Fewest: nan, Most: nan, Best: nan, Median: nan, Worst: nan}
	var exact, made []float64
	for _, i := range s.Members(arm) {
		t := s.Trainees[i]
		out.Trainees++
		made = append(made, float64(len(t.Counted())))
		for _, a := range t.Attempts {
			switch {
			case a.Outcome == practice.Void:
				out.Void++
			case a.Outcome == practice.Failed:
				out.Failed++
			case !a.Measured():
				out.Unmeasured++
			case a.Censored:
				out.Timeouts++
			default:
				out.Done++
				exact = append(exact, a.Response)
			}
		}
	}
	if len(made) > 0 {
		out.Fewest, out.Most = slices.Min(made), slices.Max(made)
	}
	if len(exact) > 0 {
		out.Best, out.Worst, out.Median = slices.Min(exact), slices.Max(exact), median(exact)
		if !s.Task.Lower {
			out.Best, out.Worst = out.Worst, out.Best
		}
	}
	return out
}
