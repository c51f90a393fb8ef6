package reports

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"tyro/analysis/plan"
	"tyro/analysis/study"
)

// Plan is the answer of the command plan: what studies of some sizes will be able to tell.
type Plan struct {
	Header
	Kind        string         `json:"kind"`    // t-test, log-rank, icc, kappa, contrast or quota
	Measure     string         `json:"measure"` // that is asked about
	Asked       string         `json:"asked"`   // what a study has to give to count, in words
	Level       float64        `json:"level"`
	Studies     int            `json:"studies"` // simulated of every size
	Rows        []PlanRow      `json:"rows"`
	Smallest    []PlanSmallest `json:"smallest"`
	PowerLines  []PlanLine     `json:"power_lines"` // sizes of equal power, over attempts
	CostLines   []PlanLine     `json:"cost_lines"`
	Assumptions []string       `json:"assumptions"`
	Analysis    string         `json:"analysis"` // command that the data of the study will be given to; blank for none
	Protocol    string         `json:"protocol"` // paragraph for a protocol
	Design      plan.Design    `json:"design"`

	answer *plan.Answer
}

// A PlanRow is one size.
type PlanRow struct {
	Trainees     int            `json:"trainees"` // of the reference arm; subjects
	Other        int            `json:"trainees_other_arm"`
	Attempts     int            `json:"attempts"`
	Power        Number         `json:"power"`
	Lower        Number         `json:"lower"` // of the simulation, 95 %
	Upper        Number         `json:"upper"`
	PowerFormula Number         `json:"power_by_formula"`
	Studies      int            `json:"studies"`
	Gave         int            `json:"gave"`
	Failed       int            `json:"failed"`
	FailedAt     map[string]int `json:"failed_at"`
	Refused      bool           `json:"refused"`
	Least        Number         `json:"power_least"`
	Most         Number         `json:"power_most"`
	Truth        Number         `json:"assumed"`
	Estimate     Number         `json:"median_estimate"`
	WidthMean    Number         `json:"width_mean"`
	WidthMedian  Number         `json:"width_median"`
	Width90      Number         `json:"width_90"`
	WidthFormula Number         `json:"width_by_formula"`
	Ratio        bool           `json:"ratio"`
	Coverage     Number         `json:"coverage"`
	AttemptsMade Number         `json:"attempts_made"`
	Cost         Number         `json:"cost"`
	Formula      string         `json:"formula"`
	Freedman     Number         `json:"power_by_freedman"`
}

// A PlanLine joins sizes of equal power or cost.
type PlanLine struct {
	Value Number      `json:"value"`
	At    []PlanPlace `json:"at"`
}

// A PlanPlace is where a line passes.
type PlanPlace struct {
	Attempts int    `json:"attempts"`
	Trainees Number `json:"trainees"`
}

func planLines(ls []plan.Line) []PlanLine {
	out := []PlanLine{}
	for _, l := range ls {
		one := PlanLine{Value: Number(l.Value)}
		for _, p := range l.At {
			one.At = append(one.At, PlanPlace{p.Attempts, Number(p.Trainees)})
		}
		out = append(out, one)
	}
	return out
}

// A PlanSmallest is the smallest size for one number of attempts.
type PlanSmallest struct {
	Attempts int    `json:"attempts"`
	Target   Number `json:"target"`
	Trainees *int   `json:"trainees"` // null where none was found
	Lower    *int   `json:"lower"`    // null as well
	Upper    *int   `json:"upper"`
	Power    Number `json:"power"`
	PowerLo  Number `json:"power_lower"`
	PowerUp  Number `json:"power_upper"`
	Cost     Number `json:"cost"`
	Looked   int    `json:"sizes_looked_at"`
	Spent    int    `json:"studies_spent"`
	Why      string `json:"why"`
	Formula  *int   `json:"trainees_by_formula"` // null where no closed form says
}

