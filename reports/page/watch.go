package page

import (
	"fmt"
	"html/template"
	"math"
	"strings"

	"tyro/analysis/monitor"
	"tyro/datasets"
	"tyro/reports"
	"tyro/reports/figure"
)

// A Watch is the monitoring in the report: the learning charts with the cohort
// table, and what the relapse chart does under other settings.
type Watch struct {
	*reports.Monitor
	relapse *reports.Monitor
}

// watch charts everyone at the failure rates of the study file. Limits come from
// these alone, never from the attempts.
func (r *Report) watch() {
	in := r.in
	rates := in.Task.Monitor
	switch {
	case rates == nil:
		r.lack("no-failure-rates", "the study file states no failure rates to watch for (monitor, in the task), so no monitoring charts are kept")
		return
	case in.Task.Standard == nil && in.Task.Measure != datasets.PassFail:
		r.lack("no-charts", "without a standard no attempt passes or fails, so no monitoring charts are kept")
		return
	}
	w := &Watch{}
	for _, c := range []struct {
		kind string
		into **reports.Monitor
	}{{reports.ChartLearning, &w.Monitor}, {reports.ChartRelapse, &w.relapse}} {
		d, err := reports.MonitorAttempts(in, reports.WatchFor(c.kind, monitor.Rates{Acceptable: rates.Acceptable, Unacceptable: rates.Unacceptable}))
		if err != nil {
			r.lack("no-charts", "no monitoring charts are kept: "+err.Error())
			return
		}
		*c.into = d
	}
	for _, m := range w.relapse.Warnings {
		if m.Code == "chart-weak" || m.Code == "many-charts" {
			w.Warn("relapse-"+m.Code, "relapse charts: "+m.Text)
		}
	}
	r.Watch = w
}

// Tables lists those of the learning charts and the sensitivity table of the
// relapse charts.
func (w *Watch) Tables() []reports.Table { return append(w.Monitor.Tables(), w.relapseSensitivity()) }

func (w *Watch) learningSensitivity() reports.Table {
	t := w.SensitivityTable()
	t.Title = "Learning charts under other settings (chosen one first)"
	return t
}

func (w *Watch) relapseSensitivity() reports.Table {
	t := w.relapse.SensitivityTable()
	t.Name, t.Title = "monitor-relapse-sensitivity", "Relapse charts under other settings (chosen one first)"
	return t
}

// standings is the cohort table for a page: a trainee a row, with where the
// signals came in one cell each.
func (w *Watch) standings() reports.Table {
	t := reports.Table{Title: "Who has shown adequate performance, who relapsed, who is due", Columns: []reports.Column{
		{Key: "trainee", Head: "trainee"}, {Key: "arm", Head: "arm"}, {Key: "attempts", Head: "attempts"},
		{Key: "shown", Head: "adequate shown at"}, {Key: "passed", Head: "passed at", Show: reports.Whole},
		{Key: "watched", Head: "since"}, {Key: "watched_failed", Head: "failed since"}, {Key: "relapse", Head: "relapse flag at"}, {Key: "status", Head: "status"},
	}}
	for _, c := range w.Cohort {
		status := c.Status
		switch {
		case c.Status == "flagged":
			status = "due: flag"
		case c.Due != "":
			status = "due: no pass"
		}
		t.Rows = append(t.Rows, []any{
			reports.SeriesName(c.Trainee), c.Arm, c.Attempts, placeCell(c.ShownAttempt, c.ShownSession, c.ShownDate), float64(c.PassedAttempt),
			c.Watched, c.WatchedFailed, placeCell(c.RelapseAttempt, c.RelapseSession, c.RelapseDate), status,
		})
	}
	if w.Options.After == "start" {
		t.Hide("passed")
	}
	reports.HideBlank(&t, "arm")
	t.Notes = []string{fmt.Sprintf("%s Since: attempts after it. Due: a relapse flag, or %d attempts without a pass.", reports.Capital(w.PassText()), w.Options.Within)}
	return t
}

// placeCell is an attempt with its session and date, or a dash.
func placeCell(attempt reports.Number, session, date string) string {
	if math.IsNaN(float64(attempt)) {
		return "–"
	}
	return strings.TrimPrefix(reports.PlaceText(float64(attempt), session, date), "attempt ")
}

// A watching is what the section on monitoring shows.
type watching struct {
	Summary, Marks           string
	Who                      []string // who has shown adequate performance, and who is flagged
	Meaning                  []string // each chart in words, with its error rates
	Figures                  []template.HTML
	Unseen                   string // why some trainees are in no figure; blank when all are
	Cohort                   *htmlTable
	Sensitivity              []*htmlTable
	Acceptable, Unacceptable string
}

// fillWatching fills the section on monitoring.
func (r *Report) fillWatching(p *page) error {
	d := r.Watch
	if d == nil {
		return nil
	}
	w := &watching{
		Summary: d.CohortSentence(), Marks: figure.CohortMarks(d.Monitor),
		Who:        []string{d.ShownSentence(), d.FlagSentence(0, len(d.Cohort))},
		Meaning:    []string{d.Title() + ". " + d.Meaning() + " " + d.ErrorRates(), d.relapse.Title() + ". " + d.relapse.Meaning() + " " + d.relapse.ErrorRates(), reports.NotThePeak + " " + reports.Independence},
		Cohort:     newHTMLTable(d.standings()),
		Acceptable: reports.RateText(d.Options.Rates.Acceptable), Unacceptable: reports.RateText(d.Options.Rates.Unacceptable),
	}
	drawn := min(len(d.Cohort), reports.FigureLimit)
	for from := 0; from < drawn; from += figure.CohortRows {
		s, err := inline(figure.CohortPage(d.Monitor, from, min(from+figure.CohortRows, drawn), nil))
		if err != nil {
			return err
		}
		w.Figures = append(w.Figures, s)
	}
	if drawn < len(d.Cohort) {
		w.Unseen = fmt.Sprintf("The first %d of %d trainees are drawn; the table lists all.", drawn, len(d.Cohort))
	}
	for _, t := range []reports.Table{d.learningSensitivity(), d.relapseSensitivity()} {
		w.Sensitivity = append(w.Sensitivity, newHTMLTable(t))
	}
	p.Watching = w
	return nil
}
