package page

import (
	"context"
	"html/template"

	"tyro/analysis/study"
	"tyro/reports"
	"tyro/reports/figure"
)

// quota answers how many attempts to schedule.
func (r *Report) quota(ctx context.Context) error {
	if r.Proficiency == nil || r.study.Question.Rule == nil {
		return nil
	}
	a, err := r.study.Quota(ctx, study.QuotaOptions{})
	if err != nil {
		return err
	}
	r.make(func(r *Report) { r.Quota = reports.NewQuota(r.study, a) })
	return nil
}

// A scheduling is what the report shows of a quota, its schedule and cost.
type scheduling struct {
	Answers []reports.QuotaWords
	Figures []template.HTML
	Tables  []*htmlTable
	Details []*htmlTable
}

// fillSchedule fills the section on schedule and cost.
func (r *Report) fillSchedule(p *page) error {
	d := r.Quota
	if d == nil {
		return nil
	}
	s := &scheduling{Answers: d.Answers()}
	for k, g := range d.Answer.Groups {
		if !d.ShowsArm(g.Arm) {
			continue
		}
		f, err := inline(figure.Quota(d, k, phoneWidth, 210).SVG())
		if err != nil {
			return err
		}
		s.Figures = append(s.Figures, f)
	}
	s.Tables = []*htmlTable{newHTMLTable(d.QuotaTable()), newHTMLTable(d.StatementTable())}
	for _, t := range d.ScheduleTables() {
		s.Details = append(s.Details, newHTMLTable(t))
	}
	p.Schedule = s
	return nil
}
