package reports

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"tyro/analysis/proficiency"
)

// groupName is a group of trainees in words.
func GroupName(arm string) string {
	if arm == "" {
		return "all trainees"
	}
	return "arm " + arm
}

// basisName is a basis in words.
func basisName(basis string) string {
	if basis == proficiency.ByCohort {
		return "by the cohort's curve"
	}
	return "as observed"
}

// percentTenths is a share with at most one decimal: 62.5 %.
func percentTenths(v float64) string {
	if math.IsNaN(v) {
		return "–"
	}
	return strconv.FormatFloat(math.Round(1000*v)/10, 'f', -1, 64) + " %"
}

// quotaCell shows a number of attempts of a quota.
func quotaCell(v float64) string {
	switch {
	case math.IsInf(v, 1):
		return "cannot be estimated"
	case math.IsNaN(v):
		return "–"
	}
	return strconv.FormatFloat(v, 'f', 0, 64)
}

// limitCell shows a limit of attempts.
func limitCell(v float64) string {
	if math.IsInf(v, 1) {
		return "not reached"
	}
	return quotaCell(v)
}

// amount shows hours and costs: whole from 100 on.
func amount(v float64) string {
	if math.Abs(v) >= 100 {
		return Significant(v, int(math.Floor(math.Log10(math.Abs(v))))+1)
	}
	return Significant(v, 3)
}

// Tables lists the quotas, the statements about nearly all trainees, and the
// schedule with its costs and what fewer attempts change.
func (d *Schedule) Tables() []Table {
	out := []Table{d.QuotaTable(), d.StatementTable()}
	if len(d.Plans) > 0 {
		out = append(out, d.planTable())
		if d.Costs != nil {
			out = append(out, d.costTable())
		}
		out = append(out, d.fewerTable())
	}
	return out
}

func (d *Schedule) ruleText() string {
	if d.Rule == "" {
		return "the rule"
	}
	return fmt.Sprintf("the rule %q", d.Rule)
}

func (d *Schedule) QuotaTable() Table {
	from := fmt.Sprintf("%g %% from", 100*d.Level)
	t := Table{Name: "quota", Title: fmt.Sprintf("Attempts by which a share of trainees has met %s", d.ruleText()), Columns: []Column{
		{Key: "arm", Head: "trainees"}, {Key: "share", Head: "share", Show: percentTenths},
		{Key: "attempts", Head: "as observed", Show: quotaCell}, {Key: "lower", Head: from, Show: limitCell}, {Key: "upper", Head: "to", Show: limitCell}, {Key: "status"}, {Key: "largest_share"},
		{Key: "cohort_attempts", Head: "by the cohort's curve", Show: quotaCell}, {Key: "cohort_lower", Head: from, Show: limitCell}, {Key: "cohort_upper", Head: "to", Show: limitCell}, {Key: "cohort_status"}, {Key: "cohort_largest_share"},
	}}
	curve := map[string]ShareRow{}
	for _, r := range d.Rows {
		if r.Basis == proficiency.ByCohort {
			curve[fmt.Sprint(r.Arm, "\x00", r.Share)] = r
		}
	}
	nan := math.NaN()
	for _, r := range d.Rows {
		if r.Basis != proficiency.ByObservation {
			continue
		}
		row := []any{ArmName(r.Arm), r.Share, float64(r.Attempts), float64(r.Lower), float64(r.Upper), r.Status, float64(r.Largest)}
		if c, ok := curve[fmt.Sprint(r.Arm, "\x00", r.Share)]; ok {
			row = append(row, float64(c.Attempts), float64(c.Lower), float64(c.Upper), c.Status, float64(c.Largest))
		} else {
			row = append(row, nan, nan, nan, "", nan)
		}
		t.Rows = append(t.Rows, row)
	}
	if len(curve) == 0 {
		t.Hide("cohort_attempts", "cohort_lower", "cohort_upper")
	}
	for _, a := range d.Answers() {
		t.Notes = append(t.Notes, strings.Join(strings.Fields(a.Lead+" "+a.Plan+" "+a.Fewer+" "+a.Rest), " "))
	}
	t.Notes = append(append(t.Notes, d.QuotaNotes()...), Caution)
	return t
}

// quotaNotes say what the numbers are, and which share is the largest that can be
// estimated.
func (d *Schedule) QuotaNotes() []string {
	out := []string{"Definition " + d.Definition + ": attempts until the rule is first met. As observed: the product-limit estimate of all trainees of the group; those who never met the rule count up to their last attempt. Limits by the beta product at half steps between attempts, which hold what they claim; those of the arms' medians elsewhere are log-log limits."}
	if d.Parts[0].Next != nil {
		out = append(out, "By the cohort's curve: new trainees of the population that the fitted curves show, the rule answered exactly for each, error limits and hard fails included; limits from the uncertainty of that population.")
	}
	return append(out, d.largestNotes()...)
}

