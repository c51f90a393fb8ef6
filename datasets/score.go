package datasets

import (
	"fmt"
	"maps"
	"math"
	"slices"
)

// scoreColumn is the name under which a scoring rule's result can be followed.
const scoreColumn = "score"

// A Scoring rule turns an attempt's time and error counts into one score:
//
//	score = start − per_second·seconds − Σ penalty·count
//
// kept between floor and cap. A hard fail has no score; a timeout has the
// floor. Scores made under different versions must not be compared.
type Scoring struct {
	Version   string             `yaml:"version"`
	Start     float64            `yaml:"start"`
	Time      string             `yaml:"time"` // column with seconds
	PerSecond float64            `yaml:"per_second"`
	Penalty   map[string]float64 `yaml:"penalty"` // points an error, by count column
	Floor     float64            `yaml:"floor"`
	Cap       float64            `yaml:"cap"` // 0 means none
}

func (s Scoring) settle(t Task) Problems {
	var ps Problems
	bad := func(column, value, expect string, kind error) {
		ps = append(ps, Problem{File: StudyFile, Column: "task " + t.Name + ": scoring: " + column, Value: value, Expect: expect, Err: kind})
	}
	if s.Version == "" {
		bad("version", "", "a version, so that scores made under different rules are not mixed", ErrMissing)
	}
	if s.Time == "" && s.PerSecond != 0 {
		bad("time", "", "the column with seconds", ErrMissing)
	}
	if s.Cap != 0 && s.Cap <= s.Floor {
		bad("cap", fmt.Sprint(s.Cap), "a cap above the floor", ErrRange)
	}
	for _, name := range slices.Sorted(maps.Keys(s.Penalty)) {
		if !slices.Contains(t.Counts, name) {
			bad("penalty", name, "one of the task's counts", ErrUnknown)
		}
	}
	return ps
}

// Score is the score of one attempt: NaN for a hard fail, a void attempt or a
// missing component.
func (s Scoring) Score(seconds float64, counts map[string]float64, o Outcome) float64 {
	switch o {
	case Failed, Void:
		return math.NaN()
	case Timeout:
		return s.Floor
	}
	v := s.Start
	if s.PerSecond != 0 {
		v -= s.PerSecond * seconds
	}
	for _, name := range slices.Sorted(maps.Keys(s.Penalty)) { // in order, so that the sum is the same in every run
		v -= s.Penalty[name] * counts[name]
	}
	v = math.Max(v, s.Floor)
	if s.Cap != 0 {
		v = math.Min(v, s.Cap)
	}
	return v
}

// score checks that an attempt has what the task's scoring rule needs.
func (r *logReader) score(a *Attempt, t Task) {
	if t.Scoring == nil || a.Outcome != Done {
		return
	}
	for _, name := range slices.Sorted(maps.Keys(t.Scoring.Penalty)) {
		if i := slices.Index(r.measures, name); i >= 0 && math.IsNaN(a.Values[i]) {
			r.bad(int(a.Line), name, "", "a count, since the scoring rule uses it", ErrMissing)
		}
	}
	if i := slices.Index(r.measures, t.Scoring.Time); i >= 0 && math.IsNaN(a.Values[i]) {
		r.bad(int(a.Line), t.Scoring.Time, "", "a time, since the scoring rule uses it", ErrMissing)
	}
}

// Response is an attempt's value of the task's measure: the column's value, or
// the scoring rule's result.
func (l Log) Response(a Attempt, t Task) float64 {
	if t.Scoring == nil || t.Column != scoreColumn {
		if i := l.Column(t.Column); i >= 0 {
			return a.Values[i]
		}
		return math.NaN()
	}
	return l.Score(a, t)
}

// Score is the scoring rule's result for an attempt; NaN without a rule.
func (l Log) Score(a Attempt, t Task) float64 {
	if t.Scoring == nil {
		return math.NaN()
	}
	counts := map[string]float64{}
	for _, name := range t.Counts {
		if i := l.Column(name); i >= 0 {
			counts[name] = a.Values[i]
		}
	}
	seconds := math.NaN()
	if i := l.Column(t.Scoring.Time); i >= 0 {
		seconds = a.Values[i]
	}
	return t.Scoring.Score(seconds, counts, a.Outcome)
}

// Clean reports whether an attempt has no more errors than a pass may have; an
// unknown count is not clean.
func (l Log) Clean(a Attempt, t Task) bool {
	for name, most := range t.AtMost {
		if i := l.Column(name); i >= 0 && !(a.Values[i] <= most) {
			return false
		}
	}
	return true
}
