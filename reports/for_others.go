package reports

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"tyro/analysis/disclosure"
	"tyro/analysis/study"
)

// ForOthers is what of an answer may be given to others: nothing of any trainee, expert or
// rater, and no small number of people.
//
// # Rules
//
// Arms are told apart only where every one has at least as many people as may be shown; what
// rests on a smaller arm is left out with the others, since it would follow from the whole.
// Whoever met the rule and whoever did not are hidden, arm by arm, by [disclosure.Suppress],
// with the rows' and columns' totals shown. Steps of a survival table are put together until
// each speaks of enough people: those who met, those who left without, and those still there;
// no estimate from finer steps stands beside them, since these would follow from it. Medians
// stand only where nobody is hidden. Of contrasts those that would tell a hidden count with the
// totals of other tables are left out.
type ForOthers struct {
	Header
	SmallestCell int                 `json:"smallest_cell"`
	Hidden       int                 `json:"hidden"` // counts, or rows, that are not shown
	People       []PeopleRow         `json:"people,omitempty"`
	Medians      []SharedMedian      `json:"medians,omitempty"`
	Steps        []SharedStep        `json:"steps,omitempty"`
	Parameters   []CohortEffect      `json:"parameters,omitempty"`
	Spreads      []CohortSpread      `json:"random,omitempty"`
	Contrasts    []SharedContrast    `json:"contrasts,omitempty"`
	Coefficients []SharedCoefficient `json:"coefficients,omitempty"`

	met bool // people are counted by whether they met the rule
}

// A PeopleRow counts an arm's people; null where a count is hidden.
type PeopleRow struct {
	Arm    string `json:"arm"`
	Met    *int   `json:"met,omitempty"`
	Not    *int   `json:"not_met,omitempty"`
	People int    `json:"n"`
}

// A SharedMedian is the attempts by which half of an arm had met the rule.
type SharedMedian struct {
	Arm    string `json:"arm"`
	Median Number `json:"median"`
	Lower  Number `json:"lower"`
	Upper  Number `json:"upper"`
}

// A SharedStep is one or several steps of a survival table, from after the row before.
type SharedStep struct {
	Arm    string `json:"arm"`
	To     Number `json:"attempt"` // the last of the row
	AtRisk int    `json:"at_risk"` // at its begin
	Met    int    `json:"met"`
	Left   int    `json:"left"` // without having met it
}

// A SharedContrast is a comparison of two arms without their sizes.
type SharedContrast struct {
	Measure   string `json:"measure"`
	Arm       string `json:"arm"`
	Reference string `json:"reference"`
	Kind      string `json:"kind"`
	Estimate  Number `json:"estimate"`
	Lower     Number `json:"lower"`
	Upper     Number `json:"upper"`
	P         Number `json:"p"`
	Method    string `json:"method"`
}

// A SharedCoefficient is a coefficient of agreement of an item.
type SharedCoefficient struct {
	Item     string `json:"item"`
	Subjects int    `json:"n_subjects"`
	Name     string `json:"name"`
	Estimate Number `json:"estimate"`
	Lower    Number `json:"lower"`
	Upper    Number `json:"upper"`
}

