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

func main() {
	flag.Parse()
	fmt.Println("contrast,effect,trainees,attempts,drop_out,clusters,seed,studies,failed,power,lower,upper,covered")
	level := []plan.Effect{{Name: "level", Value: 0.85}}
	for _, c := range []struct {
		contrast string
		effects  []plan.Effect
		seed     uint64
		change   func(*plan.Course)
	}{
		{"level", nil, 1, nil},
		{"level", level, 1, nil},
		{"level", level, 2, nil},
		{"rule-met-mean", nil, 1, nil},
		{"rule-met-share", nil, 1, nil},
		{"rule-met-hazard", nil, 1, nil},
		{"retention", nil, 1, func(c *plan.Course) { c.Test = &plan.Test{Change: []float64{1.2, 1.2}, SD: 0.1} }},
		{"retention", nil, 1, func(c *plan.Course) {
			c.Test = &plan.Test{Change: []float64{1.2, 1.2}, SD: 0.1}
			c.Clusters = &plan.Clusters{Count: 6, SD: 0.15, Whole: true}
		}},
		{"rule-met-mean", level, 1, nil},
		{"rule-met-mean", level, 2, nil},
		{"plateau", nil, 1, nil},
		{"level", nil, 3, func(c *plan.Course) { c.DropOut = 0.3 }},
	} {
		d := plan.Design{Form: plan.Form, Trainees: 30, Attempts: 20, Course: &plan.Course{
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
		fmt.Printf("%s,%s,%d,%d,%g,%d,%d,%d,%d,%.4f,%.4f,%.4f,%.4f\n", c.contrast, effect, r.Trainees, r.Attempts, d.Course.DropOut, clusters, c.seed, r.Studies, r.Failed, r.Power, r.Lower, r.Upper, r.Coverage)
	}
}
