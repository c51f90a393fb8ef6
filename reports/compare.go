package reports

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"tyro/analysis/compare"
	"tyro/analysis/study"
)

// Comparison is the answer of the command compare about a study.
type Comparison struct {
	Header
	Family      string          `json:"family"`
	Basis       string          `json:"basis"` // of the main contrasts of curves
	Attempt     float64         `json:"attempt"`
	Overall     *OverallTest    `json:"overall"`
	Ratios      []RatioLine     `json:"likelihood_ratios"`
	Contrasts   []Contrast      `json:"contrasts"`
	Sensitivity []Contrast      `json:"sensitivity"`
	Slopes      []SlopeTestLine `json:"slopes_differ"`
	Course      []CourseLine    `json:"difference_curve"`
	Margin      []Contrast      `json:"margin"`
	Received    []Contrast      `json:"as_received"`
	Switched    int             `json:"switched"`
	Departures  []DepartureLine `json:"departures"`
	Followed    []FollowedLine  `json:"followed"`
	Trades      []string        `json:"trades"`
	Checklist   []checklistItem `json:"reporting_checklist"`
	Summary     []string        `json:"summary"` // sentences for the program's director

	level  float64
	answer *study.Comparison
}

// An OverallTest asks whether any of the arms differ.
type OverallTest struct {
	Statistic  Number   `json:"statistic"`
	P          Number   `json:"p"`
	Arms       int      `json:"arms"`
	Measures   []string `json:"measures"`
	Trainees   int      `json:"trainees"`
	Method     string   `json:"method"`
	Replicates int      `json:"replicates"`
}

// A RatioLine sets the likelihood of the main fit against that of one in which arms are
// alike in some parameters.
type RatioLine struct {
	Alike     []string `json:"alike_in"`
	ChiSquare Number   `json:"chi_square"`
	F         Number   `json:"f"`
	DF1       Number   `json:"df1"`
	DF2       Number   `json:"df2"`
	P         Number   `json:"p"`
}

// A DepartureLine says how much worse trainees who were not seen to the end must have
// done for a contrast to change what it says.
type DepartureLine struct {
	Measure   string `json:"measure"`
	Arm       string `json:"arm"`
	Reference string `json:"reference"`
	Worse     string `json:"worse"`
	Unseen    int    `json:"unseen"`
	Kind      string `json:"kind"` // amount or factor
	Tip       Number `json:"tip"`
	Tried     Number `json:"tried"`
	Now       string `json:"now"` // open or excluded
	Text      string `json:"text"`
}

// A SlopeTestLine tests whether the slope on the first attempt differs between two arms.
type SlopeTestLine struct {
	Measure   string `json:"measure"`
	Basis     string `json:"basis"`
	Arm       string `json:"arm"`
	Reference string `json:"reference"`
	FTestLine
}

// A CourseLine is the contrast of the level at one attempt.
type CourseLine struct {
	Attempt   float64 `json:"attempt"`
	Arm       string  `json:"arm"`
	Reference string  `json:"reference"`
	Kind      string  `json:"kind"`
	Estimate  Number  `json:"estimate"`
	Lower     Number  `json:"lower"`
	Upper     Number  `json:"upper"`
}

// A FollowedLine says how far an arm was seen.
type FollowedLine struct {
	Arm           string `json:"arm"`
	Trainees      int    `json:"trainees"`
	Unseen        int    `json:"without_attempts"`
	First         Number `json:"first_last_attempt"`
	Median        Number `json:"median_last_attempt"`
	Last          Number `json:"last_attempt"`
	StoppedMet    int    `json:"stopped_rule_met"`
	StoppedNotMet int    `json:"stopped_rule_not_met"`
}

