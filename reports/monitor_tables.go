package reports

import (
	"fmt"
	"math"
	"strings"

	"tyro/analysis/study"
)

// Tables lists the charts, the cohort and the sensitivity of the result to the
// settings.
func (d *Monitor) Tables() []Table {
	return []Table{d.chartTable(), d.cohortTable(), d.SensitivityTable()}
}

func (d *Monitor) chartTable() Table {
	rows := d.Charts
	failed := func(c TraineeChart) int {
		n := 0
		for _, p := range c.Points {
			n += p.Outcome
		}
		return n
	}
	now := func(c TraineeChart) Number {
		if len(c.Points) == 0 {
			return Number(math.NaN())
		}
		return c.Points[len(c.Points)-1].Value
	}
	decided := ""
	if d.Chart == study.ChartSequential {
		decided = "decision"
	}
	t := Table{Name: "monitor", Title: d.Title(), Columns: []Column{
		Words("trainee", "trainee", rows, func(c TraineeChart) string { return SeriesName(c.Trainee) }),
		Words("arm", "arm", rows, func(c TraineeChart) string { return c.Arm }),
		Words("chart", "", rows, func(c TraineeChart) string { return c.Chart }),
		Numbers("acceptable", "", rows, func(c TraineeChart) Number { return c.Acceptable }, nil),
		Numbers("unacceptable", "", rows, func(c TraineeChart) Number { return c.Unacceptable }, nil),
		Numbers("h", "", rows, func(c TraineeChart) Number { return c.H }, nil),
		Numbers("from_attempt", "from attempt", rows, func(c TraineeChart) Number { return c.From }, Whole),
		Counts("attempts", "charted", rows, func(c TraineeChart) int { return len(c.Points) }),
		Counts("failed", "failed", rows, failed),
		Numbers("value", d.valueHead(), rows, now, ThreeDigits),
		Numbers("signal_attempt", d.signalHead(), rows, func(c TraineeChart) Number { return c.SignalAttempt }, NoneOr),
		Words("signal_session", "session", rows, func(c TraineeChart) string { return c.SignalSession }),
		Words("signal_date", "on", rows, func(c TraineeChart) string { return c.SignalDate }),
		Words("decision", decided, rows, func(c TraineeChart) string { return c.Decision }),
	}}
	t.HideBlank("arm", "signal_session", "signal_date")
	t.Notes = append(t.Notes, d.Meaning(), d.ErrorRates(), NotThePeak, Independence, Caution)
	return t
}

// What everybody who reads a chart should know.
const (
	NotThePeak   = "Only reaching the limit means something: where a chart is highest depends on how many attempts are drawn."
	Independence = "The error rates assume attempts that are independent at a constant failure rate; warm-up at the start of sessions and steady improvement bend them."
)

func SeriesName(id string) string {
	if id == "" {
		return "(series)"
	}
	return id
}

func NoneOr(v float64) string {
	switch {
	case math.IsNaN(v):
		return "none"
	case math.IsInf(v, 1):
		return "not reached"
	}
	return attemptsText(v, math.Inf(1))
}

// Title says which chart, between which rates, with which limit.
func (d *Monitor) Title() string {
	o := d.Answer.Options
	rates := fmt.Sprintf("%s against %s failures", RateText(o.Rates.Acceptable), RateText(o.Rates.Unacceptable))
	h := "h " + ShortNumber(o.H, 4)
	switch d.Chart {
	case study.ChartLearning:
		return "Learning chart: is adequate performance shown? " + rates + ", " + h
	case study.ChartRelapse:
		if o.OnMeasure {
			return "Relapse chart on the measure: " + rates + ", " + h + " standard deviations"
		}
		return "Relapse chart: is performance getting worse? " + rates + ", " + h
	case study.ChartSequential:
		return fmt.Sprintf("Sequential test: %s, boundaries %s and %s", rates, ShortNumber(float64(d.Design.Lower), 4), ShortNumber(float64(d.Design.Upper), 4))
	case study.ChartObserved:
		return fmt.Sprintf("Failures above those expected at %s, limit %s", RateText(o.Rates.Acceptable), ShortNumber(o.H, 4))
	case study.ChartProjected:
		return "Attempts against each trainee's own projection, " + h
	}
	if o.OnMeasure {
		return fmt.Sprintf("Weighted mean of the measure (newest attempt %s): limit %s standard deviations", RateText(o.Lambda), ShortNumber(o.H, 4))
	}
	return fmt.Sprintf("Recent failure rate (weight of the newest attempt %s): limit %s, %s standard deviations above %s",
		RateText(o.Lambda), RateText(d.Answer.Design.Limit), ShortNumber(o.H, 4), RateText(o.Rates.Acceptable))
}

