package page

import (
	"context"
	"fmt"
	"html/template"
	"math"
	"strings"

	"tyro/analysis/practice"
	"tyro/analysis/study"
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
func (r *Report) watch(ctx context.Context) error {
	s := r.study
	switch {
	case s.Task.Rates == nil:
		r.lack("no-failure-rates", "the study file states no failure rates to watch for (monitor, in the task), so no monitoring charts are made")
		return nil
	case !s.Question.Standard.Set() && s.Task.Measure != practice.PassFail:
		r.lack("no-charts", "without a standard no attempt passes or fails, so no monitoring charts are made")
		return nil
	}
	var answers []*study.Monitoring
	for _, kind := range []string{study.ChartLearning, study.ChartRelapse} {
		a, err := s.Monitor(ctx, study.MonitorOptions{Chart: kind})
		if ctx.Err() != nil {
			return ctx.Err()
		}
		if err != nil {
			r.lack("no-charts", "no monitoring charts are made: "+err.Error())
			return nil
		}
		answers = append(answers, a)
	}
	r.make(func(r *Report) {
		w := &Watch{Monitor: reports.NewMonitor(s, answers[0]), relapse: reports.NewMonitor(s, answers[1])}
		for _, m := range w.relapse.Warnings {
			if m.Code == "chart-weak" || m.Code == "many-charts" {
				w.Warn("relapse-"+m.Code, "relapse charts: "+m.Text)
			}
		}
		r.Watch = w
	})
	return nil
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
	rows, passed := w.Cohort, "passed at"
	if w.Answer.Options.After == study.AfterStart {
		passed = ""
	}
	t := reports.Table{Title: "Who has shown adequate performance, who relapsed, who is due", Columns: []reports.Column{
		reports.Words("trainee", "trainee", rows, func(c reports.MonitorCohort) string { return reports.SeriesName(c.Trainee) }),
		reports.Words("arm", "arm", rows, func(c reports.MonitorCohort) string { return c.Arm }),
		reports.Counts("attempts", "attempts", rows, func(c reports.MonitorCohort) int { return c.Attempts }),
		reports.Words("shown", "adequate shown at", rows, func(c reports.MonitorCohort) string {
			return placeCell(c.ShownAttempt, c.ShownSession, c.ShownDate)
		}),
		reports.Numbers("passed", passed, rows, func(c reports.MonitorCohort) reports.Number { return c.PassedAttempt }, reports.Whole),
		reports.Counts("watched", "since", rows, func(c reports.MonitorCohort) int { return c.Watched }),
		reports.Counts("watched_failed", "failed since", rows, func(c reports.MonitorCohort) int { return c.WatchedFailed }),
		reports.Words("relapse", "relapse flag at", rows, func(c reports.MonitorCohort) string {
			return placeCell(c.RelapseAttempt, c.RelapseSession, c.RelapseDate)
		}),
		reports.Words("status", "status", rows, statusCell),
	}}
	t.HideBlank("arm")
	t.Notes = []string{fmt.Sprintf("%s Since: attempts watched for relapse. Due: %s.", reports.Capital(w.PassText()), w.DueText())}
	return t
}

// statusCell is where a trainee stands, with why a person should look.
func statusCell(c reports.MonitorCohort) string {
	switch c.Reason {
	case study.DueRelapse:
		return "due: flag"
	case study.DueNoPass:
		return "due: no pass"
	}
	return c.Status
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
		Acceptable: reports.RateText(d.Answer.Options.Rates.Acceptable), Unacceptable: reports.RateText(d.Answer.Options.Rates.Unacceptable),
	}
	drawn := min(len(d.Cohort), reports.FigureLimit)
	for from := 0; from < drawn; from += figure.CohortRows {
		s, err := picture(func(width float64) figure.Picture {
			return figure.CohortPage(d.Monitor, from, min(from+figure.CohortRows, drawn), width)
		}, 460)
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