// NewComparison words the answer about the arms.
func NewComparison(s *study.Study, a *study.Comparison) *Comparison {
	d := &Comparison{
		Header: headerOf("compare", s), Family: a.Family, Basis: study.BasisOwn, Attempt: a.At, Contrasts: contrastsOf(a.Contrasts),
		Sensitivity: contrastsOf(a.Sensitivity), Margin: []Contrast{}, Received: contrastsOf(a.Received), Switched: a.Switched,
		Departures: []DepartureLine{}, Followed: []FollowedLine{}, Trades: []string{}, level: s.Options.Level, answer: a,
	}
	if a.Cohort {
		d.Basis = study.BasisCohort
	}
	d.Ratios = []RatioLine{}
	for _, r := range a.Ratios {
		d.Ratios = append(d.Ratios, RatioLine{r.Parameters, Number(r.ChiSquare), Number(r.F.F), Number(r.F.DF1), Number(r.F.DF2), Number(r.F.P)})
	}
	d.Slopes = []SlopeTestLine{}
	for _, x := range a.Slopes {
		d.Slopes = append(d.Slopes, SlopeTestLine{x.Measure, x.Basis, x.Arm, x.Reference, fLine(x.FTest)})
	}
	d.Course = []CourseLine{}
	for _, p := range a.Course {
		c := contrastsOf([]compare.Contrast{p.Contrast})[0]
		d.Course = append(d.Course, CourseLine{p.Attempt, c.Arm, c.Reference, c.Kind, c.Estimate, c.Lower, c.Upper})
	}
	if a.Margin != nil {
		d.Margin = contrastsOf(a.Margin.Contrasts)
	}
	if o := a.Overall; o != nil {
		d.Overall = &OverallTest{Number(o.Statistic), Number(o.P), o.Arms, o.Measures, o.N, o.Method, o.Replicates}
	}
	for _, x := range a.Departures {
		line := DepartureLine{Measure: x.Measure, Arm: x.Arm, Reference: x.Reference, Worse: x.Worse, Unseen: x.Unseen, Kind: "amount", Tip: Number(x.Tip), Tried: Number(x.Tried), Now: "excluded"}
		if x.Ratio {
			line.Kind = "factor"
		}
		if x.OpenBefore {
			line.Now = "open"
		}
		line.Text = line.words()
		d.Departures = append(d.Departures, line)
	}
	for _, f := range a.Followed {
		d.Followed = append(d.Followed, FollowedLine{ArmName(f.Arm), f.Trainees, f.Unseen, Number(f.First), Number(f.Median), Number(f.Last), f.StoppedMet, f.StoppedNotMet})
	}
	for _, t := range a.Trades {
		d.Trades = append(d.Trades, tradeWords(t))
	}
	d.With(a.Warnings)
	d.Summary = d.summary()
	d.Checklist = trialChecklist(d)
	return d
}

// words say what a departure would change.
func (l DepartureLine) words() string {
	who := fmt.Sprintf("%s against %s, %s: ", ArmName(l.Arm), ArmName(l.Reference), l.Measure)
	change := "begins to exclude that the arms are alike"
	if l.Now == "excluded" {
		change = "no longer excludes that the arms are alike"
	}
	more := func(v Number) string {
		if l.Kind == "factor" {
			return "by a factor of " + Significant(float64(v), 3)
		}
		return "by " + Significant(float64(v), 3)
	}
	if math.IsInf(float64(l.Tip), 1) {
		return who + fmt.Sprintf("that %s of %s not seen to the end did worse than assumed, %s at most, does not change what the interval says", trainees(l.Unseen), ArmName(l.Worse), more(l.Tried))
	}
	return who + fmt.Sprintf("if %s of %s not seen to the end did worse %s than assumed, the interval %s", trainees(l.Unseen), ArmName(l.Worse), more(l.Tip), change)
}

// tradeWords name speed (or another level) that goes with more errors.
func tradeWords(t study.Trade) string {
	sure := "the interval of neither rules out chance"
	switch {
	case t.LevelSure && t.Sure:
		sure = "both beyond chance by their intervals"
	case t.LevelSure:
		sure = "the level beyond chance by its interval, the errors not"
	case t.Sure:
		sure = "the errors beyond chance by their interval, the level not"
	}
	return fmt.Sprintf("%s is better than %s on %s and worse on %s: read them together, one may be bought with the other (%s)", ArmName(t.Arm), ArmName(t.Reference), measureWords(t.Level.Measure), measureWords(t.Errors.Measure), sure)
}

