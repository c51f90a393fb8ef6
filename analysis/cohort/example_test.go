package cohort_test

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"math/rand/v2"

	"tyro/analysis/cohort"
	"tyro/analysis/resample"
	"tyro/models"
)

// class invents trainees who find a vein on a gel phantom under ultrasound: times
// that fall from about 120 to 30 seconds.
func class(n, attempts int) []cohort.Trainee {
	r := rand.New(rand.NewPCG(1, 2))
	ts := make([]cohort.Trainee, n)
	for i := range ts {
		ts[i].ID = fmt.Sprint("trainee ", i+1)
		pace := math.Exp(0.2 * r.NormFloat64())
		for k := 1.0; k <= float64(attempts); k++ {
			ts[i].Attempt = append(ts[i].Attempt, k)
			ts[i].Response = append(ts[i].Response, pace*(30+90*math.Exp(-0.25*(k-1)))*math.Exp(0.15*r.NormFloat64()))
		}
	}
	return ts
}

var (
	ctx      = context.Background()
	spec     = cohort.Spec{Family: models.Exponential(1), Noise: models.Lognormal{}}
	sampling = resample.Sampling{Seed: 1}
)

// A cohort is fitted once; each trainee's next attempts follow from it.
func ExampleCohort_Posteriors() {
	trainees := class(24, 15)
	c, err := cohort.Run(ctx, trainees, spec)
	if err != nil {
		fmt.Println(err)
		return
	}
	posts, err := c.Posteriors(ctx, trainees[:1], sampling)
	if err != nil {
		fmt.Println(err)
		return
	}
	q := posts[0].Quantiles(20, 0, 0.05, 0.5, 0.95)
	fmt.Println("attempt 20 of", trainees[0].ID, "is predicted between the limits:", q[0] < q[1] && q[1] < q[2])
	fmt.Println("about 30 seconds:", q[1] > 20 && q[1] < 45)
	// Output:
	// attempt 20 of trainee 1 is predicted between the limits: true
	// about 30 seconds: true
}

// A fit is saved without its trainees, and projects a newcomer later.
func ExampleCohort_Save() {
	c, _ := cohort.Run(ctx, class(24, 15), spec)
	var file bytes.Buffer
	if err := c.Save(&file); err != nil {
		fmt.Println(err)
	}
	later, err := cohort.Load(&file)
	if err != nil {
		fmt.Println(err)
		return
	}
	newcomer := cohort.Trainee{ID: "newcomer", Attempt: []float64{1, 2, 3, 4, 5}, Response: []float64{118, 99, 88, 70, 66}}
	posts, _ := later.Posteriors(ctx, []cohort.Trainee{newcomer}, sampling)
	q := posts[0].Quantiles(15, 0, 0.05, 0.95)
	fmt.Println("15th attempt holds 33 seconds, the curve that the times were made of:", q[0] < 33 && 33 < q[1])
	// Output: 15th attempt holds 33 seconds, the curve that the times were made of: true
}

// A fit follows a trainee, who need not be one of those it was made from, attempt by attempt.
func ExampleCohort_Follow() {
	c, _ := cohort.Run(ctx, class(24, 15), spec)
	follow, err := c.Follow(ctx, cohort.Trainee{ID: "newcomer"}, 1)
	if err != nil {
		fmt.Println(err)
		return
	}
	before, _ := follow.Posterior()
	width := func(p cohort.Posterior) float64 {
		q := p.Quantiles(15, 0, 0.05, 0.95)
		return q[1] - q[0]
	}
	now := before
	for i, seconds := range []float64{118, 99, 88, 70, 66} {
		if now, err = follow.Add(ctx, cohort.Attempt{Number: float64(i + 1), Response: seconds}); err != nil {
			fmt.Println(err)
		}
	}
	fmt.Println("the 15th attempt is foretold more closely after five attempts than before the first:", width(now) < width(before))
	// Output: the 15th attempt is foretold more closely after five attempts than before the first: true
}