// NewPlan words a plan's answer. The study is what the assumptions were taken from, or one
// without data.
func NewPlan(s *study.Study, a *plan.Answer) *Plan {
	d := &Plan{Header: headerOf("plan", s), Studies: a.Asked.Studies, Level: s.Options.Level, Design: a.Design, Rows: []PlanRow{}, Smallest: []PlanSmallest{}, answer: a}
	d.Seed = a.Seed
	d.With(a.Warnings)
	d.Kind, d.Measure = planKind(a.Design)
	d.Asked = planAsked(a.Design, d.Level)
	for _, r := range a.Rows {
		d.Rows = append(d.Rows, planRow(a.Design, r))
	}
	for _, x := range a.Smallest {
		d.Smallest = append(d.Smallest, planSmallest(x))
	}
	d.PowerLines, d.CostLines = planLines(a.Powers()), planLines(a.Costs())
	d.Assumptions = planAssumptions(a.Design)
	if r, ok := d.chosen(); ok {
		d.Analysis = planAnalysis(a.Design, r.Attempts)
	}
	d.Protocol = d.protocol()
	return d
}

func planKind(d plan.Design) (kind, measure string) {
	switch {
	case d.TTest != nil:
		return "t-test", "difference of means"
	case d.LogRank != nil:
		return "log-rank", "hazard ratio"
	case d.Ratings != nil && d.Ratings.Shares != nil:
		return "kappa", "kappa"
	case d.Ratings != nil:
		return "icc", "icc"
	case d.Course.Quota != nil:
		return "quota", fmt.Sprintf("attempts by which %s have met the rule", Percent(d.Course.Quota.Share))
	}
	return "contrast", d.Course.Contrast
}

func planRow(d plan.Design, r plan.Row) PlanRow {
	out := PlanRow{
		Trainees: r.Trainees, Other: r.Other, Attempts: r.Attempts, Power: Number(r.Power), Lower: Number(r.Lower), Upper: Number(r.Upper),
		PowerFormula: Number(math.NaN()), WidthFormula: Number(math.NaN()), Freedman: Number(math.NaN()),
		Studies: r.Studies, Gave: r.Gave, Failed: r.Failed, FailedAt: map[string]int{}, Refused: r.Refused, Least: Number(r.Least), Most: Number(r.Most),
		Truth: Number(r.Truth), Estimate: Number(r.Estimate), WidthMean: Number(r.WidthMean), WidthMedian: Number(r.WidthMedian), Width90: Number(r.Width90), Ratio: r.Ratio,
		Coverage: Number(r.Coverage), AttemptsMade: Number(r.Made), Cost: Number(r.Cost),
	}
	if d.Ratings != nil {
		out.Other = 0
	}
	for s, n := range r.At {
		out.FailedAt[string(s)] = n
	}
	if d.Width == 0 && d.Ratings != nil || d.Course != nil && d.Course.Quota != nil && d.Width == 0 {
		out.Power, out.Lower, out.Upper, out.Least, out.Most = Number(math.NaN()), Number(math.NaN()), Number(math.NaN()), Number(math.NaN()), Number(math.NaN())
	}
	if f := r.Formula; f != nil {
		out.PowerFormula, out.WidthFormula, out.Formula = Number(f.Power), Number(f.Width), f.Source
		if d.Width > 0 {
			out.PowerFormula = Number(math.NaN())
		}
		out.Freedman = Number(r.Freedman)
	}
	return out
}

func planSmallest(x plan.Smallest) PlanSmallest {
	out := PlanSmallest{Attempts: x.Attempts, Target: Number(x.Target), Power: Number(math.NaN()), PowerLo: Number(math.NaN()), PowerUp: Number(math.NaN()), Cost: Number(math.NaN()), Looked: len(x.Looked), Spent: x.Spent, Why: x.Why}
	if x.ByFormula > 0 {
		out.Formula = &x.ByFormula
	}
	if x.Found {
		n := x.Row.Trainees
		out.Lower, out.Upper = &x.Lower, &x.Upper
		out.Trainees, out.Power, out.PowerLo, out.PowerUp, out.Cost = &n, Number(x.Row.Power), Number(x.Row.Lower), Number(x.Row.Upper), Number(x.Row.Cost)
	}
	return out
}

// Tables lists the sizes, the smallest ones, and power over trainees and attempts.
func (d *Plan) Tables() []Table {
	out := []Table{d.sizes()}
	if len(d.Smallest) > 0 {
		out = append(out, d.smallestTable())
	}
	if d.answer.Grid() {
		out = append(out, d.gridTable("plan-grid", "Power over trainees (down) and attempts (across)", func(r PlanRow) Number { return r.Power }, threePlaces))
		out = append(out, d.linesTable())
		if d.costed() {
			out = append(out, d.gridTable("plan-costs", "Cost over trainees (down) and attempts (across)"+d.unit(), func(r PlanRow) Number { return r.Cost }, nil))
		}
	}
	return out
}

