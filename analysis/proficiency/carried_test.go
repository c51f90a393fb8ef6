package proficiency

import (
	"context"
	"fmt"
	"math"
	"testing"

	"tyro/analysis/cohort"
	"tyro/analysis/fit"
	"tyro/analysis/practice"
	"tyro/analysis/resample"
	"tyro/models"
)

// Everybody stands at the standard, so that every attempt passes with chance one half; residuals
// of neighbours correlate by 0.6. Two normal numbers that do are both below their middle with
// chance 1/4 + asin(0.6)/2π = 0.352416 (Sheppard, 1899), which is how many have passed twice in a
// row by attempt 2; without carryover it were 0.25. Where half of the variance is carried, they
// correlate by 0.3: 0.298493.
func TestRulesTakeWhatIsCarriedOver(t *testing.T) {
	for _, c := range []struct {
		carry cohort.Carry
		hold  []fit.Hold
		want  float64
	}{
		{cohort.CarryWhole, nil, 0.352416},
		{cohort.CarryPart, []fit.Hold{{Name: "carried-share", Value: 0.5}}, 0.298493},
	} {
		for _, noise := range []models.Noise{models.Lognormal{}, models.Reciprocal{}} {
			people := heldCohort(t, noise, c.carry, append(c.hold, fit.Hold{Name: "plateau", Value: 50}, fit.Hold{Name: "carryover", Value: 0.6}))
			rule, err := practice.ParseRule("2 in a row")
			if err != nil {
				t.Fatal(err)
			}
			q := Question{Standard: practice.Standard{Value: 50, Lower: true}, Rule: rule, Horizon: 6}
			p, err := FromCohort(context.Background(), people, 6, "", q, nil, resample.Sampling{Seed: 1})
			if err != nil {
				t.Fatal(err)
			}
			mean := 0.0
			for _, d := range p.Draws {
				mean += d[1] / float64(len(p.Draws))
			}
			// 80,000 people give a Monte Carlo error of 0.0017.
			if n := float64(len(p.Draws) * populationPeople); math.Abs(mean-c.want) > 4*math.Sqrt(c.want*(1-c.want)/n) {
				t.Errorf("%s, %s: %.4f have met the rule by attempt 2, want %.4f", noise.Name(), c.carry, mean, c.want)
			}
		}
	}
}

// heldCohort is a cohort of which all but the spread of attempts is held.
func heldCohort(t *testing.T, noise models.Noise, carry cohort.Carry, hold []fit.Hold) *cohort.Cohort {
	t.Helper()
	var ts []cohort.Trainee
	for i := range 6 {
		one := cohort.Trainee{ID: fmt.Sprint(i)}
		for n := 1.0; n <= 8; n++ {
			one.Attempt, one.Response = append(one.Attempt, n), append(one.Response, 45+float64(i)+n)
		}
		ts = append(ts, one)
	}
	c, err := cohort.Run(context.Background(), ts, cohort.Spec{Family: models.Constant(), Noise: noise, Random: []string{}, Carry: carry, Hold: hold})
	if err != nil {
		t.Fatal(err)
	}
	return c
}