// measureWords is a measure's name in words.
func measureWords(name string) string {
	for _, m := range []struct{ start, words string }{
		{"level-at-attempt-", "the level at attempt %s"}, {"mean-level-to-attempt-", "the mean level up to attempt %s"},
		{"rule-met-mean-within-", "attempts to meet the rule (mean, up to %s)"}, {"rule-met-share-by-", "the share who met the rule by attempt %s"},
	} {
		if n, ok := strings.CutPrefix(name, m.start); ok {
			return fmt.Sprintf(m.words, n)
		}
	}
	switch name {
	case "starting-level":
		return "the starting level"
	case "plateau":
		return "the plateau"
	case "rate":
		return "the rate at which the curve levels off"
	case "mean-crossing":
		return "attempts until the middle curve meets the standard"
	case "rule-met-median":
		return "attempts by which half met the rule"
	case study.HazardMeasure:
		return "how fast the rule is met (hazard)"
	}
	if what, n, ok := strings.Cut(name, "-to-attempt-"); ok {
		return fmt.Sprintf("%s an attempt (up to attempt %s)", strings.ReplaceAll(strings.ReplaceAll(what, "_", " "), "-", " "), n)
	}
	return name
}

// summary is for the director, a sentence each: what was compared, what differs by more than
// chance, and what is left open, with its numbers.
func (d *Comparison) summary() []string {
	var settled, open []string
	for _, c := range d.Contrasts {
		switch {
		case !c.known():
		case float64(c.PAdjusted) <= 1-c.Level:
			settled = append(settled, fmt.Sprintf("%s: %s (%s).", Capital(measureWords(c.Measure)), c.inWords(c.Estimate), c.between()))
		case !strings.HasPrefix(c.Measure, "level-at") && !strings.HasPrefix(c.Measure, "rule-met-mean"):
		case float64(c.P) <= 1-c.Level:
			open = append(open, fmt.Sprintf("%s: %s (%s) when looked at alone; judged together with the others it may be chance.", Capital(measureWords(c.Measure)), c.inWords(c.Estimate), c.between()))
		default:
			open = append(open, fmt.Sprintf("%s is not settled: %s against %s, anything %s remains possible.", Capital(measureWords(c.Measure)), ArmName(c.Arm), ArmName(c.Reference), c.between()))
		}
	}
	if d.Tests() == 0 {
		return []string{"No number of the arms could be tested: the notes say why. That does not show that the arms are alike."}
	}
	first := fmt.Sprintf("%d numbers of %d arms were compared. With so many, one alone may differ by chance, so all are judged together (Holm).", d.Tests(), len(d.Followed))
	if len(settled) > 0 {
		first += " These differ by more than chance, with what remains possible in brackets:"
	} else {
		first += " None then differs by more than chance, which does not show that the arms are alike."
	}
	out := slices.Concat([]string{first}, settled, open)
	if len(d.Trades) > 0 {
		out = append(out, Capital(d.Trades[0])+".")
	}
	return out
}

// inWords says what an arm has against the other: "with A 1.2 times that with B", or "with A 3.4
// more than with B".
func (c Contrast) inWords(v Number) string {
	arm, other := ArmName(c.Arm), ArmName(c.Reference)
	if c.Kind == "ratio" {
		return fmt.Sprintf("with %s %s times that with %s", arm, Significant(float64(v), 3), other)
	}
	return fmt.Sprintf("with %s %s than with %s", arm, c.amount(v), other)
}

// between is the interval in words.
func (c Contrast) between() string {
	if c.Kind == "ratio" {
		return fmt.Sprintf("from %s to %s times", Significant(float64(c.Lower), 3), Significant(float64(c.Upper), 3))
	}
	return fmt.Sprintf("from %s to %s", c.amount(c.Lower), c.amount(c.Upper))
}

// amount is a difference in words, that of a share in percentage points.
func (c Contrast) amount(v Number) string {
	size, unit := math.Abs(float64(v)), ""
	if strings.HasPrefix(c.Measure, "rule-met-share") {
		size, unit = 100*size, " percentage points"
	}
	word := "more"
	if v < 0 {
		word = "fewer"
		if unit != "" {
			word = "less"
		}
	}
	return Significant(size, 3) + unit + " " + word
}

// Tests counts the contrasts with a p.
func (d *Comparison) Tests() int {
	n := 0
	for _, c := range d.Contrasts {
		if !math.IsNaN(float64(c.P)) {
			n++
		}
	}
	return n
}