func (d *Plan) costed() bool { return d.answer.Asked.Costs != nil }

// unit is that of the costs.
func (d *Plan) unit() string {
	if c := d.answer.Asked.Costs; c != nil && c.Unit != "" {
		return ", in " + c.Unit
	}
	return ""
}

func (d *Plan) sizes() Table {
	rows := d.Rows
	who := "trainees an arm"
	if d.Design.Ratings != nil {
		who = "subjects"
	}
	t := Table{Name: "plan", Title: fmt.Sprintf("Plan: %s", d.Asked), Columns: []Column{
		Counts("trainees", who, rows, func(r PlanRow) int { return r.Trainees }),
		Counts("trainees_other_arm", "other arm", rows, func(r PlanRow) int { return r.Other }),
		Counts("attempts", "attempts", rows, func(r PlanRow) int { return r.Attempts }),
		Numbers("power", "power", rows, func(r PlanRow) Number { return r.Power }, threePlaces),
		Numbers("lower", "lower", rows, func(r PlanRow) Number { return r.Lower }, threePlaces),
		Numbers("upper", "upper", rows, func(r PlanRow) Number { return r.Upper }, threePlaces),
		Numbers("power_by_formula", "by formula", rows, func(r PlanRow) Number { return r.PowerFormula }, threePlaces),
		Numbers("power_by_freedman", "", rows, func(r PlanRow) Number { return r.Freedman }, threePlaces),
		Numbers("assumed", "assumed", rows, func(r PlanRow) Number { return r.Truth }, nil),
		Numbers("median_estimate", "middle estimate", rows, func(r PlanRow) Number { return r.Estimate }, nil),
		Numbers("width_median", "interval width", rows, func(r PlanRow) Number { return r.WidthMedian }, nil),
		Numbers("width_90", "90 % below", rows, func(r PlanRow) Number { return r.Width90 }, nil),
		Numbers("width_mean", "mean width", rows, func(r PlanRow) Number { return r.WidthMean }, nil),
		Numbers("width_by_formula", "by formula", rows, func(r PlanRow) Number { return r.WidthFormula }, nil),
		Numbers("coverage", "covered", rows, func(r PlanRow) Number { return r.Coverage }, threePlaces),
		Numbers("attempts_made", "attempts in all", rows, func(r PlanRow) Number { return r.AttemptsMade }, nil),
		Numbers("cost", "cost"+d.unit(), rows, func(r PlanRow) Number { return r.Cost }, nil),
		Counts("studies", "studies", rows, func(r PlanRow) int { return r.Studies }),
		Counts("failed", "failed", rows, func(r PlanRow) int { return r.Failed }),
		Words("failed_at", "", rows, func(r PlanRow) string { return plan.StagesText(stages(r.FailedAt)) }),
	}}
	d.hideIdle(&t)
	t.Notes = d.notes()
	return t
}

// stages are counts by stage again, for words.
func stages(at map[string]int) map[plan.Stage]int {
	out := map[plan.Stage]int{}
	for s, n := range at {
		out[plan.Stage(s)] = n
	}
	return out
}

// hideIdle keeps columns from people that say nothing here.
func (d *Plan) hideIdle(t *Table) {
	none := func(of func(PlanRow) Number) bool {
		return !slices.ContainsFunc(d.Rows, func(r PlanRow) bool { return !math.IsNaN(float64(of(r))) })
	}
	for _, c := range []struct {
		key  string
		hide bool
	}{
		{"trainees_other_arm", d.Design.Allocation == 0 || d.Design.Allocation == 1 || d.Design.Ratings != nil},
		{"attempts", d.Design.Course == nil},
		{"attempts_made", d.Design.Course == nil},
		{"power", none(func(r PlanRow) Number { return r.Power })},
		{"lower", none(func(r PlanRow) Number { return r.Power })},
		{"upper", none(func(r PlanRow) Number { return r.Power })},
		{"power_by_formula", none(func(r PlanRow) Number { return r.PowerFormula })},
		{"assumed", d.Design.Course == nil || none(func(r PlanRow) Number { return r.Truth })},
		{"median_estimate", none(func(r PlanRow) Number { return r.Estimate })},
		{"width_median", !none(func(r PlanRow) Number { return r.WidthFormula }) || none(func(r PlanRow) Number { return r.WidthMedian })},
		{"width_90", none(func(r PlanRow) Number { return r.Width90 })},
		{"width_by_formula", none(func(r PlanRow) Number { return r.WidthFormula })},
		{"width_mean", none(func(r PlanRow) Number { return r.WidthFormula })},
		{"coverage", none(func(r PlanRow) Number { return r.Coverage })},
		{"cost", !d.costed()},
	} {
		if c.hide {
			t.Hide(c.key)
		}
	}
}

