package reports

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"tyro/analysis/proficiency"
	"tyro/analysis/study"
)

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

// statedCell shows the attempts of a statement.
func statedCell(v float64) string {
	if math.IsInf(v, 1) {
		return "cannot be said"
	}
	return quotaCell(v)
}

func moreCell(v float64) string {
	if math.IsInf(v, 1) {
		return "beyond the end"
	}
	return quotaCell(v)
}

// Amount shows hours and costs: whole from 100 on.
func Amount(v float64) string {
	if a := math.Abs(v); a >= 100 && !math.IsInf(v, 0) {
		return Significant(v, int(math.Floor(math.Log10(a)))+1)
	}
	return Significant(v, 3)
}

// Tables lists the quotas, the statements about nearly all trainees, and the
// schedules with their costs and what fewer attempts change.
func (d *Quota) Tables() []Table {
	quota := d.QuotaTable()
	var said []string
	for _, a := range d.Answers() {
		said = append(said, strings.Join(strings.Fields(a.Lead+" "+a.Brings+" "+a.Fewer+" "+a.Rest), " "))
	}
	quota.Notes = append(append(said, quota.Notes...), Caution)
	return append([]Table{quota, d.StatementTable()}, d.ScheduleTables()...)
}

// ScheduleTables list what is scheduled, what it costs, and what fewer attempts change;
// none where nothing is scheduled.
func (d *Quota) ScheduleTables() []Table {
	if len(d.Schedules) == 0 {
		return nil
	}
	out := []Table{d.scheduleTable()}
	if d.Costs != nil {
		out = append(out, d.costTable())
	}
	return append(out, d.fewerTable())
}

func (d *Quota) from() string { return fmt.Sprintf("%g %% from", 100*d.Level) }

// A sharePair is a share's quota as observed and by the cohort's curve.
type sharePair struct{ seen, curve shareRow }

// pairs puts the two bases of every share side by side.
func (d *Quota) pairs() []sharePair {
	type key struct {
		arm   string
		share float64
	}
	curve := map[key]shareRow{}
	for _, r := range d.Rows {
		if r.Basis == proficiency.ByCohort {
			curve[key{r.Arm, r.Share}] = r
		}
	}
	nan := Number(math.NaN())
	var out []sharePair
	for _, r := range d.Rows {
		if r.Basis != proficiency.ByObservation {
			continue
		}
		c, ok := curve[key{r.Arm, r.Share}]
		if !ok {
			c = shareRow{quotaRow: quotaRow{Attempts: nan, Lower: nan, Upper: nan}, Largest: nan}
		}
		out = append(out, sharePair{r, c})
	}
	return out
}

// QuotaTable lists the attempts for every share, with notes on what they mean.
func (d *Quota) QuotaTable() Table {
	rule := "the rule"
	if d.Rule != "" {
		rule = fmt.Sprintf("the rule %q", d.Rule)
	}
	rows := d.pairs()
	t := Table{Name: "quota", Title: "Attempts by which a share of trainees has met " + rule, Notes: d.quotaNotes(), Columns: []Column{
		Words("arm", "trainees", rows, func(r sharePair) string { return ArmName(r.seen.Arm) }),
		Numbers("share", "share", rows, func(r sharePair) float64 { return r.seen.Share }, study.PercentText),
		Numbers("attempts", "as observed", rows, func(r sharePair) Number { return r.seen.Attempts }, quotaCell),
		Numbers("lower", d.from(), rows, func(r sharePair) Number { return r.seen.Lower }, limitCell),
		Numbers("upper", "to", rows, func(r sharePair) Number { return r.seen.Upper }, limitCell),
		Words("status", "", rows, func(r sharePair) string { return r.seen.Status }),
		Numbers("largest_share", "", rows, func(r sharePair) Number { return r.seen.Largest }, nil),
		Numbers("cohort_attempts", "by the cohort's curve", rows, func(r sharePair) Number { return r.curve.Attempts }, quotaCell),
		Numbers("cohort_lower", d.from(), rows, func(r sharePair) Number { return r.curve.Lower }, limitCell),
		Numbers("cohort_upper", "to", rows, func(r sharePair) Number { return r.curve.Upper }, limitCell),
		Words("cohort_status", "", rows, func(r sharePair) string { return r.curve.Status }),
		Numbers("cohort_largest_share", "", rows, func(r sharePair) Number { return r.curve.Largest }, nil),
	}}
	if d.Draws == 0 {
		t.Hide("cohort_attempts", "cohort_lower", "cohort_upper")
	}
	return t
}

