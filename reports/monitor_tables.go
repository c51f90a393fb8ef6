package reports

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// Tables lists the charts, the cohort and the sensitivity of the result to the
// settings.
func (d *Monitor) Tables() []Table {
	return []Table{d.chartTable(), d.cohortTable(), d.SensitivityTable()}
}

func (d *Monitor) chartTable() Table {
	t := Table{Name: "monitor", Title: d.Title(), Columns: []Column{
		{Key: "trainee", Head: "trainee"}, {Key: "arm", Head: "arm"}, {Key: "chart"}, {Key: "acceptable"}, {Key: "unacceptable"}, {Key: "h"},
		{Key: "from_attempt", Head: "from attempt", Show: Whole}, {Key: "attempts", Head: "charted"}, {Key: "failed", Head: "failed"},
		{Key: "value", Head: d.valueHead(), Show: ThreeDigits}, {Key: "signal_attempt", Head: d.signalHead(), Show: NoneOr}, {Key: "signal_session", Head: "session"}, {Key: "signal_date", Head: "on"}, {Key: "decision"},
	}}
	if d.Chart == ChartSequential {
		t.Columns[len(t.Columns)-1].Head = "decision"
	}
	for i, c := range d.Charts {
		failed, value := 0, math.NaN()
		for _, p := range c.Points {
			failed += p.Outcome
			value = float64(p.Value)
		}
		t.Rows = append(t.Rows, []any{
			SeriesName(d.Records[i].Id), c.Arm, c.Chart, float64(c.Acceptable), float64(c.Unacceptable), float64(c.H),
			float64(c.From), len(c.Points), failed, value, float64(c.SignalAttempt), c.SignalSession, c.SignalDate, c.Decision,
		})
	}
	HideBlank(&t, "arm", "signal_session", "signal_date")
	t.Notes = append(t.Notes, d.Meaning(), d.ErrorRates(), NotThePeak, Independence, Caution)
	return t
}

// hide hides a column from people.
func (t *Table) Hide(keys ...string) {
	for j := range t.Columns {
		if slices.Contains(keys, t.Columns[j].Key) {
			t.Columns[j].Head = ""
		}
	}
}

// hideBlank hides text columns that are blank in every row.
func HideBlank(t *Table, keys ...string) {
	for j, c := range t.Columns {
		used := slices.ContainsFunc(t.Rows, func(r []any) bool { return r[j] != "" })
		if slices.Contains(keys, c.Key) && !used {
			t.Columns[j].Head = ""
		}
	}
}

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

func (d *Monitor) Title() string {
	o := d.Options
	rates := fmt.Sprintf("%s against %s failures", RateText(o.Rates.Acceptable), RateText(o.Rates.Unacceptable))
	h := "h " + ShortNumber(o.H, 4)
	switch d.Chart {
	case ChartLearning:
		return "Learning chart: is adequate performance shown? " + rates + ", " + h
	case ChartRelapse:
		if o.OnMeasure {
			return "Relapse chart on the measure: " + rates + ", " + h + " standard deviations"
		}
		return "Relapse chart: is performance getting worse? " + rates + ", " + h
	case ChartSequential:
		return fmt.Sprintf("Sequential test: %s, boundaries %s and %s", rates, ShortNumber(float64(d.Design.Lower), 4), ShortNumber(float64(d.Design.Upper), 4))
	case ChartObserved:
		return fmt.Sprintf("Failures above those expected at %s, limit %s", RateText(o.Rates.Acceptable), ShortNumber(o.H, 4))
	case ChartProjected:
		return "Attempts against each trainee's own projection, " + h
	}
	if o.OnMeasure {
		return fmt.Sprintf("Weighted mean of the measure (newest attempt %s): limit %s standard deviations", RateText(o.Lambda), ShortNumber(o.H, 4))
	}
	return fmt.Sprintf("Recent failure rate (weight of the newest attempt %s): limit %s, %s standard deviations above %s",
		RateText(o.Lambda), RateText(d.Limit()), ShortNumber(o.H, 4), RateText(o.Rates.Acceptable))
}

func (d *Monitor) valueHead() string {
	switch d.Chart {
	case ChartObserved:
		return "above expected"
	case ChartEWMA:
		return "mean now"
	}
	return "sum now"
}

func (d *Monitor) signalHead() string {
	if d.Chart == ChartSequential {
		return "decided at"
	}
	return "first signal"
}

// limit is the chart value at which it signals.
func (d *Monitor) Limit() float64 {
	o := d.Options
	switch {
	case d.Chart == ChartEWMA && !o.OnMeasure:
		return o.Rates.Acceptable + ewmaOf(o).Smoother().Limit(1)
	case o.OnMeasure:
		return d.now.measure.Limit()
	}
	return o.H
}

