package cohort

import "tyro/analysis/practice"

// Of is a trainee's attempts as a cohort's curve sees them. With sessions the
// attempts know how long ago the break before them was.
func Of(t practice.Trainee, sessions bool) Trainee {
	out := Trainee{ID: t.ID, Arm: t.Arm, Covariates: t.Columns}
	for _, a := range t.Attempts {
		if !a.Measured() {
			continue
		}
		out.Attempt = append(out.Attempt, a.Number)
		out.Response = append(out.Response, a.Response)
		out.Censored = append(out.Censored, a.Censored)
		if sessions {
			out.Restart = append(out.Restart, a.Since)
		}
	}
	return out
}