// largestNotes say which share is the largest that can be estimated as observed.
func (d *Schedule) largestNotes() []string {
	var out []string
	for _, g := range d.Parts {
		if q := g.Seen.Quota(1); math.IsInf(q.Attempts, 1) {
			out = append(out, fmt.Sprintf("%s: %d of %d met the rule; the largest share that can be estimated as observed is %s.", Capital(GroupName(g.Arm)), metOf(g), len(g.obs), percentTenths(q.Largest)))
		}
	}
	return out
}

func metOf(g scheduled) int {
	k := 0
	for _, o := range g.obs {
		if o.Event {
			k++
		}
	}
	return k
}

func (d *Schedule) StatementTable() Table {
	t := Table{Name: "quota-statement", Title: fmt.Sprintf("With %g %% confidence, at least %s of such trainees have met the rule by attempt", 100*toleranceWith, percentTenths(toleranceFor)), Columns: []Column{
		{Key: "arm", Head: "trainees"}, {Key: "basis"}, {Key: "basis_words", Head: "basis"}, {Key: "attempts", Head: "attempt", Show: func(v float64) string {
			if math.IsInf(v, 1) {
				return "cannot be said"
			}
			return quotaCell(v)
		}},
		{Key: "claimed_share", Head: "share that can be stated", Show: percentTenths}, {Key: "status"}, {Key: "trainees_needed"},
	}}
	for _, s := range d.Statements {
		t.Rows = append(t.Rows, []any{ArmName(s.Arm), s.Basis, basisName(s.Basis), float64(s.Attempts), float64(s.Claimed), s.Status, s.TraineesNeeded})
	}
	t.Notes = []string{fmt.Sprintf("As observed this needs at least %d trainees, all of whom meet the rule, whatever the distribution (order statistics; with censoring the beta product in place of the binomial). Where it cannot be said, the share that can be stated is the largest for any attempt seen.", d.Statements[0].TraineesNeeded)}
	return t
}

// planTable lists what the schedule brings.
func (d *Schedule) planTable() Table {
	from := fmt.Sprintf("%g %% from", 100*d.Level)
	title := fmt.Sprintf("What %d attempts bring", d.options.Attempts)
	if d.options.Attempts == 0 {
		title = "What the attempts for " + percentTenths(d.options.Target) + " bring"
	}
	t := Table{Name: "schedule", Title: fmt.Sprintf("%s, for %d trainees", title, d.options.Trainees), Columns: []Column{
		{Key: "arm", Head: "trainees"}, {Key: "basis"}, {Key: "basis_words", Head: "basis"}, {Key: "attempts", Head: "scheduled"}, {Key: "trainees"},
		{Key: "met", Head: "proficient by then", Show: percentTenths}, {Key: "met_lower", Head: from, Show: percentTenths}, {Key: "met_upper", Head: "to", Show: percentTenths},
		{Key: "attempts_used", Head: "attempts used", Show: tenths}, {Key: "used_lower", Head: from, Show: tenths}, {Key: "used_upper", Head: "to", Show: tenths},
		{Key: "not_there", Head: "not there", Show: tenths}, {Key: "more_for_half", Head: "half of them need more", Show: moreCell}, {Key: "not_met_at_the_end", Head: "not there at the end", Show: percentTenths}, {Key: "end", Head: "end"},
	}}
	for _, p := range d.Plans {
		t.Rows = append(t.Rows, []any{
			ArmName(p.Arm), p.Basis, basisName(p.Basis), p.Attempts, p.Trainees, float64(p.Met.Estimate), float64(p.Met.Lower), float64(p.Met.Upper),
			float64(p.Used.Estimate), float64(p.Used.Lower), float64(p.Used.Upper), float64(p.Trainees) * (1 - float64(p.Met.Estimate)), float64(p.MoreForHalf), float64(p.NeverMet), p.End,
		})
	}
	t.Notes = append(t.Notes, "Attempts used: mean of a trainee when practice stops as soon as the rule is met. Not there: expected trainees without the rule; the end is the last attempt seen, or looked ahead to. Expected numbers: a single group will differ from them by chance.")
	return t
}

