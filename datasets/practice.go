package datasets

import (
	"cmp"
	"math"
	"slices"

	"tyro/analysis/practice"
)

// Practice is what was seen at one task of the study, in the form that every
// analysis reads: the only walk over the attempt log. A blank name means the first
// task. A study of ratings alone has no task.
func (s *Study) Practice(task string) (practice.Practice, error) {
	p := practice.Practice{
		Title: s.Title, Purpose: s.Purpose, Decides: s.Decides, Seed: s.Seed, SHA256: s.SHA256, Notes: s.Notes,
	}
	if s.Ratings != nil {
		p.Items, p.ItemNotes = s.Ratings.Items, s.Ratings.Notes
	}
	if len(s.Tasks) == 0 {
		return p, nil
	}
	t, err := s.TaskNamed(task)
	if err != nil {
		return p, err
	}
	if p.Task, err = t.practised(); err != nil {
		return p, err
	}
	p.Trainees, p.Experts = s.Attempts.trainees(t), s.Experts.trainees(t)
	p.Arms = s.armsOf(p.Trainees)
	p.Covariates, err = s.covariatesOf(p.Trainees)
	return p, err
}

// practised is the task as the analyses know it.
func (t Task) practised() (practice.Task, error) {
	out := practice.Task{
		Name: t.Name, Measure: t.Measure, Response: t.Column, Unit: t.Unit, Lower: t.LowerIsBetter(), Limit: t.Limit,
		Counts: t.Counts, AtMost: t.AtMost, Standard: t.Standard, Horizon: t.Horizon, Rates: t.Monitor, Costs: t.Costs, Margin: t.Margin,
	}
	if t.Scoring != nil {
		out.Scoring = t.Scoring.Version
	}
	if t.Rule == "" {
		return out, nil
	}
	out.RuleGiven = t.RuleGiven
	var err error
	out.Rule, err = practice.ParseRule(t.Rule)
	return out, err
}

// trainees sorts the attempts at a task into people, in the order first seen.
func (l Log) trainees(t Task) []practice.Trainee {
	var out []practice.Trainee
	at := map[string]int{}
	counts := make([]int, len(t.Counts))
	for k, name := range t.Counts {
		counts[k] = l.Column(name)
	}
	for _, a := range l.Attempts {
		if a.Task != t.Name {
			continue
		}
		i, ok := at[a.Trainee]
		if !ok {
			i = len(out)
			at[a.Trainee] = i
			out = append(out, practice.Trainee{ID: a.Trainee, Arm: a.Arm, ErrorLimits: len(t.AtMost) > 0})
			if t.Measure == Time {
				out[i].Limit = t.Limit
			}
		}
		out[i].Attempts = append(out[i].Attempts, l.attempt(a, t, counts))
	}
	for i := range out {
		attempts := out[i].Attempts
		slices.SortStableFunc(attempts, func(a, b practice.Attempt) int { return cmp.Compare(a.Number, b.Number) })
		countSessions(attempts)
	}
	return out
}

// attempt is one row of the log; counts are the columns of the task's error counts.
func (l Log) attempt(a Attempt, t Task, counts []int) practice.Attempt {
	out := practice.Attempt{
		Number: a.Number, Response: l.Response(a, t), Outcome: a.Outcome, Clean: l.Clean(a, t), Session: a.Session, Date: a.Date,
		Censored: a.Outcome == Timeout && t.Measure == Time,
	}
	if a.Outcome == Failed {
		out.Response = math.NaN()
	}
	for _, c := range counts {
		out.Errors = append(out.Errors, a.Values[c])
	}
	return out
}

// countSessions counts the attempts of every session after the first.
func countSessions(attempts []practice.Attempt) {
	since, first := 0.0, true
	for i := range attempts {
		if i > 0 && attempts[i].Session != attempts[i-1].Session {
			since, first = 0, false
		}
		if since++; !first {
			attempts[i].Since = since
		}
	}
}

// armsOf lists the arms that have trainees: in the order of the study file, then as
// first seen.
func (s *Study) armsOf(ts []practice.Trainee) []string {
	out := slices.Clone(s.Arms)
	for _, t := range ts {
		if !slices.Contains(out, t.Arm) {
			out = append(out, t.Arm)
		}
	}
	return slices.DeleteFunc(out, func(a string) bool {
		return !slices.ContainsFunc(ts, func(t practice.Trainee) bool { return t.Arm == a })
	})
}

// covariatesOf reads the study's covariates of the trainees whom a curve can be
// fitted to, and reports every problem of all of them.
func (s *Study) covariatesOf(ts []practice.Trainee) ([]practice.Covariate, error) {
	var ids []string
	for _, t := range ts {
		if t.Number(practice.Attempt.Measured) > 0 {
			ids = append(ids, t.ID)
		}
	}
	var out []practice.Covariate
	var ps Problems
	for _, c := range s.Covariates {
		one, err := s.Covariate(c, ids)
		ps = appendProblems(ps, err)
		out = append(out, one)
	}
	return out, ps.orNil()
}
