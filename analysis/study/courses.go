package study

import (
	"math"

	"gonum.org/v1/gonum/stat"

	"tyro/analysis/practice"
)

// A Course is an arm's middle response, or mean error count, at attempt 1, 2, … as far
// as three trainees made it.
type Course struct {
	Arm   string
	Value []float64
}

// enoughForACourse is how many trainees a point of a course takes.
const enoughForACourse = 3

// Courses follow the arms attempt by attempt: the median response, or the mean of the
// error count at that position of the task's counts; -1 is the response. A timeout
// stands at the limit.
func (s *Study) Courses(count int) []Course {
	var out []Course
	for _, arm := range s.Arms {
		c := Course{Arm: arm}
		at := map[float64][]float64{}
		for _, i := range s.Members(arm) {
			for _, a := range s.Trainees[i].Counted() {
				if v := courseValue(a, count); !math.IsNaN(v) {
					at[a.Number] = append(at[a.Number], v)
				}
			}
		}
		for n := 1.0; len(at[n]) >= enoughForACourse; n++ {
			if count < 0 {
				c.Value = append(c.Value, median(at[n]))
			} else {
				c.Value = append(c.Value, stat.Mean(at[n], nil))
			}
		}
		out = append(out, c)
	}
	return out
}

func courseValue(a practice.Attempt, count int) float64 {
	switch {
	case count >= 0:
		return a.Errors[count]
	case a.Measured():
		return a.Response
	}
	return math.NaN()
}
