package reports

import (
	"context"
	"math"
	"slices"

	"tyro/analysis/cohort"
	"tyro/analysis/practice"
	"tyro/analysis/proficiency"
)

// A CohortMove is what was projected of a trainee after some attempts: the
// attempt at which the rule is met.
type CohortMove struct {
	AttemptsMade int    `json:"attempts_made"`
	Estimate     Number `json:"estimate"`
	Lower        Number `json:"lower"`
	Upper        Number `json:"upper"`
	NotReached   Number `json:"not_reached"`
	Status       string `json:"status"`
}

// moveEvery is how many attempts lie between two projections of the same
// trainee.
const moveEvery = 5

// people are the cohort's trainees as a rule sees them.
func (d *Cohort) people(ts []cohort.Trainee) []practice.Trainee {
	out := make([]practice.Trainee, len(ts))
	for i, t := range ts {
		for _, p := range d.In.Study.Trainees {
			if p.ID == t.ID {
				out[i] = p
				out[i].Columns = t.Covariates
			}
		}
	}
	return out
}

// projectRule answers rule-met and pass-chance for every trainee, after all
// attempts and as they arrived, and for a new trainee of each arm.
func (d *Cohort) projectRule(ctx context.Context, ts []cohort.Trainee, early, sessions bool) error {
	in := d.In
	records := d.people(ts)
	pooled, err := proficiency.Pool(ctx, d.Fit, d.In.Noise(), sessions, records, in.Question)
	if err != nil {
		return err
	}
	now, err := pooled.Project(ctx, records, in.Plan())
	if err != nil {
		return err
	}
	for i, p := range now {
		d.Trainees[i].answer(p, early)
	}
	if in.Rule == nil {
		return nil
	}
	if len(d.Carryover) > 0 {
		d.Warn("rule-without-carryover", "attempts to come are taken as independent about the trainee's curve when the rule is projected: what residuals carry over is left out there")
	}
	for i, arm := range d.Fit.Arms {
		prior, err := pooled.Project(ctx, []practice.Trainee{{ID: d.newcomer(arm).ID, Arm: arm}}, in.Plan())
		if err != nil {
			return err
		}
		r := CohortProficiency{Definition: proficiency.RuleMet}
		r.fill(prior[0], true)
		d.NewTrainees[i].Proficiency = []CohortProficiency{r}
	}
	if len(ts) > FigureLimit {
		return nil
	}
	return d.followMoves(ctx, pooled, records, now, early)
}

// newcomer is a trainee of an arm before any attempt, covariates at 0.
func (d *Cohort) newcomer(arm string) cohort.Trainee {
	return cohort.Trainee{ID: "a new trainee of arm " + arm, Arm: arm}
}

// answer puts a projection among a trainee's answers; the pass chance there
// takes error limits and hard fails into account.
func (t *CohortTrainee) answer(p proficiency.Projection, early bool) {
	for i := range t.Proficiency {
		r := &t.Proficiency[i]
		if r.Definition == proficiency.PassChance {
			r.Estimate, r.Lower, r.Upper = Number(p.PassChance[0]), Number(p.PassChance[1]), Number(p.PassChance[2])
			r.NotReached = Number(p.PassNever)
			r.Status = crossingStatus(p.PassChance, p.Usable, p.Last)
		}
		r.moveAway(p)
	}
	if p.Status == "" { // without a rule
		return
	}
	r := CohortProficiency{Definition: proficiency.RuleMet}
	r.fill(p, early)
	t.Proficiency = append(t.Proficiency, r)
}

// moveAway gives mean-crossing and pass-chance the status moving-away, without numbers
// where the level is not met at the last attempt.
func (r *CohortProficiency) moveAway(p proficiency.Projection) {
	leaves, away := p.MovingAway(r.Definition)
	if !away || r.Definition == proficiency.RuleMet {
		return
	}
	if r.Status = string(proficiency.MovingAway); leaves <= p.Last {
		nan := Number(math.NaN())
		r.Estimate, r.Lower, r.Upper = nan, nan, nan
	}
}

// fill withholds the numbers below the least number of attempts unless early
// ones are asked for.
func (r *CohortProficiency) fill(p proficiency.Projection, early bool) {
	r.Estimate, r.Lower, r.Upper, r.NotReached = Number(p.Estimate), Number(p.Lower), Number(p.Upper), Number(p.NotReached)
	r.Status = string(p.Status)
	if p.Usable >= minProjected || p.Met {
		return
	}
	if !early {
		nan := Number(math.NaN())
		r.Estimate, r.Lower, r.Upper, r.NotReached = nan, nan, nan, nan
		return
	}
	switch {
	case math.IsInf(p.Lower, 1):
		r.Status = string(proficiency.BeyondHorizon)
	case !math.IsInf(p.Upper, 1):
		r.Status = string(proficiency.Projected)
	}
}

// crossingStatus is the status of an attempt read off the trainee's possible
// curves: median, lower and upper end.
func crossingStatus(at [3]float64, usable int, last float64) string {
	switch {
	case at[2] <= last:
		return string(proficiency.Reached)
	case usable < minProjected:
		return string(proficiency.TooEarly)
	case math.IsInf(at[1], 1):
		return string(proficiency.BeyondHorizon)
	case math.IsInf(at[2], 1):
		return string(proficiency.TooEarly)
	}
	return string(proficiency.Projected)
}

// followMoves projects every trainee as if after 5, 10 and so on of the
// attempts, up to the one at which the rule was met; with early also before the
// first.
func (d *Cohort) followMoves(ctx context.Context, pooled *proficiency.Pooled, records []practice.Trainee, now []proficiency.Projection, early bool) error {
	var cut []practice.Trainee
	var whose []int
	for i, r := range records {
		attempts := r.Numbers()
		until := len(attempts)
		if now[i].Met {
			until = slices.Index(attempts, now[i].Estimate)
		}
		first := moveEvery
		if early {
			first = 0
		}
		for k := first; k < until; k += moveEvery {
			last := 0.0
			if k > 0 {
				last = attempts[k-1]
			}
			cut, whose = append(cut, r.Until(last)), append(whose, i)
		}
	}
	moves, err := pooled.Project(ctx, cut, d.In.Plan())
	if err != nil {
		return err
	}
	add := func(i int, p proficiency.Projection) {
		var r CohortProficiency
		r.fill(p, early)
		t := &d.Trainees[i]
		t.Moves = append(t.Moves, CohortMove{p.Seen, r.Estimate, r.Lower, r.Upper, r.NotReached, r.Status})
	}
	for j, p := range moves {
		add(whose[j], p)
	}
	for i, p := range now {
		add(i, p)
	}
	return nil
}