func (d *Monitor) valueHead() string {
	switch d.Chart {
	case study.ChartObserved:
		return "above expected"
	case study.ChartEWMA:
		return "mean now"
	}
	return "sum now"
}

func (d *Monitor) signalHead() string {
	if d.Chart == study.ChartSequential {
		return "decided at"
	}
	return "first signal"
}

// Meaning says what a signal says.
func (d *Monitor) Meaning() string {
	o := d.Answer.Options
	a, u := RateText(o.Rates.Acceptable), RateText(o.Rates.Unacceptable)
	restart := " After a signal the chart starts anew."
	switch d.Chart {
	case study.ChartLearning:
		return fmt.Sprintf("A pass moves the chart up, a failure down, never below 0. It starts from the view that performance is not adequate (%s failures); a signal says that the attempts speak for %s instead.", u, a)
	case study.ChartRelapse:
		if o.OnMeasure {
			return fmt.Sprintf("The chart adds up how far the measure lies on the bad side of the level between %s and %s failures, never below 0; a signal says that the level has slipped.%s", a, u, restart)
		}
		return fmt.Sprintf("A failure moves the chart up, a pass down, never below 0; a signal says that the attempts speak for %s failures rather than %s.%s", u, a, restart)
	case study.ChartSequential:
		return fmt.Sprintf("The sum ends the test at the upper boundary (attempts speak for %s failures) or the lower one (for %s). Boundaries for error chances of %s and %s.", u, a, ShortNumber(o.Alpha, 3), ShortNumber(o.Beta, 3))
	case study.ChartObserved:
		return fmt.Sprintf("Failures less those expected at %s; a signal says that there are %s more. Credit from early passes hides a later change.", a, ShortNumber(o.H, 3))
	case study.ChartProjected:
		return "A failure counts the more the less it was expected of this trainee at this attempt; a signal says that the trainee is doing worse than projected." + restart
	}
	if o.OnMeasure {
		return "A mean of the measure that forgets, in standard deviations on the bad side of the acceptable level; a signal says that it has slipped."
	}
	return fmt.Sprintf("A mean of failures that forgets; a signal says that the recent failure rate is above what %s explains.", a)
}

// ErrorRates says how often the chart signals.
func (d *Monitor) ErrorRates() string {
	o := d.Answer.Options
	at := func(rate, mean, within Number) string {
		s := fmt.Sprintf("at %s failures ", RateText(float64(rate)))
		if m := float64(mean); !math.IsNaN(m) && !math.IsInf(m, 0) {
			s += fmt.Sprintf("after %s attempts on average, and ", Significant(m, 3))
		}
		return s + fmt.Sprintf("within %d attempts in %s", o.Within, ShareText(float64(within)))
	}
	verb := "It signals "
	if d.Chart == study.ChartSequential {
		verb = "It decides, one way or the other, "
	}
	first := at(d.Design.Acceptable, d.RunLength.Acceptable, d.Within.Acceptable)
	second := at(d.Design.Unacceptable, d.RunLength.Unacceptable, d.Within.Unacceptable)
	if d.Chart == study.ChartProjected {
		first = fmt.Sprintf("within %d attempts in %s of trainees who go as projected", o.Within, ShareText(float64(d.Within.Acceptable)))
		second = fmt.Sprintf("in %s of those whose odds of failing are %s times the projected", ShareText(float64(d.Within.Unacceptable)), Significant(o.Rates.OddsRatio(), 3))
		return verb + first + ", and " + second + "."
	}
	how := ""
	switch d.Design.Chosen {
	case study.ChosenByShare:
		how = fmt.Sprintf(" The limit was chosen for at most %s false signals within %d attempts.", RateText(o.FalseShare), o.Within)
	case study.ChosenByRunLength:
		how = fmt.Sprintf(" The limit was chosen for false signals at least %s attempts apart on average.", ShortNumber(o.RunLength, 4))
	}
	return verb + first + "; " + second + "." + how
}

// ShareText is a share as words, never a flat 0 or 100 %.
func ShareText(v float64) string {
	switch {
	case math.IsNaN(v):
		return "–"
	case v < 0.0005:
		return "under 0.05 %"
	case v > 0.9995:
		return "over 99.95 %"
	case v < 0.1 || v > 0.9:
		return fmt.Sprintf("%.1f %%", 100*v)
	}
	return fmt.Sprintf("%.0f %%", 100*v)
}

