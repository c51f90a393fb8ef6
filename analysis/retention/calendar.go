package retention

import (
	"math"
	"slices"

	"tyro/analysis"
)

// A Point is a session's attempt as all trainees made it, on the calendar.
type Point struct {
	Session int     // from 1
	Day     float64 // the middle trainee's days since the first session; NaN where not known
	Attempt int     // of the session, from 1
	Value   Mean    // on the scale of comparison
}

// Calendar is learning within sessions and loss between them as one course over the days:
// the mean of every attempt of every session. Sessions are counted for each trainee, and
// attempts with fewer than half of the session's trainees are left out.
func Calendar(trainees []Trainee, level float64) []Point {
	level, err := analysis.Level(level)
	if err != nil {
		return nil
	}
	most := 0
	for _, t := range trainees {
		most = max(most, len(t.Sessions))
	}
	var out []Point
	for s := range most {
		var days []float64
		var values [][]float64 // by attempt
		n := 0
		for _, t := range trainees {
			if s >= len(t.Sessions) {
				continue
			}
			n++
			day := 0.0
			for _, x := range t.Sessions[1 : s+1] {
				day += x.Gap
			}
			days = append(days, day)
			for j, a := range t.Sessions[s].Attempts {
				if j == len(values) {
					values = append(values, nil)
				}
				if !math.IsNaN(a.Value) {
					values[j] = append(values[j], a.Value)
				}
			}
		}
		slices.Sort(days)
		for j, vs := range values {
			if 2*len(vs) >= n && len(vs) > 1 {
				out = append(out, Point{s + 1, days[len(days)/2], j + 1, meanOf(vs, level)})
			}
		}
	}
	return out
}