func moreCell(v float64) string {
	switch {
	case math.IsNaN(v):
		return "–"
	case math.IsInf(v, 1):
		return "beyond the end"
	}
	return strconv.FormatFloat(v, 'f', 0, 64)
}

// costTable lists what the schedule costs, spent in either way.
func (d *Schedule) costTable() Table {
	from := fmt.Sprintf("%g %% from", 100*d.Level)
	unit := d.Costs.Unit
	t := Table{Name: "schedule-cost", Title: fmt.Sprintf("What it costs, for %d trainees, in %s", d.options.Trainees, unit), Columns: []Column{
		{Key: "arm", Head: "trainees"}, {Key: "basis"}, {Key: "basis_words", Head: "basis"}, {Key: "practice", Head: "practice"},
		{Key: "lab_hours", Head: "lab hours", Show: amount}, {Key: "examiner_hours", Head: "examiner hours", Show: amount}, {Key: "consumables", Head: "consumables", Show: amount},
		{Key: "cost", Head: "cost", Show: amount}, {Key: "cost_lower", Head: from, Show: amount}, {Key: "cost_upper", Head: "to", Show: amount},
		{Key: "cost_per_proficient", Head: "per proficient", Show: amount}, {Key: "per_lower", Head: from, Show: amount}, {Key: "per_upper", Head: "to", Show: amount},
	}}
	for _, p := range d.Plans {
		for _, way := range []struct {
			name string
			Spent
		}{{"stops at the rule", p.Stopping}, {"all attempts", p.Everybody}} {
			s := way.Spent
			t.Rows = append(t.Rows, []any{
				ArmName(p.Arm), p.Basis, basisName(p.Basis), way.name, float64(s.LabHours.Estimate), float64(s.ExaminerHours.Estimate), float64(s.Consumables.Estimate),
				float64(s.Cost.Estimate), float64(s.Cost.Lower), float64(s.Cost.Upper), float64(s.PerMet.Estimate), float64(s.PerMet.Lower), float64(s.PerMet.Upper),
			})
		}
	}
	c := d.Costs
	t.Notes = []string{
		fmt.Sprintf("An attempt takes %g min of the lab and %g min of an examiner, at %g and %g %s an hour, and %g of consumables: %s; a trainee costs %g besides.",
			float64(c.LabMinutes), float64(c.ExaminerMinutes), float64(c.LabHourPrice), float64(c.ExaminerHourPrice), unit, float64(c.Consumables), amount(float64(c.PerAttempt)), float64(c.PerTrainee)),
		"Per proficient: the cost of all trainees, those who are not there included, divided by the trainees who are. Intervals: whole trainees drawn with replacement; by the cohort's curve the uncertainty of the population.",
	}
	return t
}

// fewerTable lists what fewer attempts change.
func (d *Schedule) fewerTable() Table {
	from := fmt.Sprintf("%g %% from", 100*d.Level)
	t := Table{Name: "schedule-fewer", Title: fmt.Sprintf("With %d attempts fewer, for %d trainees", d.options.Fewer, d.options.Trainees), Columns: []Column{
		{Key: "arm", Head: "trainees"}, {Key: "basis"}, {Key: "basis_words", Head: "basis"}, {Key: "attempts", Head: "left"},
		{Key: "fewer_proficient", Head: "fewer proficient", Show: tenths}, {Key: "fewer_lower", Head: from, Show: tenths}, {Key: "fewer_upper", Head: "to", Show: tenths},
		{Key: "not_proficient", Head: "not proficient", Show: percentTenths}, {Key: "not_lower", Head: from, Show: percentTenths}, {Key: "not_upper", Head: "to", Show: percentTenths},
		{Key: "saved", Head: "saves", Show: amount}, {Key: "saved_lower", Head: from, Show: amount}, {Key: "saved_upper", Head: "to", Show: amount}, {Key: "saved_everybody", Head: "if all are made", Show: amount},
	}}
	for _, p := range d.Plans {
		f := p.Fewer
		if f == nil {
			continue
		}
		t.Rows = append(t.Rows, []any{
			ArmName(p.Arm), p.Basis, basisName(p.Basis), f.Attempts, float64(f.FewerMet.Estimate), float64(f.FewerMet.Lower), float64(f.FewerMet.Upper),
			float64(f.NotMet.Estimate), float64(f.NotMet.Lower), float64(f.NotMet.Upper), float64(f.Saved.Estimate), float64(f.Saved.Lower), float64(f.Saved.Upper), float64(f.SavedByEverybody),
		})
	}
	if d.Costs == nil {
		t.Hide("saved", "saved_lower", "saved_upper", "saved_everybody")
		t.Notes = append(t.Notes, "No costs are stated, so nothing is said about money: give them in the study file (costs) or by flags such as --lab-minutes and --lab-hour-price.")
	} else {
		t.Notes = append(t.Notes, "Saves: in "+d.Costs.Unit+", when practice stops at the rule; if all are made, when everybody makes all attempts.")
	}
	return t
}