// quotaNotes say what the numbers are, and which share is the largest that can be
// estimated.
func (d *Quota) quotaNotes() []string {
	out := []string{fmt.Sprintf("Definition %s: attempts until the rule is first met. As observed: the product-limit estimate of all trainees of the group; those who never met the rule count up to their last attempt. Limits by the beta product at half steps between attempts, which hold about what they claim, in small groups up to three points less; those of the arms' medians elsewhere are log-log limits. Limits of attempts used and of costs from %d samples of whole trainees.", d.Definition, d.Replicates)}
	if d.Draws > 0 {
		text := fmt.Sprintf("By the cohort's curve: new trainees of the population that the fitted curves show, the rule answered exactly for each, error limits and hard fails included; limits from the uncertainty of that population, by %d draws of its parameters", d.Draws)
		if d.Failed > 0 {
			text += fmt.Sprintf(", %d of which are so far out that they have no curve", d.Failed)
		}
		out = append(out, text+"."+d.covariateNote())
	}
	for _, g := range d.Groups {
		if largest := d.largest(g.Arm); largest < 1-1e-9 {
			out = append(out, fmt.Sprintf("%s: %d of %d met the rule; the largest share that can be estimated as observed is %s.", Capital(study.GroupName(g.Arm)), g.Met, g.N, study.PercentText(largest)))
		}
	}
	return out
}

// largest is the largest share of a group that can be estimated as observed.
func (d *Quota) largest(arm string) float64 {
	for _, r := range d.Rows {
		if r.Arm == arm && r.Basis == proficiency.ByObservation {
			return float64(r.Largest)
		}
	}
	return math.NaN()
}

// covariateNote says of whom the curve speaks where covariates act on it.
func (d *Quota) covariateNote() string {
	if len(d.Answer.Covariates) == 0 {
		return ""
	}
	var who []string
	for _, c := range d.Answer.Covariates {
		if c.Levels == nil {
			who = append(who, fmt.Sprintf("%s %s, the mean", c.Name, Significant(c.Centre, 3)))
		} else {
			who = append(who, fmt.Sprintf("%s %s", c.Name, c.Levels[0]))
		}
	}
	return " They are for trainees with " + strings.Join(who, ", ") + "."
}

// StatementTable lists what can be said with confidence about nearly all trainees.
func (d *Quota) StatementTable() Table {
	rows := d.Statements
	return Table{
		Name:  "quota-statement",
		Title: fmt.Sprintf("With %g %% confidence, at least %s of such trainees have met the rule by attempt", 100*rows[0].Confidence, study.PercentText(rows[0].Share)),
		Columns: []Column{
			Words("arm", "trainees", rows, func(s statement) string { return ArmName(s.Arm) }),
			Words("basis", "", rows, func(s statement) string { return s.Basis }),
			Words("basis_words", "basis", rows, func(s statement) string { return study.BasisName(s.Basis) }),
			Numbers("attempts", "attempt", rows, func(s statement) Number { return s.Attempts }, statedCell),
			Numbers("claimed_share", "share that can be stated", rows, func(s statement) Number { return s.Claimed }, study.PercentText),
			Words("status", "", rows, func(s statement) string { return s.Status }),
			Counts("trainees_needed", "", rows, func(s statement) int { return s.TraineesNeeded }),
		},
		Notes: []string{fmt.Sprintf("As observed this needs at least %d trainees, all of whom meet the rule, whatever the distribution (order statistics; with censoring the beta product in place of the binomial). Where it cannot be said, the share that can be stated is the largest for any attempt seen.", rows[0].TraineesNeeded)},
	}
}

