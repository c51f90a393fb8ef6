package retention_test

import (
	"context"
	"fmt"
	"math"

	"tyro/analysis/resample"
	"tyro/analysis/retention"
)

// Two trainees at 10 s and 12 s before a break of 30 days make 13 s and 17 s at the first
// attempt after it: losses of 3 and 5, a mean of 4; at the second they are back.
func ExampleGaps() {
	trainee := func(id string, before, first float64) retention.Trainee {
		at := func(v float64) retention.Attempt { return retention.Attempt{Value: v} }
		return retention.Trainee{ID: id, Sessions: []retention.Session{
			{Gap: math.NaN(), Attempts: []retention.Attempt{at(40), at(before), at(before)}},
			{Gap: 30, Attempts: []retention.Attempt{at(first), at(before)}},
		}}
	}
	gaps, err := retention.Gaps(context.Background(), []retention.Trainee{trainee("a", 10, 13), trainee("b", 12, 17)},
		retention.Options{Before: 2, Lower: true, Sampling: resample.Sampling{Seed: 1, Replicates: 100}})
	if err != nil {
		fmt.Println(err)
		return
	}
	g := gaps[0]
	fmt.Printf("after %g days: loss %g, at the second attempt %g\n", g.Days, g.Loss.Estimate, g.Later[0].Estimate)
	// Output: after 30 days: loss 4, at the second attempt 0
}
