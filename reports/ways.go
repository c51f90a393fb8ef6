package reports

import (
	"fmt"
	"math"
	"strings"

	"tyro/analysis/proficiency"
	"tyro/analysis/stopping"
	"tyro/analysis/study"
)

// WaysToStop is the answer of quota --against: what each of several ways to stop practice
// lets through, holds back and costs, side by side.
type WaysToStop struct {
	Header
	Standard   Number        `json:"standard"` // null where the pass chances are stated
	Rule       string        `json:"rule"`     // the way compared first: the study's own rule where it has one
	Definition string        `json:"definition"`
	Rows       []quotaRow    `json:"rows"` // of the way compared first
	Horizon    int           `json:"horizon"`
	Proficient float64       `json:"proficient_chance"` // the pass chance from which a learner is proficient
	HeldAfter  int           `json:"held_after"`        // attempts made while proficient, after which going on is being held back
	Level      float64       `json:"level"`
	Learners   []waysLearner `json:"learners"`
	Compared   []wayCompared `json:"operating_curves"` // by way, then by learner
	Caution    string        `json:"caution"`

	Answer *study.WaysToStop `json:"-"`
}

// A waysLearner is whose pass chances a way to stop is judged by.
type waysLearner struct {
	Kind       string   `json:"kind"`
	Words      string   `json:"words"`
	Trainees   int      `json:"trainees"`   // 0 for a stated learner
	Proficient int      `json:"proficient"` // of these, how many are proficient within the horizon; of a stated learner 0 or 1
	Chances    []Number `json:"pass_chances"`
}

// A wayCompared is one way to stop with one kind of learner. Limits are null for a
// stated learner, whose figures are exact.
type wayCompared struct {
	Mark           string   `json:"mark"`
	Policy         string   `json:"policy"`
	Learner        string   `json:"learner"`
	MeanAttempts   Number   `json:"mean_attempts"`
	MeanLower      Number   `json:"mean_attempts_lower"`
	MeanUpper      Number   `json:"mean_attempts_upper"`
	FalsePass      Number   `json:"false_pass"`
	FalsePassLower Number   `json:"false_pass_lower"`
	FalsePassUpper Number   `json:"false_pass_upper"`
	HeldBack       Number   `json:"held_back"` // null where nobody is proficient within the horizon
	HeldBackLower  Number   `json:"held_back_lower"`
	HeldBackUpper  Number   `json:"held_back_upper"`
	Never          Number   `json:"not_stopped"`
	MetBy          []Number `json:"met_by"`
}

// NewWaysToStop is the document of a comparison. stated is the stated learner in words;
// blank where there is none.
func NewWaysToStop(s *study.Study, a *study.WaysToStop, stated string) *WaysToStop {
	d := &WaysToStop{
		Header: headerOf("quota", s), Standard: Number(a.Standard), Rule: a.Ways[0].String(), Definition: proficiency.RuleMet, Rows: []quotaRow{},
		Horizon: a.Horizon, Proficient: a.Bar.Level, HeldAfter: a.Bar.Held, Level: a.Level, Compared: []wayCompared{}, Caution: Caution, Answer: a,
	}
	d.With(a.Warnings)
	for _, q := range a.Quotas {
		d.Rows = append(d.Rows, newExactRow(q))
	}
	for _, l := range a.Learners {
		words := map[string]string{
			study.LearnerStated:   stated,
			study.LearnerTrainees: fmt.Sprintf("mean over %d trainees with the pass chances of their fitted curves", l.Trainees),
		}[l.Kind]
		if words == "" {
			words = "every attempt passes with chance " + WholePercent(l.Chances[0])
		}
		d.Learners = append(d.Learners, waysLearner{Kind: l.Kind, Words: words, Trainees: l.Trainees, Proficient: l.Proficient, Chances: numbersOf(l.Chances)})
	}
	for k, way := range a.Ways {
		for j, l := range a.Learners {
			d.Compared = append(d.Compared, newWayCompared(Mark(k), way, l.Kind, a.Stops[k][j]))
		}
	}
	return d
}

func newWayCompared(mark string, way stopping.Policy, learner string, s study.Stops) wayCompared {
	return wayCompared{
		Mark: mark, Policy: way.String(), Learner: learner,
		MeanAttempts: Number(s.Attempts.Value), MeanLower: Number(s.Attempts.Lower), MeanUpper: Number(s.Attempts.Upper),
		FalsePass: Number(s.FalsePass.Value), FalsePassLower: Number(s.FalsePass.Lower), FalsePassUpper: Number(s.FalsePass.Upper),
		HeldBack: Number(s.HeldBack.Value), HeldBackLower: Number(s.HeldBack.Lower), HeldBackUpper: Number(s.HeldBack.Upper),
		Never: Number(s.Never), MetBy: numbersOf(s.MetBy),
	}
}

// WholePercent is a share in whole percent: 0 % and 100 % for nobody and everybody only.
func WholePercent(v float64) string {
	const exact = 1e-9
	switch {
	case v > exact && v < 0.005:
		return "<1 %"
	case v >= 0.995 && v < 1-exact:
		return ">99 %"
	}
	return Percent(v)
}

// Mark is the letter of a way in figures and tables.
func Mark(k int) string { return string(rune('A' + k)) }

// ThroughBy is the attempt at which the table reads how many who are not yet
// proficient have been let through.
const ThroughBy = 20

// A wayRow is one way with what it does to each kind of learner.
type wayRow struct {
	mark, words string
	stops       []study.Stops // by learner
}

