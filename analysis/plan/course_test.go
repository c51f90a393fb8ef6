package plan

import (
	"context"
	"testing"
	"time"

	"tyro/analysis"
	"tyro/analysis/cohort"
	"tyro/analysis/practice"
	"tyro/analysis/resample"
)

// times are people who get faster along exponential curves: seconds, plateau 45, start
// 175.
func times(arms ...string) cohort.Assumed {
	all := func(v float64) (out []analysis.Number) {
		for range arms {
			out = append(out, analysis.Number(v))
		}
		return out
	}
	return cohort.Assumed{
		Family: "exponential", Origin: 1, Noise: "lognormal", Arms: arms,
		Parameters: []cohort.AssumedParameter{
			{Name: "plateau", Scale: cohort.Log, Values: all(45), SD: 0.2},
			{Name: "gain", Scale: cohort.Log, Values: all(130), SD: 0.25},
			{Name: "rate", Scale: cohort.Log, Values: all(0.2), SD: 0.3},
			{Name: "spread", Scale: cohort.Log, Values: all(0.2)},
		},
	}
}

func timed(contrast string) Design {
	return Design{Form: Form, Trainees: 30, Attempts: 20, Course: &Course{
		People: times("usual", "new"), Contrast: contrast,
		Task: Task{Measure: practice.Time, Lower: true, Standard: 60, Rule: "2 in a row"},
	}}
}

func TestSpeedTry(t *testing.T) {
	for _, m := range []string{"plateau", "level", "rate", "mean-crossing", "rule-met-mean", "rule-met-hazard", "rule-met-median", "rule-met-share"} {
		d := timed(m)
		start := time.Now()
		out, err := Simulate(context.Background(), d, 0, 40, resample.Sampling{Seed: 1})
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("%s %v %+v", m, time.Since(start)/40, Summarise(d, out))
	}
}
