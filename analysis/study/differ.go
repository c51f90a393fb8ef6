package study

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"

	"tyro/analysis/practice"
	"tyro/analysis/proficiency"
	"tyro/analysis/stopping"
)

// A Side is one of two studies set side by side, or one study at one of two times.
type Side struct {
	Study  *Study
	Quota  *Quota
	Levels []RecentLevel
}

// A Move is a trainee who stands elsewhere on the second side than on the first.
type Move struct {
	Trainee, Arm string
	From, To     string // met, not met, or absent
	Attempt      float64
	Why          string
}

// What a trainee's status can be.
const (
	StatusMet    = "met the rule"
	StatusNotMet = "not met"
	StatusAbsent = "not in it"
)

// A Difference sets two sides beside each other.
type Difference struct {
	A, B  Side
	Moved []Move
	Same  int // trainees on both sides whose status is the same
}

// Differ sets two studies of one task side by side. Studies that mean different things by
// proficient are refused, with what differs.
func Differ(ctx context.Context, a, b *Study) (*Difference, error) {
	if err := sameMeaning(a, b); err != nil {
		return nil, err
	}
	out := &Difference{A: Side{Study: a}, B: Side{Study: b}}
	for _, side := range []*Side{&out.A, &out.B} {
		var err error
		if side.Quota, err = side.Study.Quota(ctx, QuotaOptions{}); err != nil {
			return nil, err
		}
		side.Levels = side.Study.RecentLevels()
	}
	out.move()
	return out, nil
}

// Alike reports whether both sides hold the same attempts of the same trainees, so that they
// cannot differ: of one study at two dates nothing was attempted between them.
func (d *Difference) Alike() bool {
	same := func(x, y practice.Attempt) bool {
		return x.Number == y.Number && x.Outcome == y.Outcome && (x.Response == y.Response || math.IsNaN(x.Response) && math.IsNaN(y.Response))
	}
	return slices.EqualFunc(d.A.Study.Trainees, d.B.Study.Trainees, func(x, y practice.Trainee) bool {
		return x.ID == y.ID && slices.EqualFunc(x.Attempts, y.Attempts, same)
	})
}

// sameMeaning names every way in which two studies mean different things.
func sameMeaning(a, b *Study) error {
	ta, tb := a.Task, b.Task
	var wrong []error
	differ := func(what, x, y string) {
		if x != y {
			wrong = append(wrong, fmt.Errorf("%s: the first has %s, the second %s", what, orNone(x), orNone(y)))
		}
	}
	number := func(v float64) string { return fmt.Sprintf("%g", v) }
	level := func(s *Study) string {
		if s.Task.Standard == nil {
			return ""
		}
		return number(s.Task.Standard.Value)
	}
	differ("standard", level(a), level(b))
	differ("rule", ta.Rule.String(), tb.Rule.String())
	differ("version of the scoring rule", ta.Scoring, tb.Scoring)
	differ("measure", string(ta.Measure), string(tb.Measure))
	differ("unit", ta.Unit, tb.Unit)
	differ("better", ta.Better(), tb.Better())
	differ("time limit", number(ta.Limit), number(tb.Limit))
	for _, name := range slices.Sorted(maps.Keys(both(ta.AtMost, tb.AtMost))) {
		differ("limit of "+name, limitText(ta.AtMost, name), limitText(tb.AtMost, name))
	}
	if err := errors.Join(wrong...); err != nil {
		return fmt.Errorf("the studies cannot be set side by side, since they do not mean the same:\n%w", err)
	}
	if ta.Measure == practice.PassFail && ta.Standard == nil && ta.Rule != nil {
		return a.needStandard("two studies side by side need")
	}
	if ta.Standard == nil || ta.Rule == nil {
		return errors.New("without a standard and a rule nobody's status is known: give --standard and --rule, or set them in the study file")
	}
	return nil
}

func orNone(s string) string {
	if s == "" {
		return "none"
	}
	return s
}

func both(a, b map[string]float64) map[string]float64 {
	out := maps.Clone(a)
	if out == nil {
		out = map[string]float64{}
	}
	maps.Copy(out, b)
	return out
}

func limitText(of map[string]float64, name string) string {
	if v, ok := of[name]; ok {
		return fmt.Sprintf("%g", v)
	}
	return ""
}

// move finds who stands elsewhere, by trainees' codes.
func (d *Difference) move() {
	first, second := ruleStatuses(d.A.Study), ruleStatuses(d.B.Study)
	for _, id := range order(d.A.Study, d.B.Study) {
		a, inA := first[id]
		b, inB := second[id]
		if inA && inB && a.status == b.status {
			d.Same++
			continue
		}
		m := Move{Trainee: id, Arm: b.arm, From: a.status, To: b.status, Attempt: math.NaN()}
		switch {
		case !inA:
			m.From, m.Why = StatusAbsent, fmt.Sprintf("not in the first, with %s in the second", counted(len(b.numbers), "attempt", "attempts"))
		case !inB:
			m.To, m.Arm, m.Why = StatusAbsent, a.arm, "not in the second"
		case b.status == StatusMet:
			m.Why = fmt.Sprintf("met at attempt %g; the first has %s, the second %s", b.at, counted(len(a.numbers), "attempt", "attempts"), counted(len(b.numbers), "attempt", "attempts"))
		default:
			m.Why = fmt.Sprintf("attempts that met the rule in the first, at attempt %g, are other ones in the second, or are gone", a.at)
		}
		if b.status == StatusMet {
			m.Attempt = b.at
		}
		d.Moved = append(d.Moved, m)
	}
}

// A ruleStatus is where one trainee stands.
type ruleStatus struct {
	arm, status string
	at          float64
	numbers     []float64
}

func ruleStatuses(s *Study) map[string]ruleStatus {
	out := map[string]ruleStatus{}
	for i, o := range s.Observed(stopping.Rule{Rule: s.Task.Rule}) {
		out[s.Trainees[i].ID] = newRuleStatus(s.Trainees[i], o)
	}
	return out
}

func newRuleStatus(t practice.Trainee, o proficiency.Observed) ruleStatus {
	out := ruleStatus{arm: t.Arm, status: StatusNotMet, at: math.NaN(), numbers: t.Numbers()}
	if o.Met {
		out.status, out.at = StatusMet, o.Attempt
	}
	return out
}

// order lists the trainees of the first, then those of the second alone.
func order(a, b *Study) []string {
	var out []string
	known := map[string]bool{}
	for _, s := range []*Study{a, b} {
		for _, t := range s.Trainees {
			if !known[t.ID] {
				out, known[t.ID] = append(out, t.ID), true
			}
		}
	}
	return out
}