// meaning says what a signal says.
func (d *Monitor) Meaning() string {
	o := d.Options
	a, u := RateText(o.Rates.Acceptable), RateText(o.Rates.Unacceptable)
	restart := " After a signal the chart starts anew."
	switch d.Chart {
	case ChartLearning:
		return fmt.Sprintf("A pass moves the chart up, a failure down, never below 0. It starts from the view that performance is not adequate (%s failures); a signal says that the attempts speak for %s instead.", u, a)
	case ChartRelapse:
		if o.OnMeasure {
			return fmt.Sprintf("The chart adds up how far the measure lies on the bad side of the level between %s and %s failures, never below 0; a signal says that the level has slipped.%s", a, u, restart)
		}
		return fmt.Sprintf("A failure moves the chart up, a pass down, never below 0; a signal says that the attempts speak for %s failures rather than %s.%s", u, a, restart)
	case ChartSequential:
		return fmt.Sprintf("The sum ends the test at the upper boundary (attempts speak for %s failures) or the lower one (for %s). Boundaries for error chances of %s and %s.", u, a, ShortNumber(o.Alpha, 3), ShortNumber(o.Beta, 3))
	case ChartObserved:
		return fmt.Sprintf("Failures less those expected at %s; a signal says that there are %s more. Credit from early passes hides a later change.", a, ShortNumber(o.H, 3))
	case ChartProjected:
		return "A failure counts the more the less it was expected of this trainee at this attempt; a signal says that the trainee is doing worse than projected." + restart
	}
	if o.OnMeasure {
		return "A mean of the measure that forgets, in standard deviations on the bad side of the acceptable level; a signal says that it has slipped."
	}
	return fmt.Sprintf("A mean of failures that forgets; a signal says that the recent failure rate is above what %s explains.", a)
}

// errorRates says how often the chart signals.
func (d *Monitor) ErrorRates() string {
	o := d.Options
	at := func(rate, mean, within Number) string {
		s := fmt.Sprintf("at %s failures ", RateText(float64(rate)))
		if m := float64(mean); !math.IsNaN(m) && !math.IsInf(m, 0) {
			s += fmt.Sprintf("after %s attempts on average, and ", Significant(m, 3))
		}
		return s + fmt.Sprintf("within %d attempts in %s", o.Within, ShareText(float64(within)))
	}
	verb := "It signals "
	if d.Chart == ChartSequential {
		verb = "It decides, one way or the other, "
	}
	first := at(d.Design.Acceptable, d.RunLength.Acceptable, d.Within.Acceptable)
	second := at(d.Design.Unacceptable, d.RunLength.Unacceptable, d.Within.Unacceptable)
	if d.Chart == ChartProjected {
		first = fmt.Sprintf("within %d attempts in %s of trainees who go as projected", o.Within, ShareText(float64(d.Within.Acceptable)))
		second = fmt.Sprintf("in %s of those whose odds of failing are %s times the projected", ShareText(float64(d.Within.Unacceptable)), Significant(oddsRatio(o), 3))
		return verb + first + ", and " + second + "."
	}
	how := ""
	switch d.Design.Chosen {
	case "false-share":
		how = fmt.Sprintf(" The limit was chosen for at most %s false signals within %d attempts.", RateText(o.FalseShare), o.Within)
	case "run-length":
		how = fmt.Sprintf(" The limit was chosen for false signals at least %s attempts apart on average.", ShortNumber(o.RunLength, 4))
	}
	return verb + first + "; " + second + "." + how
}

// shareText is a share as words, never a flat 0 or 100 %.
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
	t := Table{Name: "monitor-cohort", Title: "Who has shown adequate performance, who relapsed, who is due", Columns: []Column{
		{Key: "trainee", Head: "trainee"}, {Key: "arm", Head: "arm"}, {Key: "attempts", Head: "attempts"}, {Key: "failed", Head: "failed"},
		{Key: "shown_attempt", Head: "shown at", Show: NoneOr}, {Key: "shown_session", Head: "session"}, {Key: "shown_date", Head: "on"},
		{Key: "passed_attempt", Head: "passed at", Show: NoneOr}, {Key: "passed_session"}, {Key: "passed_date"},
		{Key: "watched", Head: "since"}, {Key: "watched_failed", Head: "failed since"},
		{Key: "relapse_attempt", Head: "flag at", Show: NoneOr}, {Key: "relapse_session", Head: "session"}, {Key: "relapse_date", Head: "on"},
		{Key: "status", Head: "status"}, {Key: "due", Head: "due now"},
	}}
	if d.Options.After == "start" {
		t.Hide("passed_attempt")
	}
	for i, c := range d.Cohort {
		t.Rows = append(t.Rows, []any{
			SeriesName(d.Records[i].Id), c.Arm, c.Attempts, c.Failed, float64(c.ShownAttempt), c.ShownSession, c.ShownDate, float64(c.PassedAttempt), c.PassedSession, c.PassedDate,
			c.Watched, c.WatchedFailed, float64(c.RelapseAttempt), c.RelapseSession, c.RelapseDate, c.Status, c.Due,
		})
	}
	HideBlank(&t, "arm", "shown_session", "shown_date", "relapse_session", "relapse_date", "due")
	t.Notes = append(t.Notes,
		fmt.Sprintf("shown at: first signal of the learning chart (h %s). %s flag at: first signal after it of the relapse chart (h %s).", ShortNumber(float64(d.Design.LearningH), 4), d.PassText(), ShortNumber(float64(d.Design.RelapseH), 4)),
		fmt.Sprintf("due now: a flag, or %d attempts without a pass. A flag asks a named person to look; it decides nothing.", d.Options.Within))
	t.Notes = append(t.Notes, d.CohortSentence())
	return t
}