// Tables lists a row a contrast; then what stands beside.
func (d *Comparison) Tables() []Table {
	arms := make([]string, len(d.answer.Arms))
	for k, a := range d.answer.Arms {
		arms[k] = ArmName(a)
	}
	who, by := fmt.Sprintf("%s against %s", arms[len(arms)-1], arms[0]), "by what was observed"
	if len(arms) > 2 {
		who = strings.Join(arms, ", ") + ": every pair"
	}
	switch {
	case d.Family == "":
	case d.answer.Cohort:
		by = fmt.Sprintf("by the cohort's curve (%s)", d.Family)
	default:
		by = fmt.Sprintf("by every trainee's own curve (%s)", d.Family)
	}
	title := who + ", " + by
	main := contrastTable("compare", title, d.Contrasts, d.level)
	if o := d.Overall; o != nil && !math.IsNaN(float64(o.P)) {
		main.Notes = append(main.Notes, fmt.Sprintf("Do any of the %d curves differ, in %s? p %s (%s).", o.Arms, strings.Join(o.Measures, ", "), pText(float64(o.P)), o.Method))
	}
	main.Notes = append(main.Notes,
		fmt.Sprintf("The trainee is the unit; one method gives estimate, interval and p of a row. p (Holm) takes the %s of this table together. ∞: not reached.", tests(d.Tests())))
	if slices.ContainsFunc(d.Contrasts, func(c Contrast) bool { return c.Method == compare.WithinClusters }) {
		main.Notes = append(main.Notes, "Arms are compared within clusters, and trainees are dealt out anew within them: differences between clusters do not count, and the values of the arms weight clusters as the contrast does.")
	}
	main.Notes = append(main.Notes, meanings(d.Contrasts)...)
	main.Notes = append(main.Notes, leftOpen(d.Contrasts)...)
	main.Notes = append(main.Notes, cautions(d.Contrasts)...)
	for _, t := range d.Trades {
		main.Notes = append(main.Notes, Capital(t)+".")
	}
	tables := []Table{main}
	if len(d.Margin) > 0 {
		m := d.answer.Margin
		t := contrastTable("margin", fmt.Sprintf("Beside the margin of %g for %s, set on %s", m.Value, m.Measure, m.SetOn), d.Margin, d.Margin[0].Level)
		t.showAs("method", "test")
		t.Notes = leftOpen(d.Margin)
		tables = append(tables, t)
	}
	if rows := withEstimate(d.Sensitivity); len(rows) > 0 {
		t := contrastTable("sensitivity", "The same by every trainee's own curve, and by other methods", rows, d.level)
		t.showAs("method", "method")
		t.Hide("p_adjusted")
		t.Notes = []string{"Beside the table above, to see whether it rests on how it was made; not adjusted. Where trainees stop early their own curves are short, and the cohort's curve is to be preferred."}
		t.Notes = append(t.Notes, meanings(rows)...)
		t.Notes = append(t.Notes, cautions(rows)...)
		tables = append(tables, t)
	}
	if len(d.Slopes) > 0 {
		tables = append(tables, d.slopeTable())
	}
	if len(d.Received) > 0 {
		t := contrastTable("received", fmt.Sprintf("The same by the arm as received (%d trainees received another than assigned)", d.Switched), d.Received, d.level)
		t.Notes = []string{"Those who changed arms were not drawn by lot to do so: as assigned is the comparison that the assignment protects."}
		tables = append(tables, t)
	}
	if len(d.Ratios) > 0 {
		tables = append(tables, d.ratioTable())
	}
	tables = append(tables, d.followedTable())
	if len(d.Departures) > 0 {
		tables = append(tables, d.departureTable())
	}
	return tables
}

func (d *Comparison) slopeTable() Table {
	rows := d.Slopes
	t := Table{Name: "slopes", Title: "Does the slope on the first attempt differ between the arms?", Columns: []Column{
		Words("measure", "measure", rows, func(l SlopeTestLine) string { return l.Measure }),
		Words("basis", "", rows, func(l SlopeTestLine) string { return l.Basis }),
		Words("arm", "arm", rows, func(l SlopeTestLine) string { return ArmName(l.Arm) }),
		Words("reference", "against", rows, func(l SlopeTestLine) string { return ArmName(l.Reference) }),
		Numbers("f", "F", rows, func(l SlopeTestLine) Number { return l.F }, ThreeDigits),
		Numbers("df1", "on", rows, func(l SlopeTestLine) Number { return l.DF1 }, ThreeDigits),
		Numbers("df2", "and", rows, func(l SlopeTestLine) Number { return l.DF2 }, ThreeDigits),
		Numbers("p", "p", rows, func(l SlopeTestLine) Number { return l.P }, PValue),
	}}
	t.Notes = []string{"The adjusted rows above take the slopes as alike. Where they differ, the difference between arms depends on where trainees start. A large p leaves it open whether they do."}
	return t
}

