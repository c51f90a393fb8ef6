// Command errors simulates studies without any effect, to see how often the planned
// analysis tells arms apart all the same, and studies with an effect under two seeds, to see
// whether a power holds in studies that it was not made from.
//
//	go run ./testdata/plan/errors > testdata/plan/errors/errors.csv
package main

import (
	"context"
	"flag"
	"fmt"
	"log"
	"math"
	"slices"

	"tyro/analysis"
	"tyro/analysis/cohort"
	"tyro/analysis/plan"
	"tyro/analysis/practice"
	"tyro/analysis/resample"
)

var (
	fitted   = flag.Int("fitted", 300, "studies of contrasts of curves")
	observed = flag.Int("observed", 1500, "studies of contrasts of what is observed")
)

func people() cohort.Assumed {
	both := func(v float64) []analysis.Number { return []analysis.Number{analysis.Number(v), analysis.Number(v)} }
	return cohort.Assumed{
		Family: "exponential", Origin: 1, Noise: "lognormal", Arms: []string{"usual", "new"},
		Parameters: []cohort.AssumedParameter{
			{Name: "plateau", Scale: cohort.Log, Values: both(45), SD: 0.2},
			{Name: "gain", Scale: cohort.Log, Values: both(130), SD: 0.25},
			{Name: "rate", Scale: cohort.Log, Values: both(0.2), SD: 0.3},
			{Name: "spread", Scale: cohort.Log, Values: both(0.2)},
		},
	}
}

// slips are errors of which a pass may have one, and hard fails.
func slips(c *plan.Course) {
	rate := func(v float64) []analysis.Number {
		return slices.Repeat([]analysis.Number{analysis.Number(v)}, len(c.People.Arms))
	}
	c.Events = []plan.Event{
		{Name: "slips", Rate: rate(1.5), Fall: 0.5, TraineeSD: 0.4, AttemptSD: 0.2, AtMost: 1},
		{Name: plan.HardFails, Rate: rate(0.1), Fall: 0.3, TraineeSD: 0.3, AtMost: analysis.Number(math.NaN())},
	}
}

// threeArms are three arms alike.
func threeArms(told string) func(*plan.Course) {
	return func(c *plan.Course) {
		c.Told, c.People.Arms = told, []string{"usual", "brief", "new"}
		for i, p := range c.People.Parameters {
			c.People.Parameters[i].Values = slices.Repeat(p.Values[:1], 3)
		}
	}
}

func main() {
	flag.Parse()
	fmt.Println("contrast,arms,margin,errors,effect,trainees,attempts,drop_out,clusters,seed,studies,failed,power,lower,upper,covered")
	level := []plan.Effect{{Name: "level", Value: 0.85}}
	for _, c := range []struct {
		contrast string
		effects  []plan.Effect
		seed     uint64
		change   func(*plan.Course)
		margin   *plan.Margin
	}{
		{"level", nil, 1, nil, nil},
		{"level", level, 1, nil, nil},
		{"level", level, 2, nil, nil},
		{"rule-met-mean", nil, 1, nil, nil},
		{"rule-met-share", nil, 1, nil, nil},
		{"rule-met-hazard", nil, 1, nil, nil},
		{"retention", nil, 1, func(c *plan.Course) { c.Test = &plan.Test{Change: []float64{1.2, 1.2}, SD: 0.1} }, nil},
		{"retention", nil, 1, func(c *plan.Course) {
			c.Test = &plan.Test{Change: []float64{1.2, 1.2}, SD: 0.1}
			c.Clusters = &plan.Clusters{Count: 6, SD: 0.15, Whole: true}
		}, nil},
		{"rule-met-mean", level, 1, nil, nil},
		{"rule-met-mean", level, 2, nil, nil},
		{"plateau", nil, 1, nil, nil},
		{"level", nil, 3, func(c *plan.Course) { c.DropOut = 0.3 }, nil},
		{"slips", nil, 1, slips, nil},
		{"slips", []plan.Effect{{Name: "slips", Value: 0.7}}, 1, slips, nil},
		{"slips", []plan.Effect{{Name: "slips", Value: 0.7}}, 2, slips, nil},
		{plan.HardFails, nil, 1, slips, nil},
		{plan.HardFails, []plan.Effect{{Name: plan.HardFails, Value: 0.5}}, 1, slips, nil},
		{"rule-met-mean", nil, 1, slips, nil},
		{"rule-met-mean", nil, 1, threeArms(plan.AnyArm), nil},
		{"slips", nil, 1, func(c *plan.Course) { threeArms(plan.AnyArm)(c); slips(c) }, nil},
		{"level", []plan.Effect{{Name: "level", Value: 1.2}}, 1, nil, &plan.Margin{Value: 1.2}},
		{"level", []plan.Effect{{Name: "level", Value: 1.2}}, 1, nil, &plan.Margin{Value: 1.2, NonInferior: true}},
		{"slips", []plan.Effect{{Name: "slips", Value: 1.5}}, 1, slips, &plan.Margin{Value: 1.5, NonInferior: true}},
	} {
		d := plan.Design{Form: plan.Form, Trainees: 30, Attempts: 20, Margin: c.margin, Course: &plan.Course{
			People: people(), Contrast: c.contrast, Task: plan.Task{Measure: practice.Time, Lower: true, Standard: 60, Rule: "2 in a row"},
		}}
		if c.change != nil {
			c.change(d.Course)
		}
		if c.effects != nil {
			var err error
			if d, err = d.Apply(c.effects); err != nil {
				log.Fatal(err)
			}
		}
		n := *observed
		if c.contrast == "level" || c.contrast == "plateau" {
			n = *fitted
		}
		out, err := plan.Simulate(context.Background(), d, 0, n, resample.Sampling{Seed: c.seed})
		if err != nil {
			log.Fatal(err)
		}
		r := plan.Summarise(d, out)
		effect, clusters := "none", 0
		if c.effects != nil {
			effect = fmt.Sprintf("%s x %g", c.effects[0].Name, c.effects[0].Value)
		}
		if k := d.Course.Clusters; k != nil {
			clusters = k.Count
		}
		margin, errors := "none", "none"
		if c.margin != nil {
			margin = fmt.Sprintf("%g, both sides", c.margin.Value)
			if c.margin.NonInferior {
				margin = fmt.Sprintf("%g, not worse", c.margin.Value)
			}
		}
		if d.Course.Events != nil {
			errors = "slips and hard fails"
		}
		fmt.Printf("%s,%d,%q,%s,%s,%d,%d,%g,%d,%d,%d,%d,%.4f,%.4f,%.4f,%.4f\n", c.contrast, len(d.Course.People.Arms), margin, errors, effect, r.Trainees, r.Attempts, d.Course.DropOut, clusters, c.seed, r.Studies, r.Failed, r.Power, r.Lower, r.Upper, r.Coverage)
	}
}
