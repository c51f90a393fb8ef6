package reports

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"tyro/analysis/study"
)

// OfTrainees lists the results that are one trainee's.
func (d *Proficiency) OfTrainees() []Result {
	return slices.DeleteFunc(slices.Clone(d.Results), func(r Result) bool { return r.Trainee == MedianTrainee || r.Trainee == NewTrainee })
}

// Tables lists the answers, then the arms.
func (d *Proficiency) Tables() []Table {
	out := []Table{d.traineeTable()}
	if g := d.GroupTable(); g.Len() > 0 {
		out = append(out, g)
	}
	if len(d.Survival) > 0 {
		out = append(out, d.ArmTable())
	}
	return out
}

func (d *Proficiency) attempts(v float64) string { return attemptsText(v, d.Horizon) }

func (d *Proficiency) from() string { return fmt.Sprintf("%g %% from", 100*d.Answer.Question.Level) }

func (d *Proficiency) traineeTable() Table {
	rows := d.OfTrainees()
	type key struct{ trainee, definition string }
	observed := map[key]Number{}
	for _, o := range d.Observed {
		observed[key{o.Trainee, o.Definition}] = o.Attempt
	}
	observedHead := ""
	if len(d.Observed) > 0 {
		observedHead = "observed"
	}
	seen := func(r Result) Number {
		if v, ok := observed[key{r.Trainee, r.Definition}]; ok {
			return v
		}
		return Number(math.NaN())
	}
	return Table{
		Name: "proficiency", Title: fmt.Sprintf("Attempts to proficiency, standard %g", d.Answer.Question.Standard.Value),
		Columns: []Column{
			Words("trainee", "trainee", rows, func(r Result) string { return r.Trainee }),
			Words("arm", "arm", rows, func(r Result) string { return r.Arm }),
			Words("definition", "definition", rows, func(r Result) string { return r.Definition }),
			Numbers("standard", "", rows, func(r Result) Number { return r.Standard }, nil),
			Counts("attempts", "made", rows, func(r Result) int { return r.Attempts }),
			Numbers("estimate", "attempts", rows, func(r Result) Number { return r.Estimate }, d.attempts),
			Numbers("lower", d.from(), rows, func(r Result) Number { return r.Lower }, d.attempts),
			Numbers("upper", "to", rows, func(r Result) Number { return r.Upper }, d.attempts),
			Numbers("crossing", "", rows, func(r Result) Number { return r.Crossing }, nil),
			Numbers("crossing_lower", "", rows, func(r Result) Number { return r.CrossingLower }, nil),
			Numbers("crossing_upper", "", rows, func(r Result) Number { return r.CrossingUpper }, nil),
			Numbers("not_reached", "not reached", rows, func(r Result) Number { return r.NotReached }, Percent),
			Counts("replicates", "", rows, func(r Result) int { return r.Replicates }),
			Counts("failed_replicates", "", rows, func(r Result) int { return r.FailedReplicates }),
			Words("family", "curve", rows, func(r Result) string { return r.Family }),
			Words("status", "status", rows, func(r Result) string { return r.Status }),
			Numbers("observed", observedHead, rows, seen, d.attempts),
			Numbers("leaves", "", rows, func(r Result) Number { return r.Leaves }, nil),
		},
		Notes: d.notes(),
	}
}

// notes say what the numbers of trainees mean.
func (d *Proficiency) notes() []string {
	out := []string{
		"mean-crossing: the fitted curve meets the standard. pass-chance: one attempt meets it with chance " + fmt.Sprint(d.Chance) + ", noise, error limits and hard fails included. They answer different questions.",
		fmt.Sprintf("not reached: share of bootstrap replicates that do not reach the standard within %g attempts.", d.Horizon),
	}
	if d.moves() {
		out = append(out, "moving-away: practice gets worse. By the fitted curve the standard is not met and is left further behind, or will not be met any more within the horizon; for rule-met and chart-signal, an attempt is or will be more likely to miss than to pass.")
	}
	if d.Rule != "" {
		out = append(out, fmt.Sprintf("rule-met: the attempt by which the rule %s is met with chance one half, from the fitted pass chances by exact recursion. Observed: the trainee's own passes first met it.", d.ruleText()))
	}
	if d.Chart != "" {
		out = append(out, d.chartNote())
	}
	return append(out, Caution)
}

// moves reports whether anybody moves away.
func (d *Proficiency) moves() bool {
	return slices.ContainsFunc(d.Results, func(r Result) bool { return r.Status == "moving-away" })
}

// ruleText names the rule, and says where it comes from when that is not the study.
func (d *Proficiency) ruleText() string {
	if d.given {
		return strconv.Quote(d.Rule) + ", as given by --rule,"
	}
	return strconv.Quote(d.Rule)
}

// chartNote says what chart-signal means here.
func (d *Proficiency) chartNote() string {
	c := d.Answer.Question.Chart
	return fmt.Sprintf("chart-signal: the attempt by which a learning chart at failure rates %s (acceptable) and %s (unacceptable), limit %s, has shown adequate performance with chance one half, from the fitted pass chances, exactly. Observed: the chart of the trainee's own passes first signalled.",
		RateText(c.Rates.Acceptable), RateText(c.Rates.Unacceptable), Significant(c.H, 3))
}

