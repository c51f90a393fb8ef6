package datasets

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"time"
	"unicode"

	"tyro/analysis/practice"
	"tyro/datasets/problem"
)

// scoreColumn is the name under which a scoring rule's result can be followed.
const scoreColumn = "score"

// versionColumn is the column of a log that says under which version of the rule its
// scores were made.
const versionColumn = "scoring_version"

// The forms of a scoring rule.
const (
	points  = "points"  // start − per_second·seconds − penalties: higher is better
	seconds = "seconds" // seconds + penalties in seconds: lower is better
)

// A Scoring rule turns an attempt's time, error counts and deviations into one score.
// In the form points:
//
//	score = start − per_second·seconds − Σ penalty·count − Σ points of the band of a deviation
//
// in the form seconds:
//
//	score = seconds + Σ penalty·count + Σ points of the band of a deviation
//
// kept between floor and cap, and, where experts is given, as a percentage of it: the
// experts' score is 100. A hard fail has no score; a timeout has the floor in points, and
// in seconds the limit with its penalties. Scores made under different versions must not
// be compared.
type Scoring struct {
	Version   string             `yaml:"version"`
	Date      string             `yaml:"date"`   // since when it holds
	Starts    string             `yaml:"starts"` // when the clock starts, in words
	Stops     string             `yaml:"stops"`  // and when it stops
	Form      string             `yaml:"form"`   // points (blank) or seconds
	Start     float64            `yaml:"start"`
	Time      string             `yaml:"time"` // column with seconds
	PerSecond float64            `yaml:"per_second"`
	Penalty   map[string]float64 `yaml:"penalty"`   // points an error, by count column
	Bands     map[string][]Band  `yaml:"bands"`     // points by how large a deviation is, by column
	HardFail  []string           `yaml:"hard_fail"` // count columns of which one error fails the attempt
	Floor     float64            `yaml:"floor"`
	Cap       float64            `yaml:"cap"`     // 0 means none
	Experts   float64            `yaml:"experts"` // the experts' score, which counts as 100; 0 for none

	limit float64 // the task's time limit; 0 for none
}

// A Band says what a deviation up to a size costs, in the unit of its column.
type Band struct {
	UpTo   *float64 `yaml:"up_to"` // nil: any larger one
	Points float64  `yaml:"points"`
}

// better is which way the rule's score is better: fewer seconds, or more points.
func (s Scoring) better() string {
	if s.Form == seconds {
		return "lower"
	}
	return "higher"
}

// settle checks a rule.
func (s Scoring) settle(t Task) Problems {
	var ps Problems
	bad := func(column, value, expect string, kind error) {
		ps = append(ps, Problem{File: StudyFile, Column: "task " + t.Name + ": scoring: " + column, Value: value, Expect: expect, Err: kind})
	}
	if s.Version == "" {
		bad("version", "", "a version, so that scores made under different rules are not mixed", problem.ErrMissing)
	}
	if s.Date != "" && !isDate(s.Date) {
		bad("date", s.Date, "a date as 2026-02-28", problem.ErrFormat)
	}
	if !slices.Contains([]string{"", points, seconds}, s.Form) {
		bad("form", s.Form, "points or seconds", problem.ErrUnknown)
	}
	if s.Time == "" && (s.PerSecond != 0 || s.Form == seconds) {
		bad("time", "", "the column with seconds", problem.ErrMissing)
	}
	if s.Form == seconds && (s.Start != 0 || s.PerSecond != 0) {
		bad("start", fmt.Sprint(s.Start), "no start and per_second, since the form is seconds", problem.ErrRange)
	}
	if s.Cap != 0 && s.Cap <= s.Floor {
		bad("cap", fmt.Sprint(s.Cap), "a cap above the floor", problem.ErrRange)
	}
	if s.Experts < 0 {
		bad("experts", fmt.Sprint(s.Experts), "the experts' score, above 0", problem.ErrRange)
	}
	for _, name := range append(slices.Sorted(maps.Keys(s.Penalty)), s.HardFail...) {
		if !slices.Contains(t.Counts, name) {
			bad("penalty", name, "one of the task's counts", problem.ErrUnknown)
		}
	}
	for _, name := range slices.Sorted(maps.Keys(s.Bands)) {
		if len(s.Bands[name]) == 0 {
			bad("bands: "+name, "", "at least one band: [{up_to: 2, points: 0}, {points: 30}]", problem.ErrMissing)
		}
		for i, b := range s.Bands[name] {
			if b.UpTo != nil && *b.UpTo < 0 {
				bad("bands: "+name, fmt.Sprint(*b.UpTo), "a size from 0, since a deviation counts whichever its sign", problem.ErrRange)
			}
			switch last := i == len(s.Bands[name])-1; {
			case b.UpTo == nil && !last:
				bad("bands: "+name, "", "the band without up_to last", problem.ErrMissing)
			case b.UpTo != nil && last:
				bad("bands: "+name, "", "a last band without up_to, for any larger deviation", problem.ErrMissing)
			case i > 0 && b.UpTo != nil && s.Bands[name][i-1].UpTo != nil && *b.UpTo <= *s.Bands[name][i-1].UpTo:
				bad("bands: "+name, fmt.Sprint(*b.UpTo), "bands of growing size", problem.ErrRange)
			}
		}
	}
	return ps
}

