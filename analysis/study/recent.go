package study

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"

	"tyro/analysis/practice"
)

// RecentAttempts is how many of a trainee's last attempts make the recent level.
const RecentAttempts = 5

// A RecentLevel is where trainees stood at their last attempts: the mean over trainees of
// the median of each one's last five attempts with a measure (of a time the geometric
// mean; of passes and fails the share of passes in place of the median), with Student's t
// interval. Medians that lie on attempts stopped at the limit are not known.
type RecentLevel struct {
	Arm                        string // blank for all
	N                          int    // trainees with a known median
	Unknown                    int    // those without
	Value, Lower, Upper, Level float64
}

// RecentLevels are those of all trainees, and of each arm where there are several.
func (s *Study) RecentLevels() []RecentLevel {
	out := []RecentLevel{s.recentLevel("", s.Trainees)}
	if len(s.Arms) < 2 {
		return out
	}
	for _, arm := range s.Arms {
		var of []practice.Trainee
		for _, i := range s.Members(arm) {
			of = append(of, s.Trainees[i])
		}
		out = append(out, s.recentLevel(arm, of))
	}
	return out
}

func (s *Study) recentLevel(arm string, of []practice.Trainee) RecentLevel {
	nan := math.NaN()
	out := RecentLevel{Arm: arm, Value: nan, Lower: nan, Upper: nan, Level: s.Options.Level}
	log := s.Task.Measure == practice.Time
	var medians []float64
	for _, t := range of {
		m := recentMedian(t)
		if s.Task.Measure == practice.PassFail {
			m = s.recentShare(t)
		}
		switch {
		case math.IsNaN(m) || math.IsInf(m, 0):
			out.Unknown++
		case log:
			medians = append(medians, math.Log(m))
		default:
			medians = append(medians, m)
		}
	}
	out.N = len(medians)
	if out.N == 0 {
		return out
	}
	mean, sd := stat.MeanStdDev(medians, nil)
	back := func(v float64) float64 {
		if log {
			return math.Exp(v)
		}
		return v
	}
	out.Value = back(mean)
	if n := float64(out.N); out.N > 1 {
		half := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: n - 1}.Quantile((1+out.Level)/2) * sd / math.Sqrt(n)
		out.Lower, out.Upper = back(mean-half), back(mean+half)
	}
	if s.Task.Measure == practice.PassFail { // no share is below 0 or above 1
		out.Lower, out.Upper = math.Max(0, out.Lower), math.Min(1, out.Upper)
	}
	return out
}

// recentShare is the share of passes among a trainee's last attempts, hard fails too: of passes and
// fails, which are 1 and 0, a median is one of the two and does not tell 3 of 5 from 5 of 5.
func (s *Study) recentShare(t practice.Trainee) float64 {
	last := t.Counted()
	last = last[max(0, len(last)-RecentAttempts):]
	passed := 0.0
	for _, a := range last {
		if a.Passes(s.Question.Standard) {
			passed++
		}
	}
	return passed / float64(len(last))
}

// recentMedian is the median of a trainee's last attempts with a measure, those stopped at
// the limit as infinite; NaN without any.
func recentMedian(t practice.Trainee) float64 {
	var last []float64
	for _, a := range t.Attempts {
		switch {
		case !a.Measured():
		case a.Censored:
			last = append(last, math.Inf(1))
		default:
			last = append(last, a.Response)
		}
	}
	last = slices.Clone(last[max(0, len(last)-RecentAttempts):])
	slices.Sort(last)
	n := len(last)
	switch {
	case n == 0:
		return math.NaN()
	case n%2 == 1:
		return last[n/2]
	}
	return (last[n/2-1] + last[n/2]) / 2
}
