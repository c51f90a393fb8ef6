package reports

import (
	"fmt"
	"math"

	"tyro/analysis/proficiency"
	"tyro/analysis/study"
)

// Diff sets two studies, or one study at two dates, side by side.
type Diff struct {
	Header
	A       DiffSide    `json:"a"`
	B       DiffSide    `json:"b"`
	Rule    string      `json:"rule"`
	Level   float64     `json:"level"`
	Quota   []DiffQuota `json:"quota"`
	Recent  []DiffLevel `json:"recent_level"`
	Cost    []DiffCost  `json:"cost_per_proficient"`
	Moved   []DiffMove  `json:"moved"`
	Same    int         `json:"same_status"` // trainees on both sides who did not move
	Caution string      `json:"caution"`

	unit, costUnit string
}

// A DiffSide names one side.
type DiffSide struct {
	Study      string `json:"study"`
	AsOf       string `json:"as_of"` // blank for all there is
	Trainees   int    `json:"trainees"`
	Attempts   int    `json:"attempts"`
	Met        int    `json:"met"`
	DataSHA256 string `json:"data_sha256"`
}

// A DiffQuota is the attempts by which a share has met the rule, on both sides.
type DiffQuota struct {
	Arm   string  `json:"arm"`
	Basis string  `json:"basis"`
	Share float64 `json:"share"`
	A     Limits  `json:"a"`
	B     Limits  `json:"b"`
}

// A DiffLevel is the recent level on both sides.
type DiffLevel struct {
	Arm      string `json:"arm"`
	NA       int    `json:"n_a"`
	NB       int    `json:"n_b"`
	UnknownA int    `json:"unknown_a"` // trainees whose last attempts mostly ended at the limit, or have no measure
	UnknownB int    `json:"unknown_b"`
	A        Limits `json:"a"`
	B        Limits `json:"b"`
}

// A DiffCost is the cost of a proficient trainee when practice stops at the rule.
type DiffCost struct {
	Arm       string `json:"arm"`
	Basis     string `json:"basis"`
	AttemptsA int    `json:"attempts_a"`
	AttemptsB int    `json:"attempts_b"`
	A         Limits `json:"a"`
	B         Limits `json:"b"`
}

// A DiffMove is a trainee whose status moved.
type DiffMove struct {
	Trainee string `json:"trainee"`
	Arm     string `json:"arm"`
	From    string `json:"from"`
	To      string `json:"to"`
	Attempt Number `json:"attempt"` // at which the rule was met; null where it was not
	Why     string `json:"why"`
}

// NewDiff words the answer. names are what the sides are called, dates the days as of
// which they were looked at.
func NewDiff(d *study.Difference, names, dates [2]string) *Diff {
	b := d.B.Study
	out := &Diff{
		Header: headerOf("diff", b), Rule: b.Task.Rule.String(), Level: b.Options.Level, Quota: []DiffQuota{}, Recent: []DiffLevel{}, Cost: []DiffCost{},
		Moved: []DiffMove{}, Same: d.Same, Caution: Caution, unit: b.Task.Unit,
	}
	out.A, out.B = newDiffSide(d.A, names[0], dates[0]), newDiffSide(d.B, names[1], dates[1])
	qa, qb := NewQuota(d.A.Study, d.A.Quota), NewQuota(b, d.B.Quota)
	out.quotas(qa, qb)
	out.levels(d.A.Levels, d.B.Levels)
	out.costs(qa, qb)
	for _, m := range d.Moved {
		out.Moved = append(out.Moved, DiffMove{m.Trainee, m.Arm, m.From, m.To, Number(m.Attempt), m.Why})
	}
	if d.Alike() {
		out.Warn("same-attempts", "both sides hold the same attempts of the same trainees, so nothing can differ; of one study at two dates none was made between them")
	}
	for k, side := range []study.Side{d.A, d.B} {
		for _, w := range side.Quota.Warnings {
			if w.Code == "none-left" { // of a schedule, which is not shown here
				continue
			}
			out.Warn(w.Code, []string{"in A, ", "in B, "}[k]+w.Text)
		}
	}
	out.hideOthers(d.A.Study, b.Options.Request)
	return out
}

// hideOthers hides those of the first side too who are not asked for.
func (d *Diff) hideOthers(a *study.Study, r study.Request) {
	for _, t := range a.Trainees {
		if d.Shown != nil && r.Hides(t.ID, t.Arm) && d.ShowsTrainee(t.ID) {
			d.Shown.hidden = append(d.Shown.hidden, t.ID)
		}
	}
}