func (d *Monitor) PassText() string {
	switch d.Options.After {
	case "rule":
		return fmt.Sprintf("passed at: the rule %q first met.", d.in.Rule.String())
	case "signal":
		return "passed at: that signal."
	case "start":
		return "Relapse is watched from the first attempt."
	}
	return fmt.Sprintf("Relapse is watched after attempt %s.", d.Options.After)
}

func (d *Monitor) CohortSentence() string {
	shown, passed, flagged, due := 0, 0, 0, 0
	for _, c := range d.Cohort {
		if !math.IsNaN(float64(c.ShownAttempt)) {
			shown++
		}
		if c.Status != "practising" {
			passed++
		}
		if c.Status == "flagged" {
			flagged++
		}
		if c.Due != "" {
			due++
		}
	}
	n := len(d.Cohort)
	return fmt.Sprintf("Of %d: %d have shown adequate performance, %d are watched for relapse, %d of these are flagged, %d are due.", n, shown, passed, flagged, due)
}

func (d *Monitor) SensitivityTable() Table {
	n := d.Options.Within
	t := Table{Name: "monitor-sensitivity", Title: "The same attempts under other settings (chosen one first)", Columns: []Column{
		{Key: "acceptable", Head: "acceptable", Show: RateText}, {Key: "unacceptable", Head: "unacceptable", Show: RateText}, {Key: "h", Head: "h", Show: ThreeDigits},
		{Key: "mean_acceptable", Head: "mean at acc.", Show: ThreeDigits}, {Key: "mean_unacceptable", Head: "at unacc.", Show: ThreeDigits},
		{Key: "within_acceptable", Head: fmt.Sprintf("by %d at acc.", n), Show: ShareText}, {Key: "within_unacceptable", Head: "at unacc.", Show: ShareText},
		{Key: "signalled", Head: "signalled"}, {Key: "trainees", Head: "of"}, {Key: "median_signal", Head: "median", Show: NoneOr},
	}}
	if d.Chart == ChartSequential {
		t.Columns[2].Head = ""
	}
	if d.Chart == ChartProjected {
		t.Columns[3].Head, t.Columns[4].Head = "", ""
	}
	for _, s := range d.Sensitivity {
		t.Rows = append(t.Rows, []any{float64(s.Acceptable), float64(s.Unacceptable), float64(s.H), float64(s.MeanAcceptable), float64(s.MeanUnacceptable), float64(s.WithinAcceptable), float64(s.WithinUnacceptable), s.Signalled, s.Trainees, float64(s.MedianSignal)})
	}
	t.Notes = []string{
		"mean: attempts to a signal at each rate. " + fmt.Sprintf("by %d: share that has signalled by then. median: attempts charted until half had signalled, those without a signal counted.", n),
		"A result that changes between rows hangs on the setting, which must be chosen before looking.",
	}
	return t
}

// PointsTable lists every chart's points.
func (d *Monitor) PointsTable() Table {
	t := Table{Name: "monitor-points", Columns: []Column{{Key: "trainee"}, {Key: "chart"}, {Key: "attempt"}, {Key: "session"}, {Key: "date"}, {Key: "outcome"}, {Key: "measure"}, {Key: "value"}, {Key: "signal"}, {Key: "restart"}}}
	flag := map[bool]int{true: 1}
	for _, c := range d.Charts {
		for _, p := range c.Points {
			t.Rows = append(t.Rows, []any{c.Trainee, c.Chart, float64(p.Attempt), p.Session, p.Date, p.Outcome, float64(p.Measure), float64(p.Value), flag[p.Signal], flag[p.Restart]})
		}
	}
	return t
}

// placeText says which attempt, in which session and on which day.
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

// sentence is one trainee's chart in words.
func (d *Monitor) Sentence(c TraineeChart) string {
	if len(c.Points) == 0 {
		return "Not watched yet: no attempt since a pass."
	}
	at := ""
	if v := float64(c.SignalAttempt); !math.IsNaN(v) {
		at = PlaceText(v, c.SignalSession, c.SignalDate)
	}
	last := float64(c.Points[len(c.Points)-1].Attempt)
	switch {
	case d.Chart == ChartSequential && at != "":
		return fmt.Sprintf("The test was decided at %s: %s.", at, c.Decision)
	case d.Chart == ChartSequential:
		return fmt.Sprintf("Undecided after attempt %g.", last)
	case at == "":
		return fmt.Sprintf("No signal up to attempt %g.", last)
	case d.Chart == ChartLearning:
		return fmt.Sprintf("Adequate performance shown at %s.", at)
	}
	return fmt.Sprintf("First signal at %s.", strings.TrimSpace(at))
}
