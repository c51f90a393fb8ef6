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
	var err error
	k.Figure, err = picture(func(width float64) figure.Picture { return figure.Calendar(d, width, 220) }, 420)
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
	var err error
	c.Figures, err = each(func(width float64) []figure.Picture { return figure.Comparison(d, width, width) }, 420)
	return c, err
}
