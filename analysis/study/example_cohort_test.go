package study_test

import (
	"context"
	"fmt"
	"log"
	"math"

	"tyro/analysis/practice"
	"tyro/analysis/study"
	"tyro/models"
)

// Eight people practise; the last has made only three attempts. The seconds are made up
// about 40 + 120·exp(−0.25(n − 1)), which is 97 at attempt 4 and 61 at attempt 8.
func ExampleStudy_DescribeCohort() {
	p := practice.Practice{Arms: []string{""}, Task: practice.Task{Measure: practice.Time, Lower: true}}
	for i, made := range []int{12, 12, 12, 12, 12, 12, 12, 3} {
		t := practice.Trainee{ID: fmt.Sprint("T", i+1)}
		for n := range made {
			seconds := (40 + 120*math.Exp(-0.25*float64(n))) * (1 + 0.1*math.Sin(float64(37*i+11*n)) + 0.05*math.Cos(float64(5*i)))
			t.Attempts = append(t.Attempts, practice.Attempt{Number: float64(n + 1), Response: seconds, Clean: true})
		}
		p.Trainees = append(p.Trainees, t)
	}
	s, err := study.New(p, study.Options{Families: []models.Family{models.Exponential(1)}})
	if err != nil {
		log.Fatal(err)
	}
	c, err := s.DescribeCohort(context.Background(), study.CohortOptions{Only: study.PartMembers, Ahead: 5})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%s curve of %d trainees; to ten seconds, T8 is expected\n", c.Fit.Family, c.Fit.NTrainees)
	for _, next := range c.Member("T8").Next {
		fmt.Printf("at attempt %g near %g\n", next.Attempt, 10*math.Round(next.Median/10))
	}
	// Output:
	// exponential curve of 8 trainees; to ten seconds, T8 is expected
	// at attempt 4 near 100
	// at attempt 5 near 80
	// at attempt 6 near 70
	// at attempt 7 near 70
	// at attempt 8 near 60
}
