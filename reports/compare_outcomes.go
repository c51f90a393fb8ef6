package reports

import (
	"fmt"
	"math"
	"strings"

	"tyro/analysis/compare"
	"tyro/analysis/study"
)

// OutcomeComparison is the answer of the command compare about one number a trainee.
type OutcomeComparison struct {
	Header
	Contrasts []Contrast     `json:"contrasts"`
	Overall   *OverallTest   `json:"overall"`
	Adjusted  *AncovaLines   `json:"ancova"`
	Transfer  []TransferLine `json:"transfer"`
	Orders    []OrderLine    `json:"orders"` // of a crossover read off a log

	level  float64
	answer *study.OutcomeComparison
}

// An OrderLine is those trainees of a crossover who had a curriculum first.
type OrderLine struct {
	First    string `json:"first"`
	Second   string `json:"second"`
	Trainees int    `json:"trainees"`
}

// AncovaLines are an analysis of covariance in machine output.
type AncovaLines struct {
	Trainees   int            `json:"trainees"`
	DF         float64        `json:"df"`
	ResidualSD Number         `json:"residual_sd"`
	Slopes     []SlopeLine    `json:"slopes"`
	Means      []AdjustedLine `json:"adjusted_means"`
	Group      FTestLine      `json:"group"`
	Parallel   FTestLine      `json:"slopes_differ"`
}

// A SlopeLine is the slope on a number from before training.
type SlopeLine struct {
	Baseline string `json:"baseline"`
	Slope    Number `json:"slope"`
	SE       Number `json:"se"`
}

// An AdjustedLine is an arm's adjusted mean.
type AdjustedLine struct {
	Arm      string `json:"arm"`
	Trainees int    `json:"trainees"`
	Mean     Number `json:"mean"`
	SE       Number `json:"se"`
}

// An FTestLine is an F test.
type FTestLine struct {
	F   Number `json:"f"`
	DF1 Number `json:"df1"`
	DF2 Number `json:"df2"`
	P   Number `json:"p"`
}

// A TransferLine is one arm with prior practice on a substitute.
type TransferLine struct {
	Arm       string `json:"arm"`
	Before    string `json:"before"` // the arm with the next smaller prior practice
	Reference string `json:"reference"`
	Trainees  int    `json:"trainees"`
	NotMet    int    `json:"not_met"`
	Prior     Number `json:"prior"`
	Spent     Number `json:"spent"`
	Measure   string `json:"measure"`
	Estimate  Number `json:"estimate"`
	Lower     Number `json:"lower"`
	Upper     Number `json:"upper"`
}

// NewOutcomeComparison words the answer.
func NewOutcomeComparison(s *study.Study, a *study.OutcomeComparison) *OutcomeComparison {
	d := &OutcomeComparison{Header: headerOf("compare", s), Contrasts: contrastsOf(a.Contrasts), Transfer: transferLines(a.Transfer), level: s.Options.Level, answer: a}
	if o := a.Overall; o != nil {
		d.Overall = &OverallTest{Number(o.Statistic), Number(o.P), o.Arms, o.Measures, o.N, o.Method, o.Replicates}
	}
	if x := a.Adjusted; x != nil {
		d.Adjusted = &AncovaLines{Trainees: x.N, DF: x.DF, ResidualSD: Number(x.ResidualSD), Group: fLine(x.Group), Parallel: fLine(x.Parallel)}
		for _, l := range x.Slopes {
			d.Adjusted.Slopes = append(d.Adjusted.Slopes, SlopeLine{l.Covariate, Number(l.Estimate), Number(l.SE)})
		}
		for _, m := range x.Means {
			d.Adjusted.Means = append(d.Adjusted.Means, AdjustedLine{m.Arm, m.N, Number(m.Estimate), Number(m.SE)})
		}
	}
	d.Orders = []OrderLine{}
	for _, o := range a.Orders {
		d.Orders = append(d.Orders, OrderLine(o))
	}
	d.With(a.Warnings)
	return d
}

func fLine(f compare.FTest) FTestLine {
	return FTestLine{Number(f.F), Number(f.DF1), Number(f.DF2), Number(f.P)}
}

