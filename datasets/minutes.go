package datasets

import (
	"fmt"
	"math"
	"slices"

	"tyro/analysis/practice"
	"tyro/datasets/internal/grid"
	"tyro/datasets/problem"
)

// mostShort is the time in seconds up to which all times of a file may well be minutes.
const mostShort = 10

// unitSaid is the unit of time that the study file gives for a column; blank for none.
func (r *logReader) unitSaid(column string) string {
	for _, t := range r.study.Tasks {
		if t.Column == column && t.Unit != "" {
			return headUnit(" " + t.Unit)
		}
	}
	return ""
}

// inQuarters reports whether all of some numbers are quarters, and not halves alone, as times
// in minutes are written where nobody reads the watch to the second.
func inQuarters(vs []float64) bool {
	odd, different := 0, 0
	for k, v := range vs {
		if 4*v != math.Trunc(4*v) {
			return false
		}
		if 2*v != math.Trunc(2*v) {
			odd++
		}
		if k == 0 || v != vs[k-1] {
			different++
		}
	}
	return odd > 0 && different >= 4 && vs[len(vs)-1] <= 60
}

// shortWhy says why times of a file, given in order, may be minutes where neither their name nor
// the study file says seconds; blank where nothing speaks for it.
func (m *measureReader) shortWhy(vs []float64) string {
	middle, high := vs[len(vs)/2], vs[len(vs)-1]
	switch {
	case m.limit > 0 || m.unit == "seconds":
	case m.standard > 0:
		// Everybody met the standard at once, many times over.
		if m.unitSaid() == "" && high <= mostShort && 4*high < m.standard && 240*middle >= m.standard && 3*middle <= m.standard {
			return fmt.Sprintf("all its times are far below the standard of %g s, and 60 times them are near it", m.standard)
		}
	case inQuarters(vs):
		return "all its numbers are quarters, such as 1.25 and 1.5, as minutes are written"
	case high < 1: // as times to react are
	case middle < 5:
		return "half of its times are below 5 s"
	case m.unitSaid() == "" && len(vs) >= 4 && high <= mostShort:
		return fmt.Sprintf("all its times are below %d s, and neither its name, a limit nor a standard says the unit", mostShort)
	}
	return ""
}

// apartFrom is how many times longer one log's times are than another's where a unit is thought of.
const apartFrom = 15

// expertsApart asks where the times of experts and of trainees are so far apart that those of one
// of them must be minutes.
func (s *Study) expertsApart() Problems {
	var ps Problems
	for _, t := range s.Tasks {
		if t.Measure != Time || s.AttemptFile == nil || s.ExpertFile == nil {
			continue
		}
		trainees, experts := middleTime(s.Attempts, t), middleTime(s.Experts, t)
		ask := func(lf *LogFile, log Log, key string, middle, others float64) {
			if lf.Times == "" {
				ps = append(ps, Problem{File: log.File, Column: t.Column, Value: grid.FormatNumber(middle), Err: problem.ErrAmbiguous, Expect: fmt.Sprintf(
					"to be told the unit: half of these times are below %.4g, and half of those in the other table below %.4g, so that these may be minutes; say times: minutes, times: m.ss or times: seconds under %s in the study file", middle, others, key)})
			}
		}
		switch {
		case apartFrom*trainees <= experts && 120*trainees >= experts:
			ask(s.AttemptFile, s.Attempts, "attempts", trainees, experts)
		case apartFrom*experts <= trainees && 480*experts >= trainees && 60*experts <= 1.5*trainees:
			ask(s.ExpertFile, s.Experts, "experts", experts, trainees)
		}
	}
	return ps
}

// middleTime is the median of a task's times that were done; NaN for none.
func middleTime(log Log, t Task) float64 {
	j := log.Column(t.Column)
	if j < 0 {
		return math.NaN()
	}
	var vs []float64
	for _, a := range log.Attempts {
		if v := log.Values(a)[j]; a.Outcome == practice.Done && a.Task == t.Name && !math.IsNaN(v) {
			vs = append(vs, v)
		}
	}
	if len(vs) == 0 {
		return math.NaN()
	}
	slices.Sort(vs)
	return vs[len(vs)/2]
}