// columns are the columns that a rule reads besides the task's counts.
func (s Scoring) columns() []string {
	out := slices.Sorted(maps.Keys(s.Bands))
	if s.Time != "" {
		out = append([]string{s.Time}, out...)
	}
	return out
}

// scoredTime is the column of the time that the task's scoring rule reads; blank where there is none.
func (t Task) scoredTime() string {
	if t.Scoring == nil {
		return ""
	}
	return t.Scoring.Time
}

// A Part is what one component does to a score, in its points.
type Part struct {
	Name  string
	Value float64 // as observed: seconds, a count, a deviation
	Adds  float64 // to the score; negative takes from it
}

// Parts are the components of an attempt's score, before floor and cap: the time first,
// then counts and deviations by name. What has both a weight and bands is one component.
func (s Scoring) Parts(of func(column string) float64) []Part {
	var out []Part
	sign := -1.0
	if s.Form == seconds {
		sign = 1
	}
	switch {
	case s.Form == seconds:
		out = append(out, Part{s.Time, of(s.Time), of(s.Time)})
	case s.PerSecond != 0:
		out = append(out, Part{s.Time, of(s.Time), product(-s.PerSecond, of(s.Time))})
	}
	for _, name := range slices.Sorted(maps.Keys(s.Penalty)) { // in order, so that the sum is the same in every run
		out = append(out, Part{name, of(name), product(sign*s.Penalty[name], of(name))})
	}
	for _, name := range slices.Sorted(maps.Keys(s.Bands)) {
		adds := sign*bandPoints(s.Bands[name], of(name)) + 0
		if k := slices.IndexFunc(out, func(p Part) bool { return p.Name == name }); k >= 0 {
			out[k].Adds += adds
			continue
		}
		out = append(out, Part{name, of(name), adds})
	}
	return out
}

// bandPoints is what a deviation costs; not known where the deviation is not.
func bandPoints(bands []Band, deviation float64) float64 {
	if math.IsNaN(deviation) {
		return deviation
	}
	for _, b := range bands {
		if b.UpTo == nil || math.Abs(deviation) <= *b.UpTo {
			return b.Points
		}
	}
	return 0
}

// total is the score of parts, between floor and cap, against experts.
func (s Scoring) total(parts []Part) float64 {
	v, largest := s.Start, math.Abs(s.Start)
	for _, p := range parts {
		v += p.Adds
		largest = max(largest, math.Abs(p.Adds))
	}
	v = decimal(v, largest)
	v = math.Max(v, s.Floor)
	if s.Cap != 0 {
		v = math.Min(v, s.Cap)
	}
	return s.againstExperts(v)
}

func (s Scoring) againstExperts(v float64) float64 {
	if s.Experts > 0 {
		return decimal(100*v, 100*v) / s.Experts
	}
	return v
}

// Score is the score of one attempt: NaN for a hard fail, a void attempt or a missing
// component.
func (s Scoring) Score(time float64, counts map[string]float64, o Outcome) float64 {
	return s.scoreOf(func(column string) float64 {
		if column == s.Time {
			return time
		}
		if v, ok := counts[column]; ok {
			return v
		}
		return math.NaN()
	}, o)
}