func (d *Comparison) ratioTable() Table {
	rows := d.Ratios
	t := Table{Name: "likelihood", Title: "How much worse does one curve describe the arms where they are taken as alike?", Columns: []Column{
		Words("alike_in", "alike in", rows, func(r RatioLine) string { return strings.Join(r.Alike, ", ") }),
		Numbers("chi_square", "χ²", rows, func(r RatioLine) Number { return r.ChiSquare }, ThreeDigits),
		Numbers("f", "F", rows, func(r RatioLine) Number { return r.F }, ThreeDigits),
		Numbers("df1", "on", rows, func(r RatioLine) Number { return r.DF1 }, ThreeDigits),
		Numbers("df2", "and", rows, func(r RatioLine) Number { return r.DF2 }, ThreeDigits),
		Numbers("p", "p", rows, func(r RatioLine) Number { return r.P }, PValue),
	}}
	t.Notes = []string{"χ²: twice the difference of log-likelihoods; F judges it by the number of trainees. It stands beside the main table, and its parameters are those of the fit, not the measures above: a large p does not show that the arms are alike."}
	return t
}

func (d *Comparison) followedTable() Table {
	rows := d.Followed
	return Table{Name: "followed", Title: fmt.Sprintf("How far the arms were seen; levels are compared at attempt %g", d.Attempt), Columns: []Column{
		Words("arm", "arm", rows, func(f FollowedLine) string { return f.Arm }),
		Counts("trainees", "trainees", rows, func(f FollowedLine) int { return f.Trainees }),
		Counts("without_attempts", "without attempts", rows, func(f FollowedLine) int { return f.Unseen }),
		Numbers("first_last_attempt", "last attempt: lowest", rows, func(f FollowedLine) Number { return f.First }, ThreeDigits),
		Numbers("median_last_attempt", "middle", rows, func(f FollowedLine) Number { return f.Median }, ThreeDigits),
		Numbers("last_attempt", "highest", rows, func(f FollowedLine) Number { return f.Last }, ThreeDigits),
		Counts("stopped_rule_met", "stopped before, rule met", rows, func(f FollowedLine) int { return f.StoppedMet }),
		Counts("stopped_rule_not_met", "rule not met", rows, func(f FollowedLine) int { return f.StoppedNotMet }),
	}}
}

func (d *Comparison) departureTable() Table {
	rows := d.Departures
	t := Table{Name: "departures", Title: "How much worse must those not seen to the end have done to change an answer?", Columns: []Column{
		Words("measure", "measure", rows, func(l DepartureLine) string { return l.Measure }),
		Words("arm", "arm", rows, func(l DepartureLine) string { return ArmName(l.Arm) }),
		Words("reference", "against", rows, func(l DepartureLine) string { return ArmName(l.Reference) }),
		Words("worse", "worse in", rows, func(l DepartureLine) string { return ArmName(l.Worse) }),
		Counts("unseen", "trainees", rows, func(l DepartureLine) int { return l.Unseen }),
		Words("kind", "by", rows, func(l DepartureLine) string { return l.Kind }),
		Numbers("tip", "tips at", rows, func(l DepartureLine) Number { return l.Tip }, ThreeDigits),
		Numbers("tried", "tried up to", rows, func(l DepartureLine) Number { return l.Tried }, ThreeDigits),
		Words("now", "alike now", rows, func(l DepartureLine) string { return l.Now }),
	}}
	rest := 0
	for _, l := range rows {
		if math.IsInf(float64(l.Tip), 1) {
			rest++
			continue
		}
		t.Notes = append(t.Notes, Capital(l.Text)+".")
	}
	if rest > 0 {
		t.Notes = append(t.Notes, "∞: worse by up to what was tried, they do not change what the interval says.")
	}
	t.Notes = append(t.Notes, "Assumed is: those who stopped go on as their curve, or as those who went on. Alike now: whether the interval leaves it open that the arms are alike.")
	return t
}

// trainees counts people: "the trainee" or "the 5 trainees".
func trainees(n int) string {
	if n == 1 {
		return "the trainee"
	}
	return fmt.Sprintf("the %d trainees", n)
}

// tests counts tests: "1 test" or "5 tests".
func tests(n int) string {
	if n == 1 {
		return "1 test"
	}
	return fmt.Sprintf("%d tests", n)
}
