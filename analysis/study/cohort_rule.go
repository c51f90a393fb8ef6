package study

import (
	"context"
	"math"
	"slices"

	"tyro/analysis/practice"
	"tyro/analysis/proficiency"
)

// moveEvery is how many attempts lie between two projections of the same trainee.
const moveEvery = 5

// mostMoved is the number of trainees up to which projections are followed as attempts
// arrived.
const mostMoved = 200

// passing adds pass-chance and rule-met, both with error limits and hard fails, for
// some of the members.
func (w *cohortWork) passing(ctx context.Context, from, to int) error {
	pooled, err := w.pool(ctx)
	if err != nil {
		return err
	}
	now, err := pooled.Project(ctx, w.c.Fit.People[from:to], w.Sampling())
	if err != nil {
		return err
	}
	for i, p := range now {
		m := &w.c.Members[from+i]
		pass := CohortCrossing{Definition: proficiency.PassChance, Estimate: p.PassChance[0], Lower: p.PassChance[1], Upper: p.PassChance[2], NotReached: p.PassNever}
		pass.Status = pass.crossed(p.Usable, p.Last)
		m.Proficiency = append(m.Proficiency, pass)
		for k := range m.Proficiency {
			m.Proficiency[k].moveAway(p)
		}
		if w.Question.Rule != nil {
			met := ruleMet(p, w.o.Early)
			m.Proficiency = append(m.Proficiency, met)
			m.Moves = []CohortMove{{p.Seen, met}}
		}
	}
	return nil
}

// moveAway gives mean-crossing and pass-chance the status moving-away, without numbers
// where the level is not met at the last attempt.
func (c *CohortCrossing) moveAway(p proficiency.Projection) {
	leaves, away := p.MovingAway(c.Definition)
	if !away {
		return
	}
	if c.Status = proficiency.MovingAway; leaves <= p.Last {
		nan := math.NaN()
		c.Estimate, c.Lower, c.Upper = nan, nan, nan
	}
}

// ruleMet withholds the numbers below the least number of attempts unless early ones
// are asked for.
func ruleMet(p proficiency.Projection, early bool) CohortCrossing {
	out := CohortCrossing{Definition: proficiency.RuleMet, Estimate: p.Estimate, Lower: p.Lower, Upper: p.Upper, NotReached: p.NotReached, Status: p.Status}
	if p.Usable >= proficiency.MinAttempts || p.Met {
		return out
	}
	if !early {
		nan := math.NaN()
		out.Estimate, out.Lower, out.Upper, out.NotReached = nan, nan, nan, nan
		return out
	}
	switch {
	case math.IsInf(p.Lower, 1):
		out.Status = proficiency.BeyondHorizon
	case !math.IsInf(p.Upper, 1):
		out.Status = proficiency.Projected
	}
	return out
}

// pool is what all trainees' passes and hard fails say, whose warnings are the cohort's
// too.
func (w *cohortWork) pool(ctx context.Context) (*proficiency.Pooled, error) {
	pooled, err := w.Pool(ctx, w.c.Fit)
	if err == nil {
		w.c.Warnings.With(pooled.Warnings())
	}
	return pooled, err
}

// projectsRule reports whether there is a rule to project.
func (w *cohortWork) projectsRule() bool { return w.Question.Standard.Set() && w.Question.Rule != nil }

// ruleOfNewcomer says when a new trainee of an arm meets the rule; nil without one.
func (w *cohortWork) ruleOfNewcomer(ctx context.Context, arm string) (*CohortCrossing, error) {
	if !w.projectsRule() {
		return nil, nil
	}
	pooled, err := w.pool(ctx)
	if err != nil {
		return nil, err
	}
	prior, err := pooled.Project(ctx, []practice.Trainee{{ID: newcomer(arm), Arm: arm}}, w.Sampling())
	if err != nil {
		return nil, err
	}
	met := ruleMet(prior[0], true)
	return &met, nil
}

// moves says how the projections of all trainees moved as their attempts arrived.
func (w *cohortWork) moves(ctx context.Context) error {
	if !w.o.asks(PartMoves) || !w.projectsRule() || len(w.c.Members) > mostMoved {
		return nil
	}
	pooled, err := w.pool(ctx)
	if err != nil {
		return err
	}
	return w.followMoves(ctx, pooled)
}

// followMoves projects every trainee as if after 5, 10 and so on of the attempts, up
// to the one at which the rule was met; with early also before the first.
func (w *cohortWork) followMoves(ctx context.Context, pooled *proficiency.Pooled) error {
	var cut []practice.Trainee
	var whose []int
	for i, t := range w.c.Fit.People {
		attempts := t.Numbers()
		until := len(attempts)
		if at := slices.Index(attempts, w.c.Members[i].Moves[0].Estimate); at >= 0 { // met, whatever came later
			until = at
		}
		first := moveEvery
		if w.o.Early {
			first = 0
		}
		for k := first; k < until; k += moveEvery {
			last := 0.0
			if k > 0 {
				last = attempts[k-1]
			}
			cut, whose = append(cut, t.Until(last)), append(whose, i)
		}
	}
	moves, err := pooled.Project(ctx, cut, w.Sampling())
	if err != nil {
		return err
	}
	for j, p := range moves {
		m := &w.c.Members[whose[j]]
		at := len(m.Moves) - 1 // the last is after all attempts
		m.Moves = slices.Insert(m.Moves, at, CohortMove{p.Seen, ruleMet(p, w.o.Early)})
	}
	return nil
}