func (s Scoring) scoreOf(of func(column string) float64, o Outcome) float64 {
	for _, name := range s.HardFail {
		if of(name) > 0 {
			return math.NaN()
		}
	}
	switch {
	case o == Failed || o == Void:
		return math.NaN()
	case o == Timeout && s.Form != seconds:
		return s.againstExperts(s.Floor)
	}
	return s.total(s.Parts(s.atLimit(of, o)))
}

// atLimit gives an attempt's values with the limit as the time of a timeout in seconds: one that
// was stopped earlier, or whose time was not written down, would have taken as long at least.
func (s Scoring) atLimit(of func(column string) float64, o Outcome) func(column string) float64 {
	if o != Timeout || s.Form != seconds || s.limit == 0 {
		return of
	}
	return func(column string) float64 {
		v := of(column)
		if column == s.Time && !(v > s.limit) {
			return s.limit
		}
		return v
	}
}

// score checks that an attempt has what the task's scoring rule needs, and makes it a hard
// fail where the rule says so.
func (r *logReader) score(a *Attempt, values []float64, t *Task) {
	if t.Scoring == nil {
		return
	}
	of := func(name string) float64 {
		if i := slices.Index(r.measures, name); i >= 0 {
			return values[i]
		}
		return math.NaN()
	}
	for _, name := range t.Scoring.HardFail {
		if of(name) > 0 && a.Outcome != Void {
			a.Outcome = Failed
		}
	}
	if a.Outcome != Done {
		return
	}
	for _, p := range t.Scoring.Parts(of) {
		if math.IsNaN(p.Value) {
			r.badAttempt(*a, p.Name, "", "a number, since the scoring rule uses it", problem.ErrMissing)
		}
	}
	for _, name := range t.Scoring.HardFail {
		if _, weighed := t.Scoring.Penalty[name]; !weighed && math.IsNaN(of(name)) {
			r.badAttempt(*a, name, "", "a number, 0 for none, since one of them is a hard fail", problem.ErrMissing)
		}
	}
}

// Response is an attempt's value of the task's measure: the column's value, or
// the scoring rule's result.
func (l Log) Response(a Attempt, t Task) float64 { return l.responses(t)(a) }

// responses gives the values of the task's measure.
func (l Log) responses(t Task) func(Attempt) float64 {
	if t.Scoring != nil && t.Column == scoreColumn {
		return func(a Attempt) float64 { return l.Score(a, t) }
	}
	i := l.Column(t.Column)
	if i < 0 {
		return func(Attempt) float64 { return math.NaN() }
	}
	return func(a Attempt) float64 { return l.Values(a)[i] }
}

// valueOf gives an attempt's values by column; NaN for one that the log lacks.
func (l Log) valueOf(a Attempt) func(column string) float64 {
	return func(column string) float64 {
		if i := l.Column(column); i >= 0 {
			return l.Values(a)[i]
		}
		return math.NaN()
	}
}

// Score is the scoring rule's result for an attempt; NaN without a rule.
func (l Log) Score(a Attempt, t Task) float64 {
	if t.Scoring == nil {
		return math.NaN()
	}
	return t.Scoring.scoreOf(l.valueOf(a), a.Outcome)
}

// Clean reports whether an attempt has no more errors than a pass may have; an
// unknown count is not clean.
func (l Log) Clean(a Attempt, t Task) bool { return l.cleans(t)(a) }

// cleans reports of attempts at a task whether they are clean.
func (l Log) cleans(t Task) func(Attempt) bool {
	if len(t.AtMost) == 0 {
		return func(Attempt) bool { return true }
	}
	return func(a Attempt) bool {
		for name, most := range t.AtMost {
			if i := l.Column(name); i >= 0 && !(l.Values(a)[i] <= most) {
				return false
			}
		}
		return true
	}
}

