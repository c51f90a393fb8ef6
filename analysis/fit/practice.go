package fit

import "tyro/analysis/practice"

// SeriesOf is a trainee's attempts as a curve sees them: those with a response that
// can be compared, a timeout being right-censored at the limit.
func SeriesOf(t practice.Trainee) Series {
	s := Series{Limit: t.Limit}
	for _, a := range t.Attempts {
		if !a.Measured() {
			continue
		}
		s.Attempt = append(s.Attempt, a.Number)
		s.Response = append(s.Response, a.Response)
		s.Censored = append(s.Censored, a.Censored)
		s.Session = append(s.Session, a.Session)
		s.Restart = append(s.Restart, a.Since)
	}
	return s
}