func (d *WaysToStop) rows() []wayRow {
	var out []wayRow
	for k := range d.Answer.Ways {
		out = append(out, wayRow{Mark(k), d.WayText(k), d.Answer.Stops[k]})
	}
	return out
}

// WayText is a way in words; the study's own rule says so.
func (d *WaysToStop) WayText(k int) string {
	text := d.Answer.Ways[k].String()
	if k == 0 && d.Answer.OwnRule {
		return text + " (the study's)"
	}
	return text
}

// Tables shows the ways side by side.
func (d *WaysToStop) Tables() []Table {
	t := d.Table()
	t.Notes = append(d.Sentences(), t.Notes...)
	if d.Answer.Judge() < 0 {
		return []Table{t}
	}
	return []Table{t, {Name: "rules-learners", Title: "The same ways with a learner who is not yet proficient, and with one who is", Columns: d.constantColumns()}}
}

// Table lists everything for programs; people see the figures of the study's trainees
// or the stated learner, and of constant learners where there are neither.
func (d *WaysToStop) Table() Table {
	t := Table{Name: "rules", Title: "Which rule? Ways to stop practice, side by side", Columns: d.constantColumns(), Notes: d.notes()}
	j := d.Answer.Judge()
	if j < 0 {
		return t
	}
	for k := range t.Columns[2:] {
		t.Columns[2+k].Head = ""
	}
	l := d.Answer.Learners[j]
	t.Title += map[string]string{study.LearnerTrainees: ": the trainees of the study", study.LearnerStated: ": the stated learner"}[l.Kind]
	from, to := "", ""
	if l.Trainees >= proficiency.MinGroup {
		from, to = fmt.Sprintf("%g %% from", 100*d.Level), "to"
	}
	rows := d.rows()
	figure := func(key, head string, of func(study.Stops) float64, show func(float64) string) Column {
		return Numbers(key, head, rows, func(r wayRow) float64 { return of(r.stops[j]) }, show)
	}
	t.Columns = append(t.Columns,
		figure("mean_attempts", "attempts", func(s study.Stops) float64 { return s.Attempts.Value }, tenths),
		figure("mean_attempts_lower", "", func(s study.Stops) float64 { return s.Attempts.Lower }, nil),
		figure("mean_attempts_upper", "", func(s study.Stops) float64 { return s.Attempts.Upper }, nil),
		figure("false_pass", "false pass", func(s study.Stops) float64 { return s.FalsePass.Value }, WholePercent),
		figure("false_pass_lower", from, func(s study.Stops) float64 { return s.FalsePass.Lower }, WholePercent),
		figure("false_pass_upper", to, func(s study.Stops) float64 { return s.FalsePass.Upper }, WholePercent),
		figure("held_back", "held back", func(s study.Stops) float64 { return s.HeldBack.Value }, WholePercent),
		figure("held_back_lower", "", func(s study.Stops) float64 { return s.HeldBack.Lower }, nil),
		figure("held_back_upper", "", func(s study.Stops) float64 { return s.HeldBack.Upper }, nil),
		figure("not_stopped", "not stopped", func(s study.Stops) float64 { return s.Never }, WholePercent))
	return t
}

// constantColumns are the figures of learners whose every attempt passes with the same
// chance, who come first among the learners.
func (d *WaysToStop) constantColumns() []Column {
	notYet, able := WholePercent(d.constant(0)), WholePercent(d.constant(1))
	rows, by := d.rows(), d.throughBy()
	return []Column{
		Words("mark", " ", rows, func(r wayRow) string { return r.mark }),
		Words("policy", "practice stops after", rows, func(r wayRow) string { return r.words }),
		Numbers("not_yet_through", fmt.Sprintf("%s learner: through by %d", notYet, by), rows, func(r wayRow) float64 { return r.stops[0].MetBy[by-1] }, WholePercent),
		Numbers("not_yet_through_horizon", fmt.Sprintf("by %d", d.Horizon), rows, func(r wayRow) float64 { return r.stops[0].FalsePass.Value }, WholePercent),
		Numbers("proficient_mean_attempts", able+" learner: attempts", rows, func(r wayRow) float64 { return r.stops[1].Attempts.Value }, tenths),
		Numbers("proficient_held_back", "held back", rows, func(r wayRow) float64 { return r.stops[1].HeldBack.Value }, WholePercent),
	}
}

// constant is the pass chance of the first or second learner.
func (d *WaysToStop) constant(learner int) float64 { return d.Answer.Learners[learner].Chances[0] }

func (d *WaysToStop) throughBy() int { return min(ThroughBy, d.Horizon) }

// CurveTable lists the chances of having stopped by attempt, a way and a learner a
// column.
func (d *WaysToStop) CurveTable() Table {
	attempts := make([]int, d.Horizon)
	for n := range attempts {
		attempts[n] = n + 1
	}
	t := Table{Name: "rules-operating", Columns: []Column{Counts("attempt", "", attempts, func(n int) int { return n })}}
	for k := range d.Answer.Ways {
		for j, l := range d.Answer.Learners {
			by := d.Answer.Stops[k][j].MetBy
			key := strings.ToLower(Mark(k)) + "_" + strings.ReplaceAll(l.Kind, "-", "_")
			t.Columns = append(t.Columns, Numbers(key, "", attempts, func(n int) float64 { return by[n-1] }, nil))
		}
	}
	return t
}

func tenths(v float64) string {
	if math.IsNaN(v) {
		return "–"
	}
	return fmt.Sprintf("%.1f", v)
}