// GroupTable lists the results that are not one trainee's.
func (d *Proficiency) GroupTable() Table {
	var rows []Result
	middle, coming := false, false
	for _, r := range d.Results {
		middle, coming = middle || r.Trainee == MedianTrainee, coming || r.Trainee == NewTrainee
		if r.Trainee == MedianTrainee || r.Trainee == NewTrainee {
			rows = append(rows, r)
		}
	}
	who := func(r Result) string {
		if r.Trainee == NewTrainee {
			return "new trainee"
		}
		return "half of the arm"
	}
	t := Table{Name: "proficiency-by-arm", Title: "By arm, and for a trainee yet to come", Columns: []Column{
		Words("arm", "arm", rows, func(r Result) string { return ArmName(r.Arm) }),
		Words("who", "who", rows, who),
		Words("definition", "definition", rows, func(r Result) string { return r.Definition }),
		Numbers("estimate", "attempts", rows, func(r Result) Number { return r.Estimate }, d.attempts),
		Numbers("lower", d.from(), rows, func(r Result) Number { return r.Lower }, d.attempts),
		Numbers("upper", "to", rows, func(r Result) Number { return r.Upper }, d.attempts),
		Numbers("not_reached", "not reached", rows, func(r Result) Number { return r.NotReached }, Percent),
		Words("status", "status", rows, func(r Result) string { return r.Status }),
	}}
	if middle {
		t.Notes = append(t.Notes, "Half of the arm: attempts by which half of its trainees' estimates are there, with an interval for that number from a bootstrap of whole trainees; not reached: share of the trainees, those who move away among them.")
	}
	if coming {
		t.Notes = append(t.Notes, "New trainee: what one trainee yet to come can expect, from the curve of all trainees together, the luck of the attempts included in rule-met and chart-signal; the range is for this one trainee, so it does not shrink to nothing with more trainees; not reached: chance.")
	}
	return t
}

// ArmTable lists the arms as observed.
func (d *Proficiency) ArmTable() Table {
	t := armTable(fmt.Sprintf("Rule %q as observed, by arm (nobody is dropped)", d.Rule), d.from(), "from", d.Survival, d.attempts)
	t.Notes = append(t.Notes, "Product-limit estimate; those who have not met the rule count up to their last attempt. Limits of the median by the log-log band, of the mean by a bootstrap of trainees.")
	if l := d.LogRank; l != nil {
		t.Notes = append(t.Notes, testText(*l))
	}
	return t
}

// testText is a log-rank test as a paper reports it.
func testText(l LogRank) string {
	if math.IsNaN(float64(l.P)) {
		return "The arms cannot be tested against each other."
	}
	return fmt.Sprintf("Between arms: log-rank test, χ²(%d) = %s, p %s.", l.DF, Significant(float64(l.ChiSquare), 3), pText(float64(l.P)))
}

// armTable lists arms with the median and mean number of attempts until the rule was met.
func armTable(title, from, meanFrom string, arms []ArmStep, show func(float64) string) Table {
	upTo := "mean"
	if len(arms) > 0 { // the same for all
		upTo = fmt.Sprintf("mean up to attempt %g", float64(arms[0].Tau))
	}
	attempts := func(v float64) string {
		if math.IsInf(v, 1) {
			return "not reached"
		}
		return show(v)
	}
	return Table{Name: "rule-met-by-arm", Title: title, Columns: []Column{
		Words("arm", "arm", arms, func(a ArmStep) string { return ArmName(a.Arm) }),
		Counts("n", "trainees", arms, func(a ArmStep) int { return a.N }),
		Counts("met", "met", arms, func(a ArmStep) int { return a.Met }),
		Numbers("median", "median attempts", arms, func(a ArmStep) Number { return a.Median.Estimate }, attempts),
		Numbers("median_lower", from, arms, func(a ArmStep) Number { return a.Median.Lower }, attempts),
		Numbers("median_upper", "to", arms, func(a ArmStep) Number { return a.Median.Upper }, attempts),
		Numbers("restricted_mean", upTo, arms, func(a ArmStep) Number { return a.RestrictedMean }, nil),
		Numbers("restricted_mean_se", "", arms, func(a ArmStep) Number { return a.RestrictedSE }, nil),
		Numbers("restricted_mean_lower", meanFrom, arms, func(a ArmStep) Number { return a.RestrictedLower }, nil),
		Numbers("restricted_mean_upper", "to", arms, func(a ArmStep) Number { return a.RestrictedUpper }, nil),
		Numbers("mean_up_to_attempt", "", arms, func(a ArmStep) Number { return a.Tau }, nil),
	}}
}

// ArmName is an arm in words.
func ArmName(arm string) string { return study.ArmName(arm) }

// Percent is a share in whole per cent.
func Percent(v float64) string {
	if math.IsNaN(v) {
		return "–"
	}
	return strconv.FormatFloat(100*v, 'f', 0, 64) + " %"
}

// Caution stands wherever a trainee's readiness is shown.
const Caution = "Performance on this lab task is not a licence, a certification or clinical competence. A named person decides about a trainee, under the local programme's rules and licensed supervision; this program does not."