// NewForOthers takes from a document what may be given to others; least is the smallest number
// of people that is shown, 0 for the study's own, else [DefaultSmallestCell]. An error says that
// nothing may, or that the command's answer has no such form.
func NewForOthers(from Document, least int) (Document, error) {
	least = cmp.Or(least, from.Head().smallestCell, DefaultSmallestCell)
	if check, ok := from.(*Check); ok {
		return NewShare(check, least), nil
	}
	d := &ForOthers{Header: headForOthers(*from.Head()), SmallestCell: least}
	var err error
	switch a := from.(type) {
	case *Cohort:
		err = d.cohort(a)
	case *Proficiency:
		err = d.survival(a.Survival)
	case *UntilProficient:
		err = d.survival(a.Survival)
	case *Comparison:
		few := d.fewMet(a.Contrasts)
		err = d.contrasts(d.withoutCounts(a.Contrasts, few), d.withoutCounts(a.Margin, few))
		if err == nil && d.Hidden > 0 {
			d.Warn("contrasts-hidden", "contrasts of arms of few trainees, of hard fails, and of who met the rule where few did or few did not are not shown")
		}
	case *OutcomeComparison:
		if d.fewIn(a.answer.Two) {
			err = fmt.Errorf("all numbers are one of two, and an arm has fewer than %d trainees with one of them, whom the comparison would tell: nothing of it may be given to others", d.SmallestCell)
		} else {
			err = d.contrasts(a.Contrasts)
		}
	case *Agreement:
		err = d.agreement(a)
	default:
		err = errors.New("this answer has no form that may be given to others")
	}
	if err != nil {
		return nil, err
	}
	return d, nil
}

// headForOthers is a header that names nobody: warnings, files and the command line may.
func headForOthers(h Header) Header {
	h.Warnings, h.FilesRead, h.CommandLine, h.Flags = []Warning{}, nil, "", map[string]any{}
	return h
}

// tooFew is the refusal where a whole is itself too small.
func (d *ForOthers) tooFew(n int, what string) error {
	return fmt.Errorf("%d %s are fewer than %d, the smallest count shown: nothing of them may be given to others", n, what, d.SmallestCell)
}

// people counts everybody by arm and reports whether arms may be told apart.
func (d *ForOthers) people(arms []string, n []int) (apart bool, err error) {
	total := 0
	apart = true
	for _, k := range n {
		total += k
		apart = apart && (k == 0 || k >= d.SmallestCell)
	}
	if total < d.SmallestCell {
		return false, d.tooFew(total, "trainees")
	}
	if !apart {
		d.Hidden += len(arms)
		d.People = []PeopleRow{{Arm: "(all)", People: total}}
		d.Warn("arms-hidden", fmt.Sprintf("an arm has fewer than %d trainees, so that arms are not told apart", d.SmallestCell))
		return false, nil
	}
	for i, arm := range arms {
		d.People = append(d.People, PeopleRow{Arm: study.ArmName(arm), People: n[i]})
	}
	if len(arms) > 1 {
		d.People = append(d.People, PeopleRow{Arm: "(all)", People: total})
	}
	return true, nil
}

// cohort gives the curve of the population and how much people differ.
func (d *ForOthers) cohort(c *Cohort) error {
	arms, at := []string{}, map[string]int{}
	var n []int
	for _, t := range c.Trainees {
		i, seen := at[t.Arm]
		if !seen {
			i = len(arms)
			at[t.Arm] = i
			arms, n = append(arms, t.Arm), append(n, 0)
		}
		n[i]++
	}
	apart, err := d.people(arms, n)
	if err != nil {
		return err
	}
	d.Spreads = c.Random
	common := true // the curve is of all, not of the first arm
	for _, e := range c.Fixed {
		common = common && e.Arm == "" && e.Covariate == ""
	}
	for _, e := range c.Fixed {
		switch {
		case e.Covariate != "": // of people of one site, or one kind of experience
			d.Hidden++
		case apart || common:
			d.Parameters = append(d.Parameters, e)
		default:
			d.Hidden++
		}
	}
	if !apart && !common {
		d.Warn("parameters-hidden", "parameters of arms are not shown; --arm-effect none fits one curve for all")
	}
	return nil
}