// An answer says of one group what to schedule and what it costs, what fewer attempts
// would change, and what becomes of those who are not there. Fewer is blank where
// none would be left.
type Answer struct{ Lead, Plan, Fewer, Rest string }

// answers are those of the groups with a plan.
func (d *Schedule) Answers() []Answer {
	var out []Answer
	for _, p := range d.Plans {
		if p.main {
			out = append(out, Answer{p.lead(), p.metLine() + d.costLine(p), d.fewerLine(p), p.restLine()})
		}
	}
	return out
}

// lead is the answer in a few words.
func (p Plan) lead() string {
	if p.Target == 0 {
		return fmt.Sprintf("%s, %d attempts scheduled.", Capital(GroupName(p.Arm)), p.Attempts)
	}
	return fmt.Sprintf("%s: schedule %d attempts for %s.", Capital(GroupName(p.Arm)), p.Attempts, percentTenths(p.Target))
}

func (p Plan) metLine() string {
	return fmt.Sprintf("By then %s (%s to %s) are proficient, %s.", percentTenths(float64(p.Met.Estimate)), percentTenths(float64(p.Met.Lower)), percentTenths(float64(p.Met.Upper)), basisName(p.Basis))
}

// costLine says what a plan costs; blank where no costs are stated.
func (d *Schedule) costLine(p Plan) string {
	if d.Costs == nil {
		return ""
	}
	s := p.Stopping
	return fmt.Sprintf(" For %d trainees that takes %s lab hours and costs %s %s when practice stops at the rule (%s when everybody makes all attempts): %s (%s to %s) for each proficient trainee.",
		p.Trainees, amount(float64(s.LabHours.Estimate)), amount(float64(s.Cost.Estimate)), d.Costs.Unit, amount(float64(p.Everybody.Cost.Estimate)),
		amount(float64(s.PerMet.Estimate)), amount(float64(s.PerMet.Lower)), amount(float64(s.PerMet.Upper)))
}

// fewerLine answers what fewer attempts would change.
func (d *Schedule) fewerLine(p Plan) string {
	f := p.Fewer
	if f == nil {
		return ""
	}
	s := fmt.Sprintf("With %d fewer, that is %d attempts, %s (%s to %s) fewer of %d trainees are proficient and %s (%s to %s) are not",
		f.Fewer, f.Attempts, tenths(float64(f.FewerMet.Estimate)), tenths(float64(f.FewerMet.Lower)), tenths(float64(f.FewerMet.Upper)), p.Trainees,
		percentTenths(float64(f.NotMet.Estimate)), percentTenths(float64(f.NotMet.Lower)), percentTenths(float64(f.NotMet.Upper)))
	if d.Costs != nil {
		s += fmt.Sprintf("; that saves %s %s (%s to %s) when practice stops at the rule, %s when everybody makes all attempts",
			amount(float64(f.Saved.Estimate)), d.Costs.Unit, amount(float64(f.Saved.Lower)), amount(float64(f.Saved.Upper)), amount(float64(f.SavedByEverybody)))
	}
	return s + "."
}

// restLine is the plan for those who are not there by then.
func (p Plan) restLine() string {
	left := float64(p.Trainees) * (1 - float64(p.Met.Estimate))
	end := fmt.Sprintf("attempt %d, the last one looked ahead to", p.End)
	if p.Basis == proficiency.ByObservation {
		end = fmt.Sprintf("attempt %d, the last one seen", p.End)
	}
	switch {
	case math.IsNaN(left):
		return "How many are there by then is not known: nobody was followed so far."
	case left < 0.05:
		return fmt.Sprintf("Nobody was left by then, but up to %s may be: keep a place for further attempts.", percentTenths(1-float64(p.Met.Lower)))
	}
	more := "fewer than half of them get there by " + end
	if v := float64(p.MoreForHalf); !math.IsInf(v, 1) && !math.IsNaN(v) {
		more = fmt.Sprintf("half of them need up to %s attempts more, and %s of all trainees are not there by %s", moreCell(v), percentTenths(float64(p.NeverMet)), end)
	}
	return fmt.Sprintf("Plan for those not there by then, about %s of %d: %s.", tenths(left), p.Trainees, more)
}
