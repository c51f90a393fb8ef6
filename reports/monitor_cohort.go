package reports

import (
	"fmt"
	"math"
	"strings"

	"tyro/analysis/study"
)

// A MonitorCohort is where a trainee stands: shown adequate, passed, relapsed,
// due.
type MonitorCohort struct {
	Trainee        string `json:"trainee"`
	Arm            string `json:"arm"`
	Attempts       int    `json:"attempts"`
	Failed         int    `json:"failed"`
	ShownAttempt   Number `json:"shown_attempt"` // first signal of the learning chart
	ShownSession   string `json:"shown_session"`
	ShownDate      string `json:"shown_date"`
	PassedAttempt  Number `json:"passed_attempt"` // the pass after which relapse is watched
	PassedSession  string `json:"passed_session"`
	PassedDate     string `json:"passed_date"`
	Watched        int    `json:"watched"` // attempts after it
	WatchedFailed  int    `json:"watched_failed"`
	RelapseAttempt Number `json:"relapse_attempt"` // first signal of the relapse chart after it
	RelapseSession string `json:"relapse_session"`
	RelapseDate    string `json:"relapse_date"`
	Status         string `json:"status"` // practising, watched or flagged
	Due            string `json:"due"`    // what a person should look at now; blank for nothing

	Reason study.Due `json:"-"` // of being due
}

// The statuses.
const (
	practising = "practising"
	watched    = "watched"
	flagged    = "flagged"
)

// standing is one trainee's row of the cohort table.
func (d *Monitor) standing(t study.Watched) MonitorCohort {
	shown, passed, relapse := placeOf(t, t.Shown), placeOf(t, t.Passed), placeOf(t, t.Relapsed)
	c := MonitorCohort{
		Trainee: t.ID, Arm: t.Arm, Attempts: len(t.Attempts), Failed: failures(t.Failed),
		ShownAttempt: shown.attempt, ShownSession: shown.session, ShownDate: shown.date,
		PassedAttempt: passed.attempt, PassedSession: passed.session, PassedDate: passed.date,
		Watched: len(t.Attempts) - t.Next, WatchedFailed: failures(t.Failed[t.Next:]),
		RelapseAttempt: relapse.attempt, RelapseSession: relapse.session, RelapseDate: relapse.date,
		Status: practising, Reason: t.Due,
	}
	if t.HasPass {
		c.Status = watched
	}
	if t.Relapsed >= 0 {
		c.Status = flagged
	}
	switch t.Due {
	case study.DueRelapse:
		c.Due = "review of the relapse flag"
	case study.DueNoPass:
		c.Due = fmt.Sprintf("review: %d attempts, %s", len(t.Attempts), d.missing())
	}
	return c
}

func failures(failed []bool) int {
	n := 0
	for _, f := range failed {
		if f {
			n++
		}
	}
	return n
}

// missing says what somebody has not got who is not watched for relapse yet.
func (d *Monitor) missing() string {
	if d.Answer.Options.After == study.AfterSignal {
		return "no signal of the learning chart"
	}
	return "rule not met"
}

// mostNamed is how many trainees a sentence names.
const mostNamed = 12

// FlagSentence lists the relapse flags among some trainees with their places.
func (d *Monitor) FlagSentence(from, to int) string {
	var flags []string
	for _, c := range d.Cohort[from:to] {
		if c.Status == flagged {
			flags = append(flags, SeriesName(c.Trainee)+" at "+PlaceText(float64(c.RelapseAttempt), c.RelapseSession, c.RelapseDate))
		}
	}
	switch {
	case len(flags) > 0:
		return "Relapse flags: " + listed(flags) + "."
	case to-from < len(d.Cohort):
		return "No relapse flag among these trainees."
	}
	return "No relapse flag is up."
}

// ShownSentence lists the learning signals among everyone with their places.
func (d *Monitor) ShownSentence() string {
	var shown []string
	for _, c := range d.Cohort {
		if !math.IsNaN(float64(c.ShownAttempt)) {
			shown = append(shown, SeriesName(c.Trainee)+" at "+PlaceText(float64(c.ShownAttempt), c.ShownSession, c.ShownDate))
		}
	}
	if len(shown) == 0 {
		return "Nobody has shown adequate performance on the learning chart yet."
	}
	return "Adequate performance shown: " + listed(shown) + "."
}

// listed joins the first few of a list and counts the others.
func listed(items []string) string {
	if more := len(items) - mostNamed; more > 0 {
		return fmt.Sprintf("%s; and %d more", strings.Join(items[:mostNamed], "; "), more)
	}
	return strings.Join(items, "; ")
}