// survival gives who met the rule, by arm, and the steps put together.
func (d *ForOthers) survival(arms []ArmStep) error {
	d.met = true
	var names []string
	var n []int
	var counts [][]int
	for _, a := range arms {
		names, n, counts = append(names, a.Arm), append(n, a.N), append(counts, []int{a.Met, a.N - a.Met})
	}
	if len(arms) == 0 {
		return errors.New("no observed attempts until the rule was met (a standard and a rule are needed), so there is nothing that may be given to others")
	}
	apart, err := d.people(names, n)
	if err != nil {
		return err
	}
	if !apart {
		both := []int{0, 0}
		for _, c := range counts {
			both[0], both[1] = both[0]+c[0], both[1]+c[1]
		}
		counts = [][]int{both}
	}
	hidden := disclosure.Suppress(counts, d.SmallestCell)
	sums, none := []int{0, 0}, true
	for i, c := range counts {
		for j, to := range []**int{&d.People[i].Met, &d.People[i].Not} {
			sums[j] += c[j]
			if hidden[i][j] {
				d.Hidden++
				none = false
				continue
			}
			*to = &c[j]
		}
	}
	if len(counts) > 1 {
		all := &d.People[len(d.People)-1]
		if small := func(k int) bool { return k > 0 && k < d.SmallestCell }; !small(sums[0]) && !small(sums[1]) {
			all.Met, all.Not = &sums[0], &sums[1]
		} else { // a column whose total is small is small in every row
			for i := range d.People {
				d.People[i].Met, d.People[i].Not = nil, nil
			}
			d.Hidden, none = 2*len(d.People), false
		}
	}
	if !none || !apart {
		d.Warn("steps-hidden", "how many met the rule at which attempt is not shown, since it would tell of few people")
		return nil
	}
	for _, a := range arms {
		d.Medians = append(d.Medians, SharedMedian{study.ArmName(a.Arm), a.Median.Estimate, a.Median.Lower, a.Median.Upper})
		d.Steps = append(d.Steps, d.together(a)...)
	}
	return nil
}

// together puts steps together until each speaks of enough people, and so do those who are
// left after the last.
func (d *ForOthers) together(a ArmStep) []SharedStep {
	enough := func(k int) bool { return k == 0 || k >= d.SmallestCell }
	var out []SharedStep
	begin, met := a.N, 0 // at risk after the last row, and those who met since
	for _, s := range a.Steps {
		met += s.Met
		stay := s.AtRisk - s.Met
		left := begin - met - stay
		if met+left == 0 || !enough(met) || !enough(left) || !enough(stay) {
			continue
		}
		out = append(out, SharedStep{study.ArmName(a.Arm), s.Attempt, begin, met, left})
		begin, met = stay, 0
	}
	for len(out) > 0 { // those after the last row: who met, and who left without
		last := 0
		for _, s := range out {
			last += s.Met
		}
		rest := a.Met - last
		if enough(rest) && enough(begin-rest) {
			return out
		}
		begin = out[len(out)-1].AtRisk
		out = out[:len(out)-1]
	}
	return out
}

// fewIn reports whether counts of people have one that is small.
func (d *ForOthers) fewIn(counts [][]int) bool {
	return slices.ContainsFunc(disclosure.Suppress(counts, d.SmallestCell), func(row []bool) bool { return slices.Contains(row, true) })
}

// fewMet reports whether the contrasts of who met the rule would tell how few did, or did not, in an
// arm: a difference of two shares gives both with the number of all who met it, which proficiency
// shows.
func (d *ForOthers) fewMet(all []Contrast) bool {
	met := func(share Number, n int) []int {
		k := int(math.Round(float64(share) * float64(n)))
		return []int{k, n - k}
	}
	return slices.ContainsFunc(all, func(c Contrast) bool {
		return strings.HasPrefix(c.Measure, "rule-met-share-") && d.fewIn([][]int{met(c.ArmValue, c.ArmTrainees), met(c.ReferenceValue, c.RefTrainees)})
	})
}

// withoutCounts leaves out contrasts that would tell how few met the rule or failed. Of hard fails,
// of which check shows how many there were, it is not known here how few people had them, so that
// they are never given.
func (d *ForOthers) withoutCounts(all []Contrast, fewMet bool) []Contrast {
	out := slices.DeleteFunc(slices.Clone(all), func(c Contrast) bool {
		return fewMet && strings.HasPrefix(c.Measure, "rule-met-") || strings.HasPrefix(c.Measure, "hard-fails-")
	})
	d.Hidden += len(all) - len(out)
	return out
}