// notes say what the numbers are.
func (d *Plan) notes() []string {
	var out []string
	if slices.ContainsFunc(d.Rows, func(r PlanRow) bool { return !math.IsNaN(float64(r.Power)) }) {
		out = append(out, "Power is the share of simulated studies that give it; lower and upper are the 95 % interval of that share, which more --replicates narrow. Failed studies count as ones that did not give it.")
	}
	ratio := slices.ContainsFunc(d.Rows, func(r PlanRow) bool { return r.Ratio })
	if ratio {
		out = append(out, "The measure is compared as a ratio: an interval's width is its upper end over its lower end.")
	}
	for _, r := range d.Rows[:min(1, len(d.Rows))] {
		if r.Formula != "" {
			out = append(out, fmt.Sprintf("By formula: %s.", planSource(r.Formula)))
		}
		if !math.IsNaN(float64(r.Freedman)) {
			out = append(out, fmt.Sprintf("By the formula of Freedman (1982) the power of the first row is %s.", threePlaces(float64(r.Freedman))))
		}
		if !math.IsNaN(float64(r.Coverage)) {
			level := ""
			if m := d.Design.Margin; m != nil && !m.NonInferior {
				level = fmt.Sprintf(", here %s", Percent(2*d.Level-1))
			}
			out = append(out, "Covered: the share of intervals that hold what is assumed; it should be near their level"+level+".")
		}
	}
	return out
}

func planSource(source string) string {
	if source == "non-central t" {
		return "the non-central t distribution, with both tails"
	}
	return source
}

func (d *Plan) smallestTable() Table {
	rows := d.Smallest
	t := Table{Name: "plan-smallest", Title: fmt.Sprintf("Smallest number of trainees an arm for a power of %g", float64(rows[0].Target)), Columns: []Column{
		Counts("attempts", "attempts", rows, func(r PlanSmallest) int { return r.Attempts }),
		Words("trainees", "trainees", rows, func(r PlanSmallest) string { return countOrBlank(r.Trainees) }),
		Words("lower", "from", rows, func(r PlanSmallest) string { return countOrBlank(r.Lower) }),
		Words("upper", "to", rows, func(r PlanSmallest) string { return countOrBlank(r.Upper) }),
		Numbers("power", "power there", rows, func(r PlanSmallest) Number { return r.Power }, threePlaces),
		Numbers("power_lower", "lower", rows, func(r PlanSmallest) Number { return r.PowerLo }, threePlaces),
		Numbers("power_upper", "upper", rows, func(r PlanSmallest) Number { return r.PowerUp }, threePlaces),
		Numbers("cost", "cost"+d.unit(), rows, func(r PlanSmallest) Number { return r.Cost }, nil),
		Counts("sizes_looked_at", "sizes looked at", rows, func(r PlanSmallest) int { return r.Looked }),
		Words("trainees_by_formula", "by formula", rows, func(r PlanSmallest) string { return countOrBlank(r.Formula) }),
		Counts("studies_spent", "studies", rows, func(r PlanSmallest) int { return r.Spent }),
		Words("why", "", rows, func(r PlanSmallest) string { return r.Why }),
	}}
	if d.Design.Course == nil {
		t.Hide("attempts")
	}
	if !d.costed() {
		t.Hide("cost")
	}
	if !slices.ContainsFunc(rows, func(r PlanSmallest) bool { return r.Formula != nil }) {
		t.Hide("trainees_by_formula")
	}
	t.Notes = []string{"The number is read off a curve of power through all sizes looked at; the power there is that of its own studies alone. From and to: within these numbers of trainees the smallest lies, as far as the simulation tells, at 95 %."}
	return t
}

func countOrBlank(n *int) string {
	if n == nil {
		return ""
	}
	return fmt.Sprint(*n)
}

