package proficiency

import (
	"math"

	"tyro/analysis/practice"
	"tyro/analysis/stopping"
	"tyro/analysis/survival"
)

// An Observed is the observed counterpart of rule-met or chart-signal for one
// trainee: the attempt at which the rule was first met or the chart first signalled,
// or the last attempt seen without.
type Observed struct {
	Attempt float64
	Met     bool
}

// Observe runs a trainee's passes, in the order of attempts, through a rule or chart.
// Hard fails and timeouts are attempts without a pass, void ones do not count. Attempt
// numbers may have gaps.
func Observe(policy stopping.Policy, t practice.Trainee, s practice.Standard) Observed {
	attempts := t.Numbers()
	if len(attempts) == 0 {
		return Observed{Attempt: math.NaN()}
	}
	if k := policy.FirstMet(t.Passes(s)); k > 0 {
		return Observed{attempts[k-1], true}
	}
	return Observed{attempts[len(attempts)-1], false}
}

// Survival turns trainees' observations into right-censored data; trainees
// without attempts are left out.
func Survival(obs []Observed) []survival.Observation {
	var out []survival.Observation
	for _, o := range obs {
		if !math.IsNaN(o.Attempt) {
			out = append(out, survival.Observation{Time: o.Attempt, Event: o.Met})
		}
	}
	return out
}
