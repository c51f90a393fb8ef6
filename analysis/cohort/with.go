package cohort

import (
	"context"
	"slices"
)

// With is the fit with other members: the trainees given, each where the fit and their own
// attempts place them. Nothing is fitted, and what the fit says of the cohort stays as it is.
// Trainees without attempts are left out.
func (c *Cohort) With(ctx context.Context, trainees []Trainee) (*Cohort, error) {
	ts := slices.DeleteFunc(slices.Clone(trainees), func(t Trainee) bool { return len(t.Attempt) == 0 })
	out, m := *c, *c.m
	out.m, out.trainees, out.read = &m, ts, true
	out.Members, out.modes, m.records, m.nObs = nil, nil, nil, 0
	known := map[string]bool{}
	for _, t := range ts {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		if known[t.ID] {
			return nil, refuse("trainee %s is there twice", t.ID)
		}
		known[t.ID] = true
		r, err := m.record(t)
		if err != nil {
			return nil, err
		}
		m.records = append(m.records, r)
		m.nObs += len(r.z)
		out.modes = append(out.modes, m.at(&r, c.theta).seek(vector{}).mode)
	}
	out.members(ts)
	out.withholdMembers()
	out.NCensored = c.NCensored // of those it was made from
	return &out, nil
}

// Seen is where the attempts that the fit was made from lay.
func (c *Cohort) Seen() (first, last float64) { return c.seen.first, c.seen.furthest }