func newDiffSide(s study.Side, name, date string) DiffSide {
	out := DiffSide{Study: name, AsOf: date, Trainees: len(s.Study.Trainees), DataSHA256: s.Study.SHA256}
	for _, t := range s.Study.Trainees {
		out.Attempts += len(t.Counted())
	}
	if len(s.Quota.Groups) > 0 {
		out.Met = s.Quota.Groups[0].Met
	}
	return out
}

// unknownLimits are limits of which nothing is known.
func unknownLimits() Limits {
	nan := Number(math.NaN())
	return Limits{nan, nan, nan}
}

// quotas pairs what both sides, or one of them, say of a share.
func (d *Diff) quotas(a, b *Quota) {
	limits := func(r shareRow) Limits {
		if r.Status != Estimated {
			return unknownLimits()
		}
		return Limits{r.Attempts, r.Lower, r.Upper}
	}
	at := map[string]int{}
	for side, q := range []*Quota{a, b} {
		for _, r := range q.Rows {
			key := fmt.Sprint(r.Arm, "/", r.Basis, "/", r.Share)
			i, seen := at[key]
			if !seen {
				i = len(d.Quota)
				at[key] = i
				d.Quota = append(d.Quota, DiffQuota{Arm: r.Arm, Basis: r.Basis, Share: r.Share, A: unknownLimits(), B: unknownLimits()})
			}
			if side == 0 {
				d.Quota[i].A = limits(r)
			} else {
				d.Quota[i].B = limits(r)
			}
		}
	}
}

func (d *Diff) levels(a, b []study.RecentLevel) {
	at := map[string]int{}
	for side, levels := range [][]study.RecentLevel{a, b} {
		for _, l := range levels {
			i, seen := at[l.Arm]
			if !seen {
				i = len(d.Recent)
				at[l.Arm] = i
				d.Recent = append(d.Recent, DiffLevel{Arm: l.Arm, A: unknownLimits(), B: unknownLimits()})
			}
			limits, row := Limits{Number(l.Value), Number(l.Lower), Number(l.Upper)}, &d.Recent[i]
			if side == 0 {
				row.A, row.NA, row.UnknownA = limits, l.N, l.Unknown
			} else {
				row.B, row.NB, row.UnknownB = limits, l.N, l.Unknown
			}
		}
	}
	for _, row := range d.Recent {
		if row.Arm == "" && row.UnknownA+row.UnknownB > 0 {
			d.Warn("recent-level-without-some", fmt.Sprintf("the recent level leaves out %d trainees of A and %d of B, most of whose last attempts ended at the limit or have no measure, and looks better than it is", row.UnknownA, row.UnknownB))
		}
	}
}

// costs pairs the costs where both sides state them in one unit.
func (d *Diff) costs(a, b *Quota) {
	if a.Costs == nil || b.Costs == nil {
		return
	}
	if a.Costs.Unit != b.Costs.Unit {
		d.Warn("costs-in-other-units", fmt.Sprintf("costs are in %s in A and in %s in B, so they are not set side by side", a.Costs.Unit, b.Costs.Unit))
		return
	}
	d.costUnit = b.Costs.Unit
	for _, x := range a.Schedules {
		for _, y := range b.Schedules {
			if x.Arm == y.Arm && x.Basis == y.Basis {
				d.Cost = append(d.Cost, DiffCost{x.Arm, x.Basis, x.Attempts, y.Attempts, x.Stopping.PerMet, y.Stopping.PerMet})
			}
		}
	}
}

// basisName is a basis in words.
func basisName(basis string) string {
	if basis == proficiency.ByObservation {
		return "as observed"
	}
	return "by the cohort's curve"
}