// gridTable has a row for every number of trainees and a column for every number of
// attempts.
func (d *Plan) gridTable(name, title string, of func(PlanRow) Number, show func(float64) string) Table {
	a := d.answer.Asked
	t := Table{Name: name, Title: title, Columns: []Column{Counts("trainees", "trainees", a.Trainees, func(n int) int { return n })}}
	for _, k := range a.Attempts {
		t.Columns = append(t.Columns, Numbers(fmt.Sprintf("attempts_%d", k), fmt.Sprint(k), a.Trainees, func(n int) Number { return of(d.Cell(n, k)) }, show))
	}
	return t
}

// linesTable lists where the lines of equal power pass.
func (d *Plan) linesTable() Table {
	type row struct {
		power Number
		at    PlanPlace
	}
	var rows []row
	for _, l := range d.PowerLines {
		for _, p := range l.At {
			rows = append(rows, row{l.Value, p})
		}
	}
	return Table{Name: "plan-lines", Title: "Trainees at which a power is reached, between those looked at by proportion", Columns: []Column{
		Numbers("power", "power", rows, func(r row) Number { return r.power }, nil),
		Counts("attempts", "attempts", rows, func(r row) int { return r.at.Attempts }),
		Numbers("trainees", "trainees", rows, func(r row) Number { return r.at.Trainees }, nil),
	}}
}

// Unit is the unit of costs; blank for none.
func (d *Plan) Unit() string { return strings.TrimPrefix(d.unit(), ", in ") }

// Cell is the row of a size; its power is not known where there is none.
func (d *Plan) Cell(trainees, attempts int) PlanRow {
	for _, r := range d.Rows {
		if r.Trainees == trainees && r.Attempts == attempts {
			return r
		}
	}
	return PlanRow{Power: Number(math.NaN()), Cost: Number(math.NaN())}
}

// Sizes are the numbers of trainees and of attempts asked about; nil where they are no
// grid.
func (d *Plan) Sizes() (trainees, attempts []int) {
	if !d.answer.Grid() {
		return nil, nil
	}
	return d.answer.Asked.Trainees, d.answer.Asked.Attempts
}

// Appendix is what is assumed, and the paragraph for a protocol.
func (d *Plan) Appendix() string {
	text := "\nAssumed\n"
	for _, s := range d.Assumptions {
		text += Wrap("- "+s, 96)
	}
	return text + "\nFor a protocol\n" + Wrap(d.Protocol, 96)
}

// PlanCheck is the answer of plan --check: whether studies simulated again came out as a
// plan's file has them.
type PlanCheck struct {
	Header
	Held    int             `json:"held"`
	Again   int             `json:"simulated_again"`
	Agree   bool            `json:"agree"`
	Differ  []PlanDiffering `json:"differ"`
	Made    string          `json:"made_by_version"`
	Program string          `json:"this_version"`
}

// A PlanDiffering is a study that came out otherwise.
type PlanDiffering struct {
	Trainees int `json:"trainees"`
	Attempts int `json:"attempts"`
	Study    int `json:"study"`
}

// NewPlanCheck words a recheck.
func NewPlanCheck(s *study.Study, f *plan.File, r plan.Recheck) *PlanCheck {
	d := &PlanCheck{Header: headerOf("plan", s), Held: r.Held, Again: r.Studies, Agree: len(r.Differ) == 0, Differ: []PlanDiffering{}, Made: f.Version, Program: Version}
	d.Seed, d.DataSHA256 = f.Seed, f.DataSHA256
	for _, x := range r.Differ {
		d.Differ = append(d.Differ, PlanDiffering(x))
	}
	if f.Version != Version {
		d.Warn("other-version", fmt.Sprintf("the plan was made by version %s, and this is %s", f.Version, Version))
	}
	if !d.Agree {
		d.Warn("studies-differ", fmt.Sprintf("%d of %d studies simulated again did not come out as the file has them: it was made by another program, or changed", len(r.Differ), r.Studies))
	}
	return d
}

// Tables lists what was found.
func (d *PlanCheck) Tables() []Table {
	rows := []*PlanCheck{d}
	return []Table{{Name: "plan-check", Title: "Studies of the plan simulated again", Columns: []Column{
		Counts("held", "studies in the file", rows, func(c *PlanCheck) int { return c.Held }),
		Counts("simulated_again", "simulated again", rows, func(c *PlanCheck) int { return c.Again }),
		Counts("differ", "that differ", rows, func(c *PlanCheck) int { return len(c.Differ) }),
		Flags("agree", "all agree", rows, func(c *PlanCheck) bool { return c.Agree }),
	}}}
}