func (d *Monitor) cohortTable() Table {
	rows := d.Cohort
	passed := "passed at"
	if d.Answer.Options.After == study.AfterStart {
		passed = ""
	}
	t := Table{Name: "monitor-cohort", Title: "Who has shown adequate performance, who relapsed, who is due", Columns: []Column{
		Words("trainee", "trainee", rows, func(c MonitorCohort) string { return SeriesName(c.Trainee) }),
		Words("arm", "arm", rows, func(c MonitorCohort) string { return c.Arm }),
		Counts("attempts", "attempts", rows, func(c MonitorCohort) int { return c.Attempts }),
		Counts("failed", "failed", rows, func(c MonitorCohort) int { return c.Failed }),
		Numbers("shown_attempt", "shown at", rows, func(c MonitorCohort) Number { return c.ShownAttempt }, NoneOr),
		Words("shown_session", "session", rows, func(c MonitorCohort) string { return c.ShownSession }),
		Words("shown_date", "on", rows, func(c MonitorCohort) string { return c.ShownDate }),
		Numbers("passed_attempt", passed, rows, func(c MonitorCohort) Number { return c.PassedAttempt }, NoneOr),
		Words("passed_session", "", rows, func(c MonitorCohort) string { return c.PassedSession }),
		Words("passed_date", "", rows, func(c MonitorCohort) string { return c.PassedDate }),
		Counts("watched", "since", rows, func(c MonitorCohort) int { return c.Watched }),
		Counts("watched_failed", "failed since", rows, func(c MonitorCohort) int { return c.WatchedFailed }),
		Numbers("relapse_attempt", "flag at", rows, func(c MonitorCohort) Number { return c.RelapseAttempt }, NoneOr),
		Words("relapse_session", "session", rows, func(c MonitorCohort) string { return c.RelapseSession }),
		Words("relapse_date", "on", rows, func(c MonitorCohort) string { return c.RelapseDate }),
		Words("status", "status", rows, func(c MonitorCohort) string { return c.Status }),
		Words("due", "due now", rows, func(c MonitorCohort) string { return c.Due }),
	}}
	t.HideBlank("arm", "shown_session", "shown_date", "relapse_session", "relapse_date", "due")
	t.Notes = append(t.Notes,
		fmt.Sprintf("shown at: first signal of the learning chart (h %s). %s flag at: first signal of the relapse chart from then on (h %s).", ShortNumber(float64(d.Design.LearningH), 4), d.PassText(), ShortNumber(float64(d.Design.RelapseH), 4)),
		"due now: "+d.DueText()+". A flag asks a named person to look; it decides nothing.",
		d.CohortSentence())
	return t
}

// PassText says from where on relapse is watched.
func (d *Monitor) PassText() string {
	switch after := d.Answer.Options.After; after {
	case study.AfterRule:
		return fmt.Sprintf("passed at: the rule %q first met.", d.rule.String())
	case study.AfterSignal:
		return "passed at: the first signal of the learning chart."
	case study.AfterStart:
		return "Relapse is watched from the first attempt."
	default:
		return fmt.Sprintf("Relapse is watched after attempt %s.", after)
	}
}

// DueText says who is due.
func (d *Monitor) DueText() string {
	switch o := d.Answer.Options; o.After {
	case study.AfterRule:
		return fmt.Sprintf("a relapse flag, or %d attempts without meeting the rule", o.Within)
	case study.AfterSignal:
		return fmt.Sprintf("a relapse flag, or %d attempts without a signal of the learning chart", o.Within)
	}
	return "a relapse flag"
}

// CohortSentence counts who stands where.
func (d *Monitor) CohortSentence() string {
	shown, passed, flags, due := 0, 0, 0, 0
	for _, c := range d.Cohort {
		if !math.IsNaN(float64(c.ShownAttempt)) {
			shown++
		}
		if c.Status != practising {
			passed++
		}
		if c.Status == flagged {
			flags++
		}
		if c.Due != "" {
			due++
		}
	}
	return fmt.Sprintf("Of %d: %d have shown adequate performance, %d are watched for relapse, %d of these are flagged, %d are due.", len(d.Cohort), shown, passed, flags, due)
}