// Tables list who moved first, then quota, level and cost.
func (d *Diff) Tables() []Table {
	moved := d.Moved
	title := "Whose status moved from A (%s) to B (%s)"
	if len(moved) == 0 {
		title = "Nobody's status moved from A (%s) to B (%s)"
	}
	t := Table{Name: "diff-moved", Title: fmt.Sprintf(title, d.A.words(), d.B.words()), Columns: []Column{
		Words("trainee", "trainee", moved, func(m DiffMove) string { return m.Trainee }),
		Words("arm", "arm", moved, func(m DiffMove) string { return ArmName(m.Arm) }),
		Words("from", "in A", moved, func(m DiffMove) string { return m.From }),
		Words("to", "in B", moved, func(m DiffMove) string { return m.To }),
		Numbers("attempt", "", moved, func(m DiffMove) Number { return m.Attempt }, nil),
		Words("why", "why", moved, func(m DiffMove) string { return m.Why }),
	}, Notes: []string{
		fmt.Sprintf("Trainees are matched by their codes. %d of them are on both sides with the same status. Rule: %q.", d.Same, d.Rule),
		fmt.Sprintf("A: %d trainees, %d attempts, %d had met the rule. B: %d trainees, %d attempts, %d had.", d.A.Trainees, d.A.Attempts, d.A.Met, d.B.Trainees, d.B.Attempts, d.B.Met),
		d.Caution,
	}}
	attempts := func(v float64) string {
		switch {
		case math.IsNaN(v):
			return "–"
		case math.IsInf(v, 1):
			return "not reached"
		}
		return fmt.Sprintf("%g", v)
	}
	quota := Table{Name: "diff-quota", Title: "Attempts by which a share of trainees has met the rule", Columns: append([]Column{
		Words("arm", "trainees", d.Quota, func(q DiffQuota) string { return groupWords(q.Arm) }),
		Words("basis", "basis", d.Quota, func(q DiffQuota) string { return basisName(q.Basis) }),
		Numbers("share", "share", d.Quota, func(q DiffQuota) Number { return Number(q.Share) }, Percent),
	}, sides(d.Quota, d.Level, attempts, func(q DiffQuota) (Limits, Limits) { return q.A, q.B })...),
		Notes: []string{"–: cannot be estimated, or not asked on that side."}}
	level := Table{Name: "diff-level", Title: "Recent level" + inUnit(d.unit), Columns: append([]Column{
		Words("arm", "trainees", d.Recent, func(r DiffLevel) string { return groupWords(r.Arm) }),
		Counts("n_a", "n in A", d.Recent, func(r DiffLevel) int { return r.NA }),
		Counts("n_b", "n in B", d.Recent, func(r DiffLevel) int { return r.NB }),
	}, sides(d.Recent, d.Level, nil, func(r DiffLevel) (Limits, Limits) { return r.A, r.B })...),
		Notes: []string{fmt.Sprintf("The mean over trainees of the median of each one's last %d attempts (of times the geometric mean; of passes and fails the share of passes), with Student's t interval. Where the same trainees are on both sides the two are not independent: the intervals are no test of a difference.", study.RecentAttempts)}}
	out := []Table{t, quota, level}
	if len(d.Cost) > 0 {
		out = append(out, Table{Name: "diff-cost", Title: fmt.Sprintf("Cost of each proficient trainee in %s, when practice stops at the rule", d.costUnit), Columns: append([]Column{
			Words("arm", "trainees", d.Cost, func(c DiffCost) string { return groupWords(c.Arm) }),
			Words("basis", "basis", d.Cost, func(c DiffCost) string { return basisName(c.Basis) }),
			Counts("attempts_a", "attempts in A", d.Cost, func(c DiffCost) int { return c.AttemptsA }),
			Counts("attempts_b", "in B", d.Cost, func(c DiffCost) int { return c.AttemptsB }),
		}, sides(d.Cost, d.Level, nil, func(c DiffCost) (Limits, Limits) { return c.A, c.B })...)})
	}
	return out
}

// sides are the columns of an estimate with its limits on both sides.
func sides[R any](rows []R, level float64, show func(float64) string, of func(R) (a, b Limits)) []Column {
	a := func(r R) Limits { l, _ := of(r); return l }
	b := func(r R) Limits { _, l := of(r); return l }
	from := fmt.Sprintf("%g %% from", 100*level)
	return []Column{
		Numbers("a", "A", rows, func(r R) Number { return a(r).Estimate }, show),
		Numbers("a_lower", from, rows, func(r R) Number { return a(r).Lower }, show),
		Numbers("a_upper", "to", rows, func(r R) Number { return a(r).Upper }, show),
		Numbers("b", "B", rows, func(r R) Number { return b(r).Estimate }, show),
		Numbers("b_lower", from, rows, func(r R) Number { return b(r).Lower }, show),
		Numbers("b_upper", "to", rows, func(r R) Number { return b(r).Upper }, show),
	}
}

// words is what a side is called, with its day.
func (s DiffSide) words() string {
	if s.AsOf == "" {
		return s.Study
	}
	return s.Study + " as of " + s.AsOf
}

func groupWords(arm string) string {
	if arm == "" {
		return "(all)"
	}
	return arm
}

func inUnit(unit string) string {
	if unit == "" {
		return ""
	}
	return " in " + unit
}
