package datasets

import (
	"cmp"
	"math"
	"slices"

	"tyro/analysis/practice"
	"tyro/datasets/problem"
)

// Practice is what was seen at one task of the study, in the form that every
// analysis reads: the only walk over the attempt log. A blank name means the first
// task. A study of ratings alone has no task.
func (s *Study) Practice(task string) (practice.Practice, error) {
	p, err := s.Outline(task)
	if err != nil || len(s.Tasks) == 0 {
		return p, err
	}
	t, err := s.TaskNamed(task)
	if err != nil {
		return p, err
	}
	p.Trainees, p.Experts = s.Attempts.trainees(t), s.Experts.trainees(t)
	p.Arms = s.armsOf(p.Trainees)
	if t.Scoring != nil {
		sheet, err := s.Scored(task, practice.DefaultWeightStep)
		if err != nil {
			return p, err
		}
		p.Scores = &sheet
	}
	p.Covariates, err = s.covariatesOf(p.Trainees)
	return p, err
}

// frame is what a practice says of the study as a whole.
func (s *Study) frame() practice.Practice {
	p := practice.Practice{
		Title: s.Title, Purpose: s.Purpose, Decides: s.Decides, Seed: s.Seed, SHA256: s.SHA256, Notes: s.Notes, Files: s.Files,
	}
	if s.Privacy != nil {
		p.SmallestCell = s.Privacy.SmallestCell
	}
	if s.Ratings != nil {
		p.Items, p.ItemNotes = s.Ratings.Items, s.Ratings.Notes
	}
	return p
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
	l.each(t, true, func(p practice.Trainee) { out = append(out, p) })
	return out
}

// each gives the people with attempts at a task one after the other, in the order first
// seen; their attempts stand where those of the next will, unless they are kept.
func (l Log) each(t Task, keep bool, see func(practice.Trainee)) {
	counts := make([]int, len(t.Counts))
	for k, name := range t.Counts {
		counts[k] = l.Column(name)
	}
	response, clean := l.responses(t), l.cleans(t)
	var attempts []practice.Attempt
	var errs []float64
	people := l.byTrainee(t.Name)
	for who := range people.groups() {
		rows := people.of(who)
		first := l.Attempts[rows[0]]
		p := practice.Trainee{ID: first.Trainee, Arm: first.Arm, ErrorLimits: len(t.AtMost) > 0}
		if t.Measure == Time {
			p.Limit = t.Limit
		}
		if keep {
			attempts, errs = make([]practice.Attempt, 0, len(rows)), make([]float64, 0, len(rows)*len(counts))
		}
		attempts, errs = attempts[:0], slices.Grow(errs[:0], len(rows)*len(counts))
		slices.SortStableFunc(rows, func(i, k int32) int { return cmp.Compare(l.Attempts[i].Number, l.Attempts[k].Number) })
		for _, i := range rows {
			a := l.Attempts[i]
			from := len(errs)
			for _, c := range counts {
				errs = append(errs, l.Values(a)[c])
			}
			one := practice.Attempt{
				Number: a.Number, Response: response(a), Outcome: a.Outcome, Clean: clean(a), Session: a.Session, Date: l.Date(a),
				Censored: a.Outcome == Timeout && t.Measure == Time,
			}
			if a.Outcome == Failed {
				one.Response = math.NaN()
			}
			if len(counts) > 0 {
				one.Errors = errs[from:len(errs):len(errs)]
			}
			attempts = append(attempts, one)
		}
		countSessions(attempts)
		p.Attempts = attempts
		see(p)
	}
}

// byTrainee are the rows of a task's attempts, trainee by trainee.
func (l Log) byTrainee(task string) grouping {
	p := l.placing()
	at := make([]int32, len(p.trainees)) // of each trainee, from 1
	group, groups := make([]int32, len(p.all)), 0
	for i, place := range p.all {
		if place.Task != task {
			group[i] = -1
			continue
		}
		if at[p.trainee[i]] == 0 {
			groups++
			at[p.trainee[i]] = int32(groups)
		}
		group[i] = at[p.trainee[i]] - 1
	}
	return p.grouped(group, groups)
}

// LetGo lets the tables go in which covariates are looked for, once none are needed, so
// that a large log does not keep the cells it was read from.
func (s *Study) LetGo() { s.attemptSheet, s.traineeSheet = nil, nil }

// Outline is what [Study.Practice] gives without any trainee, for those who look at
// trainees one by one.
func (s *Study) Outline(task string) (practice.Practice, error) {
	p := s.frame()
	if len(s.Tasks) == 0 {
		return p, nil
	}
	t, err := s.TaskNamed(task)
	if err == nil {
		p.Task, err = t.practised()
	}
	return p, err
}

// Each gives the trainees of a task one after the other. A trainee's attempts hold until the
// next trainee is given.
func (s *Study) Each(task string, see func(practice.Trainee)) error {
	if len(s.Tasks) == 0 {
		return nil
	}
	t, err := s.TaskNamed(task)
	if err == nil {
		s.Attempts.each(t, false, see)
	}
	return err
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
		ps = problem.Append(ps, err)
		out = append(out, one)
	}
	return out, ps.OrNil()
}