// Scored are the attempts at a task with their scores and what these are made of, and the
// scores when each weight is changed up and down by a share of it.
func (s *Study) Scored(task string, step float64) (practice.ScoreSheet, error) {
	t, err := s.TaskNamed(task)
	if err != nil {
		return practice.ScoreSheet{}, err
	}
	if t.Scoring == nil {
		return practice.ScoreSheet{}, Problem{File: StudyFile, Column: "task " + t.Name + ": scoring", Err: problem.ErrMissing, Expect: "a scoring rule, with its version"}
	}
	rule := *t.Scoring
	out := practice.ScoreSheet{
		Task: t.Name, Version: rule.Version, Date: rule.Date, Starts: rule.Starts, Stops: rule.Stops, Lower: rule.better() == "lower",
		Start: rule.Start, Floor: rule.againstExperts(rule.Floor), Cap: math.NaN(), Experts: rule.Experts, Step: step,
	}
	if rule.Cap != 0 {
		out.Cap = rule.againstExperts(rule.Cap)
	}
	out.Attempts, out.ExpertRuns = rule.scored(s.Attempts, t), rule.scored(s.Experts, t)
	out.Without = rule.without(s.Attempts, t)
	for _, w := range rule.weights() {
		for _, factor := range []float64{1 - step, 1 + step} {
			other := w.by(factor)
			c := practice.WeightChange{Component: w.component, From: w.value, To: w.value * factor}
			for _, a := range other.scored(s.Attempts, t) {
				c.Attempts = append(c.Attempts, a.Score)
			}
			for _, a := range other.scored(s.Experts, t) {
				c.Expert = append(c.Expert, a.Score)
			}
			out.Changes = append(out.Changes, c)
		}
	}
	return out, nil
}

// scored are the attempts of a log at a task under the rule, in canonical order.
func (s Scoring) scored(l Log, t Task) []practice.ScoredAttempt {
	var out []practice.ScoredAttempt
	for _, a := range l.canonical() {
		if a.Task != t.Name {
			continue
		}
		of := s.atLimit(l.valueOf(a), a.Outcome)
		row := practice.ScoredAttempt{Trainee: a.Trainee, Arm: a.Arm, Number: a.Number, Outcome: a.Outcome, Score: s.scoreOf(of, a.Outcome), Clean: l.Clean(a, t)}
		for _, p := range s.Parts(of) {
			row.Parts = append(row.Parts, practice.ScorePart(p))
		}
		out = append(out, row)
	}
	return out
}

// A ruleWeight is one weight of a rule, and the rule with the weight times a factor.
type ruleWeight struct {
	component string
	value     float64
	by        func(factor float64) Scoring
}

// weights lists a rule's weights: of a second, of an error of each kind, of the points of
// bands together.
func (s Scoring) weights() []ruleWeight {
	var out []ruleWeight
	if s.PerSecond != 0 {
		out = append(out, ruleWeight{s.Time, s.PerSecond, func(f float64) Scoring {
			r := s
			r.PerSecond *= f
			return r
		}})
	}
	for _, name := range sortedKeys(s.Penalty) {
		out = append(out, ruleWeight{name, s.Penalty[name], func(f float64) Scoring {
			r := s
			r.Penalty = maps.Clone(s.Penalty)
			r.Penalty[name] *= f
			return r
		}})
	}
	for _, name := range sortedKeys(s.Bands) {
		out = append(out, ruleWeight{name, 1, func(f float64) Scoring {
			r := s
			r.Bands = maps.Clone(s.Bands)
			r.Bands[name] = slices.Clone(s.Bands[name])
			for i := range r.Bands[name] {
				r.Bands[name][i].Points *= f
			}
			return r
		}})
	}
	return out
}

// without are the scores of all attempts in canonical order when one component counts for
// nothing, component by component.
func (s Scoring) without(l Log, t Task) map[string][]float64 {
	out := map[string][]float64{}
	for _, a := range l.canonical() {
		if a.Task != t.Name {
			continue
		}
		parts := s.Parts(s.atLimit(l.valueOf(a), a.Outcome))
		for k, p := range parts {
			v := s.scoreOf(l.valueOf(a), a.Outcome)
			if !math.IsNaN(v) && !(a.Outcome == Timeout && s.Form != seconds) {
				rest := slices.Clone(parts)
				rest[k].Adds = 0
				v = s.total(rest)
			}
			out[p.Name] = append(out[p.Name], v)
		}
	}
	return out
}