// contrasts gives the comparisons of arms with enough people each.
func (d *ForOthers) contrasts(lists ...[]Contrast) error {
	for _, list := range lists {
		for _, c := range list {
			if c.ArmTrainees < d.SmallestCell || c.RefTrainees < d.SmallestCell {
				d.Hidden++
				continue
			}
			d.Contrasts = append(d.Contrasts, SharedContrast{c.Measure, study.ArmName(c.Arm), study.ArmName(c.Reference), c.Kind, c.Estimate, c.Lower, c.Upper, c.P, c.Method})
		}
	}
	if d.Contrasts == nil {
		return fmt.Errorf("no two arms have %d trainees each, the smallest count shown: nothing of the comparison may be given to others", d.SmallestCell)
	}
	return nil
}

// agreement gives the coefficients of items with enough subjects; how many raters there were
// is not said, since they are few.
func (d *ForOthers) agreement(a *Agreement) error {
	for _, it := range a.Items {
		if it.NSubjects < d.SmallestCell {
			d.Hidden++
			continue
		}
		for _, c := range it.Coefficients {
			d.Coefficients = append(d.Coefficients, SharedCoefficient{it.Item, it.NSubjects, c.Name, c.Estimate, c.Lower, c.Upper})
		}
	}
	if d.Coefficients == nil {
		return fmt.Errorf("no item has %d rated performances, the smallest count shown: nothing of the ratings may be given to others", d.SmallestCell)
	}
	return nil
}

// Tables shows what there is.
func (d *ForOthers) Tables() []Table {
	var out []Table
	if d.People != nil {
		out = append(out, d.peopleTable())
	}
	if d.Medians != nil {
		rows := d.Medians
		out = append(out, Table{Name: "shared-medians", Title: "Attempts until half had met the rule, observed", Columns: []Column{
			Words("arm", "arm", rows, func(m SharedMedian) string { return m.Arm }),
			Numbers("median", "median", rows, func(m SharedMedian) Number { return m.Median }, nil),
			Numbers("lower", "lower", rows, func(m SharedMedian) Number { return m.Lower }, nil),
			Numbers("upper", "upper", rows, func(m SharedMedian) Number { return m.Upper }, nil),
		}})
	}
	if d.Steps != nil {
		rows := d.Steps
		out = append(out, Table{Name: "shared-steps", Title: "Who met the rule by which attempt", Columns: []Column{
			Words("arm", "arm", rows, func(s SharedStep) string { return s.Arm }),
			Numbers("attempt", "up to attempt", rows, func(s SharedStep) Number { return s.To }, Whole),
			Counts("at_risk", "before", rows, func(s SharedStep) int { return s.AtRisk }),
			Counts("met", "met it", rows, func(s SharedStep) int { return s.Met }),
			Counts("left", "left without", rows, func(s SharedStep) int { return s.Left }),
		}, Notes: []string{"Attempts are put together until a row speaks of enough people; those after the last row are in the table above."}})
	}
	if d.Parameters != nil || d.Spreads != nil {
		out = append(out, d.parameterTables()...)
	}
	if d.Contrasts != nil {
		rows := d.Contrasts
		out = append(out, Table{Name: "shared-contrasts", Title: "Arms against each other", Columns: []Column{
			Words("measure", "measure", rows, func(c SharedContrast) string { return c.Measure }),
			Words("arm", "arm", rows, func(c SharedContrast) string { return c.Arm }),
			Words("reference", "against", rows, func(c SharedContrast) string { return c.Reference }),
			Words("kind", "as", rows, func(c SharedContrast) string { return c.Kind }),
			Numbers("estimate", "estimate", rows, func(c SharedContrast) Number { return c.Estimate }, nil),
			Numbers("lower", "lower", rows, func(c SharedContrast) Number { return c.Lower }, nil),
			Numbers("upper", "upper", rows, func(c SharedContrast) Number { return c.Upper }, nil),
			Numbers("p", "p", rows, func(c SharedContrast) Number { return c.P }, nil),
			Words("method", "method", rows, func(c SharedContrast) string { return c.Method }),
		}})
	}
	if d.Coefficients != nil {
		rows := d.Coefficients
		out = append(out, Table{Name: "shared-agreement", Title: "Agreement of the raters", Columns: []Column{
			Words("item", "item", rows, func(c SharedCoefficient) string { return c.Item }),
			Counts("n_subjects", "performances", rows, func(c SharedCoefficient) int { return c.Subjects }),
			Words("coefficient", "coefficient", rows, func(c SharedCoefficient) string { return c.Name }),
			Numbers("estimate", "estimate", rows, func(c SharedCoefficient) Number { return c.Estimate }, nil),
			Numbers("lower", "lower", rows, func(c SharedCoefficient) Number { return c.Lower }, nil),
			Numbers("upper", "upper", rows, func(c SharedCoefficient) Number { return c.Upper }, nil),
		}})
	}
	if len(out) > 0 {
		out[0].Notes = append(out[0].Notes, fmt.Sprintf("For others: nobody is named, and numbers of people from 1 to %d are hidden, with those that would tell them.", d.SmallestCell-1))
	}
	return out
}

