package reports

import "html/template"

// A scheduling is what the report shows of a schedule and its cost.
type scheduling struct {
	Answers []answer
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
	s := &scheduling{Answers: d.answers()}
	for k := range d.parts {
		f, err := inline(d.quotaPlot(k, quotaWidth, quotaHeight))
		if err != nil {
			return err
		}
		s.Figures = append(s.Figures, f)
	}
	quota := d.quotaTable()
	quota.Notes = d.quotaNotes()
	for _, t := range []Table{quota, d.statementTable()} {
		s.Tables = append(s.Tables, newHTMLTable(t))
	}
	for _, t := range d.Tables()[2:] {
		s.Details = append(s.Details, newHTMLTable(t))
	}
	p.Schedule = s
	return nil
}