// checkVersion refuses a log whose scores of a task were made under another version of its rule,
// or under several.
func (r *logReader) checkVersion() {
	j := r.table.column(versionColumn)
	if j < 0 {
		return
	}
	r.named = append(r.named, versionColumn)
	task := r.texts(r.cols.Task)
	versions := map[string][]string{} // of each task, as first seen
	for i := range r.table.rows() {
		name, version := task(i), r.table.text(i, j)
		if name == "" && len(r.study.Tasks) > 0 {
			name = r.study.Tasks[0].Name
		}
		if version != "" && !slices.Contains(versions[name], version) {
			versions[name] = append(versions[name], version)
		}
	}
	for _, t := range r.study.Tasks {
		switch names := versions[t.Name]; {
		case len(names) > 1:
			r.ask(versionColumn, problem.List(names, 5), fmt.Sprintf("scores of one version of the rule, since others cannot be compared with them: --where %s=%s (in a study file: where)", versionColumn, names[0]))
			return
		case t.Scoring != nil && len(names) == 1 && names[0] != t.Scoring.Version:
			r.bad(0, versionColumn, names[0], fmt.Sprintf("version %s, the one of the study file's rule for task %s; score the attempts anew", t.Scoring.Version, t.Name), problem.ErrRange)
			return
		}
	}
}

// ruleDoubts notes attempts made before their rule held, timeouts whose score is only a bound, and
// weights by which errors better a score.
func (r *logReader) ruleDoubts(log Log) {
	for _, t := range r.study.Tasks {
		if t.Scoring == nil {
			continue
		}
		var odd []string
		for _, w := range t.Scoring.weights() {
			if w.value < 0 {
				odd = append(odd, fmt.Sprintf("%s: %g", w.component, w.value))
			}
		}
		if len(odd) > 0 {
			r.note("weight-below-0", fmt.Sprintf("task %s: the scoring rule has weights below 0 (%s), by which more of it makes a score better; what costs points has a weight above 0", t.Name, problem.List(odd, mostNamed)))
		}
		before, all, stopped, made := 0, 0, 0, 0
		for _, a := range log.Attempts {
			if a.Task != t.Name {
				continue
			}
			made++
			if a.Outcome == Timeout {
				stopped++
			}
			if day := log.Date(a); day != "" {
				all++
				if t.Scoring.Date != "" && day[:len(time.DateOnly)] < t.Scoring.Date {
					before++
				}
			}
		}
		if stopped > 0 && t.Column == scoreColumn {
			score := "the floor"
			if t.Scoring.Form == seconds {
				score = "the limit with their penalties"
			}
			r.note("timeouts-scored", fmt.Sprintf("%s: %d of %d attempts at %s are timeouts and have the score of %s; how much worse they were is not known, so that means are too good and a curve of scores starts too flat", r.file, stopped, made, t.Name, score))
		}
		if before > 0 {
			r.note("before-the-rule", fmt.Sprintf("%s: %d of %d dated attempts at %s were made before %s, since when version %s of the scoring rule holds, and are scored by it all the same; say so where scores are shown, and do not compare them with scores given at the time", r.file, before, all, t.Name, t.Scoring.Date, t.Scoring.Version))
		}
	}
}

// sizeUnits are words for units of lengths, angles and masses, and what else they may mean they mean
// in no name of a column.
var sizeUnits = []string{"nm", "um", "µm", "mm", "cm", "dm", "inch", "deg", "rad", "mg", "kg"}

// otherUnit refuses a column whose cells have another unit than its name says: its bands, limits
// and standards are in that of the name.
func (r *logReader) otherUnit() {
	for _, m := range r.readers {
		named := strings.FieldsFunc(strings.ToLower(m.name), func(c rune) bool { return !unicode.IsLetter(c) })
		if len(named) < 2 || !slices.Contains(sizeUnits, named[len(named)-1]) {
			continue
		}
		unit := named[len(named)-1]
		for _, c := range m.cells {
			suffix := m.ways[c.source].suffix
			if suffix == "" || slices.Contains(named, strings.ToLower(suffix)) || !strings.HasSuffix(r.table.textOf(c.id), suffix) {
				continue
			}
			r.bad(r.table.headLine(), m.name, r.table.textOf(c.id), fmt.Sprintf("numbers in %s, as the name of the column says, since what the study file says of them is in it: convert the cells, or give the column another name", unit), problem.ErrRange)
			break
		}
	}
}