// transferLines list the three measures of every arm with prior practice.
func transferLines(t *compare.Transfer) []TransferLine {
	out := []TransferLine{}
	if t == nil {
		return out
	}
	for _, s := range t.Steps {
		for _, m := range []struct {
			name string
			compare.Ends
		}{{"percent-transfer", s.Percent}, {"transfer-effectiveness", s.Effectiveness}, {"transfer-effectiveness-incremental", s.Incremental}} {
			out = append(out, TransferLine{
				Arm: s.Arm, Before: s.Before, Reference: t.Reference, Trainees: s.N, NotMet: s.NotMet, Prior: Number(s.Prior), Spent: Number(s.Spent),
				Measure: m.name, Estimate: Number(m.Estimate), Lower: Number(m.Lower), Upper: Number(m.Upper),
			})
		}
	}
	return out
}

// Tables lists a row a contrast, or a row a measure of transfer.
func (d *OutcomeComparison) Tables() []Table {
	if len(d.Transfer) > 0 {
		return []Table{transferTable(d.Transfer, d.level)}
	}
	var plain, margin, differences []Contrast
	for _, c := range d.Contrasts {
		switch {
		case !math.IsNaN(float64(c.Margin)):
			margin = append(margin, c)
		default:
			plain = append(plain, c)
			if c.Measure == "difference" && (c.Method == "ancova" || c.Method == "welch") || d.answer.Crossed != nil || d.effect(c) {
				differences = append(differences, c)
			}
		}
	}
	t := contrastTable("compare", "Arms compared on one number a trainee: "+strings.Join(d.answer.Arms, ", "), plain, d.level)
	if len(d.Orders) > 0 {
		t.Title = fmt.Sprintf("Two curricula within trainees, attempts 1 to %g of each period: %s against %s", d.answer.At, d.answer.Arms[1], d.answer.Arms[0])
		t.showAs("basis", "basis")
	} else {
		t.showAs("method", "method")
	}
	if o := d.Overall; o != nil && !math.IsNaN(float64(o.P)) {
		t.Notes = append(t.Notes, fmt.Sprintf("Do any of the %d arms differ? p %s (%s).", o.Arms, pText(float64(o.P)), o.Method))
	}
	switch {
	case len(d.Orders) > 0:
		t.Notes = append(t.Notes, d.orderNotes()...)
	case d.answer.Crossed != nil:
		t.Notes = append(t.Notes, "Every trainee practised by both, in one of two orders: difference is within trainees and free of the period; carry-over compares the orders. The effect is not to be chosen by the test of carry-over, which is weak.")
	default:
		t.Notes = append(t.Notes, "Each row is a method of its own: choose one before seeing the data. p (Holm) takes the pairs of arms together, method by method. The interval of rank-sum is that of hodges-lehmann.")
	}
	t.Notes = append(t.Notes, leftOpen(differences)...)
	tables := []Table{t}
	if len(margin) > 0 {
		m := contrastTable("margin", fmt.Sprintf("Beside the margin of %s", Significant(float64(margin[0].Margin), 3)), margin, margin[0].Level)
		m.showAs("method", "test")
		m.Notes = leftOpen(margin)
		tables = append(tables, m)
	}
	if d.Adjusted != nil {
		tables = append(tables, d.adjustedTable())
	}
	return tables
}

// effect reports whether a contrast of a crossover is of the curricula within trainees.
func (d *OutcomeComparison) effect(c Contrast) bool {
	return len(d.Orders) > 0 && c.Basis == study.BasisWithin && c.Arm == d.answer.Arms[1] && c.Reference == d.answer.Arms[0]
}

// orderNotes say how a crossover read off a log is to be read.
func (d *OutcomeComparison) orderNotes() []string {
	var orders []string
	for _, o := range d.Orders {
		orders = append(orders, fmt.Sprintf("%d began with %s", o.Trainees, o.First))
	}
	return []string{
		"Trainees who practised by both: " + strings.Join(orders, ", ") + ".",
		"Rows within trainees are free of the period: what practice itself brings from the first to the second stands in the rows of the period. Rows of carry-over compare the orders by the mean of both periods; the test is weak, and the effect is not to be chosen by it.",
		"The first period alone compares trainees who had only one curriculum so far (Welch). p (Holm) takes the measures together, rows within trainees by themselves.",
	}
}