func (d *ForOthers) peopleTable() Table {
	rows := d.People
	count := func(n *int) string {
		if n == nil {
			return "hidden"
		}
		return strconv.Itoa(*n)
	}
	t := Table{Name: "shared-people", Title: "Trainees, for others", Columns: []Column{Words("arm", "arm", rows, func(r PeopleRow) string { return r.Arm })}}
	if d.met {
		t.Columns = append(t.Columns,
			Words("met", "met the rule", rows, func(r PeopleRow) string { return count(r.Met) }),
			Words("not_met", "did not", rows, func(r PeopleRow) string { return count(r.Not) }))
	}
	t.Columns = append(t.Columns, Counts("n", "trainees", rows, func(r PeopleRow) int { return r.People }))
	return t
}

func (d *ForOthers) parameterTables() []Table {
	fixed, random := d.Parameters, d.Spreads
	var out []Table
	if fixed != nil {
		out = append(out, Table{Name: "shared-parameters", Title: "The curve of all trainees", Columns: []Column{
			Words("name", "parameter", fixed, func(e CohortEffect) string { return e.Name }),
			Words("arm", "arm", fixed, func(e CohortEffect) string { return e.Arm }),
			Words("scale", "scale", fixed, func(e CohortEffect) string { return e.Scale }),
			Numbers("estimate", "estimate", fixed, func(e CohortEffect) Number { return e.Estimate }, nil),
			Numbers("se", "SE", fixed, func(e CohortEffect) Number { return e.SE }, nil),
			Numbers("lower", "lower", fixed, func(e CohortEffect) Number { return e.Lower }, nil),
			Numbers("upper", "upper", fixed, func(e CohortEffect) Number { return e.Upper }, nil),
		}})
	}
	if random != nil {
		out = append(out, Table{Name: "shared-spread", Title: "How much trainees differ", Columns: []Column{
			Words("name", "parameter", random, func(e CohortSpread) string { return e.Name }),
			Words("scale", "scale", random, func(e CohortSpread) string { return e.Scale }),
			Numbers("sd", "SD", random, func(e CohortSpread) Number { return e.SD }, nil),
			Numbers("lower", "lower", random, func(e CohortSpread) Number { return e.Lower }, nil),
			Numbers("upper", "upper", random, func(e CohortSpread) Number { return e.Upper }, nil),
		}})
	}
	return out
}
