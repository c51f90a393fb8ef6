package page

import (
	"html/template"

	"tyro/reports"
	"tyro/reports/figure"
)

// A scheduling is what the report shows of a schedule and its cost.
type scheduling struct {
	Answers []reports.Answer
	Figures []template.HTML
	Tables  []*htmlTable
	Details []*htmlTable
}

// fillSchedule fills the section on schedule and cost.
func (r *Report) fillSchedule(p *page) error {
	d := r.Schedule
	if d == nil {
		return nil
	}
	s := &scheduling{Answers: d.Answers()}
	for k := range d.Parts {
		f, err := inline(figure.QuotaPlot(d, k, figure.QuotaWidth, figure.QuotaHeight))
		if err != nil {
			return err
		}
		s.Figures = append(s.Figures, f)
	}
	quota := d.QuotaTable()
	quota.Notes = d.QuotaNotes()
	for _, t := range []reports.Table{quota, d.StatementTable()} {
		s.Tables = append(s.Tables, newHTMLTable(t))
	}
	for _, t := range d.Tables()[2:] {
		s.Details = append(s.Details, newHTMLTable(t))
	}
	p.Schedule = s
	return nil
}
