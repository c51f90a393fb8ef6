package page

import (
	"html/template"

	"tyro/reports"
	"tyro/reports/figure"
)

// A comparing is the section that sets arms against each other.
type comparing struct {
	Summary []string // sentences for the director
	Table   *htmlTable
	Figures []captioned
	Details []titled
}

// A keeping is the section on what is kept after breaks.
type keeping struct {
	Table   *htmlTable
	Figure  template.HTML
	Details []titled
}

func newKeeping(d *reports.Retention) (*keeping, error) {
	tables := d.Tables()
	k := &keeping{Table: newHTMLTable(tables[0])}
	for _, t := range tables[1:] {
		k.Details = append(k.Details, titled{t.Title, newHTMLTable(t)})
	}
	s, err := figure.CalendarPlot(d, 420, 240)
	k.Figure = template.HTML(s)
	return k, err
}

// A titled table stands behind a line that opens it.
type titled struct {
	Title string
	Table *htmlTable
}

func newComparing(d *reports.Comparison) (*comparing, error) {
	tables := d.Tables()
	c := &comparing{Summary: d.Summary, Table: newHTMLTable(tables[0])}
	for _, t := range tables[1:] {
		c.Details = append(c.Details, titled{t.Title, newHTMLTable(t)})
	}
	checklist := d.ChecklistTable()
	c.Details = append(c.Details, titled{checklist.Title, newHTMLTable(checklist)})
	figures, err := figure.FiguresOfComparison(d)
	for _, f := range figures {
		c.Figures = append(c.Figures, captioned{template.HTML(f.SVG), f.Title})
	}
	return c, err
}
