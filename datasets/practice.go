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
	l.each(t, func(p practice.Trainee) { out = append(out, p) })
	return out
}

// each gives the people with attempts at a task one after the other, in the order first
// seen.
func (l Log) each(t Task, see func(practice.Trainee)) {
	counts := make([]int, len(t.Counts))
	for k, name := range t.Counts {
		counts[k] = l.Column(name)
	}
	for _, rows := range l.byTrainee(t.Name) {
		first := l.Attempts[rows[0]]
		p := practice.Trainee{ID: first.Trainee, Arm: first.Arm, ErrorLimits: len(t.AtMost) > 0, Attempts: make([]practice.Attempt, 0, len(rows))}
		if t.Measure == Time {
			p.Limit = t.Limit
		}
		for _, i := range rows {
			p.Attempts = append(p.Attempts, l.attempt(l.Attempts[i], t, counts))
		}
		slices.SortStableFunc(p.Attempts, func(a, b practice.Attempt) int { return cmp.Compare(a.Number, b.Number) })
		countSessions(p.Attempts)
		see(p)
	}
}

// byTrainee are the rows of a task's attempts, trainee by trainee.
func (l Log) byTrainee(task string) [][]int32 {
	at := map[string]int{}
	var sizes []int
	of := make([]int32, len(l.Attempts)) // the trainee of each row; -1 for another task
	var before *Place
	for i, a := range l.Attempts {
		switch {
		case a.Task != task:
			of[i], before = -1, nil
			continue
		case before != nil && a.Place == before:
			of[i] = of[i-1]
		default:
			k, seen := at[a.Trainee]
			if !seen {
				k = len(sizes)
				at[a.Trainee], sizes = k, append(sizes, 0)
			}
			of[i] = int32(k)
		}
		before = a.Place
		sizes[of[i]]++
	}
	all, out := make([]int32, 0, len(of)), make([][]int32, len(sizes))
	for k, n := range sizes {
		out[k] = all[len(all) : len(all) : len(all)+n]
		all = all[:len(all)+n]
	}
	for i, k := range of {
		if k >= 0 {
			out[k] = append(out[k], int32(i))
		}
	}
	return out
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

// Each gives the trainees of a task one after the other.
func (s *Study) Each(task string, see func(practice.Trainee)) error {
	if len(s.Tasks) == 0 {
		return nil
	}
	t, err := s.TaskNamed(task)
	if err == nil {
		s.Attempts.each(t, see)
	}
	return err
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