// scheduleTable lists what the schedules bring.
func (d *Quota) scheduleTable() Table {
	asked := d.Answer.Asked
	title := fmt.Sprintf("What a schedule of %s brings", attemptCount(asked.Attempts))
	if asked.Attempts == 0 {
		title = "What the attempts for " + study.PercentText(asked.Target) + " bring"
	}
	rows, from := d.Schedules, d.from()
	seen := func(of func(*seenBy) int) func(schedule) float64 {
		return func(s schedule) float64 {
			if s.Seen == nil {
				return math.NaN()
			}
			return float64(of(s.Seen))
		}
	}
	return Table{Name: "schedule", Title: fmt.Sprintf("%s, for %d trainees", title, asked.Trainees), Columns: []Column{
		Words("arm", "trainees", rows, func(s schedule) string { return ArmName(s.Arm) }),
		Words("basis", "", rows, func(s schedule) string { return s.Basis }),
		Words("basis_words", "basis", rows, func(s schedule) string { return study.BasisName(s.Basis) }),
		Counts("attempts", "scheduled", rows, func(s schedule) int { return s.Attempts }),
		Counts("trainees", "", rows, func(s schedule) int { return s.Trainees }),
		Numbers("seen_of", "seen", rows, seen(func(b *seenBy) int { return b.Of }), quotaCell),
		Numbers("seen_met", "met by then", rows, seen(func(b *seenBy) int { return b.Met }), quotaCell),
		Numbers("seen_never_met", "never met", rows, seen(func(b *seenBy) int { return b.Never }), quotaCell),
		Numbers("met", "estimated share", rows, func(s schedule) Number { return s.Met.Estimate }, study.PercentText),
		Numbers("met_lower", from, rows, func(s schedule) Number { return s.Met.Lower }, study.PercentText),
		Numbers("met_upper", "to", rows, func(s schedule) Number { return s.Met.Upper }, study.PercentText),
		Numbers("attempts_used", "attempts used", rows, func(s schedule) Number { return s.Used.Estimate }, tenths),
		Numbers("used_lower", from, rows, func(s schedule) Number { return s.Used.Lower }, tenths),
		Numbers("used_upper", "to", rows, func(s schedule) Number { return s.Used.Upper }, tenths),
		Numbers("not_there", "not there", rows, schedule.notThere, tenths),
		Numbers("more_for_half", "half of them need more", rows, func(s schedule) Number { return s.MoreForHalf }, moreCell),
		Numbers("not_met_at_the_end", "not there at the end", rows, func(s schedule) Number { return s.NeverMet }, study.PercentText),
		Counts("end", "end", rows, func(s schedule) int { return s.End }),
	}, Notes: []string{
		"Seen: trainees of the group; of them, those seen to meet the rule by then, and those who had not by the last attempt seen of them. Estimated share: of such trainees who are proficient by then. As observed, those who stopped earlier count up to their last attempt, so that it can be 100 % although some never met the rule; the share not there at the end is not known then.",
		"Attempts used: mean of a trainee when practice stops as soon as the rule is met. Not there: expected number of the trainees scheduled for who are without the rule by then; the end is the last attempt seen, or looked ahead to. Expected numbers: a single group will differ from them by chance.",
	}}
}

// notThere is the expected number of trainees who have not met the rule by then.
func (s schedule) notThere() float64 { return float64(s.Trainees) * (1 - float64(s.Met.Estimate)) }

// A costRow is one way to spend a schedule's attempts.
type costRow struct {
	schedule
	practice string
	spent
}

