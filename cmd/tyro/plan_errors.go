package main

import (
	"math"
	"slices"

	"github.com/spf13/cobra"

	"tyro/analysis"
	"tyro/analysis/fit"
	"tyro/analysis/plan"
	"tyro/analysis/practice"
)

// eventFlags say what errors and hard fails befall the trainees of a plan.
type eventFlags struct{ rate, fall, sd, limit []string }

func (f *eventFlags) register(cmd *cobra.Command) {
	fs := cmd.Flags()
	fs.StringArrayVar(&f.rate, "errors", nil, "name=number: errors of this name in a first attempt on average, such as slips=1.5; for the name hard-fails the share of first attempts that fail (default: as in the study)")
	fs.StringArrayVar(&f.fall, "error-fall", nil, "name=number: how fast errors fall with practice: attempt n has as many as the first, divided by n to this power (0.5: half as many in attempt 4; 0: they do not fall)")
	fs.StringArrayVar(&f.sd, "error-sd", nil, "name=number: how much trainees differ in their errors (standard deviation of logarithms)")
	fs.StringArrayVar(&f.limit, "error-limit", nil, "name=number: errors that a pass may have at most (default: as in the study)")
}

// of are the events of a design: those of the trainees of a study, changed and added to by
// the flags.
func (f *eventFlags) of(p practice.Practice, arms []string) ([]plan.Event, error) {
	events := plan.EventsOf(p, arms)
	none := analysis.Number(math.NaN())
	rates, err := eachOnce("errors", f.rate)
	if err != nil {
		return nil, err
	}
	for _, h := range rates {
		k := slices.IndexFunc(events, eventOf(h))
		if k < 0 {
			k = len(events)
			events = append(events, plan.Event{Name: h.Name, AtMost: none})
		}
		events[k].Rate = slices.Repeat([]analysis.Number{analysis.Number(h.Value)}, len(arms))
	}
	for _, x := range []struct {
		flag  string
		pairs []string
		set   func(*plan.Event, float64)
	}{
		{"error-fall", f.fall, func(e *plan.Event, v float64) { e.Fall = v }},
		{"error-sd", f.sd, func(e *plan.Event, v float64) { e.TraineeSD = v }},
		{"error-limit", f.limit, func(e *plan.Event, v float64) { e.AtMost = analysis.Number(v) }},
	} {
		values, err := eachOnce(x.flag, x.pairs)
		if err != nil {
			return nil, err
		}
		for _, h := range values {
			k := slices.IndexFunc(events, eventOf(h))
			if k < 0 {
				return nil, usagef("--%s %s: nothing says how often it befalls anybody: give --errors %s=NUMBER", x.flag, h.Name, h.Name)
			}
			x.set(&events[k], h.Value)
		}
	}
	return events, nil
}

// eventOf asks whether an event is the one that a flag names.
func eventOf(h fit.Hold) func(plan.Event) bool {
	return func(e plan.Event) bool { return e.Name == h.Name }
}

// eachOnce reads name=number pairs, of which no name may stand twice.
func eachOnce(flag string, pairs []string) ([]fit.Hold, error) {
	values, err := nameValues(flag, pairs)
	for i, h := range values {
		if err == nil && slices.ContainsFunc(values[:i], func(o fit.Hold) bool { return o.Name == h.Name }) {
			err = usagef("--%s says two things of %s: give one number", flag, h.Name)
		}
	}
	return values, err
}
