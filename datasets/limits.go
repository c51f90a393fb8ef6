package datasets

import (
	"maps"
	"slices"
	"strconv"

	"tyro/analysis/practice"
	"tyro/analysis/practice/ranges"
	"tyro/datasets/problem"
)

// A stated number is one that the study file gives, with its place in the file and the
// range it must lie in.
type stated struct {
	column string
	value  float64
	in     ranges.Range
}

// outside lists the stated numbers that lie outside their range.
func outside(numbers []stated) Problems {
	var ps Problems
	for _, n := range numbers {
		if n.in.Check(n.value) != nil {
			ps = append(ps, Problem{File: StudyFile, Column: n.column, Value: strconv.FormatFloat(n.value, 'g', -1, 64), Expect: n.in.String(), Err: problem.ErrRange})
		}
	}
	return ps
}

// given adds a number for which 0 means that it is not stated.
func given(list []stated, column string, value float64, in ranges.Range) []stated {
	if value == 0 {
		return list
	}
	return append(list, stated{column, value, in})
}

// levelRange is what a standard of the task's measure may be.
func (t Task) levelRange() ranges.Range {
	switch t.Measure {
	case Time:
		return ranges.Duration
	case Count:
		return ranges.CountLevel
	case PassFail:
		return ranges.InnerChance
	}
	return ranges.Response
}

// numbers are those that the study file states for the task.
func (t Task) numbers() []stated {
	list := given(nil, "limit", t.Limit, ranges.Limit)
	list = given(list, "horizon", t.Horizon, ranges.Horizon)
	for _, name := range slices.Sorted(maps.Keys(t.AtMost)) {
		list = append(list, stated{"at_most: " + name, t.AtMost[name], ranges.MostErrors})
	}
	if s := t.Standard; s != nil {
		list = append(list, stated{"standard", s.Value, t.levelRange()})
		list = append(list, decisionNumbers(*s)...)
	}
	if m := t.Monitor; m != nil {
		list = append(list, stated{"monitor: acceptable", m.Acceptable, ranges.FailureRate}, stated{"monitor: unacceptable", m.Unacceptable, ranges.FailureRate})
	}
	if s := t.Scoring; s != nil {
		list = append(list, s.numbers()...)
	}
	for i := range list {
		list[i].column = "task " + t.Name + ": " + list[i].column
	}
	return list
}

func decisionNumbers(s practice.Decision) []stated {
	var list []stated
	for _, end := range s.Interval {
		list = append(list, stated{"standard: interval", end, ranges.Response})
	}
	list = given(list, "standard: level", s.Level, ranges.Level)
	for _, share := range []struct {
		name  string
		value *float64
	}{{"false_pass", s.FalsePass}, {"false_fail", s.FalseFail}} {
		if share.value != nil {
			list = append(list, stated{"standard: " + share.name, *share.value, ranges.Share})
		}
	}
	if c := s.Computed; c != nil {
		const at = "standard: computed: "
		list = append(list, stated{at + "sds", c.SDs, ranges.SDs}, stated{at + "trim", c.Trim, ranges.Trim},
			stated{at + "drop_sds", c.DropSDs, ranges.SDs}, stated{at + "drop_mads", c.DropMADs, ranges.SDs},
			stated{at + "skip_runs", float64(c.SkipRuns), ranges.SkipRuns})
		list = given(list, at+"percentile", c.Percentile, ranges.Percentile)
	}
	return list
}

func (s Scoring) numbers() []stated {
	const at = "scoring: "
	list := []stated{{at + "start", s.Start, ranges.Points}, {at + "per_second", s.PerSecond, ranges.Points}, {at + "floor", s.Floor, ranges.Points}, {at + "cap", s.Cap, ranges.Points}, {at + "experts", s.Experts, ranges.Points}}
	for _, name := range slices.Sorted(maps.Keys(s.Penalty)) {
		list = append(list, stated{at + "penalty: " + name, s.Penalty[name], ranges.Points})
	}
	for _, name := range slices.Sorted(maps.Keys(s.Bands)) {
		for _, b := range s.Bands[name] {
			list = append(list, stated{at + "bands: " + name + ": points", b.Points, ranges.Points})
			if b.UpTo != nil {
				list = append(list, stated{at + "bands: " + name + ": up_to", *b.UpTo, ranges.Response})
			}
		}
	}
	return list
}

// repeated lists names that stand twice in a list of the study file.
func repeated(column string, names []string) Problems {
	var ps Problems
	for i, name := range names {
		if slices.Contains(names[:i], name) {
			ps = append(ps, Problem{File: StudyFile, Column: column, Value: name, Expect: "every name once", Err: problem.ErrDuplicate})
		}
	}
	return ps
}

// A Variation takes the place of what the study file says about one task, without
// changing the file.
type Variation struct {
	Task     string // blank: the first
	Standard *float64
	Rule     string
	Horizon  float64 // 0: as the file says
}

// Vary applies a variation to one task and checks it as the study file is checked.
func (s *Study) Vary(v Variation) error {
	i := slices.IndexFunc(s.Tasks, func(t Task) bool { return v.Task == "" || t.Name == v.Task })
	if i < 0 {
		return nil // there is no such task, which is found when it is looked for
	}
	t := &s.Tasks[i]
	if v.Standard != nil {
		t.Standard = &practice.Decision{Value: *v.Standard, Method: "given on the command line", Given: true}
	}
	if v.Rule != "" {
		t.Rule, t.RuleGiven = v.Rule, true
	}
	if v.Horizon != 0 {
		t.Horizon = v.Horizon
	}
	return t.settle().OrNil()
}

// Check lists what is wrong with the choices for a single table.
func (c Single) Check() error {
	t := c.task()
	return t.settle().OrNil()
}
