package reports

import (
	"fmt"
	"math"
	"strings"

	"tyro/analysis/monitor"
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
}

// watchCharts makes the learning and relapse charts behind the cohort table: the
// chart asked for where it is one of them, the other with a limit chosen for the
// same error share.
func (d *Monitor) watchCharts() error {
	o := d.Options
	hs := [2]float64{}
	for k, kind := range []string{ChartLearning, ChartRelapse} {
		hs[k] = o.H
		if o.Chart != kind || o.OnMeasure {
			kept := d.Options
			d.Options.OnMeasure = false
			h, err := d.design(kind)
			d.Options = kept
			if err != nil {
				return err
			}
			hs[k] = h
		}
		kept := d.Options
		d.Options.OnMeasure = false
		d.watch[k] = d.chart(kind, monitor.Setting{Rates: o.Rates, H: hs[k]})
		d.Options = kept
	}
	d.Design.LearningH, d.Design.RelapseH = Number(hs[0]), Number(hs[1])
	return nil
}

// standing is one trainee's row of the cohort table.
func (d *Monitor) standing(i int) MonitorCohort {
	r, nan := d.Records[i], Number(math.NaN())
	c := MonitorCohort{
		Trainee: r.Id, Arm: r.arm, Attempts: len(r.Attempt), Failed: r.fails(),
		ShownAttempt: nan, PassedAttempt: nan, RelapseAttempt: nan, Status: "practising",
	}
	if p := d.watch[0].follow(d, i, 0); p.First >= 0 {
		c.ShownAttempt, c.ShownSession, c.ShownDate = r.place(p.First)
	}
	p := d.pass(i)
	if p.passed {
		c.Status = "watched"
		if p.position >= 0 {
			c.PassedAttempt, c.PassedSession, c.PassedDate = r.place(p.position)
		}
		c.Watched = len(r.Attempt) - p.next
		for _, f := range r.Failed[p.next:] {
			if f {
				c.WatchedFailed++
			}
		}
		if w := d.watch[1].follow(d, i, p.next); w.First >= 0 {
			c.RelapseAttempt, c.RelapseSession, c.RelapseDate = r.place(p.next + w.First)
			c.Status = "flagged"
		}
	}
	switch {
	case c.Status == "flagged":
		c.Due = "review of the relapse flag"
	case !p.passed && len(r.Attempt) >= d.Options.Within:
		c.Due = fmt.Sprintf("review: %d attempts without a pass", len(r.Attempt))
	}
	return c
}

// mostNamed is how many trainees a sentence names.
const mostNamed = 12

// flagSentence lists the relapse flags among some trainees with their places.
func (d *Monitor) FlagSentence(from, to int) string {
	var flags []string
	for i := from; i < to; i++ {
		if c := d.Cohort[i]; c.Status == "flagged" {
			flags = append(flags, SeriesName(c.Trainee)+" at "+PlaceText(float64(c.RelapseAttempt), c.RelapseSession, c.RelapseDate))
		}
	}
	if len(flags) == 0 {
		return "No relapse flag is up."
	}
	return "Relapse flags: " + listed(flags) + "."
}

// shownSentence lists the learning signals among everyone with their places.
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