// costTable lists what the schedules cost, spent in either way.
func (d *Quota) costTable() Table {
	var rows []costRow
	for _, s := range d.Schedules {
		rows = append(rows, costRow{s, "stops at the rule", s.Stopping}, costRow{s, "all attempts", s.Everybody})
	}
	c, from := d.Costs, d.from()
	attempt := fmt.Sprintf("An attempt takes %g min of the lab and %g min of an examiner", float64(c.LabMinutes), float64(c.ExaminerMinutes))
	if c.PerAttempt == 0 && c.PerTrainee == 0 {
		attempt += "; nothing has a price, so costs are not known."
	} else {
		attempt += fmt.Sprintf(", at %g and %g %s an hour, and %g of consumables: %s; a trainee costs %g besides.",
			float64(c.LabHourPrice), float64(c.ExaminerHourPrice), c.Unit, float64(c.Consumables), Amount(float64(c.PerAttempt)), float64(c.PerTrainee))
	}
	return Table{Name: "schedule-cost", Title: fmt.Sprintf("What it costs, for %d trainees, in %s", d.Answer.Asked.Trainees, c.Unit), Columns: []Column{
		Words("arm", "trainees", rows, func(r costRow) string { return ArmName(r.Arm) }),
		Words("basis", "", rows, func(r costRow) string { return r.Basis }),
		Words("basis_words", "basis", rows, func(r costRow) string { return study.BasisName(r.Basis) }),
		Words("practice", "practice", rows, func(r costRow) string { return r.practice }),
		Numbers("lab_hours", "lab hours", rows, func(r costRow) Number { return r.LabHours.Estimate }, Amount),
		Numbers("examiner_hours", "examiner hours", rows, func(r costRow) Number { return r.ExaminerHours.Estimate }, Amount),
		Numbers("consumables", "consumables", rows, func(r costRow) Number { return r.Consumables.Estimate }, Amount),
		Numbers("cost", "cost", rows, func(r costRow) Number { return r.Cost.Estimate }, Amount),
		Numbers("cost_lower", from, rows, func(r costRow) Number { return r.Cost.Lower }, Amount),
		Numbers("cost_upper", "to", rows, func(r costRow) Number { return r.Cost.Upper }, Amount),
		Numbers("cost_per_proficient", "per proficient", rows, func(r costRow) Number { return r.PerMet.Estimate }, Amount),
		Numbers("per_lower", from, rows, func(r costRow) Number { return r.PerMet.Lower }, Amount),
		Numbers("per_upper", "to", rows, func(r costRow) Number { return r.PerMet.Upper }, Amount),
	}, Notes: []string{
		attempt,
		"Per proficient: the cost of all trainees, those who are not there included, divided by the trainees who are. Intervals: whole trainees drawn with replacement; by the cohort's curve the uncertainty of the population.",
	}}
}

// fewerTable lists what fewer attempts change.
func (d *Quota) fewerTable() Table {
	var rows []schedule
	for _, s := range d.Schedules {
		if s.Fewer != nil {
			rows = append(rows, s)
		}
	}
	asked, from := d.Answer.Asked, d.from()
	t := Table{Name: "schedule-fewer", Title: fmt.Sprintf("With %s fewer, for %d trainees", attemptCount(asked.Fewer), asked.Trainees), Columns: []Column{
		Words("arm", "trainees", rows, func(s schedule) string { return ArmName(s.Arm) }),
		Words("basis", "", rows, func(s schedule) string { return s.Basis }),
		Words("basis_words", "basis", rows, func(s schedule) string { return study.BasisName(s.Basis) }),
		Counts("attempts", "left", rows, func(s schedule) int { return s.Fewer.Attempts }),
		Numbers("fewer_proficient", "fewer proficient", rows, func(s schedule) Number { return s.Fewer.FewerMet.Estimate }, tenths),
		Numbers("fewer_lower", from, rows, func(s schedule) Number { return s.Fewer.FewerMet.Lower }, tenths),
		Numbers("fewer_upper", "to", rows, func(s schedule) Number { return s.Fewer.FewerMet.Upper }, tenths),
		Numbers("not_proficient", "not proficient", rows, func(s schedule) Number { return s.Fewer.NotMet.Estimate }, study.PercentText),
		Numbers("not_lower", from, rows, func(s schedule) Number { return s.Fewer.NotMet.Lower }, study.PercentText),
		Numbers("not_upper", "to", rows, func(s schedule) Number { return s.Fewer.NotMet.Upper }, study.PercentText),
		Numbers("saved", "saves", rows, func(s schedule) Number { return s.Fewer.Saved.Estimate }, Amount),
		Numbers("saved_lower", from, rows, func(s schedule) Number { return s.Fewer.Saved.Lower }, Amount),
		Numbers("saved_upper", "to", rows, func(s schedule) Number { return s.Fewer.Saved.Upper }, Amount),
		Numbers("saved_everybody", "if all are made", rows, func(s schedule) Number { return s.Fewer.SavedByEverybody }, Amount),
	}}
	if d.Costs == nil {
		t.Hide("saved", "saved_lower", "saved_upper", "saved_everybody")
		t.Notes = append(t.Notes, "No costs are stated, so nothing is said about money: give them in the study file (costs) or by flags such as --lab-minutes and --lab-hour-price.")
	} else {
		t.Notes = append(t.Notes, "Saves: in "+d.Costs.Unit+", when practice stops at the rule; if all are made, when everybody makes all attempts.")
	}
	return t
}