// SensitivityTable is what the chart does under other settings.
func (d *Monitor) SensitivityTable() Table {
	n, rows := d.Within.Attempts, d.Sensitivity
	h, mean, meanToo := "h", "mean at acc.", "at unacc."
	switch d.Chart {
	case study.ChartSequential:
		h = ""
	case study.ChartProjected:
		mean, meanToo = "", ""
	}
	return Table{Name: "monitor-sensitivity", Title: "The same attempts under other settings (chosen one first)", Columns: []Column{
		Numbers("acceptable", "acceptable", rows, func(s MonitorSensitivity) Number { return s.Acceptable }, RateText),
		Numbers("unacceptable", "unacceptable", rows, func(s MonitorSensitivity) Number { return s.Unacceptable }, RateText),
		Numbers("h", h, rows, func(s MonitorSensitivity) Number { return s.H }, ThreeDigits),
		Numbers("mean_acceptable", mean, rows, func(s MonitorSensitivity) Number { return s.MeanAcceptable }, ThreeDigits),
		Numbers("mean_unacceptable", meanToo, rows, func(s MonitorSensitivity) Number { return s.MeanUnacceptable }, ThreeDigits),
		Numbers("within_acceptable", fmt.Sprintf("by %d at acc.", n), rows, func(s MonitorSensitivity) Number { return s.WithinAcceptable }, ShareText),
		Numbers("within_unacceptable", "at unacc.", rows, func(s MonitorSensitivity) Number { return s.WithinUnacceptable }, ShareText),
		Counts("signalled", "signalled", rows, func(s MonitorSensitivity) int { return s.Signalled }),
		Counts("trainees", "of", rows, func(s MonitorSensitivity) int { return s.Trainees }),
		Numbers("median_signal", "median", rows, func(s MonitorSensitivity) Number { return s.MedianSignal }, NoneOr),
	}, Notes: []string{
		fmt.Sprintf("mean: attempts to a signal at each rate. by %d: share that has signalled by then. median: attempts charted until half had signalled, those without a signal counted.", n),
		"A result that changes between rows hangs on the setting, which must be chosen before looking.",
	}}
}

// PointsTable lists every chart's points.
func (d *Monitor) PointsTable() Table {
	type point struct {
		*MonitorPoint
		trainee string
	}
	var rows []point
	for _, c := range d.Charts {
		for i := range c.Points {
			rows = append(rows, point{&c.Points[i], c.Trainee})
		}
	}
	flag := func(b bool) int {
		if b {
			return 1
		}
		return 0
	}
	return Table{Name: "monitor-points", Columns: []Column{
		Words("trainee", "", rows, func(p point) string { return p.trainee }),
		Words("chart", "", rows, func(point) string { return d.Chart }),
		Numbers("attempt", "", rows, func(p point) Number { return p.Attempt }, nil),
		Words("session", "", rows, func(p point) string { return p.Session }),
		Words("date", "", rows, func(p point) string { return p.Date }),
		Counts("outcome", "", rows, func(p point) int { return p.Outcome }),
		Numbers("measure", "", rows, func(p point) Number { return p.Measure }, nil),
		Numbers("value", "", rows, func(p point) Number { return p.Value }, nil),
		Counts("signal", "", rows, func(p point) int { return flag(p.Signal) }),
		Counts("restart", "", rows, func(p point) int { return flag(p.Restart) }),
	}}
}

// PlaceText says which attempt, in which session and on which day.
func PlaceText(attempt float64, session, date string) string {
	var in []string
	if session != "" {
		in = append(in, "session "+session)
	}
	if date != "" {
		in = append(in, date)
	}
	s := fmt.Sprintf("attempt %g", attempt)
	if in != nil {
		s += " (" + strings.Join(in, ", ") + ")"
	}
	return s
}

// Sentence is one trainee's chart in words.
func (d *Monitor) Sentence(c TraineeChart) string {
	if len(c.Points) == 0 {
		return d.notWatched(c)
	}
	at := ""
	if v := float64(c.SignalAttempt); !math.IsNaN(v) {
		at = PlaceText(v, c.SignalSession, c.SignalDate)
	}
	last := float64(c.Points[len(c.Points)-1].Attempt)
	switch {
	case d.Chart == study.ChartSequential && at != "":
		return fmt.Sprintf("The test was decided at %s: %s.", at, c.Decision)
	case d.Chart == study.ChartSequential:
		return fmt.Sprintf("Undecided after attempt %g.", last)
	case at == "":
		return fmt.Sprintf("No signal up to attempt %g.", last)
	case d.Chart == study.ChartLearning:
		return fmt.Sprintf("Adequate performance shown at %s.", at)
	}
	return fmt.Sprintf("First signal at %s.", strings.TrimSpace(at))
}

// notWatched says why a trainee has no chart yet.
func (d *Monitor) notWatched(c TraineeChart) string {
	switch after := d.Answer.Options.After; {
	case c.passed:
		return "Not watched yet: no attempt since the pass."
	case after == study.AfterRule || after == study.AfterSignal:
		return "Not watched yet: " + d.missing() + "."
	default:
		return fmt.Sprintf("Not watched yet: no attempt after attempt %s.", after)
	}
}