func (d *OutcomeComparison) adjustedTable() Table {
	a, rows := d.Adjusted, d.Adjusted.Means
	t := Table{Name: "adjusted", Title: "Means at the same baseline", Columns: []Column{
		Words("arm", "arm", rows, func(m AdjustedLine) string { return m.Arm }),
		Counts("trainees", "trainees", rows, func(m AdjustedLine) int { return m.Trainees }),
		Numbers("mean", "mean", rows, func(m AdjustedLine) Number { return m.Mean }, nil),
		Numbers("se", "standard error", rows, func(m AdjustedLine) Number { return m.SE }, nil),
	}}
	for _, s := range a.Slopes {
		t.Notes = append(t.Notes, fmt.Sprintf("Slope on %s: %s (standard error %s).", s.Baseline, Significant(float64(s.Slope), 3), Significant(float64(s.SE), 3)))
	}
	t.Notes = append(t.Notes,
		fmt.Sprintf("Do any arms differ? F(%g, %g) = %s, p %s.", float64(a.Group.DF1), float64(a.Group.DF2), Significant(float64(a.Group.F), 3), pText(float64(a.Group.P))),
		fmt.Sprintf("Do slopes differ between arms? F(%g, %g) = %s, p %s.", float64(a.Parallel.DF1), float64(a.Parallel.DF2), Significant(float64(a.Parallel.F), 3), pText(float64(a.Parallel.P))))
	return t
}

// transferTable is a row an arm and measure.
func transferTable(rows []TransferLine, level float64) Table {
	t := Table{Name: "transfer", Title: fmt.Sprintf("What practice on the substitute saves on the task, against %s", rows[0].Reference), Columns: []Column{
		Words("measure", "measure", rows, func(l TransferLine) string { return l.Measure }),
		Words("arm", "arm", rows, func(l TransferLine) string { return l.Arm }),
		Words("before", "", rows, func(l TransferLine) string { return l.Before }),
		Words("reference", "", rows, func(l TransferLine) string { return l.Reference }),
		Counts("trainees", "trainees", rows, func(l TransferLine) int { return l.Trainees }),
		Counts("not_met", "", rows, func(l TransferLine) int { return l.NotMet }),
		Numbers("prior", "substitute", rows, func(l TransferLine) Number { return l.Prior }, ThreeDigits),
		Numbers("spent", "task", rows, func(l TransferLine) Number { return l.Spent }, ThreeDigits),
		Numbers("estimate", "estimate", rows, func(l TransferLine) Number { return l.Estimate }, ThreeDigits),
		Numbers("lower", fmt.Sprintf("%g %% from", 100*level), rows, func(l TransferLine) Number { return l.Lower }, ThreeDigits),
		Numbers("upper", "to", rows, func(l TransferLine) Number { return l.Upper }, ThreeDigits),
	}}
	for _, l := range rows {
		switch l.Measure {
		case "transfer-effectiveness":
			t.Notes = append(t.Notes, fmt.Sprintf("%s: the substitute as a whole pays where a unit of it costs less than %s units of practice on the task; with certainty of the interval only below %s.",
				l.Arm, Significant(float64(l.Estimate), 3), Significant(math.Max(0, float64(l.Lower)), 3)))
		case "transfer-effectiveness-incremental":
			t.Notes = append(t.Notes, fmt.Sprintf("%s after %s: what was practised more on the substitute pays where a unit of it costs less than %s units of practice on the task.",
				l.Arm, l.Before, Significant(math.Max(0, float64(l.Estimate)), 3)))
		}
	}
	t.Notes = append(t.Notes, "Practice is a mean a trainee, and the rule on the task must have been the same in all arms. Intervals: bootstrap of whole trainees within arms.")
	return t
}
